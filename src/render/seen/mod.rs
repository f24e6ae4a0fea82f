//! What one would see: by quality, on the card and side by side.

mod json;
mod words;

pub(crate) use json::{SeenBody, SeenOne};
pub(crate) use words::{compared_reasons, compared_seen, seen_facts, seen_word};
