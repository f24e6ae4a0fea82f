//! A batch: what to weigh, in no order.

mod json;
mod words;

pub use json::{DoseBody, ItemBody, ScaleBody, ScalePart};
pub use words::{batch_document, name_words, remarks, take_words};
