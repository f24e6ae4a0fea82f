//! What stays dissolved in the bottle, in words.

use super::values::{celsius_words, grams_words, limit_words};
use crate::predict::margin::{Margin, SolubilityVerdict};
use crate::predict::report::Solution;
use crate::render::{Column, Document};

pub(super) fn storage_blocks(document: &mut Document, part: &Solution, storage_c: f64) {
    if part.margins.is_empty() {
        return;
    }
    let of = part.name.as_ref().map_or_else(String::new, |name| format!(", part {name}"));
    document.heading(format!("In the bottle at {}{of}", celsius_words(storage_c)));
    let rows = part
        .margins
        .iter()
        .map(|margin| {
            vec![
                margin.form.name.clone(),
                margin.grams_per_litre.map_or_else(|| crate::doubt::NOT_KNOWN.to_owned(), grams_words),
                limit_words(&margin.limit),
                verdict_words(margin),
            ]
        })
        .collect();
    document.table(
        vec![
            Column::left("chemical"),
            Column::right("contains"),
            Column::right("limit"),
            Column::left("result"),
        ],
        rows,
    );
    for margin in &part.margins {
        crystal_caution(document, margin);
    }
}

fn verdict_words(margin: &Margin) -> String {
    match margin.verdict() {
        SolubilityVerdict::Crystals => "it will crystallise".to_owned(),
        SolubilityVerdict::Close => "close to saturation".to_owned(),
        SolubilityVerdict::Dissolved => "stays dissolved".to_owned(),
        SolubilityVerdict::NotKnown => crate::doubt::NOT_KNOWN.to_owned(),
    }
}

fn crystal_caution(document: &mut Document, margin: &Margin) {
    let name = &margin.form.name;
    let below = margin
        .saturated_at_c
        .map_or_else(String::new, |celsius| format!(" below about {}", celsius_words(celsius.round())));
    match margin.verdict() {
        SolubilityVerdict::Crystals => document.caution(
            "CAUTION",
            vec![format!(
                "{name} crystallises{below}. Keep it warmer, make it weaker, or warm and stir the bottle until it is clear before each use: what has settled is missing from the solution."
            )],
        ),
        SolubilityVerdict::Close if !below.is_empty() => document.caution(
            "NOTE",
            vec![format!("{name} crystallises{below}: not into a cold room or a refrigerator.")],
        ),
        _ => {}
    }
}
