//! Every setting, and where it comes from.

mod json;
mod words;

pub use json::{ConfigBody, SettingBody};
pub use words::config_document;
