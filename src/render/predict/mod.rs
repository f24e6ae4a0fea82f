//! What a solution will do.

mod bottle;
mod json;
mod measured;
mod mixing;
mod values;
mod words;

pub use json::{
    DoubtBody, ExplanationBody, HeatingBody, MeasuredBody, Outcome, PhChangeBody, PredictBody, PredictedBath,
    PredictedPart, SensitivityBody, SolubilityBody, SpeciesBody, UndissolvedBody,
};
pub use mixing::finish_line;
pub use values::{buffering_words, ph_words};
pub(in crate::render) use values::{capacity_words, celsius_words, grams_words, limit_words};
pub use words::{contradiction_words, exchange_lines, predict_document, prediction_facts};
