//! Every setting, and where it comes from.

mod json;
mod words;

pub(crate) use json::{ConfigBody, SettingBody};
pub(crate) use words::config_document;
