//! The order of mixing: class by class, over the whole library against the published orders, and as laws.
//!
//! Source of the class orders where none stands beside a test: common practice, no source.

mod developers;
mod hot_and_cold;
mod laws;
mod other_baths;

use crate::common::shipped::{Tables, formulas, sheets, tables};
use crate::common::{answer, good, soupcon_with_input};
use proptest::prelude::*;
use serde_json::Value;
use soupcon::formula::{Formula, Kind};
use soupcon::quantity::Volume;
use soupcon::safety::SafetyData;
use soupcon::scale::dose::Balance;
use soupcon::scale::exchange::Relations;
use soupcon::scale::{Request, scale};
use soupcon::sequence::{self, Action};
use soupcon::sheet::sheet;
use soupcon::solution::Equilibria;

/// (action, substance) of each step of a part.
fn steps(formula: &str, volume: &str, part: usize) -> Vec<(String, String)> {
    let json = good(&["sheet", formula, volume, "--json"]).json();
    steps_of(&json["parts"][part])
}

fn steps_of(part: &Value) -> Vec<(String, String)> {
    part["steps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|step| {
            (
                step["action"].as_str().unwrap().to_owned(),
                step["substance"].as_str().unwrap_or_default().to_owned(),
            )
        })
        .collect()
}

/// The substances in the order in which they enter the vessel, the pinch marked.
fn entering(steps: &[(String, String)]) -> Vec<String> {
    steps
        .iter()
        .filter(|(action, substance)| !substance.is_empty() && action != "dissolve-apart")
        .map(
            |(action, substance)| {
                if action == "pinch" { format!("pinch of {substance}") } else { substance.clone() }
            },
        )
        .collect()
}

fn order(formula: &str, part: usize) -> Vec<String> {
    entering(&steps(formula, "1L", part))
}

fn before(order: &[String], first: &str, second: &str) {
    let place = |name: &str| {
        order.iter().position(|own| own == name).unwrap_or_else(|| panic!("{name} is not in {order:?}"))
    };
    assert!(place(first) < place(second), "{first} is not before {second} in {order:?}");
}

const HEADER: &str = "format = 1\ntitle = \"A test\"\nsummary = \"S\"\nevidence = \"memory\"\n";

fn formula_text(kind: &str, ingredients: &[(&str, f64)]) -> String {
    let mut text = format!("{HEADER}kind = \"{kind}\"\n");
    for (substance, grams) in ingredients {
        text.push_str(&format!("[[ingredients]]\nsubstance = \"{substance}\"\ngrams = {grams}\n"));
    }
    text
}
