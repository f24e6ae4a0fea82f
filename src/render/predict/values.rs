//! A pH, a buffering, an amount, a limit: figures of a prediction as they are read.

use crate::predict::margin::{Limit, TurnsInto};
use crate::predict::{has_open_doubt, unmodelled};
use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::solution::{Buffering, Prediction};

/// A pH whose error is larger says nothing.
pub(super) const SAYS_NOTHING: f64 = 2.0;

/// `8.4 ± 0.3`.
pub(crate) fn ph_words(prediction: &Prediction) -> String {
    if prediction.buffering == Buffering::Poor {
        let ph = show_decimals(prediction.ph, 1);
        return match unmodelled(prediction) {
            Some(substance) => {
                format!("not known: the model does not include {substance} (computed without it {ph})")
            }
            None => format!("{ph}, poorly buffered: do not rely on this figure"),
        };
    }
    let error = prediction.ph_error.max(0.1);
    if error >= SAYS_NOTHING {
        return format!(
            "not known to within {} (computed {})",
            show_decimals(error, 0),
            show_decimals(prediction.ph, 1)
        );
    }
    let rest = if has_open_doubt(prediction) { " without what the model lacks" } else { "" };
    format!("{} ± {}{rest}", show_decimals(prediction.ph, 1), show_decimals(error, 1))
}

/// How firmly a solution holds its pH, with the number.
pub(crate) fn buffering_words(prediction: &Prediction) -> String {
    let number = capacity_words(prediction.buffer_capacity);
    match prediction.buffering {
        Buffering::Poor => format!("poorly buffered ({number})"),
        Buffering::Fair => format!("moderately buffered ({number})"),
        Buffering::Firm => format!("well buffered ({number})"),
    }
}

/// `0.03 mol/L per pH`.
pub(in crate::render) fn capacity_words(capacity: f64) -> String {
    if capacity < 1e-4 {
        return "less than 0.0001 mol/L per pH".to_owned();
    }
    format!("{} mol/L per pH", few(capacity, 2))
}

/// Plain words of what a buffer capacity means at the bench.
pub(super) fn means(buffering: Buffering) -> &'static str {
    match buffering {
        Buffering::Poor => {
            "traces of acid or alkali, in the salts, the water or the air, decide where it stands"
        }
        Buffering::Fair => "1 mmol/L of stray acid or alkali shifts it by less than 0.2",
        Buffering::Firm => "5 mmol/L of stray acid or alkali shifts it by less than 0.2",
    }
}

/// A figure with so many significant digits: `0.0087`, `0.79`, `12`.
pub(super) fn few(value: f64, digits: i32) -> String {
    if value <= 0.0 || !value.is_finite() {
        return show_short(value, 0);
    }
    #[allow(clippy::cast_possible_truncation, reason = "a power of ten of a finite figure")]
    let power = value.log10().floor() as i32;
    let decimals = usize::try_from((digits - 1 - power).clamp(0, 12)).unwrap_or(0);
    show_short(value, decimals)
}

/// A temperature in whole or half degrees: `20 °C`.
pub(in crate::render) fn celsius_words(celsius: f64) -> String {
    format!("{} °C", show_short(celsius, 1))
}

/// `+0.12`, `-0.3`.
pub(super) fn change_words(change: f64) -> String {
    let text = show_decimals(change, 2);
    if change > 0.0 && !text.starts_with('-') { format!("+{text}") } else { text }
}

/// `5 g/L`.
pub(in crate::render) fn grams_words(grams: f64) -> String {
    format!("{} g/L", show_significant(grams))
}

pub(in crate::render) fn limit_words(limit: &Limit) -> String {
    let grams = |grams: f64| format!("{} g/L", show_decimals(grams, 0));
    let small = |own: f64| if own < 20.0 { grams_words(own) } else { grams(own) };
    match limit {
        Limit::Known { grams_per_litre } => small(*grams_per_litre),
        Limit::AtLeast { grams_per_litre, at_c } | Limit::AtMost { grams_per_litre, at_c } => {
            format!("not known; {} at {}", small(*grams_per_litre), celsius_words(*at_c))
        }
        Limit::Changed { becomes: TurnsInto::Salt, .. } => "as its salt: not known".to_owned(),
        Limit::Changed { becomes: TurnsInto::Base, .. } => "as its base: not known".to_owned(),
        Limit::NotKnown => crate::doubt::NOT_KNOWN.to_owned(),
    }
}
