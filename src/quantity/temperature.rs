//! Temperature: degrees Celsius inside, °C and °F outside.

use std::fmt;
use std::str::FromStr;

use super::number::number_and_unit;
use super::{QuantityError, rounding};

/// A temperature of a bath or of water.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature {
    celsius: f64,
}

impl Temperature {
    /// From degrees Celsius.
    pub fn from_c(celsius: f64) -> Self {
        Self { celsius }
    }

    /// From degrees Fahrenheit: °C = (°F − 32) · 5/9.
    pub fn from_f(fahrenheit: f64) -> Self {
        Self { celsius: (fahrenheit - 32.0) * 5.0 / 9.0 }
    }

    /// In degrees Celsius.
    pub fn as_c(self) -> f64 {
        self.celsius
    }

    /// In degrees Fahrenheit: °F = °C · 9/5 + 32.
    pub fn as_f(self) -> f64 {
        self.celsius * 9.0 / 5.0 + 32.0
    }
}

impl FromStr for Temperature {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let (value, unit) = number_and_unit(text)?;
        let bare = unit.trim_start_matches(['°', 'º']).trim_start_matches("deg").trim().to_ascii_lowercase();
        let temperature = match bare.as_str() {
            "c" | "celsius" => Self::from_c(value),
            "f" | "fahrenheit" => Self::from_f(value),
            "" => return Err(QuantityError::NoUnit { kind: "temperature", examples: "20C or 68F" }),
            _ => {
                return Err(QuantityError::UnknownUnit {
                    unit: unit.to_owned(),
                    kind: "temperature",
                    suggestion: None,
                    known: "C, F".to_owned(),
                });
            }
        };
        if !(-100.0..=500.0).contains(&temperature.celsius) {
            return Err(QuantityError::OutOfRange {
                kind: "temperature",
                text: text.trim().to_owned(),
                low: "-100 °C",
                high: "500 °C",
            });
        }
        Ok(temperature)
    }
}

impl fmt::Display for Temperature {
    /// Degrees Celsius to one decimal at most: `20 °C`, `18.5 °C`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} °C", rounding::show_short(self.celsius, 1))
    }
}
