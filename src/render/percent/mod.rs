//! A percent solution.

mod json;

pub use json::PercentBody;
