use super::*;

#[test]
fn the_first_to_crystallise_sets_the_strength_and_a_stock_at_it_is_just_saturated() {
    let json = good(&["concentrate", "plain-thiosulfate-fixer", "--json"]).json();
    let part = &json["parts"][0];
    let most = number(&part["largest_times"]);
    let limited_by = part["limited_by"].as_str().unwrap();
    let grams = number(&part["substances"][0]["grams_per_litre"]);
    let stock = predicted(&recipe(&[(limited_by, grams * most)], ""), &[]);
    let line = &stock["parts"][0]["solubility"][0];
    assert_abs_diff_eq!(number(&line["limit_grams_per_litre"]), grams * most, epsilon = 0.5);
}

#[test]
fn yes_no_and_not_known_are_told_apart() {
    let alone = recipe(&[("sodium-carbonate-anhydrous", 20.0)], "");
    let answer = |text: &str, times: &str| run(text, &["concentrate", times]);
    let yes = answer(&alone, "5x");
    assert_eq!((yes.code, &yes.json()["parts"][0]["answer"]), (0, &Value::from("yes")));
    let no = answer(&alone, "15x");
    assert_eq!((no.code, &no.json()["refusals"][0]["code"]), (1, &Value::from("crystallises")));
    assert_eq!(no.json()["parts"], Value::from(Vec::<Value>::new()), "a refusal gives no amounts");
    let unknown = recipe(&[("sodium-carbonate-anhydrous", 20.0), ("glycin", 2.0)], "");
    let ran = answer(&unknown, "5x");
    assert_eq!((ran.code, &ran.json()["parts"][0]["answer"]), (0, &Value::from("not-known")));
    assert_eq!(soupcon(&["concentrate", "phenidone-ascorbate-tea-concentrate", "2x"]).code, 1);
}
