//! What is missing for a plan.

mod json;
mod words;

pub(crate) use json::ShoppingBody;
pub(crate) use words::shopping_document;
