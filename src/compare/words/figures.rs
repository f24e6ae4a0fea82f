//! How two figures are set against each other.

use crate::quantity::rounding::{show_short, show_significant};

/// `1.5 g/L; 2 in the other`.
pub(super) fn against(own: f64, other: f64, unit: &str) -> String {
    format!("{} {unit}; {} in the other", show_significant(own), show_significant(other))
}

/// `25 % less metol (1.5 g/L; 2 in the other)`.
pub(super) fn times_against(own: f64, other: f64, name: &str, unit: &str) -> String {
    format!("{} ({})", times(own, other, name), against(own, other, unit))
}

/// `25 % less metol`, `twice as much borax`.
fn times(own: f64, other: f64, name: &str) -> String {
    let factor = own / other;
    if factor < 0.1 {
        return format!("far less {name}");
    }
    if factor > 10.0 {
        return format!("far more {name}");
    }
    if (factor - 2.0).abs() < 0.005 {
        return format!("twice as much {name}");
    }
    if (factor - 0.5).abs() < 0.005 {
        return format!("half as much {name}");
    }
    let percent = |share: f64| show_short(share * 100.0, 0);
    if factor < 1.0 {
        return format!("{} % less {name}", percent(1.0 - factor));
    }
    if factor < 2.0 {
        return format!("{} % more {name}", percent(factor - 1.0));
    }
    format!("{} times as much {name}", show_significant_two(factor))
}

/// Two significant figures, as far as a factor is worth telling.
fn show_significant_two(factor: f64) -> String {
    if factor >= 9.95 {
        show_short(factor, 0)
    } else if factor >= 0.995 {
        show_short(factor, 1)
    } else {
        show_short(factor, 2)
    }
}

pub(super) fn differs(own: f64, other: f64, least_factor: f64) -> bool {
    own > other * least_factor || other > own * least_factor
}

/// mol/L, or `a trace` where the figures would show nothing.
pub(super) fn moles_or_trace(moles: f64) -> String {
    match show_significant(moles) {
        zero if zero == "0" => "a trace".to_owned(),
        figures => format!("{figures} mol/L"),
    }
}
