//! What the trade knows of the differences between baths, each sentence with where it comes from: `tables/differences.toml`.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::composition::Composer;
use crate::diagnostic::{Finding, read_toml};

const FILE: &str = "differences.toml";
const FORMAT: u32 = 1;

/// Why a sentence is so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum DifferenceReason {
    /// A document that was read.
    Source(String),
    /// Known in the trade; no document.
    CommonPractice,
    /// It follows from the figures.
    Arithmetic,
    /// What the formulas' own files state.
    Stated,
    /// What the program predicts.
    Predicted,
}

impl DifferenceReason {
    /// As printed behind the sentence.
    pub(crate) fn words(&self) -> &str {
        match self {
            Self::Source(source) => source,
            Self::CommonPractice => "common practice",
            Self::Arithmetic => "arithmetic",
            Self::Stated => "stated in the formulas",
            Self::Predicted => "predicted",
        }
    }
}

/// Sulfite from which its solvent action shows in the grain, g/L counted anhydrous: the table's sentences name it with its source.
pub(super) const SOLVENT_SULFITE_G: f64 = 50.0;

/// A sentence; without a source it is common practice.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Fact {
    pub(super) text: String,
    source: Option<String>,
}

impl Fact {
    pub(super) fn reason(&self) -> DifferenceReason {
        self.source.clone().map_or(DifferenceReason::CommonPractice, DifferenceReason::Source)
    }
}

/// All sentences: one that the table lacks, or has beside these, is a mistake in the table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct Told {
    pub(super) sulfite_both_solvent: Fact,
    pub(super) sulfite_more_solvent: Fact,
    pub(super) sulfite_less_solvent: Fact,
    pub(super) sulfite_both_little: Fact,
    pub(super) sharper: Fact,
    pub(super) less_sharp: Fact,
    pub(super) more_hydroquinone: Fact,
    pub(super) less_hydroquinone: Fact,
    pub(super) stronger_alkali: Fact,
    pub(super) weaker_alkali: Fact,
    pub(super) more_alkali: Fact,
    pub(super) less_alkali: Fact,
    pub(super) caustic: Fact,
    pub(super) sulfite_alone: Fact,
    pub(super) buffered: Fact,
    pub(super) more_bromide: Fact,
    pub(super) less_bromide: Fact,
    pub(super) no_bromide: Fact,
    pub(super) antifoggant: Fact,
    pub(super) iodide: Fact,
    pub(super) thiocyanate: Fact,
    pub(super) chloride: Fact,
    pub(super) monobath: Fact,
    pub(super) two_baths: Fact,
    pub(super) acid_in_developer: Fact,
    pub(super) falls_below_solvent: Fact,
    pub(super) ammonium: Fact,
    pub(super) acid_fixer: Fact,
    pub(super) no_acid_fixer: Fact,
    pub(super) hardener: Fact,
    pub(super) diluted: Fact,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FactsFile {
    format: u32,
    facts: Told,
    agents: BTreeMap<String, Fact>,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Facts {
    pub(super) told: Told,
    agents: BTreeMap<String, Fact>,
    any: Fact,
}

impl Facts {
    /// Those of the library; none where its table cannot be read, which a test excludes.
    pub(super) fn shipped(composer: &Composer<'_>) -> Option<Self> {
        Self::parse(composer.library().table(FILE)?).ok()
    }

    /// Reads the table.
    ///
    /// # Errors
    /// What is wrong with it.
    pub(super) fn parse(text: &str) -> Result<Self, Finding> {
        let mut file: FactsFile = read_toml(text, FILE)?;
        let wrong = |code, message: String, fix: &str| Finding::error(code, FILE, None, message, fix);
        if file.format != FORMAT {
            let message = format!("format {} is not known", file.format);
            return Err(wrong("format", message, "write format = 1"));
        }
        let Some(any) = file.agents.remove("any") else {
            let message = "[agents] says nothing of `any`".to_owned();
            return Err(wrong("no-any", message, "add the sentence of every other agent"));
        };
        Ok(Self { told: file.facts, agents: file.agents, any })
    }

    /// What an agent (species or chemical) is known for.
    pub(super) fn of_agent(&self, name: &str) -> &Fact {
        self.agents.get(name).unwrap_or(&self.any)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHIPPED: &str = include_str!("../../formulas/tables/differences.toml");

    #[test]
    fn the_shipped_table_is_whole_and_a_sentence_has_its_citation() {
        let facts = Facts::parse(SHIPPED).unwrap();
        assert_eq!(facts.told.sharper.reason(), DifferenceReason::CommonPractice);
        assert!(
            matches!(facts.told.diluted.reason(), DifferenceReason::Source(cited) if cited.contains("section 341"))
        );
        assert_eq!(facts.of_agent("nothing known").text, "develops");
    }

    #[test]
    fn a_sentence_missing_or_unknown_is_told() {
        for (old, new) in [
            ("sharper = ", "sharpest = "),
            ("source = ", "sauce = "),
            ("any = ", "else = "),
            ("format = 1", "format = 2"),
        ] {
            let broken = SHIPPED.replacen(old, new, 1);
            assert_ne!(broken, SHIPPED, "{old}");
            assert!(Facts::parse(&broken).is_err(), "{old}");
        }
    }
}
