//! What `water --json` prints.

use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct WaterBody {
    /// Hot water at its temperature.
    pub hot_ml: f64,
    /// Cold water at its temperature.
    pub cold_ml: f64,
}
