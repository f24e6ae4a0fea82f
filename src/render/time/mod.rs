//! A time to start from, with its derivation.

mod json;
mod words;

pub use json::{AlternativeBody, BookBody, FactorBody, RecordBody, SetupBody, TimeBody};
pub(in crate::render) use words::clock;
pub use words::{TimeForm, setup_words, time_document};
