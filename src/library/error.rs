//! Why the library cannot give what was asked.

use crate::diagnostic::Finding;
use crate::formula::FormError;
use std::path::Path;
use thiserror::Error;

/// Why the library cannot give what was asked.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum LibraryError {
    /// No formula of that name.
    #[error("no formula is called `{name}`")]
    UnknownFormula {
        /// What was asked.
        name: String,
        /// Near misses.
        near: Vec<String>,
    },
    /// An alias that several formulas have.
    #[error("`{name}` is an alias of several formulas: {}", ids.join(", "))]
    AmbiguousAlias {
        /// What was asked.
        name: String,
        /// The formulas.
        ids: Vec<String>,
    },
    /// Two files of one personal folder with the same id.
    #[error("`{id}` stands twice in one library: {first} and {second}")]
    Duplicate {
        /// The name of both files.
        id: String,
        /// One file.
        first: String,
        /// The other.
        second: String,
    },
    /// A file that is not valid.
    #[error("{}", findings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Invalid {
        /// Everything wrong in it.
        findings: Vec<Finding>,
    },
    /// A file or folder that cannot be read.
    #[error("{path} cannot be read: {reason}")]
    Unreadable {
        /// As the user named it.
        path: String,
        /// The system's reason.
        reason: String,
    },
    /// Something that lies where a file should, and is none that can be used.
    #[error("{path} cannot be used: {reason}")]
    Unusable {
        /// As the user named it.
        path: String,
        /// What is wrong with it.
        reason: String,
        /// What to do.
        fix: &'static str,
    },
    /// A substance that does not exist.
    #[error(transparent)]
    Substance(#[from] FormError),
}

impl LibraryError {
    /// A stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::UnknownFormula { .. } => "unknown-formula",
            Self::AmbiguousAlias { .. } => "ambiguous-alias",
            Self::Duplicate { .. } => "duplicate-id",
            Self::Invalid { findings } => findings.first().map_or("invalid", |finding| finding.code),
            Self::Unreadable { .. } => "unreadable",
            Self::Unusable { .. } => "unusable",
            Self::Substance(FormError::BareParent { .. }) => "bare-parent",
            Self::Substance(FormError::Broken { .. }) => "broken-substance",
            Self::Substance(FormError::Unknown { .. }) => "unknown-substance",
        }
    }

    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::UnknownFormula { near, .. } if near.is_empty() => {
                "`soupcon list` shows all formulas; a file is named by its path, such as ./my.toml".to_owned()
            }
            Self::UnknownFormula { near, .. } => format!("did you mean {}?", near.join(" or ")),
            Self::AmbiguousAlias { .. } => "use one of the ids".to_owned(),
            Self::Duplicate { .. } => "rename or remove one of the two files".to_owned(),
            Self::Invalid { findings } => {
                findings.iter().map(|finding| finding.fix.clone()).collect::<Vec<_>>().join("\n")
            }
            Self::Unreadable { .. } => "check that it exists and may be read".to_owned(),
            Self::Unusable { fix, .. } => (*fix).to_owned(),
            Self::Substance(error) => error.fix(),
        }
    }
}

/// Two files of one library with one id.
pub(super) fn twice(id: &str, first: &Path, second: &Path) -> LibraryError {
    LibraryError::Duplicate {
        id: id.to_owned(),
        first: first.display().to_string(),
        second: second.display().to_string(),
    }
}
