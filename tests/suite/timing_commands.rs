//! `time`, `chart`, `factorial` and `record` as a user meets them.

use std::fs;
use std::path::Path;

use crate::common::{Ran, command, good, soupcon};

/// Runs the program with a journal.
fn with_journal(journal: &Path, arguments: &[&str]) -> Ran {
    command(arguments).env("SOUPCON_JOURNAL", journal).output().unwrap().into()
}

/// Records a film and wants exit 0.
fn record(journal: &Path, time: &str, more: &[&str]) {
    let mut arguments =
        vec!["record", "add", "developed", time, "--film", "my 400 film", "--date", "2026-11-25"];
    arguments.extend(more);
    let ran = with_journal(journal, &arguments);
    assert_eq!(ran.code, 0, "{}", ran.whole());
}

/// The outcome of a command line of plain words that succeeds.
fn typed(line: &str) -> Ran {
    good(&line.split(' ').collect::<Vec<_>>())
}

#[test]
fn a_warmer_bath() {
    insta::assert_snapshot!(typed("time 8min --from mq-borax-classic --to-temp 22C").whole());
}

#[test]
fn everything_changes_at_once() {
    insta::assert_snapshot!(
        typed("time 8:30 --from mq-borax-classic --to mq-borax-bromide-80-sulfite-stronger --to-dilution 1+2 --to-temp 24C --to-agitation rotary --contrast -1 --films 1 --tank 300ml")
        .whole()
    );
}

#[test]
fn a_way_through_two_relations() {
    insta::assert_snapshot!(typed("time 8min --from mq-borax-classic --to metol-sulfite").whole());
}

#[test]
fn a_guess_by_composition_is_called_one_and_beyond_all_likeness_there_is_none() {
    let wanted = ["time", "10min", "--from", "mq-borax-classic", "--to"];
    let ask = |to| soupcon(&[wanted.as_slice(), &[to]].concat());
    insta::assert_snapshot!(ask("mq-borax-bromide-80-sulfite").whole());
    let far = ask("acutance-metol-glycin");
    assert_eq!(far.code, 1);
    insta::assert_snapshot!(far.whole());
}

// Source: the card of the formula itself, 8 to 15 min at 20 °C.
#[test]
fn the_time_on_a_card_stands_in_where_no_ratio_is_known() {
    let to = ["--to", "acutance-metol-sulfite-carbonate-ab", "--to-dilution", "1+1+8", "--json"];
    let known = good(&[["time", "8min", "--from", "mq-borax-classic"].as_slice(), &to].concat()).json();
    let card = good(&[["time"].as_slice(), &to].concat()).json();
    for json in [&known, &card] {
        assert_eq!(json["warning_codes"][0], "from-card");
        let range = [json["low_seconds"].as_f64().unwrap(), json["high_seconds"].as_f64().unwrap()];
        assert!((range[0] - 480.0).abs() < 1e-6 && (range[1] - 900.0).abs() < 1e-6, "{range:?}");
        assert!(json["from"]["dilution"] == "1+1+8");
    }
    // With no time on its card there is no answer, and both ways out are told.
    let none = soupcon(&["time", "--to", "mq-borax-classic"]);
    assert_eq!(none.code, 2, "{}", none.whole());
    assert!(none.err.contains("known time"), "{}", none.err);
}

// Source: the help itself: what is not said is as in the known time or record. 12 min at 22 °C, 1+1, twice recorded.
#[test]
fn what_is_not_said_is_as_in_the_record_and_a_change_is_said_first() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml");
    let conditions =
        ["--formula", "mq-borax-classic", "--dilution", "1+1", "--temp", "22C", "--agitation", "rotary"];
    record(&journal, "12min", &[conditions.as_slice(), &["--verdict", "right"]].concat());
    let film = ["time", "--film", "my 400 film"];
    let same = with_journal(&journal, &[film.as_slice(), &["--json"]].concat()).json();
    assert_eq!(same["to"]["dilution"], "1+1");
    assert_eq!(same["to"]["temperature_c"], 22.0);
    assert_eq!(same["to"]["agitation"], "rotary");
    assert!((same["seconds"].as_f64().unwrap() - 720.0).abs() < 0.5);
    assert!(same["low_seconds"].as_f64().unwrap() < 700.0 && same["high_seconds"].as_f64().unwrap() > 740.0);
    // Three lines with -q; a change stands in the first.
    let changed = with_journal(
        &journal,
        &[film.as_slice(), &["--to-temp", "20C", "--to-dilution", "stock", "-q"]].concat(),
    );
    let lines: Vec<&str> = changed.out.lines().collect();
    let first = lines[..2].join(" ");
    assert!(
        first.contains("undiluted at 20 °C") && first.contains("(known: 1+1,") && first.contains("22 °C)"),
        "{first}"
    );
    assert!(!changed.out.contains("WHY") && lines.len() <= 6, "{}", changed.out);
    // A chart needs no known time either, names its film and takes contrast.
    let chart =
        with_journal(&journal, &["chart", "--film", "my 400 film", "--contrast", "-1", "--json"]).json();
    assert_eq!(chart["film"], "my 400 film");
    assert!(chart["convention"].as_str().unwrap().contains("pouring in"));
    let times: Vec<f64> = chart["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["cells"][0]["seconds"].as_f64().unwrap())
        .collect();
    assert!(times.is_sorted_by(|colder, warmer| colder > warmer), "{times:?}");
}

#[test]
fn the_words_of_the_trade_for_agitation_push_and_paper() {
    let json = |line: &str| typed(&format!("{line} --json")).json();
    let classic = "time 8min --from mq-borax-classic";
    for word in ["continuous", "every-30s", "each-minute"] {
        json(&format!("{classic} --to-agitation {word}"));
    }
    assert!(good(&["time", "8min", "--from", "mq-borax-classic", "--to-agitation", "every 30s"]).code == 0);
    let wrong = soupcon(&["time", "8min", "--from", "mq-borax-classic", "--to-agitation", "sideways"]);
    assert!(wrong.err.contains("tray (continuous in a tray)"), "{}", wrong.err);
    let (push, pull) = (json(&format!("{classic} --push 1")), json(&format!("{classic} --pull 1")));
    let seconds = |json: &serde_json::Value| json["seconds"].as_f64().unwrap();
    assert!((seconds(&push) * seconds(&pull) / 480.0_f64.powi(2) - 1.0).abs() < 1e-9);
    assert_eq!(push["warning_codes"][0], "pushed");
    assert!(seconds(&json(&format!("{classic} --gradient 0.65"))) > 480.0);
    // Paper: tray, its own usual temperature, prints, the appearance of the image, and no 5 minutes.
    let paper =
        typed("time 90s --from mq-carbonate-neutral-paper-developer --from-dilution 1+2 --to-temp 25C");
    for (word, told) in [
        ("print", true),
        ("appear", true),
        ("tray", true),
        ("20 °C", true),
        ("film", false),
        ("under 5 min", false),
        ("frames", false),
    ] {
        assert_eq!(paper.out.split("\nFROM\n").next().unwrap().contains(word), told, "{word}: {}", paper.out);
    }
}

#[test]
fn nothing_changes() {
    let ran = good(&["time", "8:20", "--from", "mq-borax-classic", "--json"]).json();
    for field in ["seconds", "low_seconds", "high_seconds", "timer_seconds"] {
        assert_eq!(ran[field], 500.0, "{field}");
    }
    assert_eq!(ran["factors"].as_array().unwrap().len(), 0);
    assert_eq!(ran["warnings"].as_array().unwrap().len(), 0);
    insta::assert_snapshot!(good(&["time", "8:20", "--from", "mq-borax-classic"]).whole());
}

#[test]
fn json_has_the_promised_fields() {
    let ran = typed(
        "time 10min --from mq-borax-classic --to mq-borax-bromide-80-sulfite-stronger --to-temp 15C --json",
    );
    let json = ran.json();
    assert_eq!(json["schema_version"], 1);
    let seconds = json["seconds"].as_f64().unwrap();
    assert!(
        json["low_seconds"].as_f64().unwrap() < seconds && seconds < json["high_seconds"].as_f64().unwrap()
    );
    let factors = json["factors"].as_array().unwrap();
    let product: f64 = factors.iter().map(|factor| factor["factor"].as_f64().unwrap()).product();
    assert!((seconds / 600.0 / product - 1.0).abs() < 1e-12);
    for factor in factors {
        for field in ["name", "factor", "low", "high", "evidence", "source"] {
            assert!(factor.get(field).is_some(), "{field}");
        }
    }
    assert_eq!(factors[0]["evidence"], "common-practice");
    assert!(factors[0]["source"].is_null());
    let warnings = json["warnings"].as_array().unwrap();
    assert!(warnings.iter().any(|warning| warning.as_str().unwrap().starts_with("cold")), "{warnings:?}");
    // The same to and fro.
    let back = format!("{seconds}s");
    let back = good(&[
        "time",
        &back,
        "--from",
        "mq-borax-bromide-80-sulfite-stronger",
        "--from-temp",
        "15C",
        "--to",
        "mq-borax-classic",
        "--to-temp",
        "20C",
        "--json",
    ]);
    assert!((back.json()["seconds"].as_f64().unwrap() - 600.0).abs() < 1e-6);
}

#[test]
fn refused_with_the_reason_and_a_remedy() {
    let from = ["--from", "mq-borax-classic"];
    let mut told = String::new();
    for (code, arguments) in [
        (2, vec!["8"]),
        (2, vec!["8min", "--to-temp", "22"]),
        (2, vec!["8min", "--to-dilution", "1:4"]),
        (2, vec!["8min", "--coefficient", "2.5"]),
        (2, vec!["8min", "--contrast", "1"]),
        (2, vec!["8min", "--to-agitation", "inverted"]),
        (2, vec!["8min", "--films", "2x136"]),
        (2, vec!["8min", "--films", "1", "--tank", "300"]),
        (2, vec!["8min", "--to", "p-aminophenol-potassium-hydroxide-concentrate"]),
        (1, vec!["8min", "--to", "p-aminophenol-potassium-hydroxide-concentrate", "--to-dilution", "stock"]),
        (1, vec!["8min", "--to-temp", "36C"]),
        (1, vec!["8min", "--to-temp", "9C"]),
        (1, vec!["8min", "--contrast", "+3"]),
        (1, vec!["8min", "--to-agitation", "stand"]),
        (1, vec!["8min", "--to-agitation", "water-bath"]),
        (1, vec!["8min", "--to", "two-bath-metol-sulfite-borax"]),
        (1, vec!["8min", "--to", "monobath-pq-thiosulfate"]),
        (1, vec!["8min", "--to", "lith-paraformaldehyde"]),
        (1, vec!["8min", "--to", "coffee-carbonate-ascorbate-stand"]),
        (1, vec!["8min", "--to", "mq-carbonate-neutral-paper-developer"]),
        (1, vec!["8min", "--to", "plain-thiosulfate-fixer"]),
        (1, vec!["--film", "never recorded", "--journal", "/nowhere/at/all.toml"]),
    ] {
        let mut all = vec!["time"];
        all.extend(&arguments);
        all.extend(from);
        let ran = soupcon(&all);
        assert_eq!(ran.code, code, "{arguments:?}\n{}", ran.whole());
        assert_eq!(ran.out, "", "{arguments:?}");
        told.push_str(&format!("$ {}\n{}\n", arguments.join(" "), ran.err));
        all.push("--json");
        let json = soupcon(&all);
        let (told, field): (serde_json::Value, _) = if code == 1 {
            (json.json()["refusals"][0].clone(), "text")
        } else {
            (serde_json::from_str::<serde_json::Value>(&json.err).unwrap()["error"].clone(), "message")
        };
        assert!(!told[field].as_str().unwrap().is_empty());
    }
    insta::assert_snapshot!(told);
}

#[test]
fn a_personal_formula_in_a_shipped_ones_place_has_no_shipped_relations() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("film-developer");
    fs::create_dir(&own).unwrap();
    let shipped = Path::new(env!("CARGO_MANIFEST_DIR")).join("formulas/film-developer/mq-borax-classic.toml");
    fs::copy(shipped, own.join("mq-borax-classic.toml")).unwrap();
    let library = folder.path().to_str().unwrap();
    let warm = good(&[
        "time",
        "8min",
        "--from",
        "mq-borax-classic",
        "--to-temp",
        "22C",
        "--library",
        library,
        "--json",
    ]);
    let codes = warm.json()["warning_codes"].as_array().unwrap().clone();
    assert!(codes.iter().any(|code| code == "hides-shipped"), "{codes:?}");
    let basis = warm.json()["factors"][0]["basis"].as_str().unwrap().to_owned();
    assert!(!basis.contains("classic"), "{basis}");
}

#[test]
fn a_chart_for_the_wall() {
    insta::assert_snapshot!(
        typed("chart 8min --from mq-borax-classic --to-dilution stock --to-dilution 1+1 --coldest 15C")
            .whole()
    );
    let fahrenheit = typed("chart 6min 8min --from mq-borax-classic --coldest 66F --warmest 70F");
    insta::assert_snapshot!(fahrenheit.whole());
    let html = typed("chart 8min --from mq-borax-classic --format html");
    assert!(html.out.contains("<th>°C</th>") && html.out.contains("<td>24<i>?</i></td>"));
    // A cell of the chart is the answer of `time`.
    let chart = good(&["chart", "8min", "--from", "mq-borax-classic", "--json"]).json();
    let time = typed("time 8min --from mq-borax-classic --to-temp 23C --json").json();
    let row = chart["rows"].as_array().unwrap().iter().find(|row| row["temperature_c"] == 23.0).unwrap();
    for field in ["seconds", "low_seconds", "high_seconds"] {
        assert_eq!(row["cells"][0][field], time[field], "{field}");
    }
    for bad in [["--coldest", "24C"], ["--coldest", "10C"], ["--warmest", "90C"]] {
        let ran = soupcon(&[
            "chart",
            "8min",
            "--from",
            "mq-borax-classic",
            bad[0],
            bad[1],
            "--warmest",
            if bad[1] == "24C" { "18C" } else { "89C" },
        ]);
        assert_ne!(ran.code, 0, "{bad:?}");
    }
}

#[test]
fn factorial_development_keeps_the_disagreement() {
    insta::assert_snapshot!(good(&["factorial", "45s", "--agent", "pyro"]).whole());
    insta::assert_snapshot!(typed("factorial 30s --agent pyro=4 --agent metol=2").whole());
    let together = typed("factorial 20s --agent hydroquinone --agent metol --json").json();
    assert_eq!(together["factors"][0]["normal"], 14.0);
    assert_eq!(together["low_seconds"], 200.0);
    for (code, arguments) in [
        (2, vec!["45", "--agent", "pyro"]),
        (2, vec!["45s"]),
        (2, vec!["45s", "--agent", "sugar"]),
        (2, vec!["45s", "--agent", "pyro=0", "--agent", "metol=1"]),
        (2, vec!["45s", "--agent", "pyro=1", "--agent", "metol"]),
        (1, vec!["45s", "--agent", "p-phenylenediamine"]),
    ] {
        let mut all = vec!["factorial"];
        all.extend(&arguments);
        assert_eq!(soupcon(&all).code, code, "{arguments:?}");
    }
}

#[test]
fn own_records_and_the_books_give_one_answer() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml");
    let right = ["--formula", "mq-borax-classic", "--verdict", "right"];
    let and = |more: &[&'static str]| [right.as_slice(), more].concat();
    record(&journal, "8:30", &and(&["--temp", "20C", "--gradient", "0.55"]));
    record(&journal, "6min", &and(&["--temp", "24C"]));
    record(&journal, "12min", &["--formula", "mq-borax-classic", "--verdict", "dense", "--gradient", "0.68"]);
    record(&journal, "11min", &["--formula", "pq-borax-buffered", "--verdict", "right"]);
    let start = with_journal(
        &journal,
        &[
            "time",
            "--film",
            "My 400 FILM",
            "--to",
            "mq-borax-classic",
            "--to-temp",
            "22C",
            "--contrast",
            "+1",
        ],
    );
    insta::assert_snapshot!(start.whole());
    let factor = with_journal(
        &journal,
        &[
            "time",
            "10min",
            "--from",
            "mq-borax-classic",
            "--to",
            "pq-borax-buffered",
            "--film",
            "my 400 film",
            "--json",
        ],
    );
    let json = factor.json();
    // Between the books' ratio, about 1, and that of the records, 11 to 8.5.
    let ratio = json["seconds"].as_f64().unwrap() / 600.0;
    assert!((1.05..11.0 / 8.5).contains(&ratio), "{ratio}");
    assert!(json["records"].as_array().unwrap().iter().any(|own| own["weight"].as_f64().unwrap() > 0.2));
    assert!(json["factors"][0]["basis"].as_str().unwrap().contains("your records"));
    insta::assert_snapshot!(with_journal(&journal, &["record", "list"]).whole());
    let list = with_journal(&journal, &["record", "list", "--json", "--film", "my 400 film"]).json();
    assert_eq!(list["entries"].as_array().unwrap().len(), 4);
    assert_eq!(list["entries"][0]["seconds"], 510.0);
}

#[test]
fn a_torn_entry_is_told_on_standard_error_and_the_others_are_listed() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml");
    record(&journal, "8min", &["--formula", "mq-borax-classic"]);
    record(&journal, "9min", &["--formula", "mq-borax-classic"]);
    let whole = fs::read(&journal).unwrap();
    fs::write(&journal, &whole[..whole.len() - 40]).unwrap();
    record(&journal, "10min", &["--formula", "mq-borax-classic"]);
    let list = with_journal(&journal, &["record", "list", "--json"]);
    assert_eq!(list.code, 0);
    let seconds: Vec<f64> = list.json()["entries"]
        .as_array()
        .unwrap()
        .iter()
        .map(|entry| entry["seconds"].as_f64().unwrap())
        .collect();
    assert_eq!(seconds, [480.0, 600.0]);
    assert!(list.err.contains("torn"), "{}", list.err);
    assert_eq!(list.json()["unread"].as_array().unwrap().len(), 1);
}

#[test]
fn records_from_several_programs_at_once_are_all_kept() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml");
    let children: Vec<_> = (1..=12)
        .map(|minutes| {
            let time = format!("{minutes}min");
            command(&[
                "record",
                "add",
                "developed",
                &time,
                "--film",
                "f",
                "--formula",
                "mq-borax-classic",
                "--date",
                "2026-11-25",
            ])
            .env("SOUPCON_JOURNAL", &journal)
            .stdout(std::process::Stdio::null())
            .spawn()
            .unwrap()
        })
        .collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    let list = with_journal(&journal, &["record", "list", "--json"]).json();
    let mut minutes: Vec<f64> = list["entries"]
        .as_array()
        .unwrap()
        .iter()
        .map(|entry| entry["seconds"].as_f64().unwrap() / 60.0)
        .collect();
    minutes.sort_by(f64::total_cmp);
    assert_eq!(minutes, (1..=12).map(f64::from).collect::<Vec<_>>());
}

#[test]
fn what_cannot_be_recorded_is_refused_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml");
    let mut told = String::new();
    for arguments in [
        vec!["8", "--film", "f"],
        vec!["8min", "--film", "f\u{1b}[2J"],
        vec!["8min", "--film", " "],
        vec!["8min", "--film", "f", "--temp", "20"],
        vec!["8min", "--film", "f", "--date", "2026-02-30"],
        vec!["8min", "--film", "f", "--gradient", "nan"],
        vec!["8min", "--film", "f", "--verdict", "good"],
        vec!["8min", "--film", "f", "--agitation", "rotry"],
        vec!["8min", "--film", "f", "--dilution", "1+1+8"],
        vec!["30h", "--film", "f"],
    ] {
        let mut all = vec!["record", "add", "developed"];
        all.extend(&arguments);
        all.extend(["--formula", "mq-borax-classic"]);
        let ran = with_journal(&journal, &all);
        assert_eq!(ran.code, 2, "{arguments:?}\n{}", ran.whole());
        assert!(!ran.err.contains('\u{1b}'));
        told.push_str(&format!("$ {}\n{}\n", arguments.join(" ").replace('\u{1b}', "ESC"), ran.err));
    }
    assert!(!journal.exists());
    insta::assert_snapshot!(told);
    // Without any place for a journal, nothing is guessed.
    let homeless = soupcon(&["record", "list"]);
    assert_eq!(homeless.code, 2, "{}", homeless.whole());
}

#[test]
fn the_journal_lies_in_the_data_folder_unless_said_otherwise() {
    let folder = tempfile::tempdir().unwrap();
    let add = [
        "record",
        "add",
        "developed",
        "8min",
        "--film",
        "f",
        "--formula",
        "mq-borax-classic",
        "--date",
        "2026-11-25",
    ];
    let ran: Ran = command(&add).env("XDG_DATA_HOME", folder.path()).output().unwrap().into();
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(folder.path().join("soupcon/journal.toml").is_file());
    let other = folder.path().join("other.toml");
    let mut with_option = add.to_vec();
    with_option.extend(["--journal", other.to_str().unwrap()]);
    assert_eq!(with_journal(&folder.path().join("unused.toml"), &with_option).code, 0);
    assert!(other.is_file() && !folder.path().join("unused.toml").exists());
}

/// What `time` takes as a way of agitation `record` takes too, and writes it by the table's own name; one that timing refuses may be
/// recorded all the same.
#[test]
fn the_journal_knows_every_word_for_agitation_that_time_knows() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml").display().to_string();
    let record = |agitation: &str| {
        let line = "record add developed 8min --film F --formula mq-borax-classic --json --agitation";
        let words = line.split(' ').chain([agitation, "--journal", &journal]);
        soupcon(&words.collect::<Vec<_>>())
    };
    for (word, name) in [
        ("continuous", "tray"),
        ("every 30s", "every-30s"),
        ("every-30s", "every-30s"),
        ("inversion", "inversion"),
        ("stand", "stand"),
        ("Rotary", "rotary"),
    ] {
        let ran = record(word);
        assert_eq!(ran.code, 0, "{word}: {}", ran.whole());
        assert!(ran.out.contains(&format!("\"agitation\": \"{name}\"")), "{word}: {}", ran.out);
    }
    let near = record("continous");
    assert_eq!(near.code, 2, "{}", near.whole());
    assert!(near.err.contains("continuous"), "{}", near.err);
}

/// The universal developer's file names its 1+2 for film in a dish and its 1+5 for the tank: in a dish the film is moved all the time, and
/// nothing is said of a small tank.
#[test]
fn a_dilution_that_is_for_the_dish_is_timed_in_the_dish() {
    let time = |dilution: &str| {
        good(&["time", "4min", "--from", "mq-carbonate-universal-film-paper", "--from-dilution", dilution])
            .out
    };
    let dish = time("1+2");
    assert!(dish.contains("tray") && !dish.contains("small tank"), "{dish}");
    let tank = time("1+5");
    assert!(tank.contains("inversion") && tank.contains("small tank"), "{tank}");
}
