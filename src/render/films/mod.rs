//! Films and the stock that they need.

mod json;
mod words;

pub use json::{FilmsBody, StockBody};
pub use words::{need_words, span_words, stock_words, volume_words};
