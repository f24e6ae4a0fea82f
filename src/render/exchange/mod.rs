//! One form in place of another.

mod json;

pub(crate) use json::ExchangeBody;
