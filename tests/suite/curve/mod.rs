//! Characteristic curves: open sets with answers worked out elsewhere, the interpolation against an independent one, laws, odd input.

mod commands;
mod figures;
mod laws;

use crate::common::{Ran, good, soupcon_in, soupcon_with_input};
use approx::assert_abs_diff_eq;
use soupcon::curve::figures::{FilmFigures, film};
use soupcon::curve::interpolation::Pchip;
use soupcon::curve::paper::paper;
use soupcon::curve::readings::{ReadingOptions, Strip, Tablet, read};
use soupcon::curve::series::{ContrastWish, Series, Subject, Target, TargetOutcome};
use soupcon::curve::table::Sensitometry;
use soupcon::curve::{Errors, STOP};
use soupcon::library::Library;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

const SETS: &str = include_str!("../../data/sensitometry.csv");

const SCIPY: &str = include_str!("../../data/pchip-scipy.csv");

const STEPS: &str = include_str!("../../data/speed-steps.csv");

/// No error at all, and the usual reading error.
const EXACT: Errors = Errors { density: 0.0, light_stops: 0.0 };

const READ: Errors = Errors { density: 0.01, light_stops: 0.0 };

const SUBJECT: Subject = Subject { range: 1.80, step: 0.30 };

fn table() -> Sensitometry {
    Sensitometry::parse(Library::shipped().table("sensitometry.toml").unwrap()).unwrap()
}

/// Rows of a set: record, x, table, true.
fn rows(set: &str) -> Vec<(String, f64, f64, Option<f64>)> {
    let mut rows = Vec::new();
    for line in SETS.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let fields: Vec<&str> = line.split(',').collect();
        let [own, record, x, table, exact] = fields[..] else { panic!("{line}") };
        if own == set {
            rows.push((
                record.to_owned(),
                x.parse().unwrap_or(0.0),
                table.parse().unwrap(),
                exact.parse().ok(),
            ));
        }
    }
    assert!(!rows.is_empty(), "{set}");
    rows
}

/// The file of a set.
fn file(set: &str) -> String {
    let mut text = "log_h,density\n".to_owned();
    for (record, x, value, _) in rows(set) {
        match record.as_str() {
            "base" => writeln!(text, "base,{value}").unwrap(),
            "point" => writeln!(text, "{x},{value}").unwrap(),
            _ => {}
        }
    }
    text
}

fn strip_of(text: &str) -> Strip {
    read(text, "strip", "strip.csv", &ReadingOptions::default()).unwrap()
}

fn figures(set: &str, errors: Errors) -> FilmFigures {
    film(&strip_of(&file(set)), errors, &table()).unwrap()
}

/// What a strip reads, by the names of the sets.
fn named(own: &FilmFigures) -> BTreeMap<&'static str, f64> {
    let names = own.speed.named.unwrap();
    BTreeMap::from([
        ("log_h_m", own.log_h_m.value),
        ("density_difference", own.density_difference.unwrap().value),
        ("gradient_iso", own.gradient_iso.unwrap().value),
        ("speed", own.speed.value),
        ("delta_x_speed", own.delta_x_speed.unwrap().value),
        ("average_gradient", own.average_gradient.unwrap().value),
        ("contrast_index", own.contrast_index.unwrap().value),
        ("degrees", f64::from(names.degrees)),
        ("speed_label", names.label.unwrap()),
        ("is_iso", f64::from(u8::from(own.is_iso))),
    ])
}
