//! What `compare --json` prints.

use crate::compare::{Cell, Comparison, MeasureValue};
use crate::render::seen::SeenBody;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct CompareBody {
    /// `as bottled` or `as first used`: what the rows show.
    shown: &'static str,
    formulas: Vec<ComparedFormula>,
    columns: Vec<ComparedColumn>,
    rows: Vec<ComparedRow>,
    measures: Vec<ComparedMeasure>,
    only_in: Vec<ComparedOnly>,
    differences: Vec<ComparedDifference>,
    /// What one would see; empty where the kinds differ.
    seen: Vec<SeenBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ComparedFormula {
    id: String,
    title: String,
    kind: &'static str,
    evidence: &'static str,
    doubt: Option<String>,
    /// `shipped`, or the personal folder or file.
    origin: String,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ComparedColumn {
    formula: String,
    label: Option<String>,
    ph: Option<f64>,
    ph_error: Option<f64>,
    buffer_capacity: Option<f64>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ComparedRow {
    /// The form in which the grams are told.
    substance: String,
    name: String,
    parent: String,
    role: Option<&'static str>,
    /// One a column; null where it is absent.
    cells: Vec<Option<ComparedCell>>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ComparedCell {
    grams_per_litre: Option<f64>,
    moles_per_litre: Option<f64>,
    not_known_because: Option<&'static str>,
    optional: bool,
    estimated: bool,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ComparedMeasure {
    key: &'static str,
    name: &'static str,
    unit: &'static str,
    /// One a formula: a number, words, or null; a ratio is the second figure to 1.
    values: Vec<ComparedValue>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(untagged)]
enum ComparedValue {
    None(()),
    Number(f64),
    Words(String),
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ComparedOnly {
    substance: String,
    formulas: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ComparedDifference {
    formula: String,
    against: String,
    topic: &'static str,
    text: String,
    reason: String,
}

impl CompareBody {
    pub(crate) fn new(comparison: &Comparison<'_>) -> Self {
        let id = |place: usize| comparison.formulas.get(place).map_or_else(String::new, |own| own.id.clone());
        Self {
            shown: comparison.shown.key(),
            seen: SeenBody::all(comparison),
            formulas: comparison
                .formulas
                .iter()
                .map(|formula| ComparedFormula {
                    id: formula.id.clone(),
                    title: formula.title.clone(),
                    kind: formula.kind.folder(),
                    evidence: formula.evidence.kind.word(),
                    doubt: formula.evidence.doubt.clone(),
                    origin: formula.origin_name(),
                })
                .collect(),
            columns: comparison
                .columns
                .iter()
                .map(|column| ComparedColumn {
                    formula: id(column.formula),
                    label: column.label.clone(),
                    ph: column.ph.map(|ph| ph.value),
                    ph_error: column.ph.map(|ph| ph.error),
                    buffer_capacity: column.ph.map(|ph| ph.buffer_capacity),
                })
                .collect(),
            rows: comparison
                .rows
                .iter()
                .map(|row| ComparedRow {
                    substance: row.form.id.clone(),
                    name: row.form.name.clone(),
                    parent: row.form.parent.id.clone(),
                    role: row.role.map(crate::substance::Role::word),
                    cells: row.cells.iter().map(|cell| cell.as_ref().map(ComparedCell::new)).collect(),
                })
                .collect(),
            measures: comparison
                .measures
                .iter()
                .map(|measure| ComparedMeasure {
                    key: measure.key,
                    name: measure.name,
                    unit: measure.unit,
                    values: measure.values.iter().map(ComparedValue::new).collect(),
                })
                .collect(),
            only_in: comparison
                .only_in
                .iter()
                .map(|own| ComparedOnly {
                    substance: own.form.id.clone(),
                    formulas: own.formulas.iter().map(|place| id(*place)).collect(),
                })
                .collect(),
            differences: comparison
                .differences
                .iter()
                .map(|difference| ComparedDifference {
                    formula: id(difference.formula),
                    against: id(difference.against),
                    topic: difference.topic.word(),
                    text: difference.text.clone(),
                    reason: difference.reason.words().to_owned(),
                })
                .collect(),
        }
    }
}

impl ComparedCell {
    fn new(cell: &Cell) -> Self {
        Self {
            grams_per_litre: cell.grams_per_litre,
            moles_per_litre: cell.moles_per_litre,
            not_known_because: cell.unknown.map(crate::vessel::Unknown::words),
            optional: cell.optional,
            estimated: cell.estimated,
        }
    }
}

impl ComparedValue {
    fn new(value: &MeasureValue) -> Self {
        match value {
            MeasureValue::None => Self::None(()),
            MeasureValue::Number(number) | MeasureValue::OneTo(number) => Self::Number(*number),
            MeasureValue::Words(words) => Self::Words(words.clone()),
        }
    }
}
