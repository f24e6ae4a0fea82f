//! How a solution is brought to a pH.

mod json;

pub use json::{AddedBody, AdjustBody, PhBody, RemovedBody};
