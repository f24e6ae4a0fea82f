//! The house's words in what the program really prints: the help of every command, the README, and `predict`, `compare` and `time` over the whole library.

use std::fs;
use std::path::Path;

use serde::Deserialize;

use crate::common::{in_process, soupcon};

#[derive(Deserialize)]
struct Law {
    replaced: Vec<Replaced>,
}

#[derive(Deserialize)]
struct Replaced {
    words: Vec<String>,
    instead: String,
    why: String,
}

fn law() -> Law {
    toml::from_str(include_str!("../data/replaced-words.toml")).unwrap()
}

/// Text in one line, in small letters.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// What a text breaks of the law, with the words around.
fn broken(law: &Law, what: &str, text: &str, found: &mut Vec<String>) {
    let text = flat(text);
    for own in &law.replaced {
        for word in &own.words {
            for (at, _) in text.match_indices(word.as_str()) {
                let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
                let before = text[..at].chars().next_back();
                let after = text[at + word.len()..].chars().next();
                if word.starts_with(char::is_alphanumeric) && (is_letter(before) || is_letter(after)) {
                    continue;
                }
                let around: String =
                    text[..at].chars().rev().take(30).collect::<Vec<_>>().into_iter().rev().collect();
                let behind: String = text[at..].chars().take(40).collect();
                found.push(format!("{what}: `{word}` ({}; {}) in …{around}{behind}…", own.instead, own.why));
            }
        }
    }
}

fn none(found: &[String]) {
    assert!(found.is_empty(), "{} times:\n{}", found.len(), found.join("\n"));
}

/// Names of all commands, as the overview lists them.
fn commands() -> Vec<String> {
    let help = soupcon(&["--help"]).out;
    let lines = help.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = lines.filter_map(|line| line.split_whitespace().next());
    let mut names: Vec<String> =
        names.filter(|name| name.chars().all(|own| own.is_ascii_lowercase())).map(str::to_owned).collect();
    names.retain(|name| name != "soupcon");
    names.sort();
    names.dedup();
    names
}

fn ids(kinds: &[&str]) -> Vec<String> {
    let json = in_process(&["list", "--json"]).json();
    let wanted =
        |own: &&serde_json::Value| kinds.is_empty() || kinds.contains(&own["kind"].as_str().unwrap());
    json["formulas"]
        .as_array()
        .unwrap()
        .iter()
        .filter(wanted)
        .map(|own| own["id"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn the_law_finds_what_breaks_it() {
    let law = law();
    let mut found = Vec::new();
    broken(
        &law,
        "a",
        "The Recipe\nis meant. Uncertainty, recipes2 and a neatly made bath are none.",
        &mut found,
    );
    assert_eq!(found.len(), 2, "{found:?}");
    assert!(
        law.replaced
            .iter()
            .all(|own| !own.words.is_empty() && !own.instead.is_empty() && !own.why.is_empty())
    );
}

#[test]
fn help_and_readme_keep_to_the_words_of_the_house() {
    let (law, mut found) = (law(), Vec::new());
    let commands = commands();
    assert!(commands.len() > 30, "{commands:?}");
    for command in &commands {
        let help = soupcon(&["help", command]);
        assert_eq!(help.code, 0, "{command}");
        broken(&law, command, &help.out, &mut found);
    }
    broken(&law, "the overview", &soupcon(&["--help"]).out, &mut found);
    broken(&law, "README", include_str!("../../README.md"), &mut found);
    none(&found);
}

#[test]
fn predictions_keep_to_the_words_of_the_house() {
    let (law, mut found, mut seen) = (law(), Vec::new(), 0);
    for id in ids(&[]) {
        let ran = in_process(&["predict", &id]);
        broken(&law, &id, &(ran.out + &ran.err), &mut found);
        seen += 1;
    }
    assert!(seen > 200, "{seen}");
    none(&found);
}

#[test]
fn comparisons_keep_to_the_words_of_the_house() {
    let (law, mut found, mut seen) = (law(), Vec::new(), 0);
    for pair in ids(&[]).chunks_exact(2) {
        let ran = in_process(&["compare", &pair[0], &pair[1]]);
        assert_eq!(ran.code, 0, "{pair:?}: {}", ran.whole());
        broken(&law, &pair.join(" "), &ran.out, &mut found);
        seen += 1;
    }
    assert!(seen > 100, "{seen}");
    none(&found);
}

#[test]
fn times_keep_to_the_words_of_the_house() {
    let (law, mut found, mut seen) = (law(), Vec::new(), 0);
    for id in ids(&["film-developer", "paper-developer"]) {
        for rest in
            [&["--to-temp", "23C"][..], &["--to-temp", "27C", "--to-dilution", "1+1", "--contrast", "-1"]]
        {
            let ran = in_process(&[&["time", "8min", "--from", id.as_str()], rest].concat());
            seen += usize::from(ran.code == 0);
            broken(&law, &id, &(ran.out + &ran.err), &mut found);
        }
    }
    assert!(seen > 100, "{seen}");
    none(&found);
}

/// What a file says of a chemical: its notes, and how to handle it; and what `new` writes for a beginner to fill in.
#[test]
fn notes_of_chemicals_and_skeletons_keep_to_the_words_of_the_house() {
    let (mut law, mut found, mut seen) = (law(), Vec::new(), 0);
    // What is worn against strong acid is named as the line WEAR of the bench page names it.
    law.replaced.iter_mut().for_each(|own| own.words.retain(|word| word != "face shield"));
    for (path, text) in soupcon::library::Library::shipped_files() {
        if !path.starts_with("substances/") {
            continue;
        }
        for line in text.lines().filter(|line| line.starts_with("note = ") || line.starts_with("handling = "))
        {
            broken(&law, path, line, &mut found);
            seen += 1;
        }
    }
    assert!(seen > 150, "{seen}");
    for what in ["formula", "substance", "shelf", "configuration"] {
        let ran = soupcon(&["new", what]);
        assert_eq!(ran.code, 0, "{what}: {}", ran.whole());
        broken(&law, what, &ran.out, &mut found);
    }
    none(&found);
}

/// An error is written `±`; only the output in ASCII letters spells it.
#[test]
fn an_error_is_written_with_its_sign_and_spelt_in_ascii_alone() {
    let plain = in_process(&["predict", "mq-borax-classic"]).out;
    assert!(plain.contains("8.3 ± 0.3") && !plain.contains("+/-"), "{plain}");
    let ascii = in_process(&["predict", "mq-borax-classic", "--ascii"]).out;
    assert!(ascii.is_ascii() && ascii.contains("8.3 +/- 0.3"), "{ascii}");
}

/// The words of doubt stand in `src/doubt.rs` and nowhere else as a whole answer.
#[test]
fn each_word_of_doubt_stands_in_one_place() {
    fn read(folder: &Path, found: &mut Vec<String>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                read(&path, found);
            } else if path.extension().is_some_and(|own| own == "rs") && !path.ends_with("src/doubt.rs") {
                let text = fs::read_to_string(&path).unwrap();
                let code = text.split("#[cfg(test)]").next().unwrap();
                for word in ["not known", "estimated", "from memory", "sources differ", "computed"] {
                    if code.contains(&format!("\"{word}\"")) {
                        found.push(format!("{}: \"{word}\"", path.display()));
                    }
                }
            }
        }
    }
    let mut found = Vec::new();
    read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    none(&found);
}
