//! How a batch's bench side is laid on sheets of paper: rows have few heights, by the number of letters, so that how many fit is a sum.
//!
//! The heights in mm belong to the lengths of `bench.css`; `tests/suite/browser.rs` proves with every shipped formula, on both papers, that what
//! is counted here is what a browser prints. A page ends only before a waiting row; where there is none, before what stands under the table;
//! where even the table is higher than a page, before a row.

use std::ops::Range;

use crate::bench::table::Row;
use crate::bench::uses::Cell;
use crate::bench::{BenchPart, BenchSheet, Minded};
use crate::lettering::Paper;
use crate::render::html::MARGINS_MM;

/// Kept free for a browser that rounds, mm.
const SPARE_MM: f64 = 2.4;

/// Letters on a line, by what it is a line of.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Letters {
    /// A box, beside its label, at 13 points.
    boxed: usize,
    /// A bar, at 13 points.
    bar: usize,
    /// An act, at 17 points.
    act: usize,
    /// What stands under it, at 12 points.
    sign: usize,
    /// A line of uses, at 12 points.
    uses: usize,
}

/// The column of acts takes all that Letter is wider, 5.9 mm.
const ON_A4: Letters = Letters { boxed: 68, bar: 66, act: 24, sign: 44, uses: 76 };
const ON_LETTER: Letters = Letters { boxed: 70, bar: 68, act: 25, sign: 46, uses: 78 };

/// Height of lines, mm.
const MM_10: f64 = 4.3;
const MM_12: f64 = 5.0;
const MM_22: f64 = 8.2;

/// Height of lines where there is room, and where there is least: type keeps its size, lines stand closer.
const WIDE: LinesMm = LinesMm { sign: MM_12, box_or_bar: 5.52, act: 6.72 };
const CLOSEST: LinesMm = LinesMm { sign: 4.62, box_or_bar: 5.22, act: 6.42 };

/// Least and usual height of a row, mm.
const ROW_CLOSEST_MM: f64 = 11.5;
/// Least height of a row without a sign where lines stand closest: what is read and the line to write it on.
const ROW_BARE_MM: f64 = 10.6;
const ROW_LEAST_MM: f64 = 12.2;
const ROW_USUAL_MM: f64 = 16.0;

/// Height of a line of a sign (12 points), of a box or bar (13) and of an act (17), mm.
#[derive(Debug, Clone, Copy, PartialEq)]
struct LinesMm {
    sign: f64,
    box_or_bar: f64,
    act: f64,
}

/// A page of a part.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sheet {
    /// Place of the part.
    pub(crate) part: usize,
    /// Its rows on this page.
    pub(crate) rows: Range<usize>,
    /// Whether it is the part's first page, which carries the head in full.
    pub(crate) is_first: bool,
    /// Whether what stands under the table is on it.
    pub(crate) is_last: bool,
    /// How close everything stands.
    pub(crate) fit: Fit,
}

/// How close a part stands on its page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fit {
    /// Least height of its rows, mm.
    pub(crate) row_mm: f64,
    /// Whether how a step is done gives way to the sign that it is done, and first aid and blanks stand closer.
    pub(crate) is_tight: bool,
    /// Where the uses stand.
    pub(crate) uses: UsesAs,
    /// Whether lines stand closer too.
    pub(crate) is_closest: bool,
    /// How wide it is.
    paper: Paper,
}

/// How the uses stand under the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum UsesAs {
    /// A cell each.
    Cells,
    /// A line each, notes and all.
    Lines,
    /// A line each, their notes on the other side.
    ShortLines,
    /// On the other side; a line says so.
    Overleaf,
}

impl Fit {
    /// From much room to little.
    fn all(paper: Paper) -> [Self; 9] {
        let loose =
            |row_mm: f64| Self { row_mm, is_tight: false, uses: UsesAs::Cells, is_closest: false, paper };
        let tight = |uses: UsesAs| Self { is_tight: true, uses, ..loose(ROW_LEAST_MM) };
        let closest = |uses: UsesAs| Self { row_mm: ROW_CLOSEST_MM, is_closest: true, ..tight(uses) };
        [
            loose(ROW_USUAL_MM),
            loose(14.0),
            loose(ROW_LEAST_MM),
            tight(UsesAs::Cells),
            tight(UsesAs::Lines),
            tight(UsesAs::ShortLines),
            closest(UsesAs::ShortLines),
            tight(UsesAs::Overleaf),
            closest(UsesAs::Overleaf),
        ]
    }

    /// Letters on its lines.
    fn letters(self) -> Letters {
        match self.paper {
            Paper::A4 => ON_A4,
            Paper::Letter => ON_LETTER,
        }
    }

    /// Height of lines, mm.
    fn lines(self) -> LinesMm {
        if self.is_closest { CLOSEST } else { WIDE }
    }

    /// A frame with its padding, mm: closer by 0.8 where there is little room, by 1.4 where there is least.
    fn frame_mm(self, usual: f64) -> f64 {
        match (self.is_tight, self.is_closest) {
            (_, true) => usual - 1.4,
            (true, false) => usual - 0.8,
            (false, false) => usual,
        }
    }

    /// What head of the page and head of the table stand closer by where there is least room, mm each.
    fn head_mm(self, usual: f64) -> f64 {
        if self.is_closest { usual - 1.0 } else { usual }
    }

    /// Least height of a row, mm.
    pub(crate) fn least_mm(self, row: &Row) -> f64 {
        if self.is_closest && under(row, true).is_empty() { ROW_BARE_MM } else { self.row_mm }
    }

    /// A gap between two pieces, mm: closer by 1 where there is little room.
    fn gap_mm(self, usual: f64) -> f64 {
        if self.is_tight { usual - 1.0 } else { usual }
    }
}

/// Lines that a text takes, broken at words, none with more than so many letters.
pub(crate) fn lines(text: &str, letters: usize) -> usize {
    let (mut lines, mut used) = (1, 0);
    for word in text.split(' ') {
        let own = word.chars().count();
        let gap = usize::from(used > 0);
        if used + gap + own <= letters {
            used += gap + own;
        } else {
            // A word longer than a line goes on in the next.
            lines += usize::from(used > 0) + own.saturating_sub(1) / letters.max(1);
            used = own.saturating_sub(1) % letters.max(1) + 1;
        }
    }
    lines
}

fn mm(lines: usize, line_mm: f64) -> f64 {
    f64::from(u32::try_from(lines).unwrap_or(u32::MAX)) * line_mm
}

/// Height of a box of labelled lines with its frame, mm.
fn box_mm<'t>(texts: impl Iterator<Item = &'t str>, fit: Fit) -> f64 {
    let lines: usize = texts.map(|text| lines(text, fit.letters().boxed)).sum();
    if lines == 0 { 0.0 } else { mm(lines, fit.lines().box_or_bar) + fit.frame_mm(4.2) }
}

/// Height of a bar with one or more texts, mm.
fn bar_mm<'t>(texts: impl Iterator<Item = &'t str>, fit: Fit) -> f64 {
    let lines = lines_of(texts, fit);
    if lines == 0 { 0.0 } else { mm(lines, fit.lines().box_or_bar) + fit.frame_mm(3.6) }
}

/// Letters of the name at 22 points beside the batch at 34 points.
pub(crate) fn name_letters(volume: &str) -> usize {
    // A letter at 34 points is as wide as 1.6 at 22; the line holds 43 of these.
    let taken = volume.chars().count().min(12) * 16 / 10 + 1;
    43_usize.saturating_sub(taken).max(10)
}

/// Height of the first page's head, mm.
fn head_mm(sheet: &BenchSheet, part: &BenchPart, fit: Fit) -> f64 {
    let title = mm(lines(&name(sheet, part), name_letters(&part.volume)), MM_22);
    let facts = mm(lines(&facts(sheet, fit.is_tight), facts_letters(&part.volume)), MM_10) + 0.9;
    let mind = part.head.mind.iter().map(Minded::words).collect::<Vec<_>>().join(" · ");
    let told = [sheet.wear.as_str(), &mind, &part.head.never]
        .into_iter()
        .chain(part.head.opening.iter().map(String::as_str));
    let stop: f64 = sheet.stop.iter().map(|text| bar_mm([text.as_str()].into_iter(), fit)).sum();
    let cautions = match part.head.cautions.as_slice() {
        [] => 0.0,
        texts => bar_mm(texts.iter().map(String::as_str), fit) + 1.7,
    };
    (title + facts).max(12.2)
        + 2.2
        + fit.head_mm(if fit.is_tight { BLANKS_MM - 3.0 } else { BLANKS_MM })
        + box_mm(told.filter(|text| !text.is_empty()), fit)
        + 1.5
        + stop
        + cautions
}

/// Height of the blanks, mm.
const BLANKS_MM: f64 = 12.6;

pub(crate) fn name(sheet: &BenchSheet, part: &BenchPart) -> String {
    part.name.as_ref().map_or_else(|| sheet.name.clone(), |of| format!("{}, part {of}", sheet.name))
}

/// Letters of the line under the name at 10 points, beside the batch.
fn facts_letters(volume: &str) -> usize {
    // A letter at 34 points is as wide as 4 at 10; the line holds 106 of these.
    106_usize.saturating_sub(volume.chars().count().min(12) * 4 + 3).max(30)
}

/// The line under the name.
pub(crate) fn facts(sheet: &BenchSheet, is_tight: bool) -> String {
    // The foot names the id as well.
    let mut facts: Vec<String> = sheet.remark.iter().cloned().collect();
    if !is_tight {
        facts.insert(0, sheet.id.clone());
    }
    facts.push(sheet.evidence.clone());
    facts.extend(sheet.origin.iter().cloned());
    facts.join(" · ")
}

/// Height of the head of a page that goes on, mm.
const NEXT_HEAD_MM: f64 = 25.0;
/// Height of the heading of the table, mm.
const TABLE_HEAD_MM: f64 = 6.4;
/// A page that is not the last says in its foot which it is of how many: a second line of a long foot, mm.
const FOOT_PAGES_MM: f64 = 4.3;
/// Height of the foot, mm; a long one takes two lines.
const FOOT_MM: f64 = 6.0;
/// Letters of both sides of the foot that leave it one line, on a page of 181 mm; one of 186.9 has room for three more.
const FOOT_LETTERS: usize = 90;

/// What made the page; without the word for the balance where the line would go on in a second one.
pub(crate) fn made(sheet: &BenchSheet, part: &BenchPart) -> String {
    let of = part.name.as_ref().map_or_else(String::new, |name| format!(", part {name}"));
    let all = |balance: &str| format!("{}, {}{of}, {balance}{}", sheet.id, part.volume, sheet.balance);
    let long = all("balance ");
    if is_one_line(&long, &side((1, 1))) { long } else { all("") }
}

/// Which side it is, and which page of several.
pub(crate) fn side((number, count): (usize, usize)) -> String {
    let page = if count > 1 { format!(" {number} of {count}") } else { String::new() };
    format!("bench side{page} · reasons: other side")
}

fn is_one_line(made: &str, side: &str) -> bool {
    made.chars().count() + side.chars().count() <= FOOT_LETTERS
}

fn foot_mm(sheet: &BenchSheet, part: &BenchPart) -> f64 {
    // How many pages there are is not known yet.
    if is_one_line(&made(sheet, part), &side((1, 1))) { FOOT_MM } else { FOOT_MM + MM_10 }
}

/// Height of a row with its cautions, mm.
fn row_mm(row: &Row, fit: Fit) -> f64 {
    let under = under(row, fit.is_tight);
    let act = mm(lines(&row.act.plain(), fit.letters().act), fit.lines().act);
    let under = if under.is_empty() { 0.0 } else { mm(lines(&under, fit.letters().sign), fit.lines().sign) };
    let bar = bar_mm(row.marks.iter().map(|mark| mark.text.as_str()), fit);
    (act + under + 0.5).max(fit.least_mm(row) + 0.1) + bar
}

/// Lines of the texts of a bar: each begins a line, or follows the one before where there is little room.
fn lines_of<'t>(texts: impl Iterator<Item = &'t str>, fit: Fit) -> usize {
    let letters = fit.letters().bar;
    if !fit.is_tight {
        return texts.map(|text| lines(text, letters)).sum();
    }
    let joined = texts.collect::<Vec<_>>().join(" ");
    if joined.is_empty() { 0 } else { lines(&joined, letters) }
}

/// What stands under an act.
pub(crate) fn under(row: &Row, is_tight: bool) -> String {
    let texts = [row.remark.clone(), row.sign(is_tight)];
    texts.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("; ")
}

/// Height of what stands under the table, mm.
fn end_mm(sheet: &BenchSheet, part: &BenchPart, is_last_part: bool, fit: Fit) -> f64 {
    let at_13 = fit.lines().box_or_bar;
    let ready = match part.ready.join(" · ") {
        ready if ready.is_empty() => 0.0,
        ready => mm(lines(&ready, fit.letters().boxed), at_13) + fit.gap_mm(2.2),
    };
    let together: f64 = if is_last_part {
        let poured: usize = sheet.together.iter().map(|text| lines(text, fit.letters().boxed)).sum();
        mm(poured, at_13) + bar_mm(sheet.together_marks.iter().map(|mark| mark.text.as_str()), fit)
    } else {
        0.0
    };
    let gases: usize = sheet.gases.iter().map(|gas| lines(&gas.phrase, fit.letters().boxed)).sum();
    let aid = mm(gases + if fit.is_tight { 3 } else { 5 }, at_13) + fit.frame_mm(4.2) + fit.gap_mm(2.0);
    let uses = match fit.uses {
        _ if !is_last_part => 0.0,
        UsesAs::Cells => cells_mm(&sheet.uses) + 2.0,
        as_lines => {
            let told = use_lines(&sheet.uses, as_lines);
            let lines = told.iter().map(|(name, text)| lines(&format!("{name} {text}"), fit.letters().uses));
            mm(lines.sum(), MM_12) + 4.0
        }
    };
    ready + together + aid + uses + foot_mm(sheet, part)
}

/// The uses as lines: name, what is said of it.
pub(crate) fn use_lines(cells: &[Cell], uses: UsesAs) -> Vec<(String, String)> {
    if uses == UsesAs::Overleaf {
        return vec![("Uses, how much it does, how long it keeps:".to_owned(), "other side".to_owned())];
    }
    let line = |cell: &Cell| {
        let note = cell.note.iter().filter(|_| uses == UsesAs::Lines || cell.lines.is_empty());
        let told: Vec<&str> = cell.lines.iter().chain(note).map(String::as_str).collect();
        (cell.name.clone(), told.join("; "))
    };
    cells.iter().map(line).collect()
}

/// Shares of the cells of uses in the width: a cell with much to say is wider, up to twice.
pub(crate) fn shares(cells: &[Cell]) -> Vec<f64> {
    let letters = |cell: &Cell| cell.told().map(|line| line.chars().count()).sum::<usize>();
    cells.iter().map(|cell| (mm(letters(cell), 1.0) / 50.0).clamp(1.0, 2.0)).collect()
}

/// Height of the cells of uses, mm.
fn cells_mm(cells: &[Cell]) -> f64 {
    let shares = shares(cells);
    let all: f64 = shares.iter().sum();
    // At 12 points the page holds 86 letters, at 16 points 58, less what the frames of the cells take.
    let letters = |on_page: f64, share: f64, frame: f64| {
        let own = (on_page * share / all - frame).max(4.0).floor();
        (1..=200_u32).take_while(|count| f64::from(*count) <= own).count()
    };
    let height = |(cell, share): (&Cell, &f64)| {
        let (text, name) = (letters(86.0, *share, 2.5), letters(58.0, *share, 1.5));
        mm(lines(&cell.name, name), WIDE.act)
            + cell.told().map(|line| mm(lines(line, text), MM_12)).sum::<f64>()
    };
    cells.iter().zip(&shares).map(height).fold(0.0, f64::max) + 4.5
}

/// Room on a page, mm.
fn room_mm(paper: Paper) -> f64 {
    let [_, _, top, bottom] = MARGINS_MM;
    paper.size_mm().1 - top - bottom - SPARE_MM
}

/// The pages of every part.
pub(crate) fn sheets(sheet: &BenchSheet, paper: Paper) -> Vec<Sheet> {
    let last = sheet.parts.len().saturating_sub(1);
    let parts = sheet.parts.iter().enumerate();
    parts.flat_map(|(index, part)| part_sheets(sheet, (index, part), index == last, paper)).collect()
}

fn part_sheets(
    sheet: &BenchSheet,
    (index, part): (usize, &BenchPart),
    is_last_part: bool,
    paper: Paper,
) -> Vec<Sheet> {
    let room = room_mm(paper);
    let count = part.rows.len();
    let rows_mm = |range: Range<usize>, fit: Fit| -> f64 {
        part.rows.get(range).unwrap_or_default().iter().map(|row| row_mm(row, fit)).sum()
    };
    let head = |fit: Fit| head_mm(sheet, part, fit) + fit.head_mm(TABLE_HEAD_MM);
    let end = |fit: Fit| end_mm(sheet, part, is_last_part, fit);
    let page = |rows: Range<usize>, is_last: bool, fit: Fit| Sheet {
        part: index,
        is_first: rows.start == 0,
        rows,
        is_last,
        fit,
    };
    let broken = |fit: Fit| {
        let mut sheets = Vec::new();
        let mut start = 0;
        while start < count {
            let top = if start == 0 { head(fit) } else { NEXT_HEAD_MM + TABLE_HEAD_MM };
            let fits =
                |to: usize| top + rows_mm(start..to, fit) + foot_mm(sheet, part) + FOOT_PAGES_MM <= room;
            if top + rows_mm(start..count, fit) + end(fit) <= room {
                sheets.push(page(start..count, true, fit));
                return sheets;
            }
            let waits =
                (start + 1..count).rev().filter(|to| part.rows.get(*to).is_some_and(|row| row.may_break));
            let rest = (start + 1..count).rev();
            let to = [count].into_iter().chain(waits).chain(rest).find(|to| fits(*to)).unwrap_or(start + 1);
            sheets.push(page(start..to, false, fit));
            start = to;
        }
        // What stands under the table has a page of its own.
        sheets.push(page(count..count, true, fit));
        sheets
    };
    // The fewest pages, and of these the one with the most room in it.
    let all = Fit::all(paper).into_iter().map(broken);
    all.min_by_key(Vec::len).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_counted_by_words() {
        assert_eq!(lines("", 10), 1);
        assert_eq!(lines("one two", 7), 1);
        assert_eq!(lines("one two", 6), 2);
        assert_eq!(lines("abcdefghijk", 5), 3);
        assert_eq!(lines("a abcdefghij b", 5), 4);
    }
}
