//! What a check found.

mod json;
mod words;

pub use json::CheckBody;
pub use words::findings_document;
