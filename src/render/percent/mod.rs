//! A percent solution.

mod json;

pub(crate) use json::PercentBody;
