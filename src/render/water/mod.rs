//! Hot and cold water blended.

mod json;

pub(crate) use json::WaterBody;
