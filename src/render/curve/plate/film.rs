//! The plate of one film: its curve with speed, gradient and useful range measured on it.

use super::{
    AXIS_PT, CURVE, DASHED, FINE_DASH, FRAME, Page, THIN, capital, characteristic, head, is_multiple, notes,
    square_axes, strip_line, table, ticks, top_density, trace,
};
use crate::curve::figures::{CurveFigure, FilmFigures};
use crate::quantity::rounding::show_decimals;
use crate::render::curve::JudgedStrips;
use crate::render::curve::characters::signed;
use crate::render::curve::words::{
    criterion, errors_words, headline, label, limits, points, speed_figure, speed_limits,
};
use crate::render::html::escape;
use crate::render::svg::{Anchor, Axes, Mark, Pen, Svg};

/// The plate of one strip.
pub(super) fn one(strip_figures: &FilmFigures, judged: &JudgedStrips, page: Page) -> (String, String) {
    let film = &judged.table.film;
    let speed = if strip_figures.strip.is_relative {
        "The light is not known: the speed is relative and compares strips exposed alike.".to_owned()
    } else {
        format!(
            "Speed {} ({}).",
            speed_figure(strip_figures.speed.value),
            speed_limits(strip_figures.speed.limits)
        )
    };
    let name = "Characteristic curve";
    let mut html = head(
        name,
        &strip_line(strip_figures),
        &headline(strip_figures),
        &format!("{speed} {}", criterion(strip_figures, judged)),
    );

    let room = (page.width - 32.0, page.fit(98.0, 84.0));
    let axes = square_axes(&[&strip_figures.curve], top_density(&[strip_figures]), (15.5, 10.5), room);
    let lower_height = page.fit(34.0, 28.0);
    let lower_top = axes.foot() + 12.5;
    let mut svg = Svg::new(page.width, lower_top + lower_height + 2.0);
    let base = strip_figures.strip.base_fog;
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
        Some((strip_figures.log_h_m.value, "stops from the speed point m")),
        strip_figures.strip.is_relative,
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

    let (m, n) = points(strip_figures, film.span);
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
    trace(&mut svg, &axes, &strip_figures.curve, CURVE, |x, y| (x, y));
    for point in &strip_figures.strip.points {
        svg.mark(Mark::Ring, axes.p(point.log_h, point.density));
    }
    if let Some(average) = strip_figures.average_gradient {
        dimension(&mut svg, &axes, strip_figures, film.average_span, average.value);
    }
    svg.disc((mx, my), 1.7);
    svg.text("m", (mx - 4.4, my - 1.2), 16.0, Anchor::End, true);
    if let Some(n) = n {
        let at = axes.p(n.0, n.1);
        svg.disc(at, 1.7);
        svg.text("n", (at.0 + 2.4, at.1 + 4.6), 16.0, Anchor::Start, true);
    }
    local(&mut svg, strip_figures, &axes, lower_top, lower_height);
    html.push_str(&svg.finish("characteristic curve with the triangle of the standard; gradient below"));
    html.push_str(&measures(strip_figures, judged));
    html.push_str(&format!(
        "<p class=\"note\">{}. Line: monotone cubic through the readings. One scale on both axes: 45° is a gradient of 1.{}</p>\n",
        escape(&capital(&errors_words(judged.errors))),
        escape(&notes(std::slice::from_ref(strip_figures)))
    ));
    (name.to_owned(), html)
}

/// The average gradient as a dimension line beside the curve.
fn dimension(svg: &mut Svg, axes: &Axes, film: &FilmFigures, span: f64, value: f64) {
    let (m, end) = points(film, span);
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
fn local(svg: &mut Svg, film: &FilmFigures, upper: &Axes, top: f64, height: f64) {
    let largest = film.gradients.iter().map(|gradient| gradient.gradient).fold(0.0, f64::max);
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
        film.gradients.iter().map(|gradient| axes.p(gradient.log_h, gradient.gradient.max(0.0))).collect();
    svg.path(&line, Pen::whole(0.6));
    for at in &line {
        svg.mark(Mark::Ring, *at);
    }
    if let Some(gamma) = film.gamma {
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
fn measures(strip_figures: &FilmFigures, judged: &JudgedStrips) -> String {
    let film = &judged.table.film;
    let row = |name: &str, taken: &str, figure: Option<CurveFigure>, note: &str| {
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
    if strip_figures.strip.is_relative {
        rows.push(vec![
            "log Hm".to_owned(),
            "relative".to_owned(),
            signed(strip_figures.log_h_m.value, 2),
            limits(strip_figures.log_h_m.limits, 2),
            "the light is not known".to_owned(),
        ]);
    } else {
        let note = if strip_figures.is_iso {
            format!("ISO {}", label(&strip_figures.speed))
        } else {
            format!("index {}, not ISO", label(&strip_figures.speed))
        };
        rows.push(vec![
            "speed".to_owned(),
            "0.8 / Hm".to_owned(),
            speed_figure(strip_figures.speed.value),
            speed_limits(strip_figures.speed.limits),
            note,
        ]);
    }
    rows.push(row("density difference", "m to n", strip_figures.density_difference, &asked));
    rows.push(row("gradient, ISO triangle", "m to n", strip_figures.gradient_iso, ""));
    rows.push(row(
        "average gradient",
        &format!("m to m + {}", show_decimals(film.average_span, 2)),
        strip_figures.average_gradient,
        "",
    ));
    let arcs = format!(
        "{} and {}",
        show_decimals(judged.table.two_arc.inner, 1),
        show_decimals(judged.table.two_arc.outer, 1)
    );
    rows.push(row("two-arc index", &arcs, strip_figures.contrast_index, ""));
    if let Some(gamma) = strip_figures.gamma {
        rows.push(vec![
            "gamma".to_owned(),
            format!("{} to {}", signed(gamma.from, 2), signed(gamma.to, 2)),
            show_decimals(gamma.value, 2),
            limits(gamma.limits, 2),
            format!("residual {}", show_decimals(gamma.residual, 3)),
        ]);
    }
    if let (Some(speed), false) = (strip_figures.delta_x_speed, strip_figures.strip.is_relative) {
        rows.push(vec![
            "delta-X speed".to_owned(),
            "fractional gradient".to_owned(),
            speed_figure(speed.value),
            speed_limits(speed.limits),
            "coefficients from memory".to_owned(),
        ]);
    }
    let useful = strip_figures.useful_range;
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
