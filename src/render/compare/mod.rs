//! Formulas side by side.

mod json;
mod paper;
mod words;

pub(crate) use json::CompareBody;
pub(crate) use paper::{ComparePage, compare_html};
pub(crate) use words::comparison_document;
