//! A bath as it is used, one of a sequence.

use crate::vessel::{Content, Vessel};

/// A bath as it is used, one of a sequence.
#[derive(Debug, Clone, PartialEq)]
pub struct BathSummary {
    /// Its name in the sequence.
    pub name: String,
    /// What it holds at working strength; nothing at all for plain water, which counts as a wash.
    pub contents: Vessel,
}

impl BathSummary {
    /// A wash in plain water.
    pub fn wash() -> Self {
        Self { name: "wash".to_owned(), contents: Vessel::default() }
    }

    /// Whether it is plain water.
    pub fn is_wash(&self) -> bool {
        self.contents.iter().all(Content::is_water)
    }
}
