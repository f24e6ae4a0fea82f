//! The plate of a paper.

use super::{CURVE, DASHED, FINE_DASH, FRAME, Page, capital, characteristic, head, square_axes, trace};
use crate::curve::paper::PaperFigures;
use crate::quantity::rounding::show_decimals;
use crate::render::curve::JudgedStrips;
use crate::render::curve::characters::signed;
use crate::render::curve::words::{paper_lines, paper_verdict, short};
use crate::render::html::escape;
use crate::render::svg::{Anchor, Mark, Svg};

pub(super) fn paper_plate(paper: &PaperFigures, judged: &JudgedStrips, page: Page) -> (String, String) {
    let name = "Paper by reflection";
    let (low, high) = paper.curve.span();
    let line = format!(
        "{} · {} exposures, log H {} to {}",
        short(&paper.strip.name),
        paper.strip.points.len(),
        signed(low, 2),
        signed(high, 2)
    );
    let mut html =
        head(name, &line, &format!("R {}", show_decimals(paper.iso_range, 0)), &paper_verdict(paper));
    let room = (page.width - 22.0, page.fit(140.0, 126.0));
    let axes = square_axes(&[&paper.curve], paper.maximum, (15.5, 3.0), room);
    let mut svg = Svg::new(page.width, axes.foot() + 10.5);
    characteristic(&mut svg, &axes, None, paper.strip.is_relative);
    let base = paper.strip.base_fog;
    for (level, words) in [(base, "white"), (paper.maximum, "greatest density")] {
        svg.line((axes.at.0, axes.py(level)), (axes.right(), axes.py(level)), DASHED);
        let text = format!("{words} {}", show_decimals(level, 2));
        // Each where the curve is not.
        let (x, anchor) =
            if level > base { (axes.at.0 + 3.0, Anchor::Start) } else { (axes.right() - 3.0, Anchor::End) };
        svg.text(&text, (x, axes.py(level) - 1.4), 10.0, anchor, false);
    }
    trace(&mut svg, &axes, &paper.curve, CURVE, |x, y| (x, y));
    for point in &paper.strip.points {
        svg.mark(Mark::Ring, axes.p(point.log_h, point.density));
    }
    let y = axes.py(f64::max(axes.y.1 * 0.06, base * 0.5)) + 1.0;
    for (letter, at) in [("T", paper.log_h_t), ("S", paper.log_h_s)] {
        let Some(density) = paper.curve.at(at) else { continue };
        let point = axes.p(at, density);
        svg.line(point, (point.0, axes.foot()), FINE_DASH);
        svg.disc(point, 1.7);
        svg.text(letter, (point.0 - 2.2, point.1 - 2.0), 16.0, Anchor::End, true);
    }
    let (from, to) = (axes.px(paper.log_h_t), axes.px(paper.log_h_s));
    let y = y.min(axes.foot() - 4.0);
    svg.line((from, y), (to, y), FRAME);
    svg.text(&show_decimals(paper.range, 2), (f64::midpoint(from, to), y - 1.2), 12.0, Anchor::Middle, true);
    html.push_str(&svg.finish("characteristic curve of the paper from T to S"));
    html.push_str("<p class=\"note\">");
    html.push_str(
        &paper_lines(paper, judged)
            .iter()
            .map(|line| escape(&capital(line)))
            .collect::<Vec<_>>()
            .join("<br>\n"),
    );
    html.push_str(&format!(
        "<br>\nLine: monotone cubic through the readings. One scale on both axes: 45° is a gradient of 1.</p>\n{}",
        paper.strip.notes.iter().map(|note| format!("<p class=\"note\">{}</p>\n", escape(note))).collect::<String>()
    ));
    (name.to_owned(), html)
}
