//! Factorial development for tray workers: total time = factor × time until the image appears.
//!
//! The factor belongs to the agent (and for pyro and amidol to its strength) and holds over moderate changes of temperature and
//! alkali, since these change both times alike. The published factors of one agent differ widely because their authors aim at
//! different contrasts; all are kept and shown. A mixture of agents has the mean of their factors weighted by parts.

use std::collections::BTreeSet;

use super::TimingError;
use super::rows::FactorialRow;
use super::table::TimingTable;

/// The published factors of an agent and their extremes.
#[derive(Debug, Clone, PartialEq)]
pub struct Factorial<'a> {
    /// Agents, by their timing names.
    pub agents: BTreeSet<String>,
    /// All factors, as the table orders them.
    pub rows: Vec<&'a FactorialRow>,
    /// Smallest factor for any contrast.
    pub lowest: f64,
    /// Largest factor for any contrast.
    pub highest: f64,
}

/// The published factors for agents used together.
///
/// # Errors
/// None is known.
pub fn factors<'a>(table: &'a TimingTable, agents: &BTreeSet<String>) -> Result<Factorial<'a>, TimingError> {
    let rows: Vec<&FactorialRow> = table.factorial.iter().filter(|row| row.agents == *agents).collect();
    if rows.is_empty() {
        let mut known: Vec<String> = Vec::new();
        for row in &table.factorial {
            let name = row.agents.iter().cloned().collect::<Vec<_>>().join("+");
            if !known.contains(&name) {
                known.push(name);
            }
        }
        let agents = agents.iter().cloned().collect::<Vec<_>>().join("+");
        return Err(TimingError::NoFactor { agents, known: known.join(", ") });
    }
    let lowest = rows.iter().map(|row| row.figure.low).fold(f64::INFINITY, f64::min);
    let highest = rows.iter().map(|row| row.figure.high).fold(0.0, f64::max);
    Ok(Factorial { agents: agents.clone(), rows, lowest, highest })
}

/// Factor of a mixture: the mean of (factor, parts) weighted by parts; none without parts.
pub fn mixture(members: &[(f64, f64)]) -> Option<f64> {
    let parts: f64 = members.iter().map(|(_, parts)| parts).sum();
    let sum: f64 = members.iter().map(|(factor, parts)| factor * parts).sum();
    (parts.is_finite() && parts > 0.0).then_some(sum / parts)
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;
    use crate::timing::table::tests::shipped;

    fn set(names: &[&str]) -> BTreeSet<String> {
        names.iter().map(|name| (*name).to_owned()).collect()
    }

    #[test]
    fn the_disagreement_of_the_sources_is_kept() {
        let table = shipped();
        let pyro = factors(&table, &set(&["pyro"])).unwrap();
        assert!(pyro.rows.len() >= 9);
        assert_abs_diff_eq!(pyro.lowest, 4.0);
        assert_abs_diff_eq!(pyro.highest, 40.0);
        assert!(matches!(factors(&table, &set(&["coffee"])), Err(TimingError::NoFactor { .. })));
    }

    // Source: Cyclopaedia of Photography, article on pyro factors: pyro 6 and metol 30. Tolerance: exact arithmetic.
    #[test]
    fn mixtures_are_weighted_by_parts_as_in_the_source() {
        assert_abs_diff_eq!(mixture(&[(6.0, 1.0), (30.0, 1.0)]).unwrap(), 18.0);
        assert_abs_diff_eq!(mixture(&[(6.0, 4.0), (30.0, 2.0)]).unwrap(), 14.0);
        assert_eq!(mixture(&[]), None);
    }
}
