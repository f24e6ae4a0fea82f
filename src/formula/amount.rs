//! How much of a chemical a recipe asks, in every way of saying it, and what that is in grams.

use crate::quantity::{Strength, StrengthBasis};
use crate::substance::{Form, State};
use std::sync::Arc;

/// How much of an ingredient a litre takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// Grams of the form per litre.
    Grams(f64),
    /// Millilitres of a liquid or a solution on sale per litre.
    Millilitres(f64),
    /// Millilitres of a percent solution of the form per litre.
    PercentSolution {
        /// Millilitres of that solution per litre.
        millilitres: f64,
        /// Of that solution.
        strength: Strength,
    },
}

/// One line of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Ingredient {
    /// The form to weigh or measure.
    pub form: Arc<Form>,
    /// How much per litre of the part as bottled.
    pub amount: Amount,
    /// The old source's own figure, where the file gives it: `20 grain per 10 imp-floz`.
    pub historical: Option<String>,
    /// What to know of this line.
    pub note: Option<String>,
    /// An end point that is reached before the whole amount is used.
    pub until: Option<String>,
    /// Millilitres of water per litre of batch in which it is dissolved apart.
    pub apart_ml: Option<f64>,
    /// Whether the source calls it optional.
    pub optional: bool,
    /// Whether another form, or another chemical, may stand in for it; where not, the note says why.
    pub exchange: bool,
    /// Line in the file.
    pub line: usize,
}

impl Ingredient {
    /// A line of so many grams of a form per litre, and nothing more to say of it.
    pub fn grams(form: &Arc<Form>, grams: f64) -> Self {
        Self {
            form: Arc::clone(form),
            amount: Amount::Grams(grams),
            historical: None,
            note: None,
            until: None,
            apart_ml: None,
            optional: false,
            exchange: true,
            line: 0,
        }
    }

    /// The same line with so many times as much.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        let amount = match self.amount {
            Amount::Grams(grams) => Amount::Grams(grams * factor),
            Amount::Millilitres(millilitres) => Amount::Millilitres(millilitres * factor),
            Amount::PercentSolution { millilitres, strength } => {
                Amount::PercentSolution { millilitres: millilitres * factor, strength }
            }
        };
        Self { amount, ..self.clone() }
    }

    /// Grams of the form itself per litre, where they can be known: solids as given, liquids by density, percent solutions by strength.
    pub fn grams_per_litre(&self) -> Option<f64> {
        amount_in_grams(&self.form, self.amount)
    }
}

/// A strength by weight this near to that of the product, in percentage points, means the product itself; our own limit.
const SAME_STRENGTH_POINTS: f64 = 3.0;

/// Strongest percent solution that counts as dissolved already, no longer as the chemical itself, percent; our own limit.
const WEAK_PERCENT: f64 = 10.0;

/// No solution in this trade is heavier, g/mL: concentrated sulfuric acid is 1.84; from memory, no source.
const HEAVIEST_SOLUTION_G_PER_ML: f64 = 1.9;

impl Amount {
    /// Whether it is a percent solution by weight of the strength of the liquid product: then it is the product that is measured.
    pub fn is_product(self, form: &Form) -> bool {
        let Self::PercentSolution { strength, .. } = self else { return false };
        form.state != State::Solid
            && form.density_g_per_ml.is_some()
            && strength.basis() == StrengthBasis::WeightInWeight
            && (strength.percent() - form.assay_fraction() * 100.0).abs() <= SAME_STRENGTH_POINTS
    }

    /// Whether it is a solution by weight that the product cannot make: stronger than a liquid, or as strong as a solid, which leaves no water.
    pub fn is_stronger_than(self, form: &Form) -> bool {
        let Self::PercentSolution { strength, .. } = self else { return false };
        let most = form.assay_fraction() * 100.0;
        let is_stronger = match form.state {
            State::Solid => strength.percent() >= most,
            _ => strength.percent() > most + SAME_STRENGTH_POINTS,
        };
        strength.basis() == StrengthBasis::WeightInWeight && is_stronger
    }

    /// Whether it goes in as a weak percent solution, no longer as the chemical itself.
    pub fn is_weak_solution_of(self, form: &Form) -> bool {
        let Self::PercentSolution { strength, .. } = self else { return false };
        strength.percent() <= WEAK_PERCENT && !self.is_product(form)
    }
}

/// Grams of a form in an amount; none for a volume of a liquid whose density is not known. The strength of a percent solution counts the
/// pure chemical, so that of a weaker product more grams are in it.
pub fn amount_in_grams(form: &Form, amount: Amount) -> Option<f64> {
    match amount {
        Amount::Grams(grams) => Some(grams),
        Amount::Millilitres(millilitres) => Some(millilitres * form.density_g_per_ml?),
        Amount::PercentSolution { millilitres, .. } if amount.is_product(form) => {
            Some(millilitres * form.density_g_per_ml?)
        }
        Amount::PercentSolution { millilitres, strength } => {
            let share = strength.percent() / 100.0;
            match strength.basis() {
                StrengthBasis::WeightInVolume => Some(millilitres * share / form.assay_fraction()),
                StrengthBasis::VolumeInVolume => Some(millilitres * share * form.density_g_per_ml?),
                // Grams in 100 g of solution: the density of that solution is not known here.
                StrengthBasis::WeightInWeight => None,
            }
        }
    }
}

/// Grams of a form that an amount surely does not exceed.
pub fn amount_at_most_g(form: &Form, amount: Amount) -> Option<f64> {
    amount_in_grams(form, amount).or(match amount {
        Amount::Grams(grams) => Some(grams),
        Amount::Millilitres(millilitres) => Some(millilitres * HEAVIEST_SOLUTION_G_PER_ML),
        Amount::PercentSolution { millilitres, strength } => {
            let pure = millilitres * HEAVIEST_SOLUTION_G_PER_ML * strength.percent() / 100.0;
            Some(pure / form.assay_fraction())
        }
    })
}
