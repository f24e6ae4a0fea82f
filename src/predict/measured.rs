//! A meter's reading beside the prediction: whether the two agree, and if not, what most likely stands between them.

use super::sensitivity::Sensitivity;
use crate::solution::{Addition, Buffering, Equilibria, Prediction, amount_for_ph};

/// Changes smaller than this explain nothing.
const LEAST_CHANGE: f64 = 0.02;
/// Most explanations offered.
const MOST_OFFERED: usize = 4;
/// mol/L of acid or alkali looked for.
const MOST_MOLES: f64 = 0.5;
/// Ionic strength, mol/kg, above which the junction of a glass electrode adds an error of its own; recalled, no document opened.
const STRONG_FROM: f64 = 0.5;
/// pH above which sodium ions make a glass electrode read low; recalled, no document opened.
const SODIUM_ERROR_ABOVE: f64 = 12.0;

/// Something that moves the pH the way the reading differs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Explanation {
    /// The slip and what it does.
    pub sensitivity: Sensitivity,
    /// Its change over the difference: 1 explains it whole, 0.5 half of it, 3 is three times too much.
    pub share: f64,
}

/// A reading compared with a prediction.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ReadingComparison {
    /// What the meter showed.
    pub measured: f64,
    /// Measured less predicted.
    pub difference: f64,
    /// Whether it lies within the prediction's own error.
    pub agrees: bool,
    /// Whether the solution holds its pH so poorly that a difference says nothing.
    pub is_poorly_buffered: bool,
    /// Strong alkali (positive) or acid (negative) that would make the difference, mol/L; none where no sensible amount does.
    pub alkali_moles_per_litre: Option<f64>,
    /// Likeliest first.
    pub explanations: Vec<Explanation>,
    /// What to know of the electrode in this solution.
    pub electrode: Vec<&'static str>,
}

/// Compares a reading at the temperature of the prediction with it.
pub(crate) fn compare(
    equilibria: &Equilibria,
    additions: &[Addition],
    prediction: &Prediction,
    sensitivities: &[Sensitivity],
    celsius: f64,
    measured: f64,
) -> ReadingComparison {
    let difference = measured - prediction.ph;
    let mut explanations: Vec<Explanation> = sensitivities
        .iter()
        .filter(|sensitivity| {
            sensitivity.change.abs() >= LEAST_CHANGE && sensitivity.change.signum() == difference.signum()
        })
        .map(|sensitivity| Explanation {
            sensitivity: sensitivity.clone(),
            share: sensitivity.change / difference,
        })
        .collect();
    // Nearest to the whole of it first: a half and a double are equally far off.
    explanations.sort_by(|one, two| {
        one.share
            .ln()
            .abs()
            .total_cmp(&two.share.ln().abs())
            .then_with(|| one.sensitivity.words.cmp(&two.sensitivity.words))
    });
    explanations.truncate(MOST_OFFERED);
    ReadingComparison {
        measured,
        difference,
        agrees: difference.abs() <= prediction.ph_error.max(0.1),
        is_poorly_buffered: prediction.buffering == Buffering::Poor,
        alkali_moles_per_litre: alkali(equilibria, additions, celsius, measured, difference),
        explanations,
        electrode: electrode(prediction, measured),
    }
}

/// Strong alkali, or acid as a negative amount, that takes the solution to a pH.
fn alkali(
    equilibria: &Equilibria,
    additions: &[Addition],
    celsius: f64,
    measured: f64,
    difference: f64,
) -> Option<f64> {
    let (id, sign) = if difference > 0.0 { ("sodium-hydroxide", 1.0) } else { ("hydrochloric-acid", -1.0) };
    let reagent = equilibria.substance(id)?.addition(1.0, 0.0);
    let moles = amount_for_ph(equilibria, additions, &reagent, measured, celsius, MOST_MOLES).ok()?;
    Some(sign * moles)
}

fn electrode(prediction: &Prediction, measured: f64) -> Vec<&'static str> {
    let mut lines = vec![
        "A glass electrode set with two fresh buffers reads to about 0.05; an old or dry one is off by some tenths.",
        "Its temperature compensation corrects the electrode only, not what warmth does to the solution: read at the temperature of the prediction.",
    ];
    if prediction.ionic_strength > STRONG_FROM {
        lines.push("In so strong a salt solution the junction of the electrode adds 0.05 to 0.1.");
    }
    if measured > SODIUM_ERROR_ABOVE || prediction.ph > SODIUM_ERROR_ABOVE {
        lines.push("Above pH 12 sodium makes a glass electrode read low.");
    }
    lines
}
