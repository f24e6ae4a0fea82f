//! Seconds, filters, meter and lamp.

use super::answer::{answer, fact, figure, long, more_or_less, s};
use crate::exposure::{
    Change, Filtered, LampEffect, LampLoss, Metered, MeteredShadow, Stops, StripMethod, TestStrip,
};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::Document;

pub(crate) fn change(change: &Change) -> Document {
    let title = match (change.from_s, change.seconds) {
        (Some(from), Some(to)) => format!("{} → {}: {}", s(from), long(to), more_or_less(change.stops)),
        _ => format!("{} stop: {}", change.stops, more_or_less(change.stops)),
    };
    let facts = vec![
        fact("factor", format!("× {}", figure(change.stops.factor()))),
        fact("stops", show_decimals(change.stops.get(), 3)),
        fact("log exposure", show_decimals(change.stops.log_exposure(), 3)),
    ];
    answer(
        title,
        facts,
        "Why: a stop doubles the exposure, t2 = t1 × 2^stops. Keep the stops, not the seconds: they survive a change of size.",
    )
}

/// What the hand does at a setting.
pub(super) fn hand(strip: &TestStrip, index: usize) -> String {
    let number = strip.strip_of(index) + 1;
    match (strip.request.method, index) {
        (StripMethod::Cover, 0) => "all open".to_owned(),
        (StripMethod::Cover, 1) => "cover 1".to_owned(),
        (StripMethod::Cover, _) => format!("cover 1 to {index}"),
        (StripMethod::Uncover, 0) | (StripMethod::Apart, _) => format!("only {number} open"),
        (StripMethod::Uncover, _) if number == 1 => "all open".to_owned(),
        (StripMethod::Uncover, _) => format!("open {number} to {}", strip.totals_s.len()),
    }
}

/// `lamp`, measured.
pub(crate) fn lamp_loss(lamp: &LampLoss) -> Document {
    let cost = |seconds: f64| Stops::from_ratio((seconds - lamp.lost_s).max(1e-6) / seconds);
    let facts = [2.0, 5.0, 10.0, 20.0]
        .into_iter()
        .filter(|seconds| *seconds > lamp.lost_s)
        .map(|seconds| (format!("at {seconds} s"), format!("{} stop", show_decimals(cost(seconds).get(), 3))))
        .collect();
    answer(
        format!("Each switching loses {} s", show_short(lamp.lost_s, 3)),
        facts,
        "Why: (pulses × pulse - one exposure) / (pulses - 1). It holds intermittency as well. Discharge and fluorescent heads settle in minutes: leave them burning behind a shutter.",
    )
}

/// `lamp`, what a loss does.
pub(crate) fn lamp_effect(lamp_effect: &LampEffect) -> Document {
    answer(
        format!(
            "{} set gives {}: {} stop",
            s(lamp_effect.setting_s),
            s(lamp_effect.seconds),
            show_decimals(lamp_effect.stops.get(), 3)
        ),
        vec![fact("to get the whole time", format!("set {}", show_short(lamp_effect.set_s, 2) + " s"))],
        "Why: the paper gets the setting less what the lamp loses in coming on, log2((t - lost) / t).",
    )
}

pub(crate) fn filter(filtered: &Filtered) -> Document {
    answer(
        format!("{} → {}: {}", s(filtered.from_s), long(filtered.seconds), more_or_less(filtered.stops)),
        vec![fact("factor", format!("× {}", figure(filtered.factor)))],
        "Why: the ratio of your own factors (or of the paper speeds). A factor holds for the tone, lamp and paper it was measured with.",
    )
}

pub(crate) fn metered(metered: &Metered, shadow: Option<&MeteredShadow>) -> Document {
    let mut facts = Vec::new();
    if let Some(shadow) = shadow {
        facts.push(fact("log exposure of the shadow", show_decimals(shadow.log_exposure, 3)));
        if let Some(short) = shadow.short_of_black {
            let side = if short > 0.0 { "short of black" } else { "beyond black" };
            facts.push(fact("that is", format!("{} {side}", show_decimals(short.abs(), 3))));
        }
    }
    answer(
        format!("Expose {}", long(metered.seconds)),
        facts,
        "Why: time = 1000 × 10^density / (paper speed × lux), which prints that density at 0.60 above base; with the paper's own log exposure, 10^(log H + density) / lux. Lux at the easel without a negative.",
    )
}
