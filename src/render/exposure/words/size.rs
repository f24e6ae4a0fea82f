//! Another size of print.

use super::answer::{answer, fact, figure, long, more_or_less, of_stops, s};
use crate::exposure::{Resized, Stops};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::Document;

pub(crate) fn size(resized: &Resized) -> Document {
    let is_question = resized.to_magnification.is_none() && resized.from_magnification.is_some();
    let title = match (resized.from_s, resized.seconds, resized.from_magnification) {
        (Some(from), Some(to), _) => format!("{} → {}: {}", s(from), long(to), more_or_less(resized.stops)),
        (_, _, Some(size)) if is_question => format!("Magnification {}", figure(size)),
        _ => format!("× {}: {}", figure(resized.factor), more_or_less(resized.stops)),
    };
    let mut facts = Vec::new();
    if let Some((from, to)) = resized.from_magnification.zip(resized.to_magnification) {
        facts.push(fact("magnification", format!("{} to {}", figure(from), figure(to))));
    }
    if let Some(zero) = resized.column_zero_mm {
        facts.push(fact("column's zero", format!("the scale reads {} mm too much", show_short(zero, 1))));
    }
    if !is_question {
        facts.push(fact("factor", format!("× {}", figure(resized.factor))));
        facts.push(fact(
            "time kept",
            match resized.stops.unsigned().as_str() {
                "0" => "nothing to change".to_owned(),
                _ if resized.stops.get() > 0.0 => format!("open by {}", of_stops(resized.stops)),
                _ => format!("close by {}", of_stops(resized.stops)),
            },
        ));
    }
    if let Some((exact, nominal)) = resized.aperture.zip(resized.nominal_aperture) {
        facts.push(fact(
            "diaphragm",
            format!("{exact} stops (the engraved figures would give {})", show_decimals(nominal.get(), 3)),
        ));
    }
    let err = |stops: Stops| {
        let by = show_decimals(stops.size().get(), 2);
        if stops.get() >= 0.0 { format!("{by} stop too much") } else { format!("{by} stop too little") }
    };
    if let Some(error) = resized.area_rule_error {
        facts.push(fact("the area rule would give", err(error)));
    }
    if let Some(error) = resized.height_squared_rule_error {
        facts.push(fact("the height squared would give", err(error)));
    }
    let reason = if is_question {
        "Why: negative to paper is f (1 + m)² / m; m is the larger root. Measure it once on a ruled scale in the carrier."
    } else {
        "Why: the light goes as the square of the distance from lens to paper, f (1 + m): ((1 + m2) / (1 + m1))², not as the area of the picture. Measure m on the same detail, never from paper sizes."
    };
    answer(title, facts, reason)
}
