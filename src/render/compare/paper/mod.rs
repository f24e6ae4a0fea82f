//! Formulas side by side on one page: what one would see of each against the first, how each is used and keeps, then grams; chemistry last, as
//! much as there is room for.
//!
//! What decides a choice stands in 13 to 15 points, grams in 10 to 16, chemistry in 9.5. What has no room is told on the screen, and the foot says
//! so; two pages only where the chemicals are too many for one. Heights are sums of lines by [`crate::lettering`].

mod chemistry;
mod grams;
mod seen;

use chemistry::chemistry;
use grams::{Rows, grams_rows};
use seen::{seen, uses};

use crate::compare::Comparison;
use crate::formula::{Formula, Kind};
use crate::lettering::{Lettering, Paper};
use crate::render::html::escape;
use crate::render::html::grid::{self, room_mm};
use crate::render::html::piece::{Piece, SPACING, bold_mm, text_mm, used};

const STYLE: &str = include_str!("paper.css");

/// Width of the names of rows, mm.
const NAME_MM: f64 = 28.0;
/// Width of the names of the chemistry, mm.
const LABEL_MM: f64 = 44.0;
/// Size of the chemistry, points.
const FINE_PT: f64 = 9.5;
/// Least height kept for chemistry, mm.
const CHEMISTRY_MM: f64 = 46.0;
/// Height of a heading, and of the numbers over the columns, mm.
const HEADING_MM: f64 = 7.3;
const NUMBERS_MM: f64 = 7.3;
/// Between two columns, mm: sentences side by side; words of many formulas.
const GAP_MM: f64 = 3.0;
const NARROW_GAP_MM: f64 = 1.2;
/// Least and most width of an amount, mm, and of the chemical's name beside it.
const AMOUNT_MM: (f64, f64) = (12.5, 30.0);
const CHEMICAL_MM: f64 = 46.0;

/// What the page is made of.
#[derive(Debug)]
pub(crate) struct ComparePage<'a> {
    /// The formulas side by side.
    pub comparison: &'a Comparison<'a>,
    /// How long each keeps.
    pub keeps: Vec<String>,
    /// How much each treats.
    pub does: Vec<String>,
}

/// Which reasons stand beside the words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reasons {
    All,
    /// Where a formula differs from the first.
    OfDifferences,
    None,
}

/// How much room is given: the first that leaves room for chemistry is taken.
#[derive(Debug, Clone, Copy)]
struct Squeeze {
    /// What of what one would see is told with its reasons.
    reasons: Reasons,
    /// Whether uses and keeping stand in columns; else in small lines, as many as there is room for.
    has_uses: bool,
    /// Size of the words, of reasons and uses, of grams and of chemicals, points.
    word_pt: f64,
    why_pt: f64,
    amount_pt: f64,
    name_pt: f64,
    /// Least height of a chemical's row, mm.
    row_mm: f64,
}

/// With everything.
const ROOMY: Squeeze = Squeeze {
    reasons: Reasons::All,
    has_uses: true,
    word_pt: 15.0,
    why_pt: 10.5,
    amount_pt: 16.0,
    name_pt: 14.0,
    row_mm: 7.4,
};
/// Smaller type.
const CLOSE: Squeeze = Squeeze {
    reasons: Reasons::OfDifferences,
    word_pt: 14.0,
    why_pt: 10.0,
    amount_pt: 14.0,
    name_pt: 12.0,
    row_mm: 6.2,
    ..ROOMY
};
/// Smaller still, and words without reasons.
const TIGHT: Squeeze =
    Squeeze { reasons: Reasons::None, word_pt: 13.0, amount_pt: 12.0, name_pt: 11.0, row_mm: 5.2, ..CLOSE };

/// From roomy to tight.
const SQUEEZES: [Squeeze; 7] = [
    ROOMY,
    Squeeze { reasons: Reasons::OfDifferences, row_mm: 7.0, ..ROOMY },
    CLOSE,
    Squeeze { reasons: Reasons::None, ..CLOSE },
    TIGHT,
    Squeeze { has_uses: false, ..TIGHT },
    Squeeze {
        has_uses: false,
        word_pt: 12.0,
        why_pt: 9.5,
        amount_pt: 10.0,
        name_pt: 10.0,
        row_mm: 4.6,
        ..TIGHT
    },
];

/// The comparison on paper.
pub(crate) fn compare_html(page: &ComparePage<'_>, paper: Paper) -> String {
    let (width, height) = room_mm(paper);
    let command = command(page.comparison);
    let foot_mm = Lettering::regular(10.0, SPACING).height_mm(&command, width - 45.0) + 3.0;
    let room = height - foot_mm - LEGEND_MM;
    let mut above = Vec::new();
    let mut grams = Rows { head: Piece { html: String::new(), mm: 0.0 }, rows: Vec::new() };
    let mut chosen = SQUEEZES[0];
    for squeeze in SQUEEZES {
        above = seen_and_used(page, squeeze, width);
        grams = grams_rows(page.comparison, squeeze, width);
        chosen = squeeze;
        if used(&above) + grams.mm() + CHEMISTRY_MM <= room {
            break;
        }
    }
    let mut pages: Vec<String> = Vec::new();
    let mut page_html: String = above.iter().map(|piece| piece.html.as_str()).collect();
    let mut left = room - used(&above);
    // Grams go on overleaf only where a page cannot hold them.
    let mut rows = grams.rows.into_iter().peekable();
    loop {
        if rows.peek().is_some_and(|row| grams.head.mm + row.mm > left) && !page_html.is_empty() {
            pages.push(std::mem::take(&mut page_html));
            left = room;
        }
        page_html.push_str(&grams.head.html);
        left -= grams.head.mm;
        while let Some(row) = rows.next_if(|row| row.mm <= left) {
            page_html.push_str(&row.html);
            left -= row.mm;
        }
        page_html.push_str(TABLE_END);
        if rows.peek().is_none() || pages.len() >= MOST_PAGES {
            break;
        }
        pages.push(std::mem::take(&mut page_html));
        left = room;
    }
    page_html.push_str(LEGEND);
    let (chemistry, left_out) = chemistry(page, chosen, left, width);
    page_html.push_str(&chemistry);
    pages.push(page_html);
    let made = if left_out > 0 { format!("{left_out} more on the screen: {command}") } else { command };
    let count = pages.len();
    for (index, page) in pages.iter_mut().enumerate() {
        let side = if count > 1 {
            format!("page {} of {count}", index + 1)
        } else {
            "mix from a bench page".to_owned()
        };
        page.push_str(&grid::foot(&made, &side));
    }
    grid::pages("Formulas side by side", paper, ("compare", STYLE), &pages)
}

/// More pages than any shelf of chemicals fills.
const MOST_PAGES: usize = 9;
const TABLE_END: &str = "</table>\n";
const LEGEND: &str = "<p class=\"legend\">- absent; ? not known; about: estimated. Each row shows one form; hydrates are converted.</p>\n";
const LEGEND_MM: f64 = 5.6;

/// What made the page.
fn command(comparison: &Comparison<'_>) -> String {
    let ids: Vec<&str> = comparison.formulas.iter().map(|formula| formula.id.as_str()).collect();
    format!("soupcon compare {}", ids.join(" "))
}

/// A count as a length's factor.
fn count(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// All above the grams.
fn seen_and_used(page: &ComparePage<'_>, squeeze: Squeeze, width: f64) -> Vec<Piece> {
    let mut pieces = vec![head(page.comparison, width), names(page.comparison, width)];
    pieces.extend(seen(page.comparison, squeeze, width));
    if squeeze.has_uses {
        pieces.push(uses(page, squeeze, width));
    }
    pieces
}

fn head(comparison: &Comparison<'_>, width: f64) -> Piece {
    let first = comparison.formulas.first().map(|formula| formula.kind);
    let name = match first.filter(|kind| comparison.formulas.iter().all(|formula| formula.kind == *kind)) {
        Some(Kind::FilmDeveloper) => "Film developers".to_owned(),
        Some(Kind::PaperDeveloper) => "Paper developers".to_owned(),
        Some(Kind::Fixer) => "Fixers".to_owned(),
        _ => "Formulas".to_owned(),
    };
    let line = format!("grams {}; all else in the first listed use", comparison.shown.words());
    let figure = match comparison.formulas.len() {
        2 => "2 against 1".to_owned(),
        3 => "2, 3 against 1".to_owned(),
        _ => "all against 1".to_owned(),
    };
    let beside = width - Lettering::bold(34.0, 1.0).width_mm(&figure) - 5.0;
    let mm = (bold_mm(&name, 22.0, beside) + text_mm(&line, 10.0, beside) + 0.8).max(12.0) + 2.5;
    Piece { html: grid::head(&name, &line, &figure), mm }
}

/// Which formula has which number, with what is doubted of it.
fn names(comparison: &Comparison<'_>, width: f64) -> Piece {
    let title_pt = if is_wide(comparison) { 11.0 } else { 13.0 };
    let fine_pt = if is_wide(comparison) { FINE_PT } else { 10.0 };
    let mut html = format!("<table class=\"names\" style=\"--title:{title_pt}pt;--told:{fine_pt}pt\">\n");
    let mut mm = 1.5;
    for (place, formula) in comparison.formulas.iter().enumerate() {
        let told = evidence(formula);
        html.push_str(&format!(
            "<tr><th>{}</th><td><b>{}</b> {}</td></tr>\n",
            place + 1,
            escape(&formula.title),
            escape(&told)
        ));
        let column = width - 8.5;
        let title = Lettering::bold(title_pt, SPACING);
        let fine = Lettering::regular(fine_pt, SPACING);
        // What is told begins on the last line of the title; the lines after it are lower.
        let whole = title.width_mm(&formula.title) + fine.width_mm(&told) + 2.0;
        let further = ((whole / (column * 0.97)).ceil() - 1.0).max(0.0);
        mm += title.line_mm() + further * fine.line_mm() + 0.8;
    }
    html.push_str(TABLE_END);
    Piece { html, mm }
}

/// Whether there are too many formulas for sentences in columns.
fn is_wide(comparison: &Comparison<'_>) -> bool {
    comparison.formulas.len() > 3
}

fn evidence(formula: &Formula) -> String {
    let mut told = vec![formula.id.clone(), formula.trust_words()];
    told.extend(formula.origin_words());
    told.join(" · ")
}
