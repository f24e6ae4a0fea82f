//! What the bench page adds to the JSON of a sheet.

use serde::Serialize;

use super::html::part_pages;
use super::words::bench_text;
use crate::bench::BenchSheet;
use crate::lettering::Paper;
use crate::render::text::TextStyle;
use crate::sheet::MixingSheet;
use crate::substance::Form;

/// How much room a bench side takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct BenchCount {
    /// Lines of text at 80 columns; first aid, uses and foot count with the last part.
    pub lines: usize,
    /// Pages of the paper that is set.
    pub pages: usize,
}

/// A chemical that is not on the shelf.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct MissingBody {
    /// Id of the form.
    pub substance: String,
    /// Grams that the batch needs; null where they are not known.
    pub needed_g: Option<f64>,
}

/// All that the bench page adds.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchFacts {
    /// Of all parts together.
    pub whole: BenchCount,
    /// One each, in the order of the batch.
    pub parts: Vec<BenchCount>,
    /// What is not on the shelf.
    pub missing: Vec<MissingBody>,
    /// What must be read before a jar is opened.
    pub before_opening: Vec<String>,
}

impl BenchFacts {
    /// Of a sheet on a paper; `missing` is what the shelf does not hold.
    pub fn new(sheet: &MixingSheet, bench: &BenchSheet, paper: Paper, missing: &[&Form]) -> Self {
        let lines = bench_text(bench, TextStyle::default(), false).part_lines;
        let pages = part_pages(bench, paper);
        let parts: Vec<BenchCount> = lines
            .iter()
            .zip(&pages)
            .map(|(lines, pages)| BenchCount { lines: *lines, pages: *pages })
            .collect();
        let needed = |form: &Form| {
            let items = sheet.parts.iter().flat_map(|part| &part.batch.items);
            let own: Vec<Option<f64>> =
                items.filter(|item| item.form.parent.id == form.parent.id).map(|item| item.grams).collect();
            own.into_iter()
                .collect::<Option<Vec<f64>>>()
                .filter(|own| !own.is_empty())
                .map(|own| own.iter().sum())
        };
        Self {
            whole: BenchCount { lines: lines.iter().sum(), pages: pages.iter().sum() },
            parts,
            before_opening: bench.opening.clone(),
            missing: missing
                .iter()
                .map(|form| MissingBody { substance: form.id.clone(), needed_g: needed(form) })
                .collect(),
        }
    }
}
