//! Entries of the journal in words: those of development in a table, the others a line each.

use crate::journal::{Developed, Entry, Highlights, Shadows, dilution_text};
use crate::quantity::Duration;
use crate::quantity::rounding::show_short;
use crate::render::{Column, Document};

/// The bottles that an entry is about.
pub(crate) fn bottles(entry: &Entry) -> Box<dyn Iterator<Item = &str> + '_> {
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

/// The entries: those of development as a table, then the others.
pub(crate) fn list_document(entries: &[&Entry]) -> Document {
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
pub(crate) fn entry_words(entry: &Entry) -> String {
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
