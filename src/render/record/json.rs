//! What `record --json` prints: entries, each with the fields of its kind.

use super::words::bottles;
use crate::journal::{Entry, Highlights, Shadows, Verdict, dilution_text};
use crate::quantity::Temperature;

/// `record list --json`.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ListBody {
    pub(crate) entries: Vec<EntryBody>,
    /// Entries that are kept but cannot be read, in words.
    pub(crate) unread: Vec<String>,
}

/// `record add --json`.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct AddedBody {
    pub(crate) journal: String,
    pub(crate) entry: EntryBody,
}

/// A bottle of an entry.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BottleBody {
    name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    part: Option<String>,
    /// Filled into it.
    #[serde(skip_serializing_if = "Option::is_none")]
    volume_ml: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    drawn_ml: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    returned_ml: Option<f64>,
}

impl BottleBody {
    fn named(name: &str) -> Self {
        Self { name: name.to_owned(), part: None, volume_ml: None, drawn_ml: None, returned_ml: None }
    }
}

/// What a batch took.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TakenBody {
    substance: String,
    amount: f64,
    /// `g` or `ml`.
    unit: &'static str,
}

/// An entry; what does not belong to its kind is absent.
#[derive(Debug, Default, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct EntryBody {
    kind: &'static str,
    date: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    film: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    formula: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    dilution: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    agitation: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seconds: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gradient: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    speed: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shadows: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    highlights: Option<&'static str>,
    /// Films or sheets as typed: `2x135-36`.
    #[serde(skip_serializing_if = "Option::is_none")]
    films: Option<String>,
    /// Films by the trade's count; of a count, the strokes on the label.
    #[serde(skip_serializing_if = "Option::is_none")]
    films_count: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    area_cm2: Option<f64>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    rolls: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    bottles: Vec<BottleBody>,
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    volume_ml: Option<f64>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    taken: Vec<TakenBody>,
    #[serde(skip_serializing_if = "Option::is_none")]
    subject: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    quantity: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    negative: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    paper: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    grade: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    exposure_s: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    exposure: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stops: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    by: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

impl EntryBody {
    #[allow(clippy::too_many_lines, reason = "one list of the fields of each kind")]
    pub(crate) fn new(entry: &Entry) -> Self {
        let body = Self {
            kind: entry.kind(),
            date: entry.date().to_string(),
            by: entry.by().map(str::to_owned),
            note: entry.note().map(str::to_owned),
            bottles: bottles(entry).map(BottleBody::named).collect(),
            ..Self::default()
        };
        match entry {
            Entry::Mixed(mixed) => Self {
                formula: mixed.formula.clone(),
                dilution: mixed.dilution.as_ref().map(dilution_text),
                volume_ml: mixed.volume_ml,
                bottles: mixed
                    .filled
                    .iter()
                    .map(|filled| BottleBody {
                        part: filled.part.clone(),
                        volume_ml: filled.volume_ml,
                        ..BottleBody::named(&filled.bottle)
                    })
                    .collect(),
                taken: mixed
                    .taken
                    .iter()
                    .map(|taken| TakenBody {
                        substance: taken.form.clone(),
                        amount: taken.amount,
                        unit: if taken.is_ml { "ml" } else { "g" },
                    })
                    .collect(),
                ..body
            },
            Entry::Developed(developed) => Self {
                film: developed.film.clone(),
                formula: Some(developed.formula.clone()),
                dilution: Some(dilution_text(&developed.dilution)),
                temperature_c: Some(Temperature::as_c(developed.temperature)),
                agitation: Some(developed.agitation.clone()),
                seconds: Some(developed.minutes * 60.0),
                gradient: developed.gradient,
                verdict: developed.verdict.map(Verdict::word),
                shadows: developed.shadows.map(Shadows::word),
                highlights: developed.highlights.map(Highlights::word),
                films: developed.films.as_ref().map(ToString::to_string),
                films_count: developed.films.as_ref().map(crate::quantity::Films::trade),
                area_cm2: developed.films.as_ref().map(crate::quantity::Films::area_cm2),
                rolls: developed.rolls.clone(),
                bottles: developed
                    .draws
                    .iter()
                    .map(|draw| BottleBody {
                        drawn_ml: draw.drawn_ml,
                        returned_ml: draw.returned_ml,
                        ..BottleBody::named(&draw.bottle)
                    })
                    .collect(),
                ..body
            },
            Entry::Judged(judged) => Self {
                rolls: vec![judged.roll.clone()],
                shadows: judged.shadows.map(Shadows::word),
                highlights: judged.highlights.map(Highlights::word),
                ..body
            },
            Entry::Replenished(replenished) => Self {
                formula: replenished.formula.clone(),
                volume_ml: replenished.volume_ml,
                from: replenished.from.clone(),
                bottles: vec![BottleBody::named(&replenished.bottle)],
                ..body
            },
            Entry::Measured(measured) => Self {
                bottles: Vec::new(),
                subject: Some(measured.subject.clone()),
                quantity: Some(measured.quantity.clone()),
                value: Some(measured.value),
                unit: measured.unit.clone(),
                film: measured.film.clone(),
                ..body
            },
            Entry::Curve(curve) => Self {
                film: Some(curve.film.clone()),
                formula: Some(curve.formula.clone()),
                dilution: Some(dilution_text(&curve.dilution)),
                temperature_c: Some(Temperature::as_c(curve.temperature)),
                agitation: Some(curve.agitation.clone()),
                seconds: Some(curve.minutes * 60.0),
                gradient: Some(curve.gradient),
                speed: curve.speed,
                rolls: curve.roll.iter().cloned().collect(),
                ..body
            },
            Entry::Printed(printed) => Self {
                films: Some(printed.sheets.to_string()),
                area_cm2: Some(printed.sheets.area_cm2()),
                negative: printed.negative.clone(),
                paper: printed.paper.clone(),
                grade: printed.grade.clone(),
                exposure_s: printed.exposure_s,
                exposure: printed.exposure.clone(),
                stops: printed.stops,
                ..body
            },
            Entry::Count(count) => Self { films_count: Some(count.films), ..body },
            Entry::Discarded(discarded) => {
                Self { formula: discarded.formula.clone(), volume_ml: discarded.volume_ml, ..body }
            }
        }
    }
}
