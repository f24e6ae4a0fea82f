//! Entries of the journal.

mod json;
mod words;

pub(crate) use json::{AddedBody, EntryBody, ListBody};
pub(crate) use words::{bottles, entry_words, list_document};
