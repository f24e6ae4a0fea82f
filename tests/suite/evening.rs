//! `evening` through the command line. The figures are the worked cases of `tests/data/evening-cases.csv`; the laws stand beside the code.

use crate::common::{good, soupcon_with_input};

const FILE: &str = "examples/weekend-class/evening.toml";

fn example() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/weekend-class/evening.toml"))
        .unwrap()
}

/// EV-C2, EV-C4 to EV-C6: 2 × 600 s of hands, B's developer at 18:00, A out of the wash at 36:00, all hung at 44:15.
#[test]
fn two_tanks_of_the_class_are_the_worked_plan() {
    let told = good(&["evening", FILE, "--json"]).json();
    assert_eq!(told["end_s"], 2655);
    assert_eq!(told["hands_s"], 1200);
    assert_eq!(told["tanks"][1]["steps"][0]["start_s"], 1080);
    assert_eq!(told["tanks"][0]["steps"][5]["name"], "wash");
    assert_eq!(told["tanks"][0]["steps"][5]["end_s"], 2160);
    let text = good(&["evening", FILE]).out;
    assert!(text.contains("All hung 20:14:15 (44:15 after the first"), "{text}");
    // The watch is at 0:00 when B's developer goes in, and A's wetting is a row on it.
    assert!(text.contains("0:00  19:48:00  B     DEVELOPER in; 1 2 3 4 5 6 7"), "{text}");
    assert!(text.contains("18:00  20:06:00  A     out, WETTING 18:15"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
}

#[test]
fn a_tight_evening_ends_earlier_and_says_what_is_late() {
    let told = good(&["evening", FILE, "--tight", "--start", "20:00", "--json"]).json();
    assert!(told["end_s"].as_i64().unwrap() <= 2175, "{}", told["end_s"]);
    assert_eq!(told["start_of_day_s"], 72000);
    let late = told["late"].as_array().unwrap();
    assert!(late.iter().all(|own| own["late_s"].as_i64().unwrap() <= 20));
}

/// EV-C8 and EV-W4.
#[test]
fn what_cannot_be_is_refused_with_the_reason() {
    let wished = format!("{}start = \"19:34\"\n", example());
    let ran = soupcon_with_input(&["evening", "-"], wished.as_bytes());
    assert_eq!(ran.code, 1, "{}", ran.whole());
    let one_line = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        one_line.contains("A is emptied of develop") && one_line.contains("while B wants turning"),
        "{}",
        ran.out
    );
    let short =
        example().replace("aid = \"2min\"", "aid = \"0s\"").replace("wash = \"5min\"", "wash = \"105s\"");
    let ran = soupcon_with_input(&["evening", "-", "--json"], short.as_bytes());
    assert_eq!(ran.code, 1);
    assert_eq!(ran.json()["refusals"][0]["code"], "wash-too-short");
}

#[test]
fn nothing_seconds_leave_a_step_out_and_mistakes_are_told_with_their_line() {
    let without = example().replace("stop = \"30s\"", "stop = \"0s\"");
    let told = soupcon_with_input(&["evening", "-", "--json"], without.as_bytes()).json();
    assert_eq!(told["tanks"][0]["steps"][1]["name"], "fix");
    assert_eq!(told["tanks"][0]["steps"][1]["start_s"], 495);
    let bare = example().replace("pour = \"15s\"", "pour = \"15\"");
    let ran = soupcon_with_input(&["evening", "-"], bare.as_bytes());
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains(":4"), "{}", ran.err);
}

#[test]
fn the_skeleton_is_an_evening() {
    let skeleton = good(&["new", "evening"]).out;
    let told = soupcon_with_input(&["evening", "-", "--json"], skeleton.as_bytes());
    assert_eq!(told.code, 0, "{}", told.whole());
    // EV-C1: 26:15.
    assert_eq!(told.json()["end_s"], 1575);
}

/// Two pages, *clock* and *before*; the watch goes back to 0:00 at each developer; no third page where nothing is in trays.
#[test]
fn the_pages_are_clock_and_before() {
    for paper in ["a4", "letter"] {
        let html = good(&["evening", FILE, "--format", "html", "--paper", paper]).out;
        assert_eq!(html.matches("<main").count(), 2);
        assert!(html.find("Evening: clock").unwrap() < html.find("Evening: before").unwrap());
        assert_eq!(html.matches("Watch to 0:00").count(), 2);
        assert!(html.contains("rap, invert, then") && html.contains("<b>Late?</b>"));
        assert!(html.contains(&format!("size: {paper}")));
    }
    let markdown = good(&["evening", FILE, "--format", "markdown"]).out;
    assert!(markdown.contains("| 18:00 |"), "{markdown}");
}

/// Two tanks in the developer at once: a stand development beside another stands in two columns on one watch.
#[test]
fn two_columns_only_where_two_tanks_are_in_the_developer_at_once() {
    let stand = example().replacen("time = \"8min\"", "time = \"60min\"\nagitation = \"none\"", 1);
    let told = soupcon_with_input(&["evening", "-", "--format", "html"], stand.as_bytes());
    assert_eq!(told.code, 0, "{}", told.whole());
    assert_eq!(told.out.matches("Watch to 0:00").count(), 1);
    assert!(told.out.contains("row two"));
    assert!(!good(&["evening", FILE, "--format", "html"]).out.contains("row two\""));
}

/// A tank of the class with this name, developer, use and time.
fn tank_of(name: &str, developer: &str, use_name: &str, time: &str) -> String {
    format!(
        "[[tanks]]\nname = \"{name}\"\nfilms = \"2x135-36\"\nvolume = \"600ml\"\ndeveloper = \"{developer}\"\nuse = \"{use_name}\"\ntime = \"{time}\"\n"
    )
}

fn ran(text: &str, more: &[&str]) -> crate::common::Ran {
    let mut arguments = vec!["evening", "-"];
    arguments.extend(more);
    let ran = soupcon_with_input(&arguments, text.as_bytes());
    assert_eq!(ran.code, 0, "{}", ran.whole());
    ran
}

/// The formula states 4 films a litre undiluted and calls that use re-usable, the dilutions one-shot (`mq-borax-classic.toml`, from memory).
#[test]
fn a_developer_that_serves_again_is_not_poured_out() {
    let one = tank_of("A", "mq-borax-classic", "undiluted", "8min");
    let other = tank_of("B", "mq-borax-classic", "one-shot 1+1", "11min");
    let of = |text: &str| -> Vec<String> {
        let told = ran(text, &["--json"]).json();
        let needs = told["needs"].as_array().unwrap().clone();
        let developers = needs.iter().filter(|own| own["bath"] == "developer");
        developers.map(|own| own["after"].as_str().unwrap().to_owned()).collect()
    };
    // In the order of the tanks.
    assert_eq!(
        of(&format!("{one}{other}")),
        ["into a bottle marked used developer, films written on", "out"]
    );
    assert_eq!(of(&one.replace("use =", "bottle = \"D3\"\nuse =")), ["back to D3"]);
    assert_eq!(of(&other.replace("use =", "bottle = \"D3\"\nuse =")), ["out"]);
    // Nobody states how many films it does.
    let unknown = tank_of("A", "mq-borax-classic", "undiluted", "8min")
        .replace("developer = \"mq-borax-classic\"\nuse = \"undiluted\"\n", "");
    assert_eq!(of(&unknown), ["as its label says"]);
    let text = ran(&format!("{one}{other}"), &[]).out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("developer mq-borax-classic one-shot 1+1 out"), "{text}");
}

/// In a tight evening a tank's stop lasts on while the next developer goes in: nobody has the hands to move it all that time, its rows stand
/// on the next tank's watch, and that is said.
#[test]
fn a_tight_clock_says_whose_rows_stand_on_whose_watch() {
    let text = ran(&example(), &["--tight"]).out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("out, STOP 8:15, move 0:30 in all"), "{text}");
    assert!(text.contains("), for A too: 2 films"), "{text}");
    assert!(!text.contains("for B too"), "{text}");
    // Turnings that come late are counted bath by bath: as many as the document lists one by one.
    let told = ran(&example(), &["--tight", "--json"]).json();
    let late = told["late"].as_array().unwrap();
    let list = text.split("turned late, ").nth(1).unwrap().split(" - ").next().unwrap();
    let words: Vec<&str> = list.split_whitespace().collect();
    let counts = words.windows(2).filter(|own| own[1] == "×").map(|own| own[0].parse::<usize>().unwrap());
    assert_eq!(counts.sum::<usize>(), late.len(), "{list}");
    let calm = ran(&example(), &[]).out;
    assert!(!calm.contains(", move "), "{calm}");
}

#[test]
fn a_use_is_called_by_its_name_its_phrase_or_its_figures() {
    let told = |use_name: &str| ran(&tank_of("A", "mq-borax-classic", use_name, "11min"), &[]).out;
    let by_name = told("one-shot 1+3");
    assert!(by_name.contains("150 stock"), "600 mL at 1+3: {by_name}");
    assert_eq!(told("1+3"), by_name);
    assert_eq!(told("1 stock + 3 water"), by_name);
    let refused =
        soupcon_with_input(&["evening", "-"], tank_of("A", "mq-borax-classic", "1+7", "11min").as_bytes());
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("one-shot 1+3"), "{}", refused.err);
}

/// The tray developer of pyro and soda is used at 18 °C by its own text, the borax developer at the usual 20 °C: neither takes the other's.
#[test]
fn each_developer_keeps_its_own_temperature() {
    let text = tank_of("A", "mq-borax-classic", "undiluted", "8min")
        + &tank_of("B", "pyro-soda-tank", "tank", "20min");
    let out = ran(&text, &[]).out;
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    let row = |word: &str| out.lines().find(|line| line.contains(word)).unwrap_or_default();
    assert!(row("developer: mq-borax-classic").ends_with("20.0"), "{out}");
    assert!(flat.contains("8:00 at 20 °C") && flat.contains("20:00 at 18 °C"), "{out}");
    // Within 2 °C of both.
    assert!(row("fixer: any").ends_with("18-20"), "{out}");
    assert!(flat.contains("A at 20 °C; B at 18 °C;"), "{out}");
    assert!(out.contains("--temp 20C") && out.contains("--temp 18C"), "{out}");
    let far = text.replace("time = \"8min\"", "time = \"8min\"\ntemp = \"24C\"");
    let out = ran(&far, &["--format", "markdown"]).out;
    assert!(out.contains("temper anew between them"), "{out}");
}
