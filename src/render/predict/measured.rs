//! A reading against the prediction, and what may stand behind the difference, in words.

use super::values::{celsius_words, change_words, few};
use crate::predict::measured::{Explanation, ReadingComparison};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::Document;

pub(super) fn comparison_blocks(document: &mut Document, comparison: &ReadingComparison, celsius: f64) {
    document.heading(format!(
        "Measured: {} at {}",
        reading_words(comparison.measured),
        celsius_words(celsius)
    ));
    let side = if comparison.difference > 0.0 { "above" } else { "below" };
    let difference = show_decimals(comparison.difference.abs(), 1);
    if comparison.agrees {
        document.paragraph(format!(
            "{difference} {side} the prediction, within its error: reading and computation agree."
        ));
    } else {
        document.paragraph(format!("{difference} {side} the prediction, more than its error."));
    }
    if comparison.is_poorly_buffered {
        document.paragraph(
            "A solution so poorly buffered can read anything: the reading says little of how it was mixed.",
        );
    }
    if let Some(moles) = comparison.alkali_moles_per_litre.filter(|moles| moles.abs() >= 5e-5) {
        let what = if moles > 0.0 { "strong alkali" } else { "strong acid" };
        document
            .paragraph(format!("{} mmol/L of {what} would account for it.", few(moles.abs() * 1000.0, 2)));
    }
    if !comparison.agrees {
        if comparison.explanations.is_empty() {
            document.paragraph("No usual error shifts it that way: check the electrode and the weights.");
        } else {
            document.paragraph("What shifts it that way, likeliest first:");
            document.list(comparison.explanations.iter().map(explanation_words).collect());
        }
    }
    document.paragraph("Of the meter:");
    document.list(comparison.electrode.iter().map(|line| (*line).to_owned()).collect());
}

/// A reading with the decimals it has, one at the least: `8.0`, `8.35`.
fn reading_words(ph: f64) -> String {
    let short = show_short(ph, 2);
    if short.contains('.') { short } else { show_decimals(ph, 1) }
}

fn explanation_words(explanation: &Explanation) -> String {
    let slip = &explanation.sensitivity;
    let share = match explanation.share {
        share if share < 0.6 => "part of it",
        share if share <= 1.6 => "about all of it",
        share if share <= 4.0 => "more than all of it: a smaller error of this kind would do",
        _ => "far more than the difference",
    };
    format!("{} ({}): {share}", slip.words, change_words(slip.change))
}
