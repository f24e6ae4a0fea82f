//! Times: the answer with its derivation, the wall chart, factorial development.

mod words;

pub use words::{
    AlternativeBody, BookBody, CONVENTION, CONVENTION_IN_A_TRAY, Chart, ChartBody, ChartCell, ChartCellBody,
    ChartRow, ChartRowBody, FactorBody, FactorialBody, FactorialRowBody, MixtureBody, RecordBody, SetupBody,
    TimeBody, TimeForm, chart_document, factorial_document, setup_words, time_document,
};
pub(in crate::render) use words::{FAR, clock};
