//! Parts poured together in a ratio that somebody asks for, and whether the formula knows it.

use super::Objection;
use crate::formula::{Bath, Formula};
use crate::quantity::MixRatio;

/// A ratio as a bath of a formula: a figure for each part in its order, and the last one water if there is one more.
pub fn bath_of_ratio(formula: &Formula, ratio: &MixRatio) -> Bath {
    let (figures, parts) = (ratio.parts(), &formula.parts);
    let shares = parts.iter().zip(figures).filter(|(_, figure)| **figure > 0.0);
    Bath {
        shares: shares.map(|(part, figure)| (part.share_name().to_owned(), *figure)).collect(),
        water: figures.get(parts.len()).copied().unwrap_or(0.0),
    }
}

/// That the formula names no such use, with those that it names.
pub fn not_a_use(formula: &Formula) -> String {
    let uses: Vec<String> = formula
        .uses
        .iter()
        .map(|listed_use| format!("{}: {}", listed_use.name, listed_use.phrase()))
        .collect();
    if uses.is_empty() {
        return "not a use of this formula: its file names none".to_owned();
    }
    format!("not a use of this formula; its uses are {}", uses.join("; "))
}

/// Parts of two baths poured into one, where the formula uses them one after the other and never together.
pub fn two_baths(formula: &Formula, asked: &Bath) -> Option<Objection> {
    let has = |bath: &Bath, name: &str| bath.shares.iter().any(|(own, _)| own.eq_ignore_ascii_case(name));
    let names: Vec<&str> = asked.shares.iter().map(|(name, _)| name.as_str()).collect();
    let baths = || formula.uses.iter().flat_map(|listed_use| &listed_use.baths);
    let are_apart = |one: &str, two: &str| {
        baths().any(|bath| has(bath, one))
            && baths().any(|bath| has(bath, two))
            && !baths().any(|bath| has(bath, one) && has(bath, two))
    };
    let (one, two) = names.iter().enumerate().find_map(|(index, one)| {
        let two = names.iter().skip(index + 1).find(|two| are_apart(one, two))?;
        Some((*one, *two))
    })?;
    let text = format!("{one} and {two} are baths used one after the other, and never mixed");
    let fix = format!("dilute one of them: {}", not_a_use(formula));
    Some(Objection::not_this_way("two-baths", asked.to_string(), text, fix))
}
