//! What `chart --json` prints.

use super::table::{Chart, ChartCell};
use crate::render::time::SetupBody;
use crate::timing::TimingWarning;
use serde::Serialize;

/// `chart --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ChartBody {
    /// Conditions of the known times.
    pub from: SetupBody,
    /// The film in the user's words; null where none was named.
    pub film: Option<String>,
    /// From when to when the times count.
    pub convention: &'static str,
    /// A row for each temperature.
    pub rows: Vec<ChartRowBody>,
    /// What to mind, with the temperatures where it applies.
    pub warnings: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ChartRowBody {
    pub temperature_c: f64,
    /// A cell for each column.
    pub cells: Vec<ChartCellBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ChartCellBody {
    /// The known time.
    pub known_seconds: f64,
    pub dilution: String,
    /// Time to start from, unrounded.
    pub seconds: f64,
    /// Low end of the range.
    pub low_seconds: f64,
    /// High end of the range.
    pub high_seconds: f64,
    /// Whether it is the known time itself.
    pub known: bool,
    /// Whether the data do not reach so far.
    pub doubtful: bool,
    /// Stable short names of what to mind.
    pub warning_codes: Vec<&'static str>,
}

impl ChartBody {
    /// The document of a chart.
    pub(crate) fn new(chart: &Chart) -> Self {
        let cell = |cell: &ChartCell| ChartCellBody {
            known_seconds: cell.answer.known.as_s(),
            dilution: cell.to.working.to_string(),
            seconds: cell.answer.time.as_s(),
            low_seconds: cell.answer.low.as_s(),
            high_seconds: cell.answer.high.as_s(),
            known: cell.is_known,
            doubtful: cell.is_doubtful(),
            warning_codes: cell.answer.warnings.iter().map(TimingWarning::code).collect(),
        };
        Self {
            from: SetupBody::new(&chart.from),
            film: chart.film.clone(),
            convention: chart.convention(),
            rows: chart
                .rows
                .iter()
                .map(|row| ChartRowBody {
                    temperature_c: row.temperature.as_c(),
                    cells: row.cells.iter().map(cell).collect(),
                })
                .collect(),
            warnings: chart.notes(),
        }
    }
}
