//! Formulas found: all, by nearness, by what the shelf allows, by wish.

mod all;
mod json;
mod wished;
mod words;

pub(crate) use all::list_document;
pub(crate) use json::{ListBody, ListedFormula, MakeBody, NearBody, WishBody};
pub(crate) use wished::{LeftOut, Wished, wished_document};
pub(crate) use words::{make_document, near_document};
