//! Strips of rising time, and the time that meets a target.

use super::figures::{clock, errors_words, label, signed_plus, speed_figure, speed_limits, stops_words};
use super::one::{line_of, notes};
use crate::curve::STOP;
use crate::curve::figures::{CurveFigure, FilmFigures};
use crate::curve::series::{ContrastWish, SeriesAnswer, Target, TargetOutcome};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::curve::characters::{Line, Marked, plot, signed};
use crate::render::curve::{JudgedStrips, SeriesView, letter};
use crate::render::{Block, Column, Document};

/// What is wanted, in words.
pub(in crate::render::curve) fn target_words(target: &Target) -> String {
    let gradient = show_decimals(target.gradient(), 2);
    match target.wish {
        ContrastWish::Iso => {
            format!(
                "the contrast of the standard ({} over {})",
                show_decimals(target.difference, 2),
                show_decimals(target.span, 2)
            )
        }
        ContrastWish::Gradient(_) => format!("an average gradient of {gradient}"),
        ContrastWish::Steps(steps) => format!(
            "N{} (density range {} over {}, gradient {gradient})",
            if steps == 0.0 { String::new() } else { signed_plus(steps, 0) },
            show_decimals(target.difference, 2),
            show_decimals(target.span, 2)
        ),
        ContrastWish::Range(range) => {
            format!("a density range of {} (gradient {gradient})", show_decimals(range, 2))
        }
    }
}

/// The answer to a target.
pub(in crate::render::curve) fn answer_words(answer: &SeriesAnswer, is_relative: bool) -> Vec<String> {
    let range = format!("({} to {})", clock(answer.limits.low), clock(answer.limits.high));
    let gives = format!("{} min {range} gives {}", clock(answer.minutes), target_words(&answer.target));
    if is_relative {
        return vec![format!("{gives}; the light is not known, so neither is the speed.")];
    }
    vec![format!(
        "{gives}; the speed there is {} ({}).",
        label(&answer.speed),
        speed_limits(answer.speed.limits)
    )]
}

/// From the first to the last time.
pub(in crate::render::curve) fn growth_words(view: &SeriesView) -> Option<String> {
    let (first, last) = (view.series.strips.first()?, view.series.strips.last()?);
    let (low, high) = (first.1.gradient_iso?.value, last.1.gradient_iso?.value);
    let stops = (first.1.log_h_m.value - last.1.log_h_m.value) / STOP;
    Some(format!(
        "From {} to {} min the contrast grows {}-fold and the speed {} {}.",
        show_short(first.0, 1),
        show_short(last.0, 1),
        show_decimals(high / low, 1),
        if stops >= 0.0 { "gains" } else { "loses" },
        stops_words(stops)
    ))
}

/// What could not be reached.
pub(in crate::render::curve) fn outside_words(
    view: &SeriesView,
    target: &Target,
    between: (f64, f64),
) -> String {
    let longest = view.series.strips.last().map_or(0.0, |own| own.0);
    let shortest = view.series.strips.first().map_or(0.0, |own| own.0);
    let (what, way) = if target.difference > between.1 {
        (
            format!("{} min gives {}", show_short(longest, 1), show_decimals(between.1, 2)),
            "longer than the longest",
        )
    } else {
        (
            format!("{} min gives {} already", show_short(shortest, 1), show_decimals(between.0, 2)),
            "shorter than the shortest",
        )
    };
    format!(
        "No time of the series gives {}: {what} over {}. It needs {way} time; nothing is extrapolated. Develop one more strip.",
        target_words(target),
        show_decimals(target.span, 2)
    )
}

pub(super) fn series(document: &mut Document, view: &SeriesView, judged: &JudgedStrips) {
    match &view.outcome {
        Some(TargetOutcome::Reached(answer)) => {
            let is_relative = view.series.strips.iter().any(|(_, own)| own.strip.is_relative);
            document.paragraph(answer_words(answer, is_relative).join(" "));
        }
        Some(TargetOutcome::Outside { target, between }) => {
            document.paragraph(outside_words(view, target, *between));
        }
        None => {}
    }
    if let Some(words) = growth_words(view) {
        document.paragraph(words);
    }
    if let Some(TargetOutcome::Reached(answer)) = &view.outcome
        && let Some(range) = answer.range
    {
        document.paragraph(format!(
            "Density range of a normal subject there (log H {} after flare): {}{}.",
            show_decimals(view.subject.range, 2),
            show_decimals(range, 2),
            judged
                .table
                .grade_for(range)
                .map_or_else(String::new, |grade| format!(", for paper of grade {}", grade.name))
        ));
    }
    let films: Vec<&FilmFigures> = view.series.strips.iter().map(|strip| &strip.1).collect();
    let columns = ["min", "base + fog", "log Hm", "difference", "average", "index", "speed", "label"];
    let figure = |given_figure: Option<CurveFigure>| {
        given_figure.map_or_else(|| "-".to_owned(), |own| show_decimals(own.value, 2))
    };
    let rows = view.series.strips.iter().map(|(minutes, film)| {
        vec![
            show_short(*minutes, 2),
            show_decimals(film.strip.base_fog, 2),
            signed(film.log_h_m.value, 2),
            figure(film.density_difference),
            figure(film.average_gradient),
            figure(film.contrast_index),
            speed_figure(film.speed.value),
            if film.is_iso {
                format!("ISO {}", label(&film.speed))
            } else {
                format!("index {}", label(&film.speed))
            },
        ]
    });
    document.table(columns.map(Column::right).to_vec(), rows.collect());
    let lines: Vec<Line<'_>> = films
        .iter()
        .enumerate()
        .map(|(index, own)| line_of(own, letter(index).chars().next().unwrap_or('A')))
        .collect();
    document.blocks.push(Block::Plot(plot(&lines, &Marked::default())));
    let names = films
        .iter()
        .enumerate()
        .zip(&view.series.strips)
        .map(|((index, _), (minutes, _))| format!("{} {} min", letter(index), show_short(*minutes, 2)));
    document.paragraph(format!(
        "{}. Limits {}.",
        names.collect::<Vec<_>>().join(", "),
        errors_words(judged.errors)
    ));
    if let Some(growth) = view.growth {
        let tried = if view.series.strips.len() > 2 {
            format!("residual {}", show_decimals(growth.residual, 3))
        } else {
            "from two times, so untried".to_owned()
        };
        document.paragraph(format!(
            "Average gradient = G (1 - e^(-k t)): G {}, k {} a minute, {tried}. G is badly determined by such times; inside of them the times are not.",
            show_decimals(growth.law.infinity, 2),
            show_decimals(growth.law.rate_per_minute, 3)
        ));
    }
    let owned: Vec<FilmFigures> = films.into_iter().cloned().collect();
    notes(document, &owned);
}
