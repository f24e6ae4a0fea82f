//! Baths one after another: what must not follow what without a wash, and what must not be poured away together.

use super::SafetyData;
use super::baths::BathSummary;
use super::combinations::{Caution, Severity};

/// A caution about two baths of a sequence.
#[derive(Debug, Clone, PartialEq)]
pub struct BetweenCaution {
    /// Place of the earlier bath in the sequence, from 0.
    pub earlier: usize,
    /// Place of the later one.
    pub later: usize,
    /// Whether one follows the other directly; else they only must not be poured together.
    pub is_next: bool,
    /// What to tell.
    pub caution: Caution,
}

/// Cautions between all baths: everything about neighbours, only dangers about baths further apart or with a wash between (those
/// still meet in the waste).
pub(super) fn between(data: &SafetyData, sequence: &[&BathSummary]) -> Vec<BetweenCaution> {
    let mut all = Vec::new();
    for (earlier, first) in sequence.iter().enumerate() {
        for (later, second) in sequence.iter().enumerate().skip(earlier + 1) {
            let is_next = later == earlier + 1;
            let cautions = data
                .combinations
                .between(&first.contents, &second.contents, |code| data.statements.with_code(code));
            let told = cautions.into_iter().filter(|caution| is_next || caution.severity == Severity::Danger);
            all.extend(told.map(|caution| BetweenCaution { earlier, later, is_next, caution }));
        }
    }
    all
}
