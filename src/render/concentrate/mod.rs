//! How strong a stock can be.

mod json;
mod words;

pub(crate) use json::ConcentrateBody;
pub(crate) use words::{answer_words, concentrate_document};
