//! Percent solutions to make first, in words and in JSON.

use serde::Serialize;

use super::WeighRow;
use crate::quantity::{Basis, rounding};
use crate::scale::dose::{Balance, measuring_step_ml};
use crate::scale::{Batch, MadeFirst, Unit};
use crate::substance::Class;

/// A percent solution to make, in words.
pub(super) struct MakeWords {
    /// The chemical and its strength: `potassium bromide, 10 % w/v`.
    pub(super) name: String,
    /// What it is made up with.
    pub(super) solvent: String,
    /// What is dissolved in it.
    chemical: String,
    /// Of the chemical, with its unit; none where so little cannot be weighed.
    amount: Option<String>,
    /// Of the finished solution, with its unit.
    whole: String,
    /// Whether it heats and spits.
    is_violent: bool,
    note: Option<String>,
}

/// The percent solutions of a batch, each once.
pub(super) fn made_first(batch: &Batch) -> Vec<MakeWords> {
    batch.made_first().iter().map(|solution| MakeWords::new(solution, batch.balance)).collect()
}

impl MakeWords {
    fn new(solution: &MadeFirst, balance: Balance) -> Self {
        let form = &solution.form;
        let is_weighed = solution.unit == Unit::Gram;
        let step = |amount: f64| if is_weighed { balance.step_g } else { measuring_step_ml(amount) };
        let words =
            |amount: f64| format!("{} {}", rounding::show_step(amount, step(amount)), solution.unit.symbol());
        // The product's strength has no place on the bottle of a dilution.
        let named = if is_weighed { &form.name } else { &form.parent.name };
        Self {
            name: format!("{named}, {}", solution.strength),
            solvent: solution.solvent.replace('-', " "),
            chemical: form.name.clone(),
            amount: solution.amount.map(words),
            whole: format!("{} {}", rounding::show_short(solution.make, 0), whole_unit(solution).symbol()),
            is_violent: form.is_class(&Class::StrongAcid) || form.is_class(&Class::StrongAlkali),
            note: solution.note.clone(),
        }
    }

    /// How it goes in, after the name of the chemical.
    fn manner(&self) -> &'static str {
        if self.is_violent {
            ": slowly into most of the water, COLD, stirring; never water onto it"
        } else {
            ""
        }
    }

    /// Two lines to tick off; none where so little cannot be weighed.
    pub(super) fn rows(&self) -> Vec<WeighRow> {
        let Some(amount) = &self.amount else { return Vec::new() };
        let cool = if self.is_violent { ", once it is cool" } else { "" };
        vec![
            WeighRow { amount: amount.clone(), what: format!("{}{}", self.chemical, self.manner()) },
            WeighRow {
                amount: format!("to {}", self.whole),
                what: format!(
                    "with {}{cool}; stir until clear. Write on its bottle: {}",
                    self.solvent, self.name
                ),
            },
        ]
    }

    /// What else there is to know.
    pub(super) fn remark(&self) -> Option<String> {
        match &self.amount {
            None => Some(format!(
                "{}: too little of it to weigh for that; make a stronger solution and dilute it (`soupcon percent`, `soupcon dilute`)",
                self.name
            )),
            Some(_) => self.note.as_ref().map(|note| format!("{}: {note}", self.name)),
        }
    }

    /// All of it in one sentence.
    pub(super) fn sentence(&self) -> String {
        let note = self.note.as_ref().map_or_else(String::new, |note| format!(" ({note})"));
        self.amount.as_ref().map_or_else(
            || self.remark().unwrap_or_default(),
            |amount| {
                format!(
                    "FIRST make {}: {amount}{}, made up to {} with {}{note}",
                    self.name,
                    self.manner(),
                    self.whole,
                    self.solvent
                )
            },
        )
    }
}

/// In what the finished solution is measured: one by weight in weight is weighed.
fn whole_unit(solution: &MadeFirst) -> Unit {
    if solution.strength.basis() == Basis::WeightInWeight { Unit::Gram } else { Unit::Millilitre }
}

/// A percent solution to make before anything else, with what all parts take of it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct MadeFirstBody {
    /// Id of the form that is dissolved.
    pub substance: String,
    /// Its strength with the basis, such as `10 % w/v`.
    pub strength: String,
    /// Needed for the batch, mL.
    pub needed_ml: f64,
    /// Made of it, in `make_unit`.
    pub make: f64,
    /// `ml`, or `g` of a solution by weight in weight.
    pub make_unit: &'static str,
    /// Of the form, unrounded; null where so little cannot be weighed.
    pub amount: Option<f64>,
    /// `g` or `ml`.
    pub unit: &'static str,
    /// Id of what it is made up with.
    pub solvent: String,
}

impl MadeFirstBody {
    /// Of a batch.
    pub(super) fn of(batch: &Batch) -> Vec<Self> {
        let all = batch.made_first();
        let body = |solution: &MadeFirst| Self {
            substance: solution.form.id.clone(),
            strength: solution.strength.to_string(),
            needed_ml: solution.needed_ml,
            make: solution.make,
            make_unit: whole_unit(solution).json(),
            amount: solution.amount,
            unit: solution.unit.json(),
            solvent: solution.solvent.clone(),
        };
        all.iter().map(body).collect()
    }
}
