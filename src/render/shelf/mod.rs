//! What is left in the jars.

mod json;
mod words;

pub use json::ShelfBody;
pub(in crate::render) use words::grams;
pub use words::{cost_words, shelf_document};
