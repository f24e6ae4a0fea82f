//! What is missing for a plan.

mod json;
mod words;

pub use json::ShoppingBody;
pub use words::shopping_document;
