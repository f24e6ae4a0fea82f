//! Factors of factorial development in words.

use crate::quantity::Duration;
use crate::quantity::rounding::show_short;
use crate::render::{Column, Document};
use crate::timing::{Factorial, FactorialRow};

/// Factors of factorial development with the times they give.
pub(crate) fn factorial_document(appeared: Duration, factorial: &Factorial<'_>) -> Document {
    let mut document = Document::new();
    let agents = factorial.agents.iter().cloned().collect::<Vec<_>>().join(" + ");
    document.title(format!("{agents}: image after {appeared}"));
    let time = |factor: Option<f64>| {
        factor.map_or_else(String::new, |factor| {
            format!("{} (x{})", Duration::from_s(appeared.as_s() * factor), show_short(factor, 2))
        })
    };
    let rows = factorial.rows.iter().map(|row| {
        let strength = row.strength.clone().unwrap_or_else(|| "not stated".to_owned());
        vec![strength, time(row.soft), time(Some(row.figure.central)), time(row.strong)]
    });
    let columns = vec![
        Column::left("strength"),
        Column::right("soft"),
        Column::right("normal"),
        Column::right("strong"),
    ];
    document.table(columns, rows.collect());
    document.paragraph(spread_words(appeared, factorial));
    document.list(factorial.rows.iter().map(|row| factorial_source(row)).collect());
    document.paragraph(
        "Total time counts from pouring the developer on. The factor holds over moderate changes of temperature and alkali; that of pyro and amidol depends on strength. Work out your own: total time divided by time of appearance of a good negative.",
    );
    document
}

/// How far the sources are apart.
fn spread_words(appeared: Duration, factorial: &Factorial<'_>) -> String {
    let time = |factor: f64| Duration::from_s(appeared.as_s() * factor);
    if factorial.highest > factorial.lowest {
        format!(
            "The sources disagree, since they aim at different contrasts and strengths: factor {} to {}, that is {} to {}.",
            show_short(factorial.lowest, 2),
            show_short(factorial.highest, 2),
            time(factorial.lowest),
            time(factorial.highest)
        )
    } else {
        "A single figure; nothing to compare it with.".to_owned()
    }
}

fn factorial_source(row: &FactorialRow) -> String {
    let source = row.figure.source.clone().unwrap_or_else(|| row.figure.support.to_string());
    let note = row.figure.note.as_ref().map_or_else(String::new, |note| format!(" {note}"));
    format!("x{}: {source}.{note}", show_short(row.figure.central, 2))
}
