//! From films to bottle to bin: how much for these films, which bottle is still good, and what a rule may say. Cases and figures are those of
//! `tests/data/film-cases.csv` and of the sources named beside each check.

use approx::assert_abs_diff_eq;
use serde_json::Value;

use crate::common::{Ran, command, good, schema, soupcon};
use soupcon::bath::fixer::{films_per_litre, silver_mg_per_film};

/// Expected figure and tolerance of a case.
fn case(id: &str) -> (f64, f64) {
    let text = include_str!("../data/film-cases.csv");
    let line = text.lines().find(|line| line.starts_with(&format!("{id},"))).unwrap();
    // Inputs may hold commas inside quotes.
    let mut cells = Vec::new();
    let (mut cell, mut quoted) = (String::new(), false);
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(std::mem::take(&mut cell)),
            other => cell.push(other),
        }
    }
    (cells[3].parse().unwrap(), cells[4].parse().unwrap())
}

fn assert_case(id: &str, value: f64) {
    let (expected, tolerance) = case(id);
    assert_abs_diff_eq!(value, expected, epsilon = tolerance + 1e-9);
}

/// A journal of its own.
struct Darkroom {
    folder: tempfile::TempDir,
}

impl Darkroom {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    fn file(&self, name: &str, text: &str) -> String {
        let path = self.folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.display().to_string()
    }

    fn run(&self, line: &str) -> Ran {
        self.run_words(&line.split(' ').collect::<Vec<_>>())
    }

    fn run_words(&self, words: &[&str]) -> Ran {
        let mut command = command(words);
        command.env("SOUPCON_JOURNAL", self.folder.path().join("journal.toml"));
        let config = self.folder.path().join("config.toml");
        if config.exists() {
            command.env("SOUPCON_CONFIG", config);
        }
        command.output().unwrap().into()
    }

    fn good(&self, line: &str) -> Ran {
        let ran = self.run(line);
        assert_eq!(ran.code, 0, "{line}:\n{}", ran.whole());
        ran
    }

    fn add(&self, line: &str) {
        self.good(&format!("record add {line}"));
    }

    fn bottle(&self, name: &str, date: &str) -> Value {
        let ran = self.run(&format!("bottles {name} --date {date} --json"));
        let json = ran.json();
        assert_eq!(schema::departures(&shipped_schema(), &json), Vec::<String>::new());
        json["bottles"][0].clone()
    }
}

fn shipped_schema() -> Value {
    serde_json::from_str(include_str!("../../formulas/schemas/bottles.json")).unwrap()
}

fn figure(json: &Value, field: &str) -> f64 {
    json[field].as_f64().unwrap_or_else(|| panic!("{field} in {json}"))
}

fn developer(least_ml: u32) -> String {
    format!(
        "format = 1\ntitle = \"A developer of a test\"\nkind = \"film-developer\"\nsummary = \"For a test.\"\nevidence = \"memory\"\n\
         [[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n[[ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 100\n\
         [[use]]\nname = \"undiluted\"\nbaths = [{{ stock = 1 }}]\n[[use]]\nname = \"one-shot\"\nbaths = [{{ stock = 1, water = 1 }}]\n\
         [capacity]\nstock_ml_per_roll = {least_ml}\n"
    )
}

#[test]
fn areas_are_those_of_the_trade_s_strips_and_sheets() {
    let films = |text: &str| good(&["scale", "mq-borax-classic", text, "--tank", "500ml", "--json"]).json();
    let area = |text: &str| figure(&films(text)["films"], "area_cm2");
    assert_case("EV-A1", area("135-36"));
    assert_case("EV-A1", area("135"));
    assert_case("EV-A3", area("135-24"));
    assert_case("EV-A4", area("120"));
    assert_case("EV-A2", figure(&films("135")["films"], "films_by_area"));
    assert_abs_diff_eq!(figure(&films("135")["films"], "films_by_trade"), 1.0, epsilon = 1e-12);
    assert_case("EV-A5", figure(&films("6x4x5in")["films"], "films_by_area"));
    // Nominal sizes in inches: 20 square inches of the 80 that one film counts.
    assert_abs_diff_eq!(figure(&films("8x10in")["films"], "films_by_area"), 1.0, epsilon = 1e-9);
    assert_abs_diff_eq!(area("2x9x12cm"), 216.0, epsilon = 1e-9);
    let words = good(&["scale", "mq-borax-classic", "2x135", "--tank", "500ml"]).out;
    assert!(
        words.contains("2 films 135-36") && words.contains("2.19 by area, 2 by the trade's count"),
        "{words}"
    );
}

#[test]
fn stock_for_films_is_counted_by_area_and_by_the_trade_and_both_are_told() {
    let room = Darkroom::new();
    let formula = room.file("a.toml", &developer(100));
    let json = room.run_words(&["scale", &formula, "3x135-24", "--tank", "50ml", "--json"]).json();
    assert_case("EV-S1", figure(&json["films"], "stock_by_area_ml"));
    // A figure per roll is counted by rolls: three.
    assert_abs_diff_eq!(figure(&json["films"], "stock_by_trade_ml"), 300.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&json["films"], "stock_ml"), 300.0, epsilon = 1e-9);
    assert_eq!(json["films"]["basis"], "stated");
}

#[test]
fn too_little_stock_is_told_the_same_by_dilute_and_time() {
    let room = Darkroom::new();
    let formula = room.file("a.toml", &developer(200));
    let ran = room.run_words(&["dilute", "1+1", "290ml", "--formula", &formula, "--films", "1x135"]);
    // EV-S2: too little stock: 145 mL of 200 mL.
    let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("too little stock") && words.contains("145 mL of 200 mL"), "{words}");
    // The class goes with 100 mL a film, somewhat longer: no refusal.
    assert_eq!(ran.code, 0);
    let ran = room.run_words(&["dilute", "1+3", "290ml", "--formula", &formula, "--films", "1x135"]);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    // The card: 475 mL of 1+1 for one roll, two rolls in it need about 10 % more time.
    let films = ["--films", "2", "--tank", "475ml"];
    let dilute =
        soupcon(&["dilute", "1+1", "475ml", "--formula", "mq-borax-classic", "--films", "2", "--json"]);
    let mut arguments = vec!["time", "8min", "--from", "mq-borax-classic", "--to-dilution", "1+1", "--json"];
    arguments.extend(films);
    let time = good(&arguments).json();
    let told = dilute.json()["warnings"].clone();
    for warning in told.as_array().unwrap() {
        assert!(time["warnings"].as_array().unwrap().contains(warning), "{warning} in {time}");
    }
    assert!(told[0].as_str().unwrap().contains("about 10 to 15 % more time"), "{told}");
    assert!(told[1].as_str().unwrap().contains("undiluted"), "{told}");
    assert_eq!(dilute.code, 0);
}

#[test]
fn agents_in_the_tank_are_told() {
    let json = soupcon(&[
        "dilute",
        "1+50",
        "500ml",
        "--formula",
        "p-aminophenol-potassium-hydroxide-concentrate",
        "--films",
        "1x135",
        "--json",
    ])
    .json();
    assert_case("EV-S3", figure(&json["stock"], "agent_g"));
}

#[test]
fn a_batch_for_films_is_never_less_than_what_covers_the_reels() {
    let room = Darkroom::new();
    room.file(
        "config.toml",
        "[tanks.small]\nvolume = \"290 ml\"\nreels = 1\n[tanks.large]\nvolume = \"1 L\"\nreels = 3\n",
    );
    let volume = |line: &str| {
        let json = room.good(&format!("scale {line} --json")).json();
        (figure(&json["films"], "tank_ml"), figure(&json["parts"][0], "volume_ml"))
    };
    // One film needs 237.5 mL of stock, the small tank 290 mL.
    assert_eq!(volume("mq-borax-classic 135"), (290.0, 290.0));
    // A 120 takes the room of two reels.
    assert_eq!(volume("mq-borax-classic 120"), (1000.0, 1000.0));
    assert_eq!(volume("mq-borax-classic --films 2 --tank small"), (290.0, 480.0));
    // A concentrate: 1 part in 51, so 290/51 = 5.7 mL cover the reel, and the rule asks 6 mL by 1.096 films.
    let (tank, stock) = volume("p-aminophenol-potassium-hydroxide-concentrate 135");
    assert!(tank >= 290.0 && (6.0..=12.0).contains(&stock), "{stock}");
    // Nothing is known of sheets in tanks: it is said, and the films alone decide.
    let sheets = room.good("scale mq-borax-classic 6x4x5in").out;
    assert!(sheets.split_whitespace().collect::<Vec<_>>().join(" ").contains("is not checked"), "{sheets}");
    assert_eq!(room.run("scale mq-borax-classic 4").code, 2);
    assert_eq!(room.run("scale mq-borax-classic 2x136").code, 2);
    assert_eq!(room.run("scale monobath-pq-thiosulfate 2x135").code, 1);
}

#[test]
fn a_clearing_test_goes_before_the_count() {
    let room = Darkroom::new();
    room.add("mixed thiosulfate-bisulfite-acid-fixer-250 1L --bottle F1 --date 2026-11-01");
    room.add("measured --clearing 45s --bottle F1 --date 2026-11-01");
    room.add("developed 8min --film x --formula mq-borax-classic --bottle F1 --films 2x135 --tank 500ml --date 2026-11-02");
    room.add("measured --clearing 1:40 --bottle F1 --date 2026-11-03");
    // EV-F1: 1:40 twice is 3:20; and the bath is spent, as 100 s are more than twice 45 s.
    let json = room.bottle("F1", "2026-11-03");
    assert_abs_diff_eq!(figure(&json, "fix_s"), 200.0, epsilon = 1e-9);
    room.add("measured --clearing 92s --bottle F1 --date 2026-11-04");
    let ran = room.run("bottles F1 --date 2026-11-04");
    let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    // EV-F2: spent: clearing time has doubled.
    assert!(words.to_lowercase().contains("spent: clearing time has doubled"), "{words}");
    assert_eq!(ran.code, 1);
    room.add("measured --clearing 89s --bottle F1 --date 2026-11-05");
    let ran = room.run("bottles F1 --date 2026-11-05");
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(ran.out.contains("2:58"), "{}", ran.out);
}

#[test]
fn silver_follows_from_coating_and_area() {
    let one = silver_mg_per_film(4.0, 0.75);
    assert_case("EV-F3", one);
    assert_case("EV-F4", films_per_litre(2.0, one));
    // Table of the same balance: 10 films at 3 and 6 g/m² bring 1.16 and 2.32 g into a litre.
    let room = Darkroom::new();
    room.add("mixed plain-thiosulfate-fixer 1L --bottle F1 --date 2026-11-01");
    room.add("developed 8min --film x --formula mq-borax-classic --bottle F1 --films 10films --tank 500ml --date 2026-11-02");
    let json = room.bottle("F1", "2026-11-03");
    assert_abs_diff_eq!(figure(&json, "silver_g_per_litre_low"), 1.16, epsilon = 0.005);
    assert_abs_diff_eq!(figure(&json, "silver_g_per_litre_high"), 2.32, epsilon = 0.005);
}

#[test]
fn a_fixer_has_two_figures_and_counts_paper_by_itself() {
    let room = Darkroom::new();
    room.add("mixed thiosulfate-bisulfite-acid-fixer-250 1L --bottle F1 --date 2026-11-01");
    room.add("developed 8min --film x --formula mq-borax-classic --bottle F1 --films 5x135,4x8x10in --tank 500ml --date 2026-11-02");
    let json = room.bottle("F1", "2026-11-03");
    assert_case("EV-F5", figure(&json, "films_left"));
    assert_eq!(json["films_basis"], "rule");
    assert_abs_diff_eq!(figure(&json, "films_left_low"), 1.0, epsilon = 1e-9);
    room.add("printed --sheets 30x8x10in --bottle F1 --date 2026-11-03");
    let after = room.bottle("F1", "2026-11-03");
    assert_eq!(after["films_left"], json["films_left"]);
    let advice = after["advice"].as_str().unwrap();
    for word in [
        "asting: 1 left of 10",
        "ordinary: 11 of 20",
        "Paper counts by itself: 30 sheets",
        "learing test first",
    ] {
        assert!(advice.contains(word), "{word} in {advice}");
    }
    // Far beyond both figures, a rule alone still never throws it out.
    room.add("count 60 --bottle F1 --date 2026-11-04");
    let ran = room.run("bottles --date 2026-11-05");
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(!ran.out.contains("OUT") && ran.out.contains("TEST"), "{}", ran.out);
}

#[test]
fn a_stop_bath_goes_by_its_acid() {
    let room = Darkroom::new();
    let stop = room.file(
        "stop.toml",
        "format = 1\ntitle = \"A stop bath of a test\"\nkind = \"stop-bath\"\nsummary = \"For a test.\"\nevidence = \"memory\"\n\
         [[ingredients]]\nsubstance = \"acetic-acid\"\ngrams = 15\n",
    );
    let json = room.run_words(&["show", &stop, "--json"]).json();
    let range = &json["rules"]["films_per_litre"];
    assert_case("EV-P1", range[0].as_f64().unwrap());
    // Half the carry-over, twice the films.
    assert_abs_diff_eq!(range[1].as_f64().unwrap(), 2.0 * range[0].as_f64().unwrap(), epsilon = 1e-9);
}

/// 15 % for each 4 rolls through a US gallon is 15 % for each 1.06 films a litre (memory); 10 % after each film: a French club course,
/// section 7.2.3. After three films in a litre 1.10³ = 1.33 to 1.15³ = 1.52, never 1.
#[test]
fn the_time_of_a_used_bath_grows_from_the_second_film_on() {
    let room = Darkroom::new();
    room.add("mixed mq-borax-classic 1L --bottle D3 --date 2026-11-01");
    let next = |films: &str| {
        room.add(&format!("count {films} --bottle D3 --date 2026-11-02"));
        let json = room.bottle("D3", "2026-11-03");
        (figure(&json, "next_time_low"), figure(&json, "next_time_high"))
    };
    assert_eq!(next("0"), (1.0, 1.0));
    let (low, high) = next("1");
    assert_abs_diff_eq!(low, 1.10, epsilon = 1e-9);
    assert_abs_diff_eq!(high, 1.15, epsilon = 1e-9);
    let (low, high) = next("3");
    assert_abs_diff_eq!(low, 1.33, epsilon = 0.01);
    assert_abs_diff_eq!(high, 1.52, epsilon = 0.01);
    let time = room.good("time 8min --from mq-borax-classic --bottle D3 --json").json();
    assert_abs_diff_eq!(figure(&time, "low_seconds"), 480.0 * 1.331, epsilon = 0.1);
    assert_abs_diff_eq!(figure(&time, "high_seconds"), 480.0 * 1.5209, epsilon = 0.1);
    let factor = time["factors"].as_array().unwrap().iter().find(|own| own["name"] == "used bath").unwrap();
    assert_eq!(factor["evidence"], "common-practice");
    // Three films in two litres are one and a half a litre.
    room.add("mixed mq-borax-classic 2L --bottle D4 --date 2026-11-01");
    room.add("count 3 --bottle D4 --date 2026-11-02");
    assert_abs_diff_eq!(
        figure(&room.bottle("D4", "2026-11-03"), "next_time_low"),
        1.1f64.powf(1.5),
        epsilon = 1e-9
    );
}

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
fn bottles_begin_new_lives_and_leave() {
    let room = Darkroom::new();
    assert!(room.good("bottles --date 2026-11-01").out.contains("No bottle stands"));
    room.add("mixed mq-borax-classic 1L --bottle D3,D4 --date 2026-11-01");
    room.add("count 2 --bottle D3 --date 2026-11-02");
    let again = room.good("record add mixed metol-sulfite 500ml --bottle D3 --date 2026-11-05");
    assert!(again.err.contains("not discarded"), "{}", again.err);
    let json = room.bottle("D3", "2026-11-06");
    assert_eq!((json["formula"].as_str(), json["films"].as_f64()), (Some("metol-sulfite"), Some(0.0)));
    // The day before it was still the old one.
    assert_eq!(room.bottle("D3", "2026-11-04")["formula"], "mq-borax-classic");
    assert_abs_diff_eq!(figure(&room.bottle("D4", "2026-11-06"), "volume_ml"), 500.0, epsilon = 1e-9);
    room.add("discarded --bottle D3,D4 --date 2026-11-07");
    assert!(room.good("bottles --date 2026-11-07").out.contains("No bottle stands"));
    let gone = room.run("bottles D3 --date 2026-11-07");
    assert_eq!(gone.code, 2);
    // Replenisher drawn from its own bottle; a replenished bath is not counted against the films of one that is not.
    room.add("mixed mq-borax-classic 1L --bottle D5 --date 2026-11-08");
    room.add("mixed mq-borax-classic-replenisher 1L --bottle R5 --date 2026-11-08");
    room.add("developed 8min --bottle D5 --films 4x135 --drawn 600ml --returned 570ml --date 2026-11-09");
    room.add("replenished 88ml --bottle D5 --from R5 --date 2026-11-09");
    let bath = room.bottle("D5", "2026-11-10");
    assert_abs_diff_eq!(figure(&bath, "left_ml"), 1058.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&bath, "replenished_ml"), 88.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&room.bottle("R5", "2026-11-10"), "left_ml"), 912.0, epsilon = 1e-9);
    assert_eq!(bath["state"], "good");
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

#[test]
fn a_tray_takes_its_inside_half_an_inch_deep() {
    let ml = |tray: &str| {
        let arguments = ["scale", "mq-borax-classic", "--films", "1x8x10in", "--tank", tray, "--json"];
        figure(&good(&arguments).json()["films"], "tank_ml")
    };
    for tray in ["220x270mm", "22x27cm", "22x27x1.27cm"] {
        assert_case("EV-T1", ml(tray));
    }
    // Two sheets of 11 x 14 in do not ask for more than the tray.
    assert_abs_diff_eq!(ml("220x270x20mm"), 1188.0, epsilon = 1e-6);
}

#[test]
fn films_stand_as_an_option_wherever_they_stand_in_place_of_a_volume() {
    let place = good(&["dilute", "1+1", "2x135", "--formula", "mq-borax-classic", "--json"]).json();
    let option =
        good(&["dilute", "1+1", "--films", "2x135", "--formula", "mq-borax-classic", "--json"]).json();
    assert_eq!(place, option);
    for command in ["scale", "sheet"] {
        let place = good(&[command, "mq-borax-classic", "2x135", "--json"]).json();
        assert_eq!(place, good(&[command, "mq-borax-classic", "--films", "2x135", "--json"]).json());
    }
    let ran = soupcon(&["dilute", "1+1", "--formula", "mq-borax-classic"]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
}

/// The count and the day of a bottle reach `time`: after three films in a litre 1.33 to 1.52 times as long, each further film 10 to 15 %
/// (15 % for each 4 rolls through a US gallon, memory; 10 % after each film: a French club course, section 7.2.3).
#[test]
fn the_count_and_the_day_of_a_bottle_reach_the_time() {
    let room = Darkroom::new();
    room.add("mixed mq-borax-classic 1L --bottle D3 --date 2026-11-20");
    room.add("count 3 --bottle D3 --date 2026-11-22");
    let on = |day: &str| {
        room.good(&format!("time 8min --from mq-borax-classic --bottle D3 --date {day} --json")).json()
    };
    assert_abs_diff_eq!(figure(&on("2026-11-21"), "seconds"), 480.0, epsilon = 1e-9);
    let after = on("2026-11-23");
    assert_abs_diff_eq!(
        figure(&after, "seconds") / 480.0,
        (1.1_f64.powi(3) * 1.15_f64.powi(3)).sqrt(),
        epsilon = 1e-9
    );
    assert_abs_diff_eq!(figure(&after, "low_seconds") / 480.0, 1.331, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&after, "high_seconds") / 480.0, 1.520_875, epsilon = 1e-9);
    assert!(after["warnings"].to_string().contains("3 days old; 3 films through it"), "{after}");
    // Stated: 30 days in a tank with its lid, from the first film on.
    assert!(on("2026-12-24")["warnings"].to_string().contains("OUT: bottle D3 was good to 2026-12-22"));
    let early = room.run("time 8min --from mq-borax-classic --bottle D3 --date 2026-11-01");
    assert_eq!(early.code, 2, "{}", early.whole());
}

/// What is for paper is told in sheets wherever it is told: 12 of 8 by 10 in through a litre that does 5160 cm², which is 10. What must go
/// out is not said to make anything.
#[test]
fn a_tray_of_paper_developer_is_told_in_sheets() {
    let room = Darkroom::new();
    let text = developer(100)
        .replace("film-developer", "paper-developer")
        .replace("stock_ml_per_roll = 100", "area_cm2_per_litre = 5160");
    std::fs::create_dir_all(room.folder.path().join("own/paper-developer")).unwrap();
    room.file("own/paper-developer/tray.toml", &text);
    let library = room.folder.path().join("own").display().to_string();
    room.add(&format!("mixed tray 1L --bottle P1 --date 2026-11-20 --library {library}"));
    room.add("printed --sheets 12x8x10in --bottle P1 --date 2026-11-21");
    let told = room.run(&format!("bottles --date 2026-11-22 --library {library}")).out;
    assert!(told.contains("12 sheets through it, stated 10"), "{told}");
    assert!(!told.contains("What is left makes"), "{told}");
    let line = "time 2min --from tray --from-dilution 1+1 --bottle P1 --date 2026-11-22 --library";
    let time = room.good(&format!("{line} {library}")).out;
    let time = time.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(time.contains("OUT: 12 sheets through bottle P1, 10 are stated"), "{time}");
    assert!(!time.contains("0 films"), "{time}");
}

/// The formula states 22 mL of replenisher for a film: 3 films ask for 66 mL, of which 44 have been poured in.
#[test]
fn a_replenished_bottle_tells_the_sum_after_its_films() {
    let room = Darkroom::new();
    room.add("mixed mq-borax-classic 1L --bottle D2 --date 2026-11-20");
    room.add("developed 8:30 --bottle D2 --films 3 --date 2026-11-21");
    let due = |day: &str| figure(&room.bottle("D2", day), "replenisher_due_ml");
    assert_abs_diff_eq!(due("2026-11-21"), 66.0, epsilon = 1e-9);
    room.add("replenished 44ml --bottle D2 --date 2026-11-22");
    assert_abs_diff_eq!(due("2026-11-22"), 22.0, epsilon = 1e-9);
    let told = room.run("bottles --date 2026-11-22").out;
    assert!(told.contains("+ 22 mL") && told.contains("Mix afresh after 42 films more"), "{told}");
    room.add("replenished 22ml --bottle D2 --date 2026-11-23");
    assert_abs_diff_eq!(due("2026-11-23"), 0.0, epsilon = 1e-9);
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

/// Card, `dilute` and `time` tell one figure: the card's working solution for a film is what `dilute` calls enough and, a little less, what it
/// does not; over every film developer of the library that is used diluted in one part.
#[test]
fn card_and_dilute_agree_on_what_a_film_needs() {
    let ids = good(&["list", "--kind", "film-developer", "--json"]).json();
    let mut checked = 0;
    for id in ids["formulas"].as_array().unwrap().iter().map(|own| own["id"].as_str().unwrap()) {
        let card = good(&["show", id, "--json"]).json();
        for own in card["rules"]["working_per_film"].as_array().unwrap() {
            let words: Vec<&str> = own["bath"].as_str().unwrap().split(' ').collect();
            let ["1", "stock", "+", water, "water"] = words.as_slice() else { continue };
            // Nothing in it about two films in a tank: one film, its own figure.
            let grade = |ml: f64| {
                let (ratio, volume) = (format!("1+{water}"), format!("{ml}ml"));
                let ran = soupcon(&["dilute", &ratio, &volume, "--formula", id, "--films", "1", "--json"]);
                ran.json()["stock"]["grade"].as_str().unwrap().to_owned()
            };
            let ml = figure(own, "ml");
            assert_eq!(grade((ml + 0.05).max(1.0)), "enough", "{id} {own}");
            assert_ne!(grade(ml * 0.98), "enough", "{id} {own}");
            checked += 1;
            if checked > 12 {
                return;
            }
        }
    }
    panic!("only {checked} were found");
}

/// A rule alone never ends with 1; what the formula itself states does.
#[test]
fn too_little_stock_by_rule_alone_is_told_and_is_no_refusal() {
    let by_rule = soupcon(&[
        "dilute",
        "1+100",
        "500ml",
        "--formula",
        "p-aminophenol-potassium-hydroxide-concentrate",
        "--films",
        "2x135",
    ]);
    assert!(
        by_rule.out.contains("too little stock") && by_rule.out.contains("rule for its class"),
        "{}",
        by_rule.out
    );
    assert_eq!(by_rule.code, 0, "{}", by_rule.whole());
    let stated = soupcon(&["dilute", "1+3", "500ml", "--formula", "mq-borax-classic", "--films", "2x135"]);
    assert_eq!(stated.code, 1, "{}", stated.whole());
}
