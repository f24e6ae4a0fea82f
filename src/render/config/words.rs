//! Every setting in words: what it is, its value, where it comes from.

use super::json::{ConfigBody, SettingBody};
use crate::render::{Column, Document};

/// The settings, after the place of the configuration file.
pub(crate) fn config_document(config: &ConfigBody) -> Document {
    let mut answer = Document::new();
    let words = match (&config.file, config.file_is_there) {
        (Some(file), true) => file.clone(),
        (Some(file), false) => format!("{file} (not there)"),
        (None, _) => "none: neither HOME nor SOUPCON_CONFIG is set".to_owned(),
    };
    answer.facts(vec![("configuration file".to_owned(), words)]);
    let rows = config.settings.iter().map(setting_row).collect();
    answer.table(vec![Column::left("setting"), Column::left("value"), Column::left("from")], rows);
    answer
}

/// Name, value and origin of a setting.
fn setting_row(setting: &SettingBody) -> Vec<String> {
    let value = setting.value.clone().unwrap_or_else(|| "not set".to_owned());
    let value = setting.form.iter().cloned().chain([value]).collect::<Vec<_>>().join(" ");
    vec![setting.name.to_owned(), value, place_words(setting)]
}

/// Where a setting comes from: the option or variable, or the line of the file.
fn place_words(setting: &SettingBody) -> String {
    match (setting.given_by, &setting.file, setting.line) {
        (Some(name), _, _) => name.to_owned(),
        (_, _, Some(line)) => format!("line {line} of the file"),
        _ => "default".to_owned(),
    }
}
