//! One strip of film.

use super::figures::{errors_words, label, limits, short, speed_figure, speed_limits, with_limits};
use crate::curve::figures::FilmFigures;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::curve::JudgedStrips;
use crate::render::curve::characters::{Line, Marked, plot, signed};
use crate::render::{Block, Document};

/// The headline: `ISO 100/21°`, `exposure index 40`, `relative speed`.
pub(in crate::render::curve) fn headline(film: &FilmFigures) -> String {
    if film.strip.is_relative {
        "relative speed".to_owned()
    } else if film.is_iso {
        format!("ISO {}", label(&film.speed))
    } else {
        let number = film.speed.named.and_then(|named| named.label).unwrap_or(film.speed.value);
        format!("exposure index {}", show_short(number, 1))
    }
}

/// Whether the standard's contrast is met, and what that makes of the speed.
pub(in crate::render::curve) fn criterion(strip_figures: &FilmFigures, judged: &JudgedStrips) -> String {
    let film = &judged.table.film;
    let asked = format!("{} ± {}", show_decimals(film.difference, 2), show_decimals(film.tolerance, 2));
    let span = show_decimals(film.span, 2);
    match strip_figures.density_difference {
        None => format!(
            "The strip ends before {span} from m: whether the contrast is that of the standard is not known."
        ),
        Some(difference) => {
            let reads = show_decimals(difference.value, 2);
            if strip_figures.is_iso {
                format!("Contrast as the standard asks: {reads} over {span} ({asked}).")
            } else if (difference.value - film.difference).abs() <= film.tolerance {
                format!(
                    "Contrast as the standard asks: {reads} over {span} ({asked}); the light is not known, so no speed is given."
                )
            } else {
                let which = if difference.value > film.difference { "More" } else { "Less" };
                format!(
                    "Not an ISO speed. {which} contrast than the standard asks: {reads} over {span} ({asked})."
                )
            }
        }
    }
}

pub(super) fn line_of(film: &FilmFigures, mark: char) -> Line<'_> {
    Line {
        curve: &film.curve,
        readings: film.strip.points.iter().map(|point| (point.log_h, point.density)).collect(),
        mark,
    }
}

/// m and n.
pub(in crate::render::curve) fn points(own: &FilmFigures, span: f64) -> ((f64, f64), Option<(f64, f64)>) {
    let m = own.log_h_m.value;
    let at = |log_h: f64| own.curve.at(log_h).map(|density| (log_h, density));
    (at(m).unwrap_or((m, 0.0)), at(m + span))
}

pub(super) fn one(document: &mut Document, film: &FilmFigures, judged: &JudgedStrips) {
    let errors = errors_words(judged.errors);
    if film.strip.is_relative {
        document.paragraph(format!(
            "Relative speed: {} for an exposure of 1 ({errors}). It compares strips exposed alike; --lux and --seconds make it a speed.",
            speed_figure(film.speed.value)
        ));
    } else {
        document.paragraph(format!("{}   {} ({errors})", headline(film), speed_limits(film.speed.limits)));
    }
    document.paragraph(criterion(film, judged));
    let (m, n) = points(film, judged.table.film.span);
    let mut letters = vec![('m', m.0, m.1)];
    letters.extend(n.map(|n| ('n', n.0, n.1)));
    let marked = Marked {
        stops_from: Some(m.0),
        triangle: n.map(|n| (m, n)),
        base: Some(film.strip.base_fog),
        letters,
    };
    document.blocks.push(Block::Plot(plot(&[line_of(film, '●')], &marked)));
    document.list(figures(film, judged));
    notes(document, std::slice::from_ref(film));
}

/// The figures, a line a subject.
fn figures(film: &FilmFigures, judged: &JudgedStrips) -> Vec<String> {
    let span = show_decimals(judged.table.film.average_span, 2);
    let missing = || "not available (off the strip)".to_owned();
    let speed = if film.strip.is_relative {
        String::new()
    } else {
        format!(" · 0.8/Hm {}", speed_figure(film.speed.value))
    };
    let mut lines = vec![
        format!(
            "base + fog {} · log Hm {}{speed}",
            show_decimals(film.strip.base_fog, 2),
            with_limits(film.log_h_m, 2)
        ),
        format!(
            "gradient, m to n {} · average, {span} from m {}",
            film.gradient_iso.map_or_else(missing, |own| with_limits(own, 2)),
            film.average_gradient.map_or_else(missing, |own| with_limits(own, 2))
        ),
    ];
    let gamma = film.gamma.map_or_else(
        || "gamma not available".to_owned(),
        |gamma| {
            format!(
                "gamma {} ({}) from {} to {}, residual {}",
                show_decimals(gamma.value, 2),
                limits(gamma.limits, 2),
                signed(gamma.from, 2),
                signed(gamma.to, 2),
                show_decimals(gamma.residual, 3)
            )
        },
    );
    lines.push(format!(
        "two-arc index {} · {gamma}",
        film.contrast_index.map_or_else(missing, |own| with_limits(own, 2))
    ));
    if let (Some(speed), false) = (&film.delta_x_speed, film.strip.is_relative) {
        lines.push(format!(
            "delta-X speed {} ({}); its coefficients are from memory",
            speed_figure(speed.value),
            speed_limits(speed.limits)
        ));
    }
    lines.push(useful(film));
    lines
}

fn useful(film: &FilmFigures) -> String {
    let range = film.useful_range;
    let stops = show_decimals(range.stops(), 1);
    if range.is_open {
        format!("useful range from m at least {stops} stops: no shoulder on the strip")
    } else {
        format!(
            "useful range from m {stops} stops, to log H {} (gradient below 4/5 of gamma)",
            signed(range.to, 2)
        )
    }
}

/// What was levelled or assumed.
pub(super) fn notes(document: &mut Document, films: &[FilmFigures]) {
    let notes = films
        .iter()
        .flat_map(|film| film.strip.notes.iter().map(|note| format!("{}: {note}", short(&film.strip.name))));
    document.list(notes.collect());
}
