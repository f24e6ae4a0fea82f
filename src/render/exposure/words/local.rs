//! Burning in and holding back.

use super::answer::{answer, fact, s};
use crate::exposure::{Burn, Dodge};
use crate::quantity::rounding::show_decimals;
use crate::render::Document;

pub(crate) fn burn(burn: &Burn) -> Document {
    let through = if (burn.extra_s - burn.extra_base_s).abs() > 1e-9 {
        vec![fact("through the base's filter", format!("{} s", show_decimals(burn.extra_base_s, 2)))]
    } else {
        Vec::new()
    };
    answer(
        format!("Burn {} s more: {} stop on {}", show_decimals(burn.extra_s, 1), burn.stops, s(burn.base_s)),
        through,
        "Why: extra = base × (2^stops - 1). Write down the place and the stops; keep the card moving.",
    )
}

pub(crate) fn dodge(dodge: &Dodge) -> Document {
    let told: Vec<String> = dodge.stops.iter().map(ToString::to_string).collect();
    let facts = if dodge.each_s.len() > 1 {
        let each = dodge.stops.iter().zip(&dodge.each_s);
        each.map(|(stops, seconds)| (format!("{stops} stop"), format!("{} s", show_decimals(*seconds, 1))))
            .collect()
    } else {
        Vec::new()
    };
    answer(
        format!(
            "Hold back {} s of {}: {} stop",
            show_decimals(dodge.held_back_s, 1),
            s(dodge.base_s),
            told.join(" and ")
        ),
        facts,
        "Why: held back = base × (1 - 2^-stops), within the base exposure. Keep the tool moving.",
    )
}
