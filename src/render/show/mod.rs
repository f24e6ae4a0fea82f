//! A formula as a card.

mod figures;
mod json;
mod words;

pub(crate) use figures::{
    amount_words, capacity_words, days_words, keeping_figures, keeping_words, named_use, use_in_short,
    use_words,
};
pub(in crate::render) use figures::{moles_words, range_words};
pub(crate) use json::ShowBody;
pub(crate) use words::{CardExtras, card_document};
pub(in crate::render) use words::{evidence_facts, moles_line};
