//! One self-contained HTML page: no script, no network, black on white.

use super::{Align, Block, CautionBlock, Document, StepBlock, harmless};

/// Styles: black on white, nothing depends on hue, steps are never split over a page.
const STYLE: &str = "\
@page { margin: 15mm 15mm 15mm 20mm; }
body { font: 14pt/1.3 sans-serif; color: #000; background: #fff; max-width: 180mm; margin: 0 auto; }
h1 { font-size: 20pt; border-bottom: 0.7mm solid #000; } h2 { font-size: 15pt; break-after: avoid; }
table { border-collapse: collapse; } th, td { text-align: left; padding: 1mm 3mm; border-bottom: 0.3mm solid #000; vertical-align: top; }
th.r, td.r { text-align: right; } dl { display: grid; grid-template-columns: max-content 1fr; gap: 1mm 5mm; } dt { font-weight: bold; } dd { margin: 0; }
.step, .caution, tr, dd { break-inside: avoid; } .step { display: grid; grid-template-columns: 9mm 12mm 1fr; gap: 3mm; margin: 4mm 0; }
.tick { width: 8mm; height: 8mm; border: 0.7mm solid #000; } .number, .head { font-size: 20pt; font-weight: bold; }
.caution { border: 0.9mm solid #000; padding: 2mm 3mm; margin: 3mm 0; } .caution b { font-size: 16pt; }
p { margin: 1.5mm 0; }";

/// Writes a document as one HTML page.
pub fn to_html(document: &Document) -> String {
    let title = document
        .blocks
        .iter()
        .find_map(|block| if let Block::Title(text) = block { Some(escape(text)) } else { None })
        .unwrap_or_default();
    let mut body = String::new();
    for block in &document.blocks {
        write_block(&mut body, block);
    }
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n<style>\n{STYLE}\n</style>\n</head>\n<body>\n{body}</body>\n</html>\n"
    )
}

fn write_block(out: &mut String, block: &Block) {
    let html = match block {
        Block::Title(text) => format!("<h1>{}</h1>", escape(text)),
        Block::Heading(text) => format!("<h2>{}</h2>", escape(text)),
        Block::Paragraph(text) => format!("<p>{}</p>", escape(text)),
        Block::Facts(facts) => {
            let rows: String = facts
                .iter()
                .map(|(label, value)| format!("<dt>{}</dt><dd>{}</dd>\n", escape(label), escape(value)))
                .collect();
            format!("<dl>\n{rows}</dl>")
        }
        Block::List(points) => {
            let items: String = points.iter().map(|point| format!("<li>{}</li>\n", escape(point))).collect();
            format!("<ul>\n{items}</ul>")
        }
        Block::Table { columns, rows } => {
            let class = |index: usize| {
                let right = columns.get(index).is_some_and(|column| column.align == Align::Right);
                if right { " class=\"r\"" } else { "" }
            };
            let head: String = columns
                .iter()
                .enumerate()
                .map(|(index, column)| format!("<th{}>{}</th>", class(index), escape(&column.title)))
                .collect();
            let body: String = rows
                .iter()
                .map(|row| {
                    let cells: String = row
                        .iter()
                        .enumerate()
                        .map(|(index, cell)| format!("<td{}>{}</td>", class(index), escape(cell)))
                        .collect();
                    format!("<tr>{cells}</tr>\n")
                })
                .collect();
            format!("<table>\n<tr>{head}</tr>\n{body}</table>")
        }
        Block::Step(step) => step_html(step),
        Block::Caution(caution) => caution_html(caution),
        Block::Blank(label) => format!("<p>{} ______________________</p>", escape(label)),
    };
    out.push_str(&html);
    out.push('\n');
}

fn step_html(step: &StepBlock) -> String {
    let cautions: String = step.cautions.iter().map(caution_html).collect();
    let details: String = step
        .details
        .iter()
        .map(|(label, text)| {
            let label = if label.is_empty() { String::new() } else { format!("<i>{}:</i> ", escape(label)) };
            format!("<p>{label}{}</p>", escape(text))
        })
        .collect();
    let amount = if step.amount.is_empty() { String::new() } else { format!("{} ", escape(&step.amount)) };
    format!(
        "{cautions}<div class=\"step\"><div class=\"tick\"></div><div class=\"number\">{}.</div><div><div class=\"head\">{amount}{}</div>{details}</div></div>",
        step.number,
        escape(&step.action)
    )
}

fn caution_html(caution: &CautionBlock) -> String {
    let lines: String = caution.lines.iter().map(|line| format!("<p>{}</p>", escape(line))).collect();
    format!("<div class=\"caution\"><b>{}</b>{lines}</div>", escape(&caution.word))
}

/// Escapes what HTML would read as markup.
fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in harmless(text).chars() {
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
