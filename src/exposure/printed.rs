//! What of a print's exposure is kept: stops, so that it survives a change of size, diaphragm or paper. Seconds are derived.
//!
//! The base is kept in stops over one second (`20 s` is 4.3219), local exposures in stops over the base.

use std::fmt;
use std::str::FromStr;

use super::error::within;
use super::{ExposureError, Stops};
use crate::quantity::Duration;
use crate::quantity::rounding::show_short;

/// A place that gets more or less than the base.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Local {
    /// The place, in the printer's own words.
    pub place: String,
    /// Above zero burnt in, below zero held back.
    pub stops: Stops,
}

/// A print's exposure.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PrintExposure {
    /// Stops over one second.
    base: Stops,
    locals: Vec<Local>,
}

/// Longest name of a place, characters.
const LONGEST_PLACE: usize = 60;

impl PrintExposure {
    /// One exposure with local ones.
    ///
    /// # Errors
    /// A time out of range.
    pub(crate) fn new(base: Duration, locals: Vec<Local>) -> Result<Self, ExposureError> {
        Ok(Self { base: over_a_second(base)?, locals })
    }

    /// The base in seconds.
    pub(crate) fn base_s(&self) -> f64 {
        self.base.factor()
    }

    /// As it is kept in a file: `4.321928 stops; sky +3/4; face -1/4`.
    pub(crate) fn to_text(&self) -> String {
        std::iter::once(format!("{} stops", show_short(self.base.get(), 6)))
            .chain(self.locals.iter().map(ToString::to_string))
            .collect::<Vec<_>>()
            .join("; ")
    }
}

fn over_a_second(time: Duration) -> Result<Stops, ExposureError> {
    Ok(Stops::from_ratio(within("an exposure in seconds", time.as_s(), 0.05, 86_400.0)?))
}

impl FromStr for Local {
    type Err = ExposureError;

    /// `sky +3/4`, `left edge -1 1/2`.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wrong = || ExposureError::NotReadable { text: text.to_owned(), what: "a place with its stops" };
        let trimmed = text.trim();
        // The sign begins the stops; a place may hold hyphens, but not one behind a blank and before a figure.
        let cut = trimmed.rfind([' ', '\u{a0}']).ok_or_else(wrong)?;
        let signed =
            |at: usize| trimmed.get(at..).is_some_and(|rest| rest.trim_start().starts_with(['+', '-', '−']));
        let cut = if signed(cut) {
            cut
        } else {
            trimmed.get(..cut).and_then(|head| head.rfind(' ')).ok_or_else(wrong)?
        };
        let (place, stops) = trimmed.split_at(cut);
        let place = place.trim();
        let is_odd = |letter: char| letter == ';' || letter.is_control();
        if !signed(cut) || place.is_empty() || place.chars().count() > LONGEST_PLACE || place.contains(is_odd)
        {
            return Err(wrong());
        }
        let stops: Stops = stops.parse().map_err(|_| wrong())?;
        Ok(Self { place: place.to_owned(), stops })
    }
}

impl fmt::Display for Local {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.stops.to_string().as_str() {
            "0" => write!(formatter, "{} +0", self.place),
            _ if self.stops.unsigned().contains('.') => {
                write!(
                    formatter,
                    "{} {}{}",
                    self.place,
                    sign(self.stops),
                    show_short(self.stops.get().abs(), 6)
                )
            }
            told => write!(formatter, "{} {told}", self.place),
        }
    }
}

fn sign(stops: Stops) -> char {
    if stops.get() < 0.0 { '-' } else { '+' }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_stops_over_a_second_and_over_the_base() {
        let locals: Vec<Local> = ["sky +3/4", "left-hand face -1/4", "window - top +1 1/2", "edge +0.4854"]
            .iter()
            .map(|own| own.parse().unwrap())
            .collect();
        assert_eq!(locals[2], Local { place: "window - top".to_owned(), stops: Stops::new(1.5) });
        let print = PrintExposure::new(Duration::from_s(20.0), locals.clone()).unwrap();
        assert_eq!(
            print.to_text(),
            "4.321928 stops; sky +3/4; left-hand face -1/4; window - top +1 1/2; edge +0.4854"
        );
        assert!((print.base_s() - 20.0).abs() < 1e-9);
        for text in ["", "sky", "sky 1/3"] {
            assert!(text.parse::<Local>().is_err(), "{text}");
        }
    }
}
