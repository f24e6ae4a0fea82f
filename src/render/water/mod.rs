//! Hot and cold water blended.

mod json;

pub use json::WaterBody;
