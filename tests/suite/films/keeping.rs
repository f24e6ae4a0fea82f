//! How long a bath keeps: stated figures, rules of classes.

use super::*;

#[test]
fn a_used_bath_never_wears_the_date_of_unused_stock() {
    let room = Darkroom::new();
    room.add("mixed mq-borax-classic 1L --bottle D3 --date 2026-10-01");
    let unused = room.bottle("D3", "2026-10-02");
    // The formula's file: full bottle 180 days, tank with its lid 30.
    assert_eq!(
        (unused["good_to"].as_str(), unused["good_to_of"].as_str()),
        (Some("2027-03-30"), Some("full"))
    );
    room.add("developed 8min --bottle D3 --films 135 --tank 300ml --date 2026-10-10");
    let used = room.bottle("D3", "2026-10-11");
    assert_eq!((used["good_to"].as_str(), used["good_to_of"].as_str()), (Some("2026-11-09"), Some("used")));
    assert_eq!(room.run("bottles --date 2026-11-09").code, 0);
    let out = room.run("bottles --date 2026-11-10");
    assert_eq!(out.code, 1);
    assert!(out.out.contains("OUT") && out.out.contains("2026-11-09"), "{}", out.out);
    // Drawn and thrown away: the stock is unused, and half full from then on.
    room.add("mixed mq-borax-classic 1L --bottle D4 --date 2026-10-01");
    room.add("developed 8min --bottle D4 --films 2x135 --dilution 1+1 --tank 1100ml --date 2026-10-10");
    let half = room.bottle("D4", "2026-10-11");
    assert_eq!(
        (half["good_to"].as_str(), half["good_to_of"].as_str()),
        (Some("2026-12-09"), Some("half full"))
    );
    assert_abs_diff_eq!(figure(&half, "left_ml"), 450.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&half, "films"), 0.0, epsilon = 1e-9);
}

#[test]
fn a_rule_is_two_dates_and_never_ends_with_one() {
    let room = Darkroom::new();
    room.add("mixed pyrocatechol-hydroxide-compensating 450ml --bottle P1 --date 2026-10-28");
    let names: Vec<String> = room.run("bottles P1 --date 2026-11-26 --json").json()["bottles"]
        .as_array()
        .unwrap()
        .iter()
        .map(|own| own["name"].as_str().unwrap().to_owned())
        .collect();
    assert_eq!(names, ["P1 A", "P1 B"]);
    let catechol = room.bottle("P1", "2026-11-26");
    // Classes pyro and hydroxide: the shorter, 60 days; used 25 of A in 1000, 450 mL make 18 L.
    assert_eq!(catechol["look_from"], "2026-12-27");
    assert_eq!(catechol["good_to_basis"], "rule");
    assert!(catechol["advice"].as_str().unwrap().contains("18 L"), "{catechol}");
    let late = room.run("bottles --date 2029-01-01");
    assert_eq!(late.code, 0, "{}", late.whole());
    assert!(!late.out.contains("OUT") && late.out.contains("rule"), "{}", late.out);
    let label = good(&["label", "pyrocatechol-hydroxide-compensating", "450ml", "--mixed", "2026-10-28"]).out;
    let label = label.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in ["look from 2026-12-27 on", "out by 2027-04-26", "by rule, full bottle, unused"] {
        assert!(label.contains(words), "{words}: {label}");
    }
}

#[test]
fn what_a_formula_says_of_keeping_in_words_goes_before_any_rule() {
    // The file of this fixer: one day only; its class would keep a year.
    let room = Darkroom::new();
    room.add("mixed thiosulfate-metabisulfite-acid-fixer-negatives 1L --bottle F1 --date 2026-11-01");
    let json = room.bottle("F1", "2026-11-01");
    assert!(json["good_to"].is_null() && json["out_by"].is_null(), "{json}");
    assert!(json["advice"].as_str().unwrap().contains("One day only"), "{json}");
    let label = good(&["label", "thiosulfate-metabisulfite-acid-fixer-negatives", "1L"]).out;
    assert!(label.contains("One day only") && !label.contains("by rule"), "{label}");
}

#[test]
fn stated_figures_go_before_rules_over_the_whole_library() {
    // Each formula of a kind with rules: what it states is never told as a rule, and what is a rule says so.
    let list = good(&["list", "--json"]).json();
    let mut with_rule = 0;
    for formula in list["formulas"].as_array().unwrap() {
        if !["film-developer", "fixer", "stop-bath", "washing-aid"]
            .contains(&formula["kind"].as_str().unwrap())
        {
            continue;
        }
        let id = formula["id"].as_str().unwrap();
        let text = soupcon::library::Library::shipped_files()
            .iter()
            .find(|(path, _)| path.ends_with(&format!("/{id}.toml")))
            .unwrap()
            .1;
        let card = good(&["show", id, "--json"]).json();
        let rules = &card["rules"];
        assert_eq!(rules["basis"], "rule");
        if text.contains("stock_ml_per_roll") {
            assert!(rules["stock_ml_per_film"].is_null(), "{id}");
        }
        if text.contains("area_cm2_per_litre") {
            assert!(rules["films_per_litre"].is_null(), "{id}");
        }
        for keeping in rules["keeping"].as_array().unwrap() {
            for (key, range) in keeping.as_object().unwrap() {
                if let Some(range) = range.as_array() {
                    assert!(range[0].as_f64() <= range[1].as_f64(), "{id} {key}");
                    if card["parts"].as_array().unwrap().len() == 1 {
                        assert!(!text.contains(key.as_str()), "{id} states {key}");
                    }
                }
            }
        }
        with_rule += usize::from(!rules["class"].is_null());
    }
    assert!(with_rule > 90, "{with_rule}");
}

/// The class that each sort of film developer falls into, as the trade sorts them.
#[test]
fn classes_are_decided_by_composition() {
    for (id, class) in [
        ("mq-borax-classic", "rich in sulfite, with borax, metaborate or no alkali"),
        ("metol-sulfite", "rich in sulfite, with borax, metaborate or no alkali"),
        ("mq-carbonate-tray-tank", "rich in sulfite, with carbonate"),
        ("p-aminophenol-potassium-hydroxide-concentrate", "p-aminophenol concentrate with hydroxide"),
        ("phenidone-ascorbate-tea-concentrate", "without water: glycol or triethanolamine"),
        ("two-bath-metol-sulfite-borax", "two baths"),
        ("amidol-sulfite-stock-1910", "amidol"),
        ("hydroquinone-hydroxide-two-solution", "with hydroxide, in the same or another part"),
        ("pyro-metol-metaborate-staining", "pyro or catechol, its part without alkali, in water"),
        ("phenidone-ascorbate-metaborate-60-sulfite", "ascorbate with sulfite"),
        ("phenidone-ascorbate-metaborate-sulfite-free", "ascorbate with little sulfite, in water"),
        ("ppd-sulfite", "p-phenylenediamine"),
        ("glycin-potassium-carbonate-stock", "glycin with sulfite"),
        ("coffee-carbonate-ascorbate", "ascorbate with little sulfite, in water"),
    ] {
        let card = good(&["show", id, "--json"]).json();
        let named = card["rules"]["class"].as_str().unwrap();
        // A later class that fits as well is told after the first, which names the rule.
        assert_eq!(named.split("; and ").next(), Some(class), "{id}");
    }
    for id in ["monobath-pq-thiosulfate", "lith-paraformaldehyde", "mq-carbonate-thiocyanate-reversal-first"]
    {
        let card = good(&["show", id, "--json"]).json();
        assert!(card["rules"]["class"].is_null(), "{id}");
    }
}

/// What is made for paper counts sheets, and a toner that states its sheets (gold protective bath, about eight 8 x 10 in a litre) is out
/// after them; a rule is a range and is called a rule.
#[test]
fn paper_developers_toners_and_other_stops_have_rules_or_their_own_figures() {
    let rules = |id: &str| good(&["show", id, "--json"]).json()["rules"].clone();
    for (id, class) in [
        ("mq-carbonate-warm-tone-paper-developer", "carbonate, for paper"),
        ("amidol-sulfite-paper-developer", "amidol, for paper"),
        ("ascorbate-phenidone-borax-paper-developer", "ascorbate, for paper"),
        ("selenium-selenosulfate-toner", "selenium"),
        ("polysulfide-direct-brown-toner", "sulfide"),
        ("citric-acid-stop-bath", "citric acid"),
        ("bisulfite-stop-bath", "bisulfite"),
    ] {
        let own = rules(id);
        assert!(own["class"].as_str().unwrap().contains(class), "{id}: {own}");
        assert_eq!(own["basis"], "rule");
        assert!(!own["source"].as_str().unwrap().is_empty());
        assert!(good(&["show", id]).out.contains("by rule for its class"), "{id}");
    }
    let sheets = rules("mq-carbonate-warm-tone-paper-developer")["paper_sheets_per_litre"].clone();
    assert_eq!(sheets, serde_json::json!([20.0, 50.0]));
    assert_eq!(rules("kallitype-rochelle-borax-developer")["class"], Value::Null);
    let room = Darkroom::new();
    room.add("mixed mq-carbonate-warm-tone-paper-developer 1L --bottle P --date 2026-11-20");
    room.add("mixed gold-thiocyanate-protective-bath 1L --bottle G --date 2026-11-20");
    room.add("printed --sheets 8x8x10in --bottle P,G --date 2026-11-20");
    let paper = room.bottle("P", "2026-11-20");
    assert_abs_diff_eq!(figure(&paper, "sheets_left_low"), 12.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&paper, "sheets_left"), 42.0, epsilon = 1e-9);
    assert_eq!(paper["state"], "good");
    assert_eq!(room.bottle("G", "2026-11-20")["state"], "out");
    assert_eq!(room.run("bottles G --date 2026-11-20").code, 1);
    room.add("printed --sheets 80x8x10in --bottle P --date 2026-11-20");
    let ran = room.run("bottles P --date 2026-11-20");
    assert_eq!(ran.code, 0, "a rule alone never ends with 1: {}", ran.whole());
    assert!(!ran.out.contains("OUT"), "{}", ran.out);
}

#[test]
fn no_date_is_broken_across_a_line() {
    let room = Darkroom::new();
    room.add("mixed pyrocatechol-hydroxide-compensating 450ml --bottle P1 --date 2026-10-28");
    room.add("mixed mq-borax-classic 1L --bottle D3 --date 2026-11-20");
    room.run_words(&[
        "record",
        "add",
        "mixed",
        "mq-borax-classic",
        "5L",
        "--bottle",
        "the big brown demijohn",
        "--date",
        "2026-11-22",
    ]);
    let page = room.good("bottles --date 2026-11-26 --format html").out;
    let rows = page.split("<h2>").next().unwrap();
    let body = rows.split("class=\"row heads\"").nth(1).unwrap();
    let mut kept = body.to_owned();
    let mut dates = 0;
    while let Some(start) = kept.find("<s>20") {
        kept.replace_range(start..start + 3 + 10 + 4, "");
        dates += 1;
    }
    assert!(dates >= 6, "{page}");
    for rest in kept.split("class=\"date\">").map(|rest| rest.split_at(rest.len().min(10)).1) {
        assert!(!rest.contains("2026-") && !rest.contains("2027-"), "{rest}");
    }
    assert!(page.contains("white-space: nowrap"));
    for columns in ["40", "50", "60", "80", "100"] {
        let mut command = command(&["bottles", "--date", "2026-11-26"]);
        command.env("SOUPCON_JOURNAL", room.folder.path().join("journal.toml")).env("COLUMNS", columns);
        let told = Ran::from(command.output().unwrap()).out;
        for line in told.lines() {
            assert!(!line.trim_end().ends_with("2026-") && !line.trim_end().ends_with("2027-"), "{told}");
        }
        assert_eq!(told.matches("2027-05-21").count() + told.matches("2027-05-19").count(), 2, "{told}");
    }
}
