//! Strength of a solution in percent, with its basis: w/v, w/w or v/v.

use std::fmt;
use std::str::FromStr;

use super::number::number_and_unit;
use super::{QuantityError, rounding};

/// Weakest solution that anybody makes, %: one part in a million. Common practice, no source.
const LEAST_PERCENT: f64 = 1e-4;

/// What a percentage is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StrengthBasis {
    /// Grams of substance in 100 mL of solution.
    WeightInVolume,
    /// Grams of substance in 100 g of solution.
    WeightInWeight,
    /// Millilitres of liquid in 100 mL of solution.
    VolumeInVolume,
}

impl StrengthBasis {
    /// As written in the trade.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::WeightInVolume => "w/v",
            Self::WeightInWeight => "w/w",
            Self::VolumeInVolume => "v/v",
        }
    }
}

/// A strength in percent, above 0 and at most 100.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    percent: f64,
    basis: StrengthBasis,
}

impl Strength {
    /// From percent and basis; clamps to above 0 and at most 100.
    pub fn new(percent: f64, basis: StrengthBasis) -> Self {
        let percent = if percent.is_finite() { percent.clamp(f64::MIN_POSITIVE, 100.0) } else { 100.0 };
        Self { percent, basis }
    }

    /// Above 0, at most 100.
    pub fn percent(self) -> f64 {
        self.percent
    }

    /// What the percentage is counted in.
    pub fn basis(self) -> StrengthBasis {
        self.basis
    }

    /// Reads a percentage that may come without a basis.
    ///
    /// # Errors
    /// No number, no percent sign, an unknown basis, or a value outside 0 to 100.
    pub fn parse_loose(text: &str) -> Result<(f64, Option<StrengthBasis>), QuantityError> {
        let trimmed = text.trim();
        let (value, rest) = number_and_unit(trimmed)?;
        let Some(after) = rest.strip_prefix('%') else {
            if rest.is_empty() {
                return Err(QuantityError::NoUnit {
                    kind: "strength",
                    examples: "10 % w/v, 28 % w/w or 50 % v/v",
                });
            }
            return Err(QuantityError::NotAStrength { text: trimmed.to_owned() });
        };
        let basis = match after.trim().to_ascii_lowercase().as_str() {
            "w/v" => Some(StrengthBasis::WeightInVolume),
            "w/w" => Some(StrengthBasis::WeightInWeight),
            "v/v" => Some(StrengthBasis::VolumeInVolume),
            "" => None,
            _ => return Err(QuantityError::NotAStrength { text: trimmed.to_owned() }),
        };
        if !(value > 0.0 && value <= 100.0) {
            return Err(QuantityError::OutOfRange {
                kind: "strength",
                text: trimmed.to_owned(),
                low: "0 %",
                high: "100 %",
            });
        }
        if value < LEAST_PERCENT {
            return Err(QuantityError::TooSmall { kind: "strength", text: trimmed.to_owned() });
        }
        Ok((value, basis))
    }
}

impl FromStr for Strength {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match Self::parse_loose(text)? {
            (percent, Some(basis)) => Ok(Self { percent, basis }),
            (percent, None) => {
                Err(QuantityError::NoBasis { text: format!("{} %", rounding::show_short(percent, 4)) })
            }
        }
    }
}

impl fmt::Display for Strength {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} % {}", rounding::show_short(self.percent, 4), self.basis.symbol())
    }
}
