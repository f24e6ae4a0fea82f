//! The sums under the enlarger as words, as JSON and as papers to hang up.

pub(crate) mod json;
pub(crate) mod paper;
pub(crate) mod words;
