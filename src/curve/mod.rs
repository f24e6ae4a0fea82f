//! The characteristic curve: from readings of a step tablet to speed, contrast and the time for a target; of paper, its range.
//!
//! Every figure has limits that hold nine times in ten, carried through from the error of each density and of the exposure to first
//! order (see [`figures`]). Nothing is extrapolated: what lies off the strip is not available.

pub(crate) mod comparison;
pub mod figures;
pub mod interpolation;
pub mod paper;
pub mod readings;
pub mod series;
pub mod table;

/// Why a strip gives no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CurveError {
    /// The density asked for is on no part of the strip.
    #[error("{strip}: the strip does not hold {what}: its readings run from {low:.2} to {high:.2}")]
    OffTheStrip {
        /// What the strip is called.
        strip: String,
        /// What was looked for.
        what: String,
        /// Its lowest density.
        low: f64,
        /// Its highest density.
        high: f64,
        /// What to do.
        fix: &'static str,
    },
    /// A series that does not rise with the time.
    #[error(
        "{later}: less contrast than {earlier} by {fall:.2} after a longer time, which is more than reading errors explain"
    )]
    SeriesFalls {
        /// The strip of the shorter time.
        earlier: String,
        /// The strip of the longer time.
        later: String,
        /// By how much.
        fall: f64,
    },
    /// Two strips of one time.
    #[error("{one} and {other} have the same time")]
    SameTime {
        /// A strip.
        one: String,
        /// Another.
        other: String,
    },
    /// A strip of the series has no figure for the target.
    #[error("{strip}: the strip is too short for the target ({what})")]
    TooShort {
        /// What the strip is called.
        strip: String,
        /// What was asked of it.
        what: String,
    },
}

impl CurveError {
    /// What to do.
    pub fn fix(&self) -> &'static str {
        match self {
            Self::OffTheStrip { fix, .. } => fix,
            Self::SeriesFalls { .. } => "read both strips again, and see that the times are not exchanged",
            Self::SameTime { .. } => "give one strip a time, or leave the times out to compare the strips",
            Self::TooShort { .. } => {
                "expose the tablet so that m lies further to the left, or choose a nearer target"
            }
        }
    }

    /// A short name of the kind of error.
    pub fn code(&self) -> &'static str {
        match self {
            Self::OffTheStrip { .. } | Self::TooShort { .. } => "off-the-strip",
            Self::SeriesFalls { .. } => "series-falls",
            Self::SameTime { .. } => "same-time",
        }
    }
}

/// log H of one stop.
pub const STOP: f64 = std::f64::consts::LOG10_2;

/// Standard deviations on either side that hold nine in ten.
pub const NINE_IN_TEN: f64 = 1.6449;

/// Where a figure lies nine times in ten.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NineInTen {
    /// One in twenty lies below.
    pub low: f64,
    /// One in twenty lies above.
    pub high: f64,
}

impl NineInTen {
    /// About a value with a standard deviation.
    pub fn about(value: f64, deviation: f64) -> Self {
        Self { low: value - NINE_IN_TEN * deviation, high: value + NINE_IN_TEN * deviation }
    }

    /// The same after a monotone function.
    #[must_use]
    pub fn map(self, function: impl Fn(f64) -> f64) -> Self {
        let (one, other) = (function(self.low), function(self.high));
        Self { low: one.min(other), high: one.max(other) }
    }
}

/// How well things were read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Errors {
    /// Standard deviation of one density.
    pub density: f64,
    /// How far off the exposure may be, nine times in ten, stops.
    pub light_stops: f64,
}

impl Errors {
    /// Standard deviation of log H.
    pub fn log_h(self) -> f64 {
        self.light_stops * STOP / NINE_IN_TEN
    }
}
