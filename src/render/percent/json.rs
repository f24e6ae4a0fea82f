//! What `percent --json` prints.

use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PercentBody {
    pub substance: String,
    /// Strength with its basis.
    pub strength: String,
    /// Grams of pure substance.
    pub solute_g: f64,
    /// Grams of the product to weigh.
    pub weigh_g: Option<f64>,
    /// Millilitres of the product, where it is a liquid.
    pub measure_ml: Option<f64>,
    /// Volume to make up to; of w/w only about what comes out, see `make_up_to_g`.
    pub make_up_to_ml: Option<f64>,
    /// Mass to make up to; null where the basis is not w/w.
    pub make_up_to_g: Option<f64>,
    /// Water to begin with; null where the basis is w/w or it is refused.
    pub start_water_ml: Option<f64>,
    /// How warm that water is.
    pub start_water_c: Option<f64>,
    /// How it goes in.
    pub how: Option<String>,
    /// What the thermometer reads then, taken at once and without loss of heat; null where that is not known.
    pub temperature_after_c: Option<f64>,
    /// What to put on.
    pub wear: Vec<String>,
    /// About air, where it matters.
    pub ventilation: Option<String>,
}
