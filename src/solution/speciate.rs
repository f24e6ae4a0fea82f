//! From a list of additions to a prediction.
//!
//! Amounts are mol per litre of solution; the model works in mol per kg of water. A litre holds
//! `ρ(T) (1 − Σ nᵢ Vᵢ / 1000)` kg of water, with apparent volumes `Vᵢ = V⁰ᵢ + 0.93 z² √I / (1 + 0.5 √I)` cm³/mol. Many V⁰ are not
//! known and count as 0, which moves a pH by a few thousandths. Crystal water needs no bookkeeping here: it is part of the litre.

use thiserror::Error;

use super::buffer::Buffering;
use super::doubt::Doubts;
use super::equilibria::{Equilibria, Standing};
use super::system::System;
use super::water;

/// Lowest and highest temperature of a prediction, °C.
pub const TEMPERATURE_RANGE_C: (f64, f64) = (0.0, 60.0);

/// Least share of a litre that must be water for the model to be tried at all.
const LEAST_WATER_SHARE: f64 = 0.25;
/// Amounts of a species below this, mol/L, are not listed.
const LEAST_LISTED: f64 = 1e-9;

/// One chemical in a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Addition {
    /// What it is called; used in messages and limits only.
    pub substance: String,
    /// mol per litre of solution.
    pub moles: f64,
    /// Components by name, mol per mol of the substance.
    pub components: Vec<(String, f64)>,
    /// Crystal water, mol per mol; part of the litre, so that a pH does not depend on it.
    pub water_moles: f64,
    /// How much is known of it.
    pub standing: Standing,
    /// For [`Standing::Unknown`]: the most protons a mole of the unknown part may take up or give off. 0 where not even that is known.
    pub protons: f64,
}

/// Why there is no prediction.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SolutionError {
    /// Temperature outside the range of the constants, or not a number.
    #[error("a pH is predicted from {low} to {high} °C, not at {temperature_c} °C",
        low = TEMPERATURE_RANGE_C.0, high = TEMPERATURE_RANGE_C.1)]
    TemperatureOutOfRange {
        /// What was asked for, °C.
        temperature_c: f64,
    },
    /// An amount is negative or not a number.
    #[error("{substance}: {moles} mol/L is not an amount")]
    AmountNotUsable {
        /// The addition.
        substance: String,
        /// Its amount, mol/L, or mol per mol of one of its components.
        moles: f64,
    },
    /// An addition names a component the table does not hold.
    #[error("{substance}: there is no component \"{component}\"")]
    UnknownComponent {
        /// The addition.
        substance: String,
        /// The name that was not found.
        component: String,
    },
    /// More is dissolved than the model can be asked about.
    #[error("{molality:.0} mol in a kg of water is more than the model can be asked about")]
    TooConcentrated {
        /// mol of solutes per kg of water; infinite where hardly any water is left.
        molality: f64,
    },
    /// Charges balance nowhere between pH −2 and 16.5.
    #[error("the charges of this solution balance nowhere between pH -2 and 16.5")]
    OutsidePhScale,
    /// The activity coefficients did not settle.
    #[error("the activity coefficients did not settle within {loops} rounds")]
    NotConverged {
        /// Rounds done.
        loops: u32,
    },
    /// The reagent cannot bring the solution to the pH asked for.
    #[error(
        "pH {target_ph:.2} is out of reach: this reagent takes the solution from {lowest_ph:.2} to {highest_ph:.2}"
    )]
    Unreachable {
        /// What was asked for.
        target_ph: f64,
        /// Lowest pH met over the amounts allowed.
        lowest_ph: f64,
        /// Highest pH met over the amounts allowed.
        highest_ph: f64,
    },
    /// A shift was asked for of a constant that does not exist.
    #[error("there is no constant of \"{name}\" to shift")]
    NoSuchConstant {
        /// The name that was not found.
        name: String,
    },
}

impl SolutionError {
    /// How to put it right, in words of the bench.
    pub fn fix(&self) -> &'static str {
        match self {
            Self::TemperatureOutOfRange { .. } => "ask for a temperature from 0 to 60 °C",
            Self::AmountNotUsable { .. } => "give an amount of zero or more",
            Self::UnknownComponent { .. } => "use a component of the table of equilibria",
            Self::TooConcentrated { .. } => "ask about the diluted solution",
            Self::OutsidePhScale => "check the amounts: so strong an acid or alkali is no bath",
            Self::NotConverged { .. } => "ask about a more dilute solution",
            Self::Unreachable { .. } => "choose a stronger reagent or a pH within that range",
            Self::NoSuchConstant { .. } => "name a species or component of the table of equilibria",
        }
    }
}

/// A species and how much of it there is.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeciesAmount {
    /// Its name, charge at the end.
    pub name: String,
    /// mol per litre of solution.
    pub moles_per_litre: f64,
}

/// Something that limits how far a prediction may be trusted.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Limit {
    /// Something of an addition that may matter for pH is not known.
    Unknown {
        /// The addition.
        substance: String,
        /// mol per litre of it.
        moles: f64,
        /// Most it might move the pH up or down by the protons its unknown part may carry; `None` where no number can be named.
        ph_shift: Option<f64>,
    },
    /// Two components are known to form complexes of which no constant is known.
    MissingComplexes {
        /// The one, a metal.
        component: String,
        /// The other.
        with: String,
        /// Most it might move the pH up or down, if every pair freed or took up one proton.
        ph_shift: f64,
    },
    /// The ionic strength is beyond what the activity model was compared at.
    IonicStrength {
        /// Of this solution, mol/kg.
        ionic_strength: f64,
        /// Compared up to, mol/kg.
        compared_to: f64,
    },
    /// A trace of acid or alkali moves the pH far.
    PoorlyBuffered {
        /// mol/L per pH.
        buffer_capacity: f64,
    },
}

/// How much work a prediction was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Iterations {
    /// Rounds over the activity coefficients.
    pub activity: u32,
    /// Evaluations of the charge balance.
    pub charge: u32,
}

/// What a solution is at equilibrium.
#[derive(Debug, Clone, PartialEq)]
pub struct Prediction {
    /// −log₁₀ of the activity of H⁺.
    pub ph: f64,
    /// Expected error of the pH, either way: activity model, doubtful constants, purity of salts and unknown additions together.
    pub ph_error: f64,
    /// mol per kg of water.
    pub ionic_strength: f64,
    /// mol of strong acid or alkali that moves a litre by one pH, at the present activity coefficients (good to a tenth).
    pub buffer_capacity: f64,
    /// The same in words.
    pub buffering: Buffering,
    /// kg of water in a litre of the solution.
    pub water_kg_per_litre: f64,
    /// Species by falling amount, H⁺ and OH⁻ included; traces below a billionth of a mole are left out.
    pub species: Vec<SpeciesAmount>,
    /// What to say beside the figure. Empty where nothing is to be said.
    pub limits: Vec<Limit>,
    /// How much work it was.
    pub iterations: Iterations,
}

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
