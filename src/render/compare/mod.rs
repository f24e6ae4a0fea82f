//! Formulas side by side.

mod paper;
mod words;

pub use paper::{ComparePage, compare_html};
pub use words::{CompareBody, comparison_document};
