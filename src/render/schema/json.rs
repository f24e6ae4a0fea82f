//! What `schema --json` prints.

/// `schema --json`.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SchemasBody {
    pub(crate) schemas: Vec<SchemaName>,
}

#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SchemaName {
    /// What to ask for.
    pub(crate) name: &'static str,
    /// What it describes.
    pub(crate) title: String,
}
