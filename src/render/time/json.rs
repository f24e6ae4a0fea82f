//! What `time --json` prints.

use crate::timing::{Estimate, Setup, TimingWarning};
use serde::Serialize;

/// `time --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct TimeBody {
    /// Conditions of the known time or of the record started from.
    pub from: Option<SetupBody>,
    pub to: SetupBody,
    pub known_seconds: f64,
    /// The time to start from, unrounded.
    pub seconds: f64,
    /// Low end of the range, unrounded.
    pub low_seconds: f64,
    /// High end of the range, unrounded.
    pub high_seconds: f64,
    /// The time as a timer is set.
    pub timer_seconds: f64,
    /// The step to which it is rounded.
    pub timer_step_seconds: f64,
    /// The record started from, in words.
    pub started_from: Option<String>,
    pub factors: Vec<FactorBody>,
    /// What each own record weighed.
    pub records: Vec<RecordBody>,
    /// What the figures of the books were worth beside them.
    pub books: Vec<BookBody>,
    /// Other ways between the developers.
    pub alternatives: Vec<AlternativeBody>,
    /// What to mind.
    pub warnings: Vec<String>,
    /// Stable short names of the warnings, in the same order.
    pub warning_codes: Vec<&'static str>,
    pub test_first: String,
}

/// Conditions of development.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SetupBody {
    /// Id of the formula.
    pub formula: String,
    pub dilution: String,
    pub temperature_c: f64,
    /// Way of agitation.
    pub agitation: String,
}

impl SetupBody {
    pub(in crate::render) fn new(setup: &Setup) -> Self {
        Self {
            formula: setup.developer.id.clone(),
            dilution: setup.working.to_string(),
            temperature_c: setup.temperature.as_c(),
            agitation: setup.agitation.clone(),
        }
    }
}

/// One line of the derivation.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct FactorBody {
    pub name: String,
    pub factor: f64,
    pub low: f64,
    pub high: f64,
    /// `published`, `common-practice`, `memory`, `estimate`, `guess`, `own-record` or `given`.
    pub evidence: &'static str,
    /// Citation.
    pub source: Option<String>,
    /// Which figure was used.
    pub basis: String,
}

/// An own record.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct RecordBody {
    /// The record in words.
    pub record: String,
    /// How it was taken, or why not.
    pub taken: String,
    /// Its share of what all records weigh, 0 to 1.
    pub weight: f64,
}

/// A figure of the books.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct BookBody {
    /// Which figure.
    pub name: String,
    /// How much of its spread is left, 0 to 1.
    pub share_left: f64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct AlternativeBody {
    /// The formulas it passes.
    pub by: String,
    /// Its whole factor.
    pub factor: f64,
    pub low: f64,
    pub high: f64,
}

impl TimeBody {
    /// The document of an answer.
    pub(crate) fn new(answer: &Estimate, to: &Setup) -> Self {
        Self {
            from: answer.from.as_ref().map(SetupBody::new),
            to: SetupBody::new(to),
            known_seconds: answer.known.as_s(),
            seconds: answer.time.as_s(),
            low_seconds: answer.low.as_s(),
            high_seconds: answer.high.as_s(),
            timer_seconds: answer.timer().as_s(),
            timer_step_seconds: answer.timer_step_s(),
            started_from: answer.start.clone(),
            factors: answer
                .factors
                .iter()
                .map(|factor| FactorBody {
                    name: factor.name.clone(),
                    factor: factor.factor,
                    low: factor.low,
                    high: factor.high,
                    evidence: factor.support.word(),
                    source: factor.source.clone(),
                    basis: factor.basis.clone(),
                })
                .collect(),
            records: answer
                .records
                .iter()
                .map(|record| RecordBody {
                    record: record.record.clone(),
                    taken: record.taken.clone(),
                    weight: record.weight,
                })
                .collect(),
            books: answer
                .books
                .iter()
                .map(|book| BookBody { name: book.name.clone(), share_left: book.share })
                .collect(),
            alternatives: answer
                .alternatives
                .iter()
                .map(|other| AlternativeBody {
                    by: other.by.clone(),
                    factor: other.factor,
                    low: other.low,
                    high: other.high,
                })
                .collect(),
            warnings: answer.warnings.iter().map(ToString::to_string).collect(),
            warning_codes: answer.warnings.iter().map(TimingWarning::code).collect(),
            test_first: answer.test_first(),
        }
    }
}
