//! What a curve says, in words and as a picture of characters.

mod figures;
mod journal;
mod one;
mod paper;
mod series;
mod several;

use super::{JudgedStrips, StripJudgement};
use crate::render::Document;
pub(super) use figures::{
    clock, errors_words, label, limits, short, signed_plus, speed_figure, speed_limits,
};
use journal::journal;
pub(super) use journal::journal_lines;
use one::one;
pub(super) use one::{criterion, headline, points};
use paper::paper;
pub(super) use paper::{paper_lines, paper_verdict};
use series::series;
pub(super) use series::{answer_words, growth_words, outside_words};
use several::several;
pub(super) use several::{aligned_rows, comparison_rows, verdict};

/// The answer as a document.
pub(crate) fn curve_document(judged: &JudgedStrips) -> Document {
    let mut document = Document::new();
    match &judged.subject {
        StripJudgement::Films(films, comparisons) => match films.as_slice() {
            [only] => one(&mut document, only, judged),
            _ => several(&mut document, films, comparisons, judged),
        },
        StripJudgement::Series(view) => series(&mut document, view, judged),
        StripJudgement::Papers(papers) => papers.iter().for_each(|own| paper(&mut document, own, judged)),
    }
    journal(&mut document, judged);
    document
}
