//! Volume: millilitres inside; `ml`, `l`, US and imperial measures outside.

use std::fmt;
use std::str::FromStr;

use super::mass::non_negative;
use super::number::number_and_unit;
use super::{QuantityError, rounding, units};

/// Least volume that anybody measures, mL: the finest mark of a 1 mL syringe. Common practice, no source.
pub(crate) const LEAST_ML: f64 = 0.01;

const EXAMPLES: &str = "500ml, 1L, 32us-floz, 1us-qt, 1us-gal, 20imp-floz or 1imp-gal";

/// A volume, above zero when typed.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Volume {
    millilitres: f64,
}

impl Volume {
    /// From millilitres; a negative or non-finite number becomes zero.
    pub fn from_ml(millilitres: f64) -> Self {
        Self { millilitres: if millilitres.is_finite() && millilitres > 0.0 { millilitres } else { 0.0 } }
    }

    /// In millilitres.
    pub fn as_ml(self) -> f64 {
        self.millilitres
    }

    /// 1 L is 1000 mL.
    pub fn as_litres(self) -> f64 {
        self.millilitres / 1000.0
    }
}

impl FromStr for Volume {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let (value, unit) = number_and_unit(text)?;
        let size = units::size_of(units::VOLUME, unit, "volume", EXAMPLES)?;
        let millilitres = non_negative(value * size, text, "volume")?;
        if millilitres == 0.0 {
            return Err(QuantityError::Zero { kind: "volume", text: text.trim().to_owned() });
        }
        if millilitres < LEAST_ML {
            return Err(QuantityError::TooSmall { kind: "volume", text: text.trim().to_owned() });
        }
        Ok(Self { millilitres })
    }
}

impl fmt::Display for Volume {
    /// Millilitres, to a hundredth below 10 mL, a tenth below 100 mL, one above: `2.25 mL`, `12.5 mL`, `946 mL`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimals = if self.millilitres < 10.0 { 2 } else { usize::from(self.millilitres < 100.0) };
        write!(formatter, "{} mL", rounding::show_short(self.millilitres, decimals))
    }
}
