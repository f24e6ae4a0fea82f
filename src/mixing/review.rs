//! Everything about one formula: what a sheet, a card, a label or a list of weights says of its hazards, and whether it may be mixed.

use super::Objection;
use crate::formula::{Bath, Formula, Part};
use crate::safety::{
    Acidity, BathHazards, BathSummary, BetweenCaution, Caution, Filling, GasRelease, General, PowderHazard,
    Refusal, SafetyData, SpecialBox,
};
use crate::substance::{Class, Form};
use crate::vessel::{Content, Vessel};

/// One vessel that is filled for a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct VesselReview {
    /// The part's name, `stock` for the only one, or the use and bath.
    pub name: String,
    /// With the chemicals of the recipe, or by pouring ready parts together.
    pub filling: Filling,
    /// What it holds.
    pub contents: Vessel,
    /// Cautions before its steps, or why it must not be filled so.
    pub outcome: Result<Vec<Caution>, Box<Refusal>>,
    /// The hazards of the solution in it.
    pub bath: BathHazards,
    /// Baths that must not come before or after it without a wash, in words.
    pub never_beside: Vec<String>,
    /// Gases that come off while it is filled, from it, or with acid; none where it must not be filled so.
    pub gases: Vec<GasRelease>,
}

/// Everything about one formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Review {
    /// Why it must not be mixed or poured together.
    pub objections: Vec<Objection>,
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
    /// What to wear, air, waste, after exposure, closing line.
    pub general: General,
}

impl Review {
    /// All cautions that come up while mixing and using it, each rule once, the gravest first.
    pub fn cautions(&self) -> Vec<&Caution> {
        let vessels = self.parts.iter().chain(&self.baths).flat_map(|vessel| vessel.outcome.iter().flatten());
        let mut all: Vec<&Caution> = Vec::new();
        for caution in self.dry.iter().chain(vessels).chain(self.between.iter().map(|own| &own.caution)) {
            if all.iter().all(|own| own.id != caution.id) {
                all.push(caution);
            }
        }
        all.sort_by_key(|caution| std::cmp::Reverse(caution.severity));
        all
    }

    /// Cautions when parts are poured together or follow each other in use, each rule once.
    pub fn at_use(&self) -> Vec<Caution> {
        let mut all: Vec<Caution> = Vec::new();
        let poured = self.baths.iter().flat_map(|vessel| vessel.outcome.iter().flatten());
        for caution in poured.chain(self.between.iter().map(|own| &own.caution)) {
            if all.iter().all(|own| own.id != caution.id) {
                all.push(caution.clone());
            }
        }
        all
    }

    /// Baths that must not come before or after any of its solutions without a wash, in words.
    pub fn never_beside(&self) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for words in self.parts.iter().chain(&self.baths).flat_map(|vessel| &vessel.never_beside) {
            if !all.contains(words) {
                all.push(words.clone());
            }
        }
        all
    }
}

/// Classes of what is no solvent: it would be there in any amount, and water poured onto it spits.
const NO_SOLVENT: [Class; 7] = [
    Class::Acid,
    Class::WeakAcid,
    Class::StrongAcid,
    Class::StrongAlkali,
    Class::Oxidiser,
    Class::Aldehyde,
    Class::Hypochlorite,
];

/// Why a form must not be the solvent of a part, if it must not.
pub(super) fn unsafe_solvent(place: &str, form: &Form) -> Option<Objection> {
    NO_SOLVENT.iter().any(|class| form.is_class(class)).then(|| Objection {
        kind: super::ObjectionKind::Never,
        code: "unsafe-solvent",
        place: place.to_owned(),
        text: format!(
            "{} is no solvent: a vessel full of it burns, fumes or heats, and everything meets an unlimited amount of it",
            form.name
        ),
        fix: "make the part with water, and write it as an ingredient with its amount".to_owned(),
    })
}

fn part_words(part: &Part) -> String {
    part.name.as_ref().map_or_else(|| "this formula".to_owned(), |name| format!("part {name}"))
}

/// Reviews a recipe as it stands in its file; `ph` gives the pH of a vessel where it is known.
pub fn review(
    data: &SafetyData,
    formula: &Formula,
    litres_per_part: f64,
    ph: &dyn Fn(&Vessel) -> Option<Acidity>,
) -> Review {
    let parts: Vec<(Vessel, f64)> =
        formula.parts.iter().map(|part| (Vessel::of_part(part), litres_per_part)).collect();
    review_of(data, formula, parts, ph, &|_, _| true)
}

/// Reviews a formula by what its parts really hold, in the order of the file, with the litres made of each.
///
/// `is_true` says of a caution about mixing a part, by its place, whether it comes true on the way that the part is mixed; what holds only in
/// a hot step does not come true in a cold one.
pub fn review_of(
    data: &SafetyData,
    formula: &Formula,
    parts: Vec<(Vessel, f64)>,
    ph: &dyn Fn(&Vessel) -> Option<Acidity>,
    is_true: &dyn Fn(usize, &Caution) -> bool,
) -> Review {
    let most_litres = parts.iter().map(|(_, litres)| *litres).fold(0.0, f64::max);
    let vessel =
        |name: String, filling: Filling, contents: Vessel, outcome: Result<Vec<Caution>, Box<Refusal>>| {
            let gases = outcome.as_ref().map_or_else(
                |_| Vec::new(),
                |cautions| data.gases(&contents, &cautions.iter().collect::<Vec<_>>()),
            );
            VesselReview {
                name,
                filling,
                outcome,
                bath: data.bath(&contents, ph(&contents)),
                never_beside: data.never_beside(&contents),
                gases,
                contents,
            }
        };
    let mut objections: Vec<Objection> = Vec::new();
    let parts: Vec<VesselReview> = formula
        .parts
        .iter()
        .zip(parts)
        .enumerate()
        .map(|(index, (part, (contents, litres)))| {
            let place = part_words(part);
            objections.extend(part.solvent.as_ref().and_then(|form| unsafe_solvent(&place, form)));
            let outcome = data.while_mixing(&contents, litres, Filling::FromChemicals).map(|mut cautions| {
                cautions.retain(|caution| is_true(index, caution));
                cautions
            });
            objections.extend(outcome.as_ref().err().map(|refusal| Objection::never(&place, refusal)));
            vessel(part.share_name().to_owned(), Filling::FromChemicals, contents, outcome)
        })
        .collect();
    let poured = |bath: &Bath| {
        let taken = |name: &str| {
            let meant = formula.part_of_share(name)?;
            formula.parts.iter().position(|part| std::ptr::eq(part, meant)).and_then(|index| parts.get(index))
        };
        let shares: Vec<(&Vessel, f64)> = bath
            .shares
            .iter()
            .filter_map(|(name, share)| Some((&taken(name)?.contents, share / bath.total())))
            .collect();
        Vessel::mix(&shares)
    };
    let mut baths: Vec<VesselReview> = Vec::new();
    let mut between: Vec<BetweenCaution> = Vec::new();
    for use_of in &formula.uses {
        let mut sequence = Vec::new();
        for bath in &use_of.baths {
            let contents = poured(bath);
            if use_of.wash_between && !sequence.is_empty() {
                sequence.push(BathSummary::wash());
            }
            sequence.push(BathSummary { name: bath.to_string(), contents: contents.clone() });
            let is_part_as_bottled = bath.water == 0.0 && bath.shares.len() == 1;
            let is_told = baths.iter().any(|own| own.contents == contents);
            if is_part_as_bottled || is_told {
                continue;
            }
            // What a part holds already was told when it was mixed; only what its parts bring together is new.
            let outcome =
                data.while_mixing(&contents, most_litres, Filling::FromParts).map(|mut cautions| {
                    cautions.retain(|caution| !is_within_one(&parts, caution));
                    cautions
                });
            let name = format!("{}: {bath}", use_of.name);
            objections.extend(
                outcome.as_ref().err().map(|refusal| Objection::never(format!("the use {name}"), refusal)),
            );
            baths.push(vessel(name, Filling::FromParts, contents, outcome));
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
    let all: Vec<Content> = parts.iter().flat_map(|own| own.contents.iter().cloned()).collect();
    let boxes = boxes_of(data, formula, parts.iter().chain(&baths));
    let outcomes = parts.iter().chain(&baths).flat_map(|own| own.outcome.iter().flatten());
    let cautions: Vec<&Caution> = outcomes.chain(between.iter().map(|own| &own.caution)).collect();
    let asked = parts.iter().flat_map(|own| data.wear(&own.contents));
    let mut general = data.general(&all, Some(formula.kind), asked, &cautions, !boxes.is_empty());
    general.also_wear(parts.iter().chain(&baths).map(|vessel| &vessel.bath));
    Review {
        objections,
        boxes,
        own: formula.cautions.all().cloned().collect(),
        powders: data.powders(&all),
        dry: data.dry(&all),
        parts,
        baths,
        between,
        general,
    }
}

/// The full-width boxes of all vessels, each once.
fn boxes_of<'v>(
    data: &SafetyData,
    formula: &Formula,
    vessels: impl Iterator<Item = &'v VesselReview>,
) -> Vec<SpecialBox> {
    let mut boxes: Vec<SpecialBox> = Vec::new();
    for own in vessels {
        for special in data.boxes(&own.contents, Some(formula.kind), Some(&formula.id)) {
            if !boxes.iter().any(|known| known.id == special.id) {
                boxes.push(special);
            }
        }
    }
    boxes
}

/// Whether all that a caution is about is in one part already.
fn is_within_one(parts: &[VesselReview], caution: &Caution) -> bool {
    one_has_all(parts.iter().map(|own| &own.contents), &caution.groups)
}

/// Whether one vessel holds something of each group.
fn one_has_all<'v>(parts: impl IntoIterator<Item = &'v Vessel>, groups: &[Vec<String>]) -> bool {
    parts.into_iter().any(|part| {
        let has = |id: &String| part.iter().any(|content| content.form.id == *id);
        groups.iter().all(|group| group.iter().any(has))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::Library;

    #[test]
    fn what_one_part_holds_was_told_when_it_was_mixed_and_what_two_bring_together_was_not() {
        // Part A holds metol and sulfite, part B the carbonate.
        let formula = Library::shipped().formula("acutance-metol-sulfite-carbonate-ab").unwrap().formula;
        let vessels: Vec<Vessel> = formula.parts.iter().map(Vessel::of_part).collect();
        let groups = |ids: &[&[&str]]| -> Vec<Vec<String>> {
            ids.iter().map(|group| group.iter().map(|id| (*id).to_owned()).collect()).collect()
        };
        let (metol, sulfite, carbonate) = ("metol", "sodium-sulfite-anhydrous", "sodium-carbonate-anhydrous");
        let within = |ids: &[&[&str]]| one_has_all(&vessels, &groups(ids));
        assert!(within(&[&[metol], &[sulfite]]));
        // One of a group is enough, and one part of several.
        assert!(within(&[&[metol, carbonate], &[sulfite, "nothing-that-is-there"]]));
        assert!(!within(&[&[metol], &["nothing-that-is-there"]]));
        assert!(!within(&[&[sulfite], &[carbonate]]));
    }
}
