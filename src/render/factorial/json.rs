//! What `factorial --json` prints.

use crate::quantity::Duration;
use crate::timing::{Factorial, FactorialRow};
use serde::Serialize;

/// `factorial --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct FactorialBody {
    pub agents: Vec<String>,
    /// Time of appearance.
    pub appeared_seconds: f64,
    /// Shortest total time of any source.
    pub low_seconds: f64,
    /// Longest total time of any source.
    pub high_seconds: f64,
    /// Factor of a mixture by parts, where one was asked.
    pub mixture: Option<MixtureBody>,
    /// The published factors.
    pub factors: Vec<FactorialRowBody>,
}

/// A mixture of agents.
#[derive(Debug, Clone, Copy, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct MixtureBody {
    /// Mean factor weighted by parts.
    pub factor: f64,
    pub seconds: f64,
}

/// One published factor.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct FactorialRowBody {
    pub agents: Vec<String>,
    /// Strength of the bath.
    pub strength: Option<String>,
    /// For a soft negative.
    pub soft: Option<f64>,
    pub normal: f64,
    /// For a strong negative.
    pub strong: Option<f64>,
    /// Total time with the normal factor.
    pub seconds: f64,
    pub evidence: &'static str,
    /// Citation.
    pub source: Option<String>,
    /// What to know of it.
    pub note: Option<String>,
}

impl FactorialBody {
    /// The document of the factors of one or more agents.
    pub(crate) fn new(appeared: Duration, factors: &[Factorial<'_>], mixture: Option<f64>) -> Self {
        let seconds = |factor: f64| appeared.as_s() * factor;
        let lowest = factors.iter().map(|one| one.lowest).fold(f64::INFINITY, f64::min);
        let highest = factors.iter().map(|one| one.highest).fold(0.0, f64::max);
        let row = |row: &&FactorialRow| FactorialRowBody {
            agents: row.agents.iter().cloned().collect(),
            strength: row.strength.clone(),
            soft: row.soft,
            normal: row.figure.central,
            strong: row.strong,
            seconds: seconds(row.figure.central),
            evidence: row.figure.support.word(),
            source: row.figure.source.clone(),
            note: row.figure.note.clone(),
        };
        Self {
            agents: factors.iter().flat_map(|one| one.agents.iter().cloned()).collect(),
            appeared_seconds: appeared.as_s(),
            low_seconds: seconds(mixture.unwrap_or(lowest)),
            high_seconds: seconds(mixture.unwrap_or(highest)),
            mixture: mixture.map(|factor| MixtureBody { factor, seconds: seconds(factor) }),
            factors: factors.iter().flat_map(|one| one.rows.iter().map(row)).collect(),
        }
    }
}
