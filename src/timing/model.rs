//! What answers are made from, and what a change of dilution, temperature and agitation in one developer costs.
//!
//! ln t = ln t₀ + Σ ln factors; see [`super::product`] for how ranges combine, and [`super::own`] for what records of one's own
//! change. Identical conditions give exactly the known time; what records say of it always has a range.

use std::sync::Arc;

use super::TimingError;
use super::figure::{Support, TimingFigure};
use super::product::{Floor, Key, NOTHING, Product, Term};
use super::records::{Own, Record};
use super::rows::Coefficient;
use super::setup::{Developers, Lookup, Setup};
use super::table::TimingTable;
use super::temperature::TypedCoefficient;
use crate::quantity::rounding::{show_decimals, show_short};

/// The table, the developers, the user's own data and coefficient: all that answers are made from.
#[allow(missing_debug_implementations, reason = "holds the caller's look-up")]
pub struct Model<'a> {
    pub(super) table: &'a TimingTable,
    pub(super) lookup: Lookup<'a>,
    pub(super) own: Own,
    given: Option<Arc<Coefficient>>,
}

impl<'a> Model<'a> {
    /// A model with the table's factors only.
    pub fn new(table: &'a TimingTable, developers: &'a dyn Developers) -> Self {
        Self { table, lookup: Lookup::new(developers), own: Own::default(), given: None }
    }

    /// With a temperature coefficient that the user gives; it takes the place of all others.
    #[must_use]
    pub fn with_coefficient(mut self, coefficient: TypedCoefficient) -> Self {
        let figure = TimingFigure::given(coefficient.ln_per_degree());
        self.given = Some(Arc::new(Coefficient::given("your coefficient".to_owned(), figure)));
        self
    }

    /// With the user's own records of a film; what they show takes the place of the books.
    #[must_use]
    pub fn with_own(mut self, film: &str, records: &[Record]) -> Self {
        self.own = Own::new(film, records, self.table, &self.lookup);
        self
    }

    /// The user's own data in use.
    pub fn own(&self) -> &Own {
        &self.own
    }

    /// Multiplies by what a change of dilution, temperature and agitation in one developer costs.
    pub(super) fn convert(&self, product: &mut Product, from: &Setup, to: &Setup) -> Result<(), TimingError> {
        let developer = &from.developer;
        if !from.working.same_proportions(&to.working) {
            return Err(TimingError::OtherProportions {
                formula: developer.id.clone(),
                one: from.working.to_string(),
                other: to.working.to_string(),
            });
        }
        let (start, end) = (from.temperature.as_c(), to.temperature.as_c());
        if let Some(coefficient) = self.given.clone().or_else(|| self.table.temperature_of(developer))
            && (end - start).abs() > NOTHING
        {
            let words = format!("temperature, {} to {}", from.temperature, to.temperature);
            let term = self.temperature_term(&coefficient, start, end, words);
            product.add(Key::Temperature(coefficient.name.clone()), term);
        }
        let (start, end) = (from.working.ratio(), to.working.ratio());
        if let Some(coefficient) = self.table.dilution_of(developer)
            && (end / start).ln().abs() > NOTHING
        {
            let words = format!("dilution, {} to {}", from.working, to.working);
            let term = self.dilution_term(&coefficient, (start, end), words);
            if let Some(bend) = &coefficient.bend {
                let off = Term {
                    per_unit: bend.clone(),
                    exponent: off_the_straight_law(end) - off_the_straight_law(start),
                    floor: None,
                    data: None,
                    ..term.clone()
                };
                product.add(Key::Bend(coefficient.name.clone()), off);
            }
            product.add(Key::Dilution(coefficient.name.clone()), term);
        }
        if from.agitation != to.agitation {
            let words = format!("agitation, {} to {}", from.agitation, to.agitation);
            for (name, exponent) in [(&from.agitation, -1.0), (&to.agitation, 1.0)] {
                let (found, figure) = self.table.agitation(name)?;
                if figure.low < figure.high {
                    product.add(
                        Key::Agitation(found.name.clone()),
                        agitation_term(&found.words, figure, exponent, &words),
                    );
                }
            }
        }
        Ok(())
    }

    fn temperature_term(&self, coefficient: &Coefficient, start: f64, end: f64, words: String) -> Term {
        let ten = coefficient.figure.map(|k| (10.0 * k).exp());
        let range = if ten.low < ten.high {
            format!(" ({} to {})", show_decimals(ten.low, 2), show_decimals(ten.high, 2))
        } else {
            String::new()
        };
        let scatter = &self.table.scatter;
        let spread = if coefficient.is_from_books() { scatter.per_degree } else { scatter.typed_per_degree };
        let central = show_decimals(ten.central, 2);
        let basis = format!("{central} for 10 °C{range}: {}", coefficient.name);
        Term {
            // Warmer is shorter.
            per_unit: coefficient.figure.map(|k| -k),
            exponent: end - start,
            spread,
            floor: Some(Floor { ln: scatter.floor, whole_at: WHOLE_FLOOR_DEGREES }),
            data: coefficient.range,
            basis: with_note(&basis, coefficient.figure.note.as_deref()),
            steps: vec![(start, end)],
            words,
        }
    }

    fn dilution_term(&self, coefficient: &Coefficient, ratios: (f64, f64), words: String) -> Term {
        let (start, end) = ratios;
        let TimingFigure { low, central, high, .. } = coefficient.figure;
        let show = |value: f64| show_short(value, 2);
        let range = if low < high { format!(" ({} to {})", show(low), show(high)) } else { String::new() };
        let basis = format!("exponent {}{range}: {}", show(central), coefficient.name);
        Term {
            per_unit: coefficient.figure.clone(),
            exponent: (end / start).ln(),
            spread: 0.0,
            floor: Some(Floor { ln: self.table.scatter.floor, whole_at: WHOLE_FLOOR_DILUTION }),
            data: coefficient.range,
            basis: with_note(&basis, coefficient.figure.note.as_deref()),
            steps: vec![(start, end)],
            words,
        }
    }
}

/// Where the floor of a change of temperature is whole, °C: as well as a thermometer is read.
const WHOLE_FLOOR_DEGREES: f64 = 0.5;
/// Where the floor of a change of dilution is whole, in ln r.
const WHOLE_FLOOR_DILUTION: f64 = 0.2;
/// How far a dilution stands off the straight law, 1 at 1+1: a line in ln r up to it and one down to four times the volume.
fn off_the_straight_law(ratio: f64) -> f64 {
    let half = std::f64::consts::LN_2;
    (1.0 - (ratio.ln() - half).abs() / half).max(0.0)
}

fn agitation_term(of: &str, figure: &TimingFigure, exponent: f64, words: &str) -> Term {
    let basis = format!("{of}: {} times intermittent inversion", show_short(figure.central, 2));
    Term {
        per_unit: figure.map(f64::ln),
        exponent,
        spread: 0.0,
        floor: None,
        data: None,
        basis: with_note(&basis, figure.note.as_deref()),
        steps: Vec::new(),
        words: words.to_owned(),
    }
}

pub(super) fn with_note(basis: &str, note: Option<&str>) -> String {
    note.map_or_else(|| basis.to_owned(), |note| format!("{basis}. {note}"))
}

/// Whether a figure rests on nothing that was read or measured.
pub(super) fn is_unread(support: Support) -> bool {
    matches!(support, Support::Memory | Support::Estimate | Support::Guess)
}
