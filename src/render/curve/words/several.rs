//! Strips side by side.

use super::figures::{
    errors_words, limits, percent, short, signed_plus, speed_figure, speed_limits, stops_words, with_limits,
};
use super::one::{headline, line_of, notes, points};
use crate::curve::comparison::{CurveComparison, Toe};
use crate::curve::figures::{CurveFigure, FilmFigures};
use crate::quantity::rounding::{show_decimals, show_short, to_step};
use crate::render::curve::characters::{Line, Marked, plot, signed};
use crate::render::curve::{JudgedStrips, letter};
use crate::render::{Block, Column, Document};

/// Differences below this many stops are none, and so on.
const LEAST_STOPS: f64 = 0.1;

/// What the other strip is against the first: contrast first where it is not equal.
pub(in crate::render::curve) fn verdict(
    first: &FilmFigures,
    other: &FilmFigures,
    own: &CurveComparison,
    names: (&str, &str),
) -> Vec<String> {
    let (a, b) = names;
    let mut sentences = Vec::new();
    let speed = if own.stops.abs() < LEAST_STOPS {
        format!("the speed of {a}")
    } else {
        format!("{} {} speed", stops_words(own.stops), if own.stops > 0.0 { "more" } else { "less" })
    };
    match (own.contrast, own.is_equal_contrast()) {
        (Some(ratio), Some(false)) => {
            let gradient = |own: &FilmFigures| {
                own.gradient_iso.map_or_else(String::new, |own| show_decimals(own.value, 2))
            };
            sentences.push(format!(
                "Not at equal contrast: {b} has {} {} ({} against {}).",
                percent(ratio),
                if ratio > 1.0 { "more" } else { "less" },
                gradient(other),
                gradient(first)
            ));
            sentences.push(format!("As developed, {b} gives {speed}."));
        }
        (Some(_), _) => sentences.push(format!("At equal contrast {b} gives {speed}.")),
        (None, _) => {
            sentences.push("A strip ends before n: whether the contrast is equal is not known.".to_owned());
            sentences.push(format!("{b} gives {speed}."));
        }
    }
    sentences.extend(own.highlights.map(|ratio| {
        if (ratio - 1.0).abs() > 0.05 {
            let way = if ratio > 1.0 { "more" } else { "less" };
            format!("{b} has {} {way} contrast in the highlights.", percent(ratio))
        } else {
            "The contrast in the highlights is the same.".to_owned()
        }
    }));
    sentences.extend(own.toe.map(|toe| match toe {
        Toe::Same => "The toe is the same.".to_owned(),
        Toe::Longer => format!("The toe of {b} is longer."),
        Toe::Shorter => format!("The toe of {b} is shorter."),
    }));
    match (first.useful_range.is_open, other.useful_range.is_open) {
        (true, false) => sentences.push(shoulder(other, b, a)),
        (false, true) => sentences.push(shoulder(first, a, b)),
        _ => {}
    }
    if own.base_fog.abs() >= 0.02 - 1e-9 {
        let way = if own.base_fog > 0.0 { "denser" } else { "clearer" };
        sentences.push(format!("Clear film of {b} is {} {way}.", show_decimals(own.base_fog.abs(), 2)));
    }
    sentences
}

fn shoulder(film: &FilmFigures, bends: &str, straight: &str) -> String {
    let stops = show_short(to_step(film.useful_range.stops(), 0.5), 1);
    format!(
        "The highlights of {bends} round off about {stops} stops above its m; {straight} runs straight to the end of its strip."
    )
}

pub(super) fn several(
    document: &mut Document,
    films: &[FilmFigures],
    comparisons: &[CurveComparison],
    judged: &JudgedStrips,
) {
    let Some(first) = films.first() else { return };
    for (index, (other, own)) in films.iter().skip(1).zip(comparisons).enumerate() {
        document.paragraph(verdict(first, other, own, ("A", &letter(index + 1))).join(" "));
    }
    let mut columns = vec![Column::left("")];
    columns.extend(films.iter().enumerate().map(|(index, _)| Column::right(&letter(index))));
    document.table(columns, comparison_rows(films));
    if let [own] = comparisons {
        document.paragraph(format!(
            "B against A: {} stops ({}), contrast {}",
            signed_plus(own.stops, 1),
            limits(own.stops_limits, 1),
            own.contrast.zip(own.contrast_limits).map_or_else(
                || crate::doubt::NOT_KNOWN.to_owned(),
                |(ratio, comparison)| format!(
                    "{} % ({} to {})",
                    signed_plus((ratio - 1.0) * 100.0, 0),
                    signed_plus((comparison.low - 1.0) * 100.0, 0),
                    signed_plus((comparison.high - 1.0) * 100.0, 0)
                )
            )
        ));
    }
    let lines: Vec<Line<'_>> = films
        .iter()
        .enumerate()
        .map(|(index, own)| line_of(own, letter(index).chars().next().unwrap_or('A')))
        .collect();
    let letters = films.iter().map(|film| {
        let (m, _) = points(film, judged.table.film.span);
        ('m', m.0, m.1)
    });
    let marked =
        Marked { stops_from: Some(first.log_h_m.value), letters: letters.collect(), ..Marked::default() };
    document.blocks.push(Block::Plot(plot(&lines, &marked)));
    let rows = comparisons.first().filter(|_| films.len() == 2).map(aligned_rows).unwrap_or_default();
    let columns = ["stops above own m", "A", "B", "B less A"].map(Column::right);
    document.table(columns.to_vec(), rows);
    document.paragraph(format!(
        "Strips exposed alike; limits {}. Densities above base + fog.",
        errors_words(judged.errors)
    ));
    notes(document, films);
}

/// The densities of two strips at stops from their own m.
pub(in crate::render::curve) fn aligned_rows(own: &CurveComparison) -> Vec<Vec<String>> {
    let density = |own: Option<f64>| own.map_or_else(|| "off".to_owned(), |own| show_decimals(own, 2));
    own.aligned
        .iter()
        .filter(|row| row.stops >= 0.0)
        .map(|row| {
            let less = row.first.zip(row.other).map_or_else(String::new, |(a, b)| signed(b - a, 2));
            let stops = if row.stops == 0.0 { "m".to_owned() } else { format!("+{:.0}", row.stops) };
            vec![stops, density(row.first), density(row.other), less]
        })
        .collect()
}

/// What strips read, a row a measure.
pub(in crate::render::curve) fn comparison_rows(films: &[FilmFigures]) -> Vec<Vec<String>> {
    let row = |name: &str, of: &dyn Fn(&FilmFigures) -> String| {
        let mut cells = vec![name.to_owned()];
        cells.extend(films.iter().map(of));
        cells
    };
    let figure =
        |own: Option<CurveFigure>| own.map_or_else(|| "not available".to_owned(), |own| with_limits(own, 2));
    vec![
        row("strip", &|own| short(&own.strip.name).to_owned()),
        row("speed", &|own| {
            format!("{} ({})", speed_figure(own.speed.value), speed_limits(own.speed.limits))
        }),
        row("label", &headline),
        row("gradient, m to n", &|own| figure(own.gradient_iso)),
        row("average gradient", &|own| figure(own.average_gradient)),
        row("two-arc index", &|own| figure(own.contrast_index)),
        row("gamma", &|own| {
            own.gamma.map_or_else(|| "not available".to_owned(), |own| show_decimals(own.value, 2))
        }),
        row("base + fog", &|own| show_decimals(own.strip.base_fog, 2)),
        row("useful range, stops", &|own| {
            let least = if own.useful_range.is_open { "over " } else { "" };
            format!("{least}{}", show_decimals(own.useful_range.stops(), 1))
        }),
    ]
}
