//! How a solution is brought to a pH, in words.

use crate::formula::Formula;
use crate::predict::adjust::{AddedForm, Adjustment, Way};
use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::render::predict::{capacity_words, celsius_words, grams_words, ph_words};
use crate::render::{Column, Document};
use crate::solution::{Buffering, Prediction};

/// How a solution is brought to a pH.
pub(crate) fn adjust_document(
    formula: &Formula,
    of: Option<&str>,
    goal: Option<&str>,
    adjustment: &Adjustment,
    celsius: f64,
) -> Document {
    let mut document = Document::new();
    let of = of.map_or_else(String::new, |part| format!(", part {part}"));
    document.title(format!(
        "{}{of}: to pH {} at {}",
        formula.title,
        show_decimals(adjustment.target_ph, 1),
        celsius_words(celsius)
    ));
    document.facts(crate::render::origin::facts(formula));
    if let Some(goal) = goal {
        document.paragraph(format!("The pH of {goal}, predicted with the same model."));
    }
    if adjustment.way == Way::AlreadyThere {
        document.paragraph("It has that pH already. Add nothing.");
    }
    let mut rows = Vec::new();
    if let Some((form, grams)) = &adjustment.removed {
        rows.push(vec!["leave out".to_owned(), grams_words(*grams), form.name.clone()]);
    }
    if adjustment.way != Way::AlreadyThere {
        rows.extend(
            adjustment
                .added
                .iter()
                .map(|part| vec!["add".to_owned(), amount_words(part), part.form.name.clone()]),
        );
    }
    document.table(vec![Column::left(""), Column::right("per litre"), Column::left("chemical")], rows);
    let line =
        |prediction: &Prediction| vec![ph_words(prediction), capacity_words(prediction.buffer_capacity)];
    let row = |label: &str, prediction: &Prediction| {
        let mut cells = vec![label.to_owned()];
        cells.extend(line(prediction));
        cells
    };
    document.table(
        vec![Column::left(""), Column::left("pH"), Column::left("buffer capacity")],
        vec![row("before", &adjustment.before), row("after", &adjustment.after)],
    );
    document.list(adjust_notes(adjustment));
    document.caution(
        "CAUTION",
        vec![
            "These are weights, not a mixing order. For order, water, heat and hazards run `soupcon sheet`."
                .to_owned(),
        ],
    );
    document
}

/// Grams, and millilitres of a liquid.
fn amount_words(part: &AddedForm) -> String {
    let grams = format!("{} g", show_significant(part.grams_per_litre));
    match part.millilitres_per_litre() {
        Some(millilitres) => format!("{} mL ({grams})", show_significant(millilitres)),
        None => grams,
    }
}

fn adjust_notes(adjustment: &Adjustment) -> Vec<String> {
    let mut notes = Vec::new();
    let ratio = adjustment.after.buffer_capacity / adjustment.before.buffer_capacity;
    match adjustment.way {
        Way::Exact => notes.push(
            "exact: it brings the same as what is left out, component for component, so it is the same solution whatever the constants are".to_owned(),
        ),
        Way::AlreadyThere => {}
        Way::Ph | Way::PhAndCapacity => {
            if ratio < 0.8 {
                notes.push(format!("its buffer capacity is only {} times what it was", show_short(ratio, 1)));
            } else if ratio > 1.25 {
                notes.push(format!("its buffer capacity is {} times what it was", show_short(ratio, 1)));
            }
            notes.push("equal pH does not mean equal development: carbonate, borate and amines differ in what else they do".to_owned());
            notes.push("Add nine-tenths. Read the meter. Add the rest by the meter.".to_owned());
        }
    }
    if adjustment.after.buffering == Buffering::Poor {
        notes.push("poorly buffered: do not rely on this figure".to_owned());
    }
    for part in &adjustment.added {
        if let Some(limit) = part.dissolves_g_per_l.filter(|limit| part.grams_per_litre > 0.85 * limit) {
            notes.push(format!(
                "{} comes near what stays dissolved at 18 °C ({} g/L)",
                part.form.name,
                show_short(limit, 0)
            ));
        }
    }
    notes
}
