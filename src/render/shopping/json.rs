//! What `shopping --json` prints.

use super::words::total;
use crate::shelf::ShoppingLine;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ShoppingBody {
    wanted: Vec<WantedBody>,
    /// Sum of what has a price.
    cost: Option<f64>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct WantedBody {
    substance: String,
    needed_g: Option<f64>,
    left_g: Option<f64>,
    missing_g: f64,
    packs: Option<f64>,
    pack_g: Option<f64>,
    cost: Option<f64>,
}

impl ShoppingBody {
    pub(crate) fn new(wanted: &[ShoppingLine]) -> Self {
        let each = wanted.iter().map(|own| WantedBody {
            substance: own.form.id.clone(),
            needed_g: own.needed_g,
            left_g: own.left_g,
            missing_g: own.missing_g,
            packs: own.packs.map(|(packs, _)| packs),
            pack_g: own.packs.map(|(_, size)| size),
            cost: own.cost,
        });
        Self { wanted: each.collect(), cost: total(wanted) }
    }
}
