//! What of a print's exposure is kept: stops, so that it survives a change of size, diaphragm or paper. Seconds are derived.
//!
//! The base is kept in stops over one second (`20 s` is 4.3219), a second exposure through another filter likewise, local exposures in
//! stops over the base. [`PrintExposure::to_text`] and [`PrintExposure::parse`] are each other's inverse.

use std::fmt;
use std::str::FromStr;

use super::error::within;
use super::{ExposureError, Stops};
use crate::quantity::Duration;
use crate::quantity::rounding::show_short;

/// The filter or filters of a print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Contrast {
    /// One exposure, in stops over one second.
    One(Stops),
    /// A soft and a hard exposure, in stops over one second each.
    Two {
        /// Through the soft filter.
        soft: Stops,
        /// Through the hard filter.
        hard: Stops,
    },
}

/// A place that gets more or less than the base.
#[derive(Debug, Clone, PartialEq)]
pub struct Local {
    /// The place, in the printer's own words.
    pub place: String,
    /// Above zero burnt in, below zero held back.
    pub stops: Stops,
}

/// A print's exposure.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintExposure {
    /// The base.
    pub base: Contrast,
    /// Places.
    pub locals: Vec<Local>,
}

/// Longest name of a place, characters.
const LONGEST_PLACE: usize = 60;

impl PrintExposure {
    /// One exposure with local ones.
    ///
    /// # Errors
    /// A time out of range.
    pub fn new(base: Duration, locals: Vec<Local>) -> Result<Self, ExposureError> {
        Ok(Self { base: Contrast::One(over_a_second(base)?), locals })
    }

    /// Two exposures with local ones.
    ///
    /// # Errors
    /// A time out of range.
    pub fn two(soft: Duration, hard: Duration, locals: Vec<Local>) -> Result<Self, ExposureError> {
        let base = Contrast::Two { soft: over_a_second(soft)?, hard: over_a_second(hard)? };
        Ok(Self { base, locals })
    }

    /// The base in seconds: one exposure, or soft and hard together.
    pub fn base_s(&self) -> f64 {
        match self.base {
            Contrast::One(base) => base.factor(),
            Contrast::Two { soft, hard } => soft.factor() + hard.factor(),
        }
    }

    /// What a place gets more or less than the base, s.
    pub fn local_s(&self, local: &Local) -> f64 {
        self.base_s() * (local.stops.factor() - 1.0)
    }

    /// The same print after a general change: everything by the same stops, local exposures as they are.
    #[must_use]
    pub fn changed(&self, by: Stops) -> Self {
        let more = |own: Stops| Stops::new(own.get() + by.get());
        let base = match self.base {
            Contrast::One(base) => Contrast::One(more(base)),
            Contrast::Two { soft, hard } => Contrast::Two { soft: more(soft), hard: more(hard) },
        };
        Self { base, locals: self.locals.clone() }
    }

    /// As it is kept in a file: `4.321928 stops; sky +3/4; face -1/4`, or `soft 2.485427 hard 2.847997 stops`.
    pub fn to_text(&self) -> String {
        let base = match self.base {
            Contrast::One(base) => format!("{} stops", show_short(base.get(), 6)),
            Contrast::Two { soft, hard } => {
                format!("soft {} hard {} stops", show_short(soft.get(), 6), show_short(hard.get(), 6))
            }
        };
        std::iter::once(base)
            .chain(self.locals.iter().map(ToString::to_string))
            .collect::<Vec<_>>()
            .join("; ")
    }

    /// Reads what [`Self::to_text`] writes.
    ///
    /// # Errors
    /// Another text.
    pub fn parse(text: &str) -> Result<Self, ExposureError> {
        let mut parts = text.split(';').map(str::trim);
        let base = parts.next().unwrap_or_default();
        let wrong = || ExposureError::NotReadable { text: base.to_owned(), what: "the exposure of a print" };
        let inner = base.strip_suffix("stops").ok_or_else(wrong)?.trim();
        let read = |figure: &str| figure.trim().parse::<Stops>().map_err(|_| wrong());
        let base = match inner.strip_prefix("soft ").and_then(|rest| rest.split_once(" hard ")) {
            Some((soft, hard)) => Contrast::Two { soft: read(soft)?, hard: read(hard)? },
            None => Contrast::One(read(inner)?),
        };
        Ok(Self { base, locals: parts.map(str::parse).collect::<Result<_, _>>()? })
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
    fn what_is_kept_is_read_again_and_survives_a_change_of_size() {
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
        let again = PrintExposure::parse(&print.to_text()).unwrap();
        assert!((again.base_s() - 20.0).abs() < 1e-4 && again.locals == print.locals);
        // Burn of 3/4 stop on 20 s is 13.64 s; twice the base, twice the burn.
        assert!((print.local_s(&print.locals[0]) - 13.636).abs() < 0.001);
        let larger = print.changed(Stops::new(1.0));
        assert!((larger.local_s(&larger.locals[0]) - 27.272).abs() < 0.002);
        let two = PrintExposure::two(Duration::from_s(5.6), Duration::from_s(7.2), locals).unwrap();
        assert!((PrintExposure::parse(&two.to_text()).unwrap().base_s() - 12.8).abs() < 1e-4);
        for text in ["", "20 s", "4.3 stops; sky", "x stops", "4 stops; +1/3", "4 stops; sky 1/3"] {
            assert!(PrintExposure::parse(text).is_err(), "{text}");
        }
    }
}
