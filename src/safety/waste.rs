//! What to do with what is left, one line for each metal or chemical that matters.

use serde::Deserialize;

use super::amounts::is_named;
use super::combinations::names_of;
use super::rows::{Named, Rows};
use crate::formula::Kind;
use crate::vessel::Content;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WasteRow {
    pub(super) id: String,
    any: Vec<String>,
    #[serde(default)]
    kinds: Vec<Kind>,
    pub(super) text: String,
    pub(super) source: String,
}

impl Named for WasteRow {
    const KEY: &'static str = "id";

    fn row_name(&self) -> &str {
        &self.id
    }
}

/// A line about waste.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WasteLine {
    /// Stable name.
    pub id: String,
    /// What to do.
    pub text: String,
    /// Ids of the forms it is about.
    pub about: Vec<String>,
    /// Key of the source.
    pub source: String,
}

/// The waste lines of a bath; without a kind, lines that hang on one are left out.
pub(super) fn lines_of(contents: &[Content], kind: Option<Kind>, rows: &Rows<WasteRow>) -> Vec<WasteLine> {
    rows.among(&names_of(contents), false, &[])
        .into_iter()
        .filter(|row| row.kinds.is_empty() || kind.is_some_and(|kind| row.kinds.contains(&kind)))
        .filter_map(|row| {
            let is_meant = |content: &&Content| row.any.iter().any(|name| is_named(&content.form, name));
            let about: Vec<String> =
                contents.iter().filter(is_meant).map(|content| content.form.id.clone()).collect();
            let line =
                WasteLine { id: row.id.clone(), text: row.text.clone(), about, source: row.source.clone() };
            (!line.about.is_empty()).then_some(line)
        })
        .collect()
}

/// All names that the rows use, for tests.
pub(super) fn names(rows: &Rows<WasteRow>) -> impl Iterator<Item = &str> {
    rows.all().flat_map(|row| row.any.iter().map(String::as_str))
}
