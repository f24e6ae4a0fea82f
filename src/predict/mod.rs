//! What a formula's solutions will do: joins the recipe with [`crate::solution`].
//!
//! A part, or a working bath mixed from parts, becomes a list of neutral additions; every prediction carries its expected error, and
//! says what it could not model. Concentrates in glycol or amine are refused: the model is one of water.

pub mod heating;

use thiserror::Error;

use crate::formula::{Bath, Formula, Ingredient, Part};
use crate::solution::{Addition, Equilibria, Prediction, SolutionError, Standing, predict};
use crate::substance::{Form, Role};

/// Grams of organic solvent per litre above which the water model does not hold.
const MOST_SOLVENT_G_PER_L: f64 = 100.0;

/// One form in a litre of a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Dissolved {
    /// The form.
    pub form: std::rc::Rc<Form>,
    /// Grams of the form per litre; none where they cannot be known.
    pub grams_per_litre: Option<f64>,
}

impl Dissolved {
    /// mol per litre: grams × assay / molar mass.
    pub fn moles_per_litre(&self) -> Option<f64> {
        Some(self.grams_per_litre? * self.form.assay_fraction() / self.form.molar_mass_g_per_mol?)
    }
}

/// Why there is no prediction.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PredictError {
    /// Not a watery solution.
    #[error(
        "{what} is not a solution in water ({solvent}); the model is one of water, so nothing is predicted"
    )]
    NotWater {
        /// Which part or bath.
        what: String,
        /// The solvent.
        solvent: String,
    },
    /// An amount that cannot be turned into moles and matters.
    #[error("the amount of {form} cannot be turned into moles, so the pH is not predicted")]
    NoMoles {
        /// The form.
        form: String,
    },
    /// The model has no answer.
    #[error(transparent)]
    Solution(#[from] SolutionError),
}

/// What is dissolved in a litre of a part as bottled.
pub fn dissolved_in_part(part: &Part) -> Vec<Dissolved> {
    part.ingredients.iter().map(|own| dissolved(own, 1.0)).collect()
}

/// What is dissolved in a litre of a working bath, parts and water mixed by volume.
pub fn dissolved_in_bath(formula: &Formula, bath: &Bath) -> Vec<Dissolved> {
    let total = bath.total();
    let mut list: Vec<Dissolved> = Vec::new();
    for (name, share) in &bath.shares {
        let part = formula.parts.iter().find(|part| part.name.as_deref().unwrap_or("stock") == name);
        let Some(part) = part else { continue };
        if let Some(solvent) = &part.solvent {
            let grams = solvent.density_g_per_ml.map(|density| density * 1000.0 * share / total);
            list.push(Dissolved { form: std::rc::Rc::clone(solvent), grams_per_litre: grams });
        }
        for own in &part.ingredients {
            let new = dissolved(own, share / total);
            match list.iter_mut().find(|known| known.form.id == new.form.id) {
                Some(known) => {
                    known.grams_per_litre =
                        known.grams_per_litre.zip(new.grams_per_litre).map(|(one, two)| one + two);
                }
                None => list.push(new),
            }
        }
    }
    list
}

fn dissolved(own: &Ingredient, share: f64) -> Dissolved {
    Dissolved {
        form: std::rc::Rc::clone(&own.form),
        grams_per_litre: own.grams_per_litre().map(|grams| grams * share),
    }
}

/// Neutral additions for the model; what the table does not know counts as unknown.
///
/// # Errors
/// An organic solvent in earnest, or an amount without moles of something that matters.
pub fn additions(
    equilibria: &Equilibria,
    list: &[Dissolved],
    what: &str,
) -> Result<Vec<Addition>, PredictError> {
    let mut additions = Vec::with_capacity(list.len());
    for own in list {
        let form = &own.form;
        if form.parent.id == "water" {
            continue;
        }
        let organic = form.has_role(Role::Solvent) && form.is_class("organic") || form.is_class("amine");
        if organic && own.grams_per_litre.is_none_or(|grams| grams > MOST_SOLVENT_G_PER_L) {
            return Err(PredictError::NotWater { what: what.to_owned(), solvent: form.name.clone() });
        }
        let row = equilibria.substance(&form.parent.id);
        match (row, own.moles_per_litre()) {
            (Some(row), Some(moles)) => additions.push(row.addition(moles, form.crystal_water)),
            (Some(row), None) if row.standing() == Standing::Inert => {}
            (Some(row), None) if row.standing() == Standing::Modelled => {
                return Err(PredictError::NoMoles { form: form.name.clone() });
            }
            (_, moles) => additions.push(Addition {
                substance: form.name.clone(),
                moles: moles.unwrap_or(0.0),
                components: Vec::new(),
                water_moles: 0.0,
                standing: Standing::Unknown,
                protons: 0.0,
            }),
        }
    }
    Ok(additions)
}

/// Predicts a part as bottled.
///
/// # Errors
/// Not a watery solution, or the model has no answer.
pub fn predict_part(equilibria: &Equilibria, part: &Part, celsius: f64) -> Result<Prediction, PredictError> {
    let what = part.name.as_ref().map_or_else(|| "it".to_owned(), |name| format!("part {name}"));
    if let Some(solvent) = &part.solvent {
        return Err(PredictError::NotWater { what, solvent: solvent.name.clone() });
    }
    let additions = additions(equilibria, &dissolved_in_part(part), &what)?;
    Ok(predict(equilibria, &additions, celsius)?)
}

/// Predicts a working bath.
///
/// # Errors
/// Not a watery solution, or the model has no answer.
pub fn predict_bath(
    equilibria: &Equilibria,
    formula: &Formula,
    bath: &Bath,
    celsius: f64,
) -> Result<Prediction, PredictError> {
    let additions = additions(equilibria, &dissolved_in_bath(formula, bath), "the bath")?;
    Ok(predict(equilibria, &additions, celsius)?)
}
