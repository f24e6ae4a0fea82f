//! One line to weigh: the form from the shelf in place of the recipe's, its amount, the dose or the advice.

use super::TakenForm;
use super::advice::Advice;
use super::dose;
use super::dose::{Balance, measuring_step_ml};
use super::error::ScaleError;
use super::exchange::{ExchangeError, Relations, exchange};
use super::{Instead, Item, Request, Unit};
use crate::formula::{Amount, Ingredient, Part, amount_in_grams};
use crate::quantity::{Volume, rounding};
use crate::substance::{Form, State};
use std::sync::Arc;

/// Chooses the form from the shelf and exchanges the amount.
pub(super) fn take(
    ingredient: &Ingredient,
    part: &Part,
    request: &Request,
    relations: &Relations,
) -> Result<TakenForm, ScaleError> {
    let own = &ingredient.form;
    let (unit, per_litre, solution) = match ingredient.amount {
        Amount::Grams(grams) => (Unit::Gram, grams, None),
        Amount::Millilitres(millilitres) => (Unit::Millilitre, millilitres, None),
        Amount::PercentSolution { millilitres, .. } if ingredient.amount.is_product(own) => {
            (Unit::Millilitre, millilitres, None)
        }
        Amount::PercentSolution { millilitres, strength } => (Unit::Millilitre, millilitres, Some(strength)),
    };
    let grams = amount_in_grams(own, ingredient.amount);
    let own_assay = own.assay_fraction();
    let chosen = from_shelf(own, part, request, relations);
    if !ingredient.exchange && chosen.id != own.id {
        return Err(ScaleError::NotExchanged {
            form: own.name.clone(),
            other: chosen.name.clone(),
            note: ingredient.note.clone().unwrap_or_default(),
        });
    }
    let assay = request.assay_of(&chosen);
    let unchanged = chosen.id == own.id && (assay - own_assay).abs() < 1e-12;
    if unchanged || solution.is_some() && chosen.id == own.id {
        let grams = if solution.is_some() { grams.map(|grams| grams * own_assay / assay) } else { grams };
        return Ok(TakenForm {
            form: chosen,
            unit,
            per_litre,
            grams_per_litre: grams,
            solution,
            exchanged: None,
            instead_of: None,
        });
    }
    let grams = grams.ok_or_else(|| ExchangeError::NoDensity { form: own.id.clone() })?;
    let exchanged = exchange(grams, (own, own_assay), (&chosen, assay), relations)?;
    // A liquid is measured; a solid, and a liquid of unknown density, is weighed.
    let liquid = chosen.state != State::Solid;
    let (new_unit, new_per_litre) = match chosen.density_g_per_ml.filter(|_| liquid) {
        Some(density) => (Unit::Millilitre, exchanged.grams / density),
        None => (Unit::Gram, exchanged.grams),
    };
    let instead_of = (chosen.id != own.id).then(|| Instead { form: Arc::clone(own), per_litre, unit });
    Ok(TakenForm {
        unit: new_unit,
        per_litre: new_per_litre,
        grams_per_litre: Some(exchanged.grams),
        solution: None,
        exchanged: Some(exchanged),
        instead_of,
        form: chosen,
    })
}

/// Whether taking `shelf` for the recipe's form brings no water into a part that is not made up with water.
pub(crate) fn keeps_water_out(shelf: &Form, recipe: &Form, part: &Part) -> bool {
    part.solvent.is_none()
        || shelf.state != State::Solution
            && shelf.crystal_water <= recipe.crystal_water
            && shelf.state == recipe.state
}

/// The form on your shelf for a recipe's form: itself, else another form of its parent, else an automatic relation, else itself.
fn from_shelf(own: &Arc<Form>, part: &Part, request: &Request, relations: &Relations) -> Arc<Form> {
    let shelf = || request.have.iter().map(|have| &have.form);
    if shelf().any(|form| form.id == own.id) {
        return Arc::clone(own);
    }
    let same_parent = |form: &&Arc<Form>| form.parent.id == own.parent.id && keeps_water_out(form, own, part);
    let related = |form: &&Arc<Form>| {
        relations.between(&own.parent.id, &form.parent.id).is_some_and(|relation| relation.automatic)
            && keeps_water_out(form, own, part)
    };
    let asked = |form: &&Arc<Form>| {
        relations.between(&own.parent.id, &form.parent.id).is_some()
            && request.have.iter().any(|have| have.is_limit && have.form.id == form.id)
    };
    shelf()
        .find(same_parent)
        .or_else(|| shelf().find(related))
        .or_else(|| shelf().find(asked))
        .map_or_else(|| Arc::clone(own), Arc::clone)
}

/// One line of the batch, rounded, dosed and advised on.
pub(super) fn item(
    index: usize,
    ingredient: &Ingredient,
    take: &TakenForm,
    part: &Part,
    volume: Volume,
    request: &Request,
) -> Item {
    let litres = volume.as_litres();
    let amount = take.per_litre * litres;
    let grams = take.grams_per_litre.map(|grams| grams * litres);
    let mut advice = Vec::new();
    let mut dose = None;
    let weigh = if take.unit == Unit::Gram {
        if dose::is_too_small(amount, &take.form, request.balance) {
            let solvent = part.solvent.as_ref().map(|form| form.id.as_str());
            dose = dose::dose_for(amount, &take.form, request.balance, volume.as_ml(), solvent);
            let as_well =
                || dose::weighs_as_well(amount, &take.form, request.balance, volume.as_ml(), solvent);
            if dose.is_none() && !as_well() {
                advice.push(too_small(amount, &take.form, request.balance, volume, solvent));
            }
        }
        if let Some(dose) = &dose {
            dose.millilitres * dose.strength_percent / 100.0
        } else {
            let weigh = rounding::to_step(amount, request.balance.step_g);
            advice.extend(portions(weigh, request.balance));
            weigh
        }
    } else {
        rounding::to_step(amount, measuring_step_ml(amount))
    };
    if let Some(strength) = take.solution {
        advice.push(Advice::MakePercentSolution { strength });
    }
    let assay_given = request.assays.iter().find(|(form, _)| form.id == take.form.id);
    if let Some((_, fraction)) = assay_given {
        advice.push(Advice::AssayGiven { percent: fraction * 100.0 });
    } else if let Some((low_percent, high_percent)) = take.form.assay_typical {
        advice.push(Advice::AssayTypical { low_percent, high_percent });
    }
    if let Some(exchanged) = &take.exchanged {
        let hydroxide = exchanged.sodium_hydroxide_g() * litres;
        if let Some(relation) = &exchanged.relation {
            advice.push(if hydroxide == 0.0 {
                Advice::Relation { note: relation.note.clone() }
            } else {
                Advice::Hydroxide { grams: hydroxide, note: relation.note.clone() }
            });
        }
    }
    Item {
        index,
        form: Arc::clone(&take.form),
        unit: take.unit,
        per_litre: take.per_litre,
        amount,
        weigh,
        rounding_error_percent: if amount > 0.0 { (weigh - amount) / amount * 100.0 } else { 0.0 },
        solution: take.solution,
        dose,
        instead_of: take.instead_of.clone(),
        grams,
        assay: request.assay_of(&take.form),
        advice,
        note: ingredient.note.clone(),
        until: ingredient.until.clone(),
        optional: ingredient.optional,
        apart_ml: ingredient.apart_ml.map(|apart| apart * litres),
    }
}

pub(super) fn too_small(
    grams: f64,
    form: &Form,
    balance: Balance,
    volume: Volume,
    solvent: Option<&str>,
) -> Advice {
    let steps = [0.1, 0.05, 0.02, 0.01, 0.005, 0.001, 0.0001];
    let finer_step_g = steps
        .into_iter()
        .find(|&step| !dose::is_too_small(grams, form, Balance { step_g: step, max_g: None }))
        .unwrap_or(0.0001);
    // What is weighed is a whole step, and that is read to half a step.
    let rounded = (rounding::to_step(grams, balance.step_g) - grams).abs() / grams;
    Advice::TooSmall {
        uncertainty_percent: (dose::uncertainty(grams, balance) + rounded) * 100.0,
        finer_step_g,
        least_batch_ml: dose::least_batch_ml(grams, form, balance, volume.as_ml(), solvent),
    }
}

/// Weighings that the balance carries and shows, and that add up to the amount.
fn portions(weigh: f64, balance: Balance) -> Option<Advice> {
    let full_g = balance.fullest_g()?;
    let in_full_g = rounding::down_to_step(weigh, full_g);
    let rest_g = rounding::to_step(weigh - in_full_g, balance.step_g);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "not negative; a cast of too much is the most"
    )]
    let full = (in_full_g / full_g).round() as u32;
    rounding::exceeds(weigh, full_g).then_some(Advice::Portions { full, full_g, rest_g })
}
