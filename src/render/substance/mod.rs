//! What is known of a chemical.

mod json;
mod words;

pub(crate) use json::{HazardBody, SubstanceBody, SubstanceName, SubstancesBody};
pub(crate) use words::substance_document;
