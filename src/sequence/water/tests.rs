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

/// The plan of a litre of a formula of one's own.
fn planned(text: &str) -> Result<Plan, SequenceError> {
    let library = Library::shipped();
    let formula = crate::formula::Formula::parse(text, "own", "own.toml", &library).unwrap();
    let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
    let batch = scale(&formula, &Request::volume(Volume::from_ml(1000.0)), &relations).unwrap();
    plan(&batch.parts[0], &formula.parts[0], batch.balance)
}

fn litre_of(text: &str) -> Plan {
    planned(text).unwrap()
}

/// A formula of one's own: the head beyond the title, and its ingredients with their amounts.
fn own(kind: &str, head: &str, ingredients: &[(&str, &str)]) -> String {
    let lines =
        ingredients.iter().map(|(id, amount)| format!("[[ingredients]]\nsubstance = \"{id}\"\n{amount}\n"));
    format!(
        "format = 1\ntitle = \"T\"\nkind = \"{kind}\"\nsummary = \"s\"\nevidence = \"memory\"\n{head}\n{}",
        lines.collect::<String>()
    )
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

#[test]
fn a_file_may_not_ask_for_water_in_which_its_chemicals_fume_boil_or_spoil() {
    for (ingredients, limit) in [
        // Paraformaldehyde gives off formaldehyde.
        (&[("paraformaldehyde", "grams = 7.5"), ("sodium-sulfite-anhydrous", "grams = 30")][..], 32),
        // These decompose or fume.
        (&[("ammonium-persulfate", "grams = 25")], 30),
        (&[("hydrogen-peroxide-3", "millilitres = 100")], 30),
        (&[("ammonia-25", "millilitres = 20")], 30),
        // Caustic makes heat of its own.
        (&[("sodium-hydroxide", "grams = 20")], 30),
        (&[("sulfuric-acid", "millilitres = 5"), ("potassium-bromide", "grams = 10")], 40),
        (&[("ethanol", "millilitres = 100"), ("potassium-bromide", "grams = 10")], 35),
        // Hot, it turns green and hardens no longer.
        (&[("chrome-alum", "grams = 20")], 50),
    ] {
        let start = |celsius: i32| {
            let head = format!("[mixing]\ntemperature = {celsius}");
            planned(&own("bleach", &head, ingredients)).map(|plan| plan.start.celsius)
        };
        assert_eq!(start(limit).unwrap(), Some(f64::from(limit)), "{ingredients:?}");
        let refused = start(limit + 1);
        let unsafe_for_good = |error: &SequenceError| matches!(error, SequenceError::UnsafeTemperature { why, .. } if !why.is_empty());
        assert!(refused.as_ref().is_err_and(unsafe_for_good), "{ingredients:?}: {refused:?}");
    }
}

#[test]
fn alcohol_is_kept_from_warm_water_and_glycol_is_not() {
    let developer = |solvent: &str| {
        let agents = [("metol", "grams = 2"), ("sodium-sulfite-anhydrous", "grams = 50")];
        litre_of(&own("film-developer", "", &[agents[0], agents[1], (solvent, "millilitres = 50")])).start
    };
    // Alcohol fumes and its vapour burns; propylene glycol boils at 188 °C (handbooks, from memory) and does neither.
    for alcohol in ["ethanol", "isopropanol", "methanol"] {
        assert!(developer(alcohol).celsius.is_some_and(|celsius| celsius <= 30.0), "{alcohol}");
    }
    assert_eq!(developer("propylene-glycol").celsius, Some(50.0), "what a metol developer starts with");
}

#[test]
fn a_concentrate_without_water_leaves_room_for_what_is_poured_in() {
    let head = "solvent = \"propylene-glycol\"";
    let concentrate = |head: &str, amine: &str| {
        let lines = [("triethanolamine", amine), ("phenidone", "grams = 2")];
        litre_of(&own("film-developer", head, &lines)).start
    };
    for amine_ml in [100.0, 250.0, 450.0] {
        let start = concentrate(head, &format!("millilitres = {amine_ml}"));
        assert!(start.millilitres + amine_ml <= 1000.0, "{start:?} and {amine_ml} mL");
        assert!(start.millilitres >= 500.0, "half a litre at least, in which the solids dissolve: {start:?}");
    }
    // How warm glycol is made is the source's to say: without a word of it there is no figure.
    let unsaid = concentrate(head, "millilitres = 100");
    assert_eq!((unsaid.celsius, unsaid.from_file), (None, false));
    let said = concentrate(&format!("{head}\n[mixing]\ntemperature = 70"), "millilitres = 100");
    assert_eq!((said.celsius, said.from_file), (Some(70.0), true));
}

#[test]
fn a_strong_stock_of_carbonate_starts_with_water_that_dissolves_it_and_leaves_room() {
    // 750 g of potassium carbonate in a litre: 109.6 g dissolve in 100 g of water at 20 °C (CRC Handbook, in its file), so it takes 684 g;
    // the finished litre weighs about 1.54 kg (from memory) and holds 790 g of water, and no more has room.
    let start =
        litre_of(&own("film-developer", "", &[("potassium-carbonate-anhydrous", "grams = 750")])).start;
    assert!((684.0..790.0).contains(&start.millilitres), "{start:?}");
}

#[test]
fn what_needs_no_heat_starts_lukewarm() {
    // Ferricyanide and bromide dissolve easily; hotter water would only have to cool again.
    let bleach =
        own("bleach", "", &[("potassium-ferricyanide", "grams = 20"), ("potassium-bromide", "grams = 10")]);
    let celsius = litre_of(&bleach).start.celsius.unwrap();
    assert!((20.0..=35.0).contains(&celsius), "{celsius}");
}

#[test]
fn a_fixer_starts_with_water_enough_for_its_salts_and_leaves_room_for_the_rest() {
    // Handbooks begin a litre of fixer with 600 mL (from memory); a quarter at least is left for rinsing and for the mark.
    let start_ml = litre_of(FIXER).start.millilitres;
    assert!((500.0..=750.0).contains(&start_ml), "{start_ml}");
}

#[test]
fn selenium_goes_into_sulfite_that_is_very_hot_and_does_not_boil() {
    // It dissolves in hot sulfite only; water boils at 100 °C, lower up the hill, and spits before.
    let lines = [("selenium", "grams = 5"), ("sodium-sulfite-anhydrous", "grams = 150")];
    let celsius = litre_of(&own("toner", "", &lines)).start.celsius.unwrap();
    assert!((75.0..=95.0).contains(&celsius), "{celsius}");
}

#[test]
fn what_chills_by_an_unknown_number_of_moles_is_not_counted_as_some() {
    // A heat is told per mole: without a molar mass, or without grams, no kelvin can be told of it.
    let text = own("fixer", "", &[("ammonium-chloride", "grams = 50")]);
    let library = Library::shipped();
    let formula = crate::formula::Formula::parse(&text, "own", "own.toml", &library).unwrap();
    let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
    let batch = scale(&formula, &Request::volume(Volume::from_ml(1000.0)), &relations).unwrap();
    let item = batch.parts[0].items[0].clone();
    assert!(chill_k(&item, 500.0) > 6.0);
    let unmeasured = Item { grams: None, ..item.clone() };
    let mut form = (*item.form).clone();
    form.molar_mass_g_per_mol = None;
    let unnamed = Item { form: Rc::new(form), ..item };
    for unknown in [unmeasured, unnamed] {
        assert!(chill_k(&unknown, 500.0).abs() < 1e-12, "{unknown:?}");
    }
}

#[test]
fn alum_and_borax_each_start_warm_for_they_dissolve_slowly_in_the_cold() {
    for salt in ["potassium-alum-dodecahydrate", "borax-decahydrate"] {
        let start = litre_of(&own("bleach", "", &[(salt, "grams = 20")])).start;
        assert!(start.celsius.is_some_and(|celsius| celsius >= 40.0), "{salt}: {start:?}");
        assert!(start.why.contains("slowly in cold water"), "{salt}: {start:?}");
    }
}
