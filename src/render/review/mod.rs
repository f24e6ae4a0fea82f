//! What is refused and what is warned of.

mod json;

pub(crate) use json::{CautionJson, ClassifiedJson, RefusalJson, Reviewed};
