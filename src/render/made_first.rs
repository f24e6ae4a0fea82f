//! Percent solutions that must stand ready before anything else of a batch is weighed: those that are dosed in place of a weighing,
//! and those that the recipe itself measures out.

use super::WeighRow;
use crate::quantity::{Basis, Strength, rounding};
use crate::scale::dose::{self, Balance, measuring_step_ml};
use crate::scale::{Item, Unit};
use crate::substance::Class;

/// A percent solution to make.
pub(super) struct MadeFirst {
    /// The chemical and its strength: `potassium bromide, 10 % w/v`.
    pub(super) name: String,
    /// What is dissolved in it.
    chemical: String,
    strength: Strength,
    /// Of the chemical, with its unit; none where so little cannot be weighed.
    amount: Option<String>,
    /// Needed for the batch, mL.
    needed_ml: f64,
    /// Made of it, mL.
    make_ml: f64,
    /// What it is made up with.
    pub(super) solvent: String,
    /// Whether it heats and spits.
    is_violent: bool,
    note: Option<String>,
}

/// The percent solutions of these items, each once.
pub(super) fn made_first<'a>(items: impl Iterator<Item = &'a Item>, balance: Balance) -> Vec<MadeFirst> {
    let mut all: Vec<MadeFirst> = Vec::new();
    for (item, strength) in items.filter_map(|item| Some((item, strength_of(item)?))) {
        let needed_ml = item.dose.as_ref().map_or(item.amount, |dose| dose.millilitres);
        let same = |own: &MadeFirst| own.chemical == item.form.name && own.strength == strength;
        let earlier = all.iter().position(same).map(|index| all.remove(index));
        let needed_ml = needed_ml + earlier.map_or(0.0, |own| own.needed_ml);
        all.push(MadeFirst::new(item, strength, needed_ml, balance));
    }
    all
}

/// The strength of the solution in which an item is measured.
fn strength_of(item: &Item) -> Option<Strength> {
    let dosed = |dose: &dose::Dose| Strength::new(dose.strength_percent, Basis::WeightInVolume);
    item.dose.as_ref().map(dosed).or(item.solution)
}

impl MadeFirst {
    fn new(item: &Item, strength: Strength, needed_ml: f64, balance: Balance) -> Self {
        let form = &item.form;
        // A liquid by volume is measured, all else is weighed.
        let (unit, least) = match strength.basis() {
            Basis::VolumeInVolume => (Unit::Millilitre, 0.0),
            Basis::WeightInVolume | Basis::WeightInWeight => {
                (Unit::Gram, dose::least_weighable_g(form, balance))
            }
        };
        // More than the largest bottle is made by the litre.
        let litres_ml = (needed_ml / 1000.0).ceil() * 1000.0;
        let is_large = litres_ml > 1000.0 && litres_ml * strength.percent() / 100.0 >= least;
        let stock = dose::stock_ml(strength.percent(), needed_ml, least).or(is_large.then_some(litres_ml));
        let make_ml = stock.unwrap_or(needed_ml);
        let own = make_ml * strength.percent() / 100.0;
        // The product's strength has no place on the bottle of a dilution.
        let named = if unit == Unit::Gram { &form.name } else { &form.parent.name };
        let step = if unit == Unit::Gram { balance.step_g } else { measuring_step_ml(own) };
        Self {
            name: format!("{named}, {strength}"),
            chemical: form.name.clone(),
            strength,
            amount: stock.map(|_| format!("{} {}", rounding::show_step(own, step), unit.symbol())),
            needed_ml,
            make_ml,
            solvent: item.dose.as_ref().map_or("water".to_owned(), |dose| dose.solvent.replace('-', " ")),
            is_violent: form.is_class(&Class::StrongAcid) || form.is_class(&Class::StrongAlkali),
            note: item.dose.as_ref().and_then(|dose| dose.note.clone()),
        }
    }

    /// Volume of the finished solution; w/w its mass.
    fn whole(&self) -> String {
        let unit = if self.strength.basis() == Basis::WeightInWeight { "g" } else { "mL" };
        format!("{} {unit}", rounding::show_short(self.make_ml, 0))
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
                amount: format!("to {}", self.whole()),
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
                    self.whole(),
                    self.solvent
                )
            },
        )
    }
}
