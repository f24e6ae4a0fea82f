//! The printed pages: *clock* for the sink and *before* for the bench in room light; for sheets in trays a card to learn.

use super::rows::{Group, Row, groups, of_day, of_day_minutes, watch};
use super::words::{amount, card, clearing, head, moments, never, others_too, turned_late, when_late};
use super::{EveningView, handling};
use crate::evening::clock::{EveningPlan, Watch};
use crate::evening::file::Way;
use crate::lettering::{Lettering, Paper};
use crate::render::html::{MARGINS_MM, escape, grid, page_of};

const STYLE: &str = include_str!("evening.css");
/// A name as long as this stands in a ring.
const RING_LETTERS: usize = 6;

pub(crate) fn evening_html(view: &EveningView, paper: Paper) -> String {
    let class = paper.word();
    let mut body = String::new();
    if let Some(plan) = view.plan.as_ref().filter(|_| view.refusals.is_empty()) {
        body.push_str(&format!("<main class=\"page evening {class}\">\n{}</main>\n", clock(view, plan)));
        for (tank, _) in &view.beats {
            body.push_str(&format!("<main class=\"page evening {class}\">\n{}</main>\n", dark(view, *tank)));
        }
    }
    let dense = match over_mm(view) {
        over if over > SNUG_SAVES_MM => " dense",
        over if over > 0.0 => " snug",
        _ => "",
    };
    body.push_str(&format!("<main class=\"page evening {class}{dense}\">\n{}</main>\n", before(view)));
    let style = format!("{}{STYLE}", grid::style(paper));
    page_of("Evening", &style, &body)
}

fn ring(view: &EveningView, tank: usize) -> String {
    let name = view.tanks.get(tank).map_or("", |own| own.name.as_str());
    let shown: String = name.chars().take(RING_LETTERS).collect();
    format!("<span class=\"c\">{}</span>", escape(&shown))
}

fn minutes(seconds: i64) -> String {
    let whole = (seconds + 30) / 60;
    if whole < 120 { format!("{whole} min") } else { format!("{}:{:02} h", whole / 60, whole % 60) }
}

/// The page at the sink.
fn clock(view: &EveningView, plan: &EveningPlan) -> String {
    let first = view.evening.first_of_day_s();
    let line = format!("{} · pour out 0:{:02} · {}", head(view), view.evening.pour_s, handling::short(view));
    let mut html = grid::head("Evening: clock", &line, &minutes(plan.end_s));
    let all = groups(view, plan);
    let count = all.len();
    for (place, group) in all.iter().enumerate() {
        html.push_str("<section class=\"run\">\n");
        html.push_str(&run_head(view, group));
        let is_two = group.tanks.len() == 2;
        if is_two {
            html.push_str("<div class=\"row two\"><span></span><span></span><span></span>");
            for tank in &group.tanks {
                html.push_str(&format!("<span class=\"off\">{}</span>", ring(view, *tank)));
            }
            html.push_str("</div>\n");
        }
        for row in &group.rows {
            html.push_str(&if is_two {
                row_of_two(view, plan, group, row, first)
            } else {
                row_of_one(view, group, row, first)
            });
        }
        if place + 1 == count {
            let at = watch(plan.end_s - group.zero_s);
            html.push_str(&format!(
                "<div class=\"row end\"><span></span><span class=\"w{}\">{at}</span><span class=\"k\">{}</span><span></span><span class=\"do\"><span><b>all hung</b><span>rinse up; write the other side</span></span></span></div>\n",
                long(&at),
                first.map_or_else(String::new, |first| of_day(first, plan.end_s))
            ));
        }
        html.push_str("</section>\n");
    }
    let light = handling::light(view).join(" ");
    html.push_str(&format!(
        "<p class=\"rule\"><b>Late?</b> {} <b>Light:</b> {}</p>\n",
        escape(&when_late(view)),
        escape(&light)
    ));
    if let Some(late) = turned_late(view, plan) {
        html.push_str(&format!("<p class=\"rule\"><b>Tight:</b> {}.</p>\n", escape(&late)));
    }
    html.push_str(&grid::foot(&view.named, "clock · volumes, temperatures, checklist: before"));
    html
}

fn long(watch: &str) -> &'static str {
    if watch.chars().count() > 5 { " long" } else { "" }
}

fn run_head(view: &EveningView, group: &Group) -> String {
    let rings: Vec<String> = group.tanks.iter().map(|tank| ring(view, *tank)).collect();
    let contents: Vec<String> =
        group.tanks.iter().filter_map(|tank| view.contents.get(*tank)).map(|own| escape(own)).collect();
    let name = group.tanks.first().and_then(|tank| view.tanks.get(*tank)).map_or("", |own| own.name.as_str());
    let others = escape(&others_too(view, group));
    format!(
        "<div class=\"head\">{}<p><b>Watch to 0:00</b> when the developer of {} begins to go in<b>{others}</b><small>{}</small></p><span class=\"blank\">clock then <i></i></span></div>\n",
        rings.join(""),
        escape(name),
        contents.join("; ")
    )
}

fn boxes(row: &Row) -> String {
    if row.turns.is_empty() {
        return String::new();
    }
    let all: String = row.turns.iter().map(|own| format!("<u>{}</u>", escape(own))).collect();
    format!("<span class=\"b\">{all}</span>")
}

fn moment(group: &Group, row: &Row, first: Option<i64>) -> String {
    let at = watch(row.at_s - group.zero_s);
    format!(
        "<span class=\"tick\"></span><span class=\"w{}\">{at}</span><span class=\"k\">{}</span>",
        long(&at),
        first.map_or_else(String::new, |first| of_day(first, row.at_s))
    )
}

fn row_of_one(view: &EveningView, group: &Group, row: &Row, first: Option<i64>) -> String {
    format!(
        "<div class=\"row\">{}<span>{}</span><span class=\"do\"><span><b>{}</b><span>{}</span></span>{}</span></div>\n",
        moment(group, row, first),
        ring(view, row.tank),
        escape(&row.act),
        escape(&row.detail),
        boxes(row)
    )
}

/// A row where two tanks are in the developer at once: each in its column, a bar where a tank is in liquid.
fn row_of_two(
    view: &EveningView,
    plan: &EveningPlan,
    group: &Group,
    row: &Row,
    first: Option<i64>,
) -> String {
    let mut cells = String::new();
    let is_other = !group.tanks.contains(&row.tank);
    for (place, tank) in group.tanks.iter().enumerate() {
        let is_wet = plan.tanks.get(*tank).is_some_and(|own| {
            own.starts_s.first().is_some_and(|start| *start <= row.at_s)
                && own.ends_s.last().is_some_and(|end| row.at_s <= *end)
        });
        let class = if is_wet { "in" } else { "in off" };
        let style = if is_wet { "" } else { " style=\"border-left-color:#fff\"" };
        let words = if row.tank == *tank || is_other && place == 0 {
            let name = if is_other { ring(view, row.tank) } else { String::new() };
            format!("{name}<b>{}</b><span>{}</span>{}", escape(&row.act), escape(&row.detail), boxes(row))
        } else {
            String::new()
        };
        cells.push_str(&format!("<span class=\"{class}\"{style}>{words}</span>"));
    }
    format!("<div class=\"row two\">{}{cells}</div>\n", moment(group, row, first))
}

/// What closer rows save of the page for room light before its type is set smaller, mm.
const SNUG_SAVES_MM: f64 = 9.0;

/// By how much the page for room light is taller than the paper in its full sizes, mm, so that it is set closer or smaller, never below 10
/// points.
///
/// Heights in millimetres as measured on printed A4 pages, lines of text by [`crate::lettering`]; rows on Letter are lower by as much as the
/// paper is.
fn over_mm(view: &EveningView) -> f64 {
    const FIXED_MM: f64 = 129.0;
    const BATH_MM: f64 = 10.7;
    const A4_MM: f64 = 297.0;
    // Width of the text of a fact, of a box and of a note, mm; of what a bath is and of where it comes from.
    const FACT_MM: f64 = 163.0;
    const BOX_MM: f64 = 173.0;
    const NOTE_MM: f64 = 85.0;
    const MADE_MM: f64 = 54.0;
    const FROM_MM: f64 = 47.0;
    let fine = Lettering::regular(11.0, 1.15);
    let large = Lettering::regular(13.0, 1.15);
    let facts: f64 = view.ready.iter().map(|(_, text)| fine.height_mm(text, FACT_MM) + 0.4).sum();
    // A box has its border, padding and distance around its text; its first words stand in bold.
    let boxed = |text: &str| large.height_mm(&format!("MISSING {text}"), BOX_MM) + 7.0;
    let boxes: f64 = view.between.iter().map(|own| &own.1).chain(&view.missing).map(|own| boxed(own)).sum();
    let refused =
        |refusal: &super::EveningRefusal| boxed(&refusal.text) + fine.height_mm(&refusal.fix, BOX_MM - 16.0);
    let refused: f64 = view.refusals.iter().map(refused).sum();
    let note = Lettering::regular(10.0, 1.1);
    let notes: f64 = view.notes.iter().map(|text| note.height_mm(text, NOTE_MM) + 0.3).sum();
    let row = |need: &super::NeedView| {
        let below = fine.height_mm(&need.made, MADE_MM).max(fine.height_mm(&need.stock, FROM_MM));
        (6.2 + below + 0.6).max(BATH_MM)
    };
    let baths: f64 = view.needs.iter().map(row).sum();
    let tanks = if view.tanks.len() > 2 { view.tanks.len().div_ceil(2) } else { view.tanks.len() };
    let count = |own: usize| u32::try_from(own).map_or(f64::MAX, f64::from);
    let columns = if view.notes.len() > 1 { 2.0 } else { 1.0 };
    let whole = FIXED_MM + baths + facts + boxes + refused + notes / columns + 7.7 * count(tanks);
    let [_, _, top, bottom] = MARGINS_MM;
    whole - (A4_MM - top - bottom)
}

/// The page for room light.
fn before(view: &EveningView) -> String {
    let first = view.evening.first_of_day_s();
    let figure = first.map_or_else(|| "before".to_owned(), |first| of_day_minutes(first, 0));
    let mut html =
        grid::head("Evening: before", &format!("{} · in room light · then the clock", head(view)), &figure);
    for refusal in &view.refusals {
        html.push_str(&format!(
            "<div class=\"box\"><p><b>REFUSED</b> {}</p><p>Instead: {}.</p></div>\n",
            escape(&refusal.text),
            escape(&refusal.fix)
        ));
    }
    for text in &view.missing {
        html.push_str(&format!("<div class=\"box\"><p><b>MISSING</b> {}</p></div>\n", escape(text)));
    }
    let small = if first.is_none() { " small" } else { "" };
    html.push_str(&format!("<div class=\"times{small}\">"));
    for (at, what) in moments(view) {
        html.push_str(&format!("<div><b>{}</b>{}</div>", escape(&at), escape(&what)));
    }
    html.push_str("</div>\n");
    html.push_str("<div class=\"bath heads\"><span>here</span><span class=\"pour\">pour</span><span>bath, in order</span><span>from</span><span>°C</span><span>read</span></div>\n");
    for need in &view.needs {
        let unit = if need.need.fresh == (0, None) { "" } else { " <small>mL</small>" };
        html.push_str(&format!(
            "<div class=\"bath\"><span class=\"tick\"></span><span class=\"pour\">{}{unit}</span><span><b class=\"n\">{}</b>{}</span><span><b class=\"n\">{}</b>{}</span><span class=\"temp\">{}</span><span class=\"read\"></span></div>\n",
            escape(&amount(need)),
            escape(&need.need.bath),
            escape(&need.made),
            escape(&need.source),
            escape(&need.stock),
            escape(&need.celsius)
        ));
    }
    if !view.ready.is_empty() {
        html.push_str("<div class=\"facts\">");
        for (word, text) in &view.ready {
            html.push_str(&format!("<b>{}</b><span>{}</span>", escape(word), escape(text)));
        }
        html.push_str("</div>\n");
    }
    html.push_str(&checklist(view));
    if let Some((fix, two, three, least)) = clearing(view) {
        let planned = Watch(fix);
        html.push_str(&format!(
            "<div class=\"box\"><p><b>Fixer clears</b> a leader of tonight's film in <i></i> × {two} = <i></i> <b>{planned} or less: go</b></p><p>A drop of it on a dry leader; after 30 s the whole strip in, watch running, until the spot no longer shows. Iodide-rich film: × {three}. The plan fixes {planned}: right up to {}. Slower: fix on, or new fixer. Never under {}.</p></div>\n",
            Watch(fix / two),
            Watch(least)
        ));
    }
    for (word, text) in &view.between {
        html.push_str(&format!(
            "<div class=\"box\"><p><b>{}</b> {}</p></div>\n",
            escape(&word.to_uppercase()),
            escape(text)
        ));
    }
    let list: Vec<String> = never(view).iter().map(|own| format!("<b>Never</b> {}", escape(own))).collect();
    html.push_str(&format!("<p class=\"rule\">{}.</p>\n", list.join(". ")));
    html.push_str("<div class=\"last\">\n");
    html.push_str(&after(view));
    if !view.notes.is_empty() {
        let class = if view.notes.len() > 1 { "notes two" } else { "notes" };
        let notes: String = view.notes.iter().map(|note| format!("<p>– {}</p>", escape(note))).collect();
        html.push_str(&format!("<div class=\"{class}\">{notes}</div>\n"));
    }
    let made = format!("{} · lead times: usual practice; warming ±40 %", view.named);
    html.push_str(&grid::foot(&made, "before · the clock: other side"));
    html.push_str("</div>\n");
    html
}

/// What to write down when the films are dry: a line a tank, of more than two tanks two on a line.
fn after(view: &EveningView) -> String {
    let count = view.tanks.len();
    let line = |index: usize| {
        let ring = ring(view, index);
        if count > 2 {
            format!(
                "<p class=\"after\">{ring}<i></i> °C <span>empty · right · full</span><span>flat · right · blocked</span></p>\n"
            )
        } else {
            format!(
                "<p class=\"after\">{ring}developer at the end <i></i> °C <b>shadows</b> empty · right · full <b>highlights</b> flat · right · blocked</p>\n"
            )
        }
    };
    let lines: String = (0..count).map(line).collect();
    if count > 2 {
        format!(
            "<h2>After, dry, by daylight: developer at the end; ring a word for shadows, one for highlights</h2>\n<div class=\"pairs\">{lines}</div>\n"
        )
    } else {
        format!("<h2>After, dry, by daylight: ring a word</h2>\n{lines}")
    }
}

fn checklist(view: &EveningView) -> String {
    let specs = &view.evening.tanks;
    let has = |way: Way| specs.iter().any(|spec| spec.way == way);
    let degrees: Vec<String> = view.degrees.iter().map(|own| format!("{own:.1}")).collect();
    let degrees = format!("{} °C, read now", degrees.join(", "));
    let mut rows: Vec<(&str, &str)> = Vec::new();
    if has(Way::Tank) || has(Way::Rotary) {
        rows.extend([
            ("tanks, reels", "bone dry"),
            ("opener, scissors", "by the left hand"),
            ("lids, cap, core", "counted"),
        ]);
    }
    if has(Way::Hangers) {
        rows.push(("hangers", "dry, counted"));
    }
    if has(Way::Trays) {
        rows.extend([("trays", "left to right, felt once"), ("box for sheets", "lid, band")]);
    }
    if has(Way::Rotary) {
        rows.push(("motor, drum", "level, runs both ways"));
    }
    rows.extend([("baths", "poured, left to right"), ("fixer", "last in the row, lowest")]);
    if view.evening.has("wetting") {
        rows.push(("wetting agent", "jug of its own"));
    }
    rows.extend([
        ("developer", degrees.as_str()),
        ("watch", "0:00, within reach"),
        ("door, telephone, lamps", "shut, off, off"),
        ("room", "_____ °C"),
    ]);
    let all: String = rows
        .iter()
        .map(|(what, answer)| {
            format!("<div><span>{what}</span><b>{answer}</b><span class=\"tick\"></span></div>")
        })
        .collect();
    format!("<h2>Before the light goes out</h2>\n<div class=\"list\">{all}</div>\n")
}

/// The card to learn.
fn dark(view: &EveningView, tank: usize) -> String {
    let Some((_, beats)) = view.beats.iter().find(|beat| beat.0 == tank) else { return String::new() };
    let end = beats.last().map_or(0, |own| own.at_s);
    let mut html = grid::head(
        "Evening: by heart",
        "trays in total darkness · learn it in room light, nothing can be read then",
        &minutes(end),
    );
    for line in card(view, tank) {
        html.push_str(&format!("<p class=\"learn\">– {}</p>\n", escape(&line)));
    }
    html.push_str(&format!(
        "<h2>{} beats, from sheet 1 in the first bath</h2>\n<div class=\"beats\">",
        ring(view, tank)
    ));
    for beat in beats {
        html.push_str(&format!("<p><b>{}</b><span>{}</span></p>", Watch(beat.at_s), escape(&beat.act)));
    }
    html.push_str("</div>\n");
    html.push_str(&grid::foot(&view.named, "by heart · volumes, temperatures: before"));
    html
}
