//! The bench page on paper: numbers at 24 points, amounts at 22, what to do at 17; black on white, nothing by hue.

use super::paper::{self, Fit, Sheet, UsesAs};
use crate::bench::material::Mark;
use crate::bench::table::{Look, Row};
use crate::bench::{BenchPart, BenchSheet};
use crate::lettering::Paper;
use crate::quantity::rounding::show_short;
use crate::render::Document;
use crate::render::html::{MARGINS_MM, escape, flow, flow_style, grid, page_of, title_of};

/// Letters of a batch at 34 points beside the name; a longer one is set smaller.
const VOLUME_LETTERS: usize = 9;

/// What is the page's own: head and foot are those of the grid.
const STYLE: &str = include_str!("bench.css");

/// The sides that are given, one after the other, as one HTML document.
pub fn sheet_html(bench: Option<&BenchSheet>, reasons: Option<&Document>, paper: Paper) -> String {
    let [_, _, top, bottom] = MARGINS_MM;
    let height = paper.size_mm().1 - top - bottom - 0.6;
    let title = match (bench, reasons) {
        (Some(bench), _) => bench.name.clone(),
        (None, Some(reasons)) => title_of(reasons),
        (None, None) => String::new(),
    };
    let style = format!(
        "{}{}{STYLE}.bench {{ min-height: {height:.1}mm; }}\n",
        flow_style(&title, paper),
        grid::frame()
    );
    let mut body = String::new();
    if let Some(sheet) = bench {
        let sheets = paper::sheets(sheet, paper);
        for (index, own) in sheets.iter().enumerate() {
            body.push_str(&section(sheet, own, (index + 1, sheets.len())));
        }
    }
    body.push_str(&reasons.map(flow).unwrap_or_default());
    page_of(&escape(&title), &style, &body)
}

/// Number of bench pages of each part on a paper.
pub fn part_pages(sheet: &BenchSheet, paper: Paper) -> Vec<usize> {
    let sheets = paper::sheets(sheet, paper);
    (0..sheet.parts.len()).map(|part| sheets.iter().filter(|own| own.part == part).count()).collect()
}

fn section(sheet: &BenchSheet, own: &Sheet, place: (usize, usize)) -> String {
    let Some(part) = sheet.parts.get(own.part) else { return String::new() };
    let is_last_part = own.part + 1 == sheet.parts.len();
    let close = match own.fit {
        Fit { is_closest: true, .. } => " close closest",
        Fit { is_tight: true, .. } => " close",
        _ => "",
    };
    let mut html = format!("<section class=\"page bench{close}\">\n");
    let line =
        if own.is_first { paper::facts(sheet, own.fit.is_tight) } else { format!("{}, goes on", sheet.id) };
    html.push_str(&grid::head_of(
        &paper::name(sheet, part),
        &line,
        &part.volume,
        (usize::MAX, VOLUME_LETTERS),
    ));
    if own.is_first {
        html.push_str("<div class=\"blanks\"><span>Mixed on</span><span>by</span><span>bottle no.</span><span>pH read</span></div>\n");
        for text in &sheet.stop {
            html.push_str(&bar(text, true));
        }
        html.push_str(&told(sheet, part));
        if !part.head.cautions.is_empty() {
            let tag = if own.fit.is_tight { "span" } else { "p" };
            let lines: String =
                part.head.cautions.iter().map(|text| format!("<{tag}>{}</{tag}> ", escape(text))).collect();
            html.push_str(&format!("<div class=\"bar bars\">{lines}</div>\n"));
        }
    }
    let rows = part.rows.get(own.rows.clone()).unwrap_or_default();
    if !rows.is_empty() {
        html.push_str(
            "<table class=\"rows\"><colgroup><col style=\"width:11mm\"><col style=\"width:13mm\"><col style=\"width:41mm\"><col><col style=\"width:24mm\"><col style=\"width:11mm\"></colgroup>\n<thead><tr><th>weighed</th><th></th><th class=\"am\">amount</th><th>do, and the sign that it is done</th><th class=\"rd\">reads; read</th><th class=\"in\">in</th></tr></thead>\n",
        );
        for row in rows {
            html.push_str(&table_row(row, own));
        }
        html.push_str("</table>\n");
    }
    if own.is_last {
        let mut labelled: Vec<(&str, String)> = Vec::new();
        if !part.ready.is_empty() {
            labelled.push(("READY", part.ready.join(" · ")));
        }
        if is_last_part {
            labelled.extend(sheet.together.iter().map(|text| ("POUR", text.clone())));
        }
        if !labelled.is_empty() {
            html.push_str(&format!("<div class=\"ready\">{}</div>\n", pairs(&labelled)));
        }
        if is_last_part {
            html.push_str(&bars(&sheet.together_marks, own.fit.is_tight));
        }
        html.push_str("<div class=\"grow\"></div>\n");
        html.push_str(&first_aid(sheet, own.fit.is_tight));
        if is_last_part {
            html.push_str(&uses(sheet, own.fit.uses));
        }
    } else {
        html.push_str("<div class=\"grow\"></div>\n");
    }
    html.push_str(&grid::foot(&paper::made(sheet, part), &paper::side(place)));
    html.push_str("</section>\n");
    html
}

fn bar(text: &str, is_grave: bool) -> String {
    let note = if is_grave { "" } else { " note" };
    format!("<div class=\"bar{note}\">{}</div>\n", escape(text))
}

/// Cautions and notes in one bar, cautions first; where there is little room a text follows the one before.
fn bars(marks: &[Mark], is_tight: bool) -> String {
    if marks.is_empty() {
        return String::new();
    }
    let (grave, notes): (Vec<_>, Vec<_>) = marks.iter().partition(|mark| mark.is_grave);
    let tag = if is_tight { "span" } else { "p" };
    let line = |text: &str, class: &str| format!("<{tag}{class}>{}</{tag}> ", escape(text));
    let lines: String = grave
        .iter()
        .map(|mark| line(&mark.text, ""))
        .chain(notes.iter().map(|mark| line(&mark.text, " class=\"note\"")))
        .collect();
    let look = if grave.is_empty() { "bar note" } else { "bar" };
    format!("<div class=\"{look}\">{}</div>\n", lines.trim_end())
}

fn pairs(pairs: &[(&str, String)]) -> String {
    pairs.iter().map(|(label, text)| format!("<b>{label}</b><span>{}</span>", escape(text))).collect()
}

fn told(sheet: &BenchSheet, part: &BenchPart) -> String {
    let head = &part.head;
    let mind: Vec<String> = head.mind.iter().map(crate::bench::Minded::words).collect();
    let mut lines =
        vec![("WEAR", sheet.wear.clone()), ("MIND", mind.join(" · ")), ("NEVER", head.never.clone())];
    lines.extend(head.opening.iter().map(|line| ("BEFORE", line.clone())));
    lines.retain(|(_, text)| !text.is_empty());
    format!("<div class=\"told\">{}</div>\n", pairs(&lines))
}

fn first_aid(sheet: &BenchSheet, is_tight: bool) -> String {
    let aid = &sheet.first_aid;
    let mut html = String::from("<div class=\"told end\">");
    for gas in &sheet.gases {
        html.push_str(&pairs(&[("GAS", gas.phrase.clone())]));
    }
    let call = format!("{} ____________________", aid.call);
    if is_tight {
        html.push_str(&pairs(&[("EYES", aid.eyes.clone())]));
        let beside = |label: &str, text: &str| format!("<b class=\"beside\">{label}</b>{}", escape(text));
        for (label, text, other) in [
            ("SKIN", &aid.skin, beside("MOUTH", &aid.mouth)),
            ("AIR", &aid.air, beside("CALL", &format!("{} ________", aid.call))),
        ] {
            html.push_str(&format!("<b>{label}</b><span>{}{other}</span>", escape(text)));
        }
    } else {
        let lines = [
            ("EYES", &aid.eyes),
            ("SKIN", &aid.skin),
            ("MOUTH", &aid.mouth),
            ("AIR", &aid.air),
            ("CALL", &call),
        ];
        html.push_str(&pairs(&lines.map(|(label, text)| (label, text.clone()))));
    }
    html.push_str("</div>\n");
    html
}

fn uses(sheet: &BenchSheet, look: UsesAs) -> String {
    if look != UsesAs::Cells {
        let line =
            |(name, text): &(String, String)| format!("<p><b>{}</b> {}</p>", escape(name), escape(text));
        let lines: String = paper::use_lines(&sheet.uses, look).iter().map(line).collect();
        return format!("<div class=\"uses lined\"><div>{lines}</div></div>\n");
    }
    let shares = paper::shares(&sheet.uses);
    let cells = sheet.uses.iter().zip(shares).map(|(cell, share)| {
        let lines: String = cell.told().map(|line| format!("<p>{}</p>", escape(line))).collect();
        format!("<div style=\"flex:{share:.2} 1 0\"><b>{}</b>{lines}</div>", escape(&cell.name))
    });
    format!("<div class=\"uses\">{}</div>\n", cells.collect::<String>())
}

fn table_row(row: &Row, sheet: &Sheet) -> String {
    let least_mm = sheet.fit.least_mm(row);
    let mut html = String::new();
    let bar = bars(&row.marks, sheet.fit.is_tight);
    if !bar.is_empty() {
        html.push_str(&format!("<tr class=\"m\"><td colspan=\"6\">{bar}</td></tr>\n"));
    }
    let look = match row.look {
        Look::Wait => " wait",
        Look::Apart => " apart",
        Look::Weigh | Look::Plain => "",
    };
    let tick = if row.is_weighed { "<div class=\"tick\"></div>" } else { "" };
    let long = if row.amount.chars().count() > 8 { " long" } else { "" };
    let reads =
        row.reads_c.map(|celsius| escape(&format!("{} °C", show_short(celsius, 0)))).unwrap_or_default();
    html.push_str(&format!(
        "<tr class=\"r{look}\" style=\"height:{least_mm:.1}mm\"><td>{tick}</td><td class=\"no\">{}</td><td class=\"am{long}\">{}</td><td class=\"do\"><b>{}</b>{}</td><td class=\"rd\">{reads}<i></i></td><td class=\"in\"><div class=\"tick\"></div></td></tr>\n",
        row.number,
        escape(&row.amount),
        escape(&row.act.plain()),
        escape(&paper::under(row, sheet.fit.is_tight)),
    ));
    html
}
