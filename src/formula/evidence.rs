//! How well a formula is attested.

use serde::Deserialize;
use std::fmt;

/// How sure a composition is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum EvidenceKind {
    /// A document was read.
    Published,
    /// Common in the trade; no document.
    CommonPractice,
    /// Recalled; no document was opened.
    Memory,
}

impl EvidenceKind {
    /// The kind that a word in a file names.
    pub fn from_word(word: &str) -> Option<Self> {
        [Self::Published, Self::CommonPractice, Self::Memory].into_iter().find(|kind| kind.word() == word)
    }

    /// The word in files and JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::CommonPractice => "common-practice",
            Self::Memory => "memory",
        }
    }
}

/// How sure a composition is, with what stands behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// How sure.
    pub kind: EvidenceKind,
    /// The document read.
    pub source: Option<String>,
    /// A work that was named but not opened.
    pub lead: Option<String>,
    /// What is unsure, in plain words.
    pub doubt: Option<String>,
    /// What that is about.
    pub doubt_about: Vec<DoubtAbout>,
}

/// What a doubt is about, in the words that a list prints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum DoubtAbout {
    /// How much of something.
    Amounts,
    /// Which units, or how they are converted.
    Units,
    /// Which hydrate, strength or salt is meant.
    Form,
    /// Which chemicals.
    Composition,
    /// In which order, how warm.
    Mixing,
    /// How long it is used.
    Times,
    /// What it is used for, at which dilution.
    Use,
    /// How long it keeps, how much it does.
    Keeping,
    /// That nobody else confirms the source.
    Source,
}

impl DoubtAbout {
    /// All, in the order in which they are told.
    pub const ALL: [Self; 9] = [
        Self::Composition,
        Self::Amounts,
        Self::Units,
        Self::Form,
        Self::Mixing,
        Self::Times,
        Self::Use,
        Self::Keeping,
        Self::Source,
    ];

    /// The word of a list.
    pub fn word(self) -> &'static str {
        match self {
            Self::Amounts => "amounts",
            Self::Units => "units",
            Self::Form => "hydrate or strength",
            Self::Composition => "chemicals",
            Self::Mixing => "mixing",
            Self::Times => "times",
            Self::Use => "use",
            Self::Keeping => "keeping",
            Self::Source => "a single source",
        }
    }
}

/// Words in a citation that tell a page nobody has edited.
const UNEDITED: &[&str] =
    &["forum", "hobby", "wiki", "board", "mailing", "list post", "newsgroup", "anonymous", "thread"];

/// Whether a citation leans on a page that nobody has edited: a forum post, a hobby page.
pub fn is_unedited(source: &str) -> bool {
    let source = source.to_lowercase();
    UNEDITED.iter().any(|word| source.contains(word))
}

impl fmt::Display for Evidence {
    /// In words, for the card and the sheet.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.kind, &self.source) {
            (EvidenceKind::Published, Some(source)) => write!(formatter, "published: {source}"),
            (EvidenceKind::Published, None) => formatter.write_str("published"),
            (EvidenceKind::CommonPractice, _) => formatter.write_str("common practice, no source"),
            (EvidenceKind::Memory, _) => {
                formatter.write_str("from memory: check against a book before a large batch")
            }
        }
    }
}
