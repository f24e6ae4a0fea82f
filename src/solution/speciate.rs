//! From a list of additions to a prediction.
//!
//! Amounts are mol per litre of solution; the model works in mol per kg of water. A litre holds
//! `ρ(T) (1 − Σ nᵢ Vᵢ / 1000)` kg of water, with apparent volumes `Vᵢ = V⁰ᵢ + 0.93 z² √I / (1 + 0.5 √I)` cm³/mol. Many V⁰ are not
//! known and count as 0, which moves a pH by a few thousandths. Crystal water needs no bookkeeping here: it is part of the litre.

use super::doubt::Doubts;
use super::equilibria::Equilibria;
use super::prediction::{
    Addition, Buffering, Iterations, Prediction, SolutionError, SpeciesAmount, TEMPERATURE_RANGE_C,
};
use super::system::System;
use super::water;

/// Least share of a litre that must be water for the model to be tried at all.
const LEAST_WATER_SHARE: f64 = 0.25;
/// Amounts of a species below this, mol/L, are not listed.
const LEAST_LISTED: f64 = 1e-9;

/// Predicts pH, buffering and species of a solution.
///
/// # Errors
/// A temperature outside 0 to 60 °C, an amount that is negative or not a number, a component that does not exist, or a solution so
/// strong that the model has no answer. There is no input for which it runs on or returns a number that is not finite.
///
/// # Examples
/// ```
/// use soupcon::solution::{Equilibria, predict};
///
/// let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));
/// let table = Equilibria::parse(text)?;
/// // Usual: 0.01 mol/kg borax, a primary standard of pH 9.18 at 25 °C.
/// let borax = table.substance("borax").map(|row| row.addition(0.00996, 10.0));
/// let solution: Vec<_> = borax.into_iter().collect();
/// let prediction = predict(&table, &solution, 25.0)?;
/// assert!((prediction.ph - 9.18).abs() < 0.03);
/// // Edge: nothing dissolved is pure water.
/// assert!((predict(&table, &[], 25.0)?.ph - 6.998).abs() < 0.002);
/// // Failure: outside the range of the constants.
/// assert!(predict(&table, &solution, 95.0).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn predict(
    equilibria: &Equilibria,
    additions: &[Addition],
    temperature_c: f64,
) -> Result<Prediction, SolutionError> {
    let Solved { mut system, totals, water_kg } = solved(equilibria, additions, temperature_c)?;
    let not_converged = SolutionError::NotConverged { loops: system.activity_loops };
    let capacity_molal = system.capacity().ok_or_else(|| not_converged.clone())?;
    let buffer_capacity = capacity_molal * water_kg;
    if !(buffer_capacity.is_finite() && buffer_capacity > 0.0) {
        return Err(SolutionError::OutsidePhScale);
    }
    let mut doubts = Doubts { equilibria, totals: &totals, system: &mut system, water_kg, capacity_molal };
    let limits = doubts.limits(additions);
    let ph_error = doubts.ph_error(&limits).ok_or(not_converged)?;
    Ok(Prediction {
        ph: system.ph,
        ph_error,
        ionic_strength: system.ionic_strength,
        buffer_capacity,
        buffering: Buffering::of(buffer_capacity),
        water_kg_per_litre: water_kg,
        species: listed(equilibria, &system, water_kg),
        limits,
        iterations: Iterations { activity: system.activity_loops, charge: system.charge_evaluations },
    })
}

/// Species by falling amount.
fn listed(equilibria: &Equilibria, system: &System<'_>, water_kg: f64) -> Vec<SpeciesAmount> {
    let mut species: Vec<SpeciesAmount> = system
        .each()
        .filter_map(|(at, _, molality)| {
            let moles_per_litre = molality * water_kg;
            let name = &equilibria.species.get(at)?.name;
            (moles_per_litre > LEAST_LISTED).then(|| SpeciesAmount { name: name.clone(), moles_per_litre })
        })
        .collect();
    species.sort_by(|a, b| b.moles_per_litre.total_cmp(&a.moles_per_litre).then_with(|| a.name.cmp(&b.name)));
    species
}

/// The pH alone.
pub(super) fn ph_of(
    equilibria: &Equilibria,
    additions: &[Addition],
    temperature_c: f64,
) -> Result<f64, SolutionError> {
    solved(equilibria, additions, temperature_c).map(|solved| solved.system.ph)
}

/// kg of water in a litre of a solution, by the volumes of its components; those whose volume is not known take up none.
///
/// # Errors
/// An amount that is negative or not a number, a component that does not exist, or a litre with next to no water in it.
///
/// # Examples
/// ```
/// use soupcon::solution::{Equilibria, water_in_a_litre};
///
/// let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));
/// let table = Equilibria::parse(text)?;
/// let salt: Vec<_> = table.substance("sodium-chloride").map(|row| row.addition(1.0, 0.0)).into_iter().collect();
/// // 58.4 g/L of common salt: a solution of 1.038 g/mL holds 0.980 kg of water.
/// assert!((water_in_a_litre(&table, &salt, 20.0)? - 0.980).abs() < 0.003);
/// assert!((water_in_a_litre(&table, &[], 20.0)? - 0.9982).abs() < 0.0001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn water_in_a_litre(
    equilibria: &Equilibria,
    additions: &[Addition],
    temperature_c: f64,
) -> Result<f64, SolutionError> {
    let (low, high) = TEMPERATURE_RANGE_C;
    if !(low..=high).contains(&temperature_c) {
        return Err(SolutionError::TemperatureOutOfRange { temperature_c });
    }
    water_kg_per_litre(equilibria, &totals(equilibria, additions)?, temperature_c)
}

/// A solution with its pH found.
struct Solved<'a> {
    system: System<'a>,
    /// mol per litre of each component, by position.
    totals: Vec<f64>,
    /// kg of water per litre.
    water_kg: f64,
}

fn solved<'a>(
    equilibria: &'a Equilibria,
    additions: &[Addition],
    temperature_c: f64,
) -> Result<Solved<'a>, SolutionError> {
    let (low, high) = TEMPERATURE_RANGE_C;
    if !(low..=high).contains(&temperature_c) {
        return Err(SolutionError::TemperatureOutOfRange { temperature_c });
    }
    let totals = totals(equilibria, additions)?;
    let water_kg = water_kg_per_litre(equilibria, &totals, temperature_c)?;
    let molal: Vec<f64> = totals.iter().map(|total| total / water_kg).collect();
    let mut system = System::new(equilibria, &molal, temperature_c);
    system.solve()?;
    Ok(Solved { system, totals, water_kg })
}

/// mol per litre of each component, by position.
fn totals(equilibria: &Equilibria, additions: &[Addition]) -> Result<Vec<f64>, SolutionError> {
    let mut totals = vec![0.0; equilibria.components.len()];
    for addition in additions {
        let usable = |moles: f64| {
            if moles.is_finite() && moles >= 0.0 {
                Ok(moles)
            } else {
                Err(SolutionError::AmountNotUsable { substance: addition.substance.clone(), moles })
            }
        };
        let moles = usable(addition.moles)?;
        usable(addition.protons)?;
        for (name, per_mole) in &addition.components {
            let total = equilibria.component_index(name).and_then(|index| totals.get_mut(index)).ok_or_else(
                || SolutionError::UnknownComponent {
                    substance: addition.substance.clone(),
                    component: name.clone(),
                },
            )?;
            *total += moles * usable(*per_mole)?;
        }
    }
    // Less than a molecule in a million litres is nothing, and keeps logarithms in range.
    for total in totals.iter_mut().filter(|total| **total < 1e-30) {
        *total = 0.0;
    }
    Ok(totals)
}

fn water_kg_per_litre(
    equilibria: &Equilibria,
    totals: &[f64],
    temperature_c: f64,
) -> Result<f64, SolutionError> {
    let pairs = || equilibria.components.iter().zip(totals);
    let strength = 0.5 * pairs().map(|(part, moles)| part.charge * part.charge * moles).sum::<f64>();
    let root = strength.sqrt();
    let growth = equilibria.volume_slope_cm3 * root / (1.0 + 0.5 * root);
    let displaced: f64 =
        pairs().map(|(part, moles)| moles * (part.volume_cm3 + growth * part.charge * part.charge)).sum();
    let share = 1.0 - displaced / 1000.0;
    let solutes: f64 = totals.iter().sum();
    if !(share.is_finite() && share > LEAST_WATER_SHARE) {
        let molality = if share > 0.0 { solutes / share } else { f64::INFINITY };
        return Err(SolutionError::TooConcentrated { molality });
    }
    Ok(share * water::density_kg_per_litre(temperature_c))
}
