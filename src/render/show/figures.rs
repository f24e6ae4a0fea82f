//! The figures of a formula in words: amounts, uses, keeping, capacity.

use crate::formula::{Amount, Formula, Ingredient, Keeping};
use crate::quantity::UNIT_CM2;
use crate::quantity::rounding::{show_short, show_significant};

/// `2 g`, `48 mL`, `5 mL of 10 % w/v`.
pub(crate) fn amount_words(ingredient: &Ingredient) -> String {
    match ingredient.amount {
        Amount::Grams(grams) => format!("{} g", show_significant(grams)),
        Amount::Millilitres(millilitres) => format!("{} mL", show_significant(millilitres)),
        Amount::PercentSolution { millilitres, strength } => {
            format!("{} mL of {strength}", show_significant(millilitres))
        }
    }
}

/// `0.793`, `0.0428`.
pub(in crate::render) fn moles_words(moles: f64) -> String {
    show_short(moles, if moles >= 0.1 { 3 } else { 4 })
}

/// Baths, minutes, temperature, keeping of the working solution, with what there is to know.
pub(crate) fn use_words(listed_use: &crate::formula::Use) -> String {
    let mut words = use_in_short(listed_use);
    if let Some(note) = &listed_use.note {
        words.push_str(&format!(". {note}"));
    }
    if let Some(source) = &listed_use.source {
        words.push_str(&format!(" [{source}]"));
    }
    words
}

/// Baths, minutes, temperature, keeping of the working solution.
pub(crate) fn use_in_short(listed_use: &crate::formula::Use) -> String {
    let mut words = listed_use.phrase();
    if let Some((low, high)) = listed_use.minutes {
        if high <= 1.0 {
            words.push_str(&format!("; {} s", range_words((low * 60.0).round(), (high * 60.0).round())));
        } else {
            words.push_str(&format!("; {} min", range_words(low, high)));
        }
        if let Some(celsius) = listed_use.temperature_c {
            words.push_str(&format!(" at {} °C", show_short(celsius, 1)));
        }
    }
    if let Some(hours) = listed_use.working_hours {
        words.push_str(&format!("; once mixed it keeps {}", hours_words(hours)));
    }
    words
}

/// A use with its name, where the words do not begin with it.
pub(crate) fn named_use(own: &crate::formula::Use) -> String {
    let words = use_in_short(own);
    if words.starts_with(&own.name) { words } else { format!("{}: {words}", own.name) }
}

/// `5 to 9`, or one figure.
pub(in crate::render) fn range_words(low: f64, high: f64) -> String {
    if (low - high).abs() < 1e-9 {
        show_short(low, 2)
    } else {
        format!("{} to {}", show_short(low, 2), show_short(high, 2))
    }
}

fn hours_words(hours: f64) -> String {
    if hours < 1.0 {
        format!("{} min", show_short(hours * 60.0, 0))
    } else if hours >= 48.0 && (hours % 24.0).abs() < 1e-9 {
        days_words(hours / 24.0)
    } else {
        format!("{} h", show_short(hours, 1))
    }
}

/// `180 days`: the figures are days, and a month is no number of days.
pub(crate) fn days_words(days: f64) -> String {
    let unit = if (days - 1.0).abs() < 1e-9 { "day" } else { "days" };
    format!("{} {unit}", show_short(days, 1))
}

/// How long a solution keeps, in words, with what there is to know.
pub(crate) fn keeping_words(keeping: &Keeping) -> Option<String> {
    let parts: Vec<String> = keeping_figures(keeping).into_iter().chain(keeping.note.clone()).collect();
    if parts.is_empty() {
        return None;
    }
    let source = keeping.source.as_ref().map_or_else(String::new, |source| format!(" [{source}]"));
    Some(format!("{}{source}", parts.join("; ")))
}

/// How long a solution keeps, figures only.
pub(crate) fn keeping_figures(keeping: &Keeping) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(days) = keeping.full_bottle_days {
        parts.push(format!("full bottle {}", days_words(days)));
    }
    if let Some(days) = keeping.half_bottle_days {
        parts.push(format!("half-full bottle {}", days_words(days)));
    }
    if let Some(hours) = keeping.tray_hours {
        parts.push(format!("tray {}", hours_words(hours)));
    }
    if let Some(days) = keeping.tank_days {
        parts.push(format!("tank {}", days_words(days)));
    }
    if parts.is_empty() { None } else { Some(parts.join("; ")) }
}

/// How much a litre treats, in words.
pub(crate) fn capacity_words(formula: &Formula) -> Option<String> {
    let capacity = &formula.capacity;
    let mut parts = Vec::new();
    if let Some(area) = capacity.area_cm2_per_litre {
        parts.push(format!(
            "{} cm² per litre, that is {} films or 8 × 10 in sheets of 516 cm²",
            show_short(area, 0),
            show_short(area / UNIT_CM2, 1)
        ));
    }
    if let Some(stock) = capacity.stock_ml_per_roll {
        parts.push(format!("at least {} mL of stock for each film", show_short(stock, 0)));
    }
    parts.extend(capacity.note.clone());
    if parts.is_empty() {
        return None;
    }
    let source = capacity.source.as_ref().map_or_else(String::new, |source| format!(" [{source}]"));
    Some(format!("{}{source}", parts.join("; ")))
}
