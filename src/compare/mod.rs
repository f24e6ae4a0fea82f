//! Formulas side by side: grams and moles per litre on one basis, the figures the trade goes by, and the differences in words.
//!
//! The table shows every chemical in one form: the one all recipes name, else the form of [`crate::composition`]. A column is one solution: a
//! part as bottled, or a bath as first used. The figures and the words go by the baths as first used, because that is what meets the
//! film. Words are told against the first formula; every sentence carries its [`DifferenceReason`]. What is not known stays out of the words.

mod facts;
mod sums;
mod table;
mod words;

use crate::composition::{Composer, Composition};
use crate::formula::Formula;
use crate::qualities::{Comparative, Quality, QualityRule};
use crate::substance::{Form, Role, State};
use crate::vessel::Unknown;
pub(crate) use facts::DifferenceReason;
use std::sync::Arc;
use sums::{Alkali, Baths, LEAST_CHLORIDE_MOL, sulfite_g};
use table::{columns_of, measures, one_form, only_in, rows, seen};
use thiserror::Error;
pub(crate) use words::Difference;

/// Fewest formulas that can be compared.
pub(crate) const FEWEST: usize = 2;

/// Most formulas that fit side by side.
pub(crate) const MOST: usize = 6;

/// Why formulas cannot be compared.
#[derive(Debug, Clone, PartialEq, Error)]
pub(crate) enum CompareError {
    /// Too few or too many.
    #[error("{FEWEST} to {MOST} formulas go side by side, not {given}")]
    Count {
        /// How many were given.
        given: usize,
    },
}

impl CompareError {
    /// What to do about it.
    pub(crate) fn fix() -> String {
        format!("name {FEWEST} to {MOST} formulas")
    }
}

/// Which solutions the table shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ShownStrength {
    /// Each part as bottled.
    Bottled,
    /// Each bath of the first use.
    Used,
}

impl ShownStrength {
    /// As bottled where every formula is one bottle, as used where one is mixed from several.
    pub(crate) fn usual(formulas: &[&Formula]) -> Self {
        if formulas.iter().all(|formula| formula.parts.len() == 1) { Self::Bottled } else { Self::Used }
    }

    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Bottled => "as bottled",
            Self::Used => "in use (first listed use)",
        }
    }

    /// Stable words for programs.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::Bottled => "as bottled",
            Self::Used => "as first used",
        }
    }
}

/// One solution of one formula.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BathColumn {
    /// Place of the formula among those compared.
    pub formula: usize,
    /// Part or bath, where the formula has several or is diluted; none for a plain bottle.
    pub label: Option<String>,
    /// What it holds.
    pub composition: Composition,
    /// pH predicted by the caller.
    pub ph: Option<ComparedPh>,
}

/// A predicted pH.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ComparedPh {
    /// The pH.
    pub value: f64,
    /// Its expected error, either way.
    pub error: f64,
    /// How firmly it is held, mol/L per pH.
    pub buffer_capacity: f64,
}

/// What one column holds of a chemical.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cell {
    /// Grams per litre in the row's form.
    pub grams_per_litre: Option<f64>,
    pub moles_per_litre: Option<f64>,
    /// Why a figure is missing.
    pub unknown: Option<Unknown>,
    /// Whether the recipe calls it optional.
    pub optional: bool,
    /// Whether the amount is an estimate (a solvent).
    pub estimated: bool,
}

/// An amount as the hand measures it: what is poured in mL/L, what is weighed in g/L.
fn as_measured(form: &Form, grams_per_litre: f64) -> (f64, &'static str) {
    match form.density_g_per_ml.filter(|_| form.state != State::Solid) {
        Some(density) => (grams_per_litre / density, "mL/L"),
        None => (grams_per_litre, "g/L"),
    }
}

/// A chemical across the columns.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ChemicalRow {
    /// The form in which its grams are told.
    pub form: Arc<Form>,
    /// What it does.
    pub role: Option<Role>,
    /// One cell a column; none where it is absent.
    pub cells: Vec<Option<Cell>>,
}

/// A figure that the trade goes by.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Measure {
    pub name: &'static str,
    /// Stable key for programs, with the unit.
    pub key: &'static str,
    /// Unit as printed; empty for words and ratios.
    pub unit: &'static str,
    /// One value a formula.
    pub values: Vec<MeasureValue>,
}

/// A value of a measure.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum MeasureValue {
    /// It does not apply, or is not known.
    None,
    /// A number in the measure's unit.
    Number(f64),
    /// 1 to so many.
    OneTo(f64),
    Words(String),
}

/// A chemical that only some formulas hold.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OnlyIn {
    /// The form in which its row is told.
    pub form: Arc<Form>,
    /// Places of the formulas that hold it.
    pub formulas: Vec<usize>,
}

/// Formulas side by side.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Comparison<'a> {
    /// The formulas, the first being the one the others are told against.
    pub formulas: Vec<&'a Formula>,
    /// Which solutions the table shows.
    pub shown: ShownStrength,
    pub columns: Vec<BathColumn>,
    /// The chemicals, by role and name.
    pub rows: Vec<ChemicalRow>,
    /// Figures of the baths as first used.
    pub measures: Vec<Measure>,
    /// What only some hold.
    pub only_in: Vec<OnlyIn>,
    /// Differences in words.
    pub differences: Vec<Difference>,
    /// What one would see of each against the first; empty where the kinds differ.
    pub seen: Vec<Seen>,
}

/// One quality of the formulas compared.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Seen {
    /// What one sees.
    pub quality: Quality,
    /// How each formula after the first stands to it.
    pub standings: Vec<Comparative>,
    /// What speaks for and against it, one list a formula, the first included.
    pub reasons: Vec<Vec<QualityRule>>,
}

/// Predicts the pH of a solution, where it can.
pub(crate) type PredictPh<'a> = &'a dyn Fn(&Composition) -> Option<ComparedPh>;

/// Puts formulas side by side.
///
/// # Errors
/// Fewer than [`FEWEST`] or more than [`MOST`].
pub(crate) fn compare<'a>(
    formulas: &[&'a Formula],
    shown: ShownStrength,
    composer: &Composer<'_>,
    ph: Option<PredictPh<'_>>,
) -> Result<Comparison<'a>, CompareError> {
    if !(FEWEST..=MOST).contains(&formulas.len()) {
        return Err(CompareError::Count { given: formulas.len() });
    }
    let columns: Vec<BathColumn> = formulas
        .iter()
        .enumerate()
        .flat_map(|(place, formula)| columns_of(place, formula, shown, composer, ph))
        .collect();
    let rows = rows(&columns);
    let baths: Vec<Baths> = formulas.iter().map(|formula| Baths::of(formula, composer, ph)).collect();
    Ok(Comparison {
        formulas: formulas.to_vec(),
        shown,
        measures: measures(&baths),
        only_in: only_in(&rows, &columns, formulas.len()),
        differences: words::differences(formulas, &baths, composer),
        seen: seen(formulas, composer),
        columns,
        rows,
    })
}

#[cfg(test)]
mod tests;
