//! The journal: nothing is ever lost, whatever happens to the program while it writes.

use std::fs;
use std::path::Path;
use std::process::Command;

use proptest::prelude::*;
use soupcon::journal::{
    BathEvent, BathKind, Developed, Entry, Journal, JournalError, Measurement, Reason, Verdict, append,
};
use soupcon::quantity::Temperature;

fn developed(film: &str, minutes: f64) -> Entry {
    Entry::Developed(Developed {
        date: "2026-11-25".parse().unwrap(),
        film: film.to_owned(),
        formula: "mq-borax-classic".to_owned(),
        dilution: "1+1".parse().unwrap(),
        temperature: Temperature::from_c(20.5),
        agitation: "inversion".to_owned(),
        minutes,
        gradient: Some(0.58),
        verdict: Some(Verdict::Right),
        note: Some("tank no. 2, \"old\" thermometer \\ 50 % fresh".to_owned()),
    })
}

fn one_of_each() -> Vec<Entry> {
    let date = "2026-11-25".parse().unwrap();
    let bath = |kind, volume_ml| {
        Entry::Bath(BathEvent {
            kind,
            date,
            bath: "brown bottle".to_owned(),
            formula: Some("mq-borax-classic".to_owned()),
            volume_ml,
            note: None,
        })
    };
    vec![
        developed("Ä film, 400", 8.25),
        bath(BathKind::Mixed, Some(1000.0)),
        bath(BathKind::Replenished, Some(22.0)),
        bath(BathKind::Discarded, None),
        Entry::Measured(Measurement {
            date,
            subject: "brown bottle".to_owned(),
            quantity: "pH".to_owned(),
            value: 8.6,
            unit: None,
            note: Some("fresh".to_owned()),
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
    assert_eq!(table["entry"].as_array().unwrap().len(), 5);
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
            assert_eq!(torn.unread[0].reason, Reason::Torn, "{length}");
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
        journal.unread.iter().all(|unread| matches!(unread.reason, Reason::Later { .. })),
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
        let before = last.insert(developed.film.clone(), developed.minutes).unwrap_or(0.0);
        assert!(developed.minutes > before);
    }
    assert!(last.values().all(|minutes| (minutes - f64::from(EACH)).abs() < 1e-9));
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
