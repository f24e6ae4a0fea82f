//! Entries of the journal.

mod json;
mod words;

pub use json::{AddedBody, EntryBody, ListBody};
pub use words::{bottles, entry_words, list_document};
