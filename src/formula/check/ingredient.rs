//! The ingredients of a part as a file gives them: form, amount in every unit, strength.

use super::Collector;
use crate::formula::file::IngredientFile;
use crate::formula::{Amount, Chemicals, FormError, Ingredient, MOST_PER_LITRE};
use crate::packed::Placed;
use crate::quantity::{Strength, Volume, parse_historical_mass};
use crate::substance::State;
use std::collections::BTreeMap;

/// Least grams or millilitres in a litre that anybody could mean: a microgram.
const LEAST_PER_LITRE: f64 = 1e-6;

/// Smallest share of a part in a bath.
pub(super) const LEAST_SHARE: f64 = 1e-4;

pub(super) fn ingredient_list(
    shapes: &[Placed<IngredientFile>],
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Vec<Ingredient> {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let mut list = Vec::with_capacity(shapes.len());
    for spanned in shapes {
        if collector.is_full() {
            break;
        }
        let line = collector.at(spanned);
        let id = spanned.get_ref().substance.get_ref();
        if let Some(first) = seen.insert(id, line) {
            let message = format!("`{id}` stands twice in this part (first on line {first})");
            collector.wrong("twice", line, message, "put the whole amount on one line, or make two parts");
        }
        if let Some(ingredient) = ingredient(spanned.get_ref(), line, chemicals, collector) {
            list.push(ingredient);
        }
    }
    list
}

fn ingredient(
    shape: &IngredientFile,
    line: usize,
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Option<Ingredient> {
    let form = match chemicals.form(shape.substance.get_ref()) {
        Ok(form) => Some(form),
        Err(error) => {
            let code = match error {
                FormError::BareParent { .. } => "bare-parent",
                FormError::Broken { .. } => "broken-substance",
                FormError::Unknown { .. } => "unknown-substance",
            };
            collector.wrong(code, collector.at(&shape.substance), error.to_string(), error.fix());
            None
        }
    };
    let amount = amount(shape, line, collector);
    let form = form?;
    let (amount, historical) = amount?;
    if matches!(amount, Amount::Millilitres(_)) && form.state == State::Solid {
        let message = format!("`{}` is a solid, but its amount is in millilitres", form.id);
        let fix = "write grams, or add strength = \"10 % w/v\" if a percent solution is meant";
        collector.wrong("solid-in-millilitres", line, message, fix);
    }
    if let Amount::PercentSolution { strength, .. } = amount
        && amount.is_stronger_than(&form)
    {
        let at = shape.strength.as_ref().map_or(line, |strength| collector.at(strength));
        let most = form.assay_fraction() * 100.0;
        let message = format!("`{}` cannot be {strength}: the product is {most:.0} % itself", form.id);
        let fix =
            "name the form that is as strong (`soupcon substance NAME`), or write the strength of this one";
        collector.wrong("too-strong", at, message, fix);
    }
    if let Some(apart) = shape.apart_ml.filter(|apart| !(*apart > 0.0 && *apart <= 1000.0)) {
        let message = format!("apart_ml = {apart} is not between 0 and 1000 mL per litre of batch");
        collector.wrong("apart", line, message, "give the millilitres in which it is dissolved apart");
    }
    if !shape.exchange && shape.note.as_ref().is_none_or(|note| note.trim().is_empty()) {
        let message = format!("`{}` may not be exchanged, but no note says why", form.id);
        collector.wrong("no-exchange", line, message, "add note = \"…\" with the reason");
    }
    Some(Ingredient {
        exchange: shape.exchange,
        form,
        amount,
        historical,
        note: shape.note.clone(),
        until: shape.until.clone(),
        apart_ml: shape.apart_ml,
        optional: shape.optional,
        line,
    })
}

/// The one amount of an ingredient, and the old source's figure if that was given.
fn amount(
    shape: &IngredientFile,
    line: usize,
    collector: &mut Collector<'_>,
) -> Option<(Amount, Option<String>)> {
    let id = shape.substance.get_ref();
    let given = [shape.grams.is_some(), shape.millilitres.is_some(), shape.amount.is_some()];
    match given.iter().filter(|&&given| given).count() {
        1 => {}
        0 => {
            let fix = "write grams = …, millilitres = … (per litre), or amount = \"20 grain\" with per = \"10 imp-floz\"";
            collector.wrong("no-amount", line, format!("`{id}` has no amount"), fix);
            return None;
        }
        _ => {
            let message = format!("`{id}` has more than one amount");
            collector.wrong("two-amounts", line, message, "keep one of grams, millilitres and amount");
            return None;
        }
    }
    if let Some(stray) = shape.strength.as_ref().filter(|_| shape.millilitres.is_none()) {
        let fix = "write millilitres of the percent solution, or remove strength";
        collector.wrong("stray-strength", collector.at(stray), "strength needs millilitres", fix);
        return None;
    }
    if let Some(stray) = shape.per.as_ref().filter(|_| shape.amount.is_none()) {
        let fix = "grams and millilitres are always per litre; remove per";
        collector.wrong("stray-per", collector.at(stray), "per belongs to amount only", fix);
        return None;
    }
    if let Some(grams) = &shape.grams {
        let value = plausible(*grams.get_ref(), "grams", id, collector.at(grams), collector)?;
        return Some((Amount::Grams(value), None));
    }
    if let Some(millilitres) = &shape.millilitres {
        let value =
            plausible(*millilitres.get_ref(), "millilitres", id, collector.at(millilitres), collector)?;
        let Some(strength) = &shape.strength else { return Some((Amount::Millilitres(value), None)) };
        return match strength.get_ref().parse::<Strength>() {
            Ok(parsed) => Some((Amount::PercentSolution { millilitres: value, strength: parsed }, None)),
            Err(error) => {
                collector.wrong(
                    "strength",
                    collector.at(strength),
                    error.to_string(),
                    "write it as 10 % w/v",
                );
                None
            }
        };
    }
    historical(shape, line, collector)
}

/// `amount = "20 grain"`, `per = "10 imp-floz"`: grams per litre = mass / volume.
fn historical(
    shape: &IngredientFile,
    line: usize,
    collector: &mut Collector<'_>,
) -> Option<(Amount, Option<String>)> {
    let id = shape.substance.get_ref();
    let amount = shape.amount.as_ref()?;
    let Some(per) = &shape.per else {
        let fix = "add per = \"10 imp-floz\" (or 1 us-qt, 1 us-gal, 20 imp-floz, 1 l)";
        collector.wrong("no-per", line, format!("`{id}` has an amount but not of what volume"), fix);
        return None;
    };
    let mass = parse_historical_mass(amount.get_ref()).map_err(|error| {
        collector.wrong("amount", collector.at(amount), error.to_string(), "write it like 20 grain");
    });
    let volume = per.get_ref().parse::<Volume>().map_err(|error| {
        collector.wrong("per", collector.at(per), error.to_string(), "write it like 10 imp-floz");
    });
    let grams = mass.ok()?.as_g() / volume.ok()?.as_litres();
    let grams = plausible(grams, "amount", id, collector.at(amount), collector)?;
    Some((Amount::Grams(grams), Some(format!("{} per {}", amount.get_ref().trim(), per.get_ref().trim()))))
}

/// Refuses zero, negative, non-finite and impossible figures.
fn plausible(value: f64, key: &str, id: &str, line: usize, collector: &mut Collector<'_>) -> Option<f64> {
    if (LEAST_PER_LITRE..=MOST_PER_LITRE).contains(&value) {
        return Some(value);
    }
    let is_long = value.abs() >= 1e7 || (value != 0.0 && value.abs() < LEAST_PER_LITRE);
    let shown = if is_long { format!("{value:e}") } else { value.to_string() };
    let message = format!("{key} = {shown} of `{id}` is not above 0 and at most {MOST_PER_LITRE} per litre");
    collector.wrong("amount-out-of-range", line, message, "amounts are per litre of the part as bottled");
    None
}
