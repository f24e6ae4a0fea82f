//! Plates on paper: a characteristic curve, strips side by side, a series of times, a paper. Black on white, told apart by line, mark
//! and letter; one scale on both axes of a characteristic curve, so that 45° is a gradient of 1.

use super::characters::signed;
use super::words::{
    aligned_rows, answer_words, clock, comparison_rows, criterion, errors_words, growth_words, headline,
    label, limits, outside_words, paper_lines, paper_verdict, points, short, signed_plus, speed_figure,
    speed_limits, verdict,
};
use super::{Judged, Judgement, SeriesView, letter};
use crate::curve::STOP;
use crate::curve::comparison::CurveComparison;
use crate::curve::figures::{Figure, FilmFigures};
use crate::curve::interpolation::Pchip;
use crate::curve::paper::PaperFigures;
use crate::curve::series::Outcome;
use crate::lettering::Paper;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::html::grid::{self, room_mm};
use crate::render::html::{escape, page_of};
use crate::render::svg::{Anchor, Axes, Mark, Pen, Svg};

const STYLE: &str = include_str!("plate.css");
/// Axis figures, points.
const AXIS_PT: f64 = 10.0;
/// The line of a curve.
const CURVE: Pen = Pen::whole(0.85);
const FRAME: Pen = Pen::whole(0.45);
const THIN: Pen = Pen::whole(0.3);
const DASHED: Pen = Pen::dashed(0.35, "1.6 1.1");
const FINE_DASH: Pen = Pen::dashed(0.35, "0.7 0.7");

/// Size of a page's inside, and whether it is the lower one.
#[derive(Clone, Copy)]
struct Page {
    width: f64,
    height: f64,
    is_low: bool,
}

impl Page {
    fn of(paper: Paper) -> Self {
        let (width, height) = room_mm(paper);
        Self { width, height, is_low: height < 270.0 }
    }

    /// A length that the lower page makes shorter.
    fn fit(self, high: f64, low: f64) -> f64 {
        if self.is_low { low } else { high }
    }
}

/// The plates as one HTML page.
pub fn plate(judged: &Judged, paper: Paper) -> String {
    let page = Page::of(paper);
    let plates: Vec<(String, String)> = match &judged.subject {
        Judgement::Films(films, comparisons) => match films.as_slice() {
            [only] => vec![one(only, judged, page)],
            _ => vec![several(films, comparisons, judged, page)],
        },
        Judgement::Series(view) => vec![series(view, judged, page)],
        Judgement::Papers(papers) => papers.iter().map(|own| paper_plate(own, judged, page)).collect(),
    };
    let count = plates.len();
    let title = plates.first().map(|own| own.0.clone()).unwrap_or_default();
    let body: String = plates
        .into_iter()
        .enumerate()
        .map(|(index, (_, body))| {
            let number =
                if count > 1 { format!("plate {} of {count}", index + 1) } else { "plate".to_owned() };
            format!(
                "<section class=\"page plate\">\n{body}{}</section>\n",
                grid::foot(&judged.command, &number)
            )
        })
        .collect();
    let style = format!(
        "{}.plate {{ width: {:.1}mm; height: {:.1}mm; --row: {}mm; }}\n{STYLE}",
        grid::style(paper),
        page.width,
        page.height,
        page.fit(7.4, 6.5)
    );
    page_of(&escape(&title), &style, &body)
}

/// Head of a plate: name, a line, the one figure, and the verdict.
fn head(name: &str, line: &str, big: &str, verdict: &str) -> String {
    let many = if verdict.chars().count() > 270 { " long" } else { "" };
    format!("{}<p class=\"verdict{many}\">{}</p>\n", grid::head(name, line, big), escape(verdict))
}

/// How a strip was exposed and read.
fn strip_line(own: &FilmFigures) -> String {
    let (low, high) = own.curve.span();
    format!(
        "{} · {} exposures, log H {} to {}",
        short(&own.strip.name),
        own.strip.points.len(),
        signed(low, 2),
        signed(high, 2)
    )
}

/// A table; columns of figures are set to the right.
fn table(class: &str, heads: &[(&str, bool)], rows: &[Vec<String>]) -> String {
    let cell = |tag: &str, text: &str, right: bool| {
        let class = if right { " class=\"n\"" } else { "" };
        format!("<{tag}{class}>{}</{tag}>", escape(text))
    };
    let head: String = heads.iter().map(|(text, right)| cell("th", text, *right)).collect();
    let body: String = rows
        .iter()
        .map(|row| {
            let cells: String =
                row.iter().zip(heads).map(|(text, (_, right))| cell("td", text, *right)).collect();
            format!("<tr>{cells}</tr>\n")
        })
        .collect();
    format!("<table class=\"{class}\"><thead><tr>{head}</tr></thead><tbody>\n{body}</tbody></table>\n")
}

/// Figures at a distance within bounds.
fn ticks(from: f64, to: f64, step: f64) -> Vec<f64> {
    let mut at = (from / step - 1e-6).ceil();
    let mut all = Vec::new();
    while at * step <= to + 1e-6 && all.len() < 200 {
        all.push(at * step);
        at += 1.0;
    }
    all
}

/// Whether a figure is a multiple of a step.
fn is_multiple(value: f64, step: f64) -> bool {
    let ratio = value / step;
    (ratio - ratio.round()).abs() < 1e-6
}

/// Axes of log H and density with one scale, as large as the room allows.
fn square_axes(curves: &[&Pchip], top: f64, at: (f64, f64), room: (f64, f64)) -> Axes {
    let spans = curves.iter().map(|own| own.span());
    let (low, high) =
        spans.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), own| (low.min(own.0), high.max(own.1)));
    let x = (((low - 0.12) * 10.0).floor() / 10.0, ((high + 0.04) * 10.0).ceil() / 10.0);
    let y = (0.0, ((top + 0.04) / 0.2).ceil().max(1.0) * 0.2);
    let scale = f64::min(room.0 / (x.1 - x.0), room.1 / y.1);
    Axes { x, y, at, size: (scale * (x.1 - x.0), scale * y.1) }
}

/// Frame, grid, log H below, density at the left, stops from a point above.
fn characteristic(svg: &mut Svg, axes: &Axes, stops_from: Option<(f64, &str)>, is_relative: bool) {
    let (left, top) = axes.at;
    for x in ticks(axes.x.0, axes.x.1, 0.1) {
        let long = is_multiple(x, 0.5);
        svg.line((axes.px(x), axes.foot()), (axes.px(x), axes.foot() - if long { 1.8 } else { 1.0 }), THIN);
        if long {
            if x > axes.x.0 + 0.05 && x < axes.x.1 - 0.05 {
                svg.dots((axes.px(x), top), (axes.px(x), axes.foot()));
            }
            svg.text(&signed(x, 1), (axes.px(x), axes.foot() + 4.4), AXIS_PT, Anchor::Middle, false);
        }
    }
    let words = if is_relative { "log exposure, from an unknown one" } else { "log exposure, lux seconds" };
    svg.text(words, (axes.right(), axes.foot() + 8.6), AXIS_PT, Anchor::End, false);
    for y in ticks(axes.y.0, axes.y.1, 0.1) {
        let long = is_multiple(y, 0.2);
        svg.line((left, axes.py(y)), (left + if long { 1.8 } else { 1.0 }, axes.py(y)), THIN);
        if long {
            svg.text(&show_decimals(y, 1), (left - 1.4, axes.py(y) + 1.25), AXIS_PT, Anchor::End, false);
        }
        if is_multiple(y, 0.5) && y > 0.05 && y < axes.y.1 - 0.05 {
            svg.dots((left, axes.py(y)), (axes.right(), axes.py(y)));
        }
    }
    svg.turned("density", (left - 10.5, top), AXIS_PT, (Anchor::End, -90.0), false);
    if let Some((m, words)) = stops_from {
        for stops in ticks((axes.x.0 - m) / STOP, (axes.x.1 - m) / STOP, 1.0) {
            let x = axes.px(m + stops * STOP);
            svg.line((x, top), (x, top + 1.8), THIN);
            let is_m = stops.abs() < 0.5;
            let text = if is_m { "m".to_owned() } else { signed_plus(stops, 0) };
            svg.text(&text, (x, top - 1.4), AXIS_PT, Anchor::Middle, is_m);
        }
        svg.text(words, (axes.right(), top - 6.2), AXIS_PT, Anchor::End, false);
    }
    svg.frame(axes.at, axes.size, FRAME);
}

/// A curve from its first to its last reading.
fn trace(svg: &mut Svg, axes: &Axes, curve: &Pchip, pen: Pen, map: impl Fn(f64, f64) -> (f64, f64)) {
    let (from, to) = curve.span();
    let count = 240;
    let points: Vec<(f64, f64)> = (0..=count)
        .filter_map(|step| {
            let x = (from + (to - from) * f64::from(step) / f64::from(count)).clamp(from, to);
            let (x, y) = map(x, curve.at(x)?);
            ((axes.x.0 - 1e-9..=axes.x.1 + 1e-9).contains(&x) && y <= axes.y.1 + 1e-9).then(|| axes.p(x, y))
        })
        .collect();
    svg.path(&points, pen);
}

fn top_density(films: &[&FilmFigures]) -> f64 {
    films.iter().flat_map(|own| &own.strip.points).map(|own| own.density).fold(0.0, f64::max)
}

/// The plate of one strip.
fn one(own: &FilmFigures, judged: &Judged, page: Page) -> (String, String) {
    let film = &judged.table.film;
    let speed = if own.strip.is_relative {
        "The light is not known: the speed is relative and compares strips exposed alike.".to_owned()
    } else {
        format!("Speed {} ({}).", speed_figure(own.speed.value), speed_limits(own.speed.limits))
    };
    let name = "Characteristic curve";
    let mut html =
        head(name, &strip_line(own), &headline(own), &format!("{speed} {}", criterion(own, judged)));

    let room = (page.width - 32.0, page.fit(98.0, 84.0));
    let axes = square_axes(&[&own.curve], top_density(&[own]), (15.5, 10.5), room);
    let lower_height = page.fit(34.0, 28.0);
    let lower_top = axes.foot() + 12.5;
    let mut svg = Svg::new(page.width, lower_top + lower_height + 2.0);
    let base = own.strip.base_fog;
    svg.line((axes.at.0, axes.py(base)), (axes.right(), axes.py(base)), DASHED);
    svg.text(
        &format!("base + fog {}", show_decimals(base, 2)),
        (axes.at.0 + 3.0, axes.py(base) + 5.2),
        10.0,
        Anchor::Start,
        false,
    );
    characteristic(
        &mut svg,
        &axes,
        Some((own.log_h_m.value, "stops from the speed point m")),
        own.strip.is_relative,
    );
    for net in ticks(0.0, axes.y.1 - base - 0.02, 0.1) {
        let long = is_multiple(net, 0.2);
        let y = axes.py(base + net);
        svg.line((axes.right(), y), (axes.right() - if long { 1.8 } else { 1.0 }, y), THIN);
        if long {
            svg.text(&show_decimals(net, 1), (axes.right() + 1.4, y + 1.25), AXIS_PT, Anchor::Start, false);
        }
    }
    svg.turned("above base + fog", (axes.right() + 11.5, axes.at.1), AXIS_PT, (Anchor::End, -90.0), false);

    let (m, n) = points(own, film.span);
    let (mx, my) = axes.p(m.0, m.1);
    svg.line((mx, my), (mx, axes.foot()), FINE_DASH);
    svg.text(
        &format!("log Hm {}", signed(m.0, 2)),
        (mx + 1.2, axes.foot() - 2.6),
        11.0,
        Anchor::Start,
        false,
    );
    let foot = axes.py(base);
    if foot - my > 3.6 {
        let at = (mx + 1.4, f64::midpoint(foot, my) + 1.2);
        svg.text(&show_decimals(film.net_density, 2), at, 9.5, Anchor::Start, false);
    }
    if let Some(n) = n {
        let (nx, ny) = axes.p(n.0, n.1);
        svg.line((mx, my), (nx, my), FRAME);
        svg.line((nx, my), (nx, ny), FRAME);
        svg.text(&show_decimals(film.span, 2), (f64::midpoint(mx, nx), my + 4.6), 12.0, Anchor::Middle, true);
        svg.text(
            &show_decimals(n.1 - m.1, 2),
            (nx + 1.6, f64::midpoint(my, ny) + 3.0),
            12.0,
            Anchor::Start,
            true,
        );
        let gradient = format!("gradient {}", show_decimals((n.1 - m.1) / film.span, 2));
        svg.text(&gradient, (nx - 6.5, my - (my - ny) * 0.22), 11.0, Anchor::End, false);
    }
    trace(&mut svg, &axes, &own.curve, CURVE, |x, y| (x, y));
    for point in &own.strip.points {
        svg.mark(Mark::Ring, axes.p(point.log_h, point.density));
    }
    if let Some(average) = own.average_gradient {
        dimension(&mut svg, &axes, own, film.average_span, average.value);
    }
    svg.disc((mx, my), 1.7);
    svg.text("m", (mx - 4.4, my - 1.2), 16.0, Anchor::End, true);
    if let Some(n) = n {
        let at = axes.p(n.0, n.1);
        svg.disc(at, 1.7);
        svg.text("n", (at.0 + 2.4, at.1 + 4.6), 16.0, Anchor::Start, true);
    }
    local(&mut svg, own, &axes, lower_top, lower_height);
    html.push_str(&svg.finish("characteristic curve with the triangle of the standard; gradient below"));
    html.push_str(&measures(own, judged));
    html.push_str(&format!(
        "<p class=\"note\">{}. Line: monotone cubic through the readings. One scale on both axes: 45° is a gradient of 1.{}</p>\n",
        escape(&capital(&errors_words(judged.errors))),
        escape(&notes(std::slice::from_ref(own)))
    ));
    (name.to_owned(), html)
}

fn capital(text: &str) -> String {
    crate::render::capital(text)
}

/// What was levelled or assumed.
fn notes(films: &[FilmFigures]) -> String {
    films
        .iter()
        .flat_map(|own| own.strip.notes.iter().map(|note| format!(" {}: {note}.", short(&own.strip.name))))
        .collect()
}

/// The average gradient as a dimension line beside the curve.
fn dimension(svg: &mut Svg, axes: &Axes, own: &FilmFigures, span: f64, value: f64) {
    let (m, end) = points(own, span);
    let Some(end) = end else { return };
    let (from, to) = (axes.p(m.0, m.1), axes.p(end.0, end.1));
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = dx.hypot(dy);
    // Upwards to the left, square to the chord.
    let (ux, uy) = (dy / length, -dx / length);
    let shift = |(x, y): (f64, f64), by: f64| (x + ux * by, y + uy * by);
    svg.line(shift(from, 5.5), shift(to, 5.5), THIN);
    for point in [from, to] {
        svg.line(shift(point, 3.9), shift(point, 7.1), THIN);
    }
    let middle = shift((f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1)), 6.7);
    let text = format!("average gradient {}, m to m + {}", show_decimals(value, 2), show_decimals(span, 2));
    svg.turned(&text, middle, 11.0, (Anchor::Middle, dy.atan2(dx).to_degrees()), false);
}

/// The local gradient with the span of gamma.
fn local(svg: &mut Svg, own: &FilmFigures, upper: &Axes, top: f64, height: f64) {
    let largest = own.gradients.iter().map(|own| own.gradient).fold(0.0, f64::max);
    let y = (0.0, ((largest + 0.06) / 0.2).ceil().max(1.0) * 0.2);
    let axes = Axes { x: upper.x, y, at: (upper.at.0, top), size: (upper.size.0, height) };
    let step = if y.1 > 1.3 { 0.4 } else { 0.2 };
    for level in ticks(0.0, y.1, step) {
        svg.text(
            &show_decimals(level, 1),
            (axes.at.0 - 1.4, axes.py(level) + 1.25),
            AXIS_PT,
            Anchor::End,
            false,
        );
        if level > 0.01 && level < y.1 - 0.01 {
            svg.dots((axes.at.0, axes.py(level)), (axes.right(), axes.py(level)));
        }
    }
    svg.turned("gradient", (axes.at.0 - 10.5, top), AXIS_PT, (Anchor::End, -90.0), false);
    svg.text("over 0.45 log H", (axes.at.0 + 2.0, top + 5.0), AXIS_PT, Anchor::Start, false);
    svg.frame(axes.at, axes.size, FRAME);
    let line: Vec<(f64, f64)> =
        own.gradients.iter().map(|own| axes.p(own.log_h, own.gradient.max(0.0))).collect();
    svg.path(&line, Pen::whole(0.6));
    for at in &line {
        svg.mark(Mark::Ring, *at);
    }
    if let Some(gamma) = own.gamma {
        let y = axes.py(gamma.value);
        svg.line((axes.px(gamma.from), y), (axes.px(gamma.to), y), DASHED);
        for end in [gamma.from, gamma.to] {
            svg.line((axes.px(end), y - 3.6), (axes.px(end), y + 3.6), Pen::whole(0.6));
        }
        let text = format!(
            "gamma {}, from {} to {}",
            show_decimals(gamma.value, 2),
            signed(gamma.from, 2),
            signed(gamma.to, 2)
        );
        let at = (axes.px(f64::midpoint(gamma.from, gamma.to)), y + 7.8);
        svg.text(&text, at, 11.0, Anchor::Middle, false);
    }
}

/// The measures of one strip.
fn measures(own: &FilmFigures, judged: &Judged) -> String {
    let film = &judged.table.film;
    let row = |name: &str, taken: &str, figure: Option<Figure>, note: &str| {
        let reads = figure.map_or_else(|| "not available".to_owned(), |own| show_decimals(own.value, 2));
        vec![
            name.to_owned(),
            taken.to_owned(),
            reads,
            figure.map_or_else(String::new, |own| limits(own.limits, 2)),
            note.to_owned(),
        ]
    };
    let asked =
        format!("ISO asks {} ± {}", show_decimals(film.difference, 2), show_decimals(film.tolerance, 2));
    let mut rows = Vec::new();
    if own.strip.is_relative {
        rows.push(vec![
            "log Hm".to_owned(),
            "relative".to_owned(),
            signed(own.log_h_m.value, 2),
            limits(own.log_h_m.limits, 2),
            "the light is not known".to_owned(),
        ]);
    } else {
        let note = if own.is_iso {
            format!("ISO {}", label(&own.speed))
        } else {
            format!("index {}, not ISO", label(&own.speed))
        };
        rows.push(vec![
            "speed".to_owned(),
            "0.8 / Hm".to_owned(),
            speed_figure(own.speed.value),
            speed_limits(own.speed.limits),
            note,
        ]);
    }
    rows.push(row("density difference", "m to n", own.density_difference, &asked));
    rows.push(row("gradient, ISO triangle", "m to n", own.gradient_iso, ""));
    rows.push(row(
        "average gradient",
        &format!("m to m + {}", show_decimals(film.average_span, 2)),
        own.average_gradient,
        "",
    ));
    let arcs = format!(
        "{} and {}",
        show_decimals(judged.table.two_arc.inner, 1),
        show_decimals(judged.table.two_arc.outer, 1)
    );
    rows.push(row("two-arc index", &arcs, own.contrast_index, ""));
    if let Some(gamma) = own.gamma {
        rows.push(vec![
            "gamma".to_owned(),
            format!("{} to {}", signed(gamma.from, 2), signed(gamma.to, 2)),
            show_decimals(gamma.value, 2),
            limits(gamma.limits, 2),
            format!("residual {}", show_decimals(gamma.residual, 3)),
        ]);
    }
    if let (Some(speed), false) = (own.delta_x_speed, own.strip.is_relative) {
        rows.push(vec![
            "delta-X speed".to_owned(),
            "fractional gradient".to_owned(),
            speed_figure(speed.value),
            speed_limits(speed.limits),
            "coefficients from memory".to_owned(),
        ]);
    }
    let useful = own.useful_range;
    rows.push(vec![
        "useful range".to_owned(),
        if useful.is_open { "m to the end".to_owned() } else { "m to the shoulder".to_owned() },
        show_decimals(useful.stops(), 1),
        String::new(),
        if useful.is_open {
            "stops at least, no shoulder".to_owned()
        } else {
            "stops, to 4/5 of gamma".to_owned()
        },
    ]);
    let heads = [("measure", false), ("taken", false), ("reads", true), ("nine in ten", false), ("", false)];
    table("", &heads, &rows)
}

/// The look of a strip's curve among others.
fn pen_of(index: usize) -> Pen {
    let dash = ["", "4 1.8", "1.2 1.2", "5 1.5 1.2 1.5"].into_iter().cycle().nth(index).unwrap_or_default();
    Pen { width: 0.85, dash }
}

/// The plate of several strips.
fn several(
    films: &[FilmFigures],
    comparisons: &[CurveComparison],
    judged: &Judged,
    page: Page,
) -> (String, String) {
    let name = if films.len() == 2 { "Two strips side by side" } else { "Strips side by side" };
    let line: Vec<String> = films
        .iter()
        .enumerate()
        .map(|(index, own)| {
            format!(
                "{} {}, base + fog {}",
                letter(index),
                short(&own.strip.name),
                show_decimals(own.strip.base_fog, 2)
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
    let mut html = head(name, &line.join(" · "), &big, &words.join(" "));

    let curves: Vec<&Pchip> = films.iter().map(|own| &own.curve).collect();
    let all: Vec<&FilmFigures> = films.iter().collect();
    let room = (page.width - 22.0, page.fit(84.0, 72.0));
    let axes = square_axes(&curves, top_density(&all), (15.5, 10.5), room);
    let mut svg = Svg::new(page.width, axes.foot() + 10.5);
    let is_relative = films.iter().any(|own| own.strip.is_relative);
    let m = films.first().map(|own| (own.log_h_m.value, "stops from the speed point of A"));
    characteristic(&mut svg, &axes, m, is_relative);
    for own in films {
        let (m, _) = points(own, judged.table.film.span);
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
    let small = aligned_picture(films, page);
    let rows = comparisons.first().filter(|_| films.len() == 2).map(aligned_rows);
    let beside = rows.map_or_else(String::new, |rows| {
        table("plain", &[("stops", false), ("A", true), ("B", true), ("B less A", true)], &rows)
    });
    html.push_str(&format!("<div class=\"side\">{small}<div style=\"flex:1\">{beside}</div></div>\n"));
    html.push_str(&compared(films, comparisons));
    html.push_str(&format!(
        "<p class=\"note\">{}. Strips exposed alike.{}</p>\n",
        escape(&capital(&errors_words(judged.errors))),
        escape(&notes(films))
    ));
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

/// Where a curve's letter stands: off the curve, where the nearest other is farthest.
fn letter_place(films: &[FilmFigures], index: usize, axes: &Axes) -> (f64, f64) {
    let Some(own) = films.get(index) else { return axes.at };
    let (from, to) = own.curve.span();
    let mut best = (f64::NEG_INFINITY, from, true);
    for step in 8..=34_u32 {
        let x = from + (to - from) * f64::from(step) / 40.0;
        let Some(y) = own.curve.at(x) else { continue };
        let gaps: Vec<f64> = films
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index)
            .filter_map(|(_, other)| Some(other.curve.at(x)? - y))
            .collect();
        let nearest = |above: bool| {
            gaps.iter().filter(|gap| (**gap > 0.0) == above).map(|gap| gap.abs()).fold(0.6, f64::min)
        };
        for is_above in [true, false] {
            // In the middle of the curve, away from the marks of m and from the ends.
            let room = nearest(is_above) - 0.3 * (f64::from(step) / 40.0 - 0.55).abs();
            if room > best.0 {
                best = (room, x, is_above);
            }
        }
    }
    let y = own.curve.at(best.1).unwrap_or_default();
    let at = axes.p(best.1, y);
    let place = if best.2 { (at.0 - 5.0, at.1 - 5.5) } else { (at.0 + 5.0, at.1 + 5.5) };
    (place.0.clamp(axes.at.0 + 4.5, axes.right() - 4.5), place.1.clamp(axes.at.1 + 4.5, axes.foot() - 4.5))
}

/// The same strips, each from its own speed point.
fn aligned_picture(films: &[FilmFigures], page: Page) -> String {
    let width = if films.len() == 2 { page.fit(98.0, 88.0) } else { page.width };
    let height = page.fit(50.0, 43.0);
    let top = films.iter().filter_map(|own| own.net_at_stops(6.5)).fold(1.0, f64::max);
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
    let order = |own: &FilmFigures| own.net_at_stops(4.5).unwrap_or_default();
    let steepest = films.iter().map(order).fold(f64::NEG_INFINITY, f64::max);
    for (index, own) in films.iter().enumerate() {
        let stops = 5.3 - 1.1 * f64::from(u32::try_from(index).unwrap_or(0));
        let Some(net) = own.net_at_stops(stops) else { continue };
        let at = axes.p(stops, net);
        let is_top = order(own) >= steepest;
        let place = if is_top { (at.0 - 4.0, at.1 - 4.5) } else { (at.0 + 3.5, at.1 + 5.0) };
        svg.ringed(&letter(index), place);
    }
    svg.finish("the same curves, each from its own speed point")
}

/// Measures of several strips, with the last against the first where there are two.
fn compared(films: &[FilmFigures], comparisons: &[CurveComparison]) -> String {
    let names: Vec<String> = (0..films.len()).map(letter).collect();
    let mut heads: Vec<(&str, bool)> = vec![("", false)];
    heads.extend(names.iter().map(|own| (own.as_str(), false)));
    let mut rows = comparison_rows(films);
    // The names stand in the head of the page; two measures of contrast are enough on it.
    let elsewhere = ["strip", "two-arc index", "gamma"];
    rows.retain(|row| row.first().is_none_or(|name| !elsewhere.contains(&name.as_str())));
    if let ([first, other], [own]) = (films, comparisons) {
        heads.push(("B against A", true));
        let ratio = |one: Option<Figure>, two: Option<Figure>| {
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

/// The plate of a series.
fn series(view: &SeriesView, judged: &Judged, page: Page) -> (String, String) {
    let films: Vec<&FilmFigures> = view.series.strips.iter().map(|own| &own.1).collect();
    let is_relative = films.iter().any(|own| own.strip.is_relative);
    let times: Vec<String> = view.series.strips.iter().map(|own| show_short(own.0, 2)).collect();
    let name = "Development series";
    let line = format!("{} strips of one film, {} min", films.len(), times.join(", "));
    let answer = match &view.outcome {
        Some(Outcome::Reached(own)) => Some(own.as_ref()),
        _ => None,
    };
    let mut words: Vec<String> = match &view.outcome {
        Some(Outcome::Reached(own)) => vec![answer_words(own, is_relative).join(" ")],
        Some(Outcome::Outside { target, between }) => vec![outside_words(view, target, *between)],
        None => Vec::new(),
    };
    words.extend(growth_words(view));
    let big = answer.map_or_else(|| "not reached".to_owned(), |own| clock(own.minutes));
    let mut html = head(name, &line, &big, &words.join(" "));

    let curves: Vec<&Pchip> = films.iter().map(|own| &own.curve).collect();
    let room = (page.width - 38.0, page.fit(88.0, 78.0));
    let axes = square_axes(&curves, top_density(&films), (15.5, 3.0), room);
    let upper = page.fit(66.0, 58.0);
    let gap = 12.0;
    let (middle_top, middle_height) = (axes.foot() + gap, upper);
    let (low_top, low_height) = (middle_top + middle_height + 5.0, page.fit(34.0, 30.0));
    let mut svg = Svg::new(page.width, low_top + low_height + 13.0);
    characteristic(&mut svg, &axes, None, is_relative);
    for (index, own) in films.iter().enumerate() {
        trace(&mut svg, &axes, &own.curve, Pen::whole(0.65), |x, y| (x, y));
        // Every second reading, so that the marks of neighbours stay apart in the toe.
        for point in own.strip.points.iter().rev().step_by(2) {
            svg.mark(Mark::of(index), axes.p(point.log_h, point.density));
        }
        if let (Some(last), Some(time)) = (own.strip.points.last(), times.get(index)) {
            let at = (axes.right() + 1.5, axes.py(last.density) + 1.4);
            svg.text(&format!("{time} min"), at, 11.0, Anchor::Start, true);
        }
    }
    if let Some(course) = &view.course {
        let low = view.series.strips.first().map_or(1.0, |own| own.0);
        let high = view.series.strips.last().map_or(2.0, |own| own.0);
        let x = ((low * 0.88).ln(), (high * 1.16).ln());
        let width = page.width - 20.0;
        let gradients: Vec<f64> =
            films.iter().filter_map(|own| Some(own.rise(view.target.span)? / view.target.span)).collect();
        let target = view.target.gradient();
        let least = gradients.iter().copied().fold(target, f64::min);
        let most = gradients.iter().copied().fold(target, f64::max);
        let y = (((least - 0.03) * 10.0).floor() / 10.0, ((most + 0.06) * 10.0).ceil() / 10.0);
        let gradient = Axes { x, y, at: (15.5, middle_top), size: (width, middle_height) };
        let speeds: Vec<f64> = films.iter().map(|own| -own.log_h_m.value).collect();
        let ends = speeds
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |own, speed| (own.0.min(*speed), own.1.max(*speed)));
        let speed =
            Axes { x, y: (ends.0 - 0.06, ends.1 + 0.06), at: (15.5, low_top), size: (width, low_height) };
        courses(&mut svg, view, course, (&gradient, &speed), is_relative);
    }
    html.push_str(&svg.finish("family of curves, gradient over time, speed over time"));
    let growth = view.growth.map_or_else(String::new, |own| {
        format!(
            " Average gradient = G (1 − e^(−k t)): G {}, k {} a minute.",
            show_decimals(own.law.infinity, 2),
            show_decimals(own.law.rate_per_minute, 3)
        )
    });
    let owned: Vec<FilmFigures> = films.into_iter().cloned().collect();
    html.push_str(&format!(
        "<p class=\"note\">{}.{}{}</p>\n",
        escape(&capital(&errors_words(judged.errors))),
        escape(&growth),
        escape(&notes(&owned))
    ));
    (name.to_owned(), html)
}

/// Gradient and speed over the times, on one ratio scale, with the target run through.
fn courses(
    svg: &mut Svg,
    view: &SeriesView,
    course: &crate::curve::series::Course,
    (gradient, speed): (&Axes, &Axes),
    is_relative: bool,
) {
    for level in ticks(gradient.y.0, gradient.y.1, 0.1) {
        svg.text(
            &show_decimals(level, 1),
            (gradient.at.0 - 1.4, gradient.py(level) + 1.25),
            AXIS_PT,
            Anchor::End,
            false,
        );
        svg.dots((gradient.at.0, gradient.py(level)), (gradient.right(), gradient.py(level)));
    }
    let span = show_decimals(view.target.span, 2);
    let words = format!("gradient over {span}");
    svg.turned(&words, (gradient.at.0 - 10.5, gradient.at.1), AXIS_PT, (Anchor::End, -90.0), false);
    svg.turned("speed", (speed.at.0 - 10.5, speed.at.1), AXIS_PT, (Anchor::End, -90.0), false);
    // Speeds of the conventional series by the axis of -log Hm; stops from the shortest time where the light is not known.
    let first = view.series.strips.first().map_or(0.0, |own| -own.1.log_h_m.value);
    let labels: Vec<(f64, String)> = if is_relative {
        ticks((speed.y.0 - first) / STOP, (speed.y.1 - first) / STOP, 0.5)
            .into_iter()
            .map(|stops| (first + stops * STOP, signed_plus(stops, 1)))
            .collect()
    } else {
        let series = [1.0, 1.25, 1.6, 2.0, 2.5, 3.2, 4.0, 5.0, 6.4, 8.0];
        (-1..5)
            .flat_map(|power| series.iter().map(move |own| own * 10_f64.powi(power)))
            .map(|own| ((own / 0.8).log10(), show_short(own, 1)))
            .collect()
    };
    for (at, text) in labels {
        if (speed.y.0 + 0.01..speed.y.1 - 0.01).contains(&at) {
            svg.text(&text, (speed.at.0 - 1.4, speed.py(at) + 1.25), AXIS_PT, Anchor::End, false);
            svg.dots((speed.at.0, speed.py(at)), (speed.right(), speed.py(at)));
        }
    }
    minutes_axis(svg, gradient, speed);
    svg.frame(gradient.at, gradient.size, FRAME);
    svg.frame(speed.at, speed.size, FRAME);
    trace(svg, gradient, &course.gradient, CURVE, |x, y| (x, y));
    trace(svg, speed, &course.log_h_m, CURVE, |x, y| (x, -y));
    for (index, (minutes, own)) in view.series.strips.iter().enumerate() {
        let x = minutes.ln();
        if let Some(rise) = own.rise(view.target.span) {
            svg.mark(Mark::of(index), gradient.p(x, rise / view.target.span));
        }
        svg.mark(Mark::of(index), speed.p(x, -own.log_h_m.value));
    }
    let target = view.target.gradient();
    let right = match &view.outcome {
        Some(Outcome::Reached(own)) => gradient.px(own.minutes.ln()),
        _ => gradient.right(),
    };
    svg.line((gradient.at.0, gradient.py(target)), (right, gradient.py(target)), DASHED);
    let words = format!(
        "target {} ({} over {span})",
        show_decimals(target, 3),
        show_decimals(view.target.difference, 2)
    );
    svg.text(&words, (gradient.at.0 + 2.0, gradient.py(target) - 1.8), 11.0, Anchor::Start, true);
    if let Some(Outcome::Reached(own)) = &view.outcome {
        svg.line((right, gradient.py(target)), (right, speed.foot()), DASHED);
        svg.disc((right, gradient.py(target)), 1.8);
        let at = speed.p(own.minutes.ln(), -own.log_h_m);
        svg.disc(at, 1.8);
        if !is_relative {
            svg.text(&speed_figure(own.speed.value), (at.0 + 2.4, at.1 + 5.0), 12.0, Anchor::Start, true);
        }
        let y = speed.foot() + 8.4;
        let (low, high) = (speed.px(own.limits.low.ln()), speed.px(own.limits.high.ln()));
        svg.line((low, y), (high, y), Pen::whole(0.6));
        for x in [low, high] {
            svg.line((x, y - 1.1), (x, y + 1.1), Pen::whole(0.6));
        }
        svg.disc((right, y), 1.4);
        let words =
            format!("{} ({} to {})", clock(own.minutes), clock(own.limits.low), clock(own.limits.high));
        // To the left where there is room beside the words on the axis, else to the right.
        if low > 105.0 {
            svg.text(&words, (low - 1.8, y + 1.4), 12.0, Anchor::End, true);
        } else {
            svg.text(&words, (high + 1.8, y + 1.4), 12.0, Anchor::Start, true);
        }
    }
}

/// Minutes below both pictures.
fn minutes_axis(svg: &mut Svg, gradient: &Axes, speed: &Axes) {
    let (from, to) = (gradient.x.0.exp(), gradient.x.1.exp());
    let step = match to {
        long if long - from > 24.0 => 5.0,
        short if short < 3.0 => 0.25,
        _ => 1.0,
    };
    let mut last = f64::NEG_INFINITY;
    for minutes in ticks(from, to, step) {
        let x = gradient.px(minutes.ln());
        for axes in [gradient, speed] {
            svg.dots((x, axes.at.1), (x, axes.foot()));
        }
        if x - last > 7.0 {
            svg.text(&show_short(minutes, 2), (x, speed.foot() + 4.4), AXIS_PT, Anchor::Middle, false);
            last = x;
        }
    }
    svg.text("minutes, ratio scale", (speed.at.0, speed.foot() + 9.8), AXIS_PT, Anchor::Start, false);
}

/// The plate of a paper.
fn paper_plate(own: &PaperFigures, judged: &Judged, page: Page) -> (String, String) {
    let name = "Paper by reflection";
    let (low, high) = own.curve.span();
    let line = format!(
        "{} · {} exposures, log H {} to {}",
        short(&own.strip.name),
        own.strip.points.len(),
        signed(low, 2),
        signed(high, 2)
    );
    let mut html = head(name, &line, &format!("R {}", show_decimals(own.iso_range, 0)), &paper_verdict(own));
    let room = (page.width - 22.0, page.fit(140.0, 126.0));
    let axes = square_axes(&[&own.curve], own.maximum, (15.5, 3.0), room);
    let mut svg = Svg::new(page.width, axes.foot() + 10.5);
    characteristic(&mut svg, &axes, None, own.strip.is_relative);
    let base = own.strip.base_fog;
    for (level, words) in [(base, "white"), (own.maximum, "greatest density")] {
        svg.line((axes.at.0, axes.py(level)), (axes.right(), axes.py(level)), DASHED);
        let text = format!("{words} {}", show_decimals(level, 2));
        // Each where the curve is not.
        let (x, anchor) =
            if level > base { (axes.at.0 + 3.0, Anchor::Start) } else { (axes.right() - 3.0, Anchor::End) };
        svg.text(&text, (x, axes.py(level) - 1.4), 10.0, anchor, false);
    }
    trace(&mut svg, &axes, &own.curve, CURVE, |x, y| (x, y));
    for point in &own.strip.points {
        svg.mark(Mark::Ring, axes.p(point.log_h, point.density));
    }
    let y = axes.py(f64::max(axes.y.1 * 0.06, base * 0.5)) + 1.0;
    for (letter, at) in [("T", own.log_h_t), ("S", own.log_h_s)] {
        let Some(density) = own.curve.at(at) else { continue };
        let point = axes.p(at, density);
        svg.line(point, (point.0, axes.foot()), FINE_DASH);
        svg.disc(point, 1.7);
        svg.text(letter, (point.0 - 2.2, point.1 - 2.0), 16.0, Anchor::End, true);
    }
    let (from, to) = (axes.px(own.log_h_t), axes.px(own.log_h_s));
    let y = y.min(axes.foot() - 4.0);
    svg.line((from, y), (to, y), FRAME);
    svg.text(&show_decimals(own.range, 2), (f64::midpoint(from, to), y - 1.2), 12.0, Anchor::Middle, true);
    html.push_str(&svg.finish("characteristic curve of the paper from T to S"));
    html.push_str("<p class=\"note\">");
    html.push_str(
        &paper_lines(own, judged)
            .iter()
            .map(|line| escape(&capital(line)))
            .collect::<Vec<_>>()
            .join("<br>\n"),
    );
    html.push_str(&format!(
        "<br>\nLine: monotone cubic through the readings. One scale on both axes: 45° is a gradient of 1.</p>\n{}",
        own.strip.notes.iter().map(|note| format!("<p class=\"note\">{}</p>\n", escape(note))).collect::<String>()
    ));
    (name.to_owned(), html)
}
