//! From films to bottle to bin: how much for these films, which bottle is still good, and what a rule may say. Cases and figures are those of
//! `tests/data/film-cases.csv` and of the sources named beside each check.

mod bottles;
mod fixers;
mod keeping;
mod stock;

use crate::common::{Ran, command, good, schema, soupcon};
use approx::assert_abs_diff_eq;
use serde_json::Value;
use soupcon::bath::fixer::{films_per_litre, silver_mg_per_film};

/// Expected figure and tolerance of a case.
fn case(id: &str) -> (f64, f64) {
    let text = include_str!("../../data/film-cases.csv");
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
    serde_json::from_str(include_str!("../../../formulas/schemas/bottles.json")).unwrap()
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
