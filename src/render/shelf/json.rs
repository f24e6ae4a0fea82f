//! What `shelf --json` prints.

use crate::shelf::Left;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ShelfBody {
    jars: Vec<JarBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct JarBody {
    substance: String,
    amount_g: Option<f64>,
    counted: Option<String>,
    taken_g: f64,
    batches: usize,
    /// Below zero where more was taken than was counted.
    left_g: Option<f64>,
    price_per_g: Option<f64>,
}

impl ShelfBody {
    /// From the jars.
    pub(crate) fn new(left: &[Left]) -> Self {
        let jars = left.iter().map(|own| JarBody {
            substance: own.jar.form.id.clone(),
            amount_g: own.jar.amount_g,
            counted: own.jar.counted.map(|day| day.to_string()),
            taken_g: own.taken_g,
            batches: own.batches,
            left_g: own.left_g,
            price_per_g: own.jar.price_per_g(),
        });
        Self { jars: jars.collect() }
    }
}
