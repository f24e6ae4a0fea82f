//! The sums under the enlarger as words, as JSON and as papers to hang up.

pub mod json;
pub mod paper;
pub mod words;
