//! How sure a formula is, in words, and what of it is doubted: the one source of list, card and page.

use serde::Deserialize;
use serde::de::IgnoredAny;

use super::{DoubtAbout, EvidenceKind, Formula, is_unedited};

/// Figures beside the composition that nobody read in a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Doubted {
    recalled: [bool; 4],
    about: [bool; DoubtAbout::ALL.len()],
}

/// What can be doubted, in the order in which it is told.
const NAMES: [&str; 4] = ["pH", "times", "capacity", "keeping"];

/// Whether a source is somebody's memory.
fn is_memory(source: &str) -> bool {
    source.starts_with("memory")
}

impl Doubted {
    /// Of a formula that was read.
    pub fn of(formula: &Formula) -> Self {
        let is_recalled = |source: Option<&str>| source.is_none_or(is_memory);
        let capacity = &formula.capacity;
        let has_capacity = capacity.area_cm2_per_litre.is_some() || capacity.stock_ml_per_roll.is_some();
        let keeping = |own: &super::Part| own.keeping.source.as_deref().is_some_and(is_memory);
        let recalled = [
            formula.stated.ph.is_some() && is_recalled(formula.stated.source.as_deref()),
            formula.uses.iter().any(|listed_use| listed_use.source.as_deref().is_some_and(is_memory)),
            has_capacity && is_recalled(capacity.source.as_deref()),
            formula.parts.iter().any(keeping),
        ];
        Self { recalled, about: about(&formula.evidence.doubt_about) }
    }

    /// The same of a file of which only this much was read.
    pub(crate) fn of_head(head: &DoubtedHead<'_>) -> Self {
        let is_recalled = |source: Option<&str>| source.is_none_or(is_memory);
        let says_memory = |own: &SourceOnly<'_>| own.source.is_some_and(is_memory);
        let capacity = |capacity_head: &CapacityHead<'_>| {
            (capacity_head.area_cm2_per_litre.is_some() || capacity_head.stock_ml_per_roll.is_some())
                && is_recalled(capacity_head.source)
        };
        let keeping = head.keeping.iter().chain(head.parts.iter().filter_map(|part| part.keeping.as_ref()));
        let recalled = [
            head.stated.as_ref().is_some_and(|stated| stated.ph.is_some() && is_recalled(stated.source)),
            head.uses.iter().any(says_memory),
            head.capacity.as_ref().is_some_and(capacity),
            keeping.into_iter().any(says_memory),
        ];
        Self { recalled, about: about(&head.doubt_about) }
    }

    /// `pH, times`: what is from memory; empty where nothing is.
    fn words(self) -> String {
        let named = NAMES.iter().zip(self.recalled).filter(|(_, is_doubted)| *is_doubted);
        named.map(|(name, _)| *name).collect::<Vec<_>>().join(", ")
    }

    /// `amounts, units`: what the doubt is about; empty where the file does not say.
    fn about_words(self) -> String {
        let named = DoubtAbout::ALL.iter().zip(self.about).filter(|(_, is_doubted)| *is_doubted);
        named.map(|(about, _)| about.word()).collect::<Vec<_>>().join(", ")
    }
}

fn about(list: &[DoubtAbout]) -> [bool; DoubtAbout::ALL.len()] {
    DoubtAbout::ALL.map(|own| list.contains(&own))
}

/// The parts of a formula file that say where its further figures come from.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct DoubtedHead<'a> {
    #[serde(borrow)]
    stated: Option<StatedHead<'a>>,
    #[serde(borrow, rename = "use", default)]
    uses: Vec<SourceOnly<'a>>,
    #[serde(borrow)]
    capacity: Option<CapacityHead<'a>>,
    #[serde(borrow)]
    keeping: Option<SourceOnly<'a>>,
    #[serde(borrow, default)]
    parts: Vec<PartHead<'a>>,
    #[serde(default)]
    doubt_about: Vec<DoubtAbout>,
}

#[derive(Debug, Deserialize)]
struct StatedHead<'a> {
    ph: Option<IgnoredAny>,
    source: Option<&'a str>,
}

#[derive(Debug, Deserialize)]
struct CapacityHead<'a> {
    area_cm2_per_litre: Option<IgnoredAny>,
    stock_ml_per_roll: Option<IgnoredAny>,
    source: Option<&'a str>,
}

#[derive(Debug, Deserialize)]
struct PartHead<'a> {
    #[serde(borrow)]
    keeping: Option<SourceOnly<'a>>,
}

#[derive(Debug, Deserialize)]
struct SourceOnly<'a> {
    source: Option<&'a str>,
}

/// How sure a formula is, and what of it is doubted: `composition published; pH, times from memory`.
pub fn trust_words(kind: EvidenceKind, unedited: bool, in_doubt: bool, doubted: Doubted) -> String {
    let composition = match kind {
        EvidenceKind::Published if unedited => "composition from a forum or hobby page",
        EvidenceKind::Published => "composition published",
        EvidenceKind::CommonPractice => "common practice, no source",
        EvidenceKind::Memory => return "from memory: check against a book".to_owned(),
    };
    let (recalled, about) = (doubted.words(), doubted.about_words());
    match (recalled.is_empty(), about.is_empty(), in_doubt) {
        (false, ..) => format!("{composition}; {recalled} from memory"),
        (true, false, _) => format!("{composition}; doubted: {about}"),
        (true, true, true) => format!("{composition}; a doubt on its card"),
        (true, true, false) => composition.to_owned(),
    }
}

impl Formula {
    /// How sure it is, and what of it is doubted.
    pub fn trust_words(&self) -> String {
        let evidence = &self.evidence;
        let unedited = evidence.source.as_deref().is_some_and(is_unedited);
        trust_words(evidence.kind, unedited, evidence.doubt.is_some(), Doubted::of(self))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_doubted_is_named() {
        let text = "format = 1\nsource = \"memory\"\n[stated]\nph = 8\n[[use]]\nname = \"film\"\nsource = \"memory; a page\"\n\
                    [capacity]\nstock_ml_per_roll = 100\nsource = \"a book\"\n[keeping]\nnote = \"long\"\n";
        let doubted = Doubted::of_head(&toml::from_str(text).unwrap());
        assert_eq!(doubted.words(), "pH, times");
        let words = |kind, in_doubt, doubted| trust_words(kind, false, in_doubt, doubted);
        assert_eq!(
            words(EvidenceKind::Published, true, doubted),
            "composition published; pH, times from memory"
        );
        assert_eq!(
            words(EvidenceKind::Published, true, Doubted::default()),
            "composition published; a doubt on its card"
        );
        assert_eq!(words(EvidenceKind::Published, false, Doubted::default()), "composition published");
        let text = "doubt_about = [\"units\", \"amounts\"]";
        let doubted = Doubted::of_head(&toml::from_str(text).unwrap());
        assert_eq!(
            words(EvidenceKind::Published, true, doubted),
            "composition published; doubted: amounts, units"
        );
    }
}
