//! The plate of a series of times: contrast and speed over minutes.

use super::{
    AXIS_PT, CURVE, DASHED, FRAME, Page, around_mm, capital, characteristic, head, notes, square_axes, ticks,
    top_density, trace,
};
use crate::curve::STOP;
use crate::curve::figures::FilmFigures;
use crate::curve::interpolation::Pchip;
use crate::curve::series::TargetOutcome;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::curve::words::{
    answer_words, clock, errors_words, growth_words, label, outside_words, signed_plus,
};
use crate::render::curve::{JudgedStrips, SeriesView};
use crate::render::html::escape;
use crate::render::svg::{Anchor, Axes, Mark, Pen, Svg};

/// The plate of a series.
pub(super) fn series(view: &SeriesView, judged: &JudgedStrips, page: Page) -> (String, String) {
    let films: Vec<&FilmFigures> = view.series.strips.iter().map(|strip| &strip.1).collect();
    let is_relative = films.iter().any(|film| film.strip.is_relative);
    let times: Vec<String> = view.series.strips.iter().map(|strip| show_short(strip.0, 2)).collect();
    let name = "Development series";
    let line = format!("{} strips of one film, {} min", films.len(), times.join(", "));
    let answer = match &view.outcome {
        Some(TargetOutcome::Reached(own)) => Some(own.as_ref()),
        _ => None,
    };
    let mut words: Vec<String> = match &view.outcome {
        Some(TargetOutcome::Reached(own)) => vec![answer_words(own, is_relative).join(" ")],
        Some(TargetOutcome::Outside { target, between }) => vec![outside_words(view, target, *between)],
        None => Vec::new(),
    };
    words.extend(growth_words(view));
    let big = answer.map_or_else(|| "not reached".to_owned(), |own| clock(own.minutes));
    let words = words.join(" ");
    let mut html = head(name, &line, &big, &words);
    let note = note(view, judged, &films);

    let curves: Vec<&Pchip> = films.iter().map(|film| &film.curve).collect();
    // The pictures share what words above and below them leave.
    let free = page.height - around_mm(page, (name, &line, &big), &words, &note, &judged.command);
    let share = ((free - PICTURES_APART_MM) / (88.0 + 66.0 + 34.0)).min(1.0);
    let room = (page.width - 38.0, 88.0 * share);
    let axes = square_axes(&curves, top_density(&films), (15.5, 3.0), room);
    let gap = 12.0;
    let (middle_top, middle_height) = (axes.foot() + gap, 66.0 * share);
    let (low_top, low_height) = (middle_top + middle_height + 5.0, 34.0 * share);
    let mut svg = Svg::new(page.width, low_top + low_height + 13.0);
    characteristic(&mut svg, &axes, None, is_relative);
    for (index, film) in films.iter().enumerate() {
        trace(&mut svg, &axes, &film.curve, Pen::whole(0.65), |x, y| (x, y));
        // Every second reading, so that the marks of neighbours stay apart in the toe.
        for point in film.strip.points.iter().rev().step_by(2) {
            svg.mark(Mark::of(index), axes.p(point.log_h, point.density));
        }
        if let (Some(last), Some(time)) = (film.strip.points.last(), times.get(index)) {
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
            films.iter().filter_map(|film| Some(film.rise(view.target.span)? / view.target.span)).collect();
        let target = view.target.gradient();
        let least = gradients.iter().copied().fold(target, f64::min);
        let most = gradients.iter().copied().fold(target, f64::max);
        let y = (((least - 0.03) * 10.0).floor() / 10.0, ((most + 0.06) * 10.0).ceil() / 10.0);
        let gradient = Axes { x, y, at: (15.5, middle_top), size: (width, middle_height) };
        let speeds: Vec<f64> = films.iter().map(|film| -film.log_h_m.value).collect();
        let ends = speeds
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |own, speed| (own.0.min(*speed), own.1.max(*speed)));
        let speed =
            Axes { x, y: (ends.0 - 0.06, ends.1 + 0.06), at: (15.5, low_top), size: (width, low_height) };
        courses(&mut svg, view, course, (&gradient, &speed), is_relative);
    }
    html.push_str(&svg.finish("family of curves, gradient over time, speed over time"));
    html.push_str(&format!("<p class=\"note\">{}</p>\n", escape(&note)));
    (name.to_owned(), html)
}

/// Above, between and below the three pictures, with their axes' words, mm.
const PICTURES_APART_MM: f64 = 3.0 + 12.0 + 5.0 + 13.0;

/// What the limits hold, the law of growth, what was levelled or assumed.
fn note(view: &SeriesView, judged: &JudgedStrips, films: &[&FilmFigures]) -> String {
    let growth = view.growth.map_or_else(String::new, |growth| {
        format!(
            " Average gradient = G\u{a0}(1\u{a0}−\u{a0}e^(−k\u{a0}t)): G {}, k {} a minute.",
            show_decimals(growth.law.infinity, 2),
            show_decimals(growth.law.rate_per_minute, 3)
        )
    });
    let owned: Vec<FilmFigures> = films.iter().copied().cloned().collect();
    format!("{}.{growth}{}", capital(&errors_words(judged.errors)), notes(&owned))
}

/// Gradient and speed over the times, on one ratio scale, with the target run through.
fn courses(
    svg: &mut Svg,
    view: &SeriesView,
    course: &crate::curve::series::TargetCourse,
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
    for (index, (minutes, film)) in view.series.strips.iter().enumerate() {
        let x = minutes.ln();
        if let Some(rise) = film.rise(view.target.span) {
            svg.mark(Mark::of(index), gradient.p(x, rise / view.target.span));
        }
        svg.mark(Mark::of(index), speed.p(x, -film.log_h_m.value));
    }
    let target = view.target.gradient();
    let right = match &view.outcome {
        Some(TargetOutcome::Reached(own)) => gradient.px(own.minutes.ln()),
        _ => gradient.right(),
    };
    svg.line((gradient.at.0, gradient.py(target)), (right, gradient.py(target)), DASHED);
    let words = format!(
        "target {} ({} over {span})",
        show_decimals(target, 3),
        show_decimals(view.target.difference, 2)
    );
    svg.text(&words, (gradient.at.0 + 2.0, gradient.py(target) - 1.8), 11.0, Anchor::Start, true);
    if let Some(TargetOutcome::Reached(own)) = &view.outcome {
        svg.line((right, gradient.py(target)), (right, speed.foot()), DASHED);
        svg.disc((right, gradient.py(target)), 1.8);
        let at = speed.p(own.minutes.ln(), -own.log_h_m);
        svg.disc(at, 1.8);
        if !is_relative {
            svg.text(&label(&own.speed), (at.0 + 2.4, at.1 + 5.0), 12.0, Anchor::Start, true);
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
