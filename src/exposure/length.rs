//! Lengths on the column, the easel and the negative: millimetres inside; `mm`, `cm`, `m` and `in` outside.

use std::fmt;
use std::str::FromStr;

use crate::quantity::rounding::show_short;
use crate::quantity::{QuantityError, parse_number};

/// Longest that is meant, mm.
const LONGEST_MM: f64 = 100_000.0;

/// A length above zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(crate) struct Length {
    millimetres: f64,
}

impl Length {
    pub(crate) fn from_mm(millimetres: f64) -> Self {
        Self { millimetres }
    }

    pub(crate) fn as_mm(self) -> f64 {
        self.millimetres
    }
}

/// Millimetres in a unit of length; the inch is exact (international agreement of 1959).
pub(super) fn unit_mm(unit: &str) -> Option<f64> {
    match unit.trim().to_ascii_lowercase().as_str() {
        "mm" => Some(1.0),
        "cm" => Some(10.0),
        "m" => Some(1000.0),
        "in" | "inch" | "inches" | "\"" => Some(25.4),
        _ => None,
    }
}

/// Splits a figure from its unit.
pub(super) fn split(text: &str) -> (&str, &str) {
    let end = text.find(|letter: char| letter.is_alphabetic() || matches!(letter, '"' | '%' | '²'));
    let (figure, unit) = text.split_at(end.unwrap_or(text.len()));
    (figure.trim(), unit.trim())
}

impl FromStr for Length {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let trimmed = text.trim();
        let (figure, unit) = split(trimmed);
        let value = parse_number(figure)?;
        if unit.is_empty() {
            return Err(QuantityError::NoUnit { kind: "length", examples: "36mm, 24cm, 1.2m or 10in" });
        }
        let size = unit_mm(unit).ok_or_else(|| QuantityError::UnknownUnit {
            unit: unit.to_owned(),
            kind: "length",
            suggestion: None,
            known: "mm, cm, m, in".to_owned(),
        })?;
        let millimetres = value * size;
        if millimetres < 0.0 {
            return Err(QuantityError::Negative { kind: "length", text: trimmed.to_owned() });
        }
        if millimetres < 0.01 {
            return Err(QuantityError::TooSmall { kind: "length", text: trimmed.to_owned() });
        }
        if millimetres > LONGEST_MM {
            return Err(QuantityError::OutOfRange {
                kind: "length",
                text: trimmed.to_owned(),
                low: "0.01 mm",
                high: "100 m",
            });
        }
        Ok(Self { millimetres })
    }
}

impl fmt::Display for Length {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} mm", show_short(self.millimetres, 1))
    }
}
