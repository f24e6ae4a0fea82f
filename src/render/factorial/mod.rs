//! Factorial development: total time from the time of appearance.

mod json;
mod words;

pub use json::{FactorialBody, FactorialRowBody, MixtureBody};
pub use words::factorial_document;
