//! The conditions between which a time is told, what is asked, and where developers are looked up.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::developer::Developer;
use super::dilution::Working;
use crate::quantity::{Duration, Temperature};

/// A formula near another by composition.
#[derive(Debug, Clone, PartialEq)]
pub struct Neighbour {
    /// Of the formula.
    pub id: String,
    /// Distance; smaller is nearer.
    pub distance: f64,
}

/// Where developers are looked up, and which are near by composition; the caller has the library and the composition.
pub trait Developers {
    /// The developer with that id, as the library gives it.
    fn developer(&self, id: &str) -> Option<Developer>;

    /// Developers near one by composition, nearest first; none where that is not known.
    fn nearest(&self, _developer: &Developer) -> Vec<Neighbour> {
        Vec::new()
    }
}

/// Conditions of development.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// As the library gives it.
    pub developer: Arc<Developer>,
    /// The working solution.
    pub working: Working,
    /// Temperature of the bath.
    pub temperature: Temperature,
    /// Way of agitation, a name of the table.
    pub agitation: String,
}

/// Films and tank, to see whether the stock is enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TankFill {
    /// Rolls of 516 cm² each.
    pub rolls: f64,
    /// Volume of working solution, mL.
    pub volume_ml: f64,
}

/// How the negative wanted differs from the one that the known time gives.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct NegativeWish {
    /// Steps of contrast more (or, below zero, less).
    pub contrast: f64,
    /// Gradient wanted, instead of steps.
    pub gradient: Option<f64>,
    /// Gradient that the known time gives; the normal one where it is not said.
    pub known_gradient: Option<f64>,
    /// Stops by which the film is used above its index (below zero: under it).
    pub push: f64,
}

impl NegativeWish {
    /// Steps of contrast and nothing else.
    pub fn steps(contrast: f64) -> Self {
        Self { contrast, ..Self::default() }
    }
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeQuestion {
    /// The time that works.
    pub known: Duration,
    /// Under these conditions.
    pub from: Setup,
    /// The conditions wanted.
    pub to: Setup,
    /// The negative wanted.
    pub wish: NegativeWish,
    /// Films and tank.
    pub tank: Option<TankFill>,
}

/// Another way between the two developers.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// The formulas it passes.
    pub by: String,
    /// Its whole factor.
    pub factor: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

/// Developers looked up once.
pub(super) struct Lookup<'a> {
    pub(super) source: &'a dyn Developers,
    known: RefCell<BTreeMap<String, Option<Arc<Developer>>>>,
}

impl<'a> Lookup<'a> {
    pub(super) fn new(source: &'a dyn Developers) -> Self {
        Self { source, known: RefCell::default() }
    }

    pub(super) fn developer(&self, id: &str) -> Option<Arc<Developer>> {
        if let Some(known) = self.known.borrow().get(id) {
            return known.clone();
        }
        let found = self.source.developer(id).map(Arc::new);
        self.known.borrow_mut().insert(id.to_owned(), found.clone());
        found
    }
}
