//! The bench page in each format: three views of one value ([`crate::bench::BenchSheet`]), and the other side with the reasons.

mod html;
mod json;
mod markdown;
mod paper;
mod reasons;
pub mod words;

pub use html::{part_pages, sheet_html};
pub use json::{BenchCount, BenchFacts, MissingBody};
pub use markdown::bench_document;
pub(in crate::render) use paper::lines;
pub use reasons::reasons_document;
pub use words::{BenchText, bench_text};
