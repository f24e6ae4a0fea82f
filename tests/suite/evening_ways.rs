//! Other ways, steps of one's own, and developers that ask for other baths. Figures of the hands are counted by hand from the rules of
//! `formulas/tables/evening.toml` and the worked case EV-C2 (600 s); the chemistry is common practice, no source, where nothing else is said.

use crate::common::{Ran, command, soupcon_with_input};

const TIMES: &str = "start = \"19:30\"\npour = \"15s\"\n[times]\nstop = \"30s\"\nfix = \"5min\"\nrinse = \"1min\"\naid = \"2min\"\nwash = \"5min\"\nwetting = \"1min\"\nhang = \"1min\"\n";

fn run(text: &str) -> Ran {
    soupcon_with_input(&["evening", "-", "--json"], text.as_bytes())
}

fn tank(extra: &str) -> String {
    format!("{TIMES}[[tanks]]\nname = \"A\"\nfilms = \"2x135-36\"\nvolume = \"600ml\"\n{extra}")
}

fn good(text: &str) -> serde_json::Value {
    let ran = run(text);
    assert_eq!(ran.code, 0, "{text}\n{}", ran.whole());
    ran.json()
}

fn steps(told: &serde_json::Value) -> Vec<String> {
    let all = told["tanks"][0]["steps"].as_array().unwrap();
    all.iter().map(|own| format!("{} {}", own["name"].as_str().unwrap(), own["start_s"])).collect()
}

fn refused(text: &str, code: &str) {
    let ran = run(text);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert_eq!(ran.json()["refusals"][0]["code"], code);
}

fn notes(told: &serde_json::Value) -> String {
    told["notes"].to_string()
}

/// A drum wants hands only while it is filled and emptied: seven times 30 s, and two films hung.
#[test]
fn a_rotary_drum_wants_no_hands_between_pours() {
    let told = good(&tank("way = \"rotary\"\ntime = \"8min\"\n"));
    assert_eq!(told["hands_s"], 7 * 30 + 120);
    assert!(told["clock"][0]["detail"].as_str().unwrap().contains("motor"));
    assert_eq!(told["end_s"], 1575);
}

/// The first moving of hangers is 10 s, not 30, in developer, fixer and aid.
#[test]
fn each_way_is_told_with_its_own_moves() {
    let clock = |way: &str| {
        let shown = soupcon_with_input(
            &["evening", "-"],
            tank(&format!("way = \"{way}\"\ntime = \"8min\"\n")).as_bytes(),
        )
        .out;
        let flat = shown.split_whitespace().collect::<Vec<_>>().join(" ");
        flat[flat.find("CLOCK").unwrap()..].to_owned()
    };
    let rotary = clock("rotary");
    assert!(
        rotary.contains("the motor runs") && !rotary.contains("invert") && !rotary.contains("rap the"),
        "{rotary}"
    );
    let hangers = clock("hangers");
    assert!(hangers.contains("knock against the rim and lift for 0:10"), "{hangers}");
    assert!(hangers.contains("no light at all") && !hangers.contains("full light"), "{hangers}");
    assert!(!hangers.contains("invert"), "{hangers}");
}

#[test]
fn hangers_are_lifted() {
    let told = good(&tank("way = \"hangers\"\ntime = \"8min\"\n").replace("2x135-36", "2x4x5in"));
    assert_eq!(told["hands_s"], 600 - 3 * 20);
}

#[test]
fn sheets_in_trays_go_by_beats() {
    let text = tank("way = \"trays\"\ntime = \"8min\"\npresoak = \"1min\"\n").replace("2x135-36", "4x4x5in");
    let told = good(&text);
    let beats: Vec<String> = told["beats"]
        .as_array()
        .unwrap()
        .iter()
        .map(|own| format!("{} {}", own["at"].as_str().unwrap(), own["act"].as_str().unwrap()))
        .collect();
    assert_eq!(beats[0], "0:00 sheet 1 in to presoak");
    // One sheet each 10 s; a round of four takes 40 s. Lifted at 1:00, the first sheet drains for 15 s and goes in; the last is lifted
    // as long after the first as it went in.
    assert!(beats.contains(&"0:30 sheet 4 in to presoak".to_owned()), "{beats:?}");
    assert!(beats.iter().any(|own| own == "1:00 sheet 1 up, drain from a corner, into develop"), "{beats:?}");
    assert!(beats.iter().any(|own| own.starts_with("1:55 develop: round 1")), "{beats:?}");
    assert!(beats.contains(&"9:15 sheet 1 up, drain from a corner, into stop".to_owned()), "{beats:?}");
    assert!(beats.contains(&"9:45 sheet 4 up, drain from a corner, into stop".to_owned()), "{beats:?}");
    // The last of four sheets goes into the fixer 30 s after the first; two minutes later there may be light, and nothing is said by heart.
    let fix = &told["tanks"][0]["steps"][3];
    assert_eq!(fix["name"], "fix");
    let presoak_s = 75;
    let light = fix["start_s"].as_i64().unwrap() + presoak_s + 150;
    let last = beats.last().unwrap();
    assert!(last.starts_with(&format!("{}:{:02} light may come on", light / 60, light % 60)), "{last}");
    // No bath is shorter than moving the pile takes: the stop of 30 s becomes 40 s.
    let stop = &told["tanks"][0]["steps"][2];
    assert_eq!(
        (stop["name"].as_str(), stop["end_s"].as_i64().unwrap() - stop["start_s"].as_i64().unwrap()),
        (Some("stop"), 40)
    );
    // In the dark nobody's hands are free: from the developer in to the stop out all of it.
    let shown = soupcon_with_input(&["evening", "-"], text.as_bytes()).out;
    assert!(shown.contains("BY HEART") && shown.contains("no light at all"), "{shown}");
    for word in ["rap", "invert", "motor", "stands in full light"] {
        assert!(!shown.contains(word), "{word}: {shown}");
    }
    refused(&text.replace("4x4x5in", "13x4x5in"), "too-many-sheets");
}

#[test]
fn steps_have_names_of_their_own() {
    let own = "steps = [\"presoak 2min\", \"mix 1min\", \"develop A 4min\", \"develop B 3min\", \"stop\", \"fix\", \"fix 2 4min\", \"rinse\", \"aid\", \"wash\", \"wetting\"]\n";
    let told = good(&tank(own));
    // The developer goes in at 0:00; mixing ends then, and is not poured out; before it the presoak is, in 15 s.
    assert_eq!(
        steps(&told)[..7],
        ["presoak -195", "mix -60", "develop A 0", "develop B 255", "stop 450", "fix 495", "fix 2 810"]
    );
    let baths: Vec<&str> =
        told["needs"].as_array().unwrap().iter().map(|own| own["bath"].as_str().unwrap()).collect();
    assert_eq!(baths[..6], ["presoak", "developer A", "developer B", "stop", "fixer", "fixer 2"]);
    let twice = run(&tank("steps = [\"develop 8min\", \"fix\", \"fix\"]\n"));
    assert_eq!(twice.code, 2);
    assert!(twice.err.contains("fix 2"), "{}", twice.err);
    let nothing = run(&tank("steps = [\"fix\"]\n"));
    assert_eq!(nothing.code, 2);
    let unknown =
        run(&tank("time = \"8min\"\n")
            .replace("[times]", "[baths]\nfixr = \"plain-thiosulfate-fixer\"\n[times]"));
    assert_eq!(unknown.code, 2);
    assert!(unknown.err.contains("fixer"), "{}", unknown.err);
}

/// A staining developer of two parts is mixed just before each tank, stopped in water, and washed without an aid; its mixed bath is in no
/// tank longer than it lives (15 to 30 min by the rule of its class).
#[test]
fn a_staining_developer_asks_for_other_baths() {
    let text = "[[tanks]]\nname = \"A\"\nfilms = \"2x135-36\"\nvolume = \"600ml\"\ndeveloper = \"pyrocatechol-hydroxide-compensating\"\ntime = \"12min\"\n";
    let told = good(&format!("{text}{}", text.replace("\"A\"", "\"B\"")));
    for tank in [0, 1] {
        let names: Vec<&str> = told["tanks"][tank]["steps"]
            .as_array()
            .unwrap()
            .iter()
            .map(|own| own["name"].as_str().unwrap())
            .collect();
        assert_eq!(names, ["mix", "develop", "stop", "fix", "rinse", "wash", "wetting", "hang"]);
    }
    let wash = &told["tanks"][1]["steps"][5];
    assert_eq!(wash["end_s"].as_i64().unwrap() - wash["start_s"].as_i64().unwrap(), 1200);
    assert!(notes(&told).contains("stop in water"), "{}", notes(&told));
    // Fresh water for each tank.
    assert!(told["needs"].as_array().unwrap().iter().any(|own| own["bath"] == "stop" && own["times"] == 2));
    refused(&text.replace("12min", "45min"), "older-than-its-life");
    // What is given stands, and is told.
    let acid =
        format!("[baths]\nstop = \"acetic-acid-stop-bath\"\naid = \"sulfite-bisulfite-washing-aid\"\n{text}");
    let told = good(&acid);
    assert!(notes(&told).contains("an acid stop takes stain"), "{}", notes(&told));
    assert_eq!(told["tanks"][0]["steps"][5]["name"], "aid");
}

#[test]
fn two_baths_are_timed_each_and_never_presoaked() {
    let text = tank("developer = \"two-bath-metol-sulfite-borax\"\ntime = \"4min + 3min\"\n");
    let told = good(&text);
    assert_eq!(steps(&told)[..3], ["develop A 0", "develop B 255", "stop 450"]);
    let made: Vec<&str> =
        told["needs"].as_array().unwrap().iter().map(|own| own["bath"].as_str().unwrap()).collect();
    assert_eq!(made[..2], ["developer A", "developer B"]);
    let one = good(&text.replace("4min + 3min", "4min"));
    assert_eq!(steps(&one)[..3], ["develop A 0", "develop B 255", "stop 510"]);
    refused(&text.replace("time =", "presoak = \"1min\"\ntime ="), "presoak-before-two-baths");
}

/// The tap at 12 °C is more than 3 °C off: three fills of 600 mL for each of two tanks.
#[test]
fn a_cold_tap_means_fill_and_dump_counted_in_litres() {
    let text = tank("time = \"8min\"\n")
        + "[[tanks]]\nname = \"B\"\nfilms = \"2x135-36\"\nvolume = \"600ml\"\ntime = \"8min\"\n";
    let file = tempfile::NamedTempFile::new().unwrap();
    std::fs::write(file.path(), &text).unwrap();
    let path = file.path().to_str().unwrap();
    let ran: Ran =
        command(&["evening", path, "--json"]).env("SOUPCON_COLD_TAP", "12C").output().unwrap().into();
    assert_eq!(ran.code, 0, "{}", ran.whole());
    let told = ran.json();
    let wash = told["needs"].as_array().unwrap().iter().find(|own| own["bath"] == "wash").unwrap();
    assert_eq!((wash["times"].as_i64(), wash["volume_ml"].as_f64()), (Some(6), Some(3600.0)));
    assert!(notes(&told).contains("1.8 L"), "{}", notes(&told));
    let near: Ran =
        command(&["evening", path, "--json"]).env("SOUPCON_COLD_TAP", "18C").output().unwrap().into();
    assert!(
        near.json()["needs"].as_array().unwrap().iter().any(|own| own["bath"] == "wash" && own["times"] == 0)
    );
    let short = text.replace("wash = \"5min\"", "wash = \"1min\"");
    std::fs::write(file.path(), short).unwrap();
    let ran: Ran =
        command(&["evening", path, "--json"]).env("SOUPCON_COLD_TAP", "18C").output().unwrap().into();
    assert_eq!((ran.code, ran.json()["refusals"][0]["code"].as_str()), (1, Some("wash-too-short")));
}

/// Alum-hardened film washes slowest (K. R. Haring, thesis, 1970, abstract); the factor of 1.5 to 2 is from memory.
#[test]
fn after_an_alum_fixer_the_wash_is_longer() {
    let baths = "[baths]\nfixer = \"acid-hardening-alum-boric-fixer\"\n";
    let own = "[[tanks]]\nfilms = \"2x135-36\"\nvolume = \"600ml\"\ntime = \"8min\"\n";
    let told = good(&format!("{baths}{own}"));
    let wash =
        told["tanks"][0]["steps"].as_array().unwrap().iter().find(|own| own["name"] == "wash").unwrap();
    assert_eq!(wash["end_s"].as_i64().unwrap() - wash["start_s"].as_i64().unwrap(), 600);
    let told = good(&format!("{baths}[times]\nwash = \"5min\"\n{own}"));
    assert!(notes(&told).contains("hardens with alum: wash 7:30 to 10:00"), "{}", notes(&told));
}

#[test]
fn an_alkaline_fixer_wants_water_before_it() {
    let own = "[baths]\nfixer = \"ammonium-thiosulfate-alkaline-rapid-fixer\"\n[[tanks]]\nfilms = \"2x135-36\"\nvolume = \"600ml\"\ntime = \"8min\"\n";
    let told = good(own);
    assert!(notes(&told).contains("an alkaline fixer wants no acid"), "{}", notes(&told));
    assert_eq!(told["tanks"][0]["steps"][1]["end_s"].as_i64().unwrap() - 495, 60);
}

#[test]
fn a_bath_that_is_not_named_is_any() {
    let told = good(&tank("time = \"8min\"\n"));
    let said = notes(&told);
    assert!(said.contains("any fixer") && said.contains("life are not known"), "{said}");
    let shown = soupcon_with_input(&["evening", "-"], tank("time = \"8min\"\n").as_bytes()).out;
    assert!(shown.contains("any fixer"), "{shown}");
}

/// The time is that of `soupcon time` for the same question.
#[test]
fn a_time_that_is_not_given_is_worked_out() {
    let own = "developer = \"mq-borax-classic\"\nuse = \"undiluted\"\nknown = { time = \"8min\", temp = \"20C\" }\ntemp = \"22C\"\n";
    let told = good(&tank(own));
    let asked = crate::common::good(&[
        "time",
        "8min",
        "--from",
        "mq-borax-classic",
        "--from-dilution",
        "stock",
        "--to-temp",
        "22C",
        "--json",
    ])
    .json();
    let develop = told["tanks"][0]["steps"][0]["end_s"].as_f64().unwrap();
    assert!((develop - asked["timer_seconds"].as_f64().unwrap()).abs() < 1e-9, "{develop} {asked}");
    assert!(develop < 480.0);
    assert!(notes(&told).contains("time worked out"), "{}", notes(&told));
    let none = run(&tank("film = \"a film of no record\"\n"));
    assert_eq!(none.code, 2);
    assert!(none.err.contains("no developing time"), "{}", none.err);
}
