//! How acid or alkaline a solution is, as a value for the tables of safety.

use crate::predict::{predict_vessel, reserve_of_vessel, trusted_ph};
use crate::quantity::USUAL_C;
use crate::safety::Acidity;
use crate::solution::{Equilibria, Prediction};
use crate::vessel::Vessel;

/// The predicted pH of a vessel and what stands behind it; none where the model has no answer or a poor one.
pub fn acidity(equilibria: &Equilibria, vessel: &Vessel) -> Option<Acidity> {
    acidity_of(equilibria, vessel, &predict_vessel(equilibria, vessel, "it", USUAL_C).ok()?)
}

/// The same of a vessel whose prediction at [`USUAL_C`] is known.
pub fn acidity_of(equilibria: &Equilibria, vessel: &Vessel, prediction: &Prediction) -> Option<Acidity> {
    let reserve_g = reserve_of_vessel(equilibria, vessel, prediction, USUAL_C);
    Some(Acidity { ph: trusted_ph(prediction)?, reserve_g })
}
