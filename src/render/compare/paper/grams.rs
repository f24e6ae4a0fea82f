//! Grams per litre, a column a solution, their points under each other.

use super::super::words::{cell_amount, column_labels, liquids_too, with_unit};
use super::{AMOUNT_MM, CHEMICAL_MM, FINE_PT, HEADING_MM, Squeeze, count};
use crate::compare::Comparison;
use crate::render::html::escape;
use crate::render::html::piece::{Piece, bold_mm, text_mm, used};

/// Rows of a table, each with its height, so that a page can take as many as it has room for.
pub(super) struct Rows {
    /// All before the first row; said again on a further page.
    pub(super) head: Piece,
    pub(super) rows: Vec<Piece>,
}

impl Rows {
    pub(super) fn mm(&self) -> f64 {
        self.head.mm + used(&self.rows)
    }
}

/// Grams per litre, a column a solution.
pub(super) fn grams_rows(comparison: &Comparison<'_>, squeeze: Squeeze, width: f64) -> Rows {
    let labels = column_labels(comparison);
    let (least, most) = AMOUNT_MM;
    let amount_mm = ((width - CHEMICAL_MM) / count(labels.len())).clamp(least, most);
    let name_mm = width - amount_mm * count(labels.len()) - 2.0;
    // Points stand under each other where a column has room for the longest fraction.
    let decimals: Vec<usize> = (0..labels.len())
        .map(|index| {
            if labels.len() > 4 {
                return 0;
            }
            let cells = comparison.rows.iter().filter_map(|row| Some((row, row.cells.get(index)?.as_ref()?)));
            cells.map(|(row, cell)| after_point(&cell_amount(row, cell))).max().unwrap_or(0)
        })
        .collect();
    let mut heads = String::new();
    let mut head_mm: f64 = 0.0;
    for ((label, column), decimals) in labels.iter().zip(&comparison.columns).zip(&decimals) {
        let of = column.label.as_deref().unwrap_or_default();
        // The number stands over the units, where the points stand under each other.
        let unseen = filled(label, *decimals);
        let unseen = if unseen.is_empty() { unseen } else { format!("<s>{unseen}</s>") };
        heads.push_str(&format!("<th>{}{unseen}<small>{}</small></th>", escape(label), escape(of)));
        let small = if of.is_empty() { 0.0 } else { text_mm(of, FINE_PT, amount_mm - 2.0) };
        head_mm = head_mm.max(small);
    }
    let html = format!(
        "<h2>grams per litre{}, {}</h2>\n<table class=\"grams\" style=\"--amount:{}pt;--name:{}pt;--row:{}mm;--wide:{amount_mm:.1}mm\"><thead><tr><th></th>{heads}</tr></thead>\n",
        liquids_too(comparison),
        comparison.shown.words(),
        squeeze.amount_pt,
        squeeze.name_pt,
        squeeze.row_mm
    );
    let head = Piece { html, mm: HEADING_MM + 5.9 + head_mm };
    let rows = comparison
        .rows
        .iter()
        .map(|row| {
            let name = if labels.len() > 3 { &row.form.bench_name } else { &row.form.name };
            let name = with_unit(name, row);
            let mut html = format!("<tr><td>{}</td>", escape(&name));
            let mut mm = text_mm(&name, squeeze.name_pt, name_mm).max(squeeze.row_mm - 0.3);
            for (cell, decimals) in row.cells.iter().zip(&decimals) {
                let words = cell.as_ref().map_or_else(|| "-".to_owned(), |own| cell_amount(row, own));
                mm = mm.max(bold_mm(&words, squeeze.amount_pt, amount_mm - 2.0));
                html.push_str(&format!("<td>{}{}</td>", escape(&words), filled(&words, *decimals)));
            }
            html.push_str("</tr>\n");
            Piece { html, mm: mm + 0.35 }
        })
        .collect();
    Rows { head, rows }
}

/// Letters from the point on.
fn after_point(words: &str) -> usize {
    words.find('.').map_or(0, |at| words.len() - at)
}

/// What a shorter fraction lacks, unseen.
fn filled(words: &str, decimals: usize) -> String {
    let given_decimals = after_point(words);
    if given_decimals >= decimals {
        return String::new();
    }
    let point = if given_decimals == 0 { "." } else { "" };
    format!("<i>{point}{}</i>", "0".repeat(decimals - given_decimals - point.len()))
}
