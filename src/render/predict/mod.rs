//! What a solution will do.

mod json;
mod words;

pub use json::{
    DoubtBody, ExplanationBody, HeatingBody, MeasuredBody, Outcome, PhChangeBody, PredictBody, PredictedBath,
    PredictedPart, SensitivityBody, SolubilityBody, SpeciesBody, UndissolvedBody,
};
pub use words::{
    adjust_document, answer_words, buffering_words, concentrate_document, contradiction_words,
    exchange_lines, finish_line, ph_words, predict_document, prediction_facts,
};
