//! From films to bottle to bin: how much for these films, which bottle is still good, and what a rule may say. Cases and figures are those of
//! `tests/data/evening-cases.csv` and of the sources named beside each check.

use approx::assert_abs_diff_eq;
use serde_json::Value;

use crate::common::{good, run_in, soupcon};
use soupcon::bath::fixer::{films_per_litre, silver_mg_per_film};

/// Expected figure and tolerance of a case.
fn case(id: &str) -> (f64, f64) {
    let text = include_str!("../data/evening-cases.csv");
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
