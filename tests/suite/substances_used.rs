//! Every shipped substance stands in a formula, or is kept for a reason that is written here.

use std::collections::{BTreeMap, BTreeSet};

use soupcon::library::Library;

/// Substances of no formula, and what for. A substance that comes into a formula leaves this list.
const KEPT: &[(&str, &str)] = &[
    ("calcium-hydroxide", "pH standard near 12.5; the model of pH is held against it"),
    ("dimezone", "sold in place of the other pyrazolidones; told apart from them"),
    ("dtpa", "sequestrant for hard water"),
    ("dtpa-pentasodium", "sequestrant for hard water, as sold"),
    ("ethylene-glycol", "antifreeze, taken for propylene glycol: the poison must be told"),
    ("glutaraldehyde", "hardener of bought film developers: its danger must be told"),
    ("glycerol", "stands in the darkroom, and catches fire with permanganate"),
    ("isopropanol", "solvent of percent solutions of phenidone"),
    ("monosodium-phosphate", "sold in place of the potassium salt"),
    ("p-aminophenol", "the base; exchanged for its hydrochloride"),
    ("potassium-chloride", "what the electrode of a pH meter is kept in; reference of the pH model"),
    ("potassium-ferrocyanide", "mistaken for ferricyanide: bleaches nothing"),
    ("potassium-hydrogen-tartrate", "pH standard near 3.6; the model of pH is held against it"),
    ("potassium-persulfate", "sold in place of the ammonium salt"),
    ("potassium-sulfite", "exchanged for sodium sulfite"),
    ("potassium-tetroxalate", "pH standard near 1.7; the model of pH is held against it"),
    ("sodium-bisulfite", "exchanged for metabisulfite; what is sold under its name must be told"),
    ("sodium-bromide", "exchanged for potassium bromide"),
    ("sodium-dithionite", "fogging agent of bought reversal kits: heats itself when damp"),
    ("sodium-erythorbate", "sold in place of ascorbic acid"),
    ("sodium-hypochlorite", "household bleach stands in many a darkroom: chlorine and worse"),
    ("sodium-selenite", "in bought selenium toners: its poison must be told"),
    ("sodium-tetrachloroaurate", "gold chloride as often sold"),
    ("sugar", "stands in the darkroom, and burns with oxidisers; slows a first bath"),
    ("trisodium-phosphate", "alkali of older books; no formula of it could be read yet"),
    ("water", "the solvent"),
];

#[test]
fn every_substance_stands_in_a_formula_or_is_kept_for_a_reason() {
    let library = Library::shipped();
    let mut used = BTreeSet::new();
    for found in library.formulas().unwrap().0 {
        for part in found.formula.parts {
            used.extend(part.ingredients.iter().map(|own| own.form.id.clone()));
            used.extend(part.solvent.iter().map(|own| own.id.clone()));
        }
    }
    let kept: BTreeMap<&str, &str> = KEPT.iter().copied().collect();
    assert_eq!(kept.len(), KEPT.len(), "a substance stands twice in the list");
    let ids = library.substance_ids().unwrap();
    for id in &ids {
        let substance = library.substance(id).unwrap().unwrap_or_else(|| panic!("{id}"));
        let stands = substance.forms.iter().any(|form| used.contains(&form.id));
        assert_ne!(stands, kept.contains_key(id.as_str()), "{id}: in a formula: {stands}");
    }
    for (id, reason) in kept {
        assert!(ids.iter().any(|own| own == id), "{id} is no substance");
        assert!(reason.len() > 8, "{id}");
    }
}
