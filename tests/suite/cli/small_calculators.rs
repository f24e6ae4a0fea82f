use super::*;

#[test]
fn dilute_percent_exchange_and_water_print_what_to_take() {
    let mut report = String::new();
    for arguments in [
        vec!["dilute", "1+3", "600ml"],
        vec!["dilute", "1+2+100", "1030ml", "--formula", "pyro-metol-metaborate-staining"],
        vec!["dilute", "1+1", "300ml", "--formula", "mq-borax-classic", "--films", "2"],
        vec!["percent", "potassium-bromide", "10 % w/v", "250ml"],
        vec!["percent", "acetic-acid", "28 % w/w", "500ml"],
        vec!["percent", "boric-acid", "10%", "100ml"],
        vec!["exchange", "67.5g", "sodium-carbonate-anhydrous", "--for", "sodium-carbonate-monohydrate"],
        vec!["exchange", "10g", "sodium-ascorbate", "--for", "ascorbic-acid"],
        vec!["exchange", "10g", "metol", "--for", "hydroquinone"],
        vec!["water", "1L", "--hot", "45C", "--cold", "12C", "--target", "20C"],
        vec!["water", "1L", "--hot", "45C", "--cold", "22C", "--target", "20C"],
    ] {
        let ran = soupcon(&arguments);
        report.push_str(&format!("$ soupcon {}\n{}\n", arguments.join(" "), ran.whole()));
    }
    insta::assert_snapshot!(report);
}

#[test]
fn water_agrees_with_the_steam_tables() {
    // Source: IAPWS-95 enthalpy and mass balance (Python package iapws): 1 L at 20 °C from 45 and 12 °C takes 244.7 mL hot, 756.3 cold.
    let json = good(&["water", "1L", "--hot", "45C", "--cold", "12C", "--target", "20C", "--json"]).json();
    assert!((json["hot_ml"].as_f64().unwrap() - 244.7).abs() < 1.0);
    assert!((json["cold_ml"].as_f64().unwrap() - 756.3).abs() < 1.0);
}

#[test]
fn dilute_is_arithmetic() {
    let json = good(&["dilute", "1+3", "600ml", "--json"]).json();
    assert!((json["stock_ml"].as_f64().unwrap() - 150.0).abs() < 1e-9);
    assert!((json["water_ml"].as_f64().unwrap() - 450.0).abs() < 1e-9);
}

#[test]
fn percent_counts_its_basis() {
    let json = good(&["percent", "potassium-bromide", "10 % w/v", "250ml", "--json"]).json();
    assert!((json["solute_g"].as_f64().unwrap() - 25.0).abs() < 1e-9);
    assert!((json["make_up_to_ml"].as_f64().unwrap() - 250.0).abs() < 1e-9);
    assert!(json["make_up_to_g"].is_null());
    // By mass all the water is weighed before, and acid goes into it.
    let acid = ["percent", "sulfuric-acid", "10 % w/w", "500ml"];
    assert_eq!(good(&[&acid[..], &["--json"]].concat()).json()["make_up_to_g"], 500.0);
    let text = good(&acid).out;
    assert!(text.find("of cold water, all of it").unwrap() < text.find("500 g in all").unwrap(), "{text}");
    // A liquid must say which percent is meant.
    assert_eq!(soupcon(&["percent", "acetic-acid", "28%", "500ml"]).code, 2);
}

/// 100 g of water at 20 °C hold 26.42 g of sodium sulfite, 143.9 g of potassium iodide (CRC Handbook, aqueous solubility).
#[test]
fn a_percent_solution_above_the_solubility_is_refused_by_the_water_that_is_left() {
    for (form, strength, is_told) in [
        // 20 g in 80 g of water are 25 in 100 g; 25 g in 75 g are 33.3.
        ("sodium-sulfite-anhydrous", "20 % w/w", false),
        ("sodium-sulfite-anhydrous", "25 % w/w", true),
        ("sodium-sulfite-anhydrous", "20 % w/v", false),
        // 100 g of crystals of 3.12 g/mL leave 68 of 100 mL to the water, which holds 98 g.
        ("potassium-iodide", "100 % w/v", true),
        ("potassium-iodide", "80 % w/v", false),
        // 58 g in 42 g of water are 138 in 100 g; 60 g in 40 g are 150.
        ("potassium-iodide", "58 % w/w", false),
        ("potassium-iodide", "60 % w/w", true),
    ] {
        let ran = soupcon(&["percent", form, strength, "100ml"]);
        assert_eq!(ran.code == 1, is_told, "{form} {strength}\n{}", ran.whole());
        assert_eq!(ran.err.contains("more than dissolves"), is_told, "{form} {strength}");
    }
}
