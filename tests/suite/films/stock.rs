//! How much stock films and trays ask for.

use super::*;

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
