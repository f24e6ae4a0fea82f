//! How a solution is brought to a pH.

mod json;
mod words;

pub(crate) use json::AdjustBody;
pub(crate) use words::adjust_document;
