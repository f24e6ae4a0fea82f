//! Percent solutions to make first, in words.

use crate::quantity::{StrengthBasis, rounding};
use crate::render::WeighRow;
use crate::scale::dose::{Balance, measuring_step_ml};
use crate::scale::{Batch, MadeFirst, Unit};
use crate::substance::Class;

/// A percent solution to make, in words.
pub(in crate::render) struct MakeWords {
    /// The chemical and its strength: `potassium bromide, 10 % w/v`.
    pub(in crate::render) name: String,
    /// What it is made up with.
    pub(in crate::render) solvent: String,
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
pub(in crate::render) fn made_first(batch: &Batch) -> Vec<MakeWords> {
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
    pub(in crate::render) fn rows(&self) -> Vec<WeighRow> {
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
    pub(in crate::render) fn remark(&self) -> Option<String> {
        match &self.amount {
            None => Some(format!(
                "{}: too little of it to weigh for that; make a stronger solution and dilute it (`soupcon percent`, `soupcon dilute`)",
                self.name
            )),
            Some(_) => self.note.as_ref().map(|note| format!("{}: {note}", self.name)),
        }
    }

    pub(in crate::render) fn sentence(&self) -> String {
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
pub(super) fn whole_unit(solution: &MadeFirst) -> Unit {
    if solution.strength.basis() == StrengthBasis::WeightInWeight { Unit::Gram } else { Unit::Millilitre }
}
