//! How strong a stock can be.

mod json;

pub use json::{ConcentrateBody, ConcentratePart, ReachBody};
