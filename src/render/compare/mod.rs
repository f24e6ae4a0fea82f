//! Formulas side by side.

mod json;
mod words;

pub use json::CompareBody;
pub use words::comparison_document;
