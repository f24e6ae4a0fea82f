//! The wall chart.

mod json;
mod table;
mod words;

pub(crate) use json::ChartBody;
pub(in crate::render) use table::FAR;
pub(crate) use table::{Chart, ChartCell, ChartRow};
pub(crate) use words::chart_document;
