//! How large a batch is: from what was asked, from what limits it, and in round figures.

use super::TakenForm;
use super::error::ScaleError;
use super::{Have, Request, Wanted};
use crate::formula::Formula;
use crate::quantity::{LEAST_ML, Mass, Volume, rounding};
use crate::substance::Form;
use std::sync::Arc;

/// Largest volume of one part, mL.
pub(super) const LARGEST_ML: f64 = 200_000.0;

/// Whether a batch is one that this program mixes.
pub fn can_mix(volume: Volume) -> bool {
    (LEAST_ML..=LARGEST_ML).contains(&volume.as_ml())
}

/// A least volume, rounded up to what one mixes.
pub(super) fn round_batch(least_ml: f64) -> Volume {
    Volume::from_ml(rounding::up_to_step(least_ml, 50.0))
}

/// The batch to advise where at least so much is needed, mL; none where this program mixes no batch so large.
pub fn advised_batch(least_ml: f64) -> Option<Volume> {
    Some(round_batch(least_ml)).filter(|least| can_mix(*least))
}

/// Volume of each part per millilitre of what was asked.
pub(super) fn part_shares(formula: &Formula, wanted: &Wanted) -> Result<Vec<f64>, ScaleError> {
    let count = formula.parts.len();
    let Wanted::Working { ratio, .. } = wanted else { return Ok(vec![1.0; count]) };
    let parts = ratio.parts();
    if parts.len() != count && parts.len() != count + 1 {
        let words = parts.iter().map(|part| rounding::show_short(*part, 3)).collect::<Vec<_>>().join("+");
        let names: Vec<&str> =
            formula.parts.iter().map(|part| part.name.as_deref().unwrap_or("one part")).collect();
        return Err(ScaleError::RatioDoesNotFit { ratio: words, parts: names.join(", ") });
    }
    let total: f64 = parts.iter().sum();
    Ok(parts.iter().take(count).map(|part| part / total).collect())
}

/// How much of a form there is in all its jars; none where one of them is as good as full. What is said to be the last of it is that alone.
fn amount_there(have: &Have, shelf: &[Have]) -> Option<Mass> {
    if have.is_limit {
        return have.amount;
    }
    let jars = shelf.iter().filter(|own| own.form.id == have.form.id && !own.is_limit);
    let grams = jars.map(|own| own.amount.map(Mass::as_g)).sum::<Option<f64>>()?;
    Some(Mass::from_g(grams))
}

/// Volumes of the parts, and the form that limits them.
pub(super) fn volumes(
    formula: &Formula,
    request: &Request,
    takes: &[Vec<TakenForm>],
    shares: &[f64],
) -> Result<(Vec<Volume>, Option<Arc<Form>>), ScaleError> {
    let mut largest: Option<(f64, &Have, f64)> = None;
    for have in &request.have {
        let Some(amount) = amount_there(have, &request.have) else { continue };
        let per_ml: f64 = takes
            .iter()
            .zip(shares)
            .map(|(part, share)| {
                let grams = part.iter().filter(|take| take.form.id == have.form.id);
                grams.filter_map(|take| take.grams_per_litre).sum::<f64>() * share / 1000.0
            })
            .sum();
        if per_ml <= 0.0 {
            if have.is_limit {
                let contains = formula.ingredients().map(|own| own.form.id.clone()).collect();
                return Err(ScaleError::LimitNotUsed { form: have.form.id.clone(), contains });
            }
            continue;
        }
        let possible_ml = amount.as_g() / per_ml;
        if largest.is_none_or(|(so_far, _, _)| possible_ml < so_far) {
            largest = Some((possible_ml, have, per_ml));
        }
    }
    let asked_ml = match &request.wanted {
        Wanted::Bottled(volume) | Wanted::Working { volume, .. } => volume.as_ml(),
        Wanted::AsMuchAsPossible => match largest {
            Some((possible_ml, have, _)) => {
                let volumes = shares.iter().map(|share| Volume::from_ml(possible_ml * share)).collect();
                return Ok((volumes, Some(Arc::clone(&have.form))));
            }
            None => return Err(ScaleError::NoVolume),
        },
    };
    if let Some((possible_ml, have, per_ml)) =
        largest.filter(|(possible, _, _)| rounding::exceeds(asked_ml, *possible))
    {
        return Err(ScaleError::NotEnough {
            form: have.form.id.clone(),
            needs: rounding::show_significant(per_ml * asked_ml),
            has: rounding::show_significant(
                amount_there(have, &request.have).map(Mass::as_g).unwrap_or_default(),
            ),
            largest_ml: rounding::down_to_step(possible_ml, 1.0),
        });
    }
    Ok((shares.iter().map(|share| Volume::from_ml(asked_ml * share)).collect(), None))
}
