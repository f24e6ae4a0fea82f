//! The course of one substance over films as a plot of characters, for a terminal.

use super::plotted::{Plotted, plotted};
use crate::bath::course::Replenishing;
use crate::quantity::rounding::show_short;
use crate::render::dots::{Dots, number, whole};

/// Columns left of the plot, for the figures of its axis.
const LEFT: usize = 7;
const ROWS: u32 = 12;
/// Cells of a picture: a mark, or dots.
struct Canvas {
    columns: usize,
    marks: Vec<Vec<Option<char>>>,
    dots: Dots,
}

impl Canvas {
    fn new(columns: usize, rows: usize) -> Self {
        Self { columns, marks: vec![vec![None; columns]; rows], dots: Dots::new(columns, rows) }
    }

    /// A dot at shares of width and height, the height from below.
    fn dot(&mut self, x: f64, y: f64) {
        let (columns, rows) = (number(self.columns), number(self.marks.len()));
        let (Some(across), Some(down)) = (
            whole((x * columns * 2.0).min(columns * 2.0 - 1.0)),
            whole(((1.0 - y) * rows * 4.0).min(rows * 4.0 - 1.0)),
        ) else {
            return;
        };
        self.dots.set(across, down);
    }

    fn mark(&mut self, x: f64, y: f64, mark: char) {
        let (columns, rows) = (number(self.columns), number(self.marks.len()));
        let (Some(across), Some(down)) =
            (whole((x * columns).min(columns - 1.0)), whole(((1.0 - y) * rows).min(rows - 1.0)))
        else {
            return;
        };
        if let Some(cell) = self.marks.get_mut(down).and_then(|row| row.get_mut(across)) {
            *cell = Some(mark);
        }
    }

    fn line(&self, row: usize) -> String {
        let marks = self.marks.get(row).into_iter().flatten().enumerate();
        let cell = |(column, mark): (usize, &Option<char>)| {
            mark.or_else(|| self.dots.character(column, row)).unwrap_or(' ')
        };
        marks.map(cell).collect::<String>().trim_end().to_owned()
    }
}

/// The plot: the curve in dots, where it settles as dashes, where to begin anew as a column, the told points as marks.
pub(crate) fn replenish_plot(answer: &Replenishing, width: usize) -> String {
    let Some(course) = plotted(answer) else { return String::new() };
    let Plotted { name, top, films, settles, points, .. } = &course;
    let columns = width.min(80).saturating_sub(LEFT + 3).max(20);
    let rows = ROWS as usize;
    let mut canvas = Canvas::new(columns, rows);
    let share = |films_now: f64, grams: f64| (films_now / films, grams / top);
    let drawn = settles.filter(|settles| settles <= top);
    if let Some(settles) = drawn {
        for column in (0..columns * 2).filter(|column| column % 6 < 3) {
            canvas.dot(number(column) / number(columns * 2), settles / top);
        }
    }
    if let Some(anew) = course.begin_anew {
        for row in 0..rows * 4 {
            canvas.dot(f64::from(anew) / films, number(row) / number(rows * 4));
        }
    }
    for pair in course.curve.windows(2) {
        let [(x1, y1), (x2, y2)] = pair else { continue };
        let steps = columns * 4 / course.curve.len().max(1) + 2;
        for step in 0..=steps {
            let part = number(step) / number(steps);
            let (x, y) = share(x1 + part * (x2 - x1), y1 + part * (y2 - y1));
            canvas.dot(x, y);
        }
    }
    for (x, y) in points {
        let (x, y) = share(*x, *y);
        canvas.mark(x, y, '●');
    }
    let mut text = format!("{name}, g/L\n");
    for row in 0..rows {
        let figure = if row % 3 == 0 {
            show_short(top * (1.0 - number(row) / f64::from(ROWS)), 2)
        } else {
            String::new()
        };
        text.push_str(&format!("{figure:>width$} |{}\n", canvas.line(row), width = LEFT - 1));
    }
    text.push_str(&format!("{:>width$} +{}\n", "0", "-".repeat(columns), width = LEFT - 1));
    let end = format!("{} films", show_short(*films, 0));
    let mut foot = format!("{:width$}0", "", width = LEFT + 1);
    let mut put = |at: usize, words: &str| {
        let at = (LEFT + 1 + at).min((LEFT + 1 + columns).saturating_sub(words.chars().count()));
        if at > foot.chars().count() {
            foot.push_str(&" ".repeat(at - foot.chars().count()));
            foot.push_str(words);
        }
    };
    if let Some(anew) = course.begin_anew {
        let at = whole(f64::from(anew) / films * number(columns)).unwrap_or_default();
        if at + 12 < columns {
            put(at, &format!("{anew}: anew"));
        }
    }
    put(columns, &end);
    text.push_str(&foot);
    text.push('\n');
    if let Some(settles) = settles {
        let line = if drawn.is_some() { "- - -" } else { "above" };
        text.push_str(&format!("{line}  settles at {} g/L\n", super::words::grams(*settles)));
    }
    text
}
