//! How a solution is brought to a pH.

mod json;
mod words;

pub use json::{AddedBody, AdjustBody, PhBody, RemovedBody};
pub use words::adjust_document;
