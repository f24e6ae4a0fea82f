//! What is left in the jars.

mod json;
mod words;

pub(crate) use json::ShelfBody;
pub(in crate::render) use words::grams;
pub(crate) use words::{cost_words, shelf_document};
