//! One self-contained HTML document laid out in numbered pages: no script, no network, black on white, nothing depends on hue.
//!
//! At the bench it is read at arm's length in dim or red light: amounts stand in 20 point, what to do in 16, other text in 12, what is
//! read in white light ([`Print::Fine`]) in 10, and what hangs on a wall ([`Print::Large`]) in 16. A step with its cautions is one piece that no page splits. The heights here and the lengths in
//! `page.css` describe the same boxes; `tests/suite/browser.rs` prints both papers and looks.

mod pages;

use super::{Align, Block, CautionBlock, Column, Document, Print, StepBlock, WeighRow, harmless};
use crate::lettering::{Lettering, Paper};
use pages::{Chapter, Flow};

const STYLE: &str = include_str!("page.css");
/// The typefaces that [`crate::lettering`] estimates.
const FACES: &str = include_str!("faces.css");

/// Width of the column of text on either paper, mm.
const WIDTH_MM: f64 = 175.0;
/// Kept free at the foot of a page: the line with its number, and something for a browser that rounds.
const FOOT_MM: f64 = 8.0;
/// Distance of lines over the size of type.
const SPACING: f64 = 1.3;
/// The same in fine print.
const FINE_SPACING: f64 = 1.2;
/// Longest run of text in one piece; longer text goes on in the next piece, so that it can go on overleaf.
const LONGEST_RUN: usize = 1200;

/// So many steps at least stand together where a part begins.
const LEAST_STEPS: usize = 3;

/// Margins, mm: on all sides but the left, and on the left for holes; well inside of what printers reach.
const MARGINS_MM: (f64, f64) = (12.0, 20.0);

/// Height of a page box, mm: what the margins above and below leave, less a little for rounding.
fn box_mm(paper: Paper) -> f64 {
    paper.size_mm().1 - 2.0 * MARGINS_MM.0 - 1.4
}

/// Writes a document as one HTML page.
pub fn to_html(document: &Document, paper: Paper) -> String {
    let title = document
        .blocks
        .iter()
        .find_map(|block| if let Block::Title(text) = block { Some(escape(text)) } else { None })
        .unwrap_or_default();
    let mut flows = Vec::new();
    let mut chapters: Vec<Chapter> = Vec::new();
    let mut heading = 0;
    for block in &document.blocks {
        let start = flows.len();
        write_block(&mut flows, block, &BENCH);
        match block {
            Block::Heading(_) => heading = start,
            Block::Step(step) => {
                if chapters.last().is_none_or(|chapter| chapter.start != heading) {
                    chapters.push(Chapter { start: heading, least_end: 0, end: 0 });
                }
                if let Some(chapter) = chapters.last_mut() {
                    chapter.end = flows.len();
                    if step.number <= LEAST_STEPS {
                        chapter.least_end = flows.len();
                    }
                }
            }
            _ => {}
        }
    }
    let pages = pages::lay(&flows, &chapters, box_mm(paper) - FOOT_MM);
    let sheets: u32 = pages.iter().map(|page| page.sheets).sum();
    let mut body = String::new();
    let mut first = 1;
    for page in &pages {
        let last = first + page.sheets - 1;
        let number = if first == last { format!("page {first}") } else { format!("pages {first} to {last}") };
        body.push_str(&format!(
            "<section class=\"page\">\n{}<footer><span>{title}</span><span>{number} of {sheets}</span></footer>\n</section>\n",
            page.html
        ));
        first = last + 1;
    }
    let (margin, left) = MARGINS_MM;
    let style = format!(
        "@page {{ size: {}; margin: {margin}mm {margin}mm {margin}mm {left}mm; }}\n.page {{ min-height: {:.1}mm; }}\n{STYLE}",
        paper.word(),
        box_mm(paper)
    );
    page_of(&title, &style, &body)
}

/// The frame of every HTML file of this program; title and body are markup already.
pub(super) fn page_of(title: &str, style: &str, body: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n<style>\n{FACES}{style}</style>\n</head>\n<body>\n{body}</body>\n</html>\n"
    )
}

/// Sizes of type in a part of the document.
struct Sizes {
    /// Class of the style sheet.
    name: &'static str,
    text: Lettering,
    bold: Lettering,
    head: Lettering,
}

const BENCH: Sizes = Sizes {
    name: "",
    text: Lettering::regular(12.0, SPACING),
    bold: Lettering::bold(12.0, SPACING),
    head: Lettering::bold(14.0, SPACING),
};
const FINE: Sizes = Sizes {
    name: "fine",
    text: Lettering::regular(10.0, FINE_SPACING),
    bold: Lettering::bold(10.0, FINE_SPACING),
    head: Lettering::bold(12.0, FINE_SPACING),
};
const LARGE: Sizes = Sizes {
    name: "large",
    text: Lettering::regular(16.0, SPACING),
    bold: Lettering::bold(16.0, SPACING),
    head: Lettering::bold(18.0, SPACING),
};

impl Sizes {
    /// The attribute of an element of this size, of a class of its own too.
    fn class(&self, own: &str) -> String {
        match format!("{own} {}", self.name).trim() {
            "" => String::new(),
            classes => format!(" class=\"{classes}\""),
        }
    }
}

const TITLE: Lettering = Lettering::bold(20.0, SPACING);
const AMOUNT: Lettering = Lettering::bold(20.0, SPACING);

fn write_block(flows: &mut Vec<Flow>, block: &Block, sizes: &Sizes) {
    let class = sizes.class("");
    match block {
        Block::Title(text) => {
            let html = format!("<h1>{}</h1>", escape(text));
            let height_mm = TITLE.height_mm(text, WIDTH_MM) + 3.7;
            flows.push(Flow::Whole { html, height_mm, keeps_with_next: true });
        }
        Block::Heading(text) => {
            let html = format!("<div{class}><h2>{}</h2></div>", escape(text));
            let height_mm = sizes.head.height_mm(text, WIDTH_MM) + 3.5;
            flows.push(Flow::Whole { html, height_mm, keeps_with_next: true });
        }
        Block::Paragraph(text) => {
            for run in runs(text) {
                let html = format!("<div{class}><p>{}</p></div>", escape(run));
                flows.push(Flow::whole(html, sizes.text.height_mm(run, WIDTH_MM) + 1.5));
            }
        }
        Block::Facts(facts) => flows.push(facts_flow(facts, sizes)),
        Block::List(points) => {
            let rows = points.iter().flat_map(|point| runs(point));
            let rows = rows.map(|run| {
                (format!("<li>{}</li>\n", escape(run)), sizes.text.height_mm(run, WIDTH_MM - 5.0) + 0.5)
            });
            let open = format!("<ul{class}>\n");
            flows.push(Flow::Rows {
                open,
                close: "</ul>",
                around_mm: 1.5,
                rows: rows.collect(),
                kept_whole: false,
            });
        }
        Block::Table { columns, rows } => flows.push(table_flow(columns, rows, sizes)),
        Block::Weighing(rows) => flows.push(weighing_flow(rows)),
        Block::Step(step) => step_flows(flows, step),
        Block::Caution(caution) => caution_flows(flows, caution, sizes, false),
        Block::Plot(lines) => {
            let text: Vec<String> = lines.iter().map(|line| escape(line)).collect();
            let html = format!("<pre>{}</pre>", text.join("\n"));
            flows.push(Flow::whole(html, lines.iter().map(|_| 5.0).sum::<f64>() + 5.0));
        }
        Block::Blank(label) => {
            // What is to be read and the line to write it on belong together.
            if let Some(Flow::Whole { keeps_with_next, .. }) = flows.last_mut() {
                *keeps_with_next = true;
            }
            let html = format!("<div class=\"blank\">{}</div>", escape(label));
            flows.push(Flow::whole(html, 10.0));
        }
        Block::Print(print, blocks) => {
            let sizes = match print {
                Print::Fine => &FINE,
                Print::Large => &LARGE,
            };
            for block in blocks {
                write_block(flows, block, sizes);
            }
        }
    }
}

/// Cuts long text at spaces.
fn runs(text: &str) -> Vec<&str> {
    let mut runs = Vec::new();
    let mut rest = text;
    while let Some((limit, _)) = rest.char_indices().nth(LONGEST_RUN) {
        let head = rest.get(..limit).unwrap_or(rest);
        let end = head.rfind(' ').filter(|end| *end > 0).unwrap_or(limit);
        let (run, more) = rest.split_at(end);
        runs.push(run);
        rest = more.trim_start_matches(' ');
    }
    runs.push(rest);
    runs
}

fn facts_flow(facts: &[(String, String)], sizes: &Sizes) -> Flow {
    let widest = facts.iter().map(|(label, _)| sizes.bold.width_mm(&harmless(label))).fold(0.0, f64::max);
    let label_mm = (widest + 4.0).clamp(20.0, 50.0);
    let value_mm = WIDTH_MM - label_mm;
    let mut rows = Vec::new();
    for (label, value) in facts {
        for (index, run) in runs(value).into_iter().enumerate() {
            let label = if index == 0 { label.as_str() } else { "" };
            let height = sizes.text.height_mm(run, value_mm - 3.0);
            let height = height.max(sizes.bold.height_mm(label, label_mm - 3.0)) + 0.5;
            rows.push((
                format!("<tr><th scope=\"row\">{}</th><td>{}</td></tr>\n", escape(label), escape(run)),
                height,
            ));
        }
    }
    let class = sizes.class("facts");
    let open = format!("<table{class}><colgroup><col style=\"width:{label_mm:.1}mm\"><col></colgroup>\n");
    Flow::Rows { open, close: "</table>", around_mm: 1.5, rows, kept_whole: false }
}

/// Space beside the text of a cell, both sides together, mm (`page.css`).
const CELL_GAP_MM: f64 = 5.0;

fn table_flow(columns: &[Column], rows: &[Vec<String>], sizes: &Sizes) -> Flow {
    let widths = column_widths(columns, rows, sizes);
    let row_mm = |cells: &mut dyn Iterator<Item = &str>, lettering: Lettering| {
        let heights = cells.zip(&widths).map(|(cell, width)| lettering.height_mm(cell, width - CELL_GAP_MM));
        heights.fold(0.0, f64::max) + 1.6
    };
    let side = |index: usize| {
        let right = columns.get(index).is_some_and(|column| column.align == Align::Right);
        if right { " class=\"r\"" } else { "" }
    };
    let cells = |tag: &str, texts: &mut dyn Iterator<Item = &str>| -> String {
        texts
            .enumerate()
            .map(|(index, text)| format!("<{tag}{}>{}</{tag}>", side(index), escape(text)))
            .collect()
    };
    let class = sizes.class("grid");
    let total: f64 = widths.iter().sum();
    let cols: String = widths.iter().map(|width| format!("<col style=\"width:{width:.1}mm\">")).collect();
    let mut open = format!("<table{class} style=\"width:{total:.1}mm\"><colgroup>{cols}</colgroup>\n");
    let mut around_mm = 2.0;
    if columns.iter().any(|column| !column.title.is_empty()) {
        let mut titles = columns.iter().map(|column| column.title.as_str());
        around_mm += row_mm(&mut titles.clone(), sizes.bold);
        open.push_str(&format!("<thead><tr>{}</tr></thead>\n", cells("th", &mut titles)));
    }
    let rows = rows
        .iter()
        .map(|row| {
            let mut texts = row.iter().map(String::as_str);
            let height = row_mm(&mut texts.clone(), sizes.text);
            (format!("<tr>{}</tr>\n", cells("td", &mut texts)), height)
        })
        .collect();
    Flow::Rows { open, close: "</table>", around_mm, rows, kept_whole: true }
}

/// Columns as wide as their contents; the widest give way where the page is too narrow.
fn column_widths(columns: &[Column], rows: &[Vec<String>], sizes: &Sizes) -> Vec<f64> {
    const NARROWEST_MM: f64 = 18.0;
    let mut widths: Vec<f64> = columns
        .iter()
        .enumerate()
        .map(|(index, column)| {
            let cells = rows.iter().filter_map(|row| row.get(index));
            let widest = cells.map(|cell| sizes.text.width_mm(cell)).fold(0.0, f64::max);
            widest.max(sizes.bold.width_mm(&column.title)) + CELL_GAP_MM + 0.5
        })
        .collect();
    // The columns wider than a common limit share what the others leave.
    let total = |limit: f64| -> f64 { widths.iter().map(|width| width.min(limit)).sum() };
    if total(f64::INFINITY) > WIDTH_MM {
        let (mut low, mut high) = (NARROWEST_MM, WIDTH_MM);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if total(middle) > WIDTH_MM { high = middle } else { low = middle }
        }
        for width in &mut widths {
            *width = width.min(low);
        }
    }
    widths
}

fn weighing_flow(rows: &[WeighRow]) -> Flow {
    const WHOLE_MM: f64 = 24.0;
    const WEIGH_ROW_MM: f64 = 11.0;
    let fractions = rows.iter().map(|row| AMOUNT.width_mm(split_amount(&row.amount).1));
    let fraction_mm = fractions.fold(0.0, f64::max).clamp(15.0, 50.0) + 5.0;
    let name_mm = WIDTH_MM - 12.0 - WHOLE_MM - fraction_mm;
    let name = Lettering::regular(16.0, SPACING);
    let open = format!(
        "<table class=\"weigh\"><colgroup><col style=\"width:12mm\"><col style=\"width:{WHOLE_MM}mm\"><col style=\"width:{fraction_mm:.1}mm\"><col></colgroup>\n"
    );
    let rows = rows
        .iter()
        .map(|row| {
            let (whole, fraction) = split_amount(&row.amount);
            let html = format!(
                "<tr><td><div class=\"tick\"></div></td><td class=\"n\">{}</td><td class=\"f\">{}</td><td>{}</td></tr>\n",
                escape(whole),
                escape(fraction),
                escape(&row.what)
            );
            (html, (name.height_mm(&row.what, name_mm) + 2.0).max(WEIGH_ROW_MM))
        })
        .collect();
    Flow::Rows { open, close: "</table>", around_mm: 1.5, rows, kept_whole: true }
}

/// Splits `12.5 g` before its decimal point or unit, so that figures of a column stand under each other.
fn split_amount(amount: &str) -> (&str, &str) {
    let digits = amount.chars().take_while(char::is_ascii_digit).count();
    amount.split_at_checked(digits).unwrap_or(("", amount))
}

/// A step with its cautions on one page; where they are higher than a page, the cautions first.
fn step_flows(flows: &mut Vec<Flow>, step: &StepBlock) {
    let details_mm = WIDTH_MM - 28.0;
    let amount_mm = if step.amount.is_empty() { 0.0 } else { AMOUNT.width_mm(&step.amount) + 4.0 };
    let action = Lettering::bold(16.0, 1.2);
    let mut height_mm = action.height_mm(&step.action, details_mm - amount_mm).max(8.0) + 1.0 + 2.5;
    let mut details: Vec<Detail> =
        step.details.iter().map(|(label, text)| Detail::new(label, text)).collect();
    if !step.reading.is_empty() {
        details.push(Detail::with_blank("reads then", &format!("{}; read:", step.reading)));
    }
    let (details, details_height_mm) = detail_lines(&details, details_mm);
    height_mm += details_height_mm;
    let amount = if step.amount.is_empty() {
        String::new()
    } else {
        format!("<div class=\"amount\">{}</div>", escape(&step.amount))
    };
    let html = format!(
        "<div class=\"step\"><div class=\"tick\"></div><div class=\"no\">{}.</div><div><div class=\"do\">{amount}<div>{}</div></div>{details}</div></div>",
        step.number,
        escape(&step.action)
    );
    let mut before = Vec::new();
    for caution in &step.cautions {
        caution_flows(&mut before, caution, &BENCH, true);
    }
    flows.append(&mut before);
    flows.push(Flow::whole(html, height_mm));
}

/// A line below what a step says to do.
struct Detail {
    html: String,
    /// As it is measured.
    text: String,
}

impl Detail {
    fn new(label: &str, text: &str) -> Self {
        let label = if label.is_empty() { String::new() } else { format!("{label}: ") };
        let html = format!("<i>{}</i>{}", escape(&label), escape(text));
        Self { html, text: format!("{label}{text}") }
    }

    /// With a line to write on.
    fn with_blank(label: &str, text: &str) -> Self {
        let Self { html, text } = Self::new(label, text);
        // As wide as the line.
        Self { html: format!("{html} <span class=\"read\"></span>"), text: format!("{text} mmmmmmmm") }
    }
}

/// Details below each other; those that have room beside each other share a line. With their height.
fn detail_lines(details: &[Detail], width_mm: f64) -> (String, f64) {
    const GAP_MM: f64 = 6.0;
    let mut lines: Vec<(String, f64)> = Vec::new();
    let mut height_mm = 0.0;
    for own in details {
        let own_mm = BENCH.text.width_mm(&own.text);
        match lines.last_mut() {
            Some((html, used_mm)) if *used_mm + GAP_MM + own_mm <= width_mm => {
                html.push_str(&format!("<span class=\"beside\"> {}</span>", own.html));
                *used_mm += GAP_MM + own_mm;
            }
            _ => {
                height_mm += BENCH.text.height_mm(&own.text, width_mm);
                lines.push((own.html.clone(), own_mm));
            }
        }
    }
    (lines.iter().map(|(html, _)| format!("<div>{html}</div>")).collect(), height_mm)
}

/// A box; long ones go on in further boxes.
fn caution_flows(flows: &mut Vec<Flow>, caution: &CautionBlock, sizes: &Sizes, keeps_with_next: bool) {
    const INNER_MM: f64 = WIDTH_MM - 7.8;
    const HIGHEST_MM: f64 = 150.0;
    let word_mm = sizes.head.height_mm(&caution.word, INNER_MM);
    let mut lines = String::new();
    let mut height_mm = 0.0;
    let mut word = caution.word.clone();
    let mut flush = |lines: &mut String, height_mm: &mut f64, word: &str| {
        let html =
            format!("<div{}><div class=\"box\"><b>{}</b>{lines}</div></div>", sizes.class(""), escape(word));
        flows.push(Flow::Whole { html, height_mm: *height_mm + word_mm + 7.8, keeps_with_next });
        lines.clear();
        *height_mm = 0.0;
    };
    for run in caution.lines.iter().flat_map(|line| runs(line)) {
        let own = sizes.text.height_mm(run, INNER_MM) + 0.7;
        if height_mm > 0.0 && height_mm + own > HIGHEST_MM {
            flush(&mut lines, &mut height_mm, &word);
            word = format!("{} (continued)", caution.word);
        }
        lines.push_str(&format!("<p>{}</p>", escape(run)));
        height_mm += own;
    }
    flush(&mut lines, &mut height_mm, &word);
}

/// Units, and the words of a dilution, that no line end parts from their figure.
const UNITS: [&str; 14] =
    ["g", "mg", "mL", "L", "°C", "°F", "min", "h", "s", "%", "cm²", "mm", "stock", "water"];

/// Puts no-break spaces between figures and their units, and no-break hyphens between figures.
fn tied(text: &str) -> String {
    let mut tied = String::with_capacity(text.len());
    for (index, word) in text.split(' ').enumerate() {
        if index > 0 {
            let plain = word.trim_end_matches(['.', ',', ';', ':', ')', ']']);
            let is_unit = UNITS.contains(&plain) && tied.ends_with(|last: char| last.is_ascii_digit());
            tied.push(if is_unit { '\u{a0}' } else { ' ' });
        }
        let mut letters = word.chars().peekable();
        let mut last = ' ';
        while let Some(letter) = letters.next() {
            let is_range =
                letter == '-' && last.is_ascii_digit() && letters.peek().is_some_and(char::is_ascii_digit);
            tied.push(if is_range { '\u{2011}' } else { letter });
            last = letter;
        }
    }
    tied
}

/// Escapes what HTML would read as markup.
pub(super) fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in tied(&harmless(text)).chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_and_units_are_tied_and_markup_is_escaped() {
        assert_eq!(
            escape("500 mL of A, 20 °C; 2 g & <b>"),
            "500\u{a0}mL of A, 20\u{a0}°C; 2\u{a0}g &amp; &lt;b&gt;"
        );
        assert_eq!(escape("10:45 (9:00-13:15)"), "10:45 (9:00\u{2011}13:15)");
        assert_eq!(escape("mq-80-sulfite-2"), "mq-80-sulfite-2");
        assert_eq!(escape("\"'"), "&quot;&#39;");
        assert_eq!(escape("a\u{202e}b\nc"), "a\u{fffd}b c");
    }

    #[test]
    fn long_text_is_cut_at_spaces_and_nothing_is_lost() {
        let text = "word ".repeat(1000);
        let runs = runs(&text);
        assert!(runs.len() > 3 && runs.iter().all(|run| run.chars().count() <= LONGEST_RUN));
        assert_eq!(runs.join(" ").split_whitespace().count(), 1000);
        let unbroken = "x".repeat(3000);
        assert_eq!(super::runs(&unbroken).concat(), unbroken);
    }

    #[test]
    fn amounts_are_split_at_the_point_or_the_unit() {
        assert_eq!(split_amount("12.5 g"), ("12", ".5 g"));
        assert_eq!(split_amount("100 mL"), ("100", " mL"));
        assert_eq!(split_amount("a pinch"), ("", "a pinch"));
    }

    #[test]
    fn columns_share_the_page() {
        let columns = [Column::left("a"), Column::left("b"), Column::right("c")];
        let rows = [vec!["word ".repeat(60), "word ".repeat(40), "12 g".to_owned()]];
        let widths = column_widths(&columns, &rows, &BENCH);
        assert!(widths.iter().sum::<f64>() <= WIDTH_MM + 1e-6);
        assert!(widths[2] < widths[1] && (widths[0] - widths[1]).abs() < 1e-6);
    }
}
