//! The order of mixing: class by class, over the whole library against the published orders, and as laws.
//!
//! Source of the class orders where none stands beside a test: common practice, no source.

use crate::common::{good, soupcon, soupcon_with_input};
use proptest::prelude::*;
use serde_json::Value;
use soupcon::formula::{Formula, Kind};
use soupcon::library::Library;
use soupcon::quantity::Volume;
use soupcon::safety::SafetyData;
use soupcon::scale::dose::Balance;
use soupcon::scale::exchange::Relations;
use soupcon::scale::{Request, scale};
use soupcon::sequence::{self, Action};
use soupcon::sheet::sheet;
use soupcon::solution::Equilibria;

/// (action, substance) of each step of a part.
fn steps(formula: &str, volume: &str, part: usize) -> Vec<(String, String)> {
    let json = good(&["sheet", formula, volume, "--json"]).json();
    steps_of(&json["parts"][part])
}

fn steps_of(part: &Value) -> Vec<(String, String)> {
    part["steps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|step| {
            (
                step["action"].as_str().unwrap().to_owned(),
                step["substance"].as_str().unwrap_or_default().to_owned(),
            )
        })
        .collect()
}

/// The substances in the order in which they enter the vessel, the pinch marked.
fn entering(steps: &[(String, String)]) -> Vec<String> {
    steps
        .iter()
        .filter(|(action, substance)| !substance.is_empty() && action != "dissolve-apart")
        .map(
            |(action, substance)| {
                if action == "pinch" { format!("pinch of {substance}") } else { substance.clone() }
            },
        )
        .collect()
}

fn order(formula: &str, part: usize) -> Vec<String> {
    entering(&steps(formula, "1L", part))
}

#[test]
fn metol_hydroquinone_borax_follows_the_order_of_the_trade() {
    // Common practice, no source: about 350 mL of hot water starts a 500 mL batch; a pinch of the sulfite, metol, the rest of the sulfite,
    // hydroquinone, borax, bromide last, then water to the mark.
    let json = good(&["sheet", "mq-borax-bromide-80-sulfite", "500ml", "--json"]).json();
    let part = &json["parts"][0];
    let start = part["start_water_ml"].as_f64().unwrap();
    assert!((340.0..=380.0).contains(&start), "{start} mL");
    assert!((45.0..=52.0).contains(&part["start_water_c"].as_f64().unwrap()));
    assert_eq!(
        entering(&steps_of(part)),
        [
            "pinch of sodium-sulfite-anhydrous",
            "metol",
            "sodium-sulfite-anhydrous",
            "hydroquinone",
            "borax-decahydrate",
            "potassium-bromide",
        ]
    );
    let actions = steps_of(part);
    assert_eq!(actions.first().unwrap().0, "start");
    assert_eq!(actions.last().unwrap().0, "top-up");
}

#[test]
fn the_pinch_is_taken_from_the_sulfite_and_weighable() {
    // Source: US Army correspondence course SS0513, page 21: 5 % of the sulfite first. 40 g make 2 g.
    let json = good(&["sheet", "mq-borax-bromide-80-sulfite", "500ml", "--json"]).json();
    let steps = json["parts"][0]["steps"].as_array().unwrap();
    let carried = |action: &str| {
        let step = steps
            .iter()
            .find(|step| step["action"] == action && step["substance"] == "sodium-sulfite-anhydrous");
        step.unwrap()["carries_g"].as_f64().unwrap()
    };
    assert!((carried("pinch") - 2.0).abs() < 1e-9);
    assert!((carried("pinch") + carried("add") - 40.0).abs() < 1e-9);
    // On a balance of 5 g steps it is only a pinch, still out of the weighed sulfite.
    let coarse =
        good(&["sheet", "mq-borax-bromide-80-sulfite", "500ml", "--balance", "5g", "--side", "both"]);
    let words = coarse.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("Tip in a knife tip of the weighed heap. Do not weigh any extra."), "{words}");
    let json = good(&["sheet", "mq-borax-bromide-80-sulfite", "500ml", "--balance", "5g", "--json"]).json();
    let pinch =
        json["parts"][0]["steps"].as_array().unwrap().iter().find(|step| step["action"] == "pinch").unwrap();
    assert!(pinch["weigh"].is_null());
}

#[test]
fn the_pinch_is_for_metol_only() {
    for formula in
        ["pq-borax-100-sulfite-bisulfite", "hydroquinone-hydroxide-line", "amidol-sulfite-paper-developer"]
    {
        assert!(steps(formula, "1L", 0).iter().all(|(action, _)| action != "pinch"), "{formula}");
    }
    // No sulfite, no pinch.
    assert!(steps("metol-ascorbate-borax-sulfite-free", "1L", 0).iter().all(|(action, _)| action != "pinch"));
}

fn before(order: &[String], first: &str, second: &str) {
    let place = |name: &str| {
        order.iter().position(|own| own == name).unwrap_or_else(|| panic!("{name} is not in {order:?}"))
    };
    assert!(place(first) < place(second), "{first} is not before {second} in {order:?}");
}

#[test]
fn phenidone_goes_in_after_the_alkali() {
    let order = order("pq-borax-buffered", 0);
    for earlier in ["sodium-sulfite-anhydrous", "hydroquinone", "borax-decahydrate"] {
        before(&order, earlier, "phenidone");
    }
}

#[test]
fn ascorbic_acid_goes_slowly_into_the_dissolved_carbonate() {
    let json = good(&["sheet", "coffee-carbonate-ascorbate", "1L", "--json"]).json();
    let part = &json["parts"][0];
    let order = entering(&steps_of(part));
    before(&order, "sodium-carbonate-anhydrous", "ascorbic-acid");
    // 0.09 mol of acid on 0.5 mol of carbonate fizzes where it falls in; all of it ends as bicarbonate (stoichiometry).
    let step =
        part["steps"].as_array().unwrap().iter().find(|step| step["substance"] == "ascorbic-acid").unwrap();
    assert!(step["cautions"].to_string().contains("fizzes"), "{step}");
    assert!(part["start_water_c"].as_f64().unwrap() <= 35.0, "ascorbic acid wants lukewarm water");
}

#[test]
fn glycin_and_the_base_go_in_after_sulfite_and_alkali() {
    let order = order("glycin-potassium-carbonate-stock", 0);
    before(&order, "sodium-sulfite-anhydrous", "glycin");
    before(&order, "potassium-carbonate-anhydrous", "glycin");
}

#[test]
fn the_free_base_of_p_aminophenol_waits_for_its_alkali() {
    let own = formula_text(
        "film-developer",
        &[("p-aminophenol", 7.0), ("sodium-carbonate-anhydrous", 50.0), ("sodium-sulfite-anhydrous", 50.0)],
    );
    let ran = soupcon_with_input(&["sheet", "-", "1L", "--json"], own.as_bytes());
    let order = entering(&steps_of(&ran.json()["parts"][0]));
    assert_eq!(order, ["sodium-sulfite-anhydrous", "sodium-carbonate-anhydrous", "p-aminophenol"]);
}

#[test]
fn amidol_goes_in_last_after_all_the_sulfite() {
    let order = order("amidol-acid-sulfate-tropical", 0);
    assert_eq!(order.last().unwrap(), "amidol");
}

#[test]
fn pyro_part_a_begins_with_bisulfite_and_has_no_pinch() {
    let steps = steps("pyro-metol-metaborate-staining", "1L", 0);
    let order = entering(&steps);
    before(&order, "sodium-metabisulfite", "metol");
    before(&order, "sodium-metabisulfite", "pyrogallol");
    assert!(steps.iter().all(|(action, _)| action != "pinch"));
    let json = good(&["sheet", "pyro-metol-metaborate-staining", "1L", "--json"]).json();
    assert!(json["parts"][0]["start_water_c"].as_f64().unwrap() <= 35.0, "bisulfite fumes in hot water");
}

#[test]
fn caustic_alkali_is_dissolved_apart_in_cold_water_after_the_agents() {
    let json = good(&["sheet", "hydroquinone-hydroxide-line", "1L", "--json"]).json();
    let steps = json["parts"][0]["steps"].as_array().unwrap();
    let place = |action: &str, substance: &str| {
        steps.iter().position(|step| step["action"] == action && step["substance"] == substance).unwrap()
    };
    let apart = place("dissolve-apart", "sodium-hydroxide");
    let pour = place("pour-in", "sodium-hydroxide");
    assert!(place("add", "hydroquinone") < pour && apart < pour);
    assert!(steps[apart]["target_c"].as_f64().unwrap() <= 20.0);
    assert!(steps[apart]["carries_g"].is_null());
    assert!((steps[pour]["carries_g"].as_f64().unwrap() - 37.5).abs() < 1e-9);
    assert!(steps[apart]["cautions"].to_string().contains("cold water"));
    // Heat of solution of 37.5 g NaOH (44.5 kJ/mol, CRC table after Parker) in 300 mL from 15 °C: 33 K without loss; within 15 %.
    let after = steps[apart]["temperature_after_c"].as_f64().unwrap();
    assert!((44.0..=53.0).contains(&after), "{after} °C");
}

#[test]
fn alcohol_goes_into_water_no_warmer_than_the_hand() {
    let json = good(&["sheet", "mq-hydroxide-maximum-energy", "1L", "--json"]).json();
    assert!(json["parts"][0]["start_water_c"].as_f64().unwrap() <= 35.0);
    let methanol = &json["parts"][0]["steps"][1];
    assert_eq!(methanol["substance"], "methanol");
    assert!(methanol["cautions"][0]["text"].as_str().unwrap().starts_with("Methanol"));
}

#[test]
fn formalin_goes_into_cool_water() {
    let json = good(&["sheet", "formalin-hardener", "1L", "--json"]).json();
    assert_eq!(json["parts"][0]["start_water_c"].as_f64(), Some(20.0));
    let steps = json["parts"][0]["steps"].as_array().unwrap();
    let formalin = steps.iter().find(|step| step["substance"] == "formaldehyde-37").unwrap();
    assert_eq!(formalin["done_when"], "evenly mixed");
}

#[test]
fn a_part_of_caustic_alone_starts_cold() {
    let json = good(&["sheet", "hydroquinone-hydroxide-two-solution", "1L", "--json"]).json();
    assert!(json["parts"][1]["start_water_c"].as_f64().unwrap() <= 20.0);
}

#[test]
fn caustic_concentrate_that_would_boil_is_refused_with_the_reason() {
    // 215 g of potassium hydroxide in 500 mL of cold water would boil: 3.83 mol × 57.6 kJ/mol over 0.5 kg of water is 105 K.
    let shipped = include_str!(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/formulas/film-developer/p-aminophenol-potassium-hydroxide-concentrate.toml"
    ));
    let strong = shipped.replace("apart_ml = 750", "apart_ml = 500").replace("water = 450", "water = 625");
    assert_ne!(strong, shipped);
    // It scales with the mass: a small batch is no cooler, and 20 L no warmer.
    for volume in ["100ml", "1L", "20L"] {
        let ran = soupcon_with_input(&["sheet", "-", volume], strong.as_bytes());
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert!(ran.whole().contains("boil"), "{}", ran.whole());
    }
    // In half as much water again, in ice and in portions, it can be made.
    let ran = good(&["sheet", "p-aminophenol-potassium-hydroxide-concentrate", "1L"]);
    assert!(ran.out.contains("ice water") && ran.out.contains("small portions"), "{}", ran.out);
    // The sodium form in more cold water stays below the limit, in portions and ice.
    let ran = good(&["sheet", "p-aminophenol-sodium-hydroxide-concentrate", "1L"]);
    assert!(ran.out.contains("ice water") && ran.out.contains("small portions"));
    let flat = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("only until a few white crystals are left; never all of it"), "{flat}");
    let steps = steps("p-aminophenol-sodium-hydroxide-concentrate", "1L", 0);
    let order = entering(&steps);
    before(&order, "potassium-metabisulfite", "p-aminophenol-hydrochloride");
    before(&order, "p-aminophenol-hydrochloride", "sodium-hydroxide");
}

#[test]
fn alum_fixer_is_hypo_sulfite_cooling_acid_boric_and_the_alum_apart() {
    let steps = steps("acid-hardening-alum-boric-fixer", "1L", 0);
    let actions: Vec<&str> = steps.iter().map(|(action, _)| action.as_str()).collect();
    let cool = actions.iter().position(|action| *action == "cool").unwrap();
    let acid = steps.iter().position(|(_, substance)| substance == "acetic-acid-28").unwrap();
    let hypo =
        steps.iter().position(|(_, substance)| substance == "sodium-thiosulfate-pentahydrate").unwrap();
    assert!(hypo < cool && cool < acid);
    assert_eq!(
        entering(&steps),
        [
            "sodium-thiosulfate-pentahydrate",
            "sodium-sulfite-anhydrous",
            "acetic-acid-28",
            "boric-acid",
            "potassium-alum-dodecahydrate",
        ]
    );
    assert!(steps.contains(&("dissolve-apart".to_owned(), "potassium-alum-dodecahydrate".to_owned())));
}

#[test]
fn hypo_chills_the_beaker_by_about_sixteen_kelvin() {
    // 240 g of hypo crystals in 600 mL of water: 0.967 mol × 46.3 kJ/mol over 0.6 kg and the crystal water is about 16 K.
    let json = good(&["sheet", "acid-hardening-alum-boric-fixer", "1L", "--json"]).json();
    let steps = json["parts"][0]["steps"].as_array().unwrap();
    let hypo = steps.iter().find(|step| step["substance"] == "sodium-thiosulfate-pentahydrate").unwrap();
    let fall =
        steps[0]["temperature_after_c"].as_f64().unwrap() - hypo["temperature_after_c"].as_f64().unwrap();
    assert!((14.0..=18.0).contains(&fall), "{fall} K");
}

#[test]
fn plain_acid_fixer_cools_before_the_metabisulfite() {
    let steps = steps("thiosulfate-metabisulfite-acid-fixer", "1L", 0);
    let place =
        |wanted: &str| steps.iter().position(|(action, own)| action == wanted || own == wanted).unwrap();
    assert!(place("sodium-thiosulfate-pentahydrate") < place("cool"));
    assert!(place("cool") < place("potassium-metabisulfite"));
}

#[test]
fn tartaric_acid_goes_into_the_sulfite_and_both_into_the_cool_hypo() {
    let steps = steps("thiosulfate-tartaric-sulfite-acid-fixer", "1L", 0);
    let place = |action: &str, substance: &str| {
        steps.iter().position(|own| own.0 == action && own.1.starts_with(substance)).unwrap()
    };
    assert!(place("dissolve-apart", "sodium-sulfite") < place("dissolve-apart", "tartaric-acid"));
    assert!(place("dissolve-apart", "tartaric-acid") < place("pour-in", "sodium-sulfite"));
    assert!(place("add", "sodium-thiosulfate") < place("pour-in", "sodium-sulfite"));
    assert!(place("cool", "") < place("pour-in", "sodium-sulfite"));
    let carried =
        |substance: &str| -> usize { steps.iter().filter(|own| own.1.starts_with(substance)).count() };
    assert_eq!((carried("tartaric-acid"), carried("sodium-sulfite")), (2, 2));
}

#[test]
fn a_hot_alum_toner_is_mixed_hot_without_cooling() {
    let steps = steps("alum-thiosulfate-hot-sepia-toner", "1L", 0);
    assert!(steps.iter().all(|(action, _)| action != "cool" && action != "dissolve-apart"));
    let json = good(&["sheet", "alum-thiosulfate-hot-sepia-toner", "1L", "--json"]).json();
    assert!(json["parts"][0]["start_water_c"].as_f64().unwrap() >= 50.0);
}

#[test]
fn ammonia_meets_hypo_only_when_that_is_cool() {
    let steps = steps("salted-paper-fixer", "1L", 0);
    let place = |wanted: &str| {
        steps.iter().position(|(action, own)| action == wanted || own.starts_with(wanted)).unwrap()
    };
    assert!(place("sodium-thiosulfate") < place("cool") && place("cool") < place("ammonia"));
}

#[test]
fn chrome_alum_goes_in_last_from_its_own_cool_solution() {
    let json = good(&["sheet", "thiosulfate-chrome-alum-hardening-fixer", "1L", "--json"]).json();
    let part = &json["parts"][0];
    assert_eq!(entering(&steps_of(part)).last().unwrap(), "chrome-alum");
    let apart = part["steps"]
        .as_array()
        .unwrap()
        .iter()
        .find(|step| step["action"] == "dissolve-apart" && step["substance"] == "chrome-alum");
    assert!(apart.unwrap()["target_c"].as_f64().unwrap() < 50.0);
}

#[test]
fn an_alkaline_rapid_fixer_leaves_room_for_its_liquid() {
    // 800 mL of thiosulfate solution per litre.
    let json = good(&["sheet", "ammonium-thiosulfate-alkaline-rapid-fixer", "1L", "--json"]).json();
    let start = json["parts"][0]["start_water_ml"].as_f64().unwrap();
    assert!(start <= 200.0, "{start} mL leave no room");
    assert!(json["parts"][0]["steps"].as_array().unwrap().iter().all(|step| step["action"] != "cool"));
}

#[test]
fn strong_acid_goes_last_into_the_cool_bleach() {
    let order = order("dichromate-sulfuric-reversal-bleach", 0);
    assert_eq!(order, ["potassium-dichromate", "sulfuric-acid"]);
    let json = good(&["sheet", "dichromate-sulfuric-reversal-bleach", "1L", "--json"]).json();
    assert!(json["parts"][0]["start_water_c"].as_f64().unwrap() <= 25.0);
    assert!(json["safety"].to_string().contains("Chromium(VI)"));
}

#[test]
fn ferricyanide_bleach_and_its_sulfide_are_two_parts() {
    let json = good(&["sheet", "sulfide-sepia-bleach-redevelop-toner", "1L", "--json"]).json();
    assert_eq!(json["parts"].as_array().unwrap().len(), 2);
    assert!(json["safety"].to_string().to_lowercase().contains("hydrogen sulfide"));
}

#[test]
fn selenium_goes_into_the_hot_sulfite() {
    let order = order("selenium-selenosulfate-toner", 0);
    before(&order, "sodium-sulfite-anhydrous", "selenium");
}

#[test]
fn a_concentrate_in_amine_or_glycol_takes_no_water() {
    for formula in ["phenidone-ascorbate-tea-concentrate", "phenidone-ascorbate-glycol-plus-borax"] {
        let json = good(&["sheet", formula, "500ml", "--json"]).json();
        let part = &json["parts"][0];
        assert!(part["start_water_ml"].as_f64().unwrap().abs() < 1e-12, "{formula}");
        assert!(part["solvent"].is_string());
        assert!(part["expected_ph"].is_null(), "{formula}: no pH in a solvent that is not water");
    }
}

#[test]
fn a_dose_of_phenidone_comes_from_glycol_or_alcohol_and_goes_in_late() {
    let json = good(&["sheet", "pq-borax-buffered", "500ml", "--json"]).json();
    let item = json["parts"][0]["items"]
        .as_array()
        .unwrap()
        .iter()
        .find(|item| item["substance"] == "phenidone")
        .unwrap();
    assert!(
        ["propylene-glycol", "ethanol", "isopropanol"].contains(&item["dose"]["solvent"].as_str().unwrap())
    );
    let carried: f64 = json["parts"][0]["steps"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|step| step["substance"] == "phenidone")
        .filter_map(|step| step["carries_g"].as_f64())
        .sum();
    assert!((carried - item["amount"].as_f64().unwrap()).abs() < 1e-9);
}

#[test]
fn an_unsafe_start_in_a_file_is_refused_with_the_reason() {
    for (substance, celsius, word) in [
        ("sodium-hydroxide", 60, "caustic"),
        ("paraformaldehyde", 45, "formaldehyde"),
        ("ammonium-persulfate", 50, "decomposes"),
        ("methanol", 50, "vapour burns"),
    ] {
        let text = format!(
            "{HEADER}kind = \"bleach\"\n[mixing]\ntemperature = {celsius}\n[[ingredients]]\nsubstance = \"{substance}\"\ngrams = 50\n"
        );
        let ran = soupcon_with_input(&["sheet", "-", "1L"], text.as_bytes());
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert!(ran.err.contains(word) && ran.err.contains("temperature"), "{}", ran.err);
    }
}

#[test]
fn dichromate_with_an_agent_in_one_vessel_is_refused() {
    for oxidiser in ["potassium-dichromate", "potassium-permanganate"] {
        for reducer in ["hydroquinone", "sodium-sulfite-anhydrous"] {
            let text = formula_text("bleach", &[(oxidiser, 10.0), (reducer, 10.0)]);
            let ran = soupcon_with_input(&["sheet", "-", "1L"], text.as_bytes());
            assert_eq!(ran.code, 1, "{oxidiser} with {reducer}: {}", ran.whole());
        }
    }
}

const HEADER: &str = "format = 1\ntitle = \"A test\"\nsummary = \"S\"\nevidence = \"memory\"\n";

fn formula_text(kind: &str, ingredients: &[(&str, f64)]) -> String {
    let mut text = format!("{HEADER}kind = \"{kind}\"\n");
    for (substance, grams) in ingredients {
        text.push_str(&format!("[[ingredients]]\nsubstance = \"{substance}\"\ngrams = {grams}\n"));
    }
    text
}

struct House {
    formulas: Vec<Formula>,
    relations: Relations,
    safety: SafetyData,
    equilibria: Equilibria,
}

fn house() -> House {
    let library = Library::shipped();
    let (found, findings) = library.formulas().unwrap();
    assert!(findings.is_empty(), "{findings:?}");
    let table = |name: &str| library.table(name).unwrap();
    House {
        formulas: found.into_iter().map(|found| found.formula).collect(),
        relations: Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap(),
        safety: SafetyData::parse(
            table("statements.toml"),
            table("combinations.toml"),
            table("precautions.toml"),
        )
        .unwrap(),
        equilibria: Equilibria::parse(table("equilibria.toml")).unwrap(),
    }
}

#[test]
fn published_orders_agree_or_differ_by_preference_or_are_explained() {
    let house = house();
    let mut report = Vec::new();
    let (mut agrees, mut preference, mut explained) = (0, 0, 0);
    for formula in &house.formulas {
        let batch = scale(formula, &Request::volume(Volume::from_ml(1000.0)), &house.relations).unwrap();
        for (part, source) in batch.parts.iter().zip(&formula.parts) {
            if source.mixing.order.is_empty() {
                continue;
            }
            let differences = sequence::differences(part, source).unwrap();
            let must = differences.iter().any(|difference| difference.must);
            let place = source
                .name
                .as_ref()
                .map_or_else(|| formula.id.clone(), |name| format!("{} {name}", formula.id));
            if differences.is_empty() {
                agrees += 1;
            } else if source.mixing.order_note.is_some() {
                explained += 1;
                report.push(format!("explained   {place}"));
            } else {
                assert!(
                    !must,
                    "{place}: a must differs from the published order and no order_note explains it: {differences:?}"
                );
                preference += 1;
                let pairs: Vec<String> =
                    differences.iter().map(|own| format!("{} before {}", own.first, own.second)).collect();
                report.push(format!("preference  {place}: {}", pairs.join(", ")));
            }
        }
    }
    report.push(format!("agrees {agrees}, differs by preference only {preference}, explained {explained}"));
    // A report to read, and a guard: most published orders agree outright.
    assert!(agrees * 10 >= (agrees + preference + explained) * 6, "{}", report.join("\n"));
    insta::assert_snapshot!(report.join("\n"));
}

#[test]
fn every_shipped_formula_has_a_sheet() {
    let house = house();
    let mut refused = Vec::new();
    for formula in &house.formulas {
        let batch = scale(formula, &Request::volume(Volume::from_ml(1000.0)), &house.relations).unwrap();
        match sheet(formula, &batch, &house.safety, &house.equilibria) {
            Ok(_) => {}
            Err(objection) if objection.code == "too-hot" => refused.push(formula.id.as_str()),
            Err(error) => panic!("{}: {error}", formula.id),
        }
    }
    assert!(refused.is_empty(), "{refused:?}");
}

#[test]
fn every_hazard_statement_stands_on_every_sheet_that_uses_it() {
    let house = house();
    for formula in &house.formulas {
        let batch = scale(formula, &Request::volume(Volume::from_ml(500.0)), &house.relations).unwrap();
        let Ok(sheet) = sheet(formula, &batch, &house.safety, &house.equilibria) else { continue };
        let text = soupcon::render::to_text(
            &soupcon::render::bench::reasons_document(
                &sheet,
                &crate::common::shipped::bench_of(&sheet),
                &soupcon::label::labels(&sheet, None, None).unwrap_or_default(),
            ),
            soupcon::render::TextStyle { width: 200, bold: false },
        );
        for item in batch.parts.iter().flat_map(|part| &part.items) {
            let hazards = &item.form.hazards;
            for code in hazards.statements.iter().chain(&hazards.supplementary) {
                assert!(
                    text.contains(code.as_str()),
                    "{}: {code} of {} is not on the sheet",
                    formula.id,
                    item.form.id
                );
            }
            if hazards.is_unknown() && item.form.parent.id != "water" {
                assert!(
                    text.contains("hazard not known: treat as harmful"),
                    "{}: {}",
                    formula.id,
                    item.form.id
                );
            }
        }
        assert!(
            text.trim_end().ends_with(house.safety.closing()),
            "{}: the closing line is missing",
            formula.id
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn steps_satisfy_every_must_and_carry_exactly_the_batch(ml in 50.0_f64..30000.0, step in prop::sample::select(vec![1.0, 0.1, 0.01])) {
        let house = house();
        let mut request = Request::volume(Volume::from_ml(ml));
        request.balance = Balance { step_g: step, max_g: None };
        for formula in &house.formulas {
            let batch = scale(formula, &request, &house.relations).unwrap();
            for (part, source) in batch.parts.iter().zip(&formula.parts) {
                let plan = sequence::plan(part, source, batch.balance).unwrap();
                let names: Vec<String> = plan.steps.iter().filter(|own| own.action != Action::DissolveApart).filter_map(|own| {
                    let id = &own.form.as_ref()?.id;
                    Some(if own.action == Action::Pinch { format!("pinch of {id}") } else { id.clone() })
                }).collect();
                for (first, second, rule) in sequence::musts(part) {
                    let place = |name: &String| names.iter().position(|own| own == name).unwrap();
                    prop_assert!(place(&first) < place(&second), "{}: {rule}", formula.id);
                }
                for (index, item) in part.items.iter().enumerate() {
                    let carried: f64 = plan.steps.iter().filter(|own| own.item == Some(index)).filter_map(|own| own.carries_g).sum();
                    if let Some(grams) = item.grams {
                        prop_assert!((carried - grams).abs() <= 1e-9 * grams, "{}: {carried} g of {} for {grams}", formula.id, item.form.id);
                    }
                }
                // What is poured together fits the bottle: start, second vessels and liquids within the volume.
                let poured: f64 = plan.steps.iter().filter_map(|own| own.water_ml).sum();
                let has_end_point = part.items.iter().any(|item| item.until.is_some());
                prop_assert!(has_end_point || poured <= ml * 1.0001, "{}: {poured} mL of water in {ml}", formula.id);
            }
        }
    }

    #[test]
    fn the_files_own_order_of_ingredients_does_not_change_the_sheet(seed in 0_u64..1000) {
        let house = house();
        for formula in &house.formulas {
            let mut shuffled = formula.clone();
            for part in &mut shuffled.parts {
                let count = part.ingredients.len() as u64;
                part.ingredients.sort_by_key(|own| (own.line as u64 * 7919 + seed * 104_729) % (count * 13 + 1));
            }
            let request = Request::volume(Volume::from_ml(750.0));
            let plans = |formula: &Formula| -> Vec<Vec<(Action, String, Option<f64>)>> {
                let batch = scale(formula, &request, &house.relations).unwrap();
                batch.parts.iter().zip(&formula.parts).map(|(part, source)| {
                    sequence::plan(part, source, batch.balance).unwrap().steps.into_iter()
                        .map(|own| (own.action, own.instruction, own.weigh)).collect()
                }).collect()
            };
            prop_assert_eq!(plans(formula), plans(&shuffled), "{}", &formula.id);
        }
    }
}

#[test]
fn kinds_have_at_least_what_the_library_promises() {
    let house = house();
    let count = |kind: Kind| house.formulas.iter().filter(|formula| formula.kind == kind).count();
    assert!(house.formulas.len() >= 110);
    assert!(count(Kind::FilmDeveloper) + count(Kind::Replenisher) >= 60 && count(Kind::Replenisher) >= 8);
    assert!(count(Kind::PaperDeveloper) >= 14 && count(Kind::StopBath) >= 5 && count(Kind::Fixer) >= 8);
    for kind in Kind::ALL {
        assert!(count(kind) >= 1, "no {}", kind.folder());
    }
}

/// Two weighed sulfites beside metol: the pinch comes out of the larger, and every gram that is weighed goes in.
#[test]
fn of_two_sulfites_one_gives_the_pinch_and_nothing_is_left_out() {
    for (second, grams, rest) in [
        ("sodium-sulfite-heptahydrate", "0.5", "Dissolve the rest of the sodium sulfite, anhydrous"),
        ("potassium-sulfite", "30", "Dissolve the rest of the sodium sulfite, anhydrous"),
        ("potassium-sulfite", "80", "Dissolve the rest of the potassium sulfite"),
    ] {
        let text = format!(
            "format = 1\ntitle = \"t\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
             [[ingredients]]\nsubstance = \"metol\"\ngrams = 2.5\n\
             [[ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 50\n\
             [[ingredients]]\nsubstance = \"{second}\"\ngrams = {grams}\n\
             [[ingredients]]\nsubstance = \"borax-decahydrate\"\ngrams = 2\n"
        );
        let sheet = |format: &str| {
            let ran = crate::common::soupcon_with_input(
                &["sheet", "-", "1L", "--format", format, "--side", "reasons"],
                text.as_bytes(),
            );
            assert_eq!(ran.code, 0, "{}", ran.whole());
            ran
        };
        let words = sheet("text").out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(rest), "{words}");
        assert_eq!(words.matches("the rest of the").count(), 1, "{words}");
        let json = sheet("json").json();
        let part = &json["parts"][0];
        for item in part["items"].as_array().unwrap() {
            let id = &item["substance"];
            let steps = part["steps"].as_array().unwrap().iter().filter(|step| step["substance"] == *id);
            let carried: Vec<f64> = steps.filter_map(|step| step["carries_g"].as_f64()).collect();
            assert!(carried.iter().all(|grams| *grams > 0.0), "{id}: {carried:?}");
            let sum: f64 = carried.iter().sum();
            assert!((sum - item["amount"].as_f64().unwrap()).abs() < 1e-9, "{id}: {carried:?}");
        }
    }
}

/// The rule of the trade that matters most, by the names of the chemicals alone: in a developer with sulfite, hydroquinone goes in after
/// all of it, and the page of reasons says that the sulfite protects it (Anchell, The Darkroom Cookbook, 2008). Where the sulfite of a bath
/// stands in another part, or the hydroquinone in a dose, this says nothing.
#[test]
fn hydroquinone_follows_the_sulfite_and_is_told_why() {
    let mut seen = 0;
    for found in Library::shipped().formulas().unwrap().0 {
        if !matches!(found.formula.kind, Kind::FilmDeveloper | Kind::PaperDeveloper) {
            continue;
        }
        let json = soupcon(&["sheet", &found.formula.id, "1L", "--json"]).json();
        for part in json["parts"].as_array().unwrap() {
            let steps = part["steps"].as_array().unwrap();
            let place = |wanted: &str| {
                let is_it = |step: &Value| {
                    step["substance"] == wanted && step["action"] == "add" && step["unit"] == "g"
                };
                steps.iter().position(is_it)
            };
            let (Some(sulfite), Some(agent)) = (place("sodium-sulfite-anhydrous"), place("hydroquinone"))
            else {
                continue;
            };
            assert!(sulfite < agent, "{}", found.formula.id);
            assert!(steps[agent]["why"].as_str().unwrap().contains("sulfite"), "{}", found.formula.id);
            seen += 1;
        }
    }
    assert!(seen > 40, "only {seen} parts");
}
