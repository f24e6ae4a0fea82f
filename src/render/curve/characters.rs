//! A plot of characters: 0.05 log H a column and 0.1 density a row, so that 45° is a gradient of 1 here too.
//!
//! Curves are dots of Braille cells, readings a mark. In ASCII each cell of dots becomes one dot ([`crate::render::to_ascii`]).

use crate::curve::STOP;
use crate::curve::interpolation::Pchip;
use crate::quantity::rounding::{show_decimals, to_step};
use crate::render::dots::{Dots, IN_A_CELL, number, whole};

/// Columns of the axis of densities.
const LEFT: usize = 7;
/// Columns of a picture: what is left of 80.
const MOST_COLUMNS: f64 = 73.0;

/// A curve with its readings.
pub(super) struct Line<'a> {
    pub(super) curve: &'a Pchip,
    pub(super) readings: Vec<(f64, f64)>,
    pub(super) mark: char,
}

/// What stands on the plot besides curves.
#[derive(Default)]
pub(super) struct Marked {
    /// The speed point, for the axis of stops.
    pub(super) stops_from: Option<f64>,
    /// Triangle from m to n.
    pub(super) triangle: Option<((f64, f64), (f64, f64))>,
    /// Base + fog.
    pub(super) base: Option<f64>,
    pub(super) letters: Vec<(char, f64, f64)>,
}

/// Cells of a picture, and what they stand for.
struct Canvas {
    columns: usize,
    rows: usize,
    /// log H of the left edge, log H a column, density a row.
    scale: (f64, f64, f64),
    cells: Vec<Vec<char>>,
    dots: Dots,
}

impl Canvas {
    fn column(&self, log_h: f64) -> Option<usize> {
        whole((log_h - self.scale.0) / self.scale.1 + 0.5).filter(|own| *own < self.columns)
    }

    /// Row of a density, counted from the top.
    fn row(&self, density: f64) -> Option<usize> {
        let up = whole(density / self.scale.2 + 0.5)?;
        self.rows.checked_sub(up + 1)
    }

    fn put(&mut self, column: Option<usize>, row: Option<usize>, character: char) {
        if let (Some(column), Some(row)) = (column, row)
            && let Some(cell) = self.cells.get_mut(row).and_then(|own| own.get_mut(column))
        {
            *cell = character;
        }
    }

    fn write(&mut self, column: usize, row: usize, text: &str) {
        for (index, character) in text.chars().enumerate() {
            self.put(Some(column + index), Some(row), character);
        }
    }

    /// Sets a dot; 1/2 of a column, 1/4 of a row.
    fn dot(&mut self, across: usize, up: usize) {
        if let Some(down) = (self.rows * IN_A_CELL.1).checked_sub(up + 1) {
            self.dots.set(across, down);
        }
    }

    /// A curve as dots, without gaps where it is steep.
    fn draw(&mut self, curve: &Pchip) {
        let mut last: Option<usize> = None;
        for across in 0..self.columns * IN_A_CELL.0 {
            // The middle of the dot.
            let log_h = self.scale.0 + (f64::midpoint(number(across), 0.5) - 0.5) * self.scale.1;
            let Some(up) = curve.at(log_h).and_then(|own| whole((own / self.scale.2 + 0.5) * 4.0)) else {
                continue;
            };
            for dot in last.map_or(up, |last| (last + 1).min(up))..=up {
                self.dot(across, dot);
            }
            last = Some(up);
        }
    }
}

pub(super) fn plot(lines: &[Line<'_>], marked: &Marked) -> Vec<String> {
    let readings = || lines.iter().flat_map(|line| line.readings.iter());
    let left = readings().map(|reading| reading.0).fold(f64::INFINITY, f64::min);
    let right = readings().map(|reading| reading.0).fold(f64::NEG_INFINITY, f64::max);
    let top = readings().map(|reading| reading.1).fold(0.0, f64::max);
    if !(left.is_finite() && right > left) {
        return Vec::new();
    }
    // A longer strip is drawn smaller, both ways alike.
    let shrink = (((right - left + 0.1) / 0.05 + 2.0) / MOST_COLUMNS).ceil().max(1.0);
    let (a_column, a_row) = (0.05 * shrink, 0.1 * shrink);
    let start = to_step(left - 2.0 * a_column, a_column);
    let columns = whole((right - start) / a_column + 2.5).unwrap_or(1);
    let rows = whole(((top / (2.0 * a_row)).ceil()) * 2.0 + 1.5).unwrap_or(1);
    let mut canvas = Canvas {
        columns,
        rows,
        scale: (start, a_column, a_row),
        cells: vec![vec![' '; columns]; rows],
        dots: Dots::new(columns, rows),
    };
    if let Some(row) = marked.base.and_then(|base| canvas.row(base)) {
        for column in (0..columns).step_by(2) {
            canvas.put(Some(column), Some(row), '╌');
        }
        let text =
            marked.base.map_or_else(String::new, |base| format!("base + fog {}", show_decimals(base, 2)));
        canvas.write(1, row + 1, &text);
    }
    if let Some((m, n)) = marked.triangle {
        triangle(&mut canvas, m, n);
    }
    for line in lines {
        canvas.draw(line.curve);
    }
    for (row, cells) in canvas.cells.iter_mut().enumerate() {
        for (column, cell) in cells.iter_mut().enumerate() {
            *cell = canvas.dots.character(column, row).unwrap_or(*cell);
        }
    }
    for line in lines {
        for (log_h, density) in &line.readings {
            let (column, row) = (canvas.column(*log_h), canvas.row(*density));
            canvas.put(column, row, line.mark);
        }
    }
    for (letter, log_h, density) in &marked.letters {
        let (column, row) = (canvas.column(*log_h), canvas.row(*density));
        canvas.put(column, row, *letter);
    }
    framed(&canvas, marked)
}

/// The triangle of the standard, with its two figures.
fn triangle(canvas: &mut Canvas, m: (f64, f64), n: (f64, f64)) {
    let (Some(left), Some(right)) = (canvas.column(m.0), canvas.column(n.0)) else { return };
    let (Some(foot), Some(head)) = (canvas.row(m.1), canvas.row(n.1)) else { return };
    for column in left + 1..right {
        canvas.put(Some(column), Some(foot), '─');
    }
    for row in head + 1..foot {
        canvas.put(Some(right), Some(row), '│');
    }
    canvas.put(Some(right), Some(foot), '┘');
    let across = format!(" {} ", show_decimals(n.0 - m.0, 2));
    canvas.write(usize::midpoint(left, right).saturating_sub(2), foot, &across);
    canvas.write(right + 2, usize::midpoint(head, foot), &show_decimals(n.1 - m.1, 2));
}

/// A figure with a true minus sign.
pub(super) fn signed(value: f64, decimals: usize) -> String {
    show_decimals(value, decimals).replace('-', "−")
}

/// Writes words at columns of a line, as far as they do not run into each other.
fn line_of(head: &str, words: &[(usize, String)]) -> String {
    let mut line: Vec<char> = head.chars().collect();
    for (column, word) in words {
        let length = word.chars().count();
        // The word's last character stands on its column, or its middle where it has a decimal.
        let start = (column + 1).saturating_sub(if word.contains('.') { length / 2 + 1 } else { length });
        if start > line.len() {
            line.resize(start, ' ');
            line.extend(word.chars());
        }
    }
    line.into_iter().collect()
}

/// The picture with its axes.
fn framed(canvas: &Canvas, marked: &Marked) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(m) = marked.stops_from {
        let ends = (
            ((canvas.scale.0 - m) / STOP).ceil(),
            ((number(canvas.columns) * canvas.scale.1 + canvas.scale.0 - m) / STOP).floor(),
        );
        let mut words = Vec::new();
        let mut stops = ends.0;
        while stops <= ends.1 {
            if let Some(column) = canvas.column(m + stops * STOP) {
                let word = match stops {
                    0.0 => "m".to_owned(),
                    above if above > 0.0 => format!("+{above:.0}"),
                    below => signed(below, 0),
                };
                words.push((LEFT + column, word));
            }
            stops += 1.0;
        }
        lines.push(line_of("stops", &words));
    }
    for (index, cells) in canvas.cells.iter().enumerate() {
        let up = canvas.rows - 1 - index;
        let label =
            if up.is_multiple_of(2) { show_decimals(number(up) * canvas.scale.2, 1) } else { String::new() };
        let text: String = cells.iter().collect();
        lines.push(format!("{label:>5} │{text}").trim_end().to_owned());
    }
    // A tick every ten columns.
    let step = 10.0 * canvas.scale.1;
    let mut axis: Vec<char> = std::iter::repeat_n('─', canvas.columns).collect();
    let mut words = Vec::new();
    let mut at = (canvas.scale.0 / step - 1e-9).ceil() * step;
    while let Some(column) = canvas.column(at) {
        if let Some(tick) = axis.get_mut(column) {
            *tick = '┴';
        }
        words.push((LEFT + column, signed(at, 1)));
        at += step;
    }
    lines.push(format!("{:>5} └{}", "", axis.into_iter().collect::<String>()));
    lines.push(line_of("log H", &words));
    lines
}
