//! What can hurt, as pieces of a document and as the answer of `safety`.

mod json;
mod sequence;
mod words;

pub(crate) use json::SafetyBody;
pub(crate) use sequence::{sequence_document, sequence_in_short};
pub(in crate::render) use words::wear_words;
pub(crate) use words::{
    caution_block, caution_words, objection_block, powder_line, severity_word, special_block,
};
