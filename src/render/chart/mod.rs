//! The wall chart.

mod json;
mod table;
mod words;

pub use json::{ChartBody, ChartCellBody, ChartRowBody};
pub(in crate::render) use table::FAR;
pub use table::{CONVENTION, CONVENTION_IN_A_TRAY, Chart, ChartCell, ChartRow};
pub use words::chart_document;
