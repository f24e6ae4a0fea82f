//! A stock diluted.

mod json;

pub(crate) use json::{DiluteBody, DilutePart};
