use super::*;

#[test]
fn an_exchange_that_moves_the_ph_says_so() {
    let shelf = ["scale", "phenidone-ascorbate-metaborate-60-sulfite", "1L", "--have", "sodium-ascorbate"];
    let ran = good(&shelf);
    assert!(ran.out.contains("takes the predicted pH from 7.8 to 9.9"), "{}", ran.out);
    let mut json = shelf.to_vec();
    json.push("--json");
    let change = &good(&json).json()["ph_changes"][0];
    assert!(number(&change["after"]) > number(&change["before"]) + 1.0);
    // A hydrate for another, mole for mole, moves nothing and says nothing.
    let same =
        good(&["scale", "mq-carbonate-tray-tank", "1L", "--have", "sodium-carbonate-monohydrate", "--json"]);
    assert!(same.json()["ph_changes"].as_array().unwrap().is_empty());
    let sheet = good(&[
        "sheet",
        "phenidone-ascorbate-metaborate-60-sulfite",
        "1L",
        "--have",
        "sodium-ascorbate",
        "--side",
        "both",
    ]);
    assert!(sheet.out.contains("takes the predicted pH") && sheet.out.contains("pH 9.9 ±"));
}

#[test]
fn a_product_of_low_assay_taken_for_more_of_it_is_the_same_solution() {
    let plain = good(&["sheet", "mq-hydroxide-maximum-energy", "1L", "--json"]).json();
    let weak =
        good(&["sheet", "mq-hydroxide-maximum-energy", "1L", "--assay", "sodium-hydroxide=90%", "--json"])
            .json();
    let ph = |json: &Value| number(&json["parts"][0]["expected_ph"]);
    assert_abs_diff_eq!(ph(&plain), ph(&weak), epsilon = 1e-9);
}

#[test]
fn the_sheet_says_what_it_takes_to_end_at_the_temperature_of_use() {
    let json = good(&["sheet", "plain-thiosulfate-fixer", "1L", "--json"]).json();
    let part = &json["parts"][0];
    let end = number(&part["ends_at_c"]);
    let steps = part["steps"].as_array().unwrap();
    assert_abs_diff_eq!(number(&steps.last().unwrap()["temperature_after_c"]), end, epsilon = 1e-9);
    // Started as told, the fixer ends as told: the file's own temperature is set to it.
    let start = number(&part["endings"][0]["start_water_c"]);
    let text = fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("formulas/fixer/plain-thiosulfate-fixer.toml"),
    )
    .unwrap();
    let table: toml::Table = text.parse().unwrap();
    let grams = table["ingredients"][0]["grams"].to_string().parse().ok();
    let form = table["ingredients"][0]["substance"].as_str().unwrap();
    let water = number(&part["start_water_ml"]);
    let mixing = format!("[mixing]\nwater = {water}\ntemperature = {start}\n");
    let again = recipe(&[(form, grams.unwrap())], &mixing).replace("test-solution", "fixer");
    let ran = soupcon_with_input(&["sheet", "-", "1L", "--json"], again.as_bytes());
    assert_eq!(ran.code, 0, "{}", ran.whole());
    let end = number(&ran.json()["parts"][0]["ends_at_c"]);
    assert_abs_diff_eq!(end, number(&part["endings"][0]["target_c"]), epsilon = 0.2);
    let text = good(&["sheet", "mq-carbonate-tray-tank", "1L", "--side", "both"]).out;
    assert!(text.contains("Finishes at about") && text.contains("Cool it to 20 °C"), "{text}");
}

#[test]
fn the_card_carries_the_prediction() {
    let card = good(&["show", "two-bath-metol-sulfite-borax"]).out;
    assert!(card.contains("PREDICTED") && card.contains("pH of A at 20 °C"), "{card}");
    let json = good(&["show", "mq-borax-classic", "--json"]).json();
    assert!(json["predicted"]["parts"][0]["ph"].is_number());
}
