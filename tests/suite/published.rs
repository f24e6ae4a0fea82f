//! Published compositions, figure by figure, against the documents: what the pages print is copied into a file and converted here by
//! constants of its own.

use std::collections::BTreeSet;

use approx::assert_relative_eq;
use soupcon::formula::{Amount, EvidenceKind, Ingredient};
use soupcon::library::Library;

/// One unit of mass in grams or of volume in millilitres. Source: NIST Handbook 44, appendix C (grain, avoirdupois pound and ounce, US
/// fluid ounce); UK Weights and Measures Act 1985, schedule 1 (imperial gallon of 4.54609 L, 160 fluid ounces).
fn size(unit: &str) -> f64 {
    match unit {
        "g" | "ml" => 1.0,
        "grain" => 0.064_798_91,
        "oz" => 28.349_523_125,
        "lb" => 453.592_37,
        "imp-floz" => 28.413_062_5,
        "us-floz" => 29.573_529_562_5,
        other => panic!("{other}"),
    }
}

/// The figure of the file itself, grams or millilitres a litre; nothing of densities, so that a page in millilitres stays one.
fn per_litre(ingredient: &Ingredient) -> f64 {
    match ingredient.amount {
        Amount::Grams(grams) => grams,
        Amount::Millilitres(millilitres) => millilitres,
        ref other @ Amount::PercentSolution { .. } => panic!("{other:?}"),
    }
}

#[test]
fn published_compositions_are_those_of_the_documents() {
    let library = Library::shipped();
    let mut formulas = BTreeSet::new();
    for row in
        include_str!("../data/published-compositions.csv").lines().filter(|line| !line.starts_with('#'))
    {
        let fields: Vec<&str> = row.split(';').collect();
        let [id, part, substance, figure, unit, volume, volume_unit, tolerance, document] = fields[..] else {
            panic!("{row}")
        };
        let number = |text: &str| text.parse::<f64>().unwrap_or_else(|error| panic!("{row}: {error}"));
        let formula = library.formula(id).unwrap_or_else(|error| panic!("{error}")).formula;
        let parts = formula.parts.iter().filter(|own| part == "-" || own.name.as_deref() == Some(part));
        let ingredient = parts
            .flat_map(|own| &own.ingredients)
            .find(|own| own.form.id == substance)
            .unwrap_or_else(|| panic!("{id} has no {substance} in part {part}"));
        let printed = number(figure) * size(unit) / (number(volume) * size(volume_unit)) * 1000.0;
        let own = per_litre(ingredient);
        assert!(
            (own - printed).abs() <= printed * (number(tolerance) + 1e-9),
            "{id}, {substance}: {own} against {printed} ({document})"
        );
        if formula.evidence.kind == EvidenceKind::Published {
            formulas.insert(id.to_owned());
        }
    }
    assert!(formulas.len() >= 30, "only {} published formulas were held against a document", formulas.len());
}

#[test]
fn most_formulas_rest_on_a_document_and_the_others_say_what_is_doubted() {
    let library = Library::shipped();
    let (mut published, mut all) = (0, 0);
    for found in library.formulas().unwrap().0 {
        let (id, evidence) = (found.formula.id, found.formula.evidence);
        all += 1;
        match evidence.kind {
            EvidenceKind::Published => {
                published += 1;
                assert!(evidence.source.is_some_and(|source| source != "memory"), "{id}");
            }
            EvidenceKind::Memory | EvidenceKind::CommonPractice => {
                let doubt = evidence.doubt.unwrap_or_else(|| panic!("{id} says nothing of what is doubted"));
                assert!(
                    !doubt.starts_with("The whole composition is recalled and no document"),
                    "{id}: {doubt}"
                );
                let settled = ["would settle", "settles"].iter().any(|word| doubt.contains(word));
                assert!(settled, "{id} does not say what would settle it: {doubt}");
            }
        }
    }
    assert!(published * 2 > all, "{published} of {all}");
}

#[test]
fn the_unit_sizes_agree_with_each_other() {
    // Source: 7000 grains and 16 ounces to the pound, NIST Handbook 44, appendix C.
    assert_relative_eq!(size("lb"), 7000.0 * size("grain"), max_relative = 1e-9);
    assert_relative_eq!(size("lb"), 16.0 * size("oz"), max_relative = 1e-12);
}

/// The label of a stock bottle says how long the stock keeps, never the mixture.
#[test]
fn no_stock_bottle_is_labelled_with_the_life_of_the_mixture() {
    for found in Library::shipped().formulas().unwrap().0 {
        let formula = found.formula;
        if formula.parts.len() < 2 {
            continue;
        }
        for part in &formula.parts {
            let note = part.keeping.note.as_deref().unwrap_or_default();
            assert!(!note.starts_with("Mixed") && !note.starts_with("The mixed"), "{}: {note}", formula.id);
        }
    }
}

/// Potassium dichromate: 15.1 g in 100 g of water at 25 °C (handbook table of solubilities, value from memory). The water to start with
/// must hold what is weighed, or the step never ends.
#[test]
fn the_dichromate_of_the_gum_sensitizer_dissolves_in_the_water_it_starts_in() {
    let formula = Library::shipped().formula("gum-potassium-dichromate-sensitizer").unwrap().formula;
    let part = formula.parts.iter().find(|own| own.name.as_deref() == Some("B")).unwrap();
    let grams = per_litre(part.ingredients.first().unwrap());
    let water_ml = part.mixing.water_ml_per_litre.unwrap();
    assert!(water_ml * 0.151 >= grams, "{grams} g in {water_ml} mL");
}
