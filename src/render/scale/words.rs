//! A batch in words: what to weigh, in no order.

use crate::formula::Formula;
use crate::quantity::rounding;
use crate::render::made_first::{MakeWords, made_first};
use crate::render::{Align, Column, Document};
use crate::scale::dose::{self, Balance, measuring_step_ml};
use crate::scale::{Advice, Batch, BatchPart, Item, Unit};

/// What to weigh for a batch, with the line that this is no mixing order.
pub(crate) fn batch_document(formula: &Formula, batch: &Batch) -> Document {
    let mut document = Document::new();
    let volumes: Vec<String> = batch
        .parts
        .iter()
        .map(|part| {
            part.name
                .as_ref()
                .map_or_else(|| part.volume.to_string(), |name| format!("{name} {}", part.volume))
        })
        .collect();
    document.title(format!("{}: {}", formula.title, volumes.join(", ")));
    let mut facts = vec![("evidence".to_owned(), formula.evidence.to_string())];
    if let Some(doubt) = &formula.evidence.doubt {
        facts.push(("doubt".to_owned(), doubt.clone()));
    }
    if let Some((volume, ratio)) = &batch.working {
        let words: Vec<String> = ratio.parts().iter().map(|part| rounding::show_short(*part, 3)).collect();
        facts.push(("working solution".to_owned(), format!("{volume} mixed {}", words.join(" + "))));
    }
    if let Some(form) = &batch.limited_by {
        facts.push(("limited by".to_owned(), form.name.clone()));
    }
    let taken = batch.parts.iter().flat_map(|part| &part.items).map(|item| item.form.as_ref());
    facts.extend(crate::render::origin::facts_of_batch(formula, taken));
    document.facts(facts);
    document.list(made_first(batch).iter().map(MakeWords::sentence).collect());
    for part in &batch.parts {
        if let Some(name) = &part.name {
            document.heading(format!("Part {name}: {}", part.volume));
        }
        part_table(&mut document, part, batch.balance);
    }
    let caution = "These are weights, not a mixing order. For order, water, heat and hazards run `soupcon sheet`. \
                   Read the label of every jar.";
    document.caution("CAUTION", vec![caution.to_owned()]);
    document
}

fn part_table(document: &mut Document, part: &BatchPart, balance: Balance) {
    let columns = vec![
        Column::right("take"),
        Column::left("substance"),
        Column { title: "per litre".to_owned(), align: Align::Right },
    ];
    let rows = part
        .items
        .iter()
        .map(|item| {
            let per_litre = format!("{} {}", rounding::show_significant(item.per_litre), item.unit.symbol());
            vec![take_words(item, balance.step_g), name_words(item), per_litre]
        })
        .collect();
    document.table(columns, rows);
    document.list(part.items.iter().flat_map(|item| remarks(item, balance)).collect());
}

/// The amount to take, rounded: `1.0 g`, `12.5 mL`, or `2.5 mL of 1 %`.
pub(crate) fn take_words(item: &Item, step_g: f64) -> String {
    if let Some(dose) = &item.dose {
        let step = measuring_step_ml(dose.millilitres);
        return format!(
            "{} mL of {} %",
            rounding::show_step(dose.millilitres, step),
            rounding::show_short(dose.strength_percent, 2)
        );
    }
    match item.unit {
        // Rounded to nothing: the figure itself, which the advice calls too little.
        unit if item.weigh == 0.0 => {
            format!("{} {}", rounding::show_significant(item.amount), unit.symbol())
        }
        Unit::Gram => format!("{} g", rounding::show_step(item.weigh, step_g)),
        Unit::Millilitre => format!("{} mL", rounding::show_step(item.weigh, measuring_step_ml(item.amount))),
    }
}

/// The name on the jar, with the strength where a percent solution is measured.
pub(crate) fn name_words(item: &Item) -> String {
    let mut name = item.form.name.clone();
    if let Some(strength) = item.solution {
        name = format!("{name}, {strength} solution");
    }
    if item.optional {
        name.push_str(" (optional)");
    }
    name
}

/// What to mind about an item, each with its name; how its percent solution is made is told apart.
pub(crate) fn remarks(item: &Item, balance: Balance) -> Vec<String> {
    let mut remarks = Vec::new();
    let name = &item.form.name;
    if let Some(instead) = &item.instead_of {
        let litres = if item.per_litre > 0.0 { item.amount / item.per_litre } else { 0.0 };
        remarks.push(format!(
            "{name}: {} {} replaces {} {} of {}, the form in the formula. Weigh one or the other, as the jar says",
            rounding::show_significant(item.amount),
            item.unit.symbol(),
            rounding::show_significant(instead.per_litre * litres),
            instead.unit.symbol(),
            instead.form.name
        ));
    }
    if item.dose.is_some() {
        remarks.push(format!(
            "{name}: {} g is too little for a {} g balance (± {} %; {}). Measure it as a percent solution",
            rounding::show_significant(item.amount),
            rounding::show_short(balance.step_g, 4),
            rounding::show_short(dose::uncertainty(item.amount, balance) * 100.0, 0),
            wanted_words(item),
        ));
    }
    for advice in &item.advice {
        match advice {
            Advice::MakePercentSolution { .. } => {}
            Advice::TooSmall { .. } => remarks.push(format!("{name}: {advice} ({})", wanted_words(item))),
            other => remarks.push(format!("{name}: {other}")),
        }
    }
    if let Some(until) = &item.until {
        remarks.push(format!("{name}: only until {until}"));
    }
    if let Some(note) = &item.note {
        let scope = if note.contains(|letter: char| letter.is_ascii_digit()) {
            " (the formula's words, per litre)"
        } else {
            ""
        };
        remarks.push(format!("{name}: {note}{scope}"));
    }
    remarks
}

/// How well an item is to be weighed: `a restrainer needs ± 2 %`.
fn wanted_words(item: &Item) -> String {
    format!(
        "{} needs ± {} %",
        dose::acts_in_traces(&item.form).unwrap_or("a weighing"),
        rounding::show_short(dose::tolerance(&item.form) * 100.0, 0)
    )
}
