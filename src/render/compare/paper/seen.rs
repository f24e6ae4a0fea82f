//! What one would see of each against the first, with its reasons; and how each is used and keeps.

use super::{
    ComparePage, GAP_MM, HEADING_MM, NAME_MM, NARROW_GAP_MM, NUMBERS_MM, Reasons, Squeeze, TABLE_END, count,
    is_wide,
};
use crate::compare::{Comparison, Seen};
use crate::doubt::NOT_KNOWN;
use crate::formula::Formula;
use crate::lettering::Lettering;
use crate::qualities::Comparative;
use crate::render::html::escape;
use crate::render::html::piece::{Piece, SPACING, bold_mm, text_mm};
use crate::render::show::named_use;

/// Width of one formula's column, mm.
fn column_mm(comparison: &Comparison<'_>, width: f64) -> f64 {
    (width - NAME_MM) / count(comparison.formulas.len()) - gap_mm(comparison)
}

/// Between two columns, mm.
fn gap_mm(comparison: &Comparison<'_>) -> f64 {
    if is_wide(comparison) { NARROW_GAP_MM } else { GAP_MM }
}

/// The head of a table with a column a formula.
pub(super) fn numbers(comparison: &Comparison<'_>) -> String {
    let numbers: String =
        (1..=comparison.formulas.len()).map(|number| format!("<th>{number}</th>")).collect();
    format!(
        "<colgroup><col style=\"width:{NAME_MM}mm\"></colgroup><thead><tr><th></th>{numbers}</tr></thead>\n"
    )
}

/// What one would see: the first by its reasons, the others in a word against it.
pub(super) fn seen(comparison: &Comparison<'_>, squeeze: Squeeze, width: f64) -> Option<Piece> {
    if comparison.seen.is_empty() {
        return None;
    }
    let column = column_mm(comparison, width);
    let mut html = format!(
        "<h2>what you would see<span>by rules from composition; film and hand decide more than half</span></h2>\n<table class=\"seen\" style=\"--word:{}pt;--why:{}pt;--gap:{}mm\">{}",
        squeeze.word_pt,
        squeeze.why_pt,
        gap_mm(comparison),
        numbers(comparison)
    );
    let mut mm = HEADING_MM + NUMBERS_MM;
    for seen_row in &comparison.seen {
        html.push_str(&format!("<tr><th>{}</th>", escape(&seen_row.quality.name)));
        let mut row_mm = bold_mm(&seen_row.quality.name, 12.0, NAME_MM - 2.0);
        for place in 0..comparison.formulas.len() {
            let word = word(seen_row, place);
            let why =
                if is_reasoned(seen_row, squeeze.reasons) { why(seen_row, place) } else { String::new() };
            let class = if is_telling(seen_row, place) { " class=\"tells\"" } else { "" };
            html.push_str(&format!("<td{class}>"));
            let mut cell_mm = 0.0;
            if !word.is_empty() {
                html.push_str(&format!("<b>{}</b>", escape(word)));
                let is_bold = is_telling(seen_row, place);
                let lettering = Lettering { size_pt: squeeze.word_pt, is_bold, line_spacing: SPACING };
                cell_mm += lettering.height_mm(word, column);
            }
            if !why.is_empty() {
                html.push_str(&format!("<p>{}</p>", escape(&why)));
                cell_mm += text_mm(&why, squeeze.why_pt, column);
            }
            html.push_str("</td>");
            row_mm = row_mm.max(cell_mm);
        }
        html.push_str("</tr>\n");
        mm += row_mm + 1.1;
    }
    html.push_str(TABLE_END);
    Some(Piece { html, mm })
}

/// How a formula stands to the first, in a word; the first is what the others are told against.
fn word(seen: &Seen, place: usize) -> &str {
    let standing = place.checked_sub(1).and_then(|own| seen.standings.get(own));
    standing.map_or("", |standing| standing.words(&seen.quality))
}

/// Whether it differs from the first: such words are bold.
fn is_telling(seen: &Seen, place: usize) -> bool {
    let standing = place.checked_sub(1).and_then(|own| seen.standings.get(own));
    matches!(standing, Some(Comparative::More | Comparative::Less))
}

/// Whether a quality has its reasons beside its words.
pub(super) fn is_reasoned(seen: &Seen, reasons: Reasons) -> bool {
    match reasons {
        Reasons::All => true,
        Reasons::OfDifferences => (0..=seen.standings.len()).any(|place| is_telling(seen, place)),
        Reasons::None => false,
    }
}

/// What speaks for and against it.
pub(super) fn why(seen: &Seen, place: usize) -> String {
    let reasons = seen.reasons.get(place).map_or(&[][..], Vec::as_slice);
    if reasons.is_empty() && place == 0 {
        return Comparative::NotKnown.words(&seen.quality).to_owned();
    }
    reasons.iter().map(|rule| rule.why.as_str()).collect::<Vec<_>>().join("; ")
}

/// First use, keeping and capacity, one each a formula; what is known of none is left out.
pub(super) fn use_rows(page: &ComparePage<'_>) -> Vec<(&'static str, Vec<String>)> {
    let first_use = |formula: &&Formula| formula.uses.first().map_or_else(|| NOT_KNOWN.to_owned(), named_use);
    let mut rows = vec![
        ("first use", page.comparison.formulas.iter().map(first_use).collect::<Vec<_>>()),
        ("keeps", page.keeps.clone()),
        ("treats", page.does.clone()),
    ];
    rows.retain(|(_, words)| words.iter().any(|own| own != NOT_KNOWN));
    rows
}

/// How each is used, what it keeps and treats: below its words where there is room for sentences in columns, else in lines of its own.
pub(super) fn uses(page: &ComparePage<'_>, squeeze: Squeeze, width: f64) -> Piece {
    let rows = use_rows(page);
    let style = format!(
        "class=\"seen\" style=\"--word:{}pt;--why:{}pt;--gap:{}mm\"",
        squeeze.word_pt,
        squeeze.why_pt,
        gap_mm(page.comparison)
    );
    if is_wide(page.comparison) {
        return uses_by_line(&rows, &style, squeeze, width);
    }
    let column = column_mm(page.comparison, width);
    let (mut html, mut mm) = if page.comparison.seen.is_empty() {
        (
            format!("<h2>use and keeping</h2>\n<table {style}>{}", numbers(page.comparison)),
            HEADING_MM + NUMBERS_MM,
        )
    } else {
        (format!("<table {style}><colgroup><col style=\"width:{NAME_MM}mm\"></colgroup>\n"), 0.0)
    };
    for (name, words) in rows {
        let cells = words.iter().map(String::as_str);
        let row = use_row(name, bold_mm(name, 12.0, NAME_MM - 2.0), cells, squeeze, column);
        html.push_str(&row.html);
        mm += row.mm;
    }
    html.push_str(TABLE_END);
    Piece { html, mm }
}

/// A row of uses with its heading, which is so high.
fn use_row<'t>(
    heading: &str,
    heading_mm: f64,
    cells: impl Iterator<Item = &'t str>,
    squeeze: Squeeze,
    column_mm: f64,
) -> Piece {
    let (mut html, mut mm) = (format!("<tr><th>{heading}</th>"), heading_mm);
    for text in cells {
        html.push_str(&format!("<td><p>{}</p></td>", escape(text)));
        mm = mm.max(text_mm(text, squeeze.why_pt, column_mm));
    }
    html.push_str("</tr>\n");
    Piece { html, mm: mm + 1.1 }
}

/// The same with a line a formula.
fn uses_by_line(rows: &[(&str, Vec<String>)], style: &str, squeeze: Squeeze, width: f64) -> Piece {
    let names: String = rows.iter().map(|(name, _)| format!("<th>{name}</th>")).collect();
    let mut html = format!(
        "<h2>use and keeping</h2>\n<table {style}><colgroup><col style=\"width:8mm\"></colgroup><tr><th></th>{names}</tr>\n"
    );
    let mut mm = HEADING_MM + Lettering::bold(12.0, SPACING).line_mm() + 1.1;
    let column = (width - 8.0) / count(rows.len().max(1)) - 2.0;
    let formulas = rows.first().map_or(0, |(_, words)| words.len());
    for place in 0..formulas {
        let cells = rows.iter().filter_map(|(_, words)| words.get(place)).map(String::as_str);
        let line_mm = Lettering::bold(12.0, SPACING).line_mm();
        let row = use_row(&(place + 1).to_string(), line_mm, cells, squeeze, column);
        html.push_str(&row.html);
        mm += row.mm;
    }
    html.push_str(TABLE_END);
    Piece { html, mm }
}
