//! Factorial development: total time from the time of appearance.

mod json;
mod words;

pub(crate) use json::FactorialBody;
pub(crate) use words::factorial_document;
