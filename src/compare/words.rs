//! Differences in words: each formula against the first, from the figures of its baths as first used.

mod chemicals;
mod developing;
mod figures;
mod fixing;
mod use_and_keeping;

use super::Baths;
use super::facts::{DifferenceReason, Fact, Facts};
use crate::composition::Composer;
use crate::formula::{Formula, Kind};
use chemicals::{forms, other_chemicals};
use developing::{agents, alkali, restrainer, silver_solvent, sulfite};
use figures::{differs, times_against};
use fixing::{acid, fixing};
use use_and_keeping::{bath_count, dilution, keeping, ph, weaker_use};

// What is worth telling is judgement, no source.

/// Least factor between two amounts that is worth a word.
const WORTH_A_WORD: f64 = 1.05;

/// Slack for molar masses of five figures.
const ROUNDING: f64 = 0.002;

/// What a difference is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is the word itself")]
pub(crate) enum Topic {
    Agents,
    Sulfite,
    Alkali,
    Restrainer,
    SilverSolvent,
    Fixing,
    OtherChemicals,
    Baths,
    Dilution,
    Ph,
    Keeping,
    Forms,
    Same,
}

impl Topic {
    /// As printed.
    pub(crate) fn words(self) -> &'static str {
        if self == Self::Agents { "developing agents" } else { self.word() }
    }

    /// Stable word for programs.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Agents => "agents",
            Self::Sulfite => "sulfite",
            Self::Alkali => "alkali",
            Self::Restrainer => "restrainer",
            Self::SilverSolvent => "silver solvent",
            Self::Fixing => "fixing",
            Self::OtherChemicals => "other chemicals",
            Self::Baths => "baths",
            Self::Dilution => "dilution",
            Self::Ph => "pH",
            Self::Keeping => "keeping",
            Self::Forms => "forms",
            Self::Same => "same",
        }
    }
}

/// One difference of a formula against the first (or, for a dilution of its own, against itself).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Difference {
    /// Place of the formula that differs.
    pub formula: usize,
    /// Place of the formula that it is told against.
    pub against: usize,
    /// What it is about.
    pub topic: Topic,
    /// The difference, without its subject.
    pub text: String,
    /// Why it matters as told.
    pub reason: DifferenceReason,
}

/// Collects the differences of one formula against another.
struct PairDifferences<'a> {
    formula: usize,
    against: usize,
    own: &'a Baths,
    other: &'a Baths,
    told: Vec<Difference>,
    facts: &'a Facts,
    /// Whether it is film that both develop: a print shows no grain.
    on_film: bool,
}

impl PairDifferences<'_> {
    fn tell(&mut self, topic: Topic, figures: &str, fact: &Fact) {
        let text = if figures.is_empty() { fact.text.clone() } else { format!("{figures}: {}", fact.text) };
        self.push(topic, text, fact.reason());
    }

    fn figures(&mut self, topic: Topic, text: String) {
        self.push(topic, text, DifferenceReason::Arithmetic);
    }

    /// What both have, where the amounts differ.
    fn both_have(&mut self, topic: Topic, (own, other): (f64, f64), name: &str, unit: &str) {
        if own > 0.0 && other > 0.0 && differs(own, other, WORTH_A_WORD) {
            self.figures(topic, times_against(own, other, name, unit));
        }
    }

    fn push(&mut self, topic: Topic, text: String, reason: DifferenceReason) {
        let (formula, against) = (self.formula, self.against);
        self.told.push(Difference { formula, against, topic, text, reason });
    }
}

/// All differences, formula by formula.
pub(super) fn differences(
    formulas: &[&Formula],
    baths: &[Baths],
    composer: &Composer<'_>,
) -> Vec<Difference> {
    let mut all = Vec::new();
    let Some((first, others)) = formulas.split_first() else { return all };
    let Some(yardstick) = baths.first() else { return all };
    let Some(facts) = &Facts::shipped(composer) else { return all };
    all.extend(weaker_use(0, first, composer, facts));
    for (index, (formula, other_baths)) in others.iter().zip(baths.iter().skip(1)).enumerate() {
        let place = index + 1;
        let on_film = ![formula.kind, first.kind].contains(&Kind::PaperDeveloper);
        let mut teller = PairDifferences {
            formula: place,
            against: 0,
            own: other_baths,
            other: yardstick,
            told: Vec::new(),
            facts,
            on_film,
        };
        let develops = [other_baths, yardstick].iter().all(|baths| baths.agents().next().is_some());
        if develops {
            agents(&mut teller, composer);
            sulfite(&mut teller);
            alkali(&mut teller, composer);
            restrainer(&mut teller);
            silver_solvent(&mut teller);
        } else {
            fixing(&mut teller, [formula.kind, first.kind]);
            acid(&mut teller);
        }
        let told_fixing = !develops && [formula.kind, first.kind].contains(&Kind::Fixer);
        other_chemicals(&mut teller, composer, develops, told_fixing);
        if other_baths.compositions.len() != yardstick.compositions.len() {
            bath_count(&mut teller);
        }
        dilution(&mut teller, formula, first, develops);
        ph(&mut teller);
        keeping(&mut teller, formula, first);
        forms(&mut teller);
        if teller.told.is_empty() {
            teller.figures(Topic::Same, "the figures show no difference in the bath".to_owned());
        }
        all.append(&mut teller.told);
        all.extend(weaker_use(place, formula, composer, facts));
    }
    all
}

#[cfg(test)]
mod tests;
