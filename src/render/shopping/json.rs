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
        let each = wanted.iter().map(|line| WantedBody {
            substance: line.form.id.clone(),
            needed_g: line.needed_g,
            left_g: line.left_g,
            missing_g: line.missing_g,
            packs: line.packs.map(|(packs, _)| packs),
            pack_g: line.packs.map(|(_, size)| size),
            cost: line.cost,
        });
        Self { wanted: each.collect(), cost: total(wanted) }
    }
}
