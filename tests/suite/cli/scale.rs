use super::*;

#[test]
fn a_batch_with_doses_and_advice() {
    insta::assert_snapshot!(good(&["scale", "mq-borax-bromide-80-sulfite", "500ml"]).out);
}

#[test]
fn forms_on_the_shelf_are_exchanged_mole_for_mole() {
    // Source: hydrate table of M. Langford, Basic Photography, appendix D: monohydrate 1.17 to 1.2 times the anhydrous.
    let item = |have: &[&str], form: &str| {
        let mut all = vec!["scale", "mq-carbonate-universal-film-paper", "1L", "--json"];
        all.extend(have);
        let json = good(&all).json();
        let items = json["parts"][0]["items"].as_array().unwrap();
        items.iter().find(|item| item["substance"] == form).unwrap().clone()
    };
    let own = item(&[], "sodium-carbonate-anhydrous");
    let shelf = item(&["--have", "sodium-carbonate-monohydrate"], "sodium-carbonate-monohydrate");
    assert_eq!(shelf["instead_of"], "sodium-carbonate-anhydrous");
    let factor = shelf["amount"].as_f64().unwrap() / own["amount"].as_f64().unwrap();
    assert!((factor - 1.17).abs() < 0.005, "{factor}");
}

#[test]
fn what_rounds_to_nothing_is_shown_as_it_is() {
    for (command, words) in
        [("scale", "0.002 mL  sulfuric acid"), ("sheet", "0.002 mL   SULFURIC ACID, conc.")]
    {
        let out = good(&[command, "permanganate-sulfuric-reversal-bleach", "1ml"]).out;
        assert!(out.contains(words), "{out}");
    }
}

#[test]
fn the_last_three_grams_of_metol_make_the_largest_batch() {
    let json = good(&["scale", "mq-borax-classic", "--limit", "metol=3.2g", "--json"]).json();
    assert!((json["parts"][0]["volume_ml"].as_f64().unwrap() - 1600.0).abs() < 1e-6);
    assert_eq!(json["limited_by"], "metol");
    let ran = soupcon(&["scale", "mq-borax-classic", "2L", "--limit", "metol=3.2g"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("1600 mL"), "{}", ran.err);
    let ran = soupcon(&["scale", "mq-borax-classic", "--limit", "glycin=3.2g"]);
    assert_eq!(ran.code, 2);
}

#[test]
fn a_working_volume_takes_only_its_share_of_stock() {
    let json = good(&["scale", "mq-borax-classic", "1L", "--working", "1+3", "--json"]).json();
    assert!((json["parts"][0]["volume_ml"].as_f64().unwrap() - 250.0).abs() < 1e-9);
    let json =
        good(&["scale", "pyro-metol-metaborate-staining", "1030ml", "--working", "1+2+100", "--json"]).json();
    assert!((json["parts"][0]["volume_ml"].as_f64().unwrap() - 10.0).abs() < 1e-9);
    assert!((json["parts"][1]["volume_ml"].as_f64().unwrap() - 20.0).abs() < 1e-9);
    assert_eq!(soupcon(&["scale", "mq-borax-classic", "1L", "--working", "1+1+8"]).code, 2);
}

#[test]
fn an_assay_weighs_more_and_is_offered_but_never_applied_by_itself() {
    let plain = good(&["scale", "pyrocatechol-phenidone-carbonate-staining", "1L", "--json"]).json();
    assert!(plain["schema_version"].is_u64());
    let text = good(&["scale", "mq-caustic-potash-two-solution", "1L"]).out;
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("taken as 100 % pure"), "{text}");
    let json = good(&[
        "scale",
        "mq-caustic-potash-two-solution",
        "1L",
        "--assay",
        "potassium-hydroxide=86%",
        "--json",
    ])
    .json();
    let item = json["parts"][1]["items"]
        .as_array()
        .unwrap()
        .iter()
        .find(|item| item["substance"] == "potassium-hydroxide");
    assert!((item.unwrap()["amount"].as_f64().unwrap() - 4.6 / 0.86).abs() < 1e-6);
}

#[test]
fn refusals_of_volumes_and_masses_each_have_their_own_words() {
    let mut report = String::new();
    for volume in
        ["500", "16oz", "1qt", "0,5L", "nan", "-1L", "1e400L", "500mg", "0ml", "", "half", "1e9L", "300L"]
    {
        let ran = soupcon(&["scale", "mq-borax-classic", "--", volume]);
        assert_ne!(ran.code, 0, "{volume} was taken");
        report.push_str(&format!("# VOLUME {volume:?} (exit {})\n{}\n", ran.code, ran.err));
    }
    for balance in ["0.1", "0,1g", "1oz2", "inf g", "0g", "2dr", "5gr"] {
        let ran = soupcon(&["scale", "mq-borax-classic", "1L", "--balance", balance]);
        assert_eq!(ran.code, 2, "{balance}");
        report.push_str(&format!("# --balance {balance:?}\n{}\n", ran.err));
    }
    for working in ["1:4", "2:10", "1:1", "3", "1+", "1+x", "0+3", "1+-3"] {
        let ran = soupcon(&["scale", "mq-borax-classic", "1L", "--working", working]);
        assert_eq!(ran.code, 2, "{working}");
        report.push_str(&format!("# --working {working:?}\n{}\n", ran.err));
    }
    insta::assert_snapshot!(report);
}
