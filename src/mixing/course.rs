//! Several formulas used one after another, reviewed as a whole.

use super::Objection;
use super::review::Review;
use crate::formula::Formula;
use crate::safety::{Acidity, BathHazards, BathSummary, BetweenCaution, Caution, General, SafetyData};
use crate::vessel::{Content, Vessel};

/// One stage of a sequence.
#[derive(Debug, Clone, Copy)]
pub enum SequenceMember<'a> {
    /// The baths of a formula, in the order of its first use, with all that is known of it.
    Baths(&'a Formula, &'a Review),
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
    pub formulas: Vec<(String, Review)>,
    /// What holds for all.
    pub general: General,
}

impl SequenceReview {
    /// Why formulas must not be mixed, each with the formula's id.
    pub fn objections(&self) -> impl Iterator<Item = (&str, &Objection)> {
        self.formulas
            .iter()
            .flat_map(|(id, review)| review.objections.iter().map(|objection| (id.as_str(), objection)))
    }
}

/// Reviews a sequence; `ph` gives the pH of a vessel by its contents where it is known.
pub fn sequence(
    data: &SafetyData,
    stages: &[SequenceMember<'_>],
    ph: &dyn Fn(&Vessel) -> Option<Acidity>,
) -> SequenceReview {
    let mut summaries: Vec<BathSummary> = Vec::new();
    let mut formulas: Vec<(String, Review)> = Vec::new();
    let mut all: Vec<Content> = Vec::new();
    for stage in stages {
        let SequenceMember::Baths(formula, review) = stage else {
            summaries.push(BathSummary::wash());
            continue;
        };
        summaries.extend(baths_of(formula, None));
        if !formulas.iter().any(|(id, _)| *id == formula.id) {
            formulas.push((formula.id.clone(), (*review).clone()));
            all.extend(review.parts.iter().flat_map(|own| own.contents.iter().cloned()));
        }
    }
    let borrowed: Vec<&BathSummary> = summaries.iter().collect();
    let between = data.between(&borrowed);
    let mut cautions: Vec<&Caution> = between.iter().map(|own| &own.caution).collect();
    for (_, review) in &formulas {
        let vessels = review.parts.iter().chain(&review.baths);
        cautions.extend(vessels.flat_map(|vessel| vessel.outcome.iter().flatten()));
    }
    let is_boxed = formulas.iter().any(|(_, review)| !review.boxes.is_empty());
    let asked =
        formulas.iter().flat_map(|(_, review)| &review.parts).flat_map(|own| data.wear(&own.contents));
    let mut general = data.general(&all, None, asked, &cautions, is_boxed);
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

/// The baths of a formula at working strength, in the order of use: those of the use named, else of its first one; the parts
/// themselves where the formula gives no use. A wash that the use has between its baths stands between them.
pub fn baths_of(formula: &Formula, use_name: Option<&str>) -> Vec<BathSummary> {
    let use_of = match use_name {
        Some(name) => formula.uses.iter().find(|own| own.name.eq_ignore_ascii_case(name)),
        None => formula.uses.first(),
    };
    if let Some(use_of) = use_of {
        let several = use_of.baths.len() > 1;
        let mut baths: Vec<BathSummary> = Vec::new();
        for bath in &use_of.baths {
            if use_of.wash_between && !baths.is_empty() {
                baths.push(BathSummary::wash());
            }
            baths.push(BathSummary {
                name: if several { format!("{} ({bath})", formula.id) } else { formula.id.clone() },
                contents: Vessel::of_bath(formula, bath),
            });
        }
        return baths;
    }
    formula
        .parts
        .iter()
        .map(|part| BathSummary {
            name: part
                .name
                .as_ref()
                .map_or_else(|| formula.id.clone(), |name| format!("{} {name}", formula.id)),
            contents: Vessel::of_part(part),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::review::review;
    use super::*;
    use crate::library::Library;

    #[test]
    fn a_formula_used_twice_is_reviewed_once_and_a_wash_stands_between() {
        let library = Library::shipped();
        let data = SafetyData::shipped(&library);
        let formula = |id: &str| library.formula(id).unwrap().formula;
        let (stop_bath, toner) =
            (formula("acetic-acid-stop-bath"), formula("sulfide-sepia-bleach-redevelop-toner"));
        let of = |formula: &Formula| review(&data, formula, 1.0, &|_| None);
        let (stop, sepia) = (of(&stop_bath), of(&toner));
        let stages = [
            SequenceMember::Baths(&stop_bath, &stop),
            SequenceMember::Wash,
            SequenceMember::Baths(&toner, &sepia),
            SequenceMember::Baths(&stop_bath, &stop),
        ];
        let own = sequence(&data, &stages, &|_| None);
        assert_eq!(
            own.formulas.iter().map(|(id, _)| id.as_str()).collect::<Vec<_>>(),
            [&*stop_bath.id, &*toner.id]
        );
        let washes = own.baths.iter().filter(|own| own.bath.is_wash() && own.hazards.is_none()).count();
        let between =
            usize::from(toner.uses.first().is_some_and(|own| own.wash_between && own.baths.len() > 1));
        assert_eq!(washes, 1 + between);
        // Sulfide has a box: extraction or outdoors; without one a window will do.
        assert_eq!(own.general.air, crate::safety::Air::Closed);
        let mild = sequence(&data, &stages[..2], &|_| None);
        assert!(mild.general.air < crate::safety::Air::Closed, "{:?}", mild.general.air);
        // Acid after sulfide frees its gas.
        assert!(!own.between.is_empty() && mild.between.is_empty());
        for line in &own.general.waste {
            let about = &line.about;
            assert!(about.iter().all(|id| about.iter().filter(|own| *own == id).count() == 1), "{line:?}");
        }
    }
}
