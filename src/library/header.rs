//! What a formula is chosen by: its lines before the first table, readable without its ingredients.

use serde::Deserialize;

use super::{Found, Origin};
use crate::diagnostic::read_toml;
use crate::formula::{EvidenceKind, Formula, Kind};

/// What stands at the head of a formula, with where it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// Id, the name of its file.
    pub id: String,
    /// Name by composition.
    pub title: String,
    /// What it makes.
    pub kind: Kind,
    /// What a user chooses by.
    pub summary: String,
    /// How sure the composition is.
    pub evidence: EvidenceKind,
    /// Whether the file says what is unsure.
    pub in_doubt: bool,
    /// Further names.
    pub aliases: Vec<String>,
    /// Where it came from.
    pub origin: Origin,
}

impl Header {
    /// The header of a formula that was read.
    pub fn of(found: &Found) -> Self {
        let Formula { id, title, kind, summary, evidence, aliases, .. } = &found.formula;
        Self {
            id: id.clone(),
            title: title.clone(),
            kind: *kind,
            summary: summary.clone(),
            evidence: evidence.kind,
            in_doubt: evidence.doubt.is_some(),
            aliases: aliases.clone(),
            origin: found.origin.clone(),
        }
    }

    /// The header of a shipped file, from its lines before the first table; none if they do not read alone.
    pub(super) fn of_shipped(id: &str, path: &str, text: &str) -> Option<Self> {
        #[derive(Deserialize)]
        struct Lines {
            title: String,
            kind: Kind,
            summary: String,
            evidence: EvidenceKind,
            doubt: Option<String>,
            #[serde(default)]
            aliases: Vec<String>,
        }
        let head = text.find("\n[").and_then(|end| text.get(..end)).unwrap_or(text);
        let lines: Lines = read_toml(head, path).ok()?;
        Some(Self {
            id: id.to_owned(),
            title: lines.title,
            kind: lines.kind,
            summary: lines.summary,
            evidence: lines.evidence,
            in_doubt: lines.doubt.is_some(),
            aliases: lines.aliases,
            origin: Origin::Shipped,
        })
    }

    /// Whether a word, in lower case, occurs in the id, title, summary or an alias.
    pub fn mentions(&self, word: &str) -> bool {
        let texts = [&self.id, &self.title, &self.summary];
        texts.into_iter().chain(&self.aliases).any(|text| text.to_lowercase().contains(word))
    }
}

#[cfg(test)]
mod tests {
    use super::super::Library;
    use super::*;

    #[test]
    fn the_header_of_every_shipped_file_is_that_of_the_whole_file() {
        let library = Library::shipped();
        let (found, _) = library.formulas().unwrap();
        for found in &found {
            let formula = &found.formula;
            let (path, text) = super::super::shipped_formula(&formula.id).unwrap();
            let header = Header::of_shipped(&formula.id, path, text).unwrap();
            assert_eq!(header, Header::of(found));
        }
        let (headers, findings) = library.headers().unwrap();
        assert!(findings.is_empty());
        assert_eq!(headers.len(), found.len());
    }
}
