//! Where a formula and its chemicals come from: nobody takes a page for the shipped formula when it is the user's own.

mod json;
mod words;

pub(in crate::render) use json::own_substances;
pub(crate) use json::{OwnSubstance, own_substances_of};
pub(in crate::render) use words::{facts, facts_of_batch, with_solvents};
