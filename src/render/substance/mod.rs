//! What is known of a chemical.

mod json;
mod words;

pub use json::{AcidConstantBody, HazardBody, SubstanceBody, SubstanceName, SubstancesBody};
pub use words::substance_document;
