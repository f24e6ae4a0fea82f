//! What one would see, in JSON.

use crate::compare::Comparison;
use crate::qualities::{JudgedQuality, QualityRule};
use serde::Serialize;

/// One quality side by side.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SeenBody {
    /// `grain`, `edges`, `highlights`, `speed`, `contrast_rise`, `keeping`, `agitation` …
    quality: String,
    /// One a formula after the first: `more`, `less`, `about_equal` or `not_known`, against the first.
    standings: Vec<&'static str>,
    /// The same in the words of the trade.
    words: Vec<String>,
    /// One list a formula, the first included: what speaks for and against it.
    reasons: Vec<Vec<SeenReason>>,
}

/// A reason for or against a quality.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SeenReason {
    /// Above zero where it speaks for more of it.
    score: f64,
    why: String,
    source: String,
}

impl SeenReason {
    fn new(rule: &QualityRule) -> Self {
        Self { score: rule.score, why: rule.why.clone(), source: rule.source.clone() }
    }
}

impl SeenBody {
    pub(crate) fn all(comparison: &Comparison<'_>) -> Vec<Self> {
        comparison
            .seen
            .iter()
            .map(|seen| Self {
                quality: seen.quality.key.clone(),
                standings: seen.standings.iter().map(|standing| standing.key()).collect(),
                words: seen
                    .standings
                    .iter()
                    .map(|standing| standing.words(&seen.quality).to_owned())
                    .collect(),
                reasons: seen
                    .reasons
                    .iter()
                    .map(|rules| rules.iter().map(SeenReason::new).collect())
                    .collect(),
            })
            .collect()
    }
}

/// One quality of one formula.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SeenOne {
    quality: String,
    reasons: Vec<SeenReason>,
}

impl SeenOne {
    /// Of everything that can be said.
    pub(crate) fn all(judged: &[JudgedQuality<'_>]) -> Vec<Self> {
        judged
            .iter()
            .map(|own| Self {
                quality: own.quality.key.clone(),
                reasons: own.reasons.iter().map(|rule| SeenReason::new(rule)).collect(),
            })
            .collect()
    }
}
