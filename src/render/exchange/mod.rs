//! One form in place of another.

mod json;

pub use json::ExchangeBody;
