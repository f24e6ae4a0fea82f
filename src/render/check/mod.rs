//! What a check found.

mod json;
mod words;

pub(crate) use json::CheckBody;
pub(crate) use words::findings_document;
