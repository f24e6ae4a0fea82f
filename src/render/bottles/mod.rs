//! The bottles that stand: words, page and JSON of one judgement.

mod json;
mod paper;
mod words;

pub(crate) use json::BottlesBody;
pub(crate) use paper::bottles_html;
pub(crate) use words::{bottle_state, bottles_document};

use crate::bath::bottle::BottleJudgement;
use crate::journal::Date;

/// What is told of a day.
#[derive(Debug, Clone)]
pub(crate) struct ShownBottles {
    pub on: Date,
    /// The bottles, the most urgent first.
    pub bottles: Vec<BottleJudgement>,
    /// How many films rich in iodide: words of the rule.
    pub iodide_note: String,
    /// Sheets of paper for a litre of fixer, lasting and ordinary.
    pub paper_sheets_per_litre: crate::bath::rules::Span,
}
