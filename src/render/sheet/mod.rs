//! The mixing sheet as JSON; its pages are in [`crate::render::bench`].

mod json;

pub(crate) use json::SheetBody;
