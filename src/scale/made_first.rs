//! Percent solutions that must stand ready before anything else of a batch is weighed: those that are dosed in place of a weighing, and
//! those that the recipe itself measures out.

use std::sync::Arc;

use super::dose::{least_weighable_g, stock_ml};
use super::{Batch, Item, Unit};
use crate::quantity::{Strength, StrengthBasis, rounding};
use crate::substance::Form;

/// The largest bottle of a percent solution, mL; more is made by the litre.
const LARGEST_BOTTLE_ML: f64 = 1000.0;

/// A percent solution to make.
#[derive(Debug, Clone, PartialEq)]
pub struct MadeFirst {
    /// What is dissolved in it.
    pub form: Arc<Form>,
    /// How strong it is.
    pub strength: Strength,
    /// Needed for the batch, mL.
    pub needed_ml: f64,
    /// Made of it, mL; of a solution by weight in weight, g.
    pub make: f64,
    /// Of the chemical in it, unrounded; none where so little cannot be weighed.
    pub amount: Option<f64>,
    /// In what the chemical is taken.
    pub unit: Unit,
    /// Substance id of what it is made up with.
    pub solvent: String,
    /// What to know when making it.
    pub note: Option<String>,
}

impl Batch {
    /// The percent solutions that the batch takes, each once, with what all its parts need of it.
    pub fn made_first(&self) -> Vec<MadeFirst> {
        let mut all: Vec<MadeFirst> = Vec::new();
        let items = self.parts.iter().flat_map(|part| &part.items);
        for (item, strength) in items.filter_map(|item| Some((item, strength_of(item)?))) {
            let needed_ml = item.dose.as_ref().map_or(item.amount, |dose| dose.millilitres);
            let same = |other: &MadeFirst| other.form.id == item.form.id && other.strength == strength;
            let earlier = all.iter().position(same).map(|index| all.remove(index));
            let needed_ml = needed_ml + earlier.map_or(0.0, |other| other.needed_ml);
            all.push(self.solution(item, strength, needed_ml));
        }
        all
    }

    fn solution(&self, item: &Item, strength: Strength, needed_ml: f64) -> MadeFirst {
        // A liquid by volume is measured, all else is weighed.
        let (unit, least) = match strength.basis() {
            StrengthBasis::VolumeInVolume => (Unit::Millilitre, 0.0),
            StrengthBasis::WeightInVolume | StrengthBasis::WeightInWeight => {
                (Unit::Gram, least_weighable_g(&item.form, self.balance))
            }
        };
        let share = strength.percent() / 100.0;
        let litres_ml = rounding::up_to_step(needed_ml, LARGEST_BOTTLE_ML);
        let stock = stock_ml(strength.percent(), needed_ml, least)
            .or_else(|| (litres_ml * share >= least).then_some(litres_ml));
        MadeFirst {
            form: Arc::clone(&item.form),
            strength,
            needed_ml,
            make: stock.unwrap_or(needed_ml),
            amount: stock.map(|stock| stock * share),
            unit,
            solvent: item.dose.as_ref().map_or_else(|| "water".to_owned(), |dose| dose.solvent.clone()),
            note: item.dose.as_ref().and_then(|dose| dose.note.clone()),
        }
    }
}

/// The strength of the solution in which an item is measured.
fn strength_of(item: &Item) -> Option<Strength> {
    let dosed =
        item.dose.as_ref().map(|dose| Strength::new(dose.strength_percent, StrengthBasis::WeightInVolume));
    dosed.or(item.solution)
}
