//! How strong a stock can be.

mod json;
mod words;

pub use json::{ConcentrateBody, ConcentratePart, ReachBody};
pub use words::{answer_words, concentrate_document};
