//! What `schema --json` prints.

/// `schema --json`.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SchemasBody {
    /// The schemas.
    pub(crate) schemas: Vec<SchemaName>,
}

/// One schema.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SchemaName {
    /// What to ask for.
    pub(crate) name: &'static str,
    /// What it describes.
    pub(crate) title: String,
}
