//! Entries of the journal in words: those of development in a table, the others a line each.

use crate::journal::{Developed, Entry, Highlights, Shadows, dilution_text};
use crate::quantity::Duration;
use crate::quantity::rounding::show_short;
use crate::render::{Column, Document};

/// The bottles that an entry is about.
pub(crate) fn bottles(entry: &Entry) -> Box<dyn Iterator<Item = &str> + '_> {
    match entry {
        Entry::Mixed(mixed) => Box::new(mixed.filled.iter().map(|filled| filled.bottle.as_str())),
        Entry::Developed(developed) => Box::new(developed.draws.iter().map(|draw| draw.bottle.as_str())),
        Entry::Replenished(replenished) => {
            Box::new([replenished.bottle.as_str()].into_iter().chain(replenished.from.as_deref()))
        }
        Entry::Measured(measured) => Box::new(std::iter::once(measured.subject.as_str())),
        Entry::Printed(printed) => Box::new(printed.bottles.iter().map(String::as_str)),
        Entry::Count(count) => Box::new(std::iter::once(count.bottle.as_str())),
        Entry::Discarded(discarded) => Box::new(discarded.bottles.iter().map(String::as_str)),
        Entry::Judged(_) | Entry::Curve(_) => Box::new(std::iter::empty()),
    }
}

/// The entries: those of development as a table, then the others.
pub(crate) fn list_document(entries: &[&Entry]) -> Document {
    let mut answer = Document::new();
    let (developed, others): (Vec<&Entry>, Vec<&Entry>) =
        entries.iter().partition(|entry| matches!(entry, Entry::Developed(_)));
    let rows = developed.iter().filter_map(|entry| match entry {
        Entry::Developed(developed) => Some(developed_row(developed)),
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
                Entry::Developed(developed) => Some((developed, developed_more(developed), entry)),
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

fn developed_row(developed: &Developed) -> Vec<String> {
    vec![
        developed.date.to_string(),
        developed.film.clone().unwrap_or_default(),
        format!("{} {}", developed.formula, dilution_text(&developed.dilution)),
        developed.temperature.to_string(),
        developed.agitation.clone(),
        Duration::from_min(developed.minutes).to_string(),
        developed.gradient.map_or_else(String::new, |gradient| show_short(gradient, 2)),
        developed.verdict.map_or_else(String::new, |verdict| verdict.word().to_owned()),
    ]
}

/// What was said of bottles, rolls and negatives.
fn developed_more(developed: &Developed) -> Vec<String> {
    let mut more = Vec::new();
    more.extend(developed.films.as_ref().map(crate::quantity::Films::words));
    if !developed.rolls.is_empty() {
        more.push(format!("roll {}", developed.rolls.join(", ")));
    }
    for draw in &developed.draws {
        let mut words = format!("bottle {}", draw.bottle);
        if let Some(drawn) = draw.drawn_ml {
            words.push_str(&format!(", {} drawn", ml(drawn)));
        }
        if let Some(returned) = draw.returned_ml {
            words.push_str(&format!(", {} back", ml(returned)));
        }
        more.push(words);
    }
    more.extend(judgement(developed.shadows, developed.highlights));
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
            Entry::Mixed(mixed) => {
                let mut words: Vec<String> = mixed.formula.iter().cloned().collect();
                words.extend(mixed.dilution.as_ref().map(dilution_text));
                words.extend(mixed.volume_ml.map(ml));
                words.extend(mixed.filled.iter().map(|filled| format!("bottle {}", filled.bottle)));
                words
            }
            Entry::Developed(developed) => {
                let mut words = developed_row(developed);
                words.retain(|cell| !cell.is_empty());
                words.remove(0);
                words.extend(developed_more(developed));
                words
            }
            Entry::Judged(judged) => {
                let mut words = vec![format!("roll {}", judged.roll)];
                words.extend(judgement(judged.shadows, judged.highlights));
                words
            }
            Entry::Replenished(replenished) => {
                let mut words = vec![format!("bottle {}", replenished.bottle)];
                words.extend(replenished.formula.clone());
                words.extend(replenished.volume_ml.map(ml));
                words.extend(replenished.from.as_ref().map(|from| format!("from {from}")));
                words
            }
            Entry::Measured(measured) => {
                let unit = measured.unit.as_ref().map_or_else(String::new, |unit| format!(" {unit}"));
                let mut words = vec![
                    measured.subject.clone(),
                    format!("{} {}{unit}", measured.quantity, show_short(measured.value, 3)),
                ];
                words.extend(measured.film.clone());
                words
            }
            Entry::Curve(curve) => {
                let mut words: Vec<String> = curve.roll.iter().map(|roll| format!("roll {roll}")).collect();
                words.extend([
                    curve.film.clone(),
                    format!("{} {}", curve.formula, dilution_text(&curve.dilution)),
                    curve.temperature.to_string(),
                    curve.agitation.clone(),
                    Duration::from_min(curve.minutes).to_string(),
                    format!("gradient {}", show_short(curve.gradient, 2)),
                ]);
                words.extend(curve.speed.map(|speed| format!("speed {}", show_short(speed, 0))));
                words
            }
            Entry::Printed(printed) => {
                let mut words = vec![printed.sheets.words()];
                words.extend(printed.bottles.iter().map(|bottle| format!("bottle {bottle}")));
                words.extend(printed.negative.clone());
                words.extend(printed.paper.clone());
                words.extend(printed.grade.as_ref().map(|grade| format!("grade {grade}")));
                words.extend(printed.exposure_s.map(|seconds| format!("{} s", show_short(seconds, 1))));
                words.extend(
                    printed
                        .exposure
                        .as_deref()
                        .and_then(|text| text.split_once("; "))
                        .map(|(_, places)| places.to_owned()),
                );
                words.extend(printed.stops.map(|stops| {
                    format!("{}{} stop", if stops > 0.0 { "+" } else { "" }, show_short(stops, 2))
                }));
                words
            }
            Entry::Count(count) => {
                vec![format!("bottle {}", count.bottle), format!("{} films", show_short(count.films, 2))]
            }
            Entry::Discarded(discarded) => {
                discarded.bottles.iter().map(|bottle| format!("bottle {bottle}")).collect()
            }
        };
    format!("{} {}: {}{}", entry.date(), entry.kind(), words.join(", "), who(entry))
}
