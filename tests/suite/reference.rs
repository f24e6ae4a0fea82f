//! Figures of the program against sources outside it; each source stands beside its check.

use crate::common::good;
use approx::assert_relative_eq;
use soupcon::formula::Chemicals as _;
use soupcon::library::Library;
use soupcon::quantity::{Mass, Temperature, Volume};
use soupcon::scale::exchange::{Relations, exchange};

fn rows(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect())
}

#[test]
fn units_agree_with_gnu_units() {
    // Source: GNU Units 2.22, run for this file. Tolerance: its twelve printed figures.
    for row in rows(include_str!("../data/gnu-units.csv")) {
        let expected: f64 = row[2].parse().unwrap();
        let own = match row[1] {
            "g" => format!("1{}", row[0]).parse::<Mass>().unwrap().as_g(),
            _ => format!("1{}", row[0]).parse::<Volume>().unwrap().as_ml(),
        };
        assert_relative_eq!(own, expected, max_relative = 1e-11);
    }
    // Source: GNU Units 2.22, tempF(68) is 20 tempC and tempC(24) is 75.2 tempF.
    assert_relative_eq!("68F".parse::<Temperature>().unwrap().as_c(), 20.0, max_relative = 1e-12);
    assert_relative_eq!("24C".parse::<Temperature>().unwrap().as_f(), 75.2, max_relative = 1e-12);
}

#[test]
fn molar_masses_agree_with_two_general_purpose_libraries() {
    // Source: Python packages molmass and periodictable (versions in the file). Tolerance 2e-4: the libraries themselves differ by up to
    // 8e-5, mostly in sulfur, and the abridged atomic weights add as much.
    let library = Library::shipped();
    let mut checked = 0;
    for row in rows(include_str!("../data/molar-masses.csv")) {
        let form = library.form(row[0]).unwrap_or_else(|error| panic!("{error}"));
        let own = form.molar_mass_g_per_mol.unwrap_or_else(|| panic!("{} has no molar mass", row[0]));
        for expected in &row[2..4] {
            assert_relative_eq!(own, expected.parse::<f64>().unwrap(), max_relative = 2e-4);
        }
        checked += 1;
    }
    assert!(checked > 120, "only {checked} forms were checked");
}

#[test]
fn hydrate_factors_agree_with_a_published_table() {
    // Source: M. Langford, Basic Photography, appendix D: to replace anhydrous sodium carbonate take 1.2 times the monohydrate or 2.7 times
    // the decahydrate; anhydrous sulfite, twice the crystals. Tolerance: half of the last printed place.
    // Source: S. Anchell, The Darkroom Cookbook, 3rd edition, 2008, page 268: 1 g of hypo crystals, 0.64 g anhydrous.
    let library = Library::shipped();
    let relations = Relations::default();
    for (from, to, factor, tolerance) in [
        ("sodium-carbonate-anhydrous", "sodium-carbonate-monohydrate", 1.2, 0.05),
        ("sodium-carbonate-anhydrous", "sodium-carbonate-decahydrate", 2.7, 0.05),
        ("sodium-sulfite-anhydrous", "sodium-sulfite-heptahydrate", 2.0, 0.05),
        ("sodium-thiosulfate-pentahydrate", "sodium-thiosulfate-anhydrous", 0.64, 0.005),
    ] {
        let (from, to) = (library.form(from).unwrap(), library.form(to).unwrap());
        let own = exchange(1.0, (&from, 1.0), (&to, 1.0), &relations).unwrap().grams;
        assert!((own - factor).abs() <= tolerance, "{} to {}: {own}, published {factor}", from.id, to.id);
    }
}

#[test]
fn a_litre_formula_halves_line_by_line_for_half_a_litre() {
    // Common practice, no source: 2, 100, 5 and 2 g per litre are 1, 50, 2.5 and 1 g for 500 mL.
    let json = good(&["scale", "mq-borax-classic", "500ml", "--json"]).json();
    let mut amounts: Vec<(String, f64)> = json["parts"][0]["items"]
        .as_array()
        .unwrap()
        .iter()
        .map(|item| (item["substance"].as_str().unwrap().to_owned(), item["amount"].as_f64().unwrap()))
        .collect();
    amounts.sort_by(|left, right| left.0.cmp(&right.0));
    let expected = [
        ("borax-decahydrate", 1.0),
        ("hydroquinone", 2.5),
        ("metol", 1.0),
        ("sodium-sulfite-anhydrous", 50.0),
    ];
    assert_eq!(amounts.len(), expected.len());
    for ((name, own), (expected_name, amount)) in amounts.iter().zip(expected) {
        assert_eq!(name, expected_name);
        assert_relative_eq!(*own, amount, max_relative = 1e-12);
    }
}

#[test]
fn metabisulfite_for_bisulfite_follows_the_reaction() {
    // Source: the reaction Na2S2O5 + H2O = 2 NaHSO3 with the molar masses of molmass (190.106 and 104.056): 0.9135 g for 1 g.
    let json =
        good(&["exchange", "10g", "sodium-bisulfite", "--for", "sodium-metabisulfite", "--json"]).json();
    assert_relative_eq!(json["result_g"].as_f64().unwrap(), 9.135, max_relative = 2e-4);
}

#[test]
fn sodium_ascorbate_is_replaced_by_the_acid_with_the_alkali_it_consumes() {
    // Source: ascorbic acid to sodium ascorbate 1.125 by mass (formula mass); P. Gainer's tables give 8.9 g acid for 10 g salt likewise.
    // One mole of acid takes one mole of sodium hydroxide: 10 g / 198.11 g/mol x 40.0 g/mol = 2.02 g (molar masses of molmass).
    let json = good(&["exchange", "10g", "sodium-ascorbate", "--for", "ascorbic-acid", "--json"]).json();
    assert_relative_eq!(json["result_g"].as_f64().unwrap(), 10.0 / 1.125, max_relative = 1e-3);
    assert_relative_eq!(json["sodium_hydroxide_g"].as_f64().unwrap(), 2.02, max_relative = 2e-3);
}

#[test]
fn every_citation_key_of_a_substance_is_in_the_table_of_sources() {
    let library = Library::shipped();
    let sources = library.sources();
    let (all, findings) = library.all_substances().unwrap();
    assert!(findings.is_empty(), "{findings:?}");
    let mut keys = Vec::new();
    for form in all.iter().flat_map(|substance| &substance.forms) {
        keys.extend(form.assay_source.iter().chain(&form.density_source).cloned());
        keys.extend(form.solubility.iter().map(|curve| curve.source.clone()));
        keys.extend(form.acid_constants.iter().map(|constant| constant.source.clone()));
        keys.extend(form.heat_of_solution.iter().map(|heat| heat.source.clone()));
        keys.push(form.hazards.source.clone());
        assert!(form.parent.classes.is_some(), "{} says no classes", form.id);
        assert!(!form.parent.roles.is_empty(), "{} has no role", form.id);
    }
    assert!(keys.len() > 500);
    for key in keys {
        assert!(sources.contains_key(&key), "source key {key} is not in tables/sources.toml");
    }
}

#[test]
fn the_table_of_atomic_weights_is_read_as_toml_reads_it() {
    let text = Library::shipped().table("atomic-weights.toml").unwrap();
    let table: toml::Table = toml::from_str(text).unwrap();
    let weights = table["weights"].as_table().unwrap();
    let library = Library::shipped();
    let own: Vec<(&str, f64)> = library.weights().all().collect();
    assert_eq!(own.len(), weights.len());
    for (symbol, weight) in own {
        assert_relative_eq!(weight, weights[symbol].as_float().unwrap(), max_relative = 1e-15);
    }
    // Source: IUPAC 2021 standard atomic weights, abridged; four of them as printed there.
    for (symbol, weight) in [("Na", 22.990), ("S", 32.06), ("Br", 79.904), ("Ag", 107.87)] {
        assert_relative_eq!(library.weights().of(symbol).unwrap(), weight, max_relative = 1e-12);
    }
}
