//! A batch: what to weigh, in no order.

mod json;
mod words;

pub(crate) use json::{ItemBody, ScaleBody};
pub(crate) use words::{batch_document, remarks};
