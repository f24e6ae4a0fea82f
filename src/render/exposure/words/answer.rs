//! An answer: the figure first, then what it rests on.

use crate::exposure::Stops;
use crate::quantity::rounding::show_short;
use crate::render::Document;

/// Seconds with a tenth: what a timer takes.
pub(super) fn s(seconds: f64) -> String {
    let decimals = if seconds.abs() < 1.0 { 2 } else { 1 };
    format!("{} s", show_short(seconds, decimals))
}

/// Seconds as counted, with what they are in minutes where that is longer than two.
pub(super) fn long(seconds: f64) -> String {
    if seconds < 120.0 {
        return s(seconds);
    }
    format!("{} ({})", s(seconds), crate::quantity::Duration::from_s(seconds))
}

/// `1 stop`, `1/3 stop`, `2 stops`, without a sign.
pub(super) fn of_stops(stops: Stops) -> String {
    let unit = if stops.size().get() > 1.0 + 1e-9 { "stops" } else { "stop" };
    format!("{} {unit}", stops.unsigned())
}

/// `1/3 stop more`, `1/4 stop less`, `no change`.
pub(super) fn more_or_less(stops: Stops) -> String {
    match stops.unsigned().as_str() {
        "0" => "no change".to_owned(),
        _ if stops.get() > 0.0 => format!("{} more", of_stops(stops)),
        _ => format!("{} less", of_stops(stops)),
    }
}

pub(super) fn figure(value: f64) -> String {
    show_short(value, 3)
}

pub(super) fn fact(label: &str, value: impl Into<String>) -> (String, String) {
    (label.to_owned(), value.into())
}

pub(super) fn answer(title: impl Into<String>, facts: Vec<(String, String)>, reason: &str) -> Document {
    let mut document = Document::new();
    document.title(title);
    document.facts(facts);
    document.paragraph(reason);
    document
}
