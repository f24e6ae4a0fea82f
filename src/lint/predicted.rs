//! What the prediction says of a file: a stated pH that cannot be, components that do not exist.

use super::Source;
use crate::diagnostic::{Finding, FindingSeverity};
use crate::formula::Formula;
use crate::predict::{contradiction, near_component};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::solution::Equilibria;
use crate::substance::Substance;

/// A stated pH that the prediction contradicts.
pub(super) fn stated_ph(formula: &Formula, source: &Source<'_>, equilibria: &Equilibria) -> Option<Finding> {
    let contradicted = contradiction(equilibria, formula)?;
    let (low, high) = contradicted.stated;
    let range = if (high - low).abs() < 1e-9 {
        show_short(low, 2)
    } else {
        format!("{} to {}", show_short(low, 2), show_short(high, 2))
    };
    let of = if contradicted.solution.is_empty() {
        String::new()
    } else {
        format!(" of {}", contradicted.solution)
    };
    let message = format!(
        "the stated pH is {range}; computed{of} at {} °C it is {} ± {}",
        show_short(contradicted.celsius, 1),
        show_decimals(contradicted.predicted, 1),
        show_decimals(contradicted.error.max(0.1), 1)
    );
    let fix = "check the amounts and the hydrates; if the source really says so, explain it in a `note` under [stated]";
    let line = source.first(|line| line.starts_with("[stated]"));
    Some(source.finding(FindingSeverity::Warning, "stated-ph", line, message, fix))
}

/// Components of a `[solution]` table that do not exist.
pub(super) fn components(
    substance: &Substance,
    source: &Source<'_>,
    equilibria: &Equilibria,
) -> Vec<Finding> {
    let Some(own) = &substance.parent.solution else { return Vec::new() };
    own.components
        .iter()
        .filter(|(name, _)| !equilibria.has_component(name))
        .map(|(name, _)| {
            let message = format!("[solution] names the component \"{name}\", which does not exist");
            let fix = match near_component(equilibria, name) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "use a component of tables/equilibria.toml, such as \"Na+\" or \"CO3^2-\"".to_owned(),
            };
            let line = source.quoted(name);
            source.finding(FindingSeverity::Error, "unknown-component", line, message, fix)
        })
        .collect()
}
