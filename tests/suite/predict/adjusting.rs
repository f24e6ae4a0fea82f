use super::*;

/// The recipe with the amounts that `adjust` gave, predicted again.
fn again(forms: &[(&str, f64)], json: &Value) -> f64 {
    let removed = json["replaced"]["substance"].as_str();
    let mut all: Vec<(String, f64)> =
        forms.iter().filter(|(form, _)| Some(*form) != removed).map(|(f, g)| ((*f).to_owned(), *g)).collect();
    for own in json["using"].as_array().unwrap() {
        let form = own["substance"].as_str().unwrap();
        let grams = number(&own["grams_per_litre"]);
        match all.iter_mut().find(|(there, _)| there == form) {
            Some((_, there)) => *there += grams,
            None => all.push((form.to_owned(), grams)),
        }
    }
    let all: Vec<(&str, f64)> = all.iter().filter(|(_, g)| *g > 0.0).map(|(f, g)| (f.as_str(), *g)).collect();
    number(&predicted(&recipe(&all, ""), &[])["parts"][0]["ph"])
}

const METABORATE: [(&str, f64); 4] = [
    ("metol", 2.5),
    ("sodium-sulfite-anhydrous", 30.0),
    ("hydroquinone", 2.5),
    ("sodium-metaborate-tetrahydrate", 10.0),
];

fn adjusted(forms: &[(&str, f64)], arguments: &[&str]) -> Value {
    let mut all = vec!["adjust"];
    all.extend(arguments);
    let ran = run(&recipe(forms, ""), &all);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    ran.json()
}

// Na2B4O7 + 2 NaOH = 4 NaBO2 + H2O; masses from 381.37, 39.997 and 137.86 g/mol.
#[test]
fn metaborate_from_borax_and_caustic_is_exact() {
    let json = adjusted(
        &METABORATE,
        &[
            "--replace",
            "sodium-metaborate-tetrahydrate",
            "--using",
            "borax-decahydrate",
            "--using",
            "sodium-hydroxide",
        ],
    );
    assert_eq!(json["way"], "exact");
    let moles = 10.0 / 137.86;
    assert_abs_diff_eq!(number(&json["using"][0]["grams_per_litre"]), moles / 4.0 * 381.37, epsilon = 0.005);
    assert_abs_diff_eq!(number(&json["using"][1]["grams_per_litre"]), moles / 2.0 * 39.997, epsilon = 0.002);
    assert_abs_diff_eq!(number(&json["after"]["ph"]), number(&json["before"]["ph"]), epsilon = 1e-8);
    assert_abs_diff_eq!(
        number(&json["after"]["buffer_capacity"]),
        number(&json["before"]["buffer_capacity"]),
        epsilon = 1e-8
    );
    assert_abs_diff_eq!(again(&METABORATE, &json), number(&json["target_ph"]), epsilon = 1e-6);
    // A hydrate for another is exact, too; and a sulfite has no part in it.
    let json = adjusted(
        &METABORATE,
        &["--replace", "sodium-metaborate-tetrahydrate", "--using", "sodium-metaborate-dihydrate"],
    );
    assert_eq!(json["way"], "exact");
    assert_abs_diff_eq!(number(&json["using"][0]["grams_per_litre"]), moles * 101.83, epsilon = 0.01);
}

#[test]
fn carbonate_for_metaborate_is_by_ph() {
    let json = adjusted(
        &METABORATE,
        &["--replace", "sodium-metaborate-tetrahydrate", "--using", "sodium-carbonate-anhydrous"],
    );
    assert_eq!(json["way"], "ph");
    assert_abs_diff_eq!(again(&METABORATE, &json), number(&json["before"]["ph"]), epsilon = 1e-6);
    let capacity = |side: &str| number(&json[side]["buffer_capacity"]);
    assert!((capacity("after") / capacity("before") - 1.0).abs() > 0.1);
}

#[test]
fn triethanolamine_caustic_and_acid_reach_what_is_asked() {
    for (form, ph) in [
        ("triethanolamine", "8.3"),
        ("sodium-hydroxide", "9.9"),
        ("acetic-acid-28", "7.4"),
        ("sodium-bisulfite", "8.6"),
        ("borax-decahydrate", "9.0"),
    ] {
        let forms: &[(&str, f64)] = if form == "triethanolamine" {
            &[("metol", 7.5), ("sodium-sulfite-anhydrous", 100.0)]
        } else if form == "borax-decahydrate" {
            &METABORATE[..3]
        } else {
            &METABORATE
        };
        let json = adjusted(forms, &["--ph", ph, "--using", form]);
        assert_abs_diff_eq!(again(forms, &json), ph.parse::<f64>().unwrap(), epsilon = 1e-5);
    }
}

#[test]
fn two_substances_hold_the_capacity_as_well() {
    let buffered = [("metol", 2.0), ("sodium-sulfite-anhydrous", 50.0), ("borax-decahydrate", 4.0)];
    let json = adjusted(
        &buffered,
        &["--ph", "8.6", "--using", "borax-decahydrate", "--using", "boric-acid", "--capacity", "0.06"],
    );
    assert_eq!(json["way"], "ph-and-capacity");
    assert_abs_diff_eq!(number(&json["after"]["buffer_capacity"]), 0.06, epsilon = 1e-4);
    assert_abs_diff_eq!(again(&buffered, &json), 8.6, epsilon = 1e-4);
    let ran = run(
        &recipe(&buffered, ""),
        &[
            "adjust",
            "--ph",
            "8.6",
            "--using",
            "borax-decahydrate",
            "--using",
            "boric-acid",
            "--capacity",
            "5",
        ],
    );
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.whole().contains("mol/L per pH, not with 5"), "{}", ran.err);
}

#[test]
fn another_formula_is_matched() {
    let target = number(&good(&["predict", "mq-borax-classic", "--json"]).json()["parts"][0]["ph"]);
    let json = good(&[
        "adjust",
        "metol-sulfite",
        "--match",
        "mq-borax-classic",
        "--using",
        "triethanolamine",
        "--json",
    ])
    .json();
    assert_abs_diff_eq!(number(&json["target_ph"]), target, epsilon = 1e-9);
    assert_abs_diff_eq!(number(&json["after"]["ph"]), target, epsilon = 1e-5);
    assert_eq!(json["match"], "mq-borax-classic");
}

#[test]
fn what_cannot_be_reached_is_refused_with_the_reach() {
    for (arguments, says) in [
        (vec!["--ph", "11", "--using", "borax-decahydrate"], "between 8.3 and 9.0"),
        (vec!["--ph", "7.5", "--using", "borax-decahydrate"], "only raises"),
        (vec!["--ph", "9", "--using", "boric-acid"], "only lowers"),
        (vec!["--ph", "8.6", "--using", "boric-acid", "--replace", "boric-acid"], "it contains metol"),
    ] {
        let mut all = vec!["adjust", "mq-borax-classic"];
        all.extend(arguments);
        let ran = soupcon(&all);
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert!(ran.err.contains(says), "{}", ran.err);
    }
    let there = good(&[
        "adjust",
        "ph-standard-borax",
        "--temp",
        "25C",
        "--ph",
        "9.18",
        "--using",
        "boric-acid",
        "--json",
    ]);
    let there = there.json();
    assert!(there["way"] == "already-there" || number(&there["using"][0]["grams_per_litre"]) < 0.2);
}
