//! The plate of several films: their curves side by side and shifted onto one another.

use super::{
    AXIS_PT, FINE_DASH, FRAME, Page, THIN, around_mm, capital, characteristic, head, letter_place, notes,
    square_axes, table, ticks, top_density, trace,
};
use crate::curve::STOP;
use crate::curve::comparison::CurveComparison;
use crate::curve::figures::{CurveFigure, FilmFigures};
use crate::curve::interpolation::Pchip;
use crate::quantity::rounding::show_decimals;
use crate::render::curve::words::{
    aligned_rows, comparison_rows, errors_words, points, short, signed_plus, verdict,
};
use crate::render::curve::{JudgedStrips, letter};
use crate::render::html::escape;
use crate::render::svg::{Anchor, Axes, Mark, Pen, Svg};

/// The look of a strip's curve among others.
fn pen_of(index: usize) -> Pen {
    let dash = ["", "4 1.8", "1.2 1.2", "5 1.5 1.2 1.5"].into_iter().cycle().nth(index).unwrap_or_default();
    Pen { width: 0.85, dash }
}

/// The plate of several strips.
pub(super) fn several(
    films: &[FilmFigures],
    comparisons: &[CurveComparison],
    judged: &JudgedStrips,
    page: Page,
) -> (String, String) {
    let name = if films.len() == 2 { "Two strips side by side" } else { "Strips side by side" };
    let line: Vec<String> = films
        .iter()
        .enumerate()
        .map(|(index, film)| {
            format!(
                "{} {}, base + fog {}",
                letter(index),
                short(&film.strip.name),
                show_decimals(film.strip.base_fog, 2)
            )
        })
        .collect();
    let words: Vec<String> = films
        .split_first()
        .map(|(first, others)| {
            others
                .iter()
                .zip(comparisons)
                .enumerate()
                .map(|(index, (other, own))| verdict(first, other, own, ("A", &letter(index + 1))).join(" "))
                .collect()
        })
        .unwrap_or_default();
    let big =
        if films.len() == 2 { "B against A".to_owned() } else { format!("{} against A", films.len() - 1) };
    let (line, words) = (line.join(" · "), words.join(" "));
    let mut html = head(name, &line, &big, &words);
    let small = aligned_picture(films, page);
    let rows = comparisons.first().filter(|_| films.len() == 2).map(aligned_rows);
    let beside = rows.map_or_else(String::new, |rows| {
        table("plain", &[("stops", false), ("A", true), ("B", true), ("B less A", true)], &rows)
    });
    let compared = compared(films, comparisons);
    let note = format!("{}. Strips exposed alike.{}", capital(&errors_words(judged.errors)), notes(films));

    let curves: Vec<&Pchip> = films.iter().map(|film| &film.curve).collect();
    let all: Vec<&FilmFigures> = films.iter().collect();
    // The picture takes what words, tables and the small picture leave.
    let side_mm = (page.fit(50.0, 43.0) + 7.0).max(page.table_mm(&beside));
    let below_mm = 8.4 + side_mm + page.table_mm(&compared);
    let free = page.height - around_mm(page, (name, &line, &big), &words, &note, &judged.command);
    let room = (page.width - 22.0, (free - 21.0 - below_mm).clamp(40.0, page.fit(84.0, 72.0)));
    let axes = square_axes(&curves, top_density(&all), (15.5, 10.5), room);
    let mut svg = Svg::new(page.width, axes.foot() + 10.5);
    let is_relative = films.iter().any(|film| film.strip.is_relative);
    let m = films.first().map(|film| (film.log_h_m.value, "stops from the speed point of A"));
    characteristic(&mut svg, &axes, m, is_relative);
    for film in films {
        let (m, _) = points(film, judged.table.film.span);
        let at = axes.p(m.0, m.1);
        svg.line(at, (at.0, axes.foot()), FINE_DASH);
    }
    for (index, own) in films.iter().enumerate() {
        trace(&mut svg, &axes, &own.curve, pen_of(index), |x, y| (x, y));
        for point in &own.strip.points {
            svg.mark(Mark::of(index), axes.p(point.log_h, point.density));
        }
    }
    for (index, own) in films.iter().enumerate() {
        let (m, _) = points(own, judged.table.film.span);
        svg.disc(axes.p(m.0, m.1), 1.7);
        svg.ringed(&letter(index), letter_place(films, index, &axes));
    }
    if let ([first, other], [own]) = (films, comparisons) {
        let y = axes.py(0.11);
        arrow(&mut svg, (axes.px(first.log_h_m.value), y), (axes.px(other.log_h_m.value), y));
        let x = axes.px(f64::max(first.log_h_m.value, other.log_h_m.value)) + 1.8;
        svg.text(&shift_words(own.stops), (x, y + 1.5), 12.0, Anchor::Start, true);
    }
    html.push_str(&svg.finish("characteristic curves on one pair of axes"));
    html.push_str("<h2>Each exposed for its own speed: stops above its own m</h2>\n");
    html.push_str(&format!("<div class=\"side\">{small}<div style=\"flex:1\">{beside}</div></div>\n"));
    html.push_str(&compared);
    html.push_str(&format!("<p class=\"note\">{}</p>\n", escape(&note)));
    (name.to_owned(), html)
}

/// `B 1.4 stops slower`.
fn shift_words(stops: f64) -> String {
    let figure = show_decimals(stops.abs(), 1);
    if figure == "0.0" {
        return "B as fast as A".to_owned();
    }
    let noun = if stops.abs() < 1.05 { "stop" } else { "stops" };
    format!("B {figure} {noun} {}", if stops < 0.0 { "slower" } else { "faster" })
}

fn arrow(svg: &mut Svg, from: (f64, f64), to: (f64, f64)) {
    if (to.0 - from.0).abs() < 2.5 {
        return;
    }
    let back = if to.0 > from.0 { -2.2 } else { 2.2 };
    svg.line(from, to, THIN);
    svg.path(&[(to.0 + back, to.1 - 1.0), to, (to.0 + back, to.1 + 1.0)], Pen::whole(0.45));
}

/// The same strips, each from its own speed point.
fn aligned_picture(films: &[FilmFigures], page: Page) -> String {
    let width = if films.len() == 2 { page.fit(98.0, 88.0) } else { page.width };
    let height = page.fit(50.0, 43.0);
    let top = films.iter().filter_map(|film| film.net_at_stops(6.5)).fold(1.0, f64::max);
    let axes = Axes { x: (-2.5, 6.7), y: (0.0, top * 1.04), at: (13.5, 1.0), size: (width - 14.5, height) };
    let mut svg = Svg::new(width, height + 7.0);
    for y in ticks(0.0, axes.y.1, 0.5) {
        svg.text(&show_decimals(y, 1), (axes.at.0 - 1.4, axes.py(y) + 1.25), AXIS_PT, Anchor::End, false);
        if y > 0.01 {
            svg.dots((axes.at.0, axes.py(y)), (axes.right(), axes.py(y)));
        }
    }
    svg.turned("above base + fog", (axes.at.0 - 9.5, axes.at.1), AXIS_PT, (Anchor::End, -90.0), false);
    for stops in ticks(-2.0, 6.0, 1.0) {
        let is_m = stops.abs() < 0.5;
        let text = if is_m { "m".to_owned() } else { signed_plus(stops, 0) };
        svg.line((axes.px(stops), axes.foot()), (axes.px(stops), axes.foot() - 1.4), THIN);
        svg.text(&text, (axes.px(stops), axes.foot() + 4.4), AXIS_PT, Anchor::Middle, is_m);
    }
    svg.frame(axes.at, axes.size, FRAME);
    for (index, own) in films.iter().enumerate() {
        let (m, base) = (own.log_h_m.value, own.strip.base_fog);
        trace(&mut svg, &axes, &own.curve, pen_of(index), |x, y| ((x - m) / STOP, y - base));
    }
    // Letters high up, each on its own side of the others.
    let order = |film: &FilmFigures| film.net_at_stops(4.5).unwrap_or_default();
    let steepest = films.iter().map(order).fold(f64::NEG_INFINITY, f64::max);
    for (index, film) in films.iter().enumerate() {
        let stops = 5.3 - 1.1 * f64::from(u32::try_from(index).unwrap_or(0));
        let Some(net) = film.net_at_stops(stops) else { continue };
        let at = axes.p(stops, net);
        let is_top = order(film) >= steepest;
        let place = if is_top { (at.0 - 4.0, at.1 - 4.5) } else { (at.0 + 3.5, at.1 + 5.0) };
        svg.ringed(&letter(index), place);
    }
    svg.finish("the same curves, each from its own speed point")
}

/// Measures of several strips, with the last against the first where there are two.
fn compared(films: &[FilmFigures], comparisons: &[CurveComparison]) -> String {
    let names: Vec<String> = (0..films.len()).map(letter).collect();
    let mut heads: Vec<(&str, bool)> = vec![("", false)];
    heads.extend(names.iter().map(|name| (name.as_str(), false)));
    let mut rows = comparison_rows(films);
    // The names stand in the head of the page; two measures of contrast are enough on it.
    let elsewhere = ["strip", "two-arc index", "gamma"];
    rows.retain(|row| row.first().is_none_or(|name| !elsewhere.contains(&name.as_str())));
    if let ([first, other], [own]) = (films, comparisons) {
        heads.push(("B against A", true));
        let ratio = |one: Option<CurveFigure>, two: Option<CurveFigure>| {
            one.zip(two).map_or_else(String::new, |(one, two)| {
                format!("{} %", signed_plus((two.value / one.value - 1.0) * 100.0, 0))
            })
        };
        for row in &mut rows {
            let against = match row.first().map(String::as_str) {
                Some("speed") => format!("{} stops", signed_plus(own.stops, 1)),
                Some("gradient, m to n") => ratio(first.gradient_iso, other.gradient_iso),
                Some("average gradient") => ratio(first.average_gradient, other.average_gradient),
                Some("base + fog") => signed_plus(own.base_fog, 2),
                _ => String::new(),
            };
            row.push(against);
        }
    }
    table("plain", &heads, &rows)
}
