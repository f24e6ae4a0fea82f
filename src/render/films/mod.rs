//! Films and the stock that they need.

mod json;
mod words;

pub(crate) use json::{FilmsBody, StockBody};
pub(crate) use words::{need_words, span_words, stock_words, volume_words};
