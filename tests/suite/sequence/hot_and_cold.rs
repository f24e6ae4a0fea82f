//! What asks for cold or hot water, and what is refused.

use super::*;

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
fn selenium_goes_into_the_hot_sulfite() {
    let order = order("selenium-selenosulfate-toner", 0);
    before(&order, "sodium-sulfite-anhydrous", "selenium");
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
