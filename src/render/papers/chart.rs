//! The chart for the wall, read from 1.5 m: temperatures at 50 points, times at 60, their ranges at 20 under them and never broken.
//!
//! Two columns and seven rows are what a page holds at these sizes; more go on further pages, each with its head. The sizes go by the
//! angle at which a figure is seen from 1.5 m: 15 mm stand under 34 minutes of arc, 5 mm under 11.5 (geometry).

use super::{STYLE, count, lines};
use crate::lettering::{Lettering, Paper};
use crate::quantity::rounding::show_short;
use crate::render::chart::{Chart, ChartCell, FAR};
use crate::render::html::escape;
use crate::render::html::grid;
use crate::render::time::{clock, setup_words};
use crate::timing::TimingWarning;

/// Between a dilution and a known time in the heading of a column.
const KNOWN: &str = ", known ";
/// Columns of times that a page has room for.
const COLUMNS: usize = 2;
/// Rows that a page has room for.
const ROWS: usize = 7;
/// Letters on a line of a long heading of a column at 20 points.
const HEAD_20: usize = 14;
/// Heights, mm: of the name, of a line of the film, of the heads of the columns and of a line of a long one, of what is always said under the table and where
/// something is doubtful, of a line of a note, of the foot.
const NAME_MM: f64 = 16.0;
const SMALL_NAME_MM: f64 = 19.0;
const FILM_MM: f64 = 7.8;
const HEADS_MM: f64 = 16.6;
const HEAD_MM: f64 = 8.5;
const SAID_MM: f64 = 14.5;
const DOUBT_MM: f64 = 6.6;
const NOTE_MM: f64 = 4.3;
const FOOT_MM: f64 = 6.0;

pub(crate) fn chart_html(chart: &Chart, paper: Paper) -> String {
    let (width, height) = grid::room_mm(paper);
    // The lower page takes what it lacks from the height of rows; they are never lower than their figures.
    let (usual_mm, least_mm, time_pt) = match paper {
        Paper::A4 => (30.2, 27.6, 60),
        Paper::Letter => (28.0, 26.4, 56),
    };
    let across = even(chart.columns.len(), COLUMNS);
    let film = film_line(chart);
    let is_doubtful = chart.rows.iter().flat_map(|row| &row.cells).any(ChartCell::is_doubtful);
    // A known time stands beside its dilution on one line.
    let heads = chart.columns.iter().filter(|title| !title.contains(KNOWN));
    let heads = heads.map(|title| lines(&title.replace('+', " + "), HEAD_20)).max();
    let heads_mm = (count(heads.unwrap_or(1)) * HEAD_MM + 4.0).max(HEADS_MM);
    let film_lines = Lettering::regular(20.0, 1.1).lines(&film, width);
    let name_mm = if is_small(chart) { SMALL_NAME_MM } else { NAME_MM };
    let around = name_mm + count(film_lines) * FILM_MM + heads_mm + SAID_MM + FOOT_MM;
    let around = around + if is_doubtful { DOUBT_MM } else { 0.0 };
    // A long name of a film costs a row.
    let most = (1..=ROWS).rev().find(|rows| around + count(*rows) * least_mm <= height).unwrap_or(1);
    let down = even(chart.rows.len(), most);
    // All temperatures of a column hang below each other before the next columns begin.
    let views: Vec<(usize, usize)> = (0..chart.columns.len())
        .step_by(across)
        .flat_map(|column| (0..chart.rows.len()).step_by(down).map(move |row| (row, column)))
        .collect();
    let fine = Lettering::regular(10.0, 1.2);
    let mut bodies: Vec<String> = Vec::new();
    for (row, column) in views {
        let rows = row..(row + down).min(chart.rows.len());
        // What is to be minded of a table stands under it, or, where it has no room there, on the page after it.
        let notes = chart.notes_in(rows.clone(), column..column + across, |code: &str| !FAR.contains(&code));
        let notes_mm = notes.iter().map(|note| count(fine.lines(note, width)) * NOTE_MM).sum::<f64>() + 1.8;
        let notes_mm = if notes.is_empty() { 0.0 } else { notes_mm };
        let row_mm = |below: f64| (height - around - below) / count(down);
        let are_under = row_mm(notes_mm) >= least_mm - 1e-9;
        let row_mm = row_mm(if are_under { notes_mm } else { 0.0 }).clamp(least_mm, usual_mm);
        bodies.push(format!(
            "{}{}{}{}",
            head(chart, &film),
            table(chart, (row, down), (column, across), row_mm),
            said(chart),
            if are_under { list(&notes, "") } else { String::new() },
        ));
        if !are_under {
            bodies.push(format!("{}{}", head(chart, &film), list(&notes, " class=\"only\"")));
        }
    }
    let all = bodies.len();
    let numbered = bodies.into_iter().enumerate();
    let pages: Vec<String> =
        numbered.map(|(index, body)| format!("{body}{}", foot(chart, (index + 1, all)))).collect();
    let style = format!("{STYLE}.chart .time b {{ font-size: {time_pt}pt; }}\n");
    grid::pages(&format!("{}: developing times", chart.name), paper, ("chart", &style), &pages)
}

/// How many go on each page, so that no page has more than `most` and all have about as many.
fn even(all: usize, most: usize) -> usize {
    all.div_ceil(all.div_ceil(most).max(1)).max(1)
}

/// The film, or what a film must need for the chart to be its own.
fn film_line(chart: &Chart) -> String {
    if let Some(film) = &chart.film {
        return format!("film: {film}");
    }
    let from = &chart.from;
    let to = chart.rows.first().and_then(|row| row.cells.first()).map(|cell| &cell.to);
    let dilution = from.working.to_string();
    let dilution = if dilution == "stock" { "undiluted".to_owned() } else { dilution };
    let of = to.filter(|to| to.developer.id != from.developer.id);
    let of = of.map_or_else(String::new, |_| format!(" in {}", from.developer.id));
    let agitation = to.filter(|to| to.agitation != from.agitation);
    let agitation = agitation.map_or_else(String::new, |_| format!(", {}", from.agitation));
    let known = if chart.columns.iter().any(|title| title.contains(KNOWN)) {
        "of the known time".to_owned()
    } else {
        format!("that needs {}", chart.known_words().replace(" min", ""))
    };
    format!("only for a film {known} at {}{of} {dilution}{agitation}", from.temperature)
}

/// Whether the name is too long for the largest type: it has two lines then.
fn is_small(chart: &Chart) -> bool {
    chart.name.chars().count() > 16
}

fn head(chart: &Chart, film: &str) -> String {
    let to = chart.rows.first().and_then(|row| row.cells.first()).map(|cell| &cell.to);
    let agitation = to.map_or(String::new(), |to| format!(", {}", to.agitation));
    let contrast = chart.contrast_words().map_or_else(String::new, |words| format!(", contrast {words}"));
    let small = if is_small(chart) { " class=\"small\"" } else { "" };
    format!(
        "<header><h1{small}>{}</h1><b>{}</b></header>\n<p class=\"film\">{}</p>\n",
        escape(&chart.name),
        escape(&format!("minutes{agitation}{contrast}")),
        escape(film)
    )
}

fn table(
    chart: &Chart,
    (row, down): (usize, usize),
    (column, across): (usize, usize),
    row_mm: f64,
) -> String {
    let rows = chart.rows.iter().skip(row).take(down);
    // The unit stands once, above the temperatures.
    let unit = chart.rows.first().and_then(|row| row.label.split_once(' ')).map_or("°C", |(_, unit)| unit);
    let titles: String =
        chart.columns.iter().skip(column).take(across).map(|title| column_head(title)).collect();
    let mut html = format!(
        "<table style=\"--row: {row_mm:.2}mm\"><colgroup><col style=\"width:47mm\"></colgroup><thead><tr><th>{}</th>{titles}</tr></thead>\n",
        escape(unit)
    );
    for row in rows {
        let cells: Vec<&ChartCell> = row.cells.iter().skip(column).take(across).collect();
        let is_doubtful = cells.iter().all(|cell| cell.is_doubtful());
        let mark = if is_doubtful { "<i>?</i>" } else { "" };
        let figure = row.label.split_once(' ').map_or(row.label.as_str(), |(figure, _)| figure);
        html.push_str(&format!("<tr><td>{}{mark}</td>", escape(figure)));
        for cell in cells {
            html.push_str(&format!("<td>{}</td>", time(cell, cell.is_doubtful() && !is_doubtful)));
        }
        html.push_str("</tr>\n");
    }
    html.push_str("</table>\n");
    html
}

/// `1 + 1`; of several known times the time after its dilution.
fn column_head(title: &str) -> String {
    let (dilution, known) = title.split_once(KNOWN).map_or((title, None), |(own, known)| (own, Some(known)));
    // The same word as in the line of the film and in the foot.
    let dilution = if dilution == "stock" { "undiluted".to_owned() } else { dilution.replace('+', " + ") };
    if let Some(known) = known {
        let before = escape(&format!("{dilution}, known"));
        return format!("<th><small>{before}</small> {}</th>", escape(known.trim_end_matches(" min")));
    }
    let long = if dilution.chars().count() > 11 { " class=\"long\"" } else { "" };
    format!("<th{long}>{}</th>", escape(&dilution))
}

/// What is always said under a table.
fn said(chart: &Chart) -> String {
    let doubt = doubt(chart).map_or_else(String::new, |words| format!("<p>{}</p>", escape(&words)));
    format!(
        "<div class=\"say\"><p><b>Start from these; test before a film that matters.</b></p>{doubt}<p class=\"when\">{}</p></div>\n",
        escape(chart.convention())
    )
}

/// What a question mark means: outside the data, or so many degrees from the known temperature.
fn doubt(chart: &Chart) -> Option<String> {
    let warnings = || chart.rows.iter().flat_map(|row| &row.cells).flat_map(|cell| &cell.answer.warnings);
    let is_outside = warnings().any(|own| own.code().ends_with("-extrapolated"));
    let steps = warnings().filter_map(|own| match own {
        TimingWarning::LargeTemperatureStep { degrees, .. } => Some(*degrees),
        _ => None,
    });
    let nearest = steps.fold(f64::INFINITY, f64::min);
    let is_fahrenheit = chart.rows.iter().any(|row| row.label.ends_with('F'));
    let (nearest, unit) = if is_fahrenheit { (nearest * 1.8, "°F") } else { (nearest, "°C") };
    let far = format!("{} {unit} or more from the known temperature", show_short(nearest, 1));
    let words = match (is_outside, nearest.is_finite()) {
        // On one line.
        (true, true) => {
            format!("outside the data, or {} {unit} from the known time", show_short(nearest, 1))
        }
        (true, false) => "outside the data".to_owned(),
        (false, true) => far,
        (false, false) => return None,
    };
    Some(format!("? {words}: test first."))
}

/// A time with its range under it; the known one in a box.
fn time(cell: &ChartCell, has_mark: bool) -> String {
    let answer = &cell.answer;
    let words = clock(answer.timer());
    let slow = if words.chars().count() > 5 { " slow" } else { "" };
    match answer.timer_range() {
        Some((low, high)) => format!(
            "<div class=\"time{slow}\"><b>{words}</b><span>{} to {}{}</span></div>",
            clock(low),
            clock(high),
            if has_mark { "\u{a0}?" } else { "" }
        ),
        None => format!("<div class=\"time known{slow}\"><b>{words}</b><span>known</span></div>"),
    }
}

fn list(notes: &[String], class: &str) -> String {
    let points: String = notes.iter().map(|note| format!("<li>{}</li>", escape(note))).collect();
    if notes.is_empty() { String::new() } else { format!("<ol{class}>{points}</ol>\n") }
}

fn foot(chart: &Chart, (number, all): (usize, usize)) -> String {
    let side = if all > 1 { format!("chart, page {number} of {all}") } else { "chart".to_owned() };
    grid::foot(&format!("known: {}", setup_words(&chart.from)), &side)
}
