//! Everything about one formula at once: what a sheet, a card or a label draws from.

use super::bath::BathHazards;
use super::baths::BathSummary;
use super::between::BetweenCaution;
use super::combinations::{Caution, Filling, Refusal};
use super::powder::PowderHazard;
use super::special::SpecialBox;
use super::{General, SafetyData};
use crate::formula::Formula;
use crate::vessel::{Content, Vessel};

/// One vessel that is filled for a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct VesselReview {
    /// The part's name, `stock` for the only one, or the use and bath.
    pub name: String,
    /// How it is filled.
    pub filling: Filling,
    /// What it holds.
    pub contents: Vessel,
    /// Cautions before its steps, or why it must not be filled so.
    pub outcome: Result<Vec<Caution>, Box<Refusal>>,
    /// The hazards of the solution in it.
    pub bath: BathHazards,
}

/// Everything about one formula.
#[derive(Debug, Clone, PartialEq)]
pub struct FormulaReview {
    /// Full-width boxes, before all else.
    pub boxes: Vec<SpecialBox>,
    /// Cautions that the formula's own file gives.
    pub own: Vec<String>,
    /// Hazards of the substances as weighed.
    pub powders: Vec<PowderHazard>,
    /// Cautions about the substances side by side on the bench.
    pub dry: Vec<Caution>,
    /// The parts as bottled.
    pub parts: Vec<VesselReview>,
    /// The baths at working strength where they differ from a part as bottled.
    pub baths: Vec<VesselReview>,
    /// Cautions between the baths of one use.
    pub between: Vec<BetweenCaution>,
    /// Baths that must not come before or after without a wash, in words.
    pub never_beside: Vec<String>,
    /// What to wear, air, waste, after exposure, closing line.
    pub general: General,
}

impl FormulaReview {
    /// The first refusal, if any vessel must not be filled.
    pub fn refusal(&self) -> Option<&Refusal> {
        self.parts
            .iter()
            .chain(&self.baths)
            .find_map(|vessel| vessel.outcome.as_ref().err().map(AsRef::as_ref))
    }
}

/// Reviews a formula; `ph` gives the pH of a vessel by its contents where it is known.
pub(super) fn review(
    data: &SafetyData,
    formula: &Formula,
    litres_per_part: f64,
    ph: &dyn Fn(&[Content]) -> Option<super::Acidity>,
) -> FormulaReview {
    let vessel = |name: String, filling: Filling, contents: Vessel, outcome| VesselReview {
        name,
        filling,
        outcome,
        bath: data.bath(&contents, ph(&contents)),
        contents,
    };
    let parts: Vec<VesselReview> = formula
        .parts
        .iter()
        .map(|part| {
            let name = part.name.clone().unwrap_or_else(|| "stock".to_owned());
            let contents = Vessel::of_part(part);
            let outcome = data.while_mixing(&contents, litres_per_part, Filling::FromChemicals);
            vessel(name, Filling::FromChemicals, contents, outcome)
        })
        .collect();
    let mut baths: Vec<VesselReview> = Vec::new();
    let mut between = Vec::new();
    for use_of in &formula.uses {
        let mut sequence = Vec::new();
        for bath in &use_of.baths {
            let contents = Vessel::of_bath(formula, bath);
            sequence.push(BathSummary { name: bath.to_string(), contents: contents.clone() });
            let is_part_as_bottled = bath.water == 0.0 && bath.shares.len() == 1;
            let is_told = baths.iter().any(|own| own.contents == contents);
            if !is_part_as_bottled && !is_told {
                // What a part holds already was told when it was mixed; only what its parts bring together is new.
                let outcome =
                    data.while_mixing(&contents, litres_per_part, Filling::FromParts).map(|mut cautions| {
                        cautions.retain(|caution| !is_within_one(&parts, caution));
                        cautions
                    });
                baths.push(vessel(format!("{}: {bath}", use_of.name), Filling::FromParts, contents, outcome));
            }
        }
        let sequence: Vec<&BathSummary> = sequence.iter().collect();
        for caution in data.between(&sequence) {
            let same = |own: &BetweenCaution| {
                own.caution.id == caution.caution.id && own.caution.about == caution.caution.about
            };
            if !between.iter().any(same) {
                between.push(caution);
            }
        }
    }
    let all: Vec<Content> = formula.parts.iter().flat_map(Vessel::of_part).collect();
    let mut boxes: Vec<SpecialBox> = Vec::new();
    let mut never_beside: Vec<String> = Vec::new();
    let mut cautions: Vec<&Caution> = Vec::new();
    for own in parts.iter().chain(&baths) {
        for special in data.boxes(&own.contents, Some(formula.kind), Some(&formula.id)) {
            if !boxes.iter().any(|known| known.id == special.id) {
                boxes.push(special);
            }
        }
        // At working strength where there is one: that is what is carried over.
        if own.filling == Filling::FromParts || baths.is_empty() {
            for words in data.never_beside(&own.contents) {
                if !never_beside.contains(&words) {
                    never_beside.push(words);
                }
            }
        }
        cautions.extend(own.outcome.iter().flatten());
    }
    cautions.extend(between.iter().map(|own| &own.caution));
    let mut general = data.general(&all, Some(formula.kind), &cautions);
    general.also_wear(parts.iter().chain(&baths).map(|vessel| &vessel.bath));
    FormulaReview {
        boxes,
        own: formula.cautions.clone(),
        powders: data.powders(&all),
        dry: data.dry(&all),
        parts,
        baths,
        between,
        never_beside,
        general,
    }
}

/// Whether all that a caution is about is in one part already.
fn is_within_one(parts: &[VesselReview], caution: &Caution) -> bool {
    parts.iter().any(|part| {
        let has = |id: &String| part.contents.iter().any(|content| content.form.id == *id);
        caution.groups.iter().all(|group| group.iter().any(has))
    })
}
