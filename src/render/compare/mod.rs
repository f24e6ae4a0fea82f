//! Formulas side by side.

mod words;

pub use words::{CompareBody, comparison_document};
