//! Several formulas used one after another, reviewed as a whole.

use super::baths::{BathSummary, baths_of};
use super::between::BetweenCaution;
use super::combinations::{Caution, Refusal};
use super::review::FormulaReview;
use super::{BathHazards, General, SafetyData};
use crate::formula::Formula;
use crate::vessel::{Content, Vessel};

/// One stage of a sequence.
#[derive(Debug, Clone, Copy)]
pub enum Stage<'a> {
    /// The baths of a formula, in the order of its first use.
    Baths(&'a Formula),
    /// A wash in plain water.
    Wash,
}

/// One bath of a sequence with what it is and must not meet.
#[derive(Debug, Clone, PartialEq)]
pub struct SequenceBath {
    /// What it holds.
    pub bath: BathSummary,
    /// Its own hazards; none for a wash.
    pub hazards: Option<BathHazards>,
    /// Baths that must not come beside it without a wash, in words.
    pub never_beside: Vec<String>,
}

/// A sequence as a whole.
#[derive(Debug, Clone, PartialEq)]
pub struct SequenceReview {
    /// The baths in order, washes too.
    pub baths: Vec<SequenceBath>,
    /// Cautions between them; places count in `baths`.
    pub between: Vec<BetweenCaution>,
    /// Each formula once, by id, with everything about it.
    pub formulas: Vec<(String, FormulaReview)>,
    /// What holds for all.
    pub general: General,
}

impl SequenceReview {
    /// The formulas that must not be mixed, with the reason.
    pub fn refusals(&self) -> impl Iterator<Item = (&str, &Refusal)> {
        self.formulas.iter().filter_map(|(id, review)| Some((id.as_str(), review.refusal()?)))
    }
}

/// Reviews a sequence; `ph` gives the pH of a vessel by its contents where it is known.
pub(super) fn review(
    data: &SafetyData,
    stages: &[Stage<'_>],
    litres_per_part: f64,
    ph: &dyn Fn(&[Content]) -> Option<super::Acidity>,
) -> SequenceReview {
    let mut summaries: Vec<BathSummary> = Vec::new();
    let mut formulas: Vec<(String, FormulaReview)> = Vec::new();
    let mut all: Vec<Content> = Vec::new();
    for stage in stages {
        let Stage::Baths(formula) = stage else {
            summaries.push(BathSummary::wash());
            continue;
        };
        summaries.extend(baths_of(formula, None));
        if !formulas.iter().any(|(id, _)| *id == formula.id) {
            formulas.push((formula.id.clone(), data.review(formula, litres_per_part, ph)));
            all.extend(formula.parts.iter().flat_map(Vessel::of_part));
        }
    }
    let borrowed: Vec<&BathSummary> = summaries.iter().collect();
    let between = data.between(&borrowed);
    let mut cautions: Vec<&Caution> = between.iter().map(|own| &own.caution).collect();
    for (_, review) in &formulas {
        let vessels = review.parts.iter().chain(&review.baths);
        cautions.extend(vessels.flat_map(|vessel| vessel.outcome.iter().flatten()));
    }
    let mut general = data.general(&all, None, &cautions);
    // Some waste lines hang on the kind of formula: take those of each.
    for line in formulas.iter().flat_map(|(_, review)| &review.general.waste) {
        match general.waste.iter_mut().find(|own| own.id == line.id) {
            Some(own) => own
                .about
                .extend(line.about.iter().filter(|id| !own.about.contains(id)).cloned().collect::<Vec<_>>()),
            None => general.waste.push(line.clone()),
        }
    }
    let baths: Vec<SequenceBath> = summaries
        .into_iter()
        .map(|bath| SequenceBath {
            hazards: (!bath.is_wash()).then(|| data.bath(&bath.contents, ph(&bath.contents))),
            never_beside: data.never_beside(&bath.contents),
            bath,
        })
        .collect();
    general.also_wear(baths.iter().filter_map(|bath| bath.hazards.as_ref()));
    let vessels = formulas.iter().flat_map(|(_, review)| review.parts.iter().chain(&review.baths));
    general.also_wear(vessels.map(|vessel| &vessel.bath));
    SequenceReview { baths, between, formulas, general }
}
