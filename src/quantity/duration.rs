//! Duration: seconds inside; `8min`, `8:30`, `8m30s`, `510s`, `1h` outside.

use std::fmt;
use std::str::FromStr;

use super::QuantityError;
use super::number::{number_and_unit, parse_number};
use super::rounding;

/// Least time that is told apart by anything in a darkroom, s: a timer of tenths, read ten times as fine. Common practice, no source.
const LEAST_S: f64 = 0.01;

/// A length of time, above zero when typed.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Duration {
    seconds: f64,
}

impl Duration {
    /// From seconds; a negative or non-finite number becomes zero.
    pub fn from_s(seconds: f64) -> Self {
        Self { seconds: if seconds.is_finite() && seconds > 0.0 { seconds } else { 0.0 } }
    }

    /// 60 s each.
    pub fn from_min(minutes: f64) -> Self {
        Self::from_s(minutes * 60.0)
    }

    /// In seconds.
    pub fn as_s(self) -> f64 {
        self.seconds
    }

    /// In minutes.
    pub fn as_min(self) -> f64 {
        self.seconds / 60.0
    }
}

impl FromStr for Duration {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let trimmed = text.trim();
        let seconds = match trimmed.split_once(':') {
            Some((minutes, seconds)) => clock(trimmed, minutes, seconds)?,
            None => units(trimmed)?,
        };
        if seconds == 0.0 {
            return Err(QuantityError::Zero { kind: "time", text: trimmed.to_owned() });
        }
        if seconds < LEAST_S {
            return Err(QuantityError::TooSmall { kind: "time", text: trimmed.to_owned() });
        }
        Ok(Self { seconds })
    }
}

/// Reads `8:30` as minutes and seconds.
fn clock(text: &str, minutes: &str, seconds: &str) -> Result<f64, QuantityError> {
    let wrong = || QuantityError::NotADuration { text: text.to_owned() };
    let digits =
        |part: &str| !part.is_empty() && part.len() <= 4 && part.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(minutes) || !digits(seconds) || seconds.len() != 2 {
        return Err(wrong());
    }
    let (minutes, seconds) = (parse_number(minutes)?, parse_number(seconds)?);
    if seconds >= 60.0 {
        return Err(wrong());
    }
    Ok(minutes * 60.0 + seconds)
}

/// Reads `8min`, `8m30s`, `510s`, `1h5min`.
fn units(text: &str) -> Result<f64, QuantityError> {
    let mut rest = text;
    let mut total = 0.0;
    let mut smallest = f64::INFINITY;
    while !rest.is_empty() {
        let (value, after) = number_and_unit(rest).map_err(|error| {
            if total > 0.0 { QuantityError::NotADuration { text: text.to_owned() } } else { error }
        })?;
        let end = after.find(|character: char| !character.is_alphabetic()).unwrap_or(after.len());
        let (unit, next) = after.split_at(end);
        let size = match unit.to_ascii_lowercase().as_str() {
            "h" | "hour" | "hours" => 3600.0,
            "m" | "min" | "minute" | "minutes" => 60.0,
            "s" | "sec" | "second" | "seconds" => 1.0,
            "" => return Err(QuantityError::NoUnit { kind: "time", examples: "8min, 8:30, 8m30s or 510s" }),
            _ => return Err(QuantityError::NotADuration { text: text.to_owned() }),
        };
        if value < 0.0 {
            return Err(QuantityError::Negative { kind: "time", text: text.to_owned() });
        }
        if size >= smallest {
            return Err(QuantityError::NotADuration { text: text.to_owned() });
        }
        smallest = size;
        total += value * size;
        rest = next.trim();
    }
    if text.is_empty() {
        return Err(QuantityError::Empty);
    }
    if total > 1e7 {
        return Err(QuantityError::TooLarge { text: text.to_owned() });
    }
    Ok(total)
}

impl fmt::Display for Duration {
    /// As on a timer: `8:30 min`, `45 s`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole = rounding::to_step(self.seconds, 1.0);
        if whole < 60.0 {
            return write!(formatter, "{whole:.0} s");
        }
        let minutes = (whole / 60.0).floor();
        write!(formatter, "{minutes:.0}:{:02.0} min", whole - minutes * 60.0)
    }
}
