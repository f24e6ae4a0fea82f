//! The product of factors: ln t = ln t₀ + Σ xᵢ ln cᵢ.
//!
//! Every coefficient cᵢ has a low, a central and a high value and comes with a net exponent xᵢ: degrees for temperature, ln r for
//! dilution, +1 or −1 for a relation between developers. Steps that use one coefficient twice add their exponents before anything is
//! multiplied, so a way there and back cancels to nothing and leaves no range, and the order of the steps does not matter. From books
//! alone what is left is combined in quadrature of logarithms, the low and the high side apart, as if the coefficients were wrong
//! independently; with records of one's own [`super::own`] says how far each is known.
//!
//! A coefficient used twice on one way is wrong by the same amount both times; adding exponents first lets that cancel, so identity
//! and inverse are exact. Between two developers the way of least variance is taken, judged undiluted at 20 °C, or the answer could
//! jump; the others are printed, and told as a disagreement where neither range reaches the other's centre.

use std::collections::BTreeMap;

use super::figure::{Support, TimingFigure};

/// Exponents this small are rounding of temperatures and dilutions, not a change.
pub(super) const NOTHING: f64 = 1e-9;

/// In which order factors are listed, and which coefficient each is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Key {
    /// A relation between developers, by its number.
    Relation {
        own: bool,
        index: usize,
    },
    /// A developer taken for its nearest relative.
    Guess {
        one: String,
        other: String,
    },
    /// A temperature coefficient by name.
    Temperature(String),
    /// A dilution exponent by name.
    Dilution(String),
    /// How far 1+1 lies off the straight law of a dilution exponent.
    Bend(String),
    /// A way of agitation.
    Agitation(String),
    Contrast,
    /// Use at another index.
    Push,
}

/// The floor of a factor: printed times are rounded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Floor {
    /// Nine in ten, in ln t.
    pub(super) ln: f64,
    /// Exponent from which on it is whole; below, it grows in proportion.
    pub(super) whole_at: f64,
}

/// A coefficient with its net exponent.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Term {
    /// The natural logarithm for an exponent of 1.
    pub(super) per_unit: TimingFigure,
    /// How far films differ in it, nine in ten for an exponent of 1; added in quadrature to the figure's own range.
    pub(super) spread: f64,
    /// Rounding of printed times, where it applies.
    pub(super) floor: Option<Floor>,
    pub(super) exponent: f64,
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
    /// How far the coefficient itself may be lower and higher, nine in ten for an exponent of 1.
    pub(super) fn reach(&self) -> (f64, f64) {
        let TimingFigure { low, central, high, .. } = self.per_unit;
        ((central - low).hypot(self.spread), (high - central).hypot(self.spread))
    }

    /// The floor that applies to its exponent.
    pub(super) fn floor_ln(&self) -> f64 {
        self.floor.map_or(0.0, |floor| floor.ln * (self.exponent.abs() / floor.whole_at).min(1.0))
    }

    /// ln of the factor, and how far the range reaches below and above it.
    pub(super) fn ln(&self) -> (f64, f64, f64) {
        let size = self.exponent.abs();
        let (low, high) = self.reach();
        let (down, up) = if self.exponent >= 0.0 { (low, high) } else { (high, low) };
        let floor = self.floor_ln();
        (self.exponent * self.per_unit.central, (down * size).hypot(floor), (up * size).hypot(floor))
    }
}

/// One line of the derivation.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// What changes, in words.
    pub name: String,
    /// What it changes to, in a word or two.
    pub short: String,
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

/// Says how large some terms are together: ln, and how far the range reaches below and above it.
pub(super) type Judge<'j> = dyn Fn(&[(&Key, &Term)]) -> (f64, f64, f64) + 'j;

/// Factors multiplied.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Product {
    terms: BTreeMap<Key, Term>,
}

/// ln of several terms together, and how far their range reaches below and above it.
pub(super) fn by_books(terms: &[(&Key, &Term)]) -> (f64, f64, f64) {
    let (sum, down, up) = terms.iter().fold((0.0, 0.0, 0.0), |(sum, down, up), (_, term)| {
        let (central, own_down, own_up) = term.ln();
        (sum + central, down + own_down * own_down, up + own_up * own_up)
    });
    (sum, f64::sqrt(down), f64::sqrt(up))
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

    /// ln of the whole factor by books, and how far the range reaches below and above it.
    pub(super) fn ln(&self) -> (f64, f64, f64) {
        by_books(&self.terms().collect::<Vec<_>>())
    }

    /// Mean of the squared reaches of the range: how uncertain it is.
    pub(super) fn variance(&self) -> f64 {
        let (_, down, up) = self.ln();
        f64::midpoint(down * down, up * up)
    }

    /// The derivation, line by line; `judge` says how large some terms are together.
    pub(super) fn factors(&self, judge: &Judge<'_>) -> Vec<Factor> {
        let temperatures = self.terms().filter(|(key, _)| matches!(key, Key::Temperature(_))).count();
        let dilutions = self.terms().filter(|(key, _)| matches!(key, Key::Dilution(_))).count();
        let has_dilution = |of: &String| self.terms().any(|(key, _)| *key == Key::Dilution(of.clone()));
        let mut factors = Vec::new();
        for (key, term) in self.terms() {
            let mut together = vec![(key, term)];
            match key {
                // Told with its exponent, as one step of dilution.
                Key::Bend(of) if has_dilution(of) => continue,
                Key::Dilution(of) => {
                    together.extend(self.terms().filter(|(other, _)| **other == Key::Bend(of.clone())));
                }
                _ => {}
            }
            let (central, down, up) = judge(&together);
            let of = match key {
                Key::Temperature(of) if temperatures > 1 => format!(" ({of})"),
                Key::Dilution(of) if dilutions > 1 => format!(" ({of})"),
                _ => String::new(),
            };
            factors.push(Factor {
                name: name(key, term) + &of,
                short: short(key, term),
                factor: central.exp(),
                low: (central - down).exp(),
                high: (central + up).exp(),
                support: term.per_unit.support,
                source: term.per_unit.source.clone(),
                basis: term.basis.clone(),
            });
        }
        factors
    }
}

/// What it changes to, in a word or two.
fn short(key: &Key, term: &Term) -> String {
    let last = || term.words.rsplit(" to ").next().unwrap_or_default().to_owned();
    match key {
        Key::Temperature(_) | Key::Dilution(_) | Key::Bend(_) if term.steps.len() == 1 => last(),
        Key::Temperature(_) => "temperature".to_owned(),
        Key::Dilution(_) | Key::Bend(_) => "dilution".to_owned(),
        Key::Relation { .. } | Key::Guess { .. } => "developer".to_owned(),
        Key::Agitation(name) => name.clone(),
        Key::Contrast => "contrast".to_owned(),
        Key::Push => "index".to_owned(),
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
