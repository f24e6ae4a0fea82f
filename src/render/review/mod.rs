//! What is refused and what is warned of.

mod json;

pub use json::{CautionJson, ClassifiedJson, RefusalJson, Reviewed};
