//! Everything about one formula: what a sheet, a card, a label or a list of weights says of its hazards, and whether it may be mixed.

use super::Objection;
use super::solvent::unsafe_solvent;
use crate::formula::{Bath, Formula, Part};
use crate::safety::{
    Acidity, BathHazards, BathSummary, BetweenCaution, Caution, Filling, GasRelease, General, PowderHazard,
    Refusal, SafetyData, SpecialBox,
};
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
    let vessel = |name: String,
                  (filling, acidity): (Filling, Option<Acidity>),
                  contents: Vessel,
                  outcome: Result<Vec<Caution>, Box<Refusal>>| {
        let gases = outcome.as_ref().map_or_else(
            |_| Vec::new(),
            |cautions| data.gases(&contents, &cautions.iter().collect::<Vec<_>>()),
        );
        VesselReview {
            name,
            filling,
            outcome,
            bath: data.bath(&contents, acidity),
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
            let (filling, acidity) = (Filling::FromChemicals, ph(&contents));
            let outcome = data.while_mixing_so_acid(&contents, litres, filling, acidity);
            let outcome = outcome.map(|mut cautions| {
                cautions.retain(|caution| is_true(index, caution));
                cautions
            });
            objections.extend(outcome.as_ref().err().map(|refusal| Objection::never(&place, refusal)));
            vessel(part.share_name().to_owned(), (filling, acidity), contents, outcome)
        })
        .collect();
    let mut baths: Vec<VesselReview> = Vec::new();
    let mut between: Vec<BetweenCaution> = Vec::new();
    for use_of in &formula.uses {
        let mut sequence = Vec::new();
        for bath in &use_of.baths {
            let contents = poured(formula, &parts, bath);
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
            let (filling, acidity) = (Filling::FromParts, ph(&contents));
            let outcome = data.while_mixing_so_acid(&contents, most_litres, filling, acidity);
            let outcome = outcome.map(|mut cautions| {
                cautions.retain(|caution| !is_told_of_one(&parts, caution));
                cautions
            });
            let name = format!("{}: {bath}", use_of.name);
            objections.extend(
                outcome.as_ref().err().map(|refusal| Objection::never(format!("the use {name}"), refusal)),
            );
            baths.push(vessel(name, (filling, acidity), contents, outcome));
        }
        join_between(&mut between, data, &sequence);
    }
    if formula.uses.is_empty() {
        // Nobody said how its parts are used: they stand side by side all the same.
        let sequence = formula
            .parts
            .iter()
            .zip(&parts)
            .map(|(part, own)| BathSummary { name: part_words(part), contents: own.contents.clone() });
        join_between(&mut between, data, &sequence.collect::<Vec<_>>());
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

/// Adds what is told between the baths of a sequence and is not told yet.
fn join_between(between: &mut Vec<BetweenCaution>, data: &SafetyData, sequence: &[BathSummary]) {
    for caution in data.between(&sequence.iter().collect::<Vec<_>>()) {
        let same = |own: &BetweenCaution| {
            own.caution.id == caution.caution.id && own.caution.about == caution.caution.about
        };
        if !between.iter().any(same) {
            between.push(caution);
        }
    }
}

/// What a bath holds, of the parts as they really are.
fn poured(formula: &Formula, parts: &[VesselReview], bath: &Bath) -> Vessel {
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

/// Whether a caution was told of one part already: all that it is about is in it. What is true of a solution as a whole was told only where
/// it was true of that part.
fn is_told_of_one(parts: &[VesselReview], caution: &Caution) -> bool {
    let told = |part: &VesselReview| part.outcome.iter().flatten().any(|own| own.id == caution.id);
    let parts = parts.iter().filter(|part| !caution.is_of_whole || told(part));
    one_has_all(parts.map(|own| &own.contents), &caution.groups)
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

    const HEAD: &str =
        "format = 1\nkind = \"bleach\"\ntitle = \"T\"\nsummary = \"s\"\nevidence = \"memory\"\n";

    /// A formula of two parts, salt and bromide, poured together; rows of an invented table about them.
    fn two_parts(rows: &str) -> (SafetyData, Formula) {
        let library = Library::shipped();
        let head = "format = 1\n[equivalents]\nsource = \"memory\"\nacid = {}\nalkali = {}\nsulfite = {}\n";
        let rows = rows.replace(
            "ROW",
            "members = [{ any = [\"sodium-chloride\"] }, { any = [\"potassium-bromide\"] }]\nseverity = \"warning\"\nproduct = \"p\"\nplain = \"t\"\nsource = \"memory\"",
        );
        let (statements, precautions) =
            (library.table("statements.toml").unwrap(), library.table("precautions.toml").unwrap());
        let data = SafetyData::parse(statements, &format!("{head}{rows}"), precautions).unwrap();
        let part = |name: &str, id: &str| {
            format!("[[parts]]\nname = \"{name}\"\n[[parts.ingredients]]\nsubstance = \"{id}\"\ngrams = 10\n")
        };
        let text = format!(
            "{HEAD}{}{}[[use]]\nname = \"n\"\nbaths = [{{ A = 1, B = 1 }}]\n",
            part("A", "sodium-chloride"),
            part("B", "potassium-bromide")
        );
        (data, Formula::parse(&text, "own", "own.toml", &library).unwrap())
    }

    #[test]
    fn what_decides_by_the_batch_is_asked_of_the_batch_that_is_poured() {
        // 5 g/L of salt in the bath; two grams of it are in 0.4 litre.
        let (data, formula) = two_parts(
            "[[combinations]]\nid = \"x\"\nwhere = [\"one-vessel\"]\nneeds = [{ of = \"sodium-chloride\", unit = \"g\", at_least = 2 }]\nROW\n",
        );
        let told = |litres| review(&data, &formula, litres, &|_| None).at_use().len();
        assert_eq!((told(0.4), told(0.39)), (1, 0));
    }

    #[test]
    fn what_must_not_be_poured_together_is_objected_to_and_parts_are_free_of_it() {
        let (data, formula) = two_parts(
            "[[combinations]]\nid = \"x\"\nwhere = [\"one-vessel\"]\nrefuse = true\ninstead = \"i\"\nROW\n",
        );
        let own = review(&data, &formula, 1.0, &|_| None);
        assert_eq!(own.objections.len(), 1, "{:?}", own.objections);
        assert!(own.objections[0].is_never() && own.objections[0].place.contains("the use"));
        assert!(own.parts.iter().all(|part| part.outcome.is_ok()));
    }

    #[test]
    fn a_caution_of_a_part_is_told_where_it_comes_true() {
        let (data, mut formula) = two_parts("[[combinations]]\nid = \"x\"\nwhere = [\"mixing\"]\nROW\n");
        let bromide = formula.parts[1].ingredients[0].clone();
        formula.parts[0].ingredients.push(bromide);
        let told = |is_true: bool| {
            let parts = formula.parts.iter().map(|part| (Vessel::of_part(part), 1.0)).collect();
            let own = review_of(&data, &formula, parts, &|_| None, &|index, _| is_true && index == 0);
            own.cautions().len()
        };
        assert_eq!((told(true), told(false)), (1, 0));
    }

    #[test]
    fn acid_alkali_oxidiser_and_aldehyde_are_no_solvents() {
        use crate::formula::Chemicals as _;
        let library = Library::shipped();
        let refused = |id: &str| unsafe_solvent("it", &library.form(id).unwrap()).is_some();
        for id in
            ["acetic-acid", "sulfuric-acid", "sodium-hydroxide", "hydrogen-peroxide-3", "formaldehyde-37"]
        {
            assert!(refused(id), "{id}");
        }
        for id in ["propylene-glycol", "ethanol", "water"] {
            assert!(!refused(id), "{id}");
        }
    }

    #[test]
    fn each_rule_is_told_once_the_gravest_first() {
        let (data, mut formula) = two_parts(
            "[[combinations]]\nid = \"mild\"\nwhere = [\"mixing\", \"one-vessel\"]\nROW\n[[combinations]]\nid = \"other\"\nwhere = [\"one-vessel\"]\nROW\n",
        );
        let again = formula.uses[0].clone();
        formula.uses.push(again);
        let own = review(&data, &formula, 1.0, &|_| None);
        let ids = |all: Vec<&str>| all.join(" ");
        assert_eq!(ids(own.cautions().iter().map(|own| own.id.as_str()).collect()), "mild other");
        assert_eq!(ids(own.at_use().iter().map(|own| own.id.as_str()).collect()), "mild other");
        assert_eq!(own.baths.len(), 1, "the same bath of two uses is told once");
        // What one part holds already is not told again when it is poured.
        let bromide = formula.parts[1].ingredients[0].clone();
        formula.parts[0].ingredients.push(bromide);
        let own = review(&data, &formula, 1.0, &|_| None);
        assert!(own.at_use().is_empty() && own.cautions().len() == 2);
    }
}
