//! Formulas side by side, in words.

use crate::compare::{Cell, ChemicalRow, Comparison, Difference, Measure, MeasureValue, ShownStrength};
use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::render::seen::{compared_reasons, compared_seen};
use crate::render::show::{capacity_words, keeping_words, moles_words, use_words};
use crate::render::{Column, Document};
use crate::substance::State;

pub(crate) fn comparison_document(comparison: &Comparison<'_>) -> Document {
    let mut document = Document::new();
    document.title("Formulas side by side");
    document.facts(names(comparison));
    compared_seen(&mut document, comparison);
    let labels = column_labels(comparison);
    document.heading(format!("grams per litre{}, {}", liquids_too(comparison), comparison.shown.words()));
    document.table(columns("chemical", &labels), amounts(comparison, row_name, cell_amount));
    document.paragraph(
        "Each row shows one form; hydrates are converted. - absent; ? not known; about: estimated.",
    );
    if comparison.shown == ShownStrength::Bottled {
        document.paragraph("The table is as bottled; the differences below are of the baths as first used.");
    }
    differences(&mut document, comparison);
    document.heading("use and keeping");
    document.facts(use_and_keeping(comparison));
    compared_reasons(&mut document, comparison);
    // Chemistry comes last: a printer asks for it least.
    document.heading(format!("moles per litre, {}", comparison.shown.words()));
    document.table(
        columns("chemical", &labels),
        amounts(comparison, |row| row.form.name.clone(), |_, cell| cell_moles(cell)),
    );
    if !comparison.measures.is_empty() {
        document.heading("figures of the baths in use (first listed use)");
        let numbers: Vec<String> = (1..=comparison.formulas.len()).map(|number| number.to_string()).collect();
        let rows = comparison.measures.iter().map(measure_row).collect();
        // Some figures are words, so these columns may be narrowed.
        let mut columns = vec![Column::left("figure")];
        columns.extend(numbers.iter().map(|number| Column::left(number)));
        document.table(columns, rows);
    }
    if !comparison.only_in.is_empty() {
        document.heading("not in all");
        let points = comparison.only_in.iter().map(|own| {
            let places: Vec<String> = own.formulas.iter().map(|place| (place + 1).to_string()).collect();
            format!("{}: in {}", own.form.name, places.join(", "))
        });
        document.list(points.collect());
    }
    document
}

fn names(comparison: &Comparison<'_>) -> Vec<(String, String)> {
    let mut facts = Vec::new();
    for (place, formula) in comparison.formulas.iter().enumerate() {
        let words = format!("{}: {} ({})", formula.id, formula.title, formula.trust_words());
        let words = formula.origin_words().map_or(words.clone(), |origin| format!("{words}; {origin}"));
        facts.push(((place + 1).to_string(), words));
        let own: Vec<_> = comparison.columns.iter().filter(|column| column.formula == place).collect();
        if own.len() > 1 {
            for (index, column) in own.iter().enumerate() {
                facts.push((
                    format!("{}{}", place + 1, letter(index)),
                    column.label.clone().unwrap_or_default(),
                ));
            }
        } else if let Some(label) = own.first().and_then(|column| column.label.clone()) {
            facts.push((String::new(), label));
        }
    }
    facts
}

/// a, b, c …
fn letter(index: usize) -> char {
    u8::try_from(index).ok().map_or('z', |index| char::from(b'a'.saturating_add(index.min(25))))
}

/// `1`, or `2a` and `2b` where a formula has several columns.
pub(super) fn column_labels(comparison: &Comparison<'_>) -> Vec<String> {
    let mut labels = Vec::with_capacity(comparison.columns.len());
    for (index, column) in comparison.columns.iter().enumerate() {
        let same = |own: &&crate::compare::BathColumn| own.formula == column.formula;
        let count = comparison.columns.iter().filter(same).count();
        let before = comparison.columns.iter().take(index).filter(same).count();
        let number = column.formula + 1;
        labels.push(if count > 1 { format!("{number}{}", letter(before)) } else { number.to_string() });
    }
    labels
}

fn columns(first: &str, labels: &[String]) -> Vec<Column> {
    let mut all = vec![Column::left(first)];
    all.extend(labels.iter().map(|label| Column::right(label)));
    all
}

fn amounts(
    comparison: &Comparison<'_>,
    name: fn(&ChemicalRow) -> String,
    words: fn(&ChemicalRow, &Cell) -> String,
) -> Vec<Vec<String>> {
    let of = |row: &ChemicalRow| -> Vec<String> {
        let cell = |cell: &Option<Cell>| cell.as_ref().map_or_else(|| "-".to_owned(), |own| words(row, own));
        std::iter::once(name(row)).chain(row.cells.iter().map(cell)).collect()
    };
    comparison.rows.iter().map(of).collect()
}

/// g/mL of what is poured and not weighed.
fn poured_density(row: &ChemicalRow) -> Option<f64> {
    row.form.density_g_per_ml.filter(|_| row.form.state != State::Solid)
}

/// The name of a chemical, with its unit where that is not the gram of the heading.
fn row_name(row: &ChemicalRow) -> String {
    with_unit(&row.form.name, row)
}

/// A name of a row's chemical with the unit of its amounts.
pub(super) fn with_unit(name: &str, row: &ChemicalRow) -> String {
    if poured_density(row).is_some() { format!("{name}, mL") } else { name.to_owned() }
}

/// `; liquids in mL`, where there are any.
pub(super) fn liquids_too(comparison: &Comparison<'_>) -> &'static str {
    if comparison.rows.iter().any(|row| poured_density(row).is_some()) { "; liquids in mL" } else { "" }
}

fn marked(cell: &Cell, words: String) -> String {
    if cell.estimated { format!("about {words}") } else { words }
}

/// Grams, or the millilitres of what is poured, in a litre.
pub(super) fn cell_amount(row: &ChemicalRow, cell: &Cell) -> String {
    let words = match (cell.grams_per_litre, poured_density(row)) {
        (None, _) => "?".to_owned(),
        (Some(grams), None) => show_significant(grams),
        // Millilitres are given in tenths; what a density makes of them is no finer.
        (Some(grams), Some(density)) => show_short(grams / density, if grams < density { 2 } else { 1 }),
    };
    marked(cell, words)
}

pub(super) fn cell_moles(cell: &Cell) -> String {
    marked(cell, cell.moles_per_litre.map_or_else(|| "?".to_owned(), moles_words))
}

pub(super) fn measure_row(measure: &Measure) -> Vec<String> {
    let unit = if measure.unit.is_empty() { String::new() } else { format!(", {}", measure.unit) };
    let mut cells = vec![format!("{}{unit}", measure.name)];
    cells.extend(measure.values.iter().map(|value| match value {
        MeasureValue::None => "-".to_owned(),
        MeasureValue::Number(number) if measure.key == "ph" => show_decimals(*number, 1),
        MeasureValue::Number(number) if measure.key == "ph_error" => show_decimals(*number, 2),
        MeasureValue::Number(number) if measure.key == "buffer_capacity" => show_decimals(*number, 3),
        MeasureValue::Number(number) if measure.unit == "mol/L" => moles_words(*number),
        MeasureValue::Number(number) => show_significant(*number),
        MeasureValue::OneTo(number) => format!("1 : {}", show_short(*number, 1)),
        MeasureValue::Words(words) => words.clone(),
    }));
    cells
}

fn differences(document: &mut Document, comparison: &Comparison<'_>) {
    let name = |place: usize| comparison.formulas.get(place).map_or("", |formula| formula.id.as_str());
    for place in 0..comparison.formulas.len() {
        let own: Vec<&Difference> =
            comparison.differences.iter().filter(|difference| difference.formula == place).collect();
        if own.is_empty() {
            continue;
        }
        let number = place + 1;
        if own.iter().any(|difference| difference.against != place) {
            document.heading(format!("how {number} differs from 1: {} against {}", name(place), name(0)));
        } else {
            document.heading(format!("{number}: {}", name(place)));
        }
        document.list(
            own.iter()
                .map(|own| format!("{}: {} [{}]", own.topic.words(), own.text, own.reason.words()))
                .collect(),
        );
    }
}

fn use_and_keeping(comparison: &Comparison<'_>) -> Vec<(String, String)> {
    let mut facts = Vec::new();
    for (place, formula) in comparison.formulas.iter().enumerate() {
        let number = place + 1;
        for listed_use in &formula.uses {
            facts.push((format!("{number} {}", listed_use.name), use_words(listed_use)));
        }
        for part in &formula.parts {
            let name = part.name.as_ref().map_or_else(String::new, |name| format!(" of {name}"));
            let words = keeping_words(&part.keeping).unwrap_or_else(|| crate::doubt::NOT_KNOWN.to_owned());
            facts.push((format!("{number} keeping{name}"), words));
        }
        if let Some(words) = capacity_words(formula) {
            facts.push((format!("{number} capacity"), words));
        }
    }
    facts
}
