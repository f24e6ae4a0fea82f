//! A factor as it is known: low, central and high, with what stands behind it.

use std::fmt;

use serde::Deserialize;

/// What stands behind a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Support {
    /// The user's own records.
    OwnRecord,
    /// Given by the user for this one answer.
    Given,
    /// A document was read.
    Published,
    /// Common in the trade; no document.
    CommonPractice,
    /// Recalled; no document was opened.
    Memory,
    /// This project's own reading of figures that disagree or are missing.
    Estimate,
    /// Taken from a relative by composition.
    Guess,
}

impl Support {
    /// The word in files and JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::OwnRecord => "own-record",
            Self::Given => "given",
            Self::Published => "published",
            Self::CommonPractice => "common-practice",
            Self::Memory => "memory",
            Self::Estimate => "estimate",
            Self::Guess => "guess",
        }
    }

    /// The same for a reader.
    pub fn words(self) -> &'static str {
        match self {
            Self::OwnRecord => "your own records",
            Self::Given => "given by you",
            Self::Published => "published",
            Self::CommonPractice => "common practice, no source",
            Self::Memory => crate::doubt::FROM_MEMORY,
            Self::Estimate => "estimate",
            Self::Guess => "a guess",
        }
    }
}

impl fmt::Display for Support {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.words())
    }
}

/// A figure above zero (or an exponent) with its range and evidence.
#[derive(Debug, Clone, PartialEq)]
pub struct TimingFigure {
    /// Lower end of the range.
    pub low: f64,
    /// The value to use.
    pub central: f64,
    /// Upper end of the range.
    pub high: f64,
    /// What stands behind it.
    pub support: Support,
    /// Citation, where there is one.
    pub source: Option<String>,
    /// What to know of it.
    pub note: Option<String>,
}

impl TimingFigure {
    /// A figure without a range of its own, as a user gives it.
    pub fn given(value: f64) -> Self {
        Self { low: value, central: value, high: value, support: Support::Given, source: None, note: None }
    }

    /// The same figure with each of its three values put through a function; the order of low and high is kept right.
    #[must_use]
    pub fn map(&self, turn: impl Fn(f64) -> f64) -> Self {
        let (one, other) = (turn(self.low), turn(self.high));
        Self { low: one.min(other), central: turn(self.central), high: one.max(other), ..self.clone() }
    }
}
