//! How acid or alkaline a solution is, as a value for the tables of safety.

use crate::predict::{has_open_doubt, predict_vessel, reserve_of_vessel, trusted_ph};
use crate::quantity::USUAL_C;
use crate::safety::{Acidity, Dissolved};
use crate::solution::{Equilibria, Prediction};
use crate::vessel::Vessel;

/// Expected error of a pH above which it does not even decide what spoils a bath: alum beside sulfite is known to within about one; our own
/// limit.
const WORST_ROUGH_ERROR: f64 = 1.5;

/// The predicted pH of a vessel and what stands behind it; none where the model has no answer or a useless one.
pub fn acidity(equilibria: &Equilibria, vessel: &Vessel) -> Option<Acidity> {
    acidity_of(equilibria, vessel, &predict_vessel(equilibria, vessel, "it", USUAL_C).ok()?)
}

/// The same of a vessel whose prediction at [`USUAL_C`] is known.
pub fn acidity_of(equilibria: &Equilibria, vessel: &Vessel, prediction: &Prediction) -> Option<Acidity> {
    let Some(ph) = trusted_ph(prediction) else {
        let is_of_use = prediction.ph_error <= WORST_ROUGH_ERROR && !has_open_doubt(prediction);
        return is_of_use.then(|| Acidity { is_rough: true, ..prediction.ph.into() });
    };
    let reserve_g = reserve_of_vessel(equilibria, vessel, prediction, USUAL_C);
    // Traces that the prediction leaves out count as nothing.
    let of = |name: &str| {
        let own = prediction.species.iter().find(|species| species.name == name);
        own.map_or(0.0, |species| species.moles_per_litre)
    };
    let dissolved = Dissolved { hydrogen_sulfide: of("H2S"), ammonia: of("NH3") };
    Some(Acidity { reserve_g, dissolved: Some(dissolved), ..ph.into() })
}
