//! Percent solutions to make before anything else.

mod json;
mod words;

pub(super) use json::MadeFirstBody;
pub(in crate::render) use words::{MakeWords, made_first};
