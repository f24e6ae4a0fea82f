//! The mixing sheet as JSON; its pages are in [`crate::render::bench`].

mod json;

pub use json::{EndingBody, SheetBody, SheetLabelBody, SheetPartBody, StepBody, WorkingBathBody};
