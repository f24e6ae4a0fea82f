//! Predictions of formulas, alkali design and stocks: against published figures, by predicting again, and as a user runs them.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use crate::common::shipped::{formulas, tables};
use crate::common::{Ran, good, soupcon, soupcon_with_input};
use approx::assert_abs_diff_eq;
use serde_json::Value;
use soupcon::formula::{CheckQuantity, Formula};
use soupcon::library::Library;
use soupcon::predict::contradiction::stated;
use soupcon::predict::report::{Question, Report, Sources, report};
use soupcon::predict::{contradiction, predict_part};
use soupcon::solution::{Equilibria, Modelling};
use soupcon::substance::Form;

const PH_ROWS: &str = include_str!("../../data/ph-reference.csv");
const THERMAL_ROWS: &str = include_str!("../../data/thermal-reference.csv");

fn equilibria() -> &'static Equilibria {
    &tables().equilibria
}

fn reported(library: &Library, equilibria: &Equilibria, formula: &Formula, question: &Question) -> Report {
    let siblings = |parent: &str| -> Vec<Arc<Form>> {
        library.substance(parent).unwrap().map(|own| own.forms.clone()).unwrap_or_default()
    };
    let sources = Sources { equilibria, weights: library.weights(), siblings: &siblings };
    report(sources, formula, question).unwrap()
}

/// A formula file of these forms in grams per litre.
fn recipe(forms: &[(&str, f64)], mixing: &str) -> String {
    let mut text = "format = 1\ntitle = \"A test\"\nkind = \"test-solution\"\nsummary = \"A test.\"\nevidence = \"memory\"\n"
        .to_owned();
    text.push_str(mixing);
    for (form, grams) in forms {
        text.push_str(&format!("[[ingredients]]\nsubstance = \"{form}\"\ngrams = {grams}\n"));
    }
    text
}

/// `form=grams;form=grams` of the data files; the forms there named by their anhydrous or only form.
fn amounts(text: &str) -> Vec<(&str, f64)> {
    text.split(';')
        .map(|part| part.split_once('=').unwrap())
        .map(|(form, g)| (form, g.parse().unwrap()))
        .collect()
}

/// Runs the program on a recipe from standard input.
fn run(text: &str, arguments: &[&str]) -> Ran {
    let mut all = vec![arguments[0], "-"];
    all.extend(&arguments[1..]);
    all.push("--json");
    soupcon_with_input(&all, text.as_bytes())
}

fn predicted(text: &str, arguments: &[&str]) -> Value {
    let mut all = vec!["predict"];
    all.extend(arguments);
    let ran = run(text, &all);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    ran.json()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

mod data;

mod published;

mod laws;

mod refusals;

mod own_substances;

mod adjusting;

mod concentrating;

mod measured;

mod elsewhere;

mod text;
