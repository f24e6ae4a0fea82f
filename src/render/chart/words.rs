//! A wall chart in words.

use super::table::{Chart, ChartCell};
use crate::render::time::clock;
use crate::render::{Column, Document, Print};

/// Columns of a chart, with that of the temperatures, for which a page has room in large print.
const WIDEST_IN_LARGE_PRINT: usize = 4;

/// The chart as a page for the wall.
pub(crate) fn chart_document(chart: &Chart) -> Document {
    let mut document = Document::new();
    let to = chart.rows.first().and_then(|row| row.cells.first()).map(|cell| &cell.to);
    let name = to.map_or(&chart.from.developer.id, |to| &to.developer.id);
    document.title(format!("{name}: developing times"));
    let mut facts = vec![("film".to_owned(), chart.film_words())];
    facts.extend(chart.contrast_words().map(|words| ("contrast".to_owned(), words)));
    if let Some(to) = to {
        facts.push(("agitation".to_owned(), to.agitation.clone()));
    }
    document.facts(facts);
    let mut columns = vec![Column::right("temperature")];
    columns.extend(chart.columns.iter().map(|title| Column::right(title)));
    let rows = chart.rows.iter().map(|row| {
        let mut line = vec![row.label.clone()];
        line.extend(row.cells.iter().map(cell_words));
        line
    });
    let is_wide = columns.len() > WIDEST_IN_LARGE_PRINT;
    let table = |document: &mut Document| document.table(columns, rows.collect());
    if is_wide {
        table(&mut document);
    } else {
        document.print(Print::Large, table);
    }
    document
        .paragraph("Starting times; range in brackets. Test before an important film. A ? stands where the data do not reach.");
    document.paragraph(chart.convention());
    document.list(chart.notes());
    document
}

/// `8:15 (7:30-9:00)`, minutes and seconds.
fn cell_words(cell: &ChartCell) -> String {
    let answer = &cell.answer;
    let doubt = if cell.is_doubtful() { "?" } else { "" };
    match answer.timer_range() {
        Some((low, high)) => format!("{} ({}-{}){doubt}", clock(answer.timer()), clock(low), clock(high)),
        None => format!("{} (known)", clock(answer.timer())),
    }
}
