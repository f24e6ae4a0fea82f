//! Stops: powers of two of exposure, typed as `+1/3`, `-2/3`, `1 1/2`, `0.5`.

use std::fmt;
use std::str::FromStr;

use crate::quantity::rounding::show_short;
use crate::quantity::{QuantityError, parse_number};

/// More stops than any paper, lens or lamp has between them.
const MOST: f64 = 20.0;

/// A change of exposure: one stop doubles it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Stops(f64);

impl Stops {
    /// From a number of stops; one that is not finite becomes none.
    pub fn new(stops: f64) -> Self {
        // Adding zero makes a negative zero plain.
        Self(if stops.is_finite() { stops + 0.0 } else { 0.0 })
    }

    /// From a ratio of exposures: `s = log2(ratio)`.
    pub fn from_ratio(ratio: f64) -> Self {
        Self::new(ratio.log2())
    }

    /// From a change in percent: `s = log2(1 + p/100)`.
    pub fn from_percent(percent: f64) -> Self {
        Self::from_ratio(1.0 + percent / 100.0)
    }

    /// The number of stops.
    pub fn get(self) -> f64 {
        self.0
    }

    /// The factor of exposure: `2^s`.
    pub fn factor(self) -> f64 {
        self.0.exp2()
    }

    /// The same as a difference of log exposure: `s · log10 2`.
    pub fn log_exposure(self) -> f64 {
        self.0 * 2.0_f64.log10()
    }

    /// Without its sign.
    #[must_use]
    pub fn size(self) -> Self {
        Self(self.0.abs())
    }

    /// The other way.
    #[must_use]
    pub fn reversed(self) -> Self {
        Self::new(-self.0)
    }

    /// Whether it is told exactly as a fraction of a dozen.
    fn twelfths(self) -> Option<i32> {
        let twelfths = self.0 * 12.0;
        let whole = (-12 * 30..=12 * 30).find(|&whole| (twelfths - f64::from(whole)).abs() < 1e-9)?;
        Some(whole)
    }

    /// Without a sign: `1/3`, `1 1/2`, `0.68`.
    pub fn unsigned(self) -> String {
        let Some(twelfths) = self.twelfths().map(i32::abs) else { return show_short(self.0.abs(), 2) };
        let (whole, rest) = (twelfths / 12, twelfths % 12);
        let divisor = [6, 4, 3, 2].into_iter().find(|own| rest % own == 0 && 12 % own == 0).unwrap_or(1);
        let fraction = format!("{}/{}", rest / divisor, 12 / divisor);
        match (whole, rest) {
            (0, 0) => "0".to_owned(),
            (_, 0) => whole.to_string(),
            (0, _) => fraction,
            _ => format!("{whole} {fraction}"),
        }
    }

    /// A length of step in words: `thirds of a stop`, `steps of 0.2 stop`.
    pub fn as_steps(self) -> String {
        match self.twelfths() {
            Some(12) => "whole stops".to_owned(),
            Some(6) => "halves of a stop".to_owned(),
            Some(4) => "thirds of a stop".to_owned(),
            Some(3) => "quarters of a stop".to_owned(),
            Some(2) => "sixths of a stop".to_owned(),
            Some(1) => "twelfths of a stop".to_owned(),
            _ => format!("steps of {} stop", self.unsigned()),
        }
    }
}

impl FromStr for Stops {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let trimmed = text.trim();
        let bare = ["stops", "stop"].iter().find_map(|unit| trimmed.strip_suffix(unit)).unwrap_or(trimmed);
        let (sign, rest) = match bare.trim().strip_prefix(['-', '−']) {
            Some(rest) => (-1.0, rest),
            None => (1.0, bare.trim().strip_prefix('+').unwrap_or(bare.trim())),
        };
        let stops = unsigned(rest.trim(), trimmed)?;
        if stops > MOST {
            return Err(QuantityError::OutOfRange {
                kind: "change of exposure",
                text: trimmed.to_owned(),
                low: "-20 stops",
                high: "+20 stops",
            });
        }
        Ok(Self::new(sign * stops))
    }
}

/// `1/3`, `1 1/2`, `0.5`.
fn unsigned(text: &str, whole_text: &str) -> Result<f64, QuantityError> {
    let wrong = || QuantityError::NotANumber { text: whole_text.to_owned() };
    if text.is_empty() {
        return Err(QuantityError::Empty);
    }
    let figure = |part: &str| {
        let part = part.trim();
        if part.starts_with(['+', '-']) { Err(wrong()) } else { parse_number(part) }
    };
    let Some((above, below)) = text.split_once('/') else { return figure(text) };
    let (whole, above) = match above.trim().rsplit_once(' ') {
        Some((whole, above)) => (figure(whole)?, above),
        None => (0.0, above),
    };
    let (above, below) = (figure(above)?, figure(below)?);
    if below <= 0.0 { Err(wrong()) } else { Ok(whole + above / below) }
}

impl fmt::Display for Stops {
    /// With its sign: `+1/3`, `-1 1/2`, `0`, `+0.68`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = self.unsigned();
        let sign = match self.0 {
            _ if text == "0" => "",
            stops if stops < 0.0 => "-",
            _ => "+",
        };
        write!(formatter, "{sign}{text}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stops_are_written_as_printers_write_them() {
        for (text, stops, shown) in [
            ("+1/3", 1.0 / 3.0, "+1/3"),
            ("-2/3", -2.0 / 3.0, "-2/3"),
            ("1 1/2", 1.5, "+1 1/2"),
            ("−1/4 stop", -0.25, "-1/4"),
            ("5/6 stops", 5.0 / 6.0, "+5/6"),
            ("0.5", 0.5, "+1/2"),
            ("7/12", 7.0 / 12.0, "+7/12"),
            ("2", 2.0, "+2"),
            ("0", 0.0, "0"),
            ("0.68", 0.68, "+0.68"),
        ] {
            let read: Stops = text.parse().unwrap();
            assert!((read.get() - stops).abs() < 1e-12, "{text}");
            assert_eq!(read.to_string(), shown);
        }
        for text in ["", "+", "1/0", "--1", "+-1", "1,5", "1/-3", "nan", "1e9", "third"] {
            assert!(text.parse::<Stops>().is_err(), "{text}");
        }
    }
}
