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
        let jars = left.iter().map(|jar_left| JarBody {
            substance: jar_left.jar.form.id.clone(),
            amount_g: jar_left.jar.amount_g,
            counted: jar_left.jar.counted.map(|day| day.to_string()),
            taken_g: jar_left.taken_g,
            batches: jar_left.batches,
            left_g: jar_left.left_g,
            price_per_g: jar_left.jar.price_per_g(),
        });
        Self { jars: jars.collect() }
    }
}
