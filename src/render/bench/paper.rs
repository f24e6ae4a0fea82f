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
const SPARE_MM: f64 = 1.5;

/// Letters on a line of a box beside its label, of an act, of its sign.
const BOX_13: usize = 68;
const ACT_17: usize = 24;
const SIGN_12: usize = 44;
/// The same on the whole width of a narrow bar.
const BAR_13: usize = 66;

/// Height of lines, mm.
const MM_10: f64 = 4.3;
const MM_12: f64 = 5.0;
const MM_13: f64 = 5.52;
const MM_17: f64 = 6.72;
const MM_22: f64 = 8.2;

/// Least and usual height of a row, mm.
pub(crate) const ROW_LEAST_MM: f64 = 12.2;
const ROW_USUAL_MM: f64 = 16.0;

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
    /// Least height of its rows, mm.
    pub(crate) row_mm: f64,
    /// Whether how a step is done gives way to the sign that it is done, and first aid stands closer.
    pub(crate) is_tight: bool,
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
fn box_mm<'t>(texts: impl Iterator<Item = &'t str>) -> f64 {
    let lines: usize = texts.map(|text| lines(text, BOX_13)).sum();
    if lines == 0 { 0.0 } else { mm(lines, MM_13) + 4.2 }
}

/// Height of a caution bar, mm.
fn bar_mm(text: &str) -> f64 {
    mm(lines(text, BAR_13), MM_13) + 3.6
}

/// Letters of the name at 22 points beside the batch at 34 points.
pub(crate) fn name_letters(volume: &str) -> usize {
    // A letter at 34 points is as wide as 1.6 at 22; the line holds 43 of these.
    let taken = volume.chars().count().min(12) * 16 / 10 + 1;
    43_usize.saturating_sub(taken).max(10)
}

/// Height of the first page's head, mm.
fn head_mm(sheet: &BenchSheet, part: &BenchPart) -> f64 {
    let title = mm(lines(&name(sheet, part), name_letters(&part.volume)), MM_22);
    let facts = mm(lines(&facts(sheet), facts_letters(&part.volume)), MM_10) + 0.9;
    let mind = sheet.mind.iter().map(Minded::words).collect::<Vec<_>>().join(" · ");
    let told = [sheet.wear.as_str(), &mind, &sheet.never]
        .into_iter()
        .chain(sheet.opening.iter().map(String::as_str));
    let stop: f64 = sheet.stop.iter().map(|text| bar_mm(text)).sum();
    let cautions = if sheet.cautions.is_empty() { 0.0 } else { bars_mm(&sheet.cautions) + 1.5 };
    (title + facts).max(12.2)
        + 2.2
        + BLANKS_MM
        + box_mm(told.filter(|text| !text.is_empty()))
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

/// Height of one box with several cautions, mm.
fn bars_mm(texts: &[String]) -> f64 {
    texts.iter().map(|text| mm(lines(text, BAR_13), MM_13)).sum::<f64>() + 3.8
}

/// The line under the name.
pub(crate) fn facts(sheet: &BenchSheet) -> String {
    let mut facts = vec![sheet.id.clone()];
    facts.extend(sheet.remark.clone());
    facts.push(sheet.evidence.clone());
    facts.extend(sheet.origin.iter().cloned());
    facts.join(" · ")
}

/// Height of the head of a page that goes on, mm.
const NEXT_HEAD_MM: f64 = 25.0;
/// Height of the heading of the table, mm.
const TABLE_HEAD_MM: f64 = 6.4;
/// Height of the foot, mm; a long id takes two lines of it.
const FOOT_MM: f64 = 6.0;
/// Letters of an id that leave the foot one line.
const FOOT_ID: usize = 32;

fn foot_mm(sheet: &BenchSheet) -> f64 {
    if sheet.id.chars().count() > FOOT_ID { FOOT_MM + MM_10 } else { FOOT_MM }
}

/// Height of a row with its cautions, mm.
fn row_mm(row: &Row, least_mm: f64, is_tight: bool) -> f64 {
    let under = under(row, is_tight);
    let act = mm(lines(&row.act.plain(), ACT_17), MM_17);
    let under = if under.is_empty() { 0.0 } else { mm(lines(&under, SIGN_12), MM_12) };
    let marks: f64 = marks(row, is_tight).map(|mark| bar_mm(&mark.text)).sum();
    (act + under + 0.5).max(least_mm + 0.1) + marks
}

/// What stands under an act.
pub(crate) fn under(row: &Row, is_tight: bool) -> String {
    let texts = [row.remark.clone(), row.sign(is_tight)];
    texts.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("; ")
}

/// The cautions of a row; where there is little room a note stands on the other side only.
pub(crate) fn marks(row: &Row, is_tight: bool) -> impl Iterator<Item = &crate::bench::table::RowMark> {
    row.marks.iter().filter(move |mark| mark.is_grave || !is_tight)
}

/// Height of what stands under the table, mm.
fn end_mm(sheet: &BenchSheet, part: &BenchPart, is_last_part: bool, is_tight: bool) -> f64 {
    let ready =
        if part.ready.is_empty() { 0.0 } else { mm(lines(&part.ready.join(" · "), BOX_13), MM_13) + 2.2 };
    let together: f64 = if is_last_part {
        sheet.together.iter().map(|text| mm(lines(text, BOX_13), MM_13)).sum::<f64>()
            + sheet.together_marks.iter().map(|mark| bar_mm(&mark.text)).sum::<f64>()
    } else {
        0.0
    };
    let gases: usize = sheet.gases.iter().map(|gas| lines(&gas.phrase, BOX_13)).sum();
    let aid = mm(gases + if is_tight { 3 } else { 5 }, MM_13) + 4.2 + 2.0;
    let uses = if is_last_part { cells_mm(&sheet.uses) + 2.0 } else { 0.0 };
    ready + together + aid + uses + foot_mm(sheet)
}

/// Shares of the cells of uses in the width: a cell with much to say is wider, up to twice.
pub(crate) fn shares(cells: &[Cell]) -> Vec<f64> {
    let letters = |cell: &Cell| cell.lines.iter().map(|line| line.chars().count()).sum::<usize>();
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
        mm(lines(&cell.name, name), MM_17)
            + cell.lines.iter().map(|line| mm(lines(line, text), MM_12)).sum::<f64>()
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
    let rows_mm = |range: Range<usize>, least: f64, is_tight: bool| -> f64 {
        part.rows.get(range).unwrap_or_default().iter().map(|row| row_mm(row, least, is_tight)).sum()
    };
    let head = head_mm(sheet, part) + TABLE_HEAD_MM;
    let end = |is_tight: bool| end_mm(sheet, part, is_last_part, is_tight);
    let page = |rows: Range<usize>, is_last: bool, row_mm: f64, is_tight: bool| Sheet {
        part: index,
        is_first: rows.start == 0,
        rows,
        is_last,
        row_mm,
        is_tight,
    };
    for (least, is_tight) in
        [(ROW_USUAL_MM, false), (14.0, false), (ROW_LEAST_MM, false), (ROW_LEAST_MM, true)]
    {
        if head + rows_mm(0..count, least, is_tight) + end(is_tight) <= room {
            return vec![page(0..count, true, least, is_tight)];
        }
    }
    // Two pages have room for everything.
    let mut sheets = Vec::new();
    let mut start = 0;
    while start < count {
        let top = if start == 0 { head } else { NEXT_HEAD_MM + TABLE_HEAD_MM };
        let fits = |to: usize| top + rows_mm(start..to, ROW_LEAST_MM, false) + foot_mm(sheet) <= room;
        if start > 0 && top + rows_mm(start..count, ROW_LEAST_MM, false) + end(false) <= room {
            sheets.push(page(start..count, true, ROW_LEAST_MM, false));
            return sheets;
        }
        let waits = (start + 1..count).rev().filter(|to| part.rows.get(*to).is_some_and(|row| row.may_break));
        let rest = (start + 1..count).rev();
        let to = [count].into_iter().chain(waits).chain(rest).find(|to| fits(*to)).unwrap_or(start + 1);
        sheets.push(page(start..to, false, ROW_LEAST_MM, false));
        start = to;
    }
    // What stands under the table has a page of its own.
    sheets.push(page(count..count, true, ROW_LEAST_MM, false));
    if let Some(last) = sheets.last_mut().filter(|_| count > 0) {
        last.is_first = false;
    }
    sheets
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
