//! Acid and alkali reserve: how much of the other it takes before a solution is mild.
//!
//! By the method of Young, How, Walker and Worth (Toxicology in Vitro 2, 1988, 19), as the German Federal Institute for Occupational
//! Safety and Health describes it: a watery liquid is titrated undiluted, an acid one with sodium hydroxide to pH 4, an alkaline one
//! with sulfuric acid to pH 10, and the reserve is told in grams of sodium hydroxide per 100 g. Here the titration is computed, and
//! 100 mL stand for 100 g: a little too much in a solution heavier than water, on the safe side.

use super::buffer::amount_for_ph;
use super::equilibria::Equilibria;
use super::prediction::{Addition, Modelling, SolutionError};
use super::speciate::predict;

/// Grams of sodium hydroxide in a mole.
const SODIUM_HYDROXIDE_G_PER_MOL: f64 = 39.997;
/// pH to which an acid solution is titrated.
const ACID_TO_PH: f64 = 4.0;
/// pH to which an alkaline solution is titrated.
const ALKALI_TO_PH: f64 = 10.0;
/// Most of the reagent that is tried, mol per litre: more than any solution here holds.
const MOST_MOLES: f64 = 12.0;

/// Acid reserve: grams of sodium hydroxide that bring 100 mL of a solution up to pH 4; 0 where it stands there or above.
///
/// # Errors
/// The model has no answer for the solution or for its titration.
pub fn acid_reserve(
    equilibria: &Equilibria,
    solution: &[Addition],
    celsius: f64,
) -> Result<f64, SolutionError> {
    reserve(equilibria, solution, celsius, "Na+", ACID_TO_PH, |ph| ph >= ACID_TO_PH)
}

/// Alkali reserve: grams of sodium hydroxide worth of acid that bring 100 mL of a solution down to pH 10; 0 where it stands there or below.
///
/// # Errors
/// The model has no answer for the solution or for its titration.
pub fn alkali_reserve(
    equilibria: &Equilibria,
    solution: &[Addition],
    celsius: f64,
) -> Result<f64, SolutionError> {
    // Hydrochloric acid gives one proton a mole, whatever the strength of the solution.
    reserve(equilibria, solution, celsius, "Cl-", ALKALI_TO_PH, |ph| ph <= ALKALI_TO_PH)
}

fn reserve(
    equilibria: &Equilibria,
    solution: &[Addition],
    celsius: f64,
    ion: &str,
    target_ph: f64,
    is_mild: impl Fn(f64) -> bool,
) -> Result<f64, SolutionError> {
    if is_mild(predict(equilibria, solution, celsius)?.ph) {
        return Ok(0.0);
    }
    // A strong base or acid is its ion and nothing else: the rest is the charge that protons make up. Both ions are in every excerpt of
    // the table.
    let reagent = Addition {
        substance: "the reagent of the titration".to_owned(),
        moles: 1.0,
        components: vec![(ion.to_owned(), 1.0)],
        water_moles: 0.0,
        standing: Modelling::Modelled,
        protons: 0.0,
    };
    let moles = amount_for_ph(equilibria, solution, &reagent, target_ph, celsius, MOST_MOLES)?;
    Ok(moles * SODIUM_HYDROXIDE_G_PER_MOL / 10.0)
}
