//! Sheets of paper by area: one unit is 8 × 10 in, 516 cm².

use std::fmt;
use std::str::FromStr;

use super::ExposureError;
use super::error::within;
use super::length::{split, unit_mm};
use crate::quantity::rounding::show_short;
use crate::quantity::{QuantityError, UNIT_CM2, parse_number};

/// A sheet by its sides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PaperSheet {
    pub width_cm: f64,
    pub height_cm: f64,
}

impl PaperSheet {
    /// Its area, cm².
    pub(crate) fn area_cm2(&self) -> f64 {
        self.width_cm * self.height_cm
    }

    /// Its area in sheets of 8 × 10 in.
    pub(crate) fn units(&self) -> f64 {
        self.area_cm2() / UNIT_CM2
    }
}

impl FromStr for PaperSheet {
    type Err = QuantityError;

    /// `8x10in`, `30.5x40.6cm`, `240x305mm`, `a4`.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let plain = text.trim().to_ascii_lowercase().replace('×', "x");
        if plain == "a4" {
            // ISO 216.
            return Ok(Self { width_cm: 21.0, height_cm: 29.7 });
        }
        let wrong = QuantityError::NoUnit { kind: "sheet of paper", examples: "8x10in, 30.5x40.6cm or a4" };
        let (width, rest) = plain.split_once('x').ok_or_else(|| wrong.clone())?;
        let (height, unit) = split(rest);
        let size = unit_mm(unit).ok_or(wrong)?;
        let side = |figure: &str| {
            // A unit may stand behind both sides.
            let (figure, _) = split(figure.trim());
            let millimetres = parse_number(figure)? * size;
            if (5.0..=5000.0).contains(&millimetres) {
                return Ok(millimetres / 10.0);
            }
            let text = text.trim().to_owned();
            Err(QuantityError::OutOfRange { kind: "side of a sheet", text, low: "5 mm", high: "5 m" })
        };
        Ok(Self { width_cm: side(width)?, height_cm: side(height)? })
    }
}

impl fmt::Display for PaperSheet {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} × {} cm", show_short(self.width_cm, 1), show_short(self.height_cm, 1))
    }
}

/// What is left of a bath's capacity, in sheets of 8 × 10 in: `capacity · volume - done`; below zero where it is spent.
///
/// # Errors
/// A capacity or a volume out of range.
pub(crate) fn units_left(
    per_litre: f64,
    litres: f64,
    done: &[(f64, PaperSheet)],
) -> Result<f64, ExposureError> {
    within("a capacity in sheets per litre", per_litre, 0.01, 10_000.0)?;
    within("a volume in litres", litres, 0.001, 10_000.0)?;
    let done: f64 = done.iter().map(|(count, sheet)| count * sheet.units()).sum();
    Ok(per_litre * litres - done)
}
