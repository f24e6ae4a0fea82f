//! What can hurt, as pieces of a document and as the answer of `safety`.

mod json;
mod sequence;
mod words;

pub use json::SafetyBody;
pub use sequence::{sequence_document, sequence_in_short};
pub(in crate::render) use words::wear_words;
pub use words::{
    bath_words, caution_block, caution_words, general, objection_block, powder_facts, powder_line,
    refusal_block, severity_word, special_block,
};
