//! Limits: what to mind of an answer, each with what to do about it. A warning is told only where it applies.

mod warning;

use super::agitation::USUAL_FOR_PAPER;
use super::model::{Model, is_unread};
use super::product::{Key, Product};
use super::setup::{Alternative, Setup, TimeQuestion};
use crate::journal::Shadows;
use crate::quantity::Duration;
pub use warning::TimingWarning;

/// Tells other ways that do not agree with the one taken.
pub(super) fn disagreements(
    product: &Product,
    alternatives: &[Alternative],
    warnings: &mut Vec<TimingWarning>,
) {
    let (ln, down, up) = product.ln();
    let (used, low, high) = (ln.exp(), (ln - down).exp(), (ln + up).exp());
    for other in alternatives {
        // They disagree where neither range reaches the other's central value.
        let apart = !(low..=high).contains(&other.factor) && !(other.low..=other.high).contains(&used);
        if apart {
            warnings.push(TimingWarning::Disagreement { by: other.by.clone(), factor: other.factor, used });
        }
    }
}

/// Everything else that applies to an answer.
pub(super) fn collect(
    model: &Model<'_>,
    question: &TimeQuestion,
    product: &Product,
    time: Duration,
    warnings: &mut Vec<TimingWarning>,
) {
    identity(model, question, warnings);
    temperature(model, question, warnings);
    data_ranges(model, question, product, warnings);
    let limits = &model.table.limits;
    let to = &question.to;
    // It is the small tank that develops unevenly; a tray is moved all the time.
    let is_in_a_tray = to.developer.is_for_paper(&to.working) || to.agitation == USUAL_FOR_PAPER;
    if time.as_min() < limits.shortest_minutes && !is_in_a_tray {
        warnings.push(TimingWarning::TooShort { time, limit_minutes: limits.shortest_minutes });
    }
    if time.as_min() > limits.longest_minutes {
        warnings.push(TimingWarning::TooLong { time, limit_minutes: limits.longest_minutes });
    }
    stock(question, warnings);
    let agitates = product
        .terms()
        .any(|(key, term)| matches!(key, Key::Agitation(_)) && is_unread(term.per_unit.support));
    if agitates {
        warnings.push(TimingWarning::AgitationUncertain);
    }
    let wish = &question.wish;
    if wish.push != 0.0 {
        warnings.push(TimingWarning::Pushed { stops: wish.push });
    }
    let measured = product.terms().any(|(key, term)| {
        *key == Key::Contrast && term.per_unit.support == super::figure::Support::OwnRecord
    });
    if wish.gradient.is_some() && wish.known_gradient.is_none() && !measured {
        warnings.push(TimingWarning::NormalGradientTaken { normal: model.table.gradient.normal });
    }
}

fn identity(model: &Model<'_>, question: &TimeQuestion, warnings: &mut Vec<TimingWarning>) {
    let (from, to) = (&question.from.developer, &question.to.developer);
    let mut told: Vec<&str> = Vec::new();
    for developer in [from, to] {
        let hides = !developer.is_shipped && model.table.names_formula(&developer.id);
        if hides && !told.contains(&developer.id.as_str()) {
            told.push(&developer.id);
            warnings.push(TimingWarning::HidesShipped { id: developer.id.clone() });
        }
    }
    let is_film = |setup: &Setup| !setup.developer.is_for_paper(&setup.working);
    let classes = model.table.speed_of(from).zip(model.table.speed_of(to));
    if from != to && is_film(&question.to) {
        let speeds = &model.own.speeds;
        if let Some(speed) = speeds.get(&to.id) {
            let stops = speeds.get(&from.id).map(|known| (speed / known).log2());
            warnings.push(TimingWarning::MeasuredSpeed { formula: to.id.clone(), speed: *speed, stops });
        } else if let Some((known, wanted)) = classes
            && known != wanted
        {
            warnings.push(TimingWarning::Speed { formula: to.id.clone(), stops: wanted.against(known) });
        }
    }
    if is_film(&question.to)
        && let Some((date, shadows)) = model.own.shadows
        && shadows != Shadows::Right
    {
        let stops = (model.table.foot.slight_stops, model.table.foot.clear_stops);
        warnings.push(TimingWarning::Shadows { empty: shadows == Shadows::Empty, date, stops });
    }
}

fn temperature(model: &Model<'_>, question: &TimeQuestion, warnings: &mut Vec<TimingWarning>) {
    let limits = &model.table.limits;
    let celsius = question.to.temperature.as_c();
    if question.to.developer.has_hydroquinone() {
        if celsius < limits.hydroquinone_inactive_celsius {
            let limit_celsius = limits.hydroquinone_inactive_celsius;
            warnings.push(TimingWarning::HydroquinoneInactive { celsius, limit_celsius });
        } else if celsius < limits.hydroquinone_cold_celsius {
            warnings.push(TimingWarning::HydroquinoneCold {
                celsius,
                limit_celsius: limits.hydroquinone_cold_celsius,
            });
        }
    }
    if celsius > limits.gelatin_soft_celsius && !question.to.developer.is_for_paper(&question.to.working) {
        warnings.push(TimingWarning::GelatinSoft { celsius, limit_celsius: limits.gelatin_soft_celsius });
    }
}

/// Temperatures and dilutions outside the data behind the figures used.
fn data_ranges(
    model: &Model<'_>,
    question: &TimeQuestion,
    product: &Product,
    warnings: &mut Vec<TimingWarning>,
) {
    let mut by_books = false;
    for (key, term) in product.terms() {
        match key {
            Key::Temperature(of) => {
                by_books |= term.data.is_some();
                let near = model.table.limits.beyond_data_degrees;
                for at in outside(&term.steps, term.data.map(|(low, high)| (low - near, high + near))) {
                    let range_celsius = term.data.unwrap_or((at, at));
                    warnings.push(TimingWarning::TemperatureExtrapolated {
                        celsius: at,
                        range_celsius,
                        of: of.clone(),
                    });
                }
            }
            Key::Dilution(of) => {
                for at in outside(&term.steps, term.data) {
                    let range = term.data.unwrap_or((at, at));
                    warnings.push(TimingWarning::DilutionExtrapolated { ratio: at, range, of: of.clone() });
                }
            }
            _ => {}
        }
    }
    let limit_degrees = model.table.limits.doubtful_degrees;
    let degrees = (question.to.temperature.as_c() - question.from.temperature.as_c()).abs();
    if by_books && degrees > limit_degrees + 1e-6 {
        warnings.push(TimingWarning::LargeTemperatureStep { degrees, limit_degrees });
    }
    let to = &question.to;
    let ratio = to.working.ratio();
    let unusual =
        to.developer.named_ratios().is_some_and(|(low, high)| ratio > high * 1.001 || ratio < low * 0.999);
    if unusual {
        let (formula, dilution) = (to.developer.id.clone(), to.working.to_string());
        warnings.push(TimingWarning::UnusualDilution { formula, dilution });
    }
}

/// Ends of steps that lie outside a range, each once.
fn outside(steps: &[(f64, f64)], range: Option<(f64, f64)>) -> Vec<f64> {
    let Some((low, high)) = range else { return Vec::new() };
    let mut found: Vec<f64> = Vec::new();
    for at in steps.iter().flat_map(|(start, end)| [*start, *end]) {
        let is_outside = at < low - 0.05 || at > high + 0.05;
        if is_outside && !found.iter().any(|known| (known - at).abs() < 1e-6) {
            found.push(at);
        }
    }
    found
}

fn stock(question: &TimeQuestion, warnings: &mut Vec<TimingWarning>) {
    let Some(tank) = question.tank else { return };
    let to = &question.to;
    let Some(least) = to.developer.stock_ml_per_roll else {
        warnings.push(TimingWarning::StockNotKnown { formula: to.developer.id.clone() });
        return;
    };
    let ratio = to.working.ratio();
    let (have_ml, need_ml) = (tank.volume_ml / ratio, least * tank.rolls);
    if have_ml < need_ml * (1.0 - 1e-9) {
        warnings.push(TimingWarning::TooLittleStock { have_ml, need_ml, tank_ml: need_ml * ratio });
    }
}
