//! Speeds, limits and stops as they are printed.

use crate::curve::figures::{CurveFigure, Speed};
use crate::curve::{Errors, NineInTen};
use crate::quantity::Duration;
use crate::quantity::rounding::{show_decimals, show_short, to_step};
use crate::render::curve::characters::signed;

/// The file's own name, without its folders.
pub(in crate::render::curve) fn short(name: &str) -> &str {
    name.rsplit(['/', '\\']).next().unwrap_or(name)
}

/// `93 to 112`.
pub(in crate::render::curve) fn limits(limits: NineInTen, decimals: usize) -> String {
    format!("{} to {}", signed(limits.low, decimals), signed(limits.high, decimals))
}

/// Limits of a speed, to three figures at most.
pub(in crate::render::curve) fn speed_limits(limits: NineInTen) -> String {
    format!("{} to {}", speed_figure(limits.low), speed_figure(limits.high))
}

/// A speed as it reads.
pub(in crate::render::curve) fn speed_figure(value: f64) -> String {
    if value >= 1000.0 {
        show_decimals(to_step(value, 10.0), 0)
    } else if value >= 20.0 {
        show_decimals(value, 0)
    } else {
        show_short(value, 1)
    }
}

/// `0.81 (0.78 to 0.84)`.
pub(super) fn with_limits(figure: CurveFigure, decimals: usize) -> String {
    format!("{} ({})", signed(figure.value, decimals), limits(figure.limits, decimals))
}

/// `100/21°`; degrees alone beyond the series.
pub(in crate::render::curve) fn label(speed: &Speed) -> String {
    match speed.named {
        Some(named) => match named.label {
            Some(label) => format!("{}/{}°", show_short(label, 1), named.degrees),
            None => format!("{}°", named.degrees),
        },
        None => crate::doubt::NOT_KNOWN.to_owned(),
    }
}

/// What the limits hold.
pub(in crate::render::curve) fn errors_words(errors: Errors) -> String {
    let light = if errors.light_stops > 0.0 {
        format!("the light known to {} stop", stops_figure(errors.light_stops))
    } else {
        "the light taken as exact".to_owned()
    };
    format!("nine in ten: densities read to {} (standard deviation), {light}", show_short(errors.density, 3))
}

/// `1/3`, `0.5`.
fn stops_figure(stops: f64) -> String {
    if (stops - 1.0 / 3.0).abs() < 1e-9 { "1/3".to_owned() } else { show_short(stops, 2) }
}

/// A difference in stops, in words.
pub(super) fn stops_words(stops: f64) -> String {
    let figure = show_decimals(stops.abs(), 1);
    let noun = if figure == "1.0" || stops.abs() < 1.0 { "stop" } else { "stops" };
    format!("{figure} {noun}")
}

/// `30 %`.
pub(super) fn percent(ratio: f64) -> String {
    format!("{} %", show_decimals((ratio - 1.0).abs() * 100.0, 0))
}

/// `+0.4`, `−1.4`, `0.0`.
pub(in crate::render::curve) fn signed_plus(value: f64, decimals: usize) -> String {
    let text = signed(value, decimals);
    if value > 0.0 && text.chars().any(|own| ('1'..='9').contains(&own)) { format!("+{text}") } else { text }
}

/// A developing time to 5 s below 10 min, 15 s above: what a hand can keep.
pub(in crate::render::curve) fn clock(minutes: f64) -> String {
    let step = if minutes < 10.0 { 5.0 } else { 15.0 };
    let shown = Duration::from_s(to_step(minutes * 60.0, step)).to_string();
    shown.strip_suffix(" min").map_or(shown.clone(), str::to_owned)
}
