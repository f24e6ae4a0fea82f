//! `replenish` against worked examples of the mass balance. The figures were worked out apart from the program, from the balance
//! `V dC/dn = m + r (C_R − C)` with pencil and a table of exponentials; they are not the program's own output.

use approx::assert_abs_diff_eq;

use crate::common::{good, soupcon};

fn run(more: &[&str]) -> serde_json::Value {
    let mut arguments = vec!["replenish", "mq-borax-classic", "--json"];
    arguments.extend(more);
    good(&arguments).json()
}

/// 2 L, 160 mL exchanged after each 8 films, 50 mg of bromide a film.
fn in_batches(films: &str) -> serde_json::Value {
    let line = "--tank 2L --batch 8 --exchange 160ml --releases potassium-bromide=50mg --films";
    run(&line.split(' ').chain([films]).collect::<Vec<_>>())
}

fn level(list: &serde_json::Value, substance: &str) -> f64 {
    let row = list.as_array().unwrap().iter().find(|row| row["substance"] == substance);
    row.unwrap_or_else(|| panic!("{substance} is missing in {list}"))["grams_per_litre"].as_f64().unwrap()
}

fn at(answer: &serde_json::Value, films: u32, substance: &str) -> f64 {
    let point = answer["course"].as_array().unwrap().iter().find(|point| point["films"] == films);
    level(&point.unwrap_or_else(|| panic!("{films} films are missing"))["concentrations"], substance)
}

const BROMIDE: &str = "potassium-bromide";

/// 1 L, 20 mL a film, 50 mg of bromide: settles at 50/20 = 2.50 g/L; 2.5 (1 − exp(−n/50)).
#[test]
fn topping_up_lets_bromide_rise_to_what_is_released_over_the_rate() {
    let answer =
        run(&["--tank", "1L", "--films", "100", "--rate", "20ml", "--releases", "potassium-bromide=50mg"]);
    assert_abs_diff_eq!(answer["turnover_films"].as_f64().unwrap(), 50.0, epsilon = 1e-9);
    assert_abs_diff_eq!(level(&answer["steady"], BROMIDE), 2.50, epsilon = 1e-9);
    for (films, expected) in [(25, 0.984), (50, 1.580), (100, 2.162)] {
        assert_abs_diff_eq!(at(&answer, films, BROMIDE), expected, epsilon = 5e-4);
    }
}

/// 70 mL a film: 50/70 = 0.714 g/L, turnover 14.3 films, 0.464 g/L after 15.
#[test]
fn a_generous_rate_keeps_bromide_low() {
    let answer =
        run(&["--tank", "1L", "--films", "15", "--rate", "70ml", "--releases", "potassium-bromide=50mg"]);
    assert_abs_diff_eq!(answer["turnover_films"].as_f64().unwrap(), 14.3, epsilon = 0.05);
    assert_abs_diff_eq!(level(&answer["steady"], BROMIDE), 0.714, epsilon = 5e-4);
    assert_abs_diff_eq!(at(&answer, 15, BROMIDE), 0.464, epsilon = 5e-4);
}

/// 0.5 g/L held: 50/0.5 = 100 mL a film; 20 mL carried out leave 80 mL to pour away.
#[test]
fn holding_bromide_gives_the_rate_and_what_overflows() {
    let answer = run(&[
        "--hold",
        "potassium-bromide=0.5g/L",
        "--releases",
        "potassium-bromide=50mg",
        "--carry-out",
        "20ml",
    ]);
    assert_abs_diff_eq!(answer["rate_ml"].as_f64().unwrap(), 100.0, epsilon = 1e-9);
    assert_abs_diff_eq!(answer["bleed_ml"].as_f64().unwrap(), 80.0, epsilon = 1e-9);
    assert_abs_diff_eq!(level(&answer["steady"], BROMIDE), 0.5, epsilon = 1e-9);
}

/// 5 + 25/22 = 6.14 g/L of hydroquinone; 100 + 30/22 = 101.4 g/L of sulfite.
#[test]
fn holding_an_agent_gives_the_replenisher() {
    let answer = run(&["--hold", "hydroquinone=5g/L", "--uses", "hydroquinone=25mg", "--rate", "22ml"]);
    assert_abs_diff_eq!(level(&answer["replenisher"], "hydroquinone"), 6.14, epsilon = 5e-3);
    assert_abs_diff_eq!(level(&answer["steady"], "hydroquinone"), 5.0, epsilon = 1e-9);
    let sulfite = "sodium-sulfite-anhydrous";
    let answer = run(&[
        "--hold",
        &format!("{sulfite}=100g/L"),
        "--uses",
        &format!("{sulfite}=30mg"),
        "--rate",
        "22ml",
    ]);
    assert_abs_diff_eq!(level(&answer["replenisher"], sulfite), 101.4, epsilon = 5e-2);
}

/// 2 L, batches of 8 films, 160 mL exchanged: 0.184, 0.353, 0.509 g/L; in the limit 2.30 after and 2.50 before an exchange.
#[test]
fn batches_go_up_in_steps_and_settle_below_the_continuous_value() {
    let answer = in_batches("24");
    for (films, expected) in [(8, 0.184), (16, 0.353), (24, 0.509)] {
        assert_abs_diff_eq!(at(&answer, films, BROMIDE), expected, epsilon = 5e-4);
    }
    assert_abs_diff_eq!(level(&answer["steady"], BROMIDE), 2.30, epsilon = 5e-3);
    assert_abs_diff_eq!(level(&answer["steady_before_exchange"], BROMIDE), 2.50, epsilon = 5e-3);
}

/// 15 mL of water carried in with 20 mL of replenisher and 35 mL out: 50/35 = 1.43 g/L instead of 2.50.
#[test]
fn water_from_a_presoak_dilutes_bromide_and_agent() {
    let answer = run(&[
        "--films",
        "100",
        "--rate",
        "20ml",
        "--carry-in",
        "15ml",
        "--carry-out",
        "35ml",
        "--releases",
        "potassium-bromide=50mg",
        "--uses",
        "hydroquinone=25mg",
    ]);
    assert_abs_diff_eq!(level(&answer["steady"], BROMIDE), 1.43, epsilon = 5e-3);
    // (20 × 7.5 − 25) / 35.
    assert_abs_diff_eq!(level(&answer["steady"], "hydroquinone"), 3.571, epsilon = 1e-3);
}

/// Nothing added, 20 mL carried out by each of 10 films: 0.8 L left, 2.5 ln(1/0.8) = 0.558 g/L.
#[test]
fn a_tank_that_is_never_filled_up_falls() {
    let answer = run(&[
        "--films",
        "10",
        "--rate",
        "0ml",
        "--carry-out",
        "20ml",
        "--releases",
        "potassium-bromide=50mg",
    ]);
    assert_abs_diff_eq!(at(&answer, 10, BROMIDE), 0.558, epsilon = 5e-4);
    let last = answer["course"].as_array().unwrap().last().unwrap();
    assert_abs_diff_eq!(last["volume_ml"].as_f64().unwrap(), 800.0, epsilon = 1e-9);
    let ran =
        soupcon(&["replenish", "metol-sulfite", "--films", "60", "--rate", "0ml", "--carry-out", "20ml"]);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.err.contains("empty after 50 films"), "{}", ran.err);
}

#[test]
fn what_it_cannot_do_is_refused_with_a_remedy() {
    for (arguments, told) in [
        (&["replenish", "pyro-soda-tank"][..], "in parts"),
        (&["replenish", "mq-borax-75-sulfite"], "no replenishing rate"),
        (&["replenish", "mq-borax-classic", "--hold", "potassium-bromide=0.5"], "g/L"),
        (
            &["replenish", "mq-borax-classic", "--hold", "potassium-bromide=0.5g/L", "--rate", "20ml"],
            "100 mL a film or more",
        ),
        (&["replenish", "mq-borax-classic", "--films", "0"], "out of range"),
        (&["replenish", "mq-borax-classic", "--releases", "potasium-bromide=50mg"], "potassium-bromide"),
        (
            &["replenish", "mq-borax-classic", "--batch", "8", "--exchange", "2L", "--tank", "1L"],
            "less than the tank",
        ),
    ] {
        let ran = soupcon(arguments);
        assert_ne!(ran.code, 0, "{arguments:?}");
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
        assert!(ran.err.contains("fix:"), "{arguments:?}: {}", ran.err);
    }
}

/// Asked for 20 films in batches of 8: 0.353 g/L after the second exchange, and four films more before the third, 4 × 50 mg / 2 L.
#[test]
fn the_course_holds_the_films_asked_for_and_the_end_of_each_batch() {
    let answer = in_batches("20");
    assert_abs_diff_eq!(at(&answer, 16, BROMIDE), 0.353, epsilon = 5e-4);
    assert_abs_diff_eq!(at(&answer, 20, BROMIDE), 0.353 + 0.1, epsilon = 5e-4);
    let films: Vec<u64> =
        answer["course"].as_array().unwrap().iter().map(|point| point["films"].as_u64().unwrap()).collect();
    assert_eq!(films, [0, 8, 16, 20]);
}

/// Films through a full tank never lower bromide, whatever the rate; what is held stays where it is at every film; and topping up twice a
/// little ends where topping up once does.
#[test]
fn laws_of_the_balance() {
    for rate in ["10ml", "20ml", "70ml", "200ml"] {
        let answer = run(&["--films", "200", "--rate", rate]);
        let course = answer["course"].as_array().unwrap();
        let bromide: Vec<f64> = course.iter().map(|point| level(&point["concentrations"], BROMIDE)).collect();
        assert!(bromide.windows(2).all(|pair| pair[1] >= pair[0] - 1e-12), "{rate}: {bromide:?}");
        let held = run(&["--films", "200", "--rate", rate, "--hold", "hydroquinone=5g/L"]);
        for point in held["course"].as_array().unwrap() {
            assert_abs_diff_eq!(level(&point["concentrations"], "hydroquinone"), 5.0, epsilon = 1e-9);
        }
    }
    let whole = run(&["--films", "48", "--rate", "20ml", "--releases", "potassium-bromide=50mg"]);
    let first = run(&["--films", "24", "--rate", "20ml", "--releases", "potassium-bromide=50mg"]);
    let half = format!("potassium-bromide={}g/L", at(&first, 24, BROMIDE));
    let second =
        run(&["--films", "24", "--rate", "20ml", "--releases", "potassium-bromide=50mg", "--start", &half]);
    assert_abs_diff_eq!(at(&whole, 48, BROMIDE), at(&second, 24, BROMIDE), epsilon = 1e-9);
}

/// Development sets acid free and a film uses up alkali: a bath that gets nothing back falls in pH, the more the weaker its buffer; the
/// fresh bath has the pH that `predict` tells of the formula.
#[test]
fn ph_starts_where_predict_says_and_falls_where_nothing_is_put_back() {
    let bath = |formula: &str, more: &[&str]| {
        let mut arguments = vec!["replenish", formula, "--json", "--films", "10", "--carry-out", "0ml"];
        arguments.extend(more);
        good(&arguments).json()
    };
    let ph = |answer: &serde_json::Value, films: u32| {
        let point = answer["course"].as_array().unwrap().iter().find(|point| point["films"] == films);
        point.unwrap()["ph"].as_f64().unwrap()
    };
    let fallen = |formula: &str| {
        let answer = bath(formula, &["--rate", "0ml"]);
        let told: Vec<f64> = (0..=10).map(|films| ph(&answer, films)).collect();
        assert!(told.windows(2).all(|pair| pair[1] < pair[0]), "{formula}: {told:?}");
        told[0] - told[10]
    };
    let weak = fallen("mq-borax-classic");
    let strong = fallen("mq-metaborate-studio");
    assert!(weak > 0.05 && weak < 0.5, "{weak}");
    assert!(strong < weak, "{strong} against {weak}");
    let predicted = good(&["predict", "mq-borax-classic", "--json"]).json();
    let text = predicted.to_string();
    let fresh = format!("{:.3}", ph(&bath("mq-borax-classic", &["--rate", "0ml"]), 0));
    assert!(text.contains(&format!("\"ph\":{}", &fresh[..4])), "{fresh} is not in {text}");
}

#[test]
fn the_course_is_drawn_in_characters_and_on_a_sheet() {
    let arguments = [
        "replenish",
        "mq-borax-classic",
        "--films",
        "100",
        "--rate",
        "20ml",
        "--releases",
        "potassium-bromide=50mg",
    ];
    let text = good(&arguments).out;
    assert_eq!(text.matches('●').count(), 3, "{text}");
    assert!(text.contains("settles at 2.50 g/L") && text.contains("50: anew"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    let plain = good(&[&arguments[..], &["--ascii"]].concat()).out;
    assert!(plain.is_ascii(), "{plain}");
    let page = good(&[&arguments[..], &["--format", "html"]].concat()).out;
    // 1 L of replenisher is in after 50 films: 50 boxes, ten rows.
    assert_eq!(page.matches("<i>").count(), 50);
    assert!(page.contains("<b>1000 mL</b></p>") && page.contains("<b>100 mL</b></p>"), "{page}");
    for told in
        ["Begin anew at <b>50 films</b>", "1.58 g/L", "settles at 2.50 g/L", ">2.16</text>", ">0.98</text>"]
    {
        assert!(page.contains(told), "{told}: {page}");
    }
}

/// The replenisher of the fourth worked example, 6.14 g/L of hydroquinone, as a file that `check` passes and that can be mixed.
#[test]
fn a_replenisher_that_was_worked_out_is_written_as_a_formula() {
    let folder = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| crate::common::soupcon_in(folder.path(), arguments);
    let design = [
        "replenish",
        "mq-borax-classic",
        "--hold",
        "hydroquinone=5g/L",
        "--uses",
        "hydroquinone=25mg",
        "--rate",
        "22ml",
        "-o",
        "my-replenisher.toml",
    ];
    let written = run(&design);
    assert_eq!(written.code, 0, "{}", written.whole());
    assert!(written.out.contains("6.14"), "{}", written.out);
    let text = std::fs::read_to_string(folder.path().join("my-replenisher.toml")).unwrap();
    assert!(text.contains("substance = \"hydroquinone\"\ngrams = 6.14\n"), "{text}");
    let checked = run(&["check", "my-replenisher.toml"]);
    assert_eq!(checked.code, 0, "{}", checked.whole());
    let sheet = run(&["sheet", "my-replenisher.toml", "1L"]);
    assert_eq!(sheet.code, 0, "{}", sheet.whole());
    let again = run(&design);
    assert_ne!(again.code, 0);
    assert!(again.err.contains("already exists"), "{}", again.err);
    let nothing = run(&["replenish", "mq-borax-classic", "-o", "nothing.toml"]);
    assert_eq!(nothing.code, 2, "{}", nothing.whole());
    assert!(nothing.err.contains("--hold"), "{}", nothing.err);
}

#[test]
fn the_answer_reads_well_at_80_columns() {
    insta::assert_snapshot!(good(&["replenish", "mq-borax-classic", "--tank", "5L", "--films", "40"]).out);
}

/// A litre with 10 mL exchanged after each film is to be begun anew after 100 films (1000/10): the boxes go so far, two batches each. With
/// 22 mL a film it is 45 films (990 mL): the figures of a 48th film would stand over those.
#[test]
fn the_sheet_has_boxes_to_the_end_and_no_figure_over_another() {
    let page = |line: &str| good(&line.split(' ').collect::<Vec<_>>()).out;
    let command = "replenish mq-borax-classic --tank 1L --format html";
    let batches = page(&format!("{command} --films 100 --batch 1 --exchange 10ml"));
    assert!(batches.contains("Strike a box for 2 batches of 1 film; exchange 10 mL after each batch"));
    assert!(batches.contains("<i>100</i><b>1000 mL</b>"), "{batches}");
    let close = page(&format!("{command} --films 48"));
    assert!(close.contains(">990\u{a0}mL</text>") && !close.contains(">1.06\u{a0}L</text>"), "{close}");
    let apart = page(&format!("{command} --films 60"));
    assert!(apart.contains(">990\u{a0}mL</text>") && apart.contains(">1.32\u{a0}L</text>"), "{apart}");
}
