//! The journal: nothing is ever lost, whatever happens to the program while it writes.

use std::fs;
use std::path::Path;
use std::process::Command;

use proptest::prelude::*;
use soupcon::journal::{
    Count, CurveMeasured, Developed, Discarded, Draw, Entry, Filled, Highlights, Journal, JournalError,
    Judged, Measurement, Mixed, Printed, Replenished, Shadows, Taken, UnreadReason, Verdict, append,
};
use soupcon::quantity::Temperature;

fn developed(film: &str, minutes: f64) -> Entry {
    Entry::Developed(Developed {
        date: "2026-11-25".parse().unwrap(),
        film: Some(film.to_owned()),
        formula: "mq-borax-classic".to_owned(),
        dilution: "1+1".parse().unwrap(),
        temperature: Temperature::from_c(20.5),
        agitation: "inversion".to_owned(),
        minutes,
        gradient: Some(0.58),
        verdict: Some(Verdict::Right),
        shadows: None,
        highlights: Some(Highlights::Flat),
        films: Some("2x135-36,1x120".parse().unwrap()),
        rolls: vec!["R-061".to_owned(), "R \"62\"".to_owned()],
        draws: vec![
            Draw { bottle: "D3".to_owned(), drawn_ml: Some(300.0), returned_ml: Some(290.5) },
            Draw { bottle: "F1, \\ ]".to_owned(), drawn_ml: None, returned_ml: None },
        ],
        by: Some("Ä. B.".to_owned()),
        note: Some("tank no. 2, \"old\" thermometer \\ 50 % fresh".to_owned()),
    })
}

fn one_of_each() -> Vec<Entry> {
    let date = "2026-11-25".parse().unwrap();
    let text = |text: &str| Some(text.to_owned());
    vec![
        developed("Ä film, 400", 8.25),
        Entry::Mixed(Mixed {
            date,
            formula: text("acutance-metol-sulfite-carbonate-ab"),
            volume_ml: Some(1000.0),
            dilution: None,
            filled: vec![
                Filled { bottle: "P1 A".to_owned(), part: text("A"), volume_ml: Some(500.0) },
                Filled { bottle: "P1 B".to_owned(), part: text("B"), volume_ml: None },
                Filled { bottle: "spare".to_owned(), part: None, volume_ml: Some(0.1) },
            ],
            taken: vec![
                Taken { form: "metol".to_owned(), amount: 2.0, is_ml: false },
                Taken { form: "acetic-acid-28".to_owned(), amount: 0.1 + 0.2, is_ml: true },
            ],
            by: None,
            note: None,
        }),
        Entry::Mixed(Mixed {
            date,
            formula: None,
            volume_ml: None,
            dilution: Some("1+9".parse().unwrap()),
            filled: vec![Filled { bottle: "brown bottle".to_owned(), part: None, volume_ml: None }],
            taken: Vec::new(),
            by: None,
            note: None,
        }),
        Entry::Judged(Judged {
            date,
            roll: "R-061".to_owned(),
            shadows: Some(Shadows::Empty),
            highlights: None,
            by: text("B."),
            note: None,
        }),
        Entry::Replenished(Replenished {
            date,
            bottle: "brown bottle".to_owned(),
            formula: text("mq-borax-classic"),
            volume_ml: Some(22.0),
            from: text("R1"),
            by: None,
            note: None,
        }),
        Entry::Measured(Measurement {
            date,
            subject: "brown bottle".to_owned(),
            quantity: "pH".to_owned(),
            value: 8.6,
            unit: None,
            film: text("a film"),
            by: None,
            note: text("fresh"),
        }),
        Entry::Curve(CurveMeasured {
            date,
            film: "a film".to_owned(),
            formula: "mq-borax-classic".to_owned(),
            dilution: "1+1".parse().unwrap(),
            temperature: Temperature::from_c(20.0),
            agitation: "inversion".to_owned(),
            minutes: 8.0,
            gradient: 0.58,
            speed: Some(125.0),
            roll: text("R-061"),
            by: None,
            note: None,
        }),
        Entry::Printed(Printed {
            date,
            sheets: "12x8x10in".parse().unwrap(),
            bottles: vec!["D4".to_owned(), "F2".to_owned()],
            negative: text("R-061, 12"),
            paper: text("fibre, glossy"),
            grade: text("2"),
            exposure_s: Some(12.0),
            exposure: text("3.584963 stops; sky +3/4"),
            stops: Some(1.0 / 3.0),
            by: None,
            note: None,
        }),
        Entry::Count(Count { date, bottle: "F1".to_owned(), films: 7.5, by: None, note: None }),
        Entry::Discarded(Discarded {
            date,
            bottles: vec!["brown bottle".to_owned(), "F1".to_owned()],
            formula: None,
            volume_ml: Some(900.0),
            by: None,
            note: None,
        }),
    ]
}

#[test]
fn every_kind_of_entry_is_read_as_it_was_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("new/folder/journal.toml");
    assert_eq!(Journal::read(&path).unwrap(), Journal::default());
    for entry in one_of_each() {
        append(&path, &entry).unwrap();
    }
    let journal = Journal::read(&path).unwrap();
    assert_eq!(journal.entries, one_of_each());
    assert_eq!(journal.unread, []);
    // It is one valid TOML file, for any other program.
    let table: toml::Table = fs::read_to_string(&path).unwrap().parse().unwrap();
    assert_eq!(table["entry"].as_array().unwrap().len(), one_of_each().len());
}

// The keys as the first version of the format wrote them: a journal begun with it is read on.
#[test]
fn a_journal_of_old_is_read() {
    let old = "\
[[entry]]
version = 1
kind = \"developed\"
date = \"2026-11-25\"
film = \"a film\"
formula = \"mq-borax-classic\"
dilution = \"1+1\"
celsius = 20
agitation = \"inversion\"
minutes = 8.5
verdict = \"dense\"
end = true

[[entry]]
version = 1
kind = \"mixed\"
date = \"2026-11-25\"
bath = \"brown bottle\"
formula = \"mq-borax-classic\"
volume_ml = 1000
end = true

[[entry]]
version = 1
kind = \"replenished\"
date = \"2026-11-25\"
bath = \"brown bottle\"
volume_ml = 22
end = true

[[entry]]
version = 1
kind = \"discarded\"
date = \"2026-11-26\"
bath = \"brown bottle\"
end = true
";
    let journal = Journal::parse(old.as_bytes());
    assert_eq!(journal.unread, []);
    let [
        Entry::Developed(developed),
        Entry::Mixed(mixed),
        Entry::Replenished(replenished),
        Entry::Discarded(out),
    ] = journal.entries.as_slice()
    else {
        panic!("{:?}", journal.entries)
    };
    // A verdict counts as one on the highlights.
    assert_eq!(developed.highlights_at_once(), Some(Highlights::Blocked));
    assert_eq!((developed.draws.len(), developed.rolls.len(), developed.films.is_none()), (0, 0, true));
    let brown = Filled { bottle: "brown bottle".to_owned(), part: None, volume_ml: Some(1000.0) };
    assert_eq!(mixed.filled, [brown]);
    assert_eq!((replenished.bottle.as_str(), replenished.volume_ml), ("brown bottle", Some(22.0)));
    assert_eq!(out.bottles, ["brown bottle"]);
}

// What a hand wrote in another fashion means the same as what the program writes.
#[test]
fn an_entry_written_by_hand_is_read_as_the_program_writes_it() {
    let plain = "[[entry]]\nversion = 1\nkind = \"count\"\ndate = \"2026-11-25\"\nbottle = \"F1\"\nfilms = 7\nend = true\n";
    for by_hand in [
        "[[entry]]\nkind=\"count\"\ndate='2026-11-25'\nbottle = \"F\\u0031\" # the fixer\nfilms = 7.0\nend = true\n",
        "[[entry]]\n  kind = \"count\"\n  films = 7e0\n  date = \"2026-11-25\"\n  bottle = \"\"\"F1\"\"\"\n  end = true\n",
        "# seven strokes\n[[entry]]\nversion = 1.0\nkind = \"count\"\ndate = \"2026-11-25\"\nbottle = \"F1\"\nfilms = 0x7\nend = true\n",
    ] {
        let (plain, by_hand) = (Journal::parse(plain.as_bytes()), Journal::parse(by_hand.as_bytes()));
        assert_eq!(plain.entries.len(), 1);
        assert_eq!(plain, by_hand);
    }
    // One key twice, or a number that TOML does not know, is no entry for either reader.
    for wrong in ["films = 7\nfilms = 8", "films = 07", "films = 1_", "films = .5", "films = \"7\""] {
        let text = plain.replace("films = 7", wrong);
        let journal = Journal::parse(text.as_bytes());
        assert_eq!((journal.entries.len(), journal.unread.len()), (0, 1), "{wrong}");
    }
}

#[test]
fn judgements_and_curves_are_joined_to_the_development_of_their_roll() {
    let date = "2026-11-25".parse().unwrap();
    let of_roll = |roll: &str, minutes: f64| {
        let Entry::Developed(plain) = developed("a film", minutes) else { unreachable!() };
        Entry::Developed(Developed {
            rolls: vec![roll.to_owned()],
            gradient: None,
            verdict: None,
            highlights: None,
            ..plain
        })
    };
    let judged = |roll: &str, shadows, highlights| {
        Entry::Judged(Judged { date, roll: roll.to_owned(), shadows, highlights, by: None, note: None })
    };
    let Entry::Curve(curve) = one_of_each().swap_remove(6) else { unreachable!() };
    let journal = Journal {
        entries: vec![
            // Judged before its development was noted.
            judged("R-3", None, Some(Highlights::Right)),
            of_roll("R-1", 8.0),
            of_roll("R-2", 9.0),
            judged("R-1", Some(Shadows::Empty), None),
            judged("R-1", None, Some(Highlights::Blocked)),
            judged("nobody", None, Some(Highlights::Flat)),
            // The number used again: what is said afterwards belongs to the later roll.
            of_roll("R-1", 10.0),
            judged("R-1", Some(Shadows::Full), Some(Highlights::Right)),
            of_roll("R-3", 7.0),
            Entry::Curve(CurveMeasured { roll: Some("R-2".to_owned()), ..curve }),
        ],
        unread: Vec::new(),
    };
    let results = journal.results();
    let told: Vec<_> = results
        .iter()
        .map(|own| (own.developed.minutes, own.shadows, own.highlights, own.gradient, own.speed))
        .collect();
    assert_eq!(
        told,
        [
            (8.0, Some(Shadows::Empty), Some(Highlights::Blocked), None, None),
            (9.0, None, None, Some(0.58), Some(125.0)),
            (10.0, Some(Shadows::Full), Some(Highlights::Right), None, None),
            (7.0, None, Some(Highlights::Right), None, None),
        ]
    );
}

#[test]
fn appending_never_changes_a_byte_that_stands_in_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    let mut before = Vec::new();
    for minute in 1..20 {
        append(&path, &developed("a film", f64::from(minute))).unwrap();
        let now = fs::read(&path).unwrap();
        assert!(now.len() > before.len() && now.starts_with(&before));
        before = now;
    }
}

// A program killed while writing leaves any number of the last entry's bytes.
#[test]
fn an_entry_torn_at_any_byte_is_told_and_hides_no_other() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    for minute in [8.0, 9.0] {
        append(&path, &developed("ein früherer Film", minute)).unwrap();
    }
    let sound = fs::read(&path).unwrap().len();
    append(&path, &developed("ein späterer Film", 12.0)).unwrap();
    let whole = fs::read(&path).unwrap();
    for length in sound..whole.len() {
        fs::write(&path, &whole[..length]).unwrap();
        let torn = Journal::read(&path).unwrap();
        // The last byte is the line end after `end = true`; without it the entry is whole all the same.
        let is_whole = length == whole.len() - 1;
        assert_eq!(torn.entries.len(), if is_whole { 3 } else { 2 }, "{length}");
        let nothing_begun = whole[sound..length].iter().all(|&byte| byte == b'\n');
        assert_eq!(torn.unread.is_empty(), is_whole || nothing_begun, "{length}: {:?}", torn.unread);
        if !torn.unread.is_empty() {
            assert_eq!(torn.unread[0].reason, UnreadReason::Torn, "{length}");
        }
        // Life goes on: the next entry is appended after the torn one, which stays as it is.
        append(&path, &developed("der nächste Film", 7.0)).unwrap();
        let after = Journal::read(&path).unwrap();
        assert_eq!(after.entries.len(), torn.entries.len() + 1, "{length}");
        assert_eq!(after.entries.last().unwrap(), &developed("der nächste Film", 7.0));
        assert!(fs::read(&path).unwrap().starts_with(&whole[..length]));
    }
}

#[test]
fn entries_of_a_later_version_are_kept_and_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    let later = "\
[[entry]]
version = 2
kind = \"developed\"
date = \"2031-01-01\"
spectrum = [1, 2, 3]
[entry.more]
deep = true
end = true
[[entry]]
kind = \"dreamt\"
end = true

[[entry]]
version = 1
kind = \"mixed\"
date = \"2026-11-25\"
bath = \"bottle\"
moon = \"full\"
end = true
";
    fs::write(&path, later).unwrap();
    append(&path, &developed("a film", 8.0)).unwrap();
    let journal = Journal::read(&path).unwrap();
    assert_eq!(journal.entries, [developed("a film", 8.0)]);
    assert_eq!(journal.unread.len(), 3, "{:?}", journal.unread);
    assert!(
        journal.unread.iter().all(|unread| matches!(unread.reason, UnreadReason::Later { .. })),
        "{:?}",
        journal.unread
    );
    assert_eq!(journal.unread.iter().map(|unread| unread.line).collect::<Vec<_>>(), [1, 9, 13]);
    assert!(fs::read_to_string(&path).unwrap().starts_with(later));
}

#[test]
fn entries_broken_by_hand_are_told_and_hide_no_other() {
    for broken in [
        "[[entry]]\nkind = \"developed\"\ndate = \"2026-02-30\"\nfilm = \"x\"\nformula = \"y\"\ndilution = \"stock\"\ncelsius = 20\nagitation = \"tray\"\nminutes = 8\nend = true\n",
        "[[entry]]\nkind = \"mixed\"\ndate = 2026\nbath = \"b\"\nend = true\n",
        "[[entry]]\nkind = \"mixed\"\nbath = \"b\nend = true\n",
        "[[entry]]\nkind = \"measured\"\ndate = \"2026-11-25\"\nsubject = \"s\"\nquantity = \"q\"\nvalue = nan\nend = true\n",
        "[[entry]]\nkind = \"mixed\"\ndate = \"2026-11-25\"\nbath = \"b\\u001b[2J\"\nend = true\n",
        "stray = 1\n",
        "[[entry]]\n\u{0}\u{0}\u{0}\n",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("journal.toml");
        fs::write(&path, broken).unwrap();
        append(&path, &developed("a film", 8.0)).unwrap();
        let journal = Journal::read(&path).unwrap();
        assert_eq!(journal.entries, [developed("a film", 8.0)], "{broken}");
        assert_eq!(journal.unread.len(), 1, "{broken}");
        let told = journal.unread[0].to_string();
        assert!(told.starts_with("line 1: "), "{told}");
        assert!(!told.chars().any(char::is_control), "{told:?}");
    }
}

#[test]
fn what_could_disturb_a_terminal_or_the_file_is_refused_before_anything_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    let long = "x".repeat(501);
    for film in ["", "  ", "a\nb", "a\tb", "\u{1b}[31m", "a\u{202e}b", "\u{7f}", "\u{feff}a", long.as_str()] {
        assert!(
            matches!(append(&path, &developed(film, 8.0)), Err(JournalError::Text { field: "film", .. })),
            "{film:?}"
        );
    }
    for minutes in [0.0, -1.0, f64::NAN, f64::INFINITY, 2000.0] {
        assert!(matches!(append(&path, &developed("a film", minutes)), Err(JournalError::Figure { .. })));
    }
    assert!(!path.exists());
    assert!(matches!(append(folder.path(), &developed("a film", 8.0)), Err(JournalError::File { .. })));
}

/// Set for the processes that [`several_processes_and_threads_append_at_once_without_loss`] starts from this very test file.
const HELPER: &str = "SOUPCON_TEST_JOURNAL_HELPER";
const EACH: u32 = 40;

#[test]
fn append_as_a_helper_process() {
    let Some(path) = std::env::var_os(HELPER) else { return };
    for minute in 1..=EACH {
        append(Path::new(&path), &developed(&format!("process {}", std::process::id()), f64::from(minute)))
            .unwrap();
    }
}

#[test]
fn several_processes_and_threads_append_at_once_without_loss() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    let helper = || {
        Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "journal::append_as_a_helper_process"])
            .env(HELPER, &path)
            .stdout(std::process::Stdio::null())
            .spawn()
            .unwrap()
    };
    let mut processes = [helper(), helper(), helper()];
    std::thread::scope(|scope| {
        for thread in 0..3 {
            let path = &path;
            scope.spawn(move || {
                for minute in 1..=EACH {
                    append(path, &developed(&format!("thread {thread}"), f64::from(minute))).unwrap();
                    Journal::read(path).unwrap();
                }
            });
        }
    });
    for process in &mut processes {
        assert!(process.wait().unwrap().success());
    }
    let journal = Journal::read(&path).unwrap();
    assert_eq!(journal.unread, []);
    assert_eq!(journal.entries.len(), 6 * EACH as usize);
    assert_eq!(fs::read_to_string(&path).unwrap().matches("# Darkroom journal").count(), 1);
    // Each writer's own entries stand in the order written.
    let mut last = std::collections::BTreeMap::new();
    for developed in journal.developed() {
        let before = last.insert(developed.film.clone().unwrap(), developed.minutes).unwrap_or(0.0);
        assert!(developed.minutes > before);
    }
    assert!(last.values().all(|minutes| (minutes - f64::from(EACH)).abs() < 1e-9));
}

/// Two hundred processes of the program itself append at once, and five hundred are killed while they do: every entry that was told to be
/// recorded is there, whole, once, and none that stood before is changed.
#[test]
#[ignore = "some minutes: run it by itself, in release"]
fn two_hundred_writers_and_five_hundred_kills_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    let writer = |name: &str| {
        let mut command = crate::common::command(&[
            "record",
            "add",
            "count",
            "3",
            "--date",
            "2026-11-25",
            "--bottle",
            name,
        ]);
        command
            .env("SOUPCON_JOURNAL", &path)
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null());
        command.spawn().unwrap()
    };
    let names = || {
        let journal = Journal::read(&path).unwrap();
        let names: Vec<String> = journal
            .entries
            .iter()
            .map(|entry| match entry {
                Entry::Count(own) => own.bottle.clone(),
                other => panic!("{other:?}"),
            })
            .collect();
        (names, journal.unread)
    };
    let mut writers: Vec<_> =
        (0..200).map(|index| (format!("W{index}"), writer(&format!("W{index}")))).collect();
    let recorded: Vec<String> = writers
        .iter_mut()
        .filter_map(|(name, own)| own.wait().unwrap().success().then(|| name.clone()))
        .collect();
    let (found, unread) = names();
    assert_eq!(unread, []);
    println!("200 writers at once: {} recorded, {} found", recorded.len(), found.len());
    assert_eq!(recorded.len(), 200, "some gave up waiting");
    assert!(recorded.iter().all(|name| found.iter().filter(|own| *own == name).count() == 1));

    let mut chance = 20_261_126_u64;
    let (mut killed, mut survived) = (0, Vec::new());
    let mut before = fs::read(&path).unwrap();
    for index in 0..500 {
        let name = format!("K{index}");
        let mut own = writer(&name);
        chance = chance.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        std::thread::sleep(std::time::Duration::from_micros(chance >> 33 & 0xffff));
        let _ = own.kill();
        if own.wait().unwrap().success() {
            survived.push(name);
        } else {
            killed += 1;
        }
        let after = fs::read(&path).unwrap();
        assert!(after.starts_with(&before), "what stood in the file was changed");
        before = after;
    }
    let (found, unread) = names();
    println!(
        "500 kills: {killed} killed, {} done before, {} torn entries left and told",
        survived.len(),
        unread.len()
    );
    assert!(unread.iter().all(|own| own.reason == UnreadReason::Torn));
    assert!(
        survived.iter().chain(&recorded).all(|name| found.iter().filter(|own| *own == name).count() == 1)
    );
}

proptest! {
    #[test]
    fn any_text_that_is_taken_is_read_back_unchanged(film in "\\PC{1,60}", note in "\\PC{1,60}", minutes in 0.05..1440.0_f64) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("journal.toml");
        let Entry::Developed(plain) = developed(&film, minutes) else { unreachable!() };
        let entry = Entry::Developed(Developed { note: Some(note), ..plain });
        if append(&path, &entry).is_ok() {
            append(&path, &developed("after", 8.0)).unwrap();
            prop_assert_eq!(Journal::read(&path).unwrap().entries, vec![entry, developed("after", 8.0)]);
        }
    }

    #[test]
    fn no_bytes_make_reading_fail(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let whole = [b"[[entry]]\n".as_slice(), &bytes, b"\n[[entry]]\nkind = \"mixed\"\ndate = \"2026-11-25\"\nbath = \"b\"\nend = true\n"].concat();
        let journal = Journal::parse(&whole);
        prop_assert!(!journal.entries.is_empty());
    }
}

#[test]
fn of_very_many_unread_entries_the_first_are_told_and_the_rest_counted() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    let entry = "\n[[entry]]\nversion = 1\nkind = \"dreamt\"\nend = true\n";
    std::fs::write(&path, entry.repeat(25)).unwrap();
    let ran = crate::common::soupcon(&["bottles", "--journal", path.to_str().unwrap()]);
    assert_eq!(ran.err.matches("dreamt").count(), 10, "{}", ran.err);
    assert!(ran.err.contains("15 more entries are not read"), "{}", ran.err);
}
