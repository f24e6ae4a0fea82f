//! Percent solutions to make first, in JSON.

use super::words::whole_unit;
use crate::scale::{Batch, MadeFirst};
use serde::Serialize;

/// A percent solution to make before anything else, with what all parts take of it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct MadeFirstBody {
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
    pub(in crate::render) fn of(batch: &Batch) -> Vec<Self> {
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
