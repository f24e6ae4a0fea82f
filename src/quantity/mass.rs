//! Mass: grams inside, `g`, `mg`, `kg`, `grain`, `oz` (avoirdupois) and `lb` outside.

use std::fmt;
use std::str::FromStr;

use super::number::{number_and_unit, parse_fraction};
use super::{QuantityError, rounding, units};

const EXAMPLES: &str = "2.5g, 500mg, 1kg, 20grain or 1oz (avoirdupois)";

/// A mass, zero or more.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mass {
    grams: f64,
}

impl Mass {
    /// From grams; a negative or non-finite number becomes zero.
    pub fn from_g(grams: f64) -> Self {
        Self { grams: if grams.is_finite() && grams > 0.0 { grams } else { 0.0 } }
    }

    /// In grams.
    pub fn as_g(self) -> f64 {
        self.grams
    }
}

impl FromStr for Mass {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let (value, unit) = number_and_unit(text)?;
        let size = units::size_of(units::MASS, unit, "mass", EXAMPLES)?;
        non_negative(value * size, text, "mass").map(|grams| Self { grams })
    }
}

/// Reads a mass as old formularies print it: fractions too, `1/4 oz`, `20 grain`.
///
/// # Errors
/// As for a plain mass.
pub fn parse_historical_mass(text: &str) -> Result<Mass, QuantityError> {
    let trimmed = text.trim();
    let end = trimmed.find(|character: char| character.is_alphabetic()).unwrap_or(trimmed.len());
    let (number, unit) = trimmed.split_at(end);
    let value = parse_fraction(number)?;
    let size = units::size_of(units::MASS, unit.trim(), "mass", EXAMPLES)?;
    non_negative(value * size, text, "mass").map(|grams| Mass { grams })
}

/// Least mass in grams, or volume in millilitres, that is not a slip of the finger: a microgram.
const LEAST: f64 = 1e-6;

/// Refuses a value below zero or beyond all bounds.
pub(super) fn non_negative(value: f64, text: &str, kind: &'static str) -> Result<f64, QuantityError> {
    if value < 0.0 {
        return Err(QuantityError::Negative { kind, text: text.trim().to_owned() });
    }
    if value > 1e9 {
        return Err(QuantityError::TooLarge { text: text.trim().to_owned() });
    }
    if value > 0.0 && value < LEAST {
        return Err(QuantityError::TooSmall { kind, text: text.trim().to_owned() });
    }
    Ok(value)
}

impl fmt::Display for Mass {
    /// Grams with at least three significant figures: `2 g`, `0.025 g`, `67.5 g`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} g", rounding::show_significant(self.grams))
    }
}
