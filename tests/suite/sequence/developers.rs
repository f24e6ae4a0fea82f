//! Developers: the pinch, agents, alkali.

use super::*;

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
    for formula in formulas() {
        if !matches!(formula.kind, Kind::FilmDeveloper | Kind::PaperDeveloper) {
            continue;
        }
        let json = answer(&["sheet", &formula.id, "1L", "--json"]).json();
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
            assert!(sulfite < agent, "{}", formula.id);
            assert!(steps[agent]["why"].as_str().unwrap().contains("sulfite"), "{}", formula.id);
            seen += 1;
        }
    }
    assert!(seen > 40, "only {seen} parts");
}
