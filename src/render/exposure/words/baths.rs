//! Baths of a session: silver, capacity, washing.

use super::answer::{answer, fact, figure};
use crate::exposure::{Baths, TwoBaths, Washed};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::Document;

pub(crate) fn silver(
    milligrams: f64,
    limit: f64,
    sheets_per_litre: Option<f64>,
    baths: Option<(&Baths, &TwoBaths)>,
) -> Document {
    let until = match sheets_per_litre {
        Some(sheets) => {
            format!("{} sheets a litre to {} g/L of silver", show_short(sheets, 1), show_short(limit, 2))
        }
        None => format!(
            "{} g/L of silver is never reached: what is carried out keeps it below",
            show_short(limit, 2)
        ),
    };
    let mut facts = vec![fact("silver a sheet", format!("{} mg", show_short(milligrams, 2)))];
    let mut title = crate::render::capital(&until);
    if let Some((given, own)) = baths {
        title = format!(
            "After {} sheets: {} g/L in the first bath, {} in the second",
            show_short(given.sheets, 0),
            show_decimals(own.first_g_per_l, 2),
            show_decimals(own.second_g_per_l, 2)
        );
        facts.push(fact(
            "strength left in the first",
            format!("{} %", show_short(own.strength_left * 100.0, 0)),
        ));
        facts.push(fact("limit", until));
    }
    answer(
        title,
        facts,
        "Why: silver of the sheets less what they carry on. Customary limits: 0.5 g/L in a single bath for lasting prints, 2 g/L in the first of two. A silver test of the bath goes before any count.",
    )
}

pub(crate) fn capacity(units: Option<f64>, units_left: Option<f64>) -> Document {
    let title = match (units, units_left) {
        (_, Some(left)) if left >= 0.0 => format!("{} sheets of 8 × 10 in are left", show_short(left, 1)),
        (_, Some(left)) => format!("Spent: {} sheets of 8 × 10 in too many", show_short(-left, 1)),
        (Some(units), None) => format!("One sheet counts as {} of 8 × 10 in", show_short(units, 2)),
        (None, None) => "Nothing was asked".to_owned(),
    };
    answer(title, Vec::new(), "Why: a bath is used by area; 8 × 10 in, 516 cm², counts as one.")
}

pub(crate) fn wash(washed: Option<(f64, &Washed)>, residue: Option<(f64, f64)>) -> Document {
    let mut document = Document::new();
    if let Some((from_s, own)) = washed {
        let time = |seconds: f64| crate::quantity::Duration::from_s(seconds).to_string();
        document.title(format!("Wash {} in place of {}", time(own.seconds), time(from_s)));
        document.facts(vec![
            fact("factor", format!("× {}", figure(own.factor))),
            fact("diffusion alone", format!("× {}", figure(own.diffusion_ratio))),
        ]);
        document.paragraph("Why: twice the time for each 10 °C colder, a safe rule and not physics: salts leave the paper's fibres more slowly than they diffuse.");
    }
    if let Some((grams, milligrams)) = residue {
        document.title(format!(
            "{} g/m² is {} mg per square inch",
            show_short(grams, 4),
            show_short(milligrams, 5)
        ));
        document.paragraph("A drop test cannot read such figures: never take a number from it.");
    }
    document
}
