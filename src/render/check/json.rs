//! What `check --json` prints.

use crate::lint::Report;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct CheckBody {
    findings: Vec<FindingBody>,
    formulas: usize,
    substances: usize,
    published_figures_compared: usize,
    published_figures_left_aside: usize,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct FindingBody {
    code: &'static str,
    severity: &'static str,
    file: String,
    line: Option<usize>,
    message: String,
    fix: String,
}

impl CheckBody {
    pub(crate) fn new(report: &Report) -> Self {
        Self {
            findings: report
                .findings
                .iter()
                .map(|own| FindingBody {
                    code: own.code,
                    severity: own.severity.word(),
                    file: own.file.clone(),
                    line: own.line,
                    message: own.message.clone(),
                    fix: own.fix.clone(),
                })
                .collect(),
            formulas: report.formulas,
            substances: report.substances,
            published_figures_compared: report.checks,
            published_figures_left_aside: report.unchecked,
        }
    }
}
