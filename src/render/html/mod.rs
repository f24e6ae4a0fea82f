//! One self-contained HTML document: no script, no network, black on white, nothing depends on hue.
//!
//! Where a page ends is left to the browser: what belongs together (a step with its cautions, a box, a row, a heading with what follows)
//! is not broken (`break-inside`, `break-after`), and the pages are numbered in the margin (`@page`). All papers stand on one grid. At the bench
//! amounts stand in 20 point and what to do in 16; what is read in white light ([`Print::Fine`]) stands in 10, what hangs on a wall
//! ([`Print::Large`]) in 16. The bench page has a view of its own ([`crate::render::bench`]).

pub(super) mod grid;
pub(super) mod piece;

use super::{Align, Block, CautionBlock, Column, Document, Print, StepBlock, WeighRow, harmless};
use crate::lettering::Paper;

const STYLE: &str = include_str!("page.css");
/// The typefaces that [`crate::lettering`] estimates.
const FACES: &str = include_str!("faces.css");
/// Rules, boxes and the sizes of head and foot that every sheet of paper takes from here, the bench page and the labels too.
const MEASURES: &str = include_str!("measures.css");

/// Margins of every paper, mm: left (holes, sleeve), right, top, bottom.
pub(super) const MARGINS_MM: [f64; 4] = [18.0, 11.0, 10.0, 9.0];

/// Writes a document as one HTML page.
pub fn to_html(document: &Document, paper: Paper) -> String {
    let title = title_of(document);
    page_of(&escape(&title), &flow_style(&title, paper), &flow(document))
}

/// The title, unescaped.
pub(super) fn title_of(document: &Document) -> String {
    let title = |block: &Block| if let Block::Title(text) = block { Some(text.clone()) } else { None };
    document.blocks.iter().find_map(title).unwrap_or_default()
}

/// Style of pages that flow, with title and number in the foot margin.
pub(super) fn flow_style(title: &str, paper: Paper) -> String {
    let [left, right, top, bottom] = MARGINS_MM;
    let shown: String = title.chars().take(MOST_FOOT_LETTERS).collect();
    let more = if title.chars().count() > MOST_FOOT_LETTERS { "…" } else { "" };
    format!(
        "@page {{ size: {}; margin: {top}mm {right}mm {bottom}mm {left}mm; }}\n@page flow {{ margin-bottom: {}mm; @bottom-left {{ content: \"{}{more}\"; {MARGIN_FACE} }} @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); {MARGIN_FACE} }} }}\n{STYLE}",
        paper.word(),
        bottom + 6.0,
        in_style(&shown),
    )
}

/// Boxes in a margin do not stand in the body and have none of its type.
const MARGIN_FACE: &str = "font-family: \"Liberation Sans\", Arial, Helvetica, sans-serif; font-size: 10pt;";

/// Longest title in a foot, letters.
const MOST_FOOT_LETTERS: usize = 70;

/// Text between the quotes of a style sheet: all that is not a plain letter as a numeric escape.
fn in_style(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in harmless(text).chars() {
        if letter.is_ascii_alphanumeric() || letter == ' ' {
            safe.push(letter);
        } else {
            // The blank ends the escape and belongs to it (CSS Syntax Level 3, "consume an escaped code point").
            safe.push_str(&format!("\\{:06x} ", u32::from(letter)));
        }
    }
    safe
}

/// A document as markup that flows over pages.
pub(super) fn flow(document: &Document) -> String {
    let mut html = String::from("<main>\n");
    for block in &document.blocks {
        write_block(&mut html, block);
    }
    html.push_str("</main>\n");
    html
}

/// The frame of every HTML file of this program; title and body are markup already.
pub(super) fn page_of(title: &str, style: &str, body: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n<style>\n{FACES}{MEASURES}{style}</style>\n</head>\n<body>\n{body}</body>\n</html>\n"
    )
}

fn write_block(html: &mut String, block: &Block) {
    match block {
        Block::Title(text) => html.push_str(&format!("<h1>{}</h1>\n", escape(text))),
        Block::Heading(text) => html.push_str(&format!("<h2>{}</h2>\n", escape(text))),
        Block::Paragraph(text) => html.push_str(&format!("<p>{}</p>\n", escape(text))),
        Block::Facts(facts) => {
            html.push_str("<table class=\"facts\">\n");
            for (label, value) in facts {
                html.push_str(&format!(
                    "<tr><th scope=\"row\">{}</th><td>{}</td></tr>\n",
                    escape(label),
                    escape(value)
                ));
            }
            html.push_str("</table>\n");
        }
        Block::List(points) => {
            html.push_str("<ul>\n");
            for point in points {
                html.push_str(&format!("<li>{}</li>\n", escape(point)));
            }
            html.push_str("</ul>\n");
        }
        Block::Table { columns, rows } => write_table(html, columns, rows),
        Block::Weighing(rows) => {
            html.push_str("<table class=\"weigh\">\n");
            for WeighRow { amount, what } in rows {
                html.push_str(&format!(
                    "<tr><td><div class=\"tick\"></div></td><td class=\"n\">{}</td><td>{}</td></tr>\n",
                    escape(amount),
                    escape(what)
                ));
            }
            html.push_str("</table>\n");
        }
        Block::Step(step) => write_step(html, step),
        Block::Caution(caution) => html.push_str(&caution_html(caution)),
        Block::Plot(lines) | Block::Command(lines) => {
            let text: Vec<String> = lines.iter().map(|line| escape(line)).collect();
            html.push_str(&format!("<pre>{}</pre>\n", text.join("\n")));
        }
        Block::Blank(label) => html.push_str(&format!("<div class=\"blank\">{}</div>\n", escape(label))),
        Block::Print(print, blocks) => {
            let class = match print {
                Print::Fine => "fine",
                Print::Large => "large",
            };
            html.push_str(&format!("<div class=\"{class}\">\n"));
            for block in blocks {
                write_block(html, block);
            }
            html.push_str("</div>\n");
        }
    }
}

fn write_table(html: &mut String, columns: &[Column], rows: &[Vec<String>]) {
    let cells = |tag: &str, texts: &mut dyn Iterator<Item = &String>| -> String {
        let one = |(column, text): (&Column, &String)| {
            let side = if column.align == Align::Right { " class=\"r\"" } else { "" };
            format!("<{tag}{side}>{}</{tag}>", escape(text))
        };
        columns.iter().zip(texts).map(one).collect()
    };
    html.push_str("<table class=\"grid\">\n");
    if columns.iter().any(|column| !column.title.is_empty()) {
        let mut titles = columns.iter().map(|column| &column.title);
        html.push_str(&format!("<thead><tr>{}</tr></thead>\n", cells("th", &mut titles)));
    }
    for row in rows {
        html.push_str(&format!("<tr>{}</tr>\n", cells("td", &mut row.iter())));
    }
    html.push_str("</table>\n");
}

fn write_step(html: &mut String, step: &StepBlock) {
    html.push_str("<div class=\"whole\">\n");
    for caution in &step.cautions {
        html.push_str(&caution_html(caution));
    }
    let amount = if step.amount.is_empty() {
        String::new()
    } else {
        format!("<span class=\"amount\">{}</span>", escape(&step.amount))
    };
    html.push_str(&format!(
        "<div class=\"step\"><div class=\"tick\"></div><div class=\"no\">{}.</div><div><div class=\"do\">{amount}<span>{}</span></div>",
        step.number,
        escape(&step.action)
    ));
    for (label, text) in &step.details {
        let label = if label.is_empty() { String::new() } else { format!("<b>{}:</b> ", escape(label)) };
        html.push_str(&format!("<div>{label}{}</div>", escape(text)));
    }
    if !step.reading.is_empty() {
        html.push_str(&format!(
            "<div><b>reads then:</b> {}; read: <span class=\"read\"></span></div>",
            escape(&step.reading)
        ));
    }
    html.push_str("</div></div>\n</div>\n");
}

fn caution_html(caution: &CautionBlock) -> String {
    let lines: String = caution.lines.iter().map(|line| format!("<p>{}</p>", escape(line))).collect();
    // A box as long as a page goes on overleaf.
    let letters: usize = caution.lines.iter().map(|line| line.chars().count()).sum();
    let long = if letters > LONGEST_BOX { " long" } else { "" };
    format!("<div class=\"box{long}\"><b>{}</b>{lines}</div>\n", escape(&caution.word))
}

/// From so many letters on a box may be broken.
const LONGEST_BOX: usize = 2500;

/// Units, and the words of a dilution, that no line end parts from their figure.
const UNITS: [&str; 14] =
    ["g", "mg", "mL", "L", "°C", "°F", "min", "h", "s", "%", "cm²", "mm", "stock", "water"];

/// Puts no-break spaces between figures and their units, and no-break hyphens between figures.
pub(super) fn tied(text: &str) -> String {
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

    /// A blank after an escape belongs to it (CSS Syntax Level 3, 4.3.7): the one of the text stands besides.
    #[test]
    fn the_blank_after_a_colon_stands_in_the_foot_in_the_face_of_the_page() {
        let style = flow_style("Gum printing: gum arabic", Paper::A4);
        assert!(style.contains("Gum printing\\00003a  gum arabic"), "{style}");
        let boxes: Vec<&str> = style.split("@bottom-").skip(1).collect();
        assert_eq!(boxes.len(), 2);
        for own in boxes {
            let own = own.split('}').next().unwrap();
            assert!(own.contains("font-family: \"Liberation Sans\""), "{own}");
        }
    }

    #[test]
    fn a_title_ends_neither_its_string_nor_the_style_sheet() {
        assert_eq!(in_style("a \"b\\</style>"), "a \\000022 b\\00005c \\00003c \\00002f style\\00003e ");
    }
}
