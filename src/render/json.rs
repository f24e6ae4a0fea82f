//! What `--json` prints: one document a command, unrounded numbers, units in the names, `schema_version` first.
//!
//! These structs are a promise to programs that read them: fields are added, never renamed; a breaking change raises
//! [`SCHEMA_VERSION`].

use serde::Serialize;

use super::review::RefusalJson;

/// Version of all JSON documents.
pub(crate) const SCHEMA_VERSION: u32 = 1;

/// Writes a value as one document with a line end.
pub(crate) fn to_json<T: Serialize>(value: &T) -> String {
    // The structs here hold no maps with odd keys and no non-finite numbers, so this cannot fail; an empty object says so if it did.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_else(|_| "{}".to_owned());
    // C1 controls and direction marks are legal in JSON but not on a terminal.
    if text.chars().any(|character| character != '\n' && crate::diagnostic::is_hostile(character)) {
        text = text
            .chars()
            .map(|character| {
                if character != '\n' && crate::diagnostic::is_hostile(character) {
                    format!("\\u{:04x}", u32::from(character))
                } else {
                    character.to_string()
                }
            })
            .collect();
    }
    text.push('\n');
    text
}

/// A document: version first, then the command's own fields.
#[derive(Debug, Serialize)]
pub(crate) struct Versioned<T: Serialize> {
    pub schema_version: u32,
    /// The command's fields.
    #[serde(flatten)]
    pub body: T,
}

/// Puts the version before a command's fields and writes the document.
pub(crate) fn document<T: Serialize>(body: T) -> String {
    to_json(&Versioned { schema_version: SCHEMA_VERSION, body })
}

/// An error on standard error.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ErrorDocument {
    pub error: ErrorBody,
}

/// The answer of any command where it is no, and the command has no document of its own for it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct RefusedBody {
    /// Nothing: no amounts and no steps.
    pub parts: [(); 0],
    /// Why.
    pub refusals: [RefusalJson; 1],
}

/// What is wrong and what to do.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ErrorBody {
    /// Stable short name.
    pub code: String,
    /// What is wrong and where.
    pub message: String,
    /// What to do.
    pub fix: String,
}
