//! The examples of the README run.

use crate::common::{soupcon, soupcon_with_input};

const README: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md"));

/// The code blocks of a language.
fn blocks(language: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut inside: Option<String> = None;
    for line in README.lines() {
        match &mut inside {
            Some(_) if line == "```" => found.extend(inside.take()),
            Some(text) => {
                text.push_str(line);
                text.push('\n');
            }
            None if line == format!("```{language}") => inside = Some(String::new()),
            None => {}
        }
    }
    found
}

/// Words as a shell splits them: blanks, single quotes, and comments after ` #`.
fn words(line: &str) -> Vec<String> {
    let line = line.split(" #").next().unwrap();
    let mut words = Vec::new();
    for (index, piece) in line.split('\'').enumerate() {
        if index % 2 == 1 {
            words.push(piece.to_owned());
        } else {
            words.extend(piece.split_whitespace().map(str::to_owned));
        }
    }
    words
}

#[test]
fn every_example_of_a_command_runs() {
    let mut ran = 0;
    for line in blocks("sh").iter().flat_map(|block| block.lines()) {
        let Some(rest) = line.strip_prefix("soupcon ") else { continue };
        let words = words(rest);
        let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
        let result = soupcon(&arguments);
        assert_eq!(result.code, 0, "{line}\n{}", result.whole());
        ran += 1;
    }
    assert!(ran >= 12, "only {ran} examples");
}

#[test]
fn the_first_command_is_the_main_job_and_the_second_passes_the_tests() {
    let blocks = blocks("sh");
    let first = blocks[0].trim().strip_prefix("cargo run --release --locked -- ").unwrap().to_owned();
    let words = words(&first);
    let sheet = soupcon(&words.iter().map(String::as_str).collect::<Vec<_>>());
    assert_eq!(sheet.code, 0);
    assert!(sheet.out.contains("SULFITE, anhydrous: a PINCH of it in"));
    assert_eq!(blocks[1].trim(), "cargo test --locked");
    let ci = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/.ci/run"));
    assert!(
        ci.lines().any(|line| line == blocks[1].trim()),
        ".ci/run does not run the README's test command"
    );
}

#[test]
fn the_formula_it_teaches_is_a_formula() {
    let ran = soupcon_with_input(&["sheet", "-", "500ml"], blocks("toml")[0].as_bytes());
    assert_eq!(ran.code, 0, "{}", ran.whole());
}
