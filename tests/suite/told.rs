//! What is told of a formula in several places is told alike, and by its best figure.

use crate::common::shipped::formulas;
use crate::common::{good, in_process};

/// `label` and `sheet` say the same of the hazards in a bottle.
#[test]
fn the_sheet_carries_the_labels() {
    for formula in
        ["mq-borax-classic", "pyrocatechol-hydroxide-compensating", "dichromate-sulfuric-reversal-bleach"]
    {
        let sheet = good(&["sheet", formula, "1L", "--json"]).json();
        let label = good(&["label", formula, "1L", "--json"]).json();
        let codes = |value: &serde_json::Value| -> Vec<(String, String, Vec<String>)> {
            let labels = value["labels"].as_array().unwrap();
            let one = |own: &serde_json::Value| {
                let statements = own["statements"].as_array().unwrap();
                let codes = statements.iter().map(|own| own["code"].to_string()).collect();
                (own["part"].to_string(), own["signal_word"].to_string(), codes)
            };
            labels.iter().map(one).collect()
        };
        assert!(!codes(&sheet).is_empty(), "{formula}");
        assert_eq!(codes(&sheet), codes(&label), "{formula}");
    }
}

/// A calibrant has a certified figure, which a computed one must not stand for. R. G. Bates, J. Res. NBS 66A (1962) 179, as kept with its
/// checks in `tests/data/ph-reference.csv`.
#[test]
fn a_standard_is_told_with_its_certified_figures() {
    for (formula, at_20, at_25) in [
        ("ph-standard-borax", "9.225", "9.180"),
        ("ph-standard-carbonate", "10.062", "10.012"),
        ("ph-standard-phosphate", "6.881", "6.865"),
        ("ph-standard-phthalate", "4.000", "4.005"),
    ] {
        let page = good(&["sheet", formula, "1L"]).out;
        let words = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(&format!("certified pH {at_20} at 20 °C, {at_25} at 25 °C")), "{page}");
        assert!(!words.contains("±"), "{page}");
        let json = good(&["sheet", formula, "1L", "--json"]).json();
        let ph = json["parts"][0]["expected_ph"].as_f64().unwrap();
        assert!((ph - at_20.parse::<f64>().unwrap()).abs() < 1e-9, "{formula}: {ph}");
    }
}

/// The list, the page and the JSON of a formula doubt the same, in the same words.
#[test]
fn what_is_doubted_is_told_alike_in_list_and_page() {
    let list = good(&["list"]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    for (formula, doubt) in [
        ("mq-borax-classic", "composition published; pH, times, capacity, keeping from memory"),
        ("silver-physical-intensifier", "from memory: check against a book"),
    ] {
        let page = good(&["sheet", formula, "1L"]).out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(page.contains(doubt), "{page}");
        let card = good(&["show", formula]).out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(card.contains(&format!("evidence {doubt}")), "{card}");
        let printed = good(&["show", formula, "--format", "html"]).out;
        assert!(printed.contains(&format!("<th>evidence</th><td>{doubt}</td>")), "{printed}");
        let at = list.find(&format!(" {formula} ")).unwrap();
        assert!(list[at..].chars().take(300).collect::<String>().contains(doubt), "{}", &list[at..at + 300]);
    }
    assert!(!list.contains("details in doubt"), "what is doubted is named");
}

/// Hard water takes up a sequestrant, and the air's carbon dioxide moves an alkaline bath.
#[test]
fn what_moves_a_ph_names_the_water_and_the_air() {
    let words = good(&["predict", "pyro-metol-metaborate-staining", "--json"]).out;
    assert!(words.contains("hard tap water") && words.contains("EDTA"), "{words}");
    assert!(words.contains("carbon dioxide absorbed from the air"), "{words}");
    // Neither is told where it does nothing.
    let words = good(&["predict", "citric-acid-stop-bath", "--json"]).out;
    assert!(!words.contains("hard tap water") && !words.contains("carbon dioxide taken up"), "{words}");
}

/// A bottle of percent solution is asked for only where it is measured better than the salt is weighed.
#[test]
fn a_restrainer_is_dosed_only_where_the_measure_is_better_than_the_balance() {
    let formulas = good(&["list", "--json"]).json();
    let mut dosed = 0;
    for formula in formulas["formulas"].as_array().unwrap() {
        let id = formula["id"].as_str().unwrap();
        let ran = in_process(&["scale", id, "1L", "--json"]);
        if ran.code != 0 {
            continue;
        }
        for part in ran.json()["parts"].as_array().unwrap() {
            for item in part["items"].as_array().unwrap() {
                let Some(millilitres) = item["dose"]["millilitres"].as_f64() else { continue };
                dosed += 1;
                // A syringe of 5 mL to half a mark, a larger one to a quarter, a cylinder to half a millilitre.
                let off_ml = if millilitres <= 5.0 {
                    0.05
                } else if millilitres < 20.0 {
                    0.25
                } else {
                    0.5
                };
                let weighed = 0.05 / item["amount"].as_f64().unwrap();
                assert!(off_ml / millilitres <= weighed * 0.52, "{id}: {item}");
            }
        }
    }
    assert!(dosed > 20, "{dosed}");
}

/// Where a formula gives no term, the sheet tells the rule of its class and calls it one; where it says something in words, those.
#[test]
fn the_sheet_says_how_long_it_keeps_as_the_label_does() {
    // Rules: `formulas/tables/class-rules.toml`; words: the files of the formulas.
    for (id, told) in [
        ("acutance-metol-glycin", "A: by rule: full bottle 180 days"),
        ("thiosulfate-sulfite-carbonate-alkaline-fixer", "by rule: full bottle 365 to 730 days"),
        ("ammonium-thiosulfate-plain-rapid-fixer", "for the day: it holds no sulfite"),
        ("copper-bromide-dichromate-bromoil-bleach", "not at all"),
        ("alum-sulfuric-clearing-bath", "not known"),
    ] {
        let out = good(&["sheet", id, "1L"]).out;
        let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&format!("keeps {told}")), "{id}: {out}");
    }
}

/// A solid acid is not told in drops, a liquid one is.
#[test]
fn a_strong_acid_that_is_weighed_goes_in_a_little_at_a_time() {
    let out = good(&["sheet", "iron-silver-sulfamate-sensitizer", "1L"]).out;
    assert!(out.contains("a little at a time, stirring") && !out.contains("drop by drop"), "{out}");
    let out = good(&["sheet", "hydrochloric-clearing-bath-iron-prints", "1L"]).out;
    assert!(out.contains("drop by drop"), "{out}");
}

/// A bath that is used warm, by its own file, is nowhere told to be cooled to room temperature first.
#[test]
fn what_is_used_warm_is_not_cooled_first() {
    let mut seen = 0;
    for formula in formulas() {
        let warm = |celsius: Option<f64>| celsius.is_some_and(|celsius| celsius > 25.0);
        let uses = &formula.uses;
        if uses.is_empty() || !uses.iter().all(|own| warm(own.temperature_c)) {
            continue;
        }
        let out = in_process(&["sheet", &formula.id, "1L", "--side", "both"]).out;
        assert!(!out.contains("cool to 20 °C (now") && !out.contains("Cool it to"), "{out}");
        seen += 1;
    }
    assert!(seen >= 4, "only {seen}");
}
