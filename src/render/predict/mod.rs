//! What a solution will do.

mod bottle;
mod json;
mod measured;
mod mixing;
mod values;
mod words;

pub(crate) use json::{PhChangeBody, PredictBody};
pub(crate) use mixing::finish_line;
pub(crate) use values::ph_words;
pub(in crate::render) use values::{capacity_words, celsius_words, grams_words, limit_words};
pub(crate) use words::{contradiction_words, exchange_lines, predict_document, prediction_facts};
