//! Timing against published tables, worked examples and the laws of the model.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use soupcon::journal::Highlights;
use soupcon::library::Library;
use soupcon::quantity::{Duration, MixRatio, Temperature};
use soupcon::timing::{
    Developer, Developers, Estimate, GammaLaw, Measured, Model, NegativeWish, Neighbour, Record, Setup,
    Support, TankFill, TimeQuestion, TimingError, TimingTable, TimingWarning, TypedCoefficient,
    gradient_ratio,
};
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::OnceLock;

mod laws;

mod published;

mod records;

mod relations;

mod warnings;

fn table() -> &'static TimingTable {
    thread_local! {
        static TABLE: OnceLock<&'static TimingTable> = const { OnceLock::new() };
    }
    TABLE.with(|cell| {
        *cell.get_or_init(|| {
            let text = Library::shipped().table("timing.toml").unwrap();
            Box::leak(Box::new(TimingTable::parse(text, "timing.toml").unwrap()))
        })
    })
}

/// The shipped library; with neighbours and personal formulas where a test gives them.
#[derive(Default)]
struct Shelf {
    library: Library,
    near: BTreeMap<&'static str, Vec<(&'static str, f64)>>,
    personal: Vec<&'static str>,
}

impl Developers for Shelf {
    fn developer(&self, id: &str) -> Option<Developer> {
        let found = self.library.formula(id).ok()?;
        Some(Developer::of(&found.formula, !self.personal.contains(&id), table()))
    }

    fn nearest(&self, developer: &Developer) -> Vec<Neighbour> {
        let near = self.near.get(developer.id.as_str()).cloned().unwrap_or_default();
        near.into_iter().map(|(id, distance)| Neighbour { id: id.to_owned(), distance }).collect()
    }
}

impl Shelf {
    fn at(&self, id: &str, dilution: &str, celsius: f64, agitation: &str) -> Setup {
        let developer = self.developer(id).unwrap();
        let ratio: Option<MixRatio> = (!dilution.is_empty()).then(|| dilution.parse().unwrap());
        Setup {
            working: developer.working(ratio.as_ref()).unwrap(),
            developer: Arc::new(developer),
            temperature: Temperature::from_c(celsius),
            agitation: agitation.to_owned(),
        }
    }

    fn stock(&self, id: &str, celsius: f64) -> Setup {
        self.at(id, "", celsius, "inversion")
    }
}

fn question(minutes: f64, from: Setup, to: Setup) -> TimeQuestion {
    TimeQuestion { known: Duration::from_min(minutes), from, to, wish: NegativeWish::default(), tank: None }
}

fn answer(minutes: f64, from: Setup, to: Setup) -> Result<Estimate, TimingError> {
    let shelf = Shelf::default();
    Model::new(table(), &shelf).adjust(&question(minutes, from, to))
}

fn codes(estimate: &Estimate) -> Vec<&'static str> {
    estimate.warnings.iter().map(TimingWarning::code).collect()
}

/// Metol-hydroquinone borax, undiluted, one 400-speed film, min. From memory.
const BORAX: [(f64, f64); 4] = [(68.0, 6.75), (70.0, 6.0), (72.0, 5.5), (75.0, 4.75)];

// ---------------------------------------------------------------------------------------------------- own records

fn record(date: &str, formula: &str, dilution: &str, celsius: f64, minutes: f64) -> Record {
    Record {
        date: date.parse().unwrap(),
        film: "my 400 film".to_owned(),
        formula: formula.to_owned(),
        dilution: dilution.parse().unwrap(),
        temperature: Temperature::from_c(celsius),
        agitation: "inversion".to_owned(),
        minutes,
        gradient: None,
        speed: None,
        shadows: None,
        highlights: Some(Highlights::Right),
    }
}

fn came_out(highlights: Highlights, minutes: f64) -> Record {
    Record {
        highlights: Some(highlights),
        ..record("2026-01-02", "mq-borax-classic", "stock", 20.0, minutes)
    }
}
