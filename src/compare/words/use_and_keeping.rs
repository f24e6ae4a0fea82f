//! Baths, dilution, pH and keeping.

use super::developing::CHANGES_THE_PICTURE;
use super::figures::differs;
use super::{Difference, PairDifferences, ROUNDING, Topic};
use crate::compare::facts::{DifferenceReason, Facts, SOLVENT_SULFITE_G};
use crate::compare::{ComparedPh, sulfite_g};
use crate::composition::Composer;
use crate::formula::{Bath, Formula, Kind};
use crate::quantity::rounding::{show_decimals, show_short, show_significant};

/// Least difference of two predicted pH that is worth a word.
const LEAST_PH: f64 = 0.1;

pub(super) fn bath_count(teller: &mut PairDifferences<'_>) {
    let (own, other) = (teller.own.compositions.len(), teller.other.compositions.len());
    let figures = format!("{own} {} against {other}", if own == 1 { "bath" } else { "baths" });
    if own > 1 && teller.own.agents().next().is_some() {
        teller.tell(Topic::Baths, &figures, &teller.facts.told.two_baths);
    } else {
        teller.figures(Topic::Baths, figures);
    }
}

/// How the first uses are diluted.
pub(super) fn dilution(teller: &mut PairDifferences<'_>, formula: &Formula, first: &Formula, develops: bool) {
    let (Some(own), Some(other)) = (formula.uses.first(), first.uses.first()) else { return };
    let (mine, theirs) = (own.phrase(), other.phrase());
    if mine == theirs {
        return;
    }
    let water = |baths: &[Bath]| baths.first().map_or(0.0, |bath| bath.water / bath.total());
    let text = format!("first used {mine} against {theirs}");
    if develops && water(&own.baths) > water(&other.baths) + 0.01 {
        teller.tell(Topic::Dilution, &text, &teller.facts.told.diluted);
    } else {
        teller.figures(Topic::Dilution, text);
    }
}

/// A formula's own weaker uses in which its sulfite falls below the level that shows in the grain.
pub(super) fn weaker_use(
    place: usize,
    formula: &Formula,
    composer: &Composer<'_>,
    facts: &Facts,
) -> Option<Difference> {
    let strongest = |baths: &[Bath]| {
        let sulfite = |bath: &Bath| sulfite_g(&composer.bath(formula, bath), composer.chemistry());
        baths.iter().map(sulfite).fold(0.0, f64::max)
    };
    let (first, others) = formula.uses.split_first()?;
    let limit = SOLVENT_SULFITE_G;
    // The grain of a print is not seen.
    if formula.kind != Kind::FilmDeveloper || strongest(&first.baths) <= limit {
        return None;
    }
    let weaker: Vec<String> = others
        .iter()
        .map(|own| (own, strongest(&own.baths)))
        .filter(|(_, grams)| *grams <= limit * (1.0 + ROUNDING))
        .map(|(own, grams)| {
            let baths = own.phrase();
            format!("{} g/L at {baths}", show_significant(grams))
        })
        .collect();
    if weaker.is_empty() {
        return None;
    }
    let fact = &facts.told.falls_below_solvent;
    let text = format!("diluted, its sulfite falls to {}. {}", weaker.join(" and "), fact.text);
    Some(Difference { formula: place, against: place, topic: Topic::Dilution, text, reason: fact.reason() })
}

pub(super) fn ph(teller: &mut PairDifferences<'_>) {
    let ([Some(own)], [Some(other)]) = (teller.own.ph.as_slice(), teller.other.ph.as_slice()) else { return };
    if (own.value - other.value).abs() < LEAST_PH {
        return;
    }
    let words = |ph: &ComparedPh| {
        format!("{} ± {}", show_decimals(ph.value, 1), show_decimals(ph.error.max(LEAST_PH), 1))
    };
    let sure = if (own.value - other.value).abs() < own.error.max(other.error) {
        "; that is within the error of the prediction"
    } else {
        ""
    };
    let text = format!("pH {} against {}{sure}", words(own), words(other));
    teller.push(Topic::Ph, text, DifferenceReason::Predicted);
}

/// How long a full bottle keeps, of the part that keeps least.
pub(super) fn keeping(teller: &mut PairDifferences<'_>, formula: &Formula, first: &Formula) {
    let days = |formula: &Formula| {
        formula.parts.iter().filter_map(|part| part.keeping.full_bottle_days).min_by(f64::total_cmp)
    };
    if let (Some(own), Some(other)) = (days(formula), days(first))
        && differs(own, other, CHANGES_THE_PICTURE)
    {
        let words = if own > other { "keeps longer" } else { "keeps shorter" };
        let show = |days: f64| format!("{} days", show_short(days, 0));
        let text = format!("{words}: {} in a full bottle against {}", show(own), show(other));
        teller.push(Topic::Keeping, text, DifferenceReason::Stated);
    }
}
