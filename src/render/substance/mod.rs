//! What is known of a chemical.

mod json;

pub use json::{AcidConstantBody, HazardBody, SubstanceBody, SubstanceName, SubstancesBody};
