//! What one would see: by quality, on the card and side by side.

mod json;
mod words;

pub use json::{SeenBody, SeenOne, SeenReason};
pub use words::{compared_reasons, compared_seen, seen_facts, seen_word};
