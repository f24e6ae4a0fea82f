//! The bench page as lines for a terminal: 80 columns with a column for each thing, fewer in blocks; nothing is cut at any width.

use std::borrow::Cow;

use unicode_width::UnicodeWidthStr as _;

use crate::bench::table::Row;
use crate::bench::{BenchPart, BenchSheet, Minded};
use crate::quantity::rounding::show_short;
use crate::render::text::{TextStyle, wrap as wrap_words};
use crate::render::{harmless, to_ascii};

/// Widest lines that are used.
const WIDEST: usize = 80;
/// From this width on amounts and readings stand in columns.
const COLUMNS_FROM: usize = 72;
/// The first weighed gram stands on this line at the latest, where the formula's cautions allow.
const FIRST_GRAM: usize = 15;
/// Lines of a part, with all that belongs to it, that are meant to stand on a terminal.
const MOST_LINES: usize = 45;
/// Where the reasons are, as the foot says it, and the same where there is little room.
const WHOLE: &str = "reasons: --side reasons";
const OPTION: &str = "--side reasons";
/// Width of the label column: `WEAR    `.
const LABEL: usize = 8;

/// The lines, and how many belong to each part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BenchText {
    /// All of it, ending in a line end.
    pub text: String,
    /// Lines of each part: the head counts with the first, first aid, uses and foot with the last.
    pub part_lines: Vec<usize>,
    /// Line of the first weighed amount.
    pub first_gram: usize,
}

/// How close the lines stand: what gives way is found on the other side, and no caution ever does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Room {
    /// Everything.
    Wide,
    /// First aid on fewer lines, uses without their notes.
    Close,
    /// How a harmless step is done gives way to the sign that it is done.
    Tight,
}

/// The bench side as text. Where a part would be longer than 45 lines, notes of uses and how a harmless step is done give way.
pub fn bench_text(sheet: &BenchSheet, style: TextStyle, ascii: bool) -> BenchText {
    let fits = |text: &BenchText| {
        text.part_lines.iter().all(|lines| *lines <= MOST_LINES) && text.first_gram <= FIRST_GRAM
    };
    let laid = |room: Room| lay(sheet, style, ascii, room);
    // On a narrow terminal lines count for nothing.
    if style.width < COLUMNS_FROM {
        return laid(Room::Wide);
    }
    let roomy = [Room::Wide, Room::Close].into_iter().map(laid).find(fits);
    roomy.unwrap_or_else(|| laid(Room::Tight))
}

fn lay(sheet: &BenchSheet, style: TextStyle, ascii: bool, room: Room) -> BenchText {
    let width = style.width.clamp(20, WIDEST);
    let mut page = Page { lines: Vec::new(), width, bold: style.bold, ascii, room, has_rule: true };
    page.head(sheet);
    let mut part_lines = Vec::with_capacity(sheet.parts.len());
    let (mut before, mut first_gram) = (0, 0);
    let mut cautions = page.cautions(sheet);
    let first_row = sheet.parts.first().map_or(0, |part| {
        page.table(part).iter().position(|line| line.is_first_gram).unwrap_or(0)
            + usize::from(sheet.parts.len() > 1)
    });
    if page.lines.len() + cautions.len() + first_row < FIRST_GRAM {
        page.lines.append(&mut cautions);
    } else if !cautions.is_empty() {
        page.labelled("READ", "the !! lines under the table first");
        // The pointer has its line; where the first gram would slip down the rule above the table gives its own.
        page.has_rule = page.lines.len() + first_row < FIRST_GRAM;
    }
    for (index, part) in sheet.parts.iter().enumerate() {
        if sheet.parts.len() > 1 {
            let name = part.name.as_deref().unwrap_or_default();
            let rinse = if index > 0 { ": rinse vessel and stirrer first" } else { "" };
            page.part(&format!("PART {name}{rinse}"), &part.volume);
        }
        let rows = page.table(part);
        if let Some(first) = rows.iter().position(|line| line.is_first_gram).filter(|_| first_gram == 0) {
            first_gram = page.lines.len() + first + 1;
        }
        page.lines.extend(rows.into_iter().map(|line| line.text));
        let is_last = index + 1 == sheet.parts.len();
        if is_last {
            page.lines.append(&mut cautions);
        }
        page.rule();
        if !part.ready.is_empty() {
            page.labelled("READY", &part.ready.join(" · "));
        }
        if is_last {
            page.foot(sheet);
        }
        part_lines.push(page.lines.len() - before);
        before = page.lines.len();
    }
    let mut text = page.lines.join("\n");
    text.push('\n');
    BenchText { text, part_lines, first_gram }
}

/// Breaks lines, never between a figure and its unit.
fn wrap(text: &str, width: usize) -> Vec<String> {
    let lines = wrap_words(&crate::render::html::tied(text), width);
    lines.into_iter().map(|line| line.replace('\u{a0}', " ").replace('\u{2011}', "-")).collect()
}

struct Line {
    text: String,
    is_first_gram: bool,
}

struct Page {
    lines: Vec<String>,
    width: usize,
    bold: bool,
    ascii: bool,
    room: Room,
    /// Whether a rule stands above a table without a heading.
    has_rule: bool,
}

impl Page {
    /// Text made harmless, and ASCII where that is asked for: before lines are broken, so that none grows too long.
    fn clean<'t>(&self, text: &'t str) -> Cow<'t, str> {
        let harmless = harmless(text);
        if self.ascii { Cow::Owned(to_ascii(&harmless)) } else { Cow::Owned(harmless) }
    }

    fn strong(&self, text: &str) -> String {
        if self.bold && !text.is_empty() { format!("\u{1b}[1m{text}\u{1b}[0m") } else { text.to_owned() }
    }

    fn rule(&mut self) {
        self.lines.push("-".repeat(self.width));
    }

    /// A text at the left and one at the right end of the line; on a line of its own where there is no room.
    fn ends(&mut self, left: &str, right: &str) {
        let (left, right) = (self.clean(left).into_owned(), self.clean(right).into_owned());
        if left.width() + 2 + right.width() <= self.width {
            let gap = " ".repeat(self.width - left.width() - right.width());
            self.lines
                .push(format!("{}{gap}{}", self.strong(&left), self.strong(&right)).trim_end().to_owned());
            return;
        }
        for line in wrap(&left, self.width) {
            self.lines.push(self.strong(&line));
        }
        for line in wrap(&right, self.width) {
            let gap = " ".repeat(self.width.saturating_sub(line.width()));
            self.lines.push(format!("{gap}{}", self.strong(&line)));
        }
    }

    /// The heading of a part, which is the rule above its table too.
    fn part(&mut self, left: &str, right: &str) {
        let (left, right) = (self.clean(left).into_owned(), self.clean(right).into_owned());
        let used = left.width() + right.width() + 2;
        if used + 3 > self.width {
            self.rule();
            self.ends(&left, &right);
            return;
        }
        let rule = "-".repeat(self.width - used);
        self.lines.push(format!("{} {rule} {}", self.strong(&left), self.strong(&right)));
    }

    fn paragraph(&mut self, text: &str) {
        let lines = wrap(&self.clean(text), self.width);
        self.lines.extend(lines);
    }

    /// `WEAR    gloves …`, the label in a column of its own.
    fn labelled(&mut self, label: &str, text: &str) {
        self.in_column(label, text, LABEL);
    }

    fn in_column(&mut self, label: &str, text: &str, column: usize) {
        let label = self.clean(label).into_owned();
        let text = self.clean(text).into_owned();
        let mut column = column.min(self.width / 2);
        // An id is never broken where a line can hold it: it must be copied whole.
        if text.split(' ').any(|word| word.width() > self.width - column) {
            column = 0;
        }
        if label.width() + 1 > column {
            for line in wrap(&label, self.width) {
                let strong = self.strong(&line);
                self.lines.push(strong);
            }
        }
        for (index, line) in wrap(&text, self.width - column).iter().enumerate() {
            let start = if index == 0 && label.width() < column { label.as_str() } else { "" };
            let gap = " ".repeat(column - start.width());
            self.lines.push(format!("{}{gap}{line}", self.strong(start)).trim_end().to_owned());
        }
    }

    fn head(&mut self, sheet: &BenchSheet) {
        self.ends(&sheet.name.to_uppercase(), &sheet.volume);
        let short = format!("{} · {}", sheet.id, sheet.evidence);
        let full =
            sheet.remark.as_ref().map(|remark| format!("{} · {remark} · {}", sheet.id, sheet.evidence));
        self.paragraph(full.as_ref().filter(|full| self.clean(full).width() <= self.width).unwrap_or(&short));
        for line in &sheet.origin {
            self.paragraph(line);
        }
        self.blanks();
        if self.room < Room::Tight {
            self.rule();
        }
        for text in &sheet.stop {
            self.mark(text, true);
        }
        self.labelled("WEAR", &sheet.wear);
        if !sheet.mind.is_empty() {
            self.labelled("MIND", &sheet.mind.iter().map(Minded::words).collect::<Vec<_>>().join(" · "));
        }
        if !sheet.never.is_empty() {
            self.labelled("NEVER", &sheet.never);
        }
        for (index, line) in sheet.opening.iter().enumerate() {
            self.labelled(if index == 0 { "BEFORE" } else { "" }, line);
        }
    }

    /// Lines to fill in by hand.
    fn blanks(&mut self) {
        if self.width < COLUMNS_FROM {
            for label in ["Mixed on", "by", "bottle", "pH read"] {
                let line = format!("{label:<9}{}", "_".repeat(11));
                self.lines.push(line);
            }
            return;
        }
        // Labels and spaces take 32 columns; four blanks share the rest.
        let blank = "_".repeat((self.width - 32) / 4);
        self.lines.push(format!("Mixed on {blank} by {blank} bottle {blank} pH read {blank}"));
    }

    /// A caution that touches what follows.
    fn mark(&mut self, text: &str, is_grave: bool) {
        let lines = self.marked(text, is_grave);
        self.lines.extend(lines);
    }

    fn marked(&self, text: &str, is_grave: bool) -> Vec<String> {
        let sign = if is_grave { "  !!  " } else { "   !  " };
        let lines = wrap(&self.clean(text), self.width - 6);
        let lead = |index: usize| if index == 0 { sign } else { "      " };
        lines
            .iter()
            .enumerate()
            .map(|(index, line)| format!("{}{}", lead(index), self.strong(line)))
            .collect()
    }

    /// What the formula warns of.
    fn cautions(&self, sheet: &BenchSheet) -> Vec<String> {
        sheet.cautions.iter().flat_map(|text| self.marked(text, true)).collect()
    }

    fn table(&self, part: &BenchPart) -> Vec<Line> {
        let mut lines = Vec::new();
        let plain = |text: String| Line { text, is_first_gram: false };
        if part.name.is_none() && self.has_rule {
            lines.push(plain("-".repeat(self.width)));
        }
        let is_wide = self.width >= COLUMNS_FROM;
        if is_wide {
            let sign = "do, and the sign that it is done";
            let act = self.act_width();
            lines.push(plain(format!("weighed    amount   {sign:<act$}reads  read   in")));
        }
        let mut seen = false;
        for row in &part.rows {
            for mark in &row.marks {
                lines.extend(self.marked(&mark.text, mark.is_grave).into_iter().map(plain));
            }
            let own = if is_wide { self.wide_row(row) } else { self.narrow_row(row) };
            for (index, text) in own.into_iter().enumerate() {
                let is_first_gram = index == 0 && row.is_weighed && !seen;
                seen |= is_first_gram;
                lines.push(Line { text, is_first_gram });
            }
        }
        lines
    }

    /// Width of the column of acts.
    fn act_width(&self) -> usize {
        self.width - 36
    }

    fn reads(&self, row: &Row) -> String {
        let unit = if self.ascii { "C" } else { "°C" };
        row.reads_c.map_or_else(String::new, |celsius| format!("{} {unit}", show_short(celsius, 0)))
    }

    fn wide_row(&self, row: &Row) -> Vec<String> {
        const ACT: usize = 20;
        let room = self.act_width();
        let tick = if row.is_weighed { "[ ]" } else { "   " };
        let amount = self.clean(&row.amount).into_owned();
        let lead = format!("{tick}{:>5} {amount:>8}   ", row.number);
        // An amount wider than its column moves what follows, it is never cut.
        let act_room = room - 1 - lead.width().saturating_sub(ACT).min(room / 2);
        let acts = wrap(&self.clean(&row.act.capitals()), act_room);
        let reads = self.reads(row);
        let mut lines = Vec::new();
        for (index, act) in acts.iter().enumerate() {
            let strong = self.strong(act);
            if index == 0 {
                // Five columns of reading follow the act; a longer one takes its room from the gap.
                let used = lead.width() + act.width() + reads.width();
                let gap = " ".repeat((ACT + room + 5).saturating_sub(used));
                let bold_lead = format!(
                    "{tick}{} {}   ",
                    self.strong(&format!("{:>5}", row.number)),
                    self.strong(&format!("{amount:>8}"))
                );
                lines.push(format!("{bold_lead}{strong}{gap}{reads}  ____  [ ]"));
            } else {
                lines.push(format!("{}{strong}", " ".repeat(ACT)));
            }
        }
        lines.extend(self.under(row, ACT));
        lines
    }

    fn narrow_row(&self, row: &Row) -> Vec<String> {
        let tick = if row.is_weighed { "[ ]" } else { "   " };
        let amount = self.clean(&row.amount).into_owned();
        let mut lead = format!("{tick} {:>2}  ", row.number);
        if !amount.is_empty() {
            lead.push_str(&amount);
            lead.push_str("  ");
        }
        let indent = lead.width().min(self.width / 2);
        let acts = wrap(&self.clean(&row.act.capitals()), self.width - indent);
        let mut lines = Vec::new();
        for (index, act) in acts.iter().enumerate() {
            let start = if index == 0 { lead.clone() } else { " ".repeat(indent) };
            lines.push(format!("{start}{}", self.strong(act)));
        }
        lines.extend(self.under(row, 8));
        let reads = self.reads(row);
        lines.push(if reads.is_empty() {
            format!("{}read ____  in [ ]", " ".repeat(8))
        } else {
            format!("{}{reads}, read ____  in [ ]", " ".repeat(8))
        });
        lines
    }

    /// What stands under an act: what belongs to the weighing, and the sign that it is done.
    fn under(&self, row: &Row, indent: usize) -> Vec<String> {
        let sign = row.sign(self.room == Room::Tight);
        let texts: Vec<&str> =
            [row.remark.as_str(), sign.as_str()].into_iter().filter(|text| !text.is_empty()).collect();
        if texts.is_empty() {
            return Vec::new();
        }
        let lines = wrap(&self.clean(&texts.join("; ")), self.width - indent);
        lines.iter().map(|line| format!("{}{line}", " ".repeat(indent))).collect()
    }

    fn foot(&mut self, sheet: &BenchSheet) {
        for line in &sheet.together {
            self.labelled("POUR", line);
        }
        for mark in &sheet.together_marks {
            self.mark(&mark.text, mark.is_grave);
        }
        for gas in &sheet.gases {
            self.labelled("GAS", &gas.phrase);
        }
        let aid = &sheet.first_aid;
        self.labelled("EYES", &aid.eyes);
        let line = "_".repeat(self.width.saturating_sub(LABEL + aid.call.width() + 1).min(20));
        let short = "_".repeat(12);
        if self.room > Room::Wide {
            self.labelled("SKIN", &format!("{}.  MOUTH  {}", aid.skin, aid.mouth));
            self.labelled("AIR", &format!("{}.  CALL  {} {short}", aid.air, aid.call));
        } else {
            self.labelled("SKIN", &aid.skin);
            self.labelled("MOUTH", &aid.mouth);
            self.labelled("AIR", &aid.air);
            self.labelled("CALL", &format!("{} {line}", aid.call));
        }
        self.rule();
        let longest = sheet.uses.iter().map(|cell| self.clean(&cell.name).width()).max().unwrap_or(0);
        let column = (longest + 2).clamp(LABEL, 24);
        for cell in &sheet.uses {
            let note = cell.note.iter().filter(|_| self.room == Room::Wide || cell.lines.is_empty());
            let told: Vec<&str> = cell.lines.iter().chain(note).map(String::as_str).collect();
            self.in_column(&cell.name, &told.join("; "), column);
        }
        let left = format!("{}, {}, balance {}", sheet.id, sheet.volume, sheet.balance);
        let short = format!("{}, {}, {}", sheet.id, sheet.volume, sheet.balance);
        let (left, short) = (self.clean(&left).into_owned(), self.clean(&short).into_owned());
        let fits = |left: &str, right: &str| left.width() + 2 + right.len() <= self.width;
        let ends = [(&left, WHOLE), (&left, OPTION), (&short, OPTION)];
        if let Some((left, right)) = ends.into_iter().find(|(left, right)| fits(left, right)) {
            let gap = " ".repeat(self.width - left.width() - right.len());
            self.lines.push(format!("{left}{gap}{right}"));
        } else {
            self.paragraph(&left);
            self.paragraph(WHOLE);
        }
    }
}
