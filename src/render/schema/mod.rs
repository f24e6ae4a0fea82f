//! The schemas that there are.

mod json;

pub(crate) use json::{SchemaName, SchemasBody};
