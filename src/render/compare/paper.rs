//! Formulas side by side on one page: what one would see of each against the first, how each is used and keeps, then grams; chemistry last, as
//! much as there is room for.
//!
//! What decides a choice stands in 13 to 15 points, grams in 10 to 16, chemistry in 9.5. What has no room is told on the screen, and the foot says
//! so; two pages only where the chemicals are too many for one. Heights are sums of lines by [`crate::lettering`].

use super::words::{cell_grams, cell_moles, column_labels, measure_row};
use crate::compare::{Comparison, Seen};
use crate::doubt::{COMPUTED, NOT_KNOWN};
use crate::formula::{Formula, Kind};
use crate::lettering::{Lettering, Paper};
use crate::qualities::Comparative;
use crate::render::html::escape;
use crate::render::html::grid::{self, room_mm};
use crate::render::show::named_use;

const STYLE: &str = include_str!("paper.css");

/// Width of the names of rows, mm.
const NAME_MM: f64 = 28.0;
/// Width of the names of the chemistry, mm.
const LABEL_MM: f64 = 44.0;
/// Distance of lines over the size of type.
const SPACING: f64 = 1.2;
/// Size of the chemistry, points.
const FINE_PT: f64 = 9.5;
/// Least height kept for chemistry, mm.
const CHEMISTRY_MM: f64 = 46.0;
/// Height of a heading, and of the numbers over the columns, mm.
const HEADING_MM: f64 = 7.3;
const NUMBERS_MM: f64 = 7.3;
/// Between two columns, mm.
const GAP_MM: f64 = 1.2;
/// Least and most width of an amount, mm, and of the chemical's name beside it.
const AMOUNT_MM: (f64, f64) = (12.5, 30.0);
const CHEMICAL_MM: f64 = 46.0;

/// What the page is made of.
#[derive(Debug)]
pub struct ComparePage<'a> {
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

/// From roomy to tight.
const SQUEEZES: [Squeeze; 7] = {
    use Reasons::{All, None, OfDifferences};
    [
        Squeeze {
            reasons: All,
            has_uses: true,
            word_pt: 15.0,
            why_pt: 10.5,
            amount_pt: 16.0,
            name_pt: 14.0,
            row_mm: 7.4,
        },
        Squeeze {
            reasons: OfDifferences,
            has_uses: true,
            word_pt: 15.0,
            why_pt: 10.5,
            amount_pt: 16.0,
            name_pt: 14.0,
            row_mm: 7.0,
        },
        Squeeze {
            reasons: OfDifferences,
            has_uses: true,
            word_pt: 14.0,
            why_pt: 10.0,
            amount_pt: 14.0,
            name_pt: 12.0,
            row_mm: 6.2,
        },
        Squeeze {
            reasons: None,
            has_uses: true,
            word_pt: 14.0,
            why_pt: 10.0,
            amount_pt: 14.0,
            name_pt: 12.0,
            row_mm: 6.2,
        },
        Squeeze {
            reasons: None,
            has_uses: true,
            word_pt: 13.0,
            why_pt: 10.0,
            amount_pt: 12.0,
            name_pt: 11.0,
            row_mm: 5.2,
        },
        Squeeze {
            reasons: None,
            has_uses: false,
            word_pt: 13.0,
            why_pt: 10.0,
            amount_pt: 12.0,
            name_pt: 11.0,
            row_mm: 5.2,
        },
        Squeeze {
            reasons: None,
            has_uses: false,
            word_pt: 12.0,
            why_pt: 9.5,
            amount_pt: 10.0,
            name_pt: 10.0,
            row_mm: 4.6,
        },
    ]
};

/// A piece of a page: markup and the height that it takes, mm.
struct Piece {
    html: String,
    mm: f64,
}

/// Rows of a table, each with its height, so that a page can take as many as it has room for.
struct Rows {
    /// All before the first row; said again on a further page.
    head: Piece,
    rows: Vec<Piece>,
}

impl Rows {
    fn mm(&self) -> f64 {
        self.head.mm + used(&self.rows)
    }
}

fn used(pieces: &[Piece]) -> f64 {
    pieces.iter().map(|piece| piece.mm).sum()
}

/// The comparison on paper.
pub fn compare_html(page: &ComparePage<'_>, paper: Paper) -> String {
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
    let mut own: String = above.iter().map(|piece| piece.html.as_str()).collect();
    let mut left = room - used(&above);
    // Grams go on overleaf only where a page cannot hold them.
    let mut rows = grams.rows.into_iter().peekable();
    loop {
        if rows.peek().is_some_and(|row| grams.head.mm + row.mm > left) && !own.is_empty() {
            pages.push(std::mem::take(&mut own));
            left = room;
        }
        own.push_str(&grams.head.html);
        left -= grams.head.mm;
        while let Some(row) = rows.next_if(|row| row.mm <= left) {
            own.push_str(&row.html);
            left -= row.mm;
        }
        own.push_str(TABLE_END);
        if rows.peek().is_none() || pages.len() >= MOST_PAGES {
            break;
        }
        pages.push(std::mem::take(&mut own));
        left = room;
    }
    own.push_str(LEGEND);
    let (chemistry, left_out) = chemistry(page, chosen, left, width);
    own.push_str(&chemistry);
    pages.push(own);
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
    let ids: Vec<&str> = comparison.formulas.iter().map(|own| own.id.as_str()).collect();
    format!("soupcon compare {}", ids.join(" "))
}

/// A count as a length's factor.
fn count(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// Height of text in a column, mm.
fn text_mm(text: &str, points: f64, column_mm: f64) -> f64 {
    Lettering::regular(points, SPACING).height_mm(text, column_mm)
}

fn bold_mm(text: &str, points: f64, column_mm: f64) -> f64 {
    Lettering::bold(points, SPACING).height_mm(text, column_mm)
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
    let first = comparison.formulas.first().map(|own| own.kind);
    let name = match first.filter(|kind| comparison.formulas.iter().all(|own| own.kind == *kind)) {
        Some(Kind::FilmDeveloper) => "Film developers".to_owned(),
        Some(Kind::PaperDeveloper) => "Paper developers".to_owned(),
        Some(Kind::Fixer) => "Fixers".to_owned(),
        _ => "Formulas".to_owned(),
    };
    let line = format!("grams {}; all else in the first listed use", comparison.shown.words());
    let figure = match comparison.formulas.len() {
        2 => "2 against 1".to_owned(),
        _ => "against 1".to_owned(),
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

/// Width of one formula's column, mm.
fn column_mm(comparison: &Comparison<'_>, width: f64) -> f64 {
    (width - NAME_MM) / count(comparison.formulas.len()) - GAP_MM
}

/// The head of a table with a column a formula.
fn numbers(comparison: &Comparison<'_>) -> String {
    let numbers: String =
        (1..=comparison.formulas.len()).map(|number| format!("<th>{number}</th>")).collect();
    format!(
        "<colgroup><col style=\"width:{NAME_MM}mm\"></colgroup><thead><tr><th></th>{numbers}</tr></thead>\n"
    )
}

/// What one would see: the first by its reasons, the others in a word against it.
fn seen(comparison: &Comparison<'_>, squeeze: Squeeze, width: f64) -> Option<Piece> {
    if comparison.seen.is_empty() {
        return None;
    }
    let column = column_mm(comparison, width);
    let mut html = format!(
        "<h2>what you would see<span>by rules from composition; film and hand decide more than half</span></h2>\n<table class=\"seen\" style=\"--word:{}pt;--why:{}pt\">{}",
        squeeze.word_pt,
        squeeze.why_pt,
        numbers(comparison)
    );
    let mut mm = HEADING_MM + NUMBERS_MM;
    for own in &comparison.seen {
        html.push_str(&format!("<tr><th>{}</th>", escape(&own.quality.name)));
        let mut row_mm = bold_mm(&own.quality.name, 12.0, NAME_MM - 2.0);
        for place in 0..comparison.formulas.len() {
            let word = word(own, place);
            let why = if is_reasoned(own, squeeze.reasons) { why(own, place) } else { String::new() };
            let class = if is_telling(own, place) { " class=\"tells\"" } else { "" };
            html.push_str(&format!("<td{class}>"));
            let mut cell_mm = 0.0;
            if !word.is_empty() {
                html.push_str(&format!("<b>{}</b>", escape(word)));
                let is_bold = is_telling(own, place);
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
fn is_reasoned(seen: &Seen, reasons: Reasons) -> bool {
    match reasons {
        Reasons::All => true,
        Reasons::OfDifferences => (0..=seen.standings.len()).any(|place| is_telling(seen, place)),
        Reasons::None => false,
    }
}

/// What speaks for and against it.
fn why(seen: &Seen, place: usize) -> String {
    let reasons = seen.reasons.get(place).map_or(&[][..], Vec::as_slice);
    if reasons.is_empty() && place == 0 {
        return Comparative::NotKnown.words(&seen.quality).to_owned();
    }
    reasons.iter().map(|rule| rule.why.as_str()).collect::<Vec<_>>().join("; ")
}

/// First use, keeping and capacity, one each a formula; what is known of none is left out.
fn use_rows(page: &ComparePage<'_>) -> Vec<(&'static str, Vec<String>)> {
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
fn uses(page: &ComparePage<'_>, squeeze: Squeeze, width: f64) -> Piece {
    let rows = use_rows(page);
    let style = format!("class=\"seen\" style=\"--word:{}pt;--why:{}pt\"", squeeze.word_pt, squeeze.why_pt);
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
        html.push_str(&format!("<tr><th>{name}</th>"));
        let mut row_mm = bold_mm(name, 12.0, NAME_MM - 2.0);
        for own in &words {
            html.push_str(&format!("<td><p>{}</p></td>", escape(own)));
            row_mm = row_mm.max(text_mm(own, squeeze.why_pt, column));
        }
        html.push_str("</tr>\n");
        mm += row_mm + 1.1;
    }
    html.push_str(TABLE_END);
    Piece { html, mm }
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
        html.push_str(&format!("<tr><th>{}</th>", place + 1));
        let mut row_mm = Lettering::bold(12.0, SPACING).line_mm();
        for own in rows.iter().filter_map(|(_, words)| words.get(place)) {
            html.push_str(&format!("<td><p>{}</p></td>", escape(own)));
            row_mm = row_mm.max(text_mm(own, squeeze.why_pt, column));
        }
        html.push_str("</tr>\n");
        mm += row_mm + 1.1;
    }
    html.push_str(TABLE_END);
    Piece { html, mm }
}

/// Grams per litre, a column a solution.
fn grams_rows(comparison: &Comparison<'_>, squeeze: Squeeze, width: f64) -> Rows {
    let labels = column_labels(comparison);
    let (least, most) = AMOUNT_MM;
    let amount_mm = ((width - CHEMICAL_MM) / count(labels.len())).clamp(least, most);
    let name_mm = width - amount_mm * count(labels.len()) - 2.0;
    let mut heads = String::new();
    let mut head_mm: f64 = 0.0;
    for (label, column) in labels.iter().zip(&comparison.columns) {
        let of = column.label.as_deref().unwrap_or_default();
        heads.push_str(&format!("<th>{}<small>{}</small></th>", escape(label), escape(of)));
        let small = if of.is_empty() { 0.0 } else { text_mm(of, FINE_PT, amount_mm - 2.0) };
        head_mm = head_mm.max(small);
    }
    let html = format!(
        "<h2>grams per litre, {}</h2>\n<table class=\"grams\" style=\"--amount:{}pt;--name:{}pt;--row:{}mm;--wide:{amount_mm:.1}mm\"><thead><tr><th></th>{heads}</tr></thead>\n",
        comparison.shown.words(),
        squeeze.amount_pt,
        squeeze.name_pt,
        squeeze.row_mm
    );
    let head = Piece { html, mm: HEADING_MM + 5.9 + head_mm };
    // Points stand under each other where a column has room for the longest fraction.
    let decimals: Vec<usize> = (0..labels.len())
        .map(|index| {
            if labels.len() > 4 {
                return 0;
            }
            let cells = comparison.rows.iter().filter_map(|row| row.cells.get(index)?.as_ref());
            cells.map(|cell| after_point(&cell_grams(cell))).max().unwrap_or(0)
        })
        .collect();
    let rows = comparison
        .rows
        .iter()
        .map(|row| {
            let name = if labels.len() > 3 { &row.form.bench_name } else { &row.form.name };
            let mut html = format!("<tr><td>{}</td>", escape(name));
            let mut mm = text_mm(name, squeeze.name_pt, name_mm).max(squeeze.row_mm - 0.3);
            for (cell, decimals) in row.cells.iter().zip(&decimals) {
                let words = cell.as_ref().map_or_else(|| "-".to_owned(), cell_grams);
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
    let own = after_point(words);
    if own >= decimals || words == "-" {
        return String::new();
    }
    let point = if own == 0 { "." } else { "" };
    format!("<i>{point}{}</i>", "0".repeat(decimals - own - point.len()))
}

/// Differences in words, the figures of the trade, moles, and the reasons that were not told above: as many as there is room for, and how
/// many had none.
fn chemistry(page: &ComparePage<'_>, chosen: Squeeze, room: f64, width: f64) -> (String, usize) {
    let comparison = page.comparison;
    let mut fine = Fine { left: room - HEADING_MM, left_out: 0 };
    let label = |place: usize, name: &str| format!("{} {name}", place + 1);
    let each = |name: &str, words: Vec<String>| -> Vec<(String, String)> {
        words.into_iter().enumerate().map(|(place, own)| (label(place, name), own)).collect()
    };
    let mut all = String::new();
    if !chosen.has_uses {
        let lines: Vec<_> = use_rows(page).into_iter().flat_map(|(name, words)| each(name, words)).collect();
        all.push_str(&fine.lines(&lines, width));
    }
    // What differs comes first.
    let is_alike = |own: &(String, Vec<String>)| own.1.windows(2).all(|two| two.first() == two.last());
    let (alike, differing): (Vec<_>, Vec<_>) = figures(comparison).into_iter().partition(is_alike);
    all.push_str(&fine.table(&differing, comparison.formulas.len(), width));
    let mut lines = told(comparison);
    lines.extend(moles(comparison));
    let of_all = |(name, values): (String, Vec<String>)| Some((name, format!("{}, all", values.first()?)));
    lines.extend(alike.into_iter().filter_map(of_all));
    for own in comparison.seen.iter().filter(|own| !is_reasoned(own, chosen.reasons)) {
        let reasons = (0..comparison.formulas.len()).map(|place| why(own, place)).collect();
        lines.extend(each(&own.quality.name, reasons));
    }
    all.push_str(&fine.lines(&lines, width));
    let heading = if chosen.has_uses { "chemistry" } else { "use and chemistry" };
    if all.is_empty() {
        return (all, fine.left_out);
    }
    (format!("<h2>{heading}</h2>\n{all}"), fine.left_out)
}

/// Small print, as much of it as there is room for.
struct Fine {
    /// Height that is left, mm.
    left: f64,
    left_out: usize,
}

impl Fine {
    /// Whether there is room for a row; it counts as taken, or as left out.
    fn takes(&mut self, mm: f64) -> bool {
        let mm = mm + 0.6;
        if mm > self.left {
            self.left_out += 1;
            return false;
        }
        self.left -= mm;
        true
    }

    /// Names with one text.
    fn lines(&mut self, lines: &[(String, String)], width: f64) -> String {
        let mut rows = String::new();
        for (label, text) in lines {
            let mm = text_mm(text, FINE_PT, width - LABEL_MM - 0.5);
            if self.takes(mm.max(bold_mm(label, FINE_PT, LABEL_MM - 2.0))) {
                rows.push_str(&format!("<tr><th>{}</th><td>{}</td></tr>\n", escape(label), escape(text)));
            }
        }
        Self::framed(&rows)
    }

    /// Names with a value a formula.
    fn table(&mut self, lines: &[(String, Vec<String>)], formulas: usize, width: f64) -> String {
        let column = (width - LABEL_MM) / count(formulas) - 2.0;
        let mut rows = String::new();
        for (name, values) in lines {
            let mm = values.iter().map(|own| text_mm(own, FINE_PT, column)).fold(0.0, f64::max);
            if self.takes(mm.max(bold_mm(name, FINE_PT, LABEL_MM - 2.0))) {
                let tag = if name.is_empty() { "th" } else { "td" };
                let cell = |own: &String| format!("<{tag}>{}</{tag}>", escape(own));
                let cells: String = values.iter().map(cell).collect();
                rows.push_str(&format!("<tr><th>{}</th>{cells}</tr>\n", escape(name)));
            }
        }
        Self::framed(&rows)
    }

    fn framed(rows: &str) -> String {
        if rows.is_empty() { String::new() } else { format!("<table class=\"fine\">\n{rows}{TABLE_END}") }
    }
}

/// Figures the trade goes by, with one value a formula.
fn figures(comparison: &Comparison<'_>) -> Vec<(String, Vec<String>)> {
    let numbers = (1..=comparison.formulas.len()).map(|number| number.to_string()).collect();
    let mut lines = vec![(String::new(), numbers)];
    let row = |key: &str| {
        let measure = comparison.measures.iter().find(|own| own.key == key)?;
        Some(measure_row(measure).split_off(1))
    };
    if let (Some(ph), Some(error)) = (row("ph"), row("ph_error")) {
        let values = ph.iter().zip(&error).map(|(ph, error)| {
            let both = ph.split(", then ").zip(error.split(", then "));
            let words = |(ph, error): (&str, &str)| {
                if ph.contains('-') || ph == "?" { ph.to_owned() } else { format!("{ph} ± {error}") }
            };
            both.map(words).collect::<Vec<_>>().join(", then ")
        });
        lines.push((format!("pH, {COMPUTED}"), values.collect()));
    }
    for measure in comparison.measures.iter().filter(|own| !["ph", "ph_error"].contains(&own.key)) {
        let mut cells = measure_row(measure).into_iter();
        let name = cells.next().unwrap_or_default();
        lines.push((name, cells.collect()));
    }
    if lines.len() == 1 { Vec::new() } else { lines }
}

/// Differences in words with their reasons; arithmetic needs none.
fn told(comparison: &Comparison<'_>) -> Vec<(String, String)> {
    comparison
        .differences
        .iter()
        .map(|own| {
            let reason = match own.reason {
                crate::compare::Reason::Arithmetic => String::new(),
                ref other => format!(" [{}]", other.words()),
            };
            let number = own.formula + 1;
            let label = if own.against == own.formula {
                format!("{number} {}", own.topic.words())
            } else {
                format!("{number} against {} {}", own.against + 1, own.topic.words())
            };
            (label, format!("{}{reason}", own.text))
        })
        .collect()
}

/// Moles per litre, a line a solution.
fn moles(comparison: &Comparison<'_>) -> Vec<(String, String)> {
    let labels = column_labels(comparison);
    labels
        .iter()
        .enumerate()
        .map(|(index, label)| {
            let all = comparison.rows.iter().filter_map(|row| {
                let cell = row.cells.get(index)?.as_ref()?;
                Some(format!("{} {}", row.form.bench_name, cell_moles(cell)))
            });
            (format!("{label} mol/L"), all.collect::<Vec<_>>().join(";  "))
        })
        .collect()
}
