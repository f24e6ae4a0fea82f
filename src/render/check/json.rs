//! What `check --json` prints.

use crate::lint::LintReport;
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
    pub(crate) fn new(report: &LintReport) -> Self {
        Self {
            findings: report
                .findings
                .iter()
                .map(|finding| FindingBody {
                    code: finding.code,
                    severity: finding.severity.word(),
                    file: finding.file.clone(),
                    line: finding.line,
                    message: finding.message.clone(),
                    fix: finding.fix.clone(),
                })
                .collect(),
            formulas: report.formulas,
            substances: report.substances,
            published_figures_compared: report.checks,
            published_figures_left_aside: report.unchecked,
        }
    }
}
