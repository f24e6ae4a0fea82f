//! The sheet beside the tank: one substance over films, when to begin anew, and a box to strike for each film.

use super::plotted::{Plotted, plotted};
use super::words::{grams, litres, millilitres};
use crate::bath::course::Replenishing;
use crate::bench::head::short_name;
use crate::lettering::Paper;
use crate::quantity::rounding::show_short;
use crate::render::html::{escape, grid, page_of};
use crate::render::svg::{Anchor, Axes, Pen, Svg};

const STYLE: &str = include_str!("replenish.css");

/// Boxes that the page has room for: two columns of rows of five.
const MOST_BOXES: u32 = 50;
const IN_A_ROW: u32 = 5;
/// Figures that are closer side by side run into one another, mm.
const CLOSE_MM: f64 = 18.0;

pub(crate) fn replenish_html(answer: &Replenishing, paper: Paper) -> String {
    let style = format!("{}{STYLE}", grid::style(paper));
    let tank = answer.tank;
    let plotted = plotted(answer);
    let name = plotted.as_ref().map_or("", |own| own.name.as_str());
    // `bromide` says enough over the plate, whose axis names the salt.
    let what = ["potassium ", "sodium "].iter().find_map(|metal| name.strip_prefix(metal)).unwrap_or(name);
    let what = what.split(',').next().unwrap_or(what);
    let with = match &answer.replenisher {
        Some(own) => own.id.clone(),
        None => "the developer itself".to_owned(),
    };
    let brought = plotted.as_ref().map_or_else(String::new, |own| {
        if own.replenisher_g_per_l > 0.0 {
            format!(", {} g/L of it in the replenisher", grams(own.replenisher_g_per_l))
        } else {
            ", none of it in the replenisher".to_owned()
        }
    });
    let line = format!(
        "{} · tank {} · with {with}{brought}",
        short_name(&answer.formula.title).0,
        litres(tank.volume_ml)
    );
    let mut body =
        grid::head(&format!("Replenishing: {what}"), &line, &format!("{} a film", millilitres(tank.rate_ml)));
    body.push_str(&format!("<p class=\"verdict\">{}</p>\n", verdict(answer, plotted.as_ref())));
    if let Some(own) = &plotted {
        body.push_str(&plate(answer, own, paper));
    }
    body.push_str(&boxes(answer));
    let released = plotted.as_ref().and_then(|plotted| plotted.film_words.clone()).unwrap_or_default();
    body.push_str(&format!(
        "<p class=\"foot\">{}the limit is usual practice, no source; a control strip decides. Begun ____________</p>\n",
        escape(&released)
    ));
    let made = format!(
        "replenish {}, tank {}, {} films, {} a film",
        answer.formula.id,
        litres(tank.volume_ml),
        answer.films,
        millilitres(tank.rate_ml)
    );
    body.push_str(&grid::foot(&made, "beside the tank"));
    page_of("Replenishing", &style, &format!("<main class=\"page replenish\">\n{body}</main>\n"))
}

fn verdict(answer: &Replenishing, plotted: Option<&Plotted>) -> String {
    let Some(films) = answer.begin_anew() else {
        return "Nothing is put back: the bath is used up.".to_owned();
    };
    let added = litres(f64::from(films) * answer.tank.rate_ml);
    let mut words =
        format!("Begin anew at <b>{films} films</b>: by then {added} of replenisher has gone in.");
    let stands = plotted.and_then(|plotted| {
        let at = answer.course.iter().find(|point| point.films >= films)?;
        Some((plotted, *at.g_per_l.get(plotted.index)?))
    });
    if let Some((own, grams_then)) = stands {
        let name = crate::render::capital(&own.name);
        words.push_str(&format!(" {} then stands at <b>{} g/L</b>", escape(&name), grams(grams_then)));
        if let Some(settles) = own.settles {
            words.push_str(&format!("; going on, it would settle at {}", grams(settles)));
        }
        words.push('.');
    }
    words
}

/// Steps of an axis: 1, 2 or 5 times a power of ten, at most eight of them.
fn step(top: f64) -> f64 {
    let rough = top / 8.0;
    let power = 10f64.powf(rough.log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0];
    steps.iter().map(|step| step * power).find(|own| *own >= rough).unwrap_or(top)
}

fn plate(answer: &Replenishing, plotted: &Plotted, paper: Paper) -> String {
    let (width, height) = (181.0, if paper == Paper::A4 { 134.0 } else { 118.0 });
    let axes = Axes {
        x: (0.0, plotted.films),
        y: (0.0, plotted.top),
        at: (16.0, 12.0),
        size: (150.0, height - 12.0 - 13.0),
    };
    let mut svg = Svg::new(width, height);
    svg.frame(axes.at, axes.size, Pen::whole(0.4));
    let y_step = step(plotted.top);
    let decimals = if y_step >= 1.0 {
        0
    } else if y_step >= 0.1 {
        1
    } else {
        2
    };
    let mut y = 0.0;
    while y <= plotted.top * 1.0001 {
        let at = axes.py(y);
        if y > 0.0 && y < plotted.top * 0.999 {
            svg.dots((axes.at.0, at), (axes.right(), at));
        }
        let figure = crate::quantity::rounding::show_decimals(y, decimals);
        svg.text(&figure, (axes.at.0 - 1.5, at + 1.3), 10.0, Anchor::End, false);
        y += y_step;
    }
    let x_step = step(plotted.films).max(1.0);
    let mut x = 0.0;
    while x <= plotted.films * 1.0001 {
        let at = axes.px(x);
        svg.line((at, axes.foot()), (at, axes.foot() - 2.0), Pen::whole(0.3));
        svg.text(&show_short(x, 0), (at, axes.foot() + 4.5), 10.0, Anchor::Middle, false);
        x += x_step;
    }
    svg.text("films of 516 cm²", (axes.right(), axes.foot() + 9.5), 10.0, Anchor::End, false);
    svg.turned(
        &format!("{}, g/L", plotted.name),
        (axes.at.0 - 11.0, axes.at.1 + 1.0),
        10.0,
        (Anchor::End, -90.0),
        false,
    );
    // What has been added, above. Where the end lies close behind the films to begin anew at, its figures would run into theirs.
    let rate = answer.tank.rate_ml;
    let anew_at = plotted.begin_anew.map(|anew| axes.px(f64::from(anew)));
    let is_free = |at: f64| anew_at.is_none_or(|anew| at <= anew || at - anew >= CLOSE_MM);
    let marks = [Some(0.0), plotted.begin_anew.map(f64::from), Some(plotted.films)];
    let marks = marks.into_iter().flatten().filter(|films| is_free(axes.px(*films)));
    if rate > 0.0 {
        svg.text("replenisher added", (axes.right(), 4.0), 10.0, Anchor::End, false);
        for films in marks {
            let words = if films > 0.0 { litres(films * rate) } else { "0".to_owned() };
            svg.text(&words, (axes.px(films), axes.at.1 - 1.5), 10.0, Anchor::Middle, false);
        }
    }
    if let Some(settles) = plotted.settles.filter(|settles| *settles <= plotted.top) {
        let at = axes.py(settles);
        svg.line((axes.at.0, at), (axes.right(), at), Pen::dashed(0.5, "4 1.5"));
        let words = format!("settles at {} g/L", grams(settles));
        svg.text(&words, (axes.at.0 + 2.0, at - 1.5), 10.5, Anchor::Start, true);
    }
    let place = |(films, grams): &(f64, f64)| axes.p(*films, *grams);
    for (curve, words) in [(&plotted.low, &plotted.low_words), (&plotted.high, &plotted.high_words)] {
        let inside: Vec<_> = curve.iter().filter(|(_, grams)| *grams <= plotted.top).map(place).collect();
        svg.path(&inside, Pen::dashed(0.3, "1.2 0.8"));
        if let Some((_, last)) = curve.last().filter(|(_, last)| *last <= plotted.top) {
            svg.text(words, (axes.right() + 1.0, axes.py(*last) + 1.2), 10.0, Anchor::Start, false);
        }
    }
    if let Some(anew) = plotted.begin_anew {
        let at = axes.px(f64::from(anew));
        svg.line((at, axes.at.1), (at, axes.foot()), Pen::whole(1.2));
        let (x, anchor) =
            if at < axes.right() - 45.0 { (at + 2.0, Anchor::Start) } else { (at - 2.0, Anchor::End) };
        svg.text(&format!("begin anew: {anew} films"), (x, axes.foot() - 6.0), 12.0, anchor, true);
    }
    svg.path(&plotted.curve.iter().map(place).collect::<Vec<_>>(), Pen::whole(0.9));
    for (films, grams_now) in &plotted.points {
        let at = axes.p(*films, *grams_now);
        svg.disc(at, 1.5);
        let rises = plotted
            .curve
            .last()
            .is_some_and(|(_, last)| *last >= plotted.curve.first().map_or(0.0, |(_, first)| *first));
        let up = if rises { -3.0 } else { 6.0 };
        if is_free(at.0) {
            svg.text(&grams(*grams_now), (at.0 - 2.0, at.1 + up), 12.0, Anchor::End, true);
        }
    }
    if let Some((_, last)) = plotted.curve.last().filter(|_| !plotted.curve_words.is_empty()) {
        svg.text(&plotted.curve_words, (axes.right() + 2.0, axes.py(*last) + 1.2), 10.0, Anchor::Start, true);
    }
    svg.finish(&format!("{} over films", plotted.name))
}

/// A box a film, or a batch, or for some films where there are many; with what has gone in at each row's end.
fn boxes(answer: &Replenishing) -> String {
    let rate = answer.tank.rate_ml;
    if rate <= 0.0 {
        return String::new();
    }
    let films = answer.begin_anew().unwrap_or(answer.films).max(1);
    let (each, head) = match answer.exchange {
        Some(settled) => {
            let batches = (films / settled.films).div_ceil(MOST_BOXES).max(1);
            let each =
                if settled.films == 1 { "1 film".to_owned() } else { format!("{} films", settled.films) };
            let (box_of, after) = match batches {
                1 => (format!("a batch of {each}"), "it".to_owned()),
                more => (format!("for {more} batches of {each}"), "each batch".to_owned()),
            };
            let exchange = millilitres(settled.exchange_ml);
            (settled.films * batches, format!("Strike a box {box_of}; exchange {exchange} after {after}"))
        }
        None if films <= MOST_BOXES => (
            1,
            format!(
                "Strike a box a film; put in {} each time, or {} at the end of a row",
                millilitres(rate),
                millilitres(rate * f64::from(IN_A_ROW))
            ),
        ),
        None => {
            let each = films.div_ceil(MOST_BOXES);
            (
                each,
                format!(
                    "Strike a box for each {each} films; put in {} for it",
                    millilitres(rate * f64::from(each))
                ),
            )
        }
    };
    let count = (films / each).clamp(1, MOST_BOXES);
    let rows = count.div_ceil(IN_A_ROW);
    let left = rows.div_ceil(2);
    let mut text = format!("<h2>{head}</h2>\n<div class=\"tally\">\n");
    for half in [0..left, left..rows] {
        text.push_str("<div>");
        for row in half {
            text.push_str("<p>");
            let last = ((row + 1) * IN_A_ROW).min(count);
            for index in row * IN_A_ROW + 1..=last {
                text.push_str(&format!("<i>{}</i>", index * each));
            }
            text.push_str(&format!("<b>{}</b></p>", millilitres(rate * f64::from(last * each))));
        }
        text.push_str("</div>\n");
    }
    text.push_str("</div>\n");
    text
}
