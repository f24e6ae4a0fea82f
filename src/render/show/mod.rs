//! A formula as a card.

mod figures;
mod json;
mod words;

pub use figures::{
    amount_words, capacity_words, days_span_words, days_words, keeping_figures, keeping_words, named_use,
    use_in_short, use_words,
};
pub(in crate::render) use figures::{moles_words, range_words};
pub use json::ShowBody;
pub use words::{CardExtras, card_document};
pub(in crate::render) use words::{evidence_facts, moles_line};
