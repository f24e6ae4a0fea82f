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
            Entry::Mixed(own) => Self {
                formula: own.formula.clone(),
                dilution: own.dilution.as_ref().map(dilution_text),
                volume_ml: own.volume_ml,
                bottles: own
                    .filled
                    .iter()
                    .map(|filled| BottleBody {
                        part: filled.part.clone(),
                        volume_ml: filled.volume_ml,
                        ..BottleBody::named(&filled.bottle)
                    })
                    .collect(),
                taken: own
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
            Entry::Developed(own) => Self {
                film: own.film.clone(),
                formula: Some(own.formula.clone()),
                dilution: Some(dilution_text(&own.dilution)),
                temperature_c: Some(Temperature::as_c(own.temperature)),
                agitation: Some(own.agitation.clone()),
                seconds: Some(own.minutes * 60.0),
                gradient: own.gradient,
                verdict: own.verdict.map(Verdict::word),
                shadows: own.shadows.map(Shadows::word),
                highlights: own.highlights.map(Highlights::word),
                films: own.films.as_ref().map(ToString::to_string),
                films_count: own.films.as_ref().map(crate::quantity::Films::trade),
                area_cm2: own.films.as_ref().map(crate::quantity::Films::area_cm2),
                rolls: own.rolls.clone(),
                bottles: own
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
            Entry::Judged(own) => Self {
                rolls: vec![own.roll.clone()],
                shadows: own.shadows.map(Shadows::word),
                highlights: own.highlights.map(Highlights::word),
                ..body
            },
            Entry::Replenished(own) => Self {
                formula: own.formula.clone(),
                volume_ml: own.volume_ml,
                from: own.from.clone(),
                bottles: vec![BottleBody::named(&own.bottle)],
                ..body
            },
            Entry::Measured(own) => Self {
                bottles: Vec::new(),
                subject: Some(own.subject.clone()),
                quantity: Some(own.quantity.clone()),
                value: Some(own.value),
                unit: own.unit.clone(),
                film: own.film.clone(),
                ..body
            },
            Entry::Curve(own) => Self {
                film: Some(own.film.clone()),
                formula: Some(own.formula.clone()),
                dilution: Some(dilution_text(&own.dilution)),
                temperature_c: Some(Temperature::as_c(own.temperature)),
                agitation: Some(own.agitation.clone()),
                seconds: Some(own.minutes * 60.0),
                gradient: Some(own.gradient),
                speed: own.speed,
                rolls: own.roll.iter().cloned().collect(),
                ..body
            },
            Entry::Printed(own) => Self {
                films: Some(own.sheets.to_string()),
                area_cm2: Some(own.sheets.area_cm2()),
                negative: own.negative.clone(),
                paper: own.paper.clone(),
                grade: own.grade.clone(),
                exposure_s: own.exposure_s,
                exposure: own.exposure.clone(),
                stops: own.stops,
                ..body
            },
            Entry::Count(own) => Self { films_count: Some(own.films), ..body },
            Entry::Discarded(own) => Self { formula: own.formula.clone(), volume_ml: own.volume_ml, ..body },
        }
    }
}
