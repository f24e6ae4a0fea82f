//! The schemas that there are.

mod json;

pub use json::{SchemaName, SchemasBody};
