//! The enlarger's timer: what can be set on it.

use std::fmt;
use std::str::FromStr;

use super::{ExposureError, Stops};
use crate::quantity::Duration;
use crate::quantity::rounding::{show_step, to_step};

/// The step of the timer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Clock {
    /// Tenths of a second.
    #[default]
    Tenths,
    Seconds,
}

impl Clock {
    pub fn step_s(self) -> f64 {
        match self {
            Self::Tenths => 0.1,
            Self::Seconds => 1.0,
        }
    }

    /// Steps in a second.
    fn per_second(self) -> f64 {
        match self {
            Self::Tenths => 10.0,
            Self::Seconds => 1.0,
        }
    }

    /// A time in whole steps, the nearest.
    pub(super) fn ticks(self, seconds: f64) -> f64 {
        to_step(seconds * self.per_second(), 1.0)
    }

    /// So many steps, s.
    pub(super) fn seconds(self, ticks: f64) -> f64 {
        ticks / self.per_second()
    }

    /// The nearest time that can be set, s.
    pub fn set(self, seconds: f64) -> f64 {
        self.seconds(self.ticks(seconds))
    }

    /// Whether exactly this time can be set.
    pub fn can_set(self, seconds: f64) -> bool {
        (self.set(seconds) - seconds).abs() < 1e-9
    }

    /// A time as it is set: `10.1`, `10`.
    pub fn show(self, seconds: f64) -> String {
        show_step(seconds, self.step_s())
    }

    /// The next setting not below a time, as it is set.
    pub(super) fn at_least(self, seconds: f64) -> String {
        self.show(self.seconds((seconds * self.per_second() - 1e-9).ceil()))
    }

    /// The next setting not above a time, as it is set.
    pub(super) fn at_most(self, seconds: f64) -> String {
        self.show(self.seconds((seconds * self.per_second() + 1e-9).floor()))
    }

    /// From which time on rounding stays within an error: `t = (r/2) / (1 - 2^-x)`, r the step of the clock; s.
    pub fn shortest_within_s(self, error: Stops) -> f64 {
        self.step_s() / 2.0 / (1.0 - error.size().reversed().factor())
    }
}

impl FromStr for Clock {
    type Err = ExposureError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wrong =
            || ExposureError::NotReadable { text: text.trim().to_owned(), what: "the step of a timer" };
        let step: Duration = text.parse().map_err(|_| wrong())?;
        let known = [Self::Tenths, Self::Seconds];
        known.into_iter().find(|own| (own.step_s() - step.as_s()).abs() < 1e-9).ok_or_else(wrong)
    }
}

impl fmt::Display for Clock {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::Tenths => "0.1 s",
            Self::Seconds => "1 s",
        })
    }
}
