//! What one sees of a bath (grain, edges, highlights, speed …), judged from its composition by the rules of `tables/qualities.toml`.
//!
//! A quality is told only between formulas ("finer", "about equal"), or as the reasons that speak for and against it: no figure is meant.

pub(crate) mod measure;

use serde::Deserialize;

use crate::composition::Composer;
use crate::diagnostic::{Finding, TableSource, read_table};
use crate::formula::{Formula, Kind};
use crate::library::Library;
use measure::{Measures, Test};

const FILE: &str = "qualities.toml";

/// A reason for or against a quality.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct QualityRule {
    /// How much it speaks for the quality; against it where below zero.
    pub score: f64,
    /// What must hold, all of it.
    pub tests: Vec<Test>,
    /// The reason in words.
    pub why: String,
    /// Where it comes from, or `common practice`.
    pub source: String,
}

/// Something one sees.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Quality {
    /// Stable key for programs.
    pub key: String,
    /// As printed.
    pub name: String,
    /// What a higher score is called.
    pub more: String,
    /// What a lower score is called.
    pub less: String,
    /// Kinds of solution that have it; all where empty.
    #[serde(default)]
    pub kinds: Vec<Kind>,
    /// Least difference of two scores that is worth a word.
    pub step: f64,
    /// What the scores are, where that needs saying.
    pub note: Option<String>,
    pub rules: Vec<QualityRule>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct QualitiesFile {
    #[serde(rename = "format")]
    _format: u32,
    qualities: Vec<Quality>,
}

#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Qualities(Vec<Quality>);

/// One quality of one formula.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct JudgedQuality<'a> {
    pub quality: &'a Quality,
    /// Sum of the rules that hold.
    pub score: f64,
    /// The rules that hold, the weightiest first; never empty.
    pub reasons: Vec<&'a QualityRule>,
}

/// How one formula stands to another in a quality.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is the word itself")]
pub(crate) enum Comparative {
    More,
    Less,
    AboutEqual,
    NotKnown,
}

impl Comparative {
    /// Of two judgements of the same quality, the first against the second.
    pub(crate) fn of(quality: Option<&JudgedQuality<'_>>, other: Option<&JudgedQuality<'_>>) -> Self {
        let (Some(own), Some(other)) = (quality, other) else { return Self::NotKnown };
        let difference = own.score - other.score;
        if difference >= own.quality.step {
            Self::More
        } else if difference <= -own.quality.step {
            Self::Less
        } else {
            Self::AboutEqual
        }
    }

    pub(crate) fn words(self, quality: &Quality) -> &str {
        match self {
            Self::More => &quality.more,
            Self::Less => &quality.less,
            Self::AboutEqual => "about equal",
            Self::NotKnown => crate::doubt::NOT_KNOWN,
        }
    }

    /// Stable word for programs.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::More => "more",
            Self::Less => "less",
            Self::AboutEqual => "about_equal",
            Self::NotKnown => "not_known",
        }
    }
}

impl Qualities {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape.
    pub(crate) fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        Ok(Self(read_table::<QualitiesFile>(source, file)?.qualities))
    }

    /// The shipped table; a test proves it readable.
    pub(crate) fn shipped(library: &Library) -> Self {
        Self::parse(library.packed(FILE), FILE).unwrap_or_default()
    }

    /// Those that a kind of solution has.
    pub(crate) fn of_kind(&self, kind: Kind) -> impl Iterator<Item = &Quality> {
        self.0.iter().filter(move |own| own.kinds.is_empty() || own.kinds.contains(&kind))
    }

    pub(crate) fn by_key(&self, key: &str) -> Option<&Quality> {
        self.0.iter().find(|own| own.key == key)
    }

    /// Everything that can be said of a formula, in the order of the table.
    pub(crate) fn judge(&self, formula: &Formula, composer: &Composer<'_>) -> Vec<JudgedQuality<'_>> {
        let measures = Measures::of(formula, composer);
        self.of_kind(formula.kind).filter_map(|quality| quality.judge(&measures)).collect()
    }
}

impl Quality {
    /// The rules that hold; none where nothing is known.
    pub(crate) fn judge(&self, measures: &Measures<'_>) -> Option<JudgedQuality<'_>> {
        let mut reasons: Vec<&QualityRule> =
            self.rules.iter().filter(|rule| rule.tests.iter().all(|test| test.holds(measures))).collect();
        if reasons.is_empty() {
            return None;
        }
        reasons.sort_by(|left, right| right.score.abs().total_cmp(&left.score.abs()));
        Some(JudgedQuality { quality: self, score: reasons.iter().map(|rule| rule.score).sum(), reasons })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_and_kind_the_table_names_exists() {
        let library = Library::shipped();
        let table = Qualities::parse(library.table(FILE).unwrap(), FILE).unwrap();
        let composer = Composer::new(&library);
        // One states how long it keeps, the other at what temperature it is used.
        let known = ["mq-borax-classic", "polysulfide-direct-brown-toner"]
            .map(|id| library.formula(id).unwrap().formula);
        let measures: Vec<Measures<'_>> = known.iter().map(|own| Measures::of(own, &composer)).collect();
        for quality in &table.0 {
            for rule in &quality.rules {
                assert!(!rule.why.is_empty() && !rule.source.is_empty() && !rule.tests.is_empty());
                for test in &rule.tests {
                    assert!(test.from.is_some() || test.below.is_some(), "{test:?}");
                    assert!(
                        measures.iter().any(|measure| measure.value(&test.of).is_some()),
                        "{} has no figure",
                        test.of
                    );
                    if let Some(parent) = test.of.strip_prefix("g:") {
                        assert!(library.substance(parent).unwrap().is_some(), "{parent}");
                    }
                }
            }
        }
    }

    #[test]
    fn more_needs_a_whole_step_and_nothing_known_stays_unknown() {
        let quality = Quality {
            key: "grain".to_owned(),
            name: "grain".to_owned(),
            more: "finer".to_owned(),
            less: "coarser".to_owned(),
            kinds: Vec::new(),
            step: 1.0,
            note: None,
            rules: Vec::new(),
        };
        let judged = |score| JudgedQuality { quality: &quality, score, reasons: Vec::new() };
        assert_eq!(Comparative::of(Some(&judged(2.0)), Some(&judged(1.0))), Comparative::More);
        assert_eq!(Comparative::of(Some(&judged(1.5)), Some(&judged(1.0))), Comparative::AboutEqual);
        assert_eq!(Comparative::of(Some(&judged(0.0)), Some(&judged(1.0))), Comparative::Less);
        assert_eq!(Comparative::of(None, Some(&judged(1.0))), Comparative::NotKnown);
        assert_eq!(Comparative::Less.words(&quality), "coarser");
    }
}
