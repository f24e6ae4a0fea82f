//! How much of a reagent reaches a pH.

use super::Equilibria;
use super::prediction::{Addition, SolutionError};
use super::roots::bracketed_root;
use super::speciate::ph_of;

/// Amounts tried between nothing and the most allowed, as powers of ten below the most.
const DECADES: f64 = 6.0;
const TRIES: u32 = 24;

/// How many moles (per litre of solution) of a reagent bring a solution to a pH.
///
/// `reagent` says what one mole of it brings; its own `moles` is not used. Amounts from 0 to `max_moles` are searched and the least
/// one that serves is returned. The amounts already in the solution stay as they are, per litre of the final solution.
///
/// # Errors
/// [`SolutionError::Unreachable`] with the range of pH met if no amount serves; [`SolutionError::AmountNotUsable`] if `max_moles` is not
/// above zero; otherwise what [`super::predict`] refuses for the solution without reagent.
///
/// # Examples
/// ```
/// use soupcon::solution::{Equilibria, SolutionError, amount_for_ph};
///
/// let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));
/// let table = Equilibria::parse(text)?;
/// let row = |id: &str, moles: f64| table.substance(id).map(|row| row.addition(moles, 0.0));
/// let boric: Vec<_> = row("boric-acid", 0.1).into_iter().collect();
/// if let Some(caustic) = row("sodium-hydroxide", 1.0) {
///     // Usual: half neutralised, near its pK.
///     let moles = amount_for_ph(&table, &boric, &caustic, 9.0, 25.0, 1.0)?;
///     assert!((0.03..0.05).contains(&moles));
/// }
/// if let Some(more_acid) = row("boric-acid", 1.0) {
///     // Failure: no amount of boric acid makes it alkaline.
///     let refused = amount_for_ph(&table, &boric, &more_acid, 9.0, 25.0, 0.5);
///     assert!(matches!(refused, Err(SolutionError::Unreachable { .. })));
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn amount_for_ph(
    equilibria: &Equilibria,
    base: &[Addition],
    reagent: &Addition,
    target_ph: f64,
    temperature_c: f64,
    max_moles: f64,
) -> Result<f64, SolutionError> {
    if !(max_moles.is_finite() && max_moles > 0.0) {
        return Err(SolutionError::AmountNotUsable {
            substance: reagent.substance.clone(),
            moles: max_moles,
        });
    }
    let mut mixture = base.to_vec();
    mixture.push(reagent.clone());
    let mut ph_with = |moles: f64| {
        if let Some(last) = mixture.last_mut() {
            last.moles = moles;
        }
        ph_of(equilibria, &mixture, temperature_c)
    };
    let at_none = ph_with(0.0)?;
    let (mut lowest_ph, mut highest_ph) = (at_none, at_none);
    let mut before = (0.0, at_none - target_ph);
    let mut bracket = None;
    for step in 0..=TRIES {
        let moles = max_moles * 10_f64.powf(DECADES * (f64::from(step) / f64::from(TRIES) - 1.0));
        // Amounts the model refuses (too strong) end the search; what is below them still counts.
        let Ok(ph) = ph_with(moles) else { break };
        lowest_ph = lowest_ph.min(ph);
        highest_ph = highest_ph.max(ph);
        let miss = ph - target_ph;
        if before.1 == 0.0 {
            return Ok(before.0);
        }
        if miss.signum() != before.1.signum() || miss == 0.0 {
            bracket = Some((before.0, moles));
            break;
        }
        before = (moles, miss);
    }
    let root = bracket.and_then(|(low, high)| {
        let miss = |moles| ph_with(moles).ok().map(|ph| ph - target_ph);
        bracketed_root(miss, low, high, 1e-9 * max_moles.min(high))
    });
    root.ok_or(SolutionError::Unreachable { target_ph, lowest_ph, highest_ph })
}
