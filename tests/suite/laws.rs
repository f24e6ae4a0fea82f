//! Laws of the bath, over the whole shipped library: what is in a litre decides, not how it came there.
//!
//! They need no figures from outside: each compares two ways to the same solution.

use crate::common::answer;
use crate::common::shipped::{Tables, formulas, tables};
use std::collections::BTreeSet;
use std::sync::Arc;

use soupcon::formula::{Amount, Bath, Formula, Ingredient, Part, Use};
use soupcon::library::Library;
use soupcon::predict::predict_vessel;
use soupcon::quantity::Volume;
use soupcon::safety::{Filling, SafetyData};
use soupcon::scale::exchange::Relations;
use soupcon::scale::{Have, Request, scale};
use soupcon::solution::Equilibria;
use soupcon::substance::{Form, State};
use soupcon::vessel::Vessel;

struct House {
    library: Library,
    safety: &'static SafetyData,
    equilibria: &'static Equilibria,
    relations: &'static Relations,
    formulas: &'static [Formula],
}

fn house() -> House {
    let Tables { safety, relations, equilibria } = tables();
    House { library: Library::shipped(), safety, equilibria, relations, formulas: formulas() }
}

/// What is said of a solution, as sets.
#[derive(Debug, Clone, PartialEq)]
struct Said {
    codes: BTreeSet<String>,
    corrosive: bool,
    combinations: BTreeSet<String>,
    neighbours: BTreeSet<String>,
    gases: BTreeSet<String>,
    boxes: BTreeSet<String>,
    ph: Option<String>,
}

impl House {
    fn said(&self, vessel: &Vessel) -> Said {
        let prediction = predict_vessel(self.equilibria, vessel, "it", 20.0).ok();
        let trusted = prediction.as_ref().and_then(soupcon::predict::trusted_ph);
        let bath = self.safety.bath(vessel, trusted.map(Into::into));
        let (mut combinations, mut gases) = (BTreeSet::new(), BTreeSet::new());
        let acidity = soupcon::mixing::acidity(self.equilibria, vessel);
        match self.safety.while_mixing_so_acid(vessel, 1.0, Filling::FromParts, acidity) {
            Ok(cautions) => {
                for caution in cautions {
                    gases.extend(caution.gas);
                    combinations.insert(caution.id);
                }
            }
            Err(refusal) => {
                combinations.insert(format!("refused: {}", refusal.id));
            }
        }
        Said {
            corrosive: bath.is_corrosive(),
            codes: bath.statements.into_iter().map(|statement| statement.code).collect(),
            combinations,
            gases,
            neighbours: self.safety.never_beside(vessel).into_iter().collect(),
            boxes: self.safety.boxes(vessel, None, None).into_iter().map(|own| own.id).collect(),
            ph: prediction.map(|own| format!("{:.6}", own.ph)),
        }
    }

    fn taken(&self, formula: &Formula, part: usize, request: &Request) -> Option<Vessel> {
        let batch = scale(formula, request, self.relations).ok()?;
        Some(batch.parts[part].vessel(&formula.parts[part]))
    }

    fn siblings(&self, form: &Form) -> Vec<Arc<Form>> {
        self.library.substance(&form.parent.id).unwrap().map_or_else(Vec::new, |own| own.forms.clone())
    }
}

fn a_litre() -> Request {
    Request::volume(Volume::from_ml(1000.0))
}

fn parts(formula: &Formula) -> impl Iterator<Item = (usize, &Part)> {
    formula.parts.iter().enumerate()
}

#[test]
fn a_jar_of_another_assay_makes_the_same_bath() {
    let house = house();
    let mut compared = 0;
    for formula in house.formulas {
        for (index, part) in parts(formula) {
            let usual = house.said(&house.taken(formula, index, &a_litre()).unwrap());
            for form in part.ingredients.iter().map(|own| &own.form) {
                let assays: &[f64] = match (form.state, form.id.as_str()) {
                    (State::Solid, _) => &[0.6, 0.75, 0.98],
                    // Strengths on sale of which the density is near enough that of the form for its room in the vessel.
                    (_, "acetic-acid-28") => &[0.6, 0.8],
                    (_, "formaldehyde-37") => &[0.3],
                    _ => &[],
                };
                for assay in assays {
                    let request = Request { assays: vec![(Arc::clone(form), *assay)], ..a_litre() };
                    let vessel = house.taken(formula, index, &request).unwrap();
                    assert_eq!(
                        house.said(&vessel),
                        usual,
                        "{} {:?}: {} of {assay}",
                        formula.id,
                        part.name,
                        form.id
                    );
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 1500, "only {compared} were compared");
}

#[test]
fn another_hydrate_from_the_shelf_makes_the_same_bath() {
    let house = house();
    let mut compared = 0;
    for formula in house.formulas {
        for (index, part) in parts(formula) {
            let usual = house.said(&house.taken(formula, index, &a_litre()).unwrap());
            for form in part.ingredients.iter().map(|own| &own.form) {
                for other in house.siblings(form).into_iter().filter(|other| other.id != form.id) {
                    let have = vec![Have { form: Arc::clone(&other), amount: None, is_limit: false }];
                    let Some(vessel) = house.taken(formula, index, &Request { have, ..a_litre() }) else {
                        continue;
                    };
                    if !vessel.iter().any(|content| content.form.id == other.id) {
                        continue;
                    }
                    let label = format!("{} {:?}: {} for {}", formula.id, part.name, other.id, form.id);
                    assert_eq!(house.said(&vessel), usual, "{label}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 300, "only {compared} were compared");
}

#[test]
fn the_order_of_the_lines_of_a_recipe_says_nothing() {
    let house = house();
    for formula in house.formulas {
        for (_, part) in parts(formula) {
            let mut turned = part.clone();
            turned.ingredients.reverse();
            let [one, other] = [part, &turned].map(|own| house.said(&Vessel::of_part(own)));
            assert_eq!(one, other, "{} {:?}", formula.id, part.name);
        }
    }
}

/// A formula in one part as two, each line in one of them at twice the strength, with the use 1 A + 1 B.
fn split(formula: &Formula) -> Formula {
    let whole = &formula.parts[0];
    let half = |name: &str, place: usize| {
        let lines = whole.ingredients.iter().enumerate().filter(|(index, _)| index % 2 == place);
        let ingredients = lines.map(|(_, own)| Ingredient { amount: doubled(own.amount), ..own.clone() });
        Part { name: Some(name.to_owned()), ingredients: ingredients.collect(), ..whole.clone() }
    };
    let bath = Bath { shares: vec![("A".to_owned(), 1.0), ("B".to_owned(), 1.0)], water: 0.0 };
    let uses = vec![Use { baths: vec![bath], ..use_named("mixed") }];
    Formula { parts: vec![half("A", 0), half("B", 1)], uses, ..formula.clone() }
}

fn doubled(amount: Amount) -> Amount {
    match amount {
        Amount::Grams(grams) => Amount::Grams(2.0 * grams),
        Amount::Millilitres(millilitres) => Amount::Millilitres(2.0 * millilitres),
        Amount::PercentSolution { millilitres, strength } => {
            Amount::PercentSolution { millilitres: 2.0 * millilitres, strength }
        }
    }
}

fn use_named(name: &str) -> Use {
    let library = Library::shipped();
    let known = library.formula("mq-borax-classic").unwrap().formula.uses.remove(0);
    Use { name: name.to_owned(), ..known }
}

#[test]
fn two_bottles_poured_together_are_the_bath_that_one_vessel_would_have_been() {
    let house = house();
    let mut compared = 0;
    for formula in house.formulas {
        let [part] = formula.parts.as_slice() else { continue };
        if part.solvent.is_some() || part.ingredients.len() < 2 {
            continue;
        }
        let two = split(formula);
        let mixed = Vessel::of_bath(&two, &two.uses[0].baths[0]);
        let (whole, mixed) = (house.said(&Vessel::of_part(part)), house.said(&mixed));
        assert_eq!(mixed, whole, "{}", formula.id);
        compared += 1;
    }
    assert!(compared > 120, "only {compared} were compared");
}

/// All that `safety` says of a formula stands in the JSON of its sheet: how many vessels were compared.
fn told_on_the_sheet(id: &str) -> usize {
    let sheet = answer(&["sheet", id, "1L", "--json"]).json();
    if !sheet["refusals"].as_array().unwrap().is_empty() {
        return 0;
    }
    let safety = answer(&["safety", id, "--json"]).json();
    let told = sheet.to_string();
    let list = |value: &serde_json::Value| value.as_array().unwrap().clone();
    let vessels = list(&safety["formulas"][0]["vessels"]);
    for vessel in &vessels {
        let codes: Vec<_> =
            list(&vessel["bath"]["statements"]).iter().map(|own| own["code"].clone()).collect();
        let (parts, baths) = (list(&sheet["parts"]), list(&sheet["baths"]));
        let same = parts.iter().chain(&baths).any(|own| {
            own["bath"]["codes"] == serde_json::Value::from(codes.clone())
                && own["bath"]["signal_word"] == vessel["bath"]["signal_word"]
        });
        assert!(same, "{id}: {}", vessel["name"]);
        for caution in list(&vessel["cautions"]) {
            assert!(told.contains(&caution["text"].to_string()), "{id}: {caution}");
        }
    }
    for bath in list(&safety["baths"]) {
        for neighbour in list(&bath["never_beside"]) {
            assert!(told.contains(&neighbour.to_string()), "{id}: {neighbour}");
        }
    }
    vessels.len()
}

#[test]
fn what_safety_says_of_a_bath_is_on_its_sheet() {
    let all: usize = formulas().iter().map(|formula| told_on_the_sheet(&formula.id)).sum();
    assert!(all > 300, "only {all} were compared");
}
