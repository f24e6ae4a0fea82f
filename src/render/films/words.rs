//! Films, and whether the stock is enough for them, in words.

use crate::bath::Basis;
use crate::bath::need::{CoveredTank, Need};
use crate::bath::rules::Span;
use crate::bath::stock::{StockCheck, StockGrade};
use crate::quantity::rounding::{show_short, show_significant};

/// A volume: millilitres below a litre, else litres.
pub(crate) fn volume_words(ml: f64) -> String {
    if ml >= 1000.0 {
        return format!("{} L", show_short(ml / 1000.0, 2));
    }
    format!("{} mL", show_short(ml, usize::from(ml < 10.0)))
}

/// Both ends of a span, or the one figure: `1.33 to 1.52`, `180`.
pub(crate) fn span_words(span: Span, decimals: usize) -> String {
    let (low, high) = (show_short(span.low, decimals), show_short(span.high, decimals));
    if low == high { low } else { format!("{low} to {high}") }
}

/// The tank in words: `tank small (290 mL)`, `a tank of 650 mL (usual; give yours with --tank)`.
fn tank_words(tank: &CoveredTank) -> String {
    match &tank.name {
        Some(name) => format!("tank {name}, {}", volume_words(tank.volume_ml)),
        None => format!("a tank of {}", volume_words(tank.volume_ml)),
    }
}

/// What the films ask for, on one line: which films, how much stock and by which figure, what the tank needs.
pub(crate) fn need_words(need: &Need) -> String {
    let (one, basis) = need.for_one_ml;
    let counted = if basis == Basis::Stated { "by the trade's count" } else { "by area" };
    let basis_words = match (&need.class, basis) {
        (Some(class), Basis::Rule) => format!("rule for its class: {class}"),
        _ => "stated".to_owned(),
    };
    let mut words = format!(
        "For {} ({}): {} mL, {} mL a film ({basis_words}), counted {counted}",
        need.films.words(),
        need.films.counts(),
        show_short(need.stock_ml, 0),
        show_significant(one),
    );
    let covered = need.tank.as_ref().map(tank_words);
    match (&covered, need.tank_decides) {
        (Some(tank), true) => words.push_str(&format!("; more, so that it covers the reels in {tank}")),
        (Some(tank), false) => words.push_str(&format!("; covers the reels in {tank}")),
        (None, _) => {
            words.push_str("; whether it covers the sheets in your tank is not checked: give --tank");
        }
    }
    words.push_str(&match &need.ratio {
        Some(_) => format!(". Used {}: {} of working solution.", need.bath, need.volume),
        None => format!(". Used {}.", need.bath),
    });
    words
}

/// Below this a volume of stock is told to a tenth, mL.
const SMALL_ML: f64 = 50.0;

/// Whether the stock is enough, in words, as card and `time` tell it too.
pub(crate) fn stock_words(check: &StockCheck) -> Vec<String> {
    let films = check.films.words();
    let ml = |value: f64| format!("{} mL", show_short(value, usize::from(value < SMALL_ML)));
    let basis = match (&check.class, &check.source) {
        (Some(class), _) => format!("rule for its class, no figure for this formula: {class}"),
        (None, Some(source)) => format!("stated: {source}"),
        (None, None) => "stated".to_owned(),
    };
    let mut words = Vec::new();
    match (check.grade, check.need_ml) {
        (StockGrade::NotKnown, _) | (_, None) => {
            words.push(
                "least stock for each film: not known, neither by this formula nor by a rule of its class; no check made"
                    .to_owned(),
            );
        }
        (StockGrade::Enough, Some(need)) => {
            words.push(format!(
                "enough: {films} need {} of stock and this holds {} [{basis}]",
                ml(need),
                ml(check.have_ml)
            ));
        }
        (StockGrade::Short, Some(need)) => {
            let longer = check.longer_percent.map_or_else(
                || "with somewhat more time".to_owned(),
                |span| format!("with about {} % more time", span_words(span, 0)),
            );
            words.push(format!(
                "too little stock for full development: {} of {} for {films}; it goes {longer}, as the class does down to {} [{basis}]",
                ml(check.have_ml),
                ml(need),
                check.least_ml.map_or_else(String::new, ml),
            ));
            words.extend(remedy(check));
        }
        (StockGrade::TooLittle, Some(need)) => {
            words.push(format!(
                "not enough, too little stock: {} of {} for {films}; do not stretch the time instead [{basis}]",
                ml(check.have_ml),
                ml(need),
            ));
            words.extend(remedy(check));
        }
    }
    if let (Some(grams), Some(all)) = (check.agent_g_per_film, check.agent_g) {
        let (doubtful, little) = check.agent_limits_g;
        if check.grade == StockGrade::NotKnown || check.basis == Basis::Rule {
            let sense = if grams < little {
                format!(": below {little} g, too little unless its source says otherwise")
            } else if grams < doubtful {
                format!(": below {doubtful} g, doubtful")
            } else {
                String::new()
            };
            words.push(format!(
                "developing agents in the tank: {} g, {} g a film by area{sense} (rule)",
                show_significant(all),
                show_significant(grams)
            ));
        }
    }
    words
}

/// What would be enough.
fn remedy(check: &StockCheck) -> Option<String> {
    let bigger =
        check.would_do_ml.map(|ml| format!("fuller development in {} at this dilution", volume_words(ml)));
    let undiluted = check.undiluted_ml.map(|ml| {
        format!("undiluted this tank is enough: {} mL of stock are needed, and no water", show_short(ml, 0))
    });
    let words: Vec<String> = undiluted.into_iter().chain(bigger).collect();
    (!words.is_empty()).then(|| format!("{}; or fewer films", words.join("; or ")))
}
