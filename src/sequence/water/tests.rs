//! How much water a batch begins with, and how warm it is.

use std::sync::Arc;

use super::*;
use crate::library::Library;
use crate::quantity::Volume;
use crate::scale::exchange::Relations;
use crate::scale::{Request, scale};
use crate::sequence::tests::{items, own, planned};
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

/// How a litre of these starts.
fn start_of(kind: &str, head: &str, ingredients: &[(&str, &str)]) -> Start {
    litre_of(&own(kind, head, ingredients)).start
}

fn litre_of(text: &str) -> Plan {
    planned(text).unwrap()
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
        let form = Arc::clone(&formula.parts[0].ingredients[0].form);
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
        (2.5, 2.0),
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
    let unnamed = Item { form: Arc::new(form), ..item };
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

#[test]
fn a_start_leaves_room_for_what_is_poured_in_and_for_the_rinse() {
    // What is poured in beside the start, mL, with what the solids take up (0.5 mL a gram, 0.3 of the dense ones: densities from memory),
    // leaves a twentieth of the litre to rinse and to make up with, and no more than a tenth where the start takes all there is room for.
    let hypo_and_amine =
        [("ammonium-thiosulfate-60", "millilitres = 400"), ("sodium-sulfite-anhydrous", "grams = 10")];
    let apart = [("sodium-hydroxide", "grams = 100"), ("potassium-bromide", "grams = 200")];
    let acid = [("sulfuric-acid", "millilitres = 100"), ("potassium-bromide", "grams = 100")];
    for (kind, ingredients, poured_ml, swelling_ml) in [
        // A rapid fixer is mostly its liquid.
        ("fixer", &hypo_and_amine[..], 400.0, 3.0),
        // Caustic is dissolved in 300 mL of its own at most, so that the main vessel has room for it.
        ("bleach", &apart[..], 300.0, 130.0),
        // What makes heat goes into all the water there is: it stays cooler.
        ("bleach", &[("sodium-hydroxide", "grams = 200")][..], 0.0, 60.0),
        ("bleach", &acid[..], 100.0, 50.0),
        ("bleach", &[("potassium-carbonate-anhydrous", "grams = 750")][..], 0.0, 225.0),
    ] {
        let start = start_of(kind, "", ingredients);
        let free_ml = 1000.0 - start.millilitres - poured_ml - swelling_ml;
        let least_ml = 0.05 * (start.millilitres + free_ml) - 1e-9;
        let is_limited = start.millilitres < 590.0 || poured_ml < 200.0;
        assert!(free_ml >= least_ml, "{ingredients:?}: {start:?}, {free_ml} mL left");
        assert!(
            !is_limited || free_ml <= 2.0 * least_ml + 10.0,
            "{ingredients:?}: {start:?}, {free_ml} mL left"
        );
    }
}

#[test]
fn a_developer_starts_with_seven_tenths_and_other_baths_with_six() {
    // 70 to 75 % and 60 %, as the trade begins them; common practice, no source.
    let metol = [
        ("metol", "grams = 2"),
        ("sodium-sulfite-anhydrous", "grams = 20"),
        ("borax-decahydrate", "grams = 2"),
    ];
    assert!((700.0..=750.0).contains(&start_of("film-developer", "", &metol).millilitres));
    let bromide = [("potassium-ferricyanide", "grams = 20"), ("potassium-bromide", "grams = 10")];
    assert!((580.0..=620.0).contains(&start_of("bleach", "", &bromide).millilitres));
    // A ready solution of acid makes no heat to speak of, nor does an acid of which none is known: no more water than usual.
    for acid in ["millilitres = 50\nstrength = \"10 % w/v\"", "grams = 5"] {
        let id = if acid.starts_with('g') { "sulfamic-acid" } else { "sulfuric-acid" };
        let start = start_of("bleach", "", &[(id, acid), ("potassium-bromide", "grams = 10")]);
        assert!((580.0..=620.0).contains(&start.millilitres), "{acid}: {start:?}");
    }
}

#[test]
fn liquids_take_their_volume_and_solids_swell_the_water() {
    // 104.46 g of acetic acid are 100 mL (1.0446 g/mL, CRC Handbook, in its file); without a density a gram counts as a millilitre.
    let mut poured = items(&[("acetic-acid", "grams = 104.46"), ("potassium-bromide", "grams = 100")]);
    assert!((liquids_ml(&poured) - 100.0).abs() < 0.1, "{}", liquids_ml(&poured));
    assert!(liquids_ml(&poured[1..]).abs() < 1e-12, "crystals are no liquid");
    let mut unknown = (*poured[0].form).clone();
    unknown.density_g_per_ml = None;
    poured[0].form = Arc::new(unknown);
    assert!((liquids_ml(&poured) - 104.46).abs() < 1e-6, "{}", liquids_ml(&poured));
    // 240 g/L of hypo crystals swell water by 0.46 mL a gram, 100 g/L of sulfite by 0.2 (densities from memory): never taken for less.
    let hypo =
        items(&[("sodium-thiosulfate-pentahydrate", "grams = 240"), ("acetic-acid", "millilitres = 50")]);
    assert!((110.0..=130.0).contains(&swelling_ml(&hypo)), "{}", swelling_ml(&hypo));
    let sulfite = items(&[("sodium-sulfite-anhydrous", "grams = 100")]);
    assert!((20.0..=35.0).contains(&swelling_ml(&sulfite)), "{}", swelling_ml(&sulfite));
}

#[test]
fn the_water_of_the_file_still_leaves_room_for_what_is_poured_in() {
    let start = |head: &str, ingredients: &[(&str, &str)]| start_of("bleach", head, ingredients).millilitres;
    let amine = [("triethanolamine", "millilitres = 300"), ("potassium-bromide", "grams = 10")];
    assert!((start("[mixing]\nwater = 650", &amine) - 650.0).abs() < 1e-9, "there is room for it");
    assert!((start("[mixing]\nwater = 900", &amine) - 700.0).abs() < 1e-9, "300 mL are poured in");
    let much = [("triethanolamine", "millilitres = 900"), ("potassium-bromide", "grams = 10")];
    assert!(start("[mixing]\nwater = 500", &much) <= 100.0, "more than a litre goes into no litre");
    // Caustic brings the water in which it is dissolved apart: 8 parts, at most three tenths of the litre.
    let caustic = [("sodium-hydroxide", "grams = 50"), ("potassium-bromide", "grams = 10")];
    assert!((start("[mixing]\nwater = 900", &caustic) - 700.0).abs() < 1e-9);
}

#[test]
fn what_the_file_says_of_its_water_is_told_as_its_own() {
    let bromide = [("potassium-bromide", "grams = 10")];
    for (head, from_file) in
        [("", false), ("[mixing]\ntemperature = 25", true), ("[mixing]\nwater = 500", true)]
    {
        assert_eq!(start_of("bleach", head, &bromide).from_file, from_file, "{head}");
    }
}

#[test]
fn iodine_goes_into_a_strong_solution_of_iodide_where_nothing_else_wants_water() {
    // Iodine dissolves quickly in strong iodide, hardly in water (0.03 g in 100 g); common practice, no source.
    let start = |ingredients: &[(&str, &str)]| start_of("bleach", "", ingredients).millilitres;
    let (iodine, iodide) = (("iodine", "grams = 5"), ("potassium-iodide", "grams = 20"));
    assert!((80.0..=120.0).contains(&start(&[iodine, iodide])), "{}", start(&[iodine, iodide]));
    let weak = [("iodine", "grams = 1"), ("potassium-iodide", "grams = 3")];
    assert!((12.0..=18.0).contains(&start(&weak)), "{}", start(&weak));
    let other = ("potassium-bromide", "grams = 20");
    let ready = ("potassium-iodide", "millilitres = 100\nstrength = \"20 % w/v\"");
    for usual in [&[iodine][..], &[iodide], &[iodine, other], &[iodine, iodide, other], &[iodine, ready]] {
        assert!(start(usual) >= 500.0, "{usual:?}: {}", start(usual));
    }
}

#[test]
fn water_enough_is_what_the_solubility_asks_and_a_tenth_more() {
    let need = |id: &str, celsius| least_water_ml(&items(&[(id, "grams = 65.02")])[0], celsius);
    // 65.02 g of potassium bromide dissolve in 100 g of water at 20 °C (CRC Handbook, in its file).
    assert!(need("potassium-bromide", 20.0).is_some_and(|ml| (ml - 110.0).abs() < 1e-6));
    // Where no data reach, nothing is told; nor of a hydrate whose data count the anhydrous salt, nor of what reacts with the sulfite.
    assert_eq!(need("potassium-bromide", 90.0), None);
    let bromide = items(&[("potassium-bromide", "grams = 65.02")]).remove(0);
    let with = |change: &dyn Fn(&mut crate::substance::Form)| {
        let mut form = (*bromide.form).clone();
        change(&mut form);
        least_water_ml(&Item { form: Arc::new(form), ..bromide.clone() }, 20.0)
    };
    assert!(with(&|_| ()).is_some());
    let sparingly = with(&|form| form.solubility[0].points = vec![(20.0, 0.5)]);
    assert!(sparingly.is_some_and(|ml| (ml - 65.02 / 0.5 * 110.0).abs() < 1e-6), "{sparingly:?}");
    assert_eq!(with(&|form| form.solubility[0].points = vec![(20.0, 0.0)]), None, "it never dissolves");
    let anhydrous = |form: &mut crate::substance::Form| {
        form.solubility[0].basis = crate::substance::SolubilityBasis::Anhydrous;
    };
    assert!(with(&anhydrous).is_some(), "the anhydrous salt itself");
    assert_eq!(with(&|form| (form.crystal_water = 2.0, anhydrous(form)).1), None);
    for agent in ["hydroquinone", "selenium", "iodine"] {
        assert_eq!(need(agent, 20.0), None, "{agent}");
    }
    let measured = items(&[("potassium-bromide", "millilitres = 50\nstrength = \"10 % w/v\"")]);
    assert_eq!(least_water_ml(&measured[0], 20.0), None, "it is dissolved already");
}

#[test]
fn an_oxidiser_starts_as_warm_as_it_has_to_dissolve_in_the_water_that_it_chills() {
    // Potassium dichromate: 12.23 g in 100 g of water at 20 °C, 15.07 at 25, 18.34 at 30, 26.26 at 40; 66.4 kJ/mol, 294.18 g/mol (CRC
    // Handbook, in its file). Acid would have the start at 20 °C.
    let acid = ("sulfuric-acid", "millilitres = 5");
    let start = |head: &str, grams: u32| {
        start_of("bleach", head, &[("potassium-dichromate", &format!("grams = {grams}")), acid])
    };
    assert_eq!(start("", 20).celsius, Some(20.0));
    // 100 g chill 900 mL by 6 K: at 25 °C, chilled to 19, they would need 920 mL and more; at 30 °C, chilled to 24, some 760 mL.
    let hundred = start("", 100);
    assert_eq!(hundred.celsius, Some(30.0), "{hundred:?}");
    assert!(hundred.millilitres >= 100.0 / 14.5 * 100.0, "{hundred:?}");
    assert!(hundred.why.contains("chills"), "{hundred:?}");
    // In 300 mL, as a file may have it, 40 g chill by 7 K: chilled from 30 °C to 23 they need 320 mL, from 35 °C to 28 only 260.
    assert_eq!(start("[mixing]\nwater = 300", 40).celsius, Some(35.0));
    assert_eq!(start("[mixing]\nwater = 900", 40).celsius, Some(20.0));
    // What is dissolved apart asks nothing of the main vessel: permanganate beside strong acid.
    let permanganate = start_of("bleach", "", &[("potassium-permanganate", "grams = 60"), acid]);
    assert_eq!(permanganate.celsius, Some(20.0), "{permanganate:?}");
}

#[test]
fn the_start_is_as_warm_as_what_goes_in_bears() {
    let sulfite = ("sodium-sulfite-anhydrous", "grams = 30");
    let hypo = ("sodium-thiosulfate-pentahydrate", "grams = 200");
    let alum = ("potassium-alum-dodecahydrate", "grams = 20");
    let carbonate =
        |grams: &'static str| [("metol", "grams = 2"), sulfite, ("sodium-carbonate-anhydrous", grams)];
    for (kind, ingredients, range, why) in [
        // It gives off formaldehyde above 32 °C.
        (
            "film-developer",
            &[("hydroquinone", "grams = 5"), ("paraformaldehyde", "grams = 7"), sulfite][..],
            25..=32,
            "formaldehyde",
        ),
        ("stop-bath", &[("formaldehyde-37", "millilitres = 20")], 15..=22, "vapour"),
        // Alkalis that heat their water by themselves.
        ("bleach", &[("sodium-hydroxide", "grams = 20")], 5..=20, "heat of its own"),
        ("film-developer", &carbonate("grams = 201"), 5..=20, "heat of its own"),
        ("film-developer", &carbonate("grams = 200"), 45..=52, "dissolve the agents"),
        // A toner that works by the sulfur which alum sets free in hot hypo.
        ("toner", &[hypo, alum], 50..=70, "on purpose"),
        // Fixers: crystals chill, the dry salt does not, and a liquid neither.
        ("fixer", &[hypo], 45..=52, "chills"),
        ("fixer", &[("sodium-thiosulfate-anhydrous", "grams = 100"), sulfite], 20..=27, "dry salt"),
        ("fixer", &[("ammonium-thiosulfate-60", "millilitres = 200"), sulfite], 20..=27, "liquid already"),
        // What decomposes or fumes, each by itself.
        ("bleach", &[("ammonium-persulfate", "grams = 20")], 10..=20, "decomposes or fumes"),
        ("bleach", &[("hydrogen-peroxide-3", "millilitres = 100")], 10..=20, "decomposes or fumes"),
        ("bleach", &[("ammonia-25", "millilitres = 20")], 10..=20, "decomposes or fumes"),
        ("bleach", &[("iodine", "grams = 2"), ("potassium-iodide", "grams = 20")], 15..=24, "violet"),
        // Sulfide, silver and gold are mixed at the temperature of the room.
        ("toner", &[("sodium-sulfide-nonahydrate", "grams = 20")], 18..=24, ""),
        ("sensitizer", &[("silver-nitrate", "grams = 20")], 18..=24, ""),
        ("toner", &[("tetrachloroauric-acid-trihydrate", "grams = 1")], 18..=24, ""),
        // Developers.
        (
            "film-developer",
            &[("ascorbic-acid", "grams = 10"), ("phenidone", "grams = 0.2")],
            25..=35,
            "ascorbic",
        ),
        (
            "film-developer",
            &[("pyrogallol", "grams = 10"), ("sodium-bisulfite", "grams = 10")],
            25..=35,
            "sulfur dioxide",
        ),
        (
            "film-developer",
            &[("pyrogallol", "grams = 10"), ("sodium-bisulfite", "grams = 10"), sulfite],
            45..=52,
            "agents",
        ),
        // Hot, chrome alum turns green and no longer hardens.
        ("stop-bath", &[("chrome-alum", "grams = 30")], 35..=45, "green"),
        // Bisulfite and acetic acid fume, and do not beside alum, which wants warmth.
        ("stop-bath", &[("sodium-bisulfite", "grams = 30")], 15..=22, "fumes less"),
        ("stop-bath", &[("acetic-acid-28", "millilitres = 50")], 15..=22, "fumes less"),
        ("stop-bath", &[("acetic-acid-28", "millilitres = 50"), alum], 45..=52, "slowly in cold"),
        ("stop-bath", &[("sodium-bisulfite", "grams = 30"), alum], 45..=52, "slowly in cold"),
        // Gelatin swells evenly in the cold; acid dissolves anyhow.
        ("bleach", &[("gelatin", "grams = 5"), ("citric-acid-monohydrate", "grams = 5")], 15..=22, "swells"),
        (
            "bleach",
            &[("gelatin", "grams = 5"), ("citric-acid-monohydrate", "grams = 5"), alum],
            45..=52,
            "slowly in cold",
        ),
        ("bleach", &[("citric-acid-monohydrate", "grams = 5")], 15..=22, ""),
        ("bleach", &[("citric-acid-monohydrate", "grams = 5"), alum], 45..=52, "slowly in cold"),
    ] {
        let start = start_of(kind, "", ingredients);
        #[allow(clippy::cast_possible_truncation, reason = "whole degrees")]
        let celsius = start.celsius.unwrap() as i32;
        assert!(range.contains(&celsius), "{ingredients:?}: {start:?}");
        assert!(
            start.why.contains(why) && start.why.is_empty() == why.is_empty(),
            "{ingredients:?}: {start:?}"
        );
    }
}

#[test]
fn a_strong_acid_is_said_to_heat_only_where_it_is_known_to() {
    let why = |ingredients: &[(&str, &str)]| start_of("bleach", "", ingredients).why;
    let sulfuric = ("sulfuric-acid", "millilitres = 5");
    let hydrochloric = ("hydrochloric-acid-37", "millilitres = 5");
    let solid = ("sulfamic-acid", "grams = 5");
    for (acids, words) in [
        (&[sulfuric][..], "heats the water"),
        (&[sulfuric, solid], "heats the water"),
        (&[hydrochloric], "fumes less"),
        (&[hydrochloric, solid], "fumes less"),
        (&[solid], "cool water only"),
    ] {
        assert!(why(acids).contains(words), "{acids:?}: {}", why(acids));
    }
}

#[test]
fn what_is_dissolved_apart_and_what_is_not() {
    let sulfite = ("sodium-sulfite-anhydrous", "grams = 15");
    let hypo = ("sodium-thiosulfate-pentahydrate", "grams = 240");
    let bromide = ("potassium-bromide", "grams = 5");
    let acid = ("acetic-acid", "millilitres = 15");
    for (which, expected, others) in [
        // Caustic beside anything, as a solid; alone it has the vessel to itself.
        (("sodium-hydroxide", "grams = 20"), true, &[bromide][..]),
        (("sodium-hydroxide", "grams = 20"), false, &[]),
        (("sodium-hydroxide", "millilitres = 20\nstrength = \"10 % w/v\""), false, &[bromide]),
        // Alum where hypo, sulfite or bisulfite waits for it, up to 60 g in a litre.
        (("potassium-alum-dodecahydrate", "grams = 60"), true, &[sulfite]),
        (("potassium-alum-dodecahydrate", "grams = 61"), false, &[sulfite]),
        (("potassium-alum-dodecahydrate", "grams = 20"), true, &[("sodium-bisulfite", "grams = 15")]),
        (("potassium-alum-dodecahydrate", "grams = 20"), true, &[hypo, sulfite]),
        (("potassium-alum-dodecahydrate", "grams = 20"), false, &[bromide]),
        // With hypo alone it is to release sulfur: into the hot hypo itself.
        (("potassium-alum-dodecahydrate", "grams = 20"), false, &[hypo]),
        // Chrome alum where acid or hypo is.
        (("chrome-alum", "grams = 20"), true, &[acid]),
        (("chrome-alum", "grams = 20"), true, &[hypo, sulfite]),
        (("chrome-alum", "grams = 20"), false, &[bromide]),
        // Permanganate meets strong acid only as a solution.
        (("potassium-permanganate", "grams = 2"), true, &[("sulfuric-acid", "millilitres = 5")]),
        (("potassium-permanganate", "grams = 2"), false, &[bromide]),
        // Acid of more than half strength is let down before it meets sulfite or hypo; of 28 % it is weak enough, crystals are no liquid.
        (acid, true, &[sulfite]),
        (acid, true, &[hypo]),
        (acid, false, &[bromide]),
        (("acetic-acid-28", "millilitres = 50"), false, &[sulfite]),
        (("citric-acid-monohydrate", "grams = 10"), false, &[sulfite]),
        // In a fixer, a solid acid goes into the sulfite first.
        (("citric-acid-monohydrate", "grams = 10"), true, &[hypo, sulfite]),
        (("citric-acid-monohydrate", "grams = 10"), false, &[hypo]),
    ] {
        let all: Vec<(&str, &str)> = [which].iter().chain(others).copied().collect();
        let items = items(&all);
        let contents = Contents::of(&items);
        assert_eq!(dissolves_apart_from(&items[0], &contents), expected, "{all:?}");
    }
}

#[test]
fn what_is_dissolved_apart_has_water_enough_and_leaves_the_batch_its_own() {
    // Eight parts keep caustic and alum in hand, twenty keep permanganate dissolved when it cools (6.4 g in 100 g at 20 °C, twice that at 40), three let
    // acid down; at most the share of the batch that stands beside them; up to the next mark of a cylinder. Common practice, no source.
    for (id, amount, ml) in [
        ("sodium-hydroxide", "grams = 20", 160.0),
        ("sodium-hydroxide", "grams = 100", 300.0),
        ("potassium-alum-dodecahydrate", "grams = 15", 120.0),
        ("potassium-alum-dodecahydrate", "grams = 40", 200.0),
        ("chrome-alum", "grams = 12", 100.0),
        ("potassium-permanganate", "grams = 2", 40.0),
        ("acetic-acid", "millilitres = 20", 60.0),
        ("acetic-acid", "millilitres = 60", 100.0),
        ("sodium-sulfite-anhydrous", "grams = 15", 100.0),
        // To the next mark: of 1 mL below 20 mL, of 5 mL below 100 mL, of 10 mL above.
        ("sodium-hydroxide", "grams = 2.35", 19.0),
        ("sodium-hydroxide", "grams = 2.6", 25.0),
        ("sodium-hydroxide", "grams = 12.2", 100.0),
        ("sodium-hydroxide", "grams = 12.6", 110.0),
        ("sodium-hydroxide", "grams = 2.5", 20.0),
        ("sodium-hydroxide", "grams = 12.5", 100.0),
        ("sodium-hydroxide", "grams = 0.05", 1.0),
    ] {
        let found = apart_water_ml(&items(&[(id, amount)])[0], 1000.0);
        assert!((found - ml).abs() < 1e-6, "{id} {amount}: {found}");
    }
    // More than eight parts where that is too little to dissolve it: 400 g of caustic want some 410 mL at 20 °C (CRC Handbook, in its file),
    // but never more than half of the batch.
    let much =
        |grams: u32| apart_water_ml(&items(&[("sodium-hydroxide", &format!("grams = {grams}"))])[0], 1000.0);
    let soluble = items(&[("sodium-hydroxide", "grams = 400")])[0].form.solubility_as_weighed(20.0).unwrap();
    assert!(
        (400.0 / soluble * 100.0..=400.0 / soluble * 125.0).contains(&much(400)),
        "{} {soluble}",
        much(400)
    );
    assert!((much(900) - 500.0).abs() < 1e-6, "{}", much(900));
    // Alum dissolves warm: 60 g in 200 mL of 50 °C, as chrome alum and permanganate do at 40 °C.
    let permanganate = apart_water_ml(&items(&[("potassium-permanganate", "grams = 40")])[0], 1000.0);
    let soluble =
        items(&[("potassium-permanganate", "grams = 40")])[0].form.solubility_as_weighed(40.0).unwrap();
    assert!((40.0 / soluble * 100.0..=400.0).contains(&permanganate), "{permanganate} {soluble}");
    let alum = apart_water_ml(&items(&[("potassium-alum-dodecahydrate", "grams = 58")])[0], 1000.0);
    assert!((alum - 200.0).abs() < 1e-6, "{alum}");
    // The water that the recipe names goes before all.
    let named = Item { apart_ml: Some(37.0), ..items(&[("sodium-hydroxide", "grams = 20")]).remove(0) };
    assert!((apart_water_ml(&named, 1000.0) - 37.0).abs() < 1e-12);
}

#[test]
fn what_shares_a_second_vessel_is_in_a_fixer_alone() {
    let all = [
        ("sodium-thiosulfate-pentahydrate", "grams = 240"),
        ("sodium-sulfite-anhydrous", "grams = 15"),
        ("citric-acid-monohydrate", "grams = 10"),
    ];
    let toner = [
        ("sodium-thiosulfate-pentahydrate", "grams = 240"),
        ("potassium-alum-dodecahydrate", "grams = 30"),
        ("silver-nitrate", "grams = 1"),
        ("sodium-chloride", "grams = 2"),
    ];
    let shared = |ingredients: &[(&str, &str)]| -> Vec<Option<SecondVessel>> {
        let items = items(ingredients);
        let contents = Contents::of(&items);
        items.iter().map(|item| second_vessel(item, &contents)).collect()
    };
    let both = Some(SecondVessel::SulfiteAndAcid);
    assert_eq!(shared(&all), [None, both, both]);
    assert_eq!(shared(&all[1..]), [None, None], "no hypo that the acid could harm");
    assert_eq!(shared(&[all[0], all[1], ("acetic-acid-28", "millilitres = 50")]), [None, None, None]);
    let silver = Some(SecondVessel::HalideAndSilver);
    assert_eq!(shared(&toner), [None, None, silver, silver]);
    assert_eq!(shared(&[toner[0], toner[1], toner[3]]), [None; 3], "no silver to precipitate");
    assert_eq!(shared(&[toner[0], toner[2], toner[3]]), [None; 3], "no hot toner");
    // The water of the second vessel is kept free in the first.
    let liquid = ("ammonium-thiosulfate-60", "millilitres = 300");
    let start = start_of("fixer", "", &[liquid, all[1], all[2]]);
    assert!(start.millilitres <= 700.0 - 130.0, "{start:?}");
}

#[test]
fn alcohol_goes_into_cool_water_and_what_nobody_measured_asks_for_no_warmth() {
    let cool =
        start_of("bleach", "", &[("ethanol", "millilitres = 100"), ("potassium-bromide", "grams = 10")]);
    assert!(cool.celsius.is_some_and(|celsius| (15.0..=22.0).contains(&celsius)), "{cool:?}");
    // A solubility that nobody measured says nothing against the usual start.
    let dichromate = items(&[("potassium-dichromate", "grams = 100")]).remove(0);
    let mut form = (*dichromate.form).clone();
    form.solubility.clear();
    let unknown = Item { form: Arc::new(form), ..dichromate.clone() };
    assert_eq!(warm_enough(&[&unknown], 20.0, 50.0, 500.0), None);
    assert!(warm_enough(&[&dichromate], 20.0, 50.0, 500.0).is_some_and(|celsius| celsius > 20.0));
    assert_eq!(warm_enough(&[&dichromate], 20.0, 22.0, 500.0), None, "no warmer than is safe");
    let least = warm_enough(&[&dichromate], 20.0, 50.0, 500.0).unwrap();
    assert_eq!(warm_enough(&[&dichromate], 20.0, least, 500.0), Some(least), "as warm as is safe");
}
