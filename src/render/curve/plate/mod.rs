//! Plates on paper: a characteristic curve, strips side by side, a series of times, a paper. Black on white, told apart by line, mark
//! and letter; one scale on both axes of a characteristic curve, so that 45° is a gradient of 1.

mod compared;
mod film;
mod paper;
mod series;

use crate::curve::STOP;
use crate::curve::figures::FilmFigures;
use crate::curve::interpolation::Pchip;
use crate::lettering::{Lettering, Paper};
use crate::quantity::rounding::show_decimals;
use crate::render::curve::characters::signed;
use crate::render::curve::words::{short, signed_plus};
use crate::render::curve::{JudgedStrips, StripJudgement};
use crate::render::html::grid::{self, room_mm};
use crate::render::html::{escape, page_of};
use crate::render::svg::{Anchor, Axes, Pen, Svg};
use compared::several;
use film::one;
use paper::paper_plate;
use series::series;

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

    /// Height of a row of a table, mm.
    fn row_mm(self) -> f64 {
        self.fit(7.4, 6.5)
    }

    /// Height of a table whose rows are one line, mm; none where there is no table.
    fn table_mm(self, html: &str) -> f64 {
        let rows = html.matches("<tr>").count().saturating_sub(1);
        let rows = f64::from(u32::try_from(rows).unwrap_or(u32::MAX));
        if html.is_empty() { 0.0 } else { 7.0 + rows * (self.row_mm() + 0.28) }
    }

    /// A length that the lower page makes shorter.
    fn fit(self, high: f64, low: f64) -> f64 {
        if self.is_low { low } else { high }
    }
}

/// The plates as one HTML page.
pub(crate) fn plate(judged: &JudgedStrips, paper: Paper) -> String {
    let page = Page::of(paper);
    let plates: Vec<(String, String)> = match &judged.subject {
        StripJudgement::Films(films, comparisons) => match films.as_slice() {
            [only] => vec![one(only, judged, page)],
            _ => vec![several(films, comparisons, judged, page)],
        },
        StripJudgement::Series(view) => vec![series(view, judged, page)],
        StripJudgement::Papers(papers) => {
            papers.iter().map(|paper| paper_plate(paper, judged, page)).collect()
        }
    };
    let count = plates.len();
    let title = plates.first().map(|plate| plate.0.clone()).unwrap_or_default();
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
        page.row_mm()
    );
    page_of(&escape(&title), &style, &body)
}

/// Head of a plate: name, a line, the one figure, and the verdict.
fn head(name: &str, line: &str, big: &str, verdict: &str) -> String {
    let many = if verdict.chars().count() > LONG_VERDICT { " long" } else { "" };
    format!("{}<p class=\"verdict{many}\">{}</p>\n", grid::head(name, line, big), escape(verdict))
}

/// Height of all that stands around the pictures of a plate, mm: head, verdict, note and foot, in lines by [`crate::lettering`].
fn around_mm(
    page: Page,
    (name, line, big): (&str, &str, &str),
    verdict: &str,
    note: &str,
    command: &str,
) -> f64 {
    let beside = page.width - Lettering::bold(34.0, 1.0).width_mm(big) - 5.0;
    let head = Lettering::bold(22.0, 1.05).height_mm(name, beside)
        + Lettering::regular(10.0, 1.2).height_mm(line, beside)
        + 0.8;
    let is_long = verdict.chars().count() > LONG_VERDICT;
    let verdict = Lettering::regular(if is_long { 12.5 } else { 15.5 }, 1.22).height_mm(verdict, page.width);
    let note = Lettering::regular(10.0, 1.2).height_mm(note, page.width);
    let command = Lettering::regular(10.0, 1.2).lines(command, page.width - 30.0);
    // Paddings and rules of the head, of the verdict, of the note and of the foot, as the styles have them.
    let command = f64::from(u32::try_from(command).unwrap_or(u32::MAX)) * 4.2;
    head.max(12.0) + 2.4 + verdict + 4.7 + note + 1.2 + command + 1.5
}

/// A verdict of more letters stands in smaller type.
const LONG_VERDICT: usize = 270;

/// How a strip was exposed and read.
fn strip_line(film: &FilmFigures) -> String {
    let (low, high) = film.curve.span();
    format!(
        "{} · {} exposures, log H {} to {}",
        short(&film.strip.name),
        film.strip.points.len(),
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
    let spans = curves.iter().map(|curve| curve.span());
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
    films.iter().flat_map(|film| &film.strip.points).map(|own| own.density).fold(0.0, f64::max)
}

fn capital(text: &str) -> String {
    crate::render::capital(text)
}

/// What was levelled or assumed.
fn notes(films: &[FilmFigures]) -> String {
    films
        .iter()
        .flat_map(|film| film.strip.notes.iter().map(|note| format!(" {}: {note}.", short(&film.strip.name))))
        .collect()
}

/// Where a curve's letter stands: off the curve, where the nearest other is farthest.
fn letter_place(films: &[FilmFigures], index: usize, axes: &Axes) -> (f64, f64) {
    let Some(film) = films.get(index) else { return axes.at };
    let (from, to) = film.curve.span();
    let mut best = (f64::NEG_INFINITY, from, true);
    for step in 8..=34_u32 {
        let x = from + (to - from) * f64::from(step) / 40.0;
        let Some(y) = film.curve.at(x) else { continue };
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
    let y = film.curve.at(best.1).unwrap_or_default();
    let at = axes.p(best.1, y);
    let place = if best.2 { (at.0 - 5.0, at.1 - 5.5) } else { (at.0 + 5.0, at.1 + 5.5) };
    (place.0.clamp(axes.at.0 + 4.5, axes.right() - 4.5), place.1.clamp(axes.at.1 + 4.5, axes.foot() - 4.5))
}
