//! What a formula is chosen by, readable without its ingredients.

use serde::Deserialize;
use serde::de::IgnoredAny;

use super::{FoundFormula, Origin};
use crate::formula::trust::{Doubted, trust_words};
use crate::formula::{EvidenceKind, Formula, Kind, is_unedited};
use crate::packed::Packed;

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
    /// Whether its source is a page that nobody has edited.
    pub unedited: bool,
    /// Which figures beside the composition are from memory.
    pub doubted: Doubted,
    /// Further names.
    pub aliases: Vec<String>,
    /// Where it came from.
    pub origin: Origin,
}

impl Header {
    /// The header of a formula that was read.
    pub fn of(in_library: &FoundFormula) -> Self {
        let Formula { id, title, kind, summary, evidence, aliases, .. } = &in_library.formula;
        Self {
            id: id.clone(),
            title: title.clone(),
            kind: *kind,
            summary: summary.clone(),
            evidence: evidence.kind,
            in_doubt: evidence.doubt.is_some(),
            unedited: evidence.source.as_deref().is_some_and(is_unedited),
            doubted: Doubted::of(&in_library.formula),
            aliases: aliases.clone(),
            origin: in_library.origin.clone(),
        }
    }

    /// The header of a shipped file, of which nothing else is read; none if it has none.
    pub(super) fn of_shipped(id: &str, packed: Packed<'static>) -> Option<Self> {
        let head: HeadFile<'_> = packed.read().ok()?;
        Some(Self {
            id: id.to_owned(),
            title: head.title,
            kind: head.kind,
            summary: head.summary,
            evidence: head.evidence,
            in_doubt: head.doubt.is_some(),
            unedited: head.source.is_some_and(is_unedited),
            doubted: Doubted::of_head(&packed.read().ok()?),
            aliases: head.aliases,
            origin: Origin::Shipped,
        })
    }

    /// How sure the composition is, as told in a list.
    pub fn trust(&self) -> String {
        trust_words(self.evidence, self.unedited, self.in_doubt, self.doubted)
    }

    /// Whether a word, in lower case, occurs in the id, title, summary or an alias.
    pub fn mentions(&self, word: &str) -> bool {
        let texts = [&self.id, &self.title, &self.summary];
        texts.into_iter().chain(&self.aliases).any(|text| text.to_lowercase().contains(word))
    }
}

/// The keys of a formula file that make its header.
#[derive(Deserialize)]
struct HeadFile<'a> {
    title: String,
    kind: Kind,
    summary: String,
    evidence: EvidenceKind,
    source: Option<&'a str>,
    doubt: Option<IgnoredAny>,
    #[serde(default)]
    aliases: Vec<String>,
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
            let shipped = super::super::shipped_formula(&formula.id).unwrap();
            assert_eq!(Header::of_shipped(&formula.id, shipped.packed), Some(Header::of(found)));
        }
        let (headers, findings) = library.headers().unwrap();
        assert!(findings.is_empty());
        assert_eq!(headers.len(), found.len());
    }

    #[test]
    fn many_formulas_of_ones_own_are_listed_as_each_is_read() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("film-developer");
        std::fs::create_dir(&folder).unwrap();
        let text = super::super::shipped_formula("mq-borax-classic").unwrap().text;
        for index in 0..super::super::formulas::MANY + 20 {
            let own = text.replace("metol", if index % 100 == 7 { "metoll" } else { "metol" });
            std::fs::write(folder.join(format!("own-{index:04}.toml")), own).unwrap();
        }
        let library = Library::with_folders(vec![root.path().to_owned()]);
        let (headers, findings) = library.headers().unwrap();
        let (found, wrong) = library.formulas().unwrap();
        assert_eq!(headers, found.iter().map(Header::of).collect::<Vec<_>>());
        assert_eq!(findings, wrong);
        assert!(findings.len() >= 5, "{findings:?}");
    }
}
