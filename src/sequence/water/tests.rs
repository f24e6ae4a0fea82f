//! How much water a batch begins with, and how warm it is.

use std::rc::Rc;

use super::*;
use crate::library::Library;
use crate::quantity::Volume;
use crate::scale::exchange::Relations;
use crate::scale::{Request, scale};
use crate::sequence::{Action, Plan, plan};

/// The plan of a litre of the first part.
fn litre(id: &str) -> Plan {
    let library = Library::shipped();
    let formula = library.formula(id).unwrap().formula;
    let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
    let batch = scale(&formula, &Request::volume(Volume::from_ml(1000.0)), &relations).unwrap();
    plan(&batch.parts[0], &formula.parts[0], batch.balance).unwrap()
}

/// Millilitres and °C of what is dissolved apart.
fn apart(id: &str, form: &str) -> Option<(Option<f64>, Option<f64>)> {
    let plan = litre(id);
    let is_it = |own: &&crate::sequence::Step| {
        own.action == Action::DissolveApart && own.form.as_ref().is_some_and(|own| own.id == form)
    };
    plan.steps.iter().find(is_it).map(|own| (own.water_ml, own.celsius))
}

/// The same of a formula of one's own.
fn litre_of(text: &str) -> Plan {
    let library = Library::shipped();
    let formula = crate::formula::Formula::parse(text, "own", "own.toml", &library).unwrap();
    let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
    let batch = scale(&formula, &Request::volume(Volume::from_ml(1000.0)), &relations).unwrap();
    plan(&batch.parts[0], &formula.parts[0], batch.balance).unwrap()
}

// All common practice, no source, where none is named.

#[test]
fn alum_is_dissolved_apart_where_sulfite_or_hypo_waits_for_it_and_there_is_room() {
    let alum = "potassium-alum-dodecahydrate";
    // Eight parts of warm water: 15 g in 120 mL.
    assert_eq!(apart("acid-hardening-alum-boric-fixer", alum), Some((Some(120.0), Some(50.0))));
    // More than 60 g in a litre has no room, and without sulfite and hypo nothing asks for it.
    assert_eq!(apart("acid-alum-hardener-stock-1916", alum), None);
    assert_eq!(apart("alum-sulfuric-clearing-bath", alum), None);
}

#[test]
fn chrome_alum_is_dissolved_apart_and_never_hot_where_hypo_waits_for_it() {
    let (_, celsius) = apart("thiosulfate-chrome-alum-hardening-fixer", "chrome-alum").unwrap();
    assert_eq!(celsius, Some(40.0));
    assert_eq!(apart("chrome-alum-hardening-stop-bath", "chrome-alum"), None);
}

const FIXER: &str = "format = 1\ntitle = \"T\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"sodium-thiosulfate-pentahydrate\"\ngrams = 240\n";

#[test]
fn hypo_in_crystals_starts_hot_for_it_chills_its_water() {
    // Fixers of the handbooks are mixed in water of 125 °F, 52 °C; common practice, no source.
    assert_eq!(litre_of(FIXER).start.celsius, Some(50.0));
    assert!(litre_of(FIXER).start.why.contains("chills"));
    // The anhydrous salt does not chill.
    let anhydrous = FIXER.replace("thiosulfate-pentahydrate", "thiosulfate-anhydrous");
    assert_eq!(litre_of(&anhydrous).start.celsius, Some(25.0));
}

#[test]
fn a_temperature_of_the_file_keeps_the_reason_of_the_derived_one_only_near_it() {
    // Hypo is derived to start at 50 °C: 6 K beside it is the same hot water, 7 K is no longer. Judgement, no source.
    for (celsius, says_why) in [(44.0, true), (43.0, false), (56.0, true), (57.0, false)] {
        let plan = litre_of(&format!("{FIXER}[mixing]\ntemperature = {celsius}\n"));
        assert_eq!(plan.start.celsius, Some(celsius));
        assert_eq!(!plan.start.why.is_empty(), says_why, "{celsius}");
    }
}

#[test]
fn what_chills_is_counted_by_the_moles_of_the_pure_chemical() {
    // 50 g of ammonium chloride, 53.491 g/mol and 14.78 kJ/mol (both from its file), in 500 mL: 13.8 kJ over 2090 J/K is 6.6 K.
    let one = |assay: f64| {
        let text = FIXER.replace("sodium-thiosulfate-pentahydrate", "ammonium-chloride").replace("240", "50");
        let library = Library::shipped();
        let formula = crate::formula::Formula::parse(&text, "own", "own.toml", &library).unwrap();
        let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
        let form = Rc::clone(&formula.parts[0].ingredients[0].form);
        let assays = vec![(form, assay)];
        let request = Request { assays, ..Request::volume(Volume::from_ml(1000.0)) };
        let batch = scale(&formula, &request, &relations).unwrap();
        chill_k(&batch.parts[0].items[0], 500.0)
    };
    assert!((one(1.0) - 6.61).abs() < 0.05, "{}", one(1.0));
    // Twice the product of half the strength chills by the same.
    assert!((one(0.5) - one(1.0)).abs() < 1e-9, "{}", one(0.5));
}

#[test]
fn what_fumes_starts_cool() {
    assert_eq!(litre("acetic-acid-stop-bath").start.celsius, Some(20.0));
    assert_eq!(litre("hydrochloric-clearing-bath-iron-prints").start.celsius, Some(20.0));
    // Hydrochloric acid hardly heats, strong sulfuric acid does.
    assert!(!litre("hydrochloric-clearing-bath-iron-prints").start.why.contains("heats"));
    assert!(litre("permanganate-tray-cleaner").start.why.contains("heats"));
}

#[test]
fn a_warm_bath_cools_before_a_strong_acid_or_a_fuming_one_beside_sulfite() {
    for (id, acid) in [
        ("iron-silver-sulfamate-sensitizer", "sulfamic-acid"),
        ("acid-alum-hardener-stock-1916", "acetic-acid-28"),
    ] {
        let plan = litre(id);
        let place = |test: &dyn Fn(&crate::sequence::Step) -> bool| plan.steps.iter().position(test);
        let cool = place(&|own| own.action == Action::Cool).unwrap();
        let enters = place(&|own| own.form.as_ref().is_some_and(|own| own.id == acid)).unwrap();
        assert!(cool < enters, "{id}");
    }
}

#[test]
fn start_water_is_rounded_down_to_what_a_jug_shows_so_that_room_is_left() {
    for (exact, shown) in [
        (19.9, 19.0),
        (20.0, 20.0),
        (24.9, 20.0),
        (199.0, 195.0),
        (209.0, 200.0),
        (1999.0, 1990.0),
        (2049.0, 2000.0),
    ] {
        assert!((round_down(exact) - shown).abs() < 1e-9, "{exact}");
    }
    assert!(round_down(1.97) <= 1.97 && round_down(1.97) > 1.8);
}
