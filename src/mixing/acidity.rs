//! How acid or alkaline a solution is, as a value for the tables of safety.

use crate::predict::{predict_vessel, reserve_of_vessel, trusted_ph};
use crate::quantity::USUAL_C;
use crate::safety::Acidity;
use crate::solution::Equilibria;
use crate::vessel::Vessel;

/// The predicted pH of a vessel and what stands behind it; none where the model has no answer or a poor one.
pub fn acidity(equilibria: &Equilibria, vessel: &Vessel) -> Option<Acidity> {
    let prediction = predict_vessel(equilibria, vessel, "it", USUAL_C).ok()?;
    let reserve_g = reserve_of_vessel(equilibria, vessel, &prediction, USUAL_C);
    Some(Acidity { ph: trusted_ph(&prediction)?, reserve_g })
}
