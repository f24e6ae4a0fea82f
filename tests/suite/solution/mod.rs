//! Predicted solutions against published and computed values, limits that must hold, and inputs that must not break it.

mod elsewhere;
mod laws;
mod reference;
mod table;

use approx::assert_abs_diff_eq;
use proptest::prelude::*;
use soupcon::formula::Chemicals as _;
use soupcon::solution::{
    Addition, Beaker, Buffering, Equilibria, ModelLimit, Modelling, Portion, Prediction, SolutionError,
    amount_for_ph, hot_volume_for_target, predict, step_temperature, sulfuric_acid_heat, water_density,
};
use std::collections::BTreeMap;
use std::sync::LazyLock;

const TABLE: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));

fn table() -> &'static Equilibria {
    static PARSED: LazyLock<Equilibria> = LazyLock::new(|| Equilibria::parse(TABLE).unwrap());
    &PARSED
}

/// Grams per litre of one form as an addition.
fn grams(table: &Equilibria, form: &str, grams_per_litre: f64) -> Addition {
    let (_, parent, molar_mass, water) =
        FORMS.iter().find(|(id, ..)| *id == form).unwrap_or_else(|| panic!("form {form}"));
    table
        .substance(parent)
        .unwrap_or_else(|| panic!("substance {parent}"))
        .addition(grams_per_litre / molar_mass, *water)
}

/// A recipe written as in the data files: `form=grams;form=grams`.
fn recipe(table: &Equilibria, text: &str) -> Vec<Addition> {
    text.split(';')
        .map(|part| {
            let (form, amount) = part.split_once('=').unwrap();
            grams(table, form, amount.parse().unwrap())
        })
        .collect()
}

const STANDARD_ROWS: &str = include_str!("../../data/primary-standards.csv");

const CROSS_CHECK_ROWS: &str = include_str!("../../data/phreeqc-cross-check.csv");

struct CrossRow<'a> {
    id: &'a str,
    temperature_c: f64,
    components: &'a str,
    same_constants: f64,
    shipped: Vec<f64>,
    tolerance: f64,
}

fn cross_check_rows() -> impl Iterator<Item = CrossRow<'static>> {
    CROSS_CHECK_ROWS.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| {
        let cells: Vec<&str> = line.splitn(8, ',').collect();
        CrossRow {
            id: cells[0],
            temperature_c: cells[1].parse().unwrap(),
            components: cells[2],
            same_constants: cells[3].parse().unwrap(),
            shipped: cells[4..6].iter().filter_map(|cell| cell.parse().ok()).collect(),
            tolerance: cells[6].parse().unwrap(),
        }
    })
}

fn developer(table: &Equilibria) -> Vec<Addition> {
    recipe(
        table,
        "metol=2;sodium-sulfite-anhydrous=100;hydroquinone=5;borax-decahydrate=2;potassium-bromide=0.5",
    )
}

/// Form, parent, molar mass in g/mol with its crystal water (standard atomic weights), mol of crystal water.
const FORMS: &[(&str, &str, f64, f64)] = &[
    ("acetic-acid", "acetic-acid", 60.052, 0.0),
    ("ammonia", "ammonia", 17.031, 0.0),
    ("ammonium-chloride", "ammonium-chloride", 53.491, 0.0),
    ("ammonium-thiosulfate", "ammonium-thiosulfate", 148.205, 0.0),
    ("ascorbic-acid", "ascorbic-acid", 176.124, 0.0),
    ("borax-decahydrate", "borax", 381.372, 10.0),
    ("boric-acid", "boric-acid", 61.833, 0.0),
    ("citric-acid-anhydrous", "citric-acid", 192.124, 0.0),
    ("disodium-phosphate-anhydrous", "disodium-phosphate", 141.959, 0.0),
    ("edta-disodium-dihydrate", "edta-disodium", 372.237, 2.0),
    ("edta-tetrasodium", "edta-tetrasodium", 380.170, 0.0),
    ("hydroquinone", "hydroquinone", 110.111, 0.0),
    ("metol", "metol", 344.384, 0.0),
    ("monopotassium-phosphate", "monopotassium-phosphate", 136.086, 0.0),
    ("phenidone", "phenidone", 162.189, 0.0),
    ("p-aminophenol-hydrochloride", "p-aminophenol-hydrochloride", 145.587, 0.0),
    ("potassium-alum-dodecahydrate", "potassium-alum", 474.388, 12.0),
    ("potassium-bromide", "potassium-bromide", 119.002, 0.0),
    ("potassium-carbonate-anhydrous", "potassium-carbonate", 138.206, 0.0),
    ("potassium-chloride", "potassium-chloride", 74.551, 0.0),
    ("potassium-hydrogen-phthalate", "potassium-hydrogen-phthalate", 204.222, 0.0),
    ("potassium-hydroxide", "potassium-hydroxide", 56.106, 0.0),
    ("potassium-metabisulfite", "potassium-metabisulfite", 222.323, 0.0),
    ("pyrocatechol", "pyrocatechol", 110.111, 0.0),
    ("sodium-acetate-trihydrate", "sodium-acetate", 136.080, 3.0),
    ("sodium-bicarbonate", "sodium-bicarbonate", 84.007, 0.0),
    ("sodium-bisulfite", "sodium-bisulfite", 104.061, 0.0),
    ("sodium-carbonate-anhydrous", "sodium-carbonate", 105.988, 0.0),
    ("sodium-chloride", "sodium-chloride", 58.443, 0.0),
    ("sodium-hydroxide", "sodium-hydroxide", 39.997, 0.0),
    ("sodium-metabisulfite", "sodium-metabisulfite", 190.106, 0.0),
    ("sodium-metaborate-tetrahydrate", "sodium-metaborate", 137.861, 4.0),
    ("sodium-sulfate-anhydrous", "sodium-sulfate", 142.042, 0.0),
    ("sodium-sulfite-anhydrous", "sodium-sulfite", 126.043, 0.0),
    ("sodium-thiosulfate-pentahydrate", "sodium-thiosulfate", 248.184, 5.0),
    ("triethanolamine", "triethanolamine", 149.188, 0.0),
    ("trisodium-citrate-dihydrate", "trisodium-citrate", 294.100, 2.0),
    ("trisodium-phosphate-dodecahydrate", "trisodium-phosphate", 380.124, 12.0),
];
