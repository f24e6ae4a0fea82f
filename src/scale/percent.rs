//! A percent solution made by itself.

use super::exchange::ExchangeError;
use crate::quantity::{Strength, StrengthBasis, USUAL_C, Volume};
use crate::substance::{Form, State};

/// What a percent solution takes: grams (or millilitres of a liquid) of the form made up to a volume.
#[derive(Debug, Clone, PartialEq)]
pub struct PercentSolution {
    /// Grams of pure solute meant.
    pub solute_g: f64,
    /// Grams of the form as weighed.
    pub weigh_g: f64,
    /// Millilitres of the form, where it is a liquid of known density.
    pub measure_ml: Option<f64>,
    /// Volume to make up to, mL; for w/w the mass of the whole instead.
    pub make_up_to_ml: f64,
    /// For w/w: grams of the finished solution.
    pub total_g: Option<f64>,
    /// Solubility at 20 °C, g per 100 g of water, where it is known and the solution is above it or may be.
    pub above_solubility: Option<f64>,
}

/// Works out a percent solution of a form; `assay` is the fraction of solute in the product.
///
/// w/v: grams in 100 mL of solution; v/v: millilitres of the pure liquid in 100 mL; w/w: grams in 100 g, for which the "volume" is taken
/// as grams of finished solution because its density is not known.
///
/// # Errors
/// v/v of a substance without density.
pub fn percent_solution(
    form: &Form,
    strength: Strength,
    volume: Volume,
    assay: f64,
) -> Result<PercentSolution, ExchangeError> {
    let make_up_to_ml = volume.as_ml();
    let share = strength.percent() / 100.0;
    let no_density = || ExchangeError::NoDensity { form: form.id.clone() };
    let (solute_g, total_g) = match strength.basis() {
        StrengthBasis::WeightInVolume => (make_up_to_ml * share, None),
        StrengthBasis::WeightInWeight => (make_up_to_ml * share, Some(make_up_to_ml)),
        StrengthBasis::VolumeInVolume => {
            // The pure liquid's own density is that of the product only if the product is pure.
            let density = form.density_g_per_ml.ok_or_else(no_density)?;
            let measure_ml = make_up_to_ml * share;
            return Ok(PercentSolution {
                solute_g: measure_ml * density * assay,
                weigh_g: measure_ml * density,
                measure_ml: Some(measure_ml),
                make_up_to_ml,
                total_g: None,
                above_solubility: None,
            });
        }
    };
    let weigh_g = solute_g / assay;
    let measure_ml = if form.state == State::Solid {
        None
    } else {
        form.density_g_per_ml.map(|density| weigh_g / density)
    };
    // w/w leaves the rest as water; of 100 mL w/v the solute takes its room, rather less than as crystals, which errs on the careful side.
    let percent = strength.percent();
    let solute_room = if total_g.is_some() { percent } else { form.solid_room_ml(percent) };
    let limit = form.solubility_as_weighed(USUAL_C).filter(|_| form.state == State::Solid);
    let above_solubility = limit.filter(|limit| percent > limit * (100.0 - solute_room) / 100.0);
    Ok(PercentSolution { solute_g, weigh_g, measure_ml, make_up_to_ml, total_g, above_solubility })
}
