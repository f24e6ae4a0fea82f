//! Plain text for a terminal or a line printer, at any width; no meaning by colour.

use unicode_width::UnicodeWidthStr;

use super::{Align, Block, CautionBlock, Column, Document, StepBlock, WeighRow, harmless, made_harmless};

/// How text is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextStyle {
    /// Columns available; at least 20 are used.
    pub width: usize,
    /// Bold headings and amounts by terminal sequences.
    pub bold: bool,
}

impl Default for TextStyle {
    fn default() -> Self {
        Self { width: 80, bold: false }
    }
}

/// Writes a document as plain text, ending in a line end.
pub fn to_text(document: &Document, style: TextStyle) -> String {
    // Room for a long answer, so that it is not copied while it grows; what is not used costs nothing.
    let mut writer =
        Writer { out: String::with_capacity(USUAL_BYTES), width: style.width.max(20), bold: style.bold };
    let mut previous: Option<&Block> = None;
    for block in document.in_one_size() {
        if previous.is_some() {
            writer.out.push('\n');
        }
        writer.block(block);
        previous = Some(block);
    }
    writer.out
}

/// More than nearly every answer.
const USUAL_BYTES: usize = 64 * 1024;

/// Width from which step amounts get a column of their own.
const WIDE_ENOUGH_FOR_AMOUNTS: usize = 50;

struct Writer {
    out: String,
    width: usize,
    bold: bool,
}

impl Writer {
    fn line(&mut self, text: &str) {
        self.out.push_str(text.trim_end());
        self.out.push('\n');
    }

    fn strong(&self, text: &str) -> String {
        if self.bold { format!("\u{1b}[1m{text}\u{1b}[0m") } else { text.to_owned() }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Title(text) => {
                let lines = wrap(&harmless(text), self.width);
                let longest = lines.iter().map(|line| line.width()).max().unwrap_or(0);
                for line in &lines {
                    let strong = self.strong(line);
                    self.line(&strong);
                }
                self.line(&"=".repeat(longest));
            }
            Block::Heading(text) => {
                for line in wrap(&capitals(&harmless(text)), self.width) {
                    let strong = self.strong(&line);
                    self.line(&strong);
                }
            }
            Block::Paragraph(text) => self.hanging("", text),
            Block::Facts(facts) => self.facts(facts),
            Block::List(points) => {
                for point in points {
                    self.hanging("- ", point);
                }
            }
            Block::Table { columns, rows } => self.table(columns, rows),
            Block::Weighing(rows) => self.weighing(rows),
            Block::Step(step) => self.step(step),
            Block::Caution(caution) => self.caution(caution, 0),
            Block::Blank(label) => {
                let label = harmless(label);
                let room = self.width.saturating_sub(label.width() + 1).min(40);
                self.line(&format!("{label} {}", "_".repeat(room)));
            }
            Block::Plot(lines) => {
                let widest = lines.iter().map(|line| line.width()).max().unwrap_or(0);
                if widest > self.width {
                    // A picture that is cut or wrapped misleads.
                    self.hanging("", &format!("(What stands here needs {widest} columns.)"));
                } else {
                    for line in lines {
                        self.line(&harmless(line));
                    }
                }
            }
            Block::Command(lines) => lines.iter().for_each(|line| self.line(&harmless(line))),
            // Never met: the document gives its pieces in one size.
            Block::Print(_, blocks) => blocks.iter().for_each(|inner| self.block(inner)),
        }
    }

    /// A paragraph whose first line starts with `lead` and whose others are indented by as much.
    fn hanging(&mut self, lead: &str, text: &str) {
        let indent = columns(lead);
        for (index, line) in wrap(&made_harmless(text), self.width.saturating_sub(indent)).iter().enumerate()
        {
            let begins = self.out.len();
            if index == 0 {
                self.out.push_str(lead);
            } else {
                self.out.extend(std::iter::repeat_n(' ', indent));
            }
            self.out.push_str(line);
            let kept = self.out.get(begins..).unwrap_or_default().trim_end().len();
            self.out.truncate(begins + kept);
            self.out.push('\n');
        }
    }

    fn facts(&mut self, facts: &[(String, String)]) {
        let widest = facts.iter().map(|(label, _)| columns(label)).max().unwrap_or(0);
        let column = (widest + 2).min(self.width / 3);
        for (label, value) in facts {
            let label = harmless(label);
            let taken = columns(&label);
            if taken + 2 > column {
                // An id is never broken, even where it is wider than the page: it must be copied whole.
                if taken > self.width && label.contains(' ') {
                    self.hanging("", &label);
                } else {
                    self.line(&label);
                }
                self.hanging(&" ".repeat(column), value);
            } else {
                self.hanging(&format!("{label}{}", " ".repeat(column - taken)), value);
            }
        }
    }

    fn table(&mut self, columns: &[Column], rows: &[Vec<String>]) {
        let cells: Vec<Vec<String>> =
            rows.iter().map(|row| row.iter().map(|cell| harmless(cell)).collect()).collect();
        let mut widths: Vec<usize> = columns
            .iter()
            .enumerate()
            .map(|(index, column)| {
                let in_rows = cells.iter().filter_map(|row| row.get(index)).map(|cell| self::columns(cell));
                in_rows.chain([self::columns(&column.title)]).max().unwrap_or(0)
            })
            .collect();
        if !shrink(&mut widths, columns, self.width) {
            self.stacked(columns, &cells);
            return;
        }
        let titles: Vec<String> = columns.iter().map(|column| column.title.clone()).collect();
        if titles.iter().any(|title| !title.is_empty()) {
            self.row(columns, &widths, &titles);
            let rule: Vec<String> = widths.iter().map(|width| "-".repeat(*width)).collect();
            self.line(&rule.join("  "));
        }
        for row in &cells {
            self.row(columns, &widths, row);
        }
    }

    fn row(&mut self, columns: &[Column], widths: &[usize], cells: &[String]) {
        let wrapped: Vec<Vec<String>> =
            cells.iter().zip(widths).map(|(cell, width)| wrap(cell, *width)).collect();
        let height = wrapped.iter().map(Vec::len).max().unwrap_or(0);
        for index in 0..height {
            let mut line = String::new();
            for ((column, width), cell) in columns.iter().zip(widths).zip(&wrapped) {
                let text = cell.get(index).map_or("", String::as_str);
                let padding = " ".repeat(width.saturating_sub(self::columns(text)));
                match column.align {
                    Align::Left => line.push_str(&format!("{text}{padding}  ")),
                    Align::Right => line.push_str(&format!("{padding}{text}  ")),
                }
            }
            self.line(&line);
        }
    }

    /// A table too wide for the page: one block a row.
    fn stacked(&mut self, columns: &[Column], rows: &[Vec<String>]) {
        for row in rows {
            for (index, (column, cell)) in columns.iter().zip(row).enumerate() {
                if cell.is_empty() {
                    continue;
                }
                if index == 0 {
                    self.hanging("", cell);
                } else if column.title.is_empty() {
                    self.hanging("  ", cell);
                } else {
                    self.hanging("  ", &format!("{}: {cell}", column.title));
                }
            }
        }
    }

    fn weighing(&mut self, rows: &[WeighRow]) {
        let cells: Vec<Vec<String>> =
            rows.iter().map(|row| vec!["[ ]".to_owned(), row.amount.clone(), row.what.clone()]).collect();
        self.table(&[Column::left(""), Column::right("take"), Column::left("substance")], &cells);
    }

    fn step(&mut self, step: &StepBlock) {
        for caution in &step.cautions {
            self.caution(caution, 0);
        }
        let mut lead = format!("[ ] {:>2}. ", step.number);
        // Amounts stand in a column of their own, so that a wet finger finds them.
        if self.width >= WIDE_ENOUGH_FOR_AMOUNTS {
            lead.push_str(&format!("{:>8}  ", harmless(&step.amount)));
        } else if !step.amount.is_empty() {
            lead.push_str(&format!("{} ", harmless(&step.amount)));
        }
        let indent = if self.width >= WIDE_ENOUGH_FOR_AMOUNTS { lead.width() } else { 8 };
        let room = self.width.saturating_sub(lead.width().max(indent));
        for (index, line) in wrap(&harmless(&step.action), room).iter().enumerate() {
            let start = if index == 0 { lead.clone() } else { " ".repeat(indent) };
            let strong = self.strong(line);
            self.line(&format!("{start}{strong}"));
        }
        for (label, text) in &step.details {
            let label = if label.is_empty() { String::new() } else { format!("{label}: ") };
            self.hanging(&" ".repeat(indent), &format!("{label}{text}"));
        }
        if !step.reading.is_empty() {
            self.hanging(&" ".repeat(indent), &format!("reads then: {}", step.reading));
        }
    }

    fn caution(&mut self, caution: &CautionBlock, indent: usize) {
        let start = " ".repeat(indent);
        let room = self.width.saturating_sub(indent + 4);
        let rule =
            "-".repeat(self.width.saturating_sub(indent).saturating_sub(caution.word.width() + 6).min(70));
        let word = self.strong(&caution.word);
        self.line(&format!("{start}+-- {word} {rule}"));
        for text in &caution.lines {
            for line in wrap(&harmless(text), room) {
                self.line(&format!("{start}|   {line}"));
            }
        }
        self.line(&format!("{start}+{}", "-".repeat(self.width.saturating_sub(indent + 1).min(75))));
    }
}

/// Makes columns of words narrower until the table fits; says whether it does.
fn shrink(widths: &mut [usize], columns: &[Column], width: usize) -> bool {
    const NARROWEST: usize = 12;
    let gaps = 2 * columns.len().saturating_sub(1);
    loop {
        let total: usize = widths.iter().sum::<usize>() + gaps;
        if total <= width {
            return true;
        }
        let widest = widths
            .iter_mut()
            .zip(columns)
            .filter(|(own, column)| column.align == Align::Left && **own > NARROWEST)
            .max_by_key(|(own, _)| **own);
        let Some((own, _)) = widest else { return false };
        *own -= (total - width).min(*own - NARROWEST).min(1 + (total - width) / 2);
    }
}

/// A heading in capitals, but for what capitals would make another unit or another word of: `1000 mL`, `pH`.
fn capitals(text: &str) -> String {
    let mut after_number = false;
    let words = text.split(' ').map(|word| {
        let is_unit = after_number && UNITS.contains(&word.trim_end_matches([',', ';', ':', ')']));
        after_number = word.ends_with(|last: char| last.is_ascii_digit());
        if is_unit || word.trim_start_matches('(') == "pH" { word.to_owned() } else { word.to_uppercase() }
    });
    words.collect::<Vec<_>>().join(" ")
}

/// Units of which headings speak.
const UNITS: [&str; 12] = ["mL", "mL/L", "g", "g/L", "mg", "kg", "mol/L", "mm", "cm", "min", "s", "h"];

/// Columns that a text takes; of plain ASCII its length.
fn columns(text: &str) -> usize {
    if text.is_ascii() { text.len() } else { text.width() }
}

/// Breaks text into lines of at most `width` columns at spaces; words longer than a line are cut.
pub(crate) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(4);
    let mut lines = Vec::new();
    let empty = || String::with_capacity(text.len().min(width));
    let mut line = empty();
    let mut used = 0;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let gap = usize::from(!line.is_empty());
        let word_width = columns(word);
        if used + gap + word_width <= width {
            if gap == 1 {
                line.push(' ');
            }
            line.push_str(word);
            used += gap + word_width;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::replace(&mut line, empty()));
        }
        if word_width <= width {
            line.push_str(word);
            used = word_width;
            continue;
        }
        for character in word.chars() {
            let mut buffer = [0; 4];
            if line.width() + character.encode_utf8(&mut buffer).width() > width {
                lines.push(std::mem::take(&mut line));
            }
            line.push(character);
        }
        used = line.width();
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}
