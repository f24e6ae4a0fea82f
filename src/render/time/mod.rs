//! A time to start from, with its derivation.

mod json;
mod words;

pub(crate) use json::{SetupBody, TimeBody};
pub(in crate::render) use words::clock;
pub(crate) use words::{TimeForm, setup_words, time_document};
