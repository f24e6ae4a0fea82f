//! A stock diluted.

mod json;

pub use json::{DiluteBody, DilutePart};
