//! The bench page of a batch: one sheet of paper for one part, as a value.

pub mod words;
