//! Hazards of a chemical as it is weighed.

use super::file;
use serde::Deserialize;

/// How sure the hazard statements are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum HazardStatus {
    /// A harmonised classification (EU CLP, Annex VI).
    Harmonised,
    /// What suppliers typically state; they differ.
    Typical,
    /// A source says that it is not classified as hazardous.
    NotClassified,
    /// No hazard is known of it, as common experience and memory have it; no document was read.
    NoneKnown,
    /// Nothing reliable is known.
    Unknown,
}

impl HazardStatus {
    /// The word printed and used in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Harmonised => "harmonised",
            Self::Typical => "typical",
            Self::NotClassified => "not classified",
            Self::NoneKnown => "none known",
            Self::Unknown => "unknown",
        }
    }
}

/// GHS signal word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub enum Signal {
    /// The lesser.
    Warning,
    /// The greater; displaces the other.
    Danger,
}

impl Signal {
    /// As printed on a label.
    pub fn word(self) -> &'static str {
        match self {
            Self::Warning => "Warning",
            Self::Danger => "Danger",
        }
    }
}

/// Hazards of a form as weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Hazards {
    /// How sure the statements are.
    pub status: HazardStatus,
    /// The signal word.
    pub signal: Option<Signal>,
    /// Codes of the standard hazard statements (H302 …).
    pub statements: Vec<String>,
    /// Codes of supplementary statements (EUH031 …).
    pub supplementary: Vec<String>,
    /// Index number of the harmonised entry, where it was read.
    pub annex_vi_index: Option<String>,
    /// Whether the codes were read in the source named.
    pub read_in_source: bool,
    /// Key of the source.
    pub source: String,
    /// What to know of them.
    pub remark: Option<String>,
    /// Whether the file says that there are none, but no document does; it is read as not known.
    pub unfounded: bool,
}

impl Hazards {
    /// Codes of all its statements, supplementary ones too.
    pub fn codes(&self) -> impl Iterator<Item = &str> {
        self.statements.iter().chain(&self.supplementary).map(String::as_str)
    }

    /// Hazards of something of which nothing is known.
    pub(super) fn not_known() -> Self {
        Self {
            status: HazardStatus::Unknown,
            signal: None,
            statements: Vec::new(),
            supplementary: Vec::new(),
            annex_vi_index: None,
            read_in_source: false,
            source: "memory".to_owned(),
            remark: None,
            unfounded: false,
        }
    }

    /// Whether hazards are unknown: no statement, and nothing that says there are none.
    pub fn is_unknown(&self) -> bool {
        match self.status {
            HazardStatus::Unknown => true,
            HazardStatus::NotClassified | HazardStatus::NoneKnown => false,
            HazardStatus::Harmonised | HazardStatus::Typical => {
                self.statements.is_empty() && self.supplementary.is_empty()
            }
        }
    }
}

impl From<file::HazardsFile> for Hazards {
    fn from(shape: file::HazardsFile) -> Self {
        // That there are no hazards only a document can say.
        let is_hearsay = matches!(shape.source.as_str(), "memory" | "common-practice");
        let unfounded = shape.status == HazardStatus::NotClassified && is_hearsay;
        Self {
            status: if unfounded { HazardStatus::Unknown } else { shape.status },
            unfounded,
            signal: shape.signal,
            statements: shape.statements,
            supplementary: shape.supplementary,
            annex_vi_index: shape.annex_vi_index,
            read_in_source: shape.read_in_source,
            source: shape.source,
            remark: shape.remark,
        }
    }
}
