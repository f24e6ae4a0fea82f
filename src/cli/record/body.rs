//! Entries in words and in JSON.

use crate::journal::{Developed, Entry, Highlights, Shadows, Verdict, dilution_text};
use crate::quantity::rounding::show_short;
use crate::quantity::{Duration, Temperature};
use crate::render::{Column, Document};

/// The bottles that an entry is about.
pub(super) fn bottles(entry: &Entry) -> Box<dyn Iterator<Item = &str> + '_> {
    match entry {
        Entry::Mixed(own) => Box::new(own.filled.iter().map(|filled| filled.bottle.as_str())),
        Entry::Developed(own) => Box::new(own.draws.iter().map(|draw| draw.bottle.as_str())),
        Entry::Replenished(own) => Box::new([own.bottle.as_str()].into_iter().chain(own.from.as_deref())),
        Entry::Measured(own) => Box::new(std::iter::once(own.subject.as_str())),
        Entry::Printed(own) => Box::new(own.bottles.iter().map(String::as_str)),
        Entry::Count(own) => Box::new(std::iter::once(own.bottle.as_str())),
        Entry::Discarded(own) => Box::new(own.bottles.iter().map(String::as_str)),
        Entry::Judged(_) | Entry::Curve(_) => Box::new(std::iter::empty()),
    }
}

pub(super) fn list_document(entries: &[&Entry]) -> Document {
    let mut answer = Document::new();
    let (developed, others): (Vec<&Entry>, Vec<&Entry>) =
        entries.iter().partition(|entry| matches!(entry, Entry::Developed(_)));
    let rows = developed.iter().filter_map(|entry| match entry {
        Entry::Developed(own) => Some(developed_row(own)),
        _ => None,
    });
    let columns = vec![
        Column::left("date"),
        Column::left("film"),
        Column::left("developer"),
        Column::right("bath"),
        Column::left("agitation"),
        Column::right("time"),
        Column::right("gradient"),
        Column::left("verdict"),
    ];
    answer.table(columns, rows.collect());
    // What the table has no room for.
    answer.list(
        developed
            .iter()
            .filter_map(|entry| match entry {
                Entry::Developed(own) => Some((own, developed_more(own), entry)),
                _ => None,
            })
            .filter(|(_, more, _)| !more.is_empty())
            .map(|(own, more, entry)| format!("{} {}{}", own.date, more.join(", "), who(entry)))
            .collect(),
    );
    answer.list(others.into_iter().map(entry_words).collect());
    if entries.is_empty() {
        answer.paragraph("No entries.");
    }
    answer
}

fn developed_row(own: &Developed) -> Vec<String> {
    vec![
        own.date.to_string(),
        own.film.clone().unwrap_or_default(),
        format!("{} {}", own.formula, dilution_text(&own.dilution)),
        own.temperature.to_string(),
        own.agitation.clone(),
        Duration::from_min(own.minutes).to_string(),
        own.gradient.map_or_else(String::new, |gradient| show_short(gradient, 2)),
        own.verdict.map_or_else(String::new, |verdict| verdict.word().to_owned()),
    ]
}

/// What was said of bottles, rolls and negatives.
fn developed_more(own: &Developed) -> Vec<String> {
    let mut more = Vec::new();
    more.extend(own.films.as_ref().map(crate::quantity::Films::words));
    if !own.rolls.is_empty() {
        more.push(format!("roll {}", own.rolls.join(", ")));
    }
    for draw in &own.draws {
        let mut words = format!("bottle {}", draw.bottle);
        if let Some(drawn) = draw.drawn_ml {
            words.push_str(&format!(", {} drawn", ml(drawn)));
        }
        if let Some(returned) = draw.returned_ml {
            words.push_str(&format!(", {} back", ml(returned)));
        }
        more.push(words);
    }
    more.extend(judgement(own.shadows, own.highlights));
    more
}

fn judgement(shadows: Option<Shadows>, highlights: Option<Highlights>) -> Option<String> {
    let shadows = shadows.map(|word| format!("shadows {}", word.word()));
    let highlights = highlights.map(|word| format!("highlights {}", word.word()));
    let words: Vec<String> = shadows.into_iter().chain(highlights).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

fn ml(millilitres: f64) -> String {
    format!("{} mL", show_short(millilitres, 1))
}

/// Who did it, and what else was said.
fn who(entry: &Entry) -> String {
    let by = entry.by().map(|by| format!(", by {by}"));
    let note = entry.note().map(|note| format!(" ({note})"));
    format!("{}{}", by.unwrap_or_default(), note.unwrap_or_default())
}

/// An entry on one line.
pub(super) fn entry_words(entry: &Entry) -> String {
    let words =
        match entry {
            Entry::Mixed(own) => {
                let mut words: Vec<String> = own.formula.iter().cloned().collect();
                words.extend(own.dilution.as_ref().map(dilution_text));
                words.extend(own.volume_ml.map(ml));
                words.extend(own.filled.iter().map(|filled| format!("bottle {}", filled.bottle)));
                words
            }
            Entry::Developed(own) => {
                let mut words = developed_row(own);
                words.retain(|cell| !cell.is_empty());
                words.remove(0);
                words.extend(developed_more(own));
                words
            }
            Entry::Judged(own) => {
                let mut words = vec![format!("roll {}", own.roll)];
                words.extend(judgement(own.shadows, own.highlights));
                words
            }
            Entry::Replenished(own) => {
                let mut words = vec![format!("bottle {}", own.bottle)];
                words.extend(own.formula.clone());
                words.extend(own.volume_ml.map(ml));
                words.extend(own.from.as_ref().map(|from| format!("from {from}")));
                words
            }
            Entry::Measured(own) => {
                let unit = own.unit.as_ref().map_or_else(String::new, |unit| format!(" {unit}"));
                let mut words =
                    vec![own.subject.clone(), format!("{} {}{unit}", own.quantity, show_short(own.value, 3))];
                words.extend(own.film.clone());
                words
            }
            Entry::Curve(own) => {
                let mut words: Vec<String> = own.roll.iter().map(|roll| format!("roll {roll}")).collect();
                words.extend([
                    own.film.clone(),
                    format!("{} {}", own.formula, dilution_text(&own.dilution)),
                    own.temperature.to_string(),
                    own.agitation.clone(),
                    Duration::from_min(own.minutes).to_string(),
                    format!("gradient {}", show_short(own.gradient, 2)),
                ]);
                words.extend(own.speed.map(|speed| format!("speed {}", show_short(speed, 0))));
                words
            }
            Entry::Printed(own) => {
                let mut words = vec![own.sheets.words()];
                words.extend(own.bottles.iter().map(|bottle| format!("bottle {bottle}")));
                words.extend(own.negative.clone());
                words.extend(own.paper.clone());
                words.extend(own.grade.as_ref().map(|grade| format!("grade {grade}")));
                words.extend(own.exposure_s.map(|seconds| format!("{} s", show_short(seconds, 1))));
                words.extend(
                    own.exposure
                        .as_deref()
                        .and_then(|text| text.split_once("; "))
                        .map(|(_, places)| places.to_owned()),
                );
                words.extend(own.stops.map(|stops| {
                    format!("{}{} stop", if stops > 0.0 { "+" } else { "" }, show_short(stops, 2))
                }));
                words
            }
            Entry::Count(own) => {
                vec![format!("bottle {}", own.bottle), format!("{} films", show_short(own.films, 2))]
            }
            Entry::Discarded(own) => own.bottles.iter().map(|bottle| format!("bottle {bottle}")).collect(),
        };
    format!("{} {}: {}{}", entry.date(), entry.kind(), words.join(", "), who(entry))
}

/// `record list --json`.
#[derive(serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ListBody {
    pub(super) entries: Vec<EntryBody>,
    /// Entries that are kept but cannot be read, in words.
    pub(super) unread: Vec<String>,
}

/// `record add --json`.
#[derive(serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct AddedBody {
    pub(super) journal: String,
    pub(super) entry: EntryBody,
}

/// A bottle of an entry.
#[derive(serde::Serialize)]
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
#[derive(serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TakenBody {
    substance: String,
    amount: f64,
    /// `g` or `ml`.
    unit: &'static str,
}

/// An entry; what does not belong to its kind is absent.
#[derive(Default, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct EntryBody {
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
    pub(super) fn new(entry: &Entry) -> Self {
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
