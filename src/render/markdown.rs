//! Markdown for notes; headings, tables and task lists as `CommonMark` with tables knows them.

use super::{Block, CautionBlock, Document, StepBlock, harmless};

/// Writes a document as Markdown.
pub fn to_markdown(document: &Document) -> String {
    let mut out = String::new();
    for block in document.in_one_size() {
        if !out.is_empty() {
            out.push('\n');
        }
        write_block(&mut out, block);
    }
    out
}

fn write_block(out: &mut String, block: &Block) {
    match block {
        Block::Title(text) => line(out, &format!("# {}", escape(text))),
        Block::Heading(text) => line(out, &format!("## {}", escape(text))),
        Block::Paragraph(text) => line(out, &begun(text)),
        Block::Facts(facts) => {
            for (label, value) in facts {
                line(out, &format!("- **{}:** {}", escape(label), escape(value)));
            }
        }
        Block::List(points) => {
            for point in points {
                line(out, &format!("- {}", begun(point)));
            }
        }
        Block::Table { columns, rows } => {
            let cells: Vec<String> = columns.iter().map(|column| escape(&column.title)).collect();
            line(out, &format!("| {} |", cells.join(" | ")));
            let rules: Vec<&str> = columns
                .iter()
                .map(|column| if column.align == super::Align::Right { "---:" } else { "---" })
                .collect();
            line(out, &format!("| {} |", rules.join(" | ")));
            for row in rows {
                let cells: Vec<String> = row.iter().map(|cell| escape(cell)).collect();
                line(out, &format!("| {} |", cells.join(" | ")));
            }
        }
        Block::Weighing(rows) => {
            for row in rows {
                line(out, &format!("- [ ] **{}** {}", escape(&row.amount), escape(&row.what)));
            }
        }
        Block::Step(step) => write_step(out, step),
        Block::Caution(caution) => write_caution(out, caution),
        Block::Blank(label) => line(out, &format!("{} \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_", escape(label))),
        Block::Plot(lines) | Block::Command(lines) => {
            let text: Vec<String> = lines.iter().map(|line| harmless(line)).collect();
            line(out, &format!("```text\n{}\n```", text.join("\n")));
        }
        // Never met: the document gives its pieces in one size.
        Block::Print(_, blocks) => blocks.iter().for_each(|inner| write_block(out, inner)),
    }
}

fn write_step(out: &mut String, step: &StepBlock) {
    for caution in &step.cautions {
        write_caution(out, caution);
        out.push('\n');
    }
    let amount =
        if step.amount.is_empty() { String::new() } else { format!("**{}** ", escape(&step.amount)) };
    line(out, &format!("- [ ] **{}.** {amount}{}", step.number, escape(&step.action)));
    for (label, text) in &step.details {
        let words =
            if label.is_empty() { begun(text) } else { format!("*{}:* {}", escape(label), escape(text)) };
        line(out, &format!("  {words}  "));
    }
    if !step.reading.is_empty() {
        line(out, &format!("  *reads then:* {}  ", escape(&step.reading)));
    }
}

fn write_caution(out: &mut String, caution: &CautionBlock) {
    line(out, &format!("> **{}**", escape(&caution.word)));
    for text in &caution.lines {
        line(out, ">");
        line(out, &format!("> {}", begun(text)));
    }
}

fn line(out: &mut String, text: &str) {
    out.push_str(text);
    out.push('\n');
}

/// Escapes a text at whose beginning a line begins: what starts a list, a rule or an underlined heading there is plain text.
fn begun(text: &str) -> String {
    let escaped = escape(text.trim_start());
    let digits = escaped.chars().take_while(char::is_ascii_digit).count();
    let marker = escaped.chars().nth(digits);
    let is_number = (1..10).contains(&digits) && matches!(marker, Some('.' | ')'));
    let is_mark = digits == 0 && matches!(marker, Some('-' | '+' | '='));
    if !is_number && !is_mark {
        return escaped;
    }
    let (number, rest) = escaped.split_at_checked(digits).unwrap_or(("", &escaped));
    format!("{number}\\{rest}")
}

/// Escapes what Markdown would read as markup, HTML, or an address to link to.
fn escape(text: &str) -> String {
    let text = harmless(text);
    let mut escaped = String::with_capacity(text.len());
    for (position, character) in text.char_indices() {
        let before = text.get(..position).unwrap_or_default();
        let after = text.get(position + character.len_utf8()..).unwrap_or_default();
        match character {
            // `http://…`, `www.…` and `a@b.example` are links in common extensions.
            ':' if after.starts_with("//") => escaped.push_str("\\:"),
            '.' if before.to_ascii_lowercase().ends_with("www") => escaped.push_str("\\."),
            '@' => escaped.push_str("\\@"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '&' => escaped.push_str("&amp;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '#' | '~' | '!' => {
                escaped.push('\\');
                escaped.push(character);
            }
            other => escaped.push(other),
        }
    }
    escaped
}
