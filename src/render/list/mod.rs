//! Formulas found: all, by nearness, by what the shelf allows, by wish.

mod all;
mod json;
mod wished;
mod words;

pub use all::list_document;
pub use json::{ListBody, ListedFormula, MakeBody, NearBody, WishBody};
pub use wished::{LeftOut, Wished, wished_document};
pub use words::{make_document, near_document};
