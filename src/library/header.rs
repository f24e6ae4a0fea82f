//! What a formula is chosen by: its lines before the first table, readable without its ingredients.

use super::{Found, Origin};
use crate::formula::trust::{Doubted, trust_words};
use crate::formula::{EvidenceKind, Formula, Kind, is_unedited};

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
    pub fn of(found: &Found) -> Self {
        let Formula { id, title, kind, summary, evidence, aliases, .. } = &found.formula;
        Self {
            id: id.clone(),
            title: title.clone(),
            kind: *kind,
            summary: summary.clone(),
            evidence: evidence.kind,
            in_doubt: evidence.doubt.is_some(),
            unedited: evidence.source.as_deref().is_some_and(is_unedited),
            doubted: Doubted::of(&found.formula),
            aliases: aliases.clone(),
            origin: found.origin.clone(),
        }
    }

    /// The header of a shipped file, from its lines before the first table; none if they do not read alone.
    ///
    /// Plain lines `key = "text"` are read without the general reader, which would take most of the time of a list; a test proves
    /// that both agree. Any other line that matters here means that the whole file must be read.
    pub(super) fn of_shipped(id: &str, text: &str) -> Option<Self> {
        let head = text.find("\n[").and_then(|end| text.get(..end)).unwrap_or(text);
        let mut header = Self {
            id: id.to_owned(),
            title: String::new(),
            kind: Kind::TestSolution,
            summary: String::new(),
            evidence: EvidenceKind::Memory,
            in_doubt: false,
            unedited: false,
            doubted: Doubted::of_text(text),
            aliases: Vec::new(),
            origin: Origin::Shipped,
        };
        let mut read = 0;
        for (key, value) in head.lines().filter_map(|line| line.split_once(" = ")) {
            match key {
                "title" => plain_text(value)?.clone_into(&mut header.title),
                "kind" => header.kind = Kind::from_folder(plain_text(value)?)?,
                "summary" => plain_text(value)?.clone_into(&mut header.summary),
                "evidence" => header.evidence = EvidenceKind::from_word(plain_text(value)?)?,
                "doubt" => header.in_doubt = true,
                "source" => header.unedited = is_unedited(value),
                "aliases" => return None,
                _ => continue,
            }
            read += 1;
        }
        (read >= 4).then_some(header)
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

/// What stands between the quotes of a TOML text without escapes.
fn plain_text(value: &str) -> Option<&str> {
    let inner = value.trim_end().strip_prefix('"')?.strip_suffix('"')?;
    (!inner.contains(['"', '\\'])).then_some(inner)
}

#[cfg(test)]
mod tests {
    use super::super::Library;
    use super::*;

    #[test]
    fn the_header_of_every_shipped_file_is_that_of_the_whole_file() {
        let library = Library::shipped();
        let (found, _) = library.formulas().unwrap();
        let mut skipped = 0;
        for found in &found {
            let formula = &found.formula;
            let (_, text) = super::super::shipped_formula(&formula.id).unwrap();
            let Some(header) = Header::of_shipped(&formula.id, text) else {
                skipped += 1;
                continue;
            };
            assert_eq!(header, Header::of(found));
        }
        assert!(skipped <= found.len() / 10, "{skipped} headers need the general reader");
        let (headers, findings) = library.headers().unwrap();
        assert!(findings.is_empty());
        assert_eq!(headers.len(), found.len());
    }
}
