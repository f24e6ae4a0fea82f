//! Formulas side by side.

mod json;
mod paper;
mod words;

pub use json::CompareBody;
pub use paper::{ComparePage, compare_html};
pub use words::comparison_document;
