//! Whether a formula can be mixed at all: what the mixing sheet refuses is told before anybody weighs.

use super::{Judge, Tables};
use crate::diagnostic::Severity;
use crate::quantity::Volume;
use crate::scale::{Request, scale};
use crate::sheet::{SheetError, sheet};

/// The volume for which it is tried, mL; the refusals do not depend on it.
const TRIED_ML: f64 = 1000.0;

/// What the sheet of a litre refuses. Heat alone is a warning, and nothing is said of it where the formula's own cautions show that
/// somebody knew: more water or a slower hand may do.
pub(super) fn judge(judge: &mut Judge<'_>, tables: &Tables<'_>) {
    let request = Request::volume(Volume::from_ml(TRIED_ML));
    // What cannot be scaled has its own finding.
    let Ok(batch) = scale(judge.formula, &request, tables.relations) else { return };
    let Err(error) = sheet(judge.formula, &batch, tables.safety, tables.equilibria) else { return };
    let severity = match error {
        SheetError::TooHot { .. } if !judge.formula.cautions.is_empty() => return,
        SheetError::TooHot { .. } => Severity::Warning,
        SheetError::NeverTogether { .. } | SheetError::Sequence { .. } => Severity::Error,
    };
    let message = format!("there is no sheet for it: {error}");
    judge.findings.push(judge.source.finding(severity, error.code(), None, message, error.fix()));
}
