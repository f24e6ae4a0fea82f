//! How warm a solution gets while it is mixed, and how warm it ends, in words.

use super::values::celsius_words;
use crate::predict::heating::Finish;
use crate::predict::report::{Heating, Solution};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::{Column, Document};

pub(super) fn mixing_blocks(document: &mut Document, part: &Solution) {
    let of = part.name.as_ref().map_or_else(String::new, |name| format!(" of part {name}"));
    if part.heating.is_empty() && part.no_heating.is_none() {
        return;
    }
    document.heading(format!("While a litre{of} is mixed"));
    if let Some(reason) = &part.no_heating {
        document.paragraph(format!("No temperatures: {reason}."));
        return;
    }
    if let Some((millilitres, celsius)) = part.start {
        document.paragraph(format!(
            "Starting from {} mL of water at {}; each added at once, no heat lost:",
            show_short(millilitres, 0),
            celsius_words(celsius)
        ));
    }
    let rows = part
        .heating
        .iter()
        .map(|own| {
            let apart = if own.is_apart { ", dissolved apart" } else { "" };
            vec![format!("{}{apart}", own.form.name), heat_words(own)]
        })
        .collect();
    document.table(vec![Column::left("after"), Column::left("reads")], rows);
    for undissolved in &part.undissolved {
        document.caution(
            "NOTE",
            vec![format!(
                "{} does not dissolve whole in the water of its step: {} g in 100 g of it, of which {} dissolve at {}. The rest dissolves when the volume is made up.",
                undissolved.form.name,
                show_decimals(undissolved.grams_per_100_g, 0),
                show_decimals(undissolved.limit_g_per_100_g, 0),
                celsius_words(undissolved.celsius.round())
            )],
        );
    }
}

fn heat_words(heating: &Heating) -> String {
    match heating.after_c {
        None => "not known: a heat of solution is not in the data".to_owned(),
        Some(celsius) if celsius >= 100.0 => "it would boil and spit: never at once".to_owned(),
        Some(celsius) if celsius <= 0.0 => "near freezing: it stops dissolving before that".to_owned(),
        Some(celsius) if heating.needs_portions => {
            format!(
                "about {} if added at once: add it in portions, in ice water",
                celsius_words(celsius.round())
            )
        }
        Some(celsius) => format!("about {}", celsius_words(celsius.round())),
    }
}

/// One line on how warm a bath ends, and what it takes to end as wanted.
pub(crate) fn finish_line(finish: &Finish) -> String {
    let whole = |celsius: f64| format!("{} °C", show_short(celsius, 0));
    let ends = format!("Finishes at about {}", whole(finish.end_c));
    if let Some(near) = finish.endings.iter().find(|ending| finish.is_near(ending.target_c)) {
        return if whole(finish.end_c) == whole(near.target_c) {
            format!("{ends}, ready for use.")
        } else {
            format!("{ends}, near enough to the {} of use.", whole(near.target_c))
        };
    }
    let by_water: Vec<String> = finish
        .endings
        .iter()
        .filter_map(|ending| {
            Some(format!("at {} with make-up water at {}", whole(ending.target_c), whole(ending.top_up_c?)))
        })
        .collect();
    if !by_water.is_empty() {
        return format!("{ends}, or {}.", by_water.join(", "));
    }
    // Nothing is ever told to be warmed: some baths give off gas when they are.
    let first_c = finish.endings.first().map_or(20.0, |ending| ending.target_c);
    if finish.end_c > first_c {
        format!("{ends}. Cool it to {} before use.", whole(first_c))
    } else {
        format!("{ends}. Let it stand in the room until it reads {}.", whole(first_c))
    }
}
