//! The product of factors: ln t = ln t₀ + Σ xᵢ ln cᵢ.
//!
//! Every coefficient cᵢ has a low, a central and a high value and comes with a net exponent xᵢ: degrees for temperature, ln r for
//! dilution, +1 or −1 for a relation between developers. Steps that use one coefficient twice add their exponents before anything is
//! multiplied, so a way there and back cancels to nothing and leaves no range, and the order of the steps does not matter. What is
//! left is combined in quadrature of logarithms, the low and the high side apart, as if the coefficients were wrong independently.

use std::collections::BTreeMap;

use super::figure::{Figure, Support};
use super::table::Scatter;

/// Exponents this small are rounding of temperatures and dilutions, not a change.
const NOTHING: f64 = 1e-9;

/// Where the floor of the scatter is reached, °C: as well as a thermometer is read.
const FLOOR_REACHED_DEGREES: f64 = 0.5;

/// In which order factors are listed, and which coefficient each is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Key {
    /// A relation between developers, by its number.
    Relation { own: bool, index: usize },
    /// A developer taken for its nearest relative.
    Guess { one: String, other: String },
    /// A temperature coefficient by name.
    Temperature(String),
    /// A dilution exponent by name.
    Dilution(String),
    /// A way of agitation.
    Agitation(String),
    /// Contrast.
    Contrast,
}

/// A coefficient with its net exponent.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Term {
    /// The natural logarithm for an exponent of 1.
    pub(super) per_unit: Figure,
    /// Net exponent.
    pub(super) exponent: f64,
    /// Scatter of published temperature tables, where it applies.
    pub(super) scatter: Option<Scatter>,
    /// What the figure is, for the derivation.
    pub(super) basis: String,
    /// Range of the data behind the figure.
    pub(super) data: Option<(f64, f64)>,
    /// The steps taken with it: temperatures in °C, or totals over stock.
    pub(super) steps: Vec<(f64, f64)>,
    /// What changes, in words; for a single step.
    pub(super) words: String,
}

impl Term {
    /// ln of the factor, and how far the range reaches below and above it.
    pub(super) fn ln(&self) -> (f64, f64, f64) {
        let Figure { low, central, high, .. } = self.per_unit;
        let size = self.exponent.abs();
        let (down, up) = if self.exponent >= 0.0 {
            (central - low, high - central)
        } else {
            (high - central, central - low)
        };
        let scatter = self.scatter.map_or(0.0, |scatter| {
            scatter.floor * (size / FLOOR_REACHED_DEGREES).min(1.0) + scatter.per_degree * size
        });
        (self.exponent * central, (down * size).hypot(scatter), (up * size).hypot(scatter))
    }
}

/// One line of the derivation.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// What changes, in words.
    pub name: String,
    /// Central factor.
    pub factor: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// What stands behind it.
    pub support: Support,
    /// Citation, where there is one.
    pub source: Option<String>,
    /// Which figure was used and what to know of it.
    pub basis: String,
}

/// Factors multiplied.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Product {
    terms: BTreeMap<Key, Term>,
}

impl Product {
    /// Multiplies by a term; one coefficient's exponents add up.
    pub(super) fn add(&mut self, key: Key, term: Term) {
        match self.terms.get_mut(&key) {
            Some(known) => {
                known.exponent += term.exponent;
                known.steps.extend(term.steps);
            }
            None => {
                self.terms.insert(key, term);
            }
        }
    }

    /// The terms that change anything.
    pub(super) fn terms(&self) -> impl Iterator<Item = (&Key, &Term)> {
        self.terms.iter().filter(|(_, term)| term.exponent.abs() > NOTHING)
    }

    /// ln of the whole factor, and how far the range reaches below and above it.
    pub(super) fn ln(&self) -> (f64, f64, f64) {
        let (sum, down, up) = self.terms().fold((0.0, 0.0, 0.0), |(sum, down, up), (_, term)| {
            let (central, own_down, own_up) = term.ln();
            (sum + central, down + own_down * own_down, up + own_up * own_up)
        });
        (sum, f64::sqrt(down), f64::sqrt(up))
    }

    /// Mean of the squared reaches of the range: how uncertain it is.
    pub(super) fn variance(&self) -> f64 {
        let (_, down, up) = self.ln();
        f64::midpoint(down * down, up * up)
    }

    /// The derivation, line by line.
    pub(super) fn factors(&self) -> Vec<Factor> {
        let temperatures = self.terms().filter(|(key, _)| matches!(key, Key::Temperature(_))).count();
        let dilutions = self.terms().filter(|(key, _)| matches!(key, Key::Dilution(_))).count();
        self.terms()
            .map(|(key, term)| {
                let (central, down, up) = term.ln();
                let of = match key {
                    Key::Temperature(of) if temperatures > 1 => format!(" ({of})"),
                    Key::Dilution(of) if dilutions > 1 => format!(" ({of})"),
                    _ => String::new(),
                };
                Factor {
                    name: name(key, term) + &of,
                    factor: central.exp(),
                    low: (central - down).exp(),
                    high: (central + up).exp(),
                    support: term.per_unit.support,
                    source: term.per_unit.source.clone(),
                    basis: term.basis.clone(),
                }
            })
            .collect()
    }
}

/// What changes, in words: the one step, or the net of several.
fn name(key: &Key, term: &Term) -> String {
    use crate::quantity::rounding::show_short;
    if term.steps.len() <= 1 {
        return term.words.clone();
    }
    match key {
        Key::Temperature(_) => {
            let sign = if term.exponent > 0.0 { "+" } else { "" };
            format!("temperature, {sign}{} °C in all", show_short(term.exponent, 1))
        }
        Key::Dilution(_) => {
            format!("dilution, {} times as dilute in all", show_short(term.exponent.exp(), 2))
        }
        _ => term.words.clone(),
    }
}
