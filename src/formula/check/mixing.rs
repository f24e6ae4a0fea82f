//! How a part is mixed, as a file gives it: operations, their temperatures and times.

use super::Collector;
use crate::formula::file::{IngredientFile, MixingFile, OperationFile};
use crate::formula::{After, Chemicals, Mixing, Operation, OperationKind};
use crate::packed::Placed;

pub(super) fn mixing(
    spanned: Placed<MixingFile>,
    ingredients: &[Placed<IngredientFile>],
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Mixing {
    let line = collector.at(&spanned);
    let shape = spanned.into_inner();
    if shape.water.is_some_and(|water| !(0.0..=1000.0).contains(&water)) {
        let fix = "write mL per litre to start with, such as water = 750";
        collector.wrong("mixing-water", line, "mixing.water is not between 0 and 1000 mL per litre", fix);
    }
    if shape.temperature.is_some_and(|celsius| !(0.0..=100.0).contains(&celsius)) {
        let fix = "write °C, such as temperature = 50";
        collector.wrong("mixing-temperature", line, "mixing.temperature is not between 0 and 100 °C", fix);
    }
    Mixing {
        water_ml_per_litre: shape.water,
        temperature_c: shape.temperature,
        order: shape.order,
        source: shape.source,
        order_note: shape.order_note,
        note: shape.note,
        other_way: shape.other_way,
        operations: shape
            .operations
            .into_iter()
            .filter_map(|own| operation(own, ingredients, chemicals, collector))
            .collect(),
        appearance: shape.appearance.unwrap_or_default(),
        finish: shape.finish.unwrap_or_default(),
    }
}

fn operation(
    spanned: Placed<OperationFile>,
    ingredients: &[Placed<IngredientFile>],
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Option<Operation> {
    let line = collector.at(&spanned);
    let shape = spanned.into_inner();
    let after = match shape.after.as_str() {
        "start" => Some(After::Start),
        "end" => Some(After::End),
        id => ingredients
            .iter()
            .find(|ingredient| ingredient.get_ref().substance.get_ref() == id)
            .and_then(|_| chemicals.form(id).ok())
            .map(|form| After::Ingredient(form.id.clone())),
    };
    if after.is_none() {
        let ids: Vec<&str> =
            ingredients.iter().map(|ingredient| ingredient.get_ref().substance.get_ref().as_str()).collect();
        let fix = format!("write \"start\", \"end\" or an ingredient: {}", ids.join(", "));
        let message = format!("nothing here is called `{}`", shape.after);
        collector.wrong("operation", line, message, fix);
    }
    if shape.temperature.is_some_and(|celsius| !(0.0..=100.0).contains(&celsius)) {
        let fix = "write °C, such as temperature = 40";
        collector.wrong("operation", line, "the temperature is not between 0 and 100 °C", fix);
    }
    if shape.minutes.is_some_and(|minutes| !(minutes.is_finite() && minutes > 0.0)) {
        let fix = "write minutes = 30, or say until = \"…\"";
        collector.wrong("operation", line, "the minutes are not above zero", fix);
    }
    if matches!(shape.kind, OperationKind::Heat | OperationKind::Cool) && shape.temperature.is_none() {
        let fix = "add temperature, °C";
        collector.wrong("operation", line, "nobody knows how far to heat or cool", fix);
    }
    Some(Operation {
        after: after?,
        kind: shape.kind,
        until: shape.until,
        minutes: shape.minutes,
        temperature_c: shape.temperature,
        how: shape.how,
        source: shape.source,
    })
}
