//! The lines that are offered to the journal.

use super::figures::speed_figure;
use crate::curve::figures::FilmFigures;
use crate::quantity::rounding::{show_decimals, to_step};
use crate::render::curve::{JudgedStrips, StripJudgement};
use crate::render::{Block, Document, harmless};

/// A word as a shell takes it.
fn quoted(word: &str) -> String {
    let is_plain =
        !word.is_empty() && word.chars().all(|own| own.is_ascii_alphanumeric() || "-_.".contains(own));
    if is_plain { word.to_owned() } else { format!("'{}'", harmless(word).replace('\'', "'\\''")) }
}

/// The commands that put strips of a known time into the journal, each in two pieces.
pub(in crate::render::curve) fn journal_lines(judged: &JudgedStrips) -> Vec<(String, String)> {
    let films: Vec<&FilmFigures> = match &judged.subject {
        StripJudgement::Films(films, _) => films.iter().collect(),
        StripJudgement::Series(view) => view.series.strips.iter().map(|strip| &strip.1).collect(),
        StripJudgement::Papers(_) => Vec::new(),
    };
    let film = judged.film.as_deref().map_or_else(|| "FILM".to_owned(), quoted);
    let formula = judged.formula.as_deref().map_or_else(|| "FORMULA".to_owned(), quoted);
    films
        .iter()
        .filter_map(|strip| {
            let (minutes, gradient) = (strip.strip.minutes?, strip.average_gradient?.value);
            let speed = if strip.strip.is_relative {
                String::new()
            } else {
                format!(" --speed {}", speed_figure(strip.speed.value))
            };
            let seconds = to_step(minutes * 60.0, 1.0);
            let time = if seconds % 60.0 == 0.0 {
                format!("{}min", show_decimals(seconds / 60.0, 0))
            } else {
                format!("{}s", show_decimals(seconds, 0))
            };
            Some((
                format!("soupcon record add measured --gradient {}{speed}", show_decimals(gradient, 2)),
                format!("--time {time} --film {film} --formula {formula}"),
            ))
        })
        .collect()
}

/// The same at the end of the answer.
pub(super) fn journal(document: &mut Document, judged: &JudgedStrips) {
    let lines = journal_lines(judged);
    if lines.is_empty() {
        return;
    }
    let names = match (&judged.film, &judged.formula) {
        (Some(_), Some(_)) => "",
        _ => " (--film and --formula fill in the names)",
    };
    document.paragraph(format!("For the journal, so that times go by it{names}:"));
    let pieces = lines.into_iter().flat_map(|(first, second)| [format!("{first} \\"), format!("  {second}")]);
    document.blocks.push(Block::Plot(pieces.collect()));
}
