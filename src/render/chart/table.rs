//! A wall chart as a value: a row for each temperature, a cell for each known time and dilution.

use std::ops::Range;

use crate::quantity::Temperature;
use crate::quantity::rounding::show_short;
use crate::render::time::setup_words;
use crate::timing::{Estimate, NegativeWish, Setup, TimingWarning};

/// A cell of a wall chart: one temperature, one dilution, one known time.
#[derive(Debug)]
pub(crate) struct ChartCell {
    pub to: Setup,
    pub answer: Estimate,
    /// Whether it is the known time itself.
    pub is_known: bool,
}

impl ChartCell {
    /// Whether the books' data do not reach so far.
    pub(crate) fn is_doubtful(&self) -> bool {
        self.answer.warnings.iter().any(|warning| FAR.contains(&warning.code()))
    }
}

/// Warnings that say that the data do not reach so far.
pub(in crate::render) const FAR: [&str; 3] =
    ["temperature-extrapolated", "large-temperature-step", "dilution-extrapolated"];

/// From when to when a developing time counts.
pub(crate) const CONVENTION: &str = "Times count from the start of pouring in to the start of pouring out.";

/// The same for sheets in a tray.
pub(crate) const CONVENTION_IN_A_TRAY: &str =
    "Times count from the first sheet in to the first sheet out, the order kept.";

/// A warning of one time in words that are true of each time of its kind.
fn note_words(warning: &TimingWarning) -> String {
    match warning {
        TimingWarning::TooShort { limit_minutes, .. } => format!(
            "under {} min a small tank develops unevenly; dilute more, work cooler, or wet the film first and agitate at once",
            show_short(*limit_minutes, 0)
        ),
        TimingWarning::TooLong { limit_minutes, .. } => {
            format!("over {} min fog grows; dilute less or work warmer", show_short(*limit_minutes, 0))
        }
        other => other.to_string(),
    }
}

/// A wall chart.
#[derive(Debug)]
pub(crate) struct Chart {
    /// Conditions of the known times.
    pub from: Setup,
    /// The film in the user's words, where one was named.
    pub film: Option<String>,
    /// Short name of the developer wanted, for the wall.
    pub name: String,
    /// The negative wanted.
    pub wish: NegativeWish,
    /// Headings of the columns.
    pub columns: Vec<String>,
    /// A row for each temperature.
    pub rows: Vec<ChartRow>,
}

#[derive(Debug)]
pub(crate) struct ChartRow {
    pub temperature: Temperature,
    /// The temperature in the unit of the thermometer on the wall.
    pub label: String,
    /// A cell for each column.
    pub cells: Vec<ChartCell>,
}

impl Chart {
    /// From when to when the times count.
    pub(crate) fn convention(&self) -> &'static str {
        if self.from.agitation == "tray" { CONVENTION_IN_A_TRAY } else { CONVENTION }
    }

    /// The film, or the time that a film must need for the chart to be its own.
    pub(crate) fn film_words(&self) -> String {
        match &self.film {
            Some(film) => film.clone(),
            None => {
                format!("only for a film that needs {} in {}", self.known_words(), setup_words(&self.from))
            }
        }
    }

    /// The known times.
    pub(in crate::render) fn known_words(&self) -> String {
        let mut known: Vec<String> = Vec::new();
        for cell in self.rows.first().map_or(&[][..], |row| &row.cells) {
            let time = cell.answer.known.to_string();
            if !known.contains(&time) {
                known.push(time);
            }
        }
        known.join(" or ")
    }

    /// The contrast wanted, where it is not the usual one.
    pub(crate) fn contrast_words(&self) -> Option<String> {
        if let Some(gradient) = self.wish.gradient {
            return Some(format!("gradient {gradient:.2}"));
        }
        let steps = self.wish.contrast;
        (steps != 0.0).then(|| format!("{}{} step", if steps > 0.0 { "+" } else { "" }, show_short(steps, 2)))
    }

    /// What to mind, each with the temperatures where it applies.
    pub(super) fn notes(&self) -> Vec<String> {
        self.notes_of(|_| true)
    }

    /// What to mind of some kinds.
    fn notes_of(&self, is_wanted: impl Fn(&str) -> bool) -> Vec<String> {
        self.notes_in(0..self.rows.len(), 0..self.columns.len(), is_wanted)
    }

    /// What to mind of some kinds in a piece of the table.
    pub(in crate::render) fn notes_in(
        &self,
        rows: Range<usize>,
        columns: Range<usize>,
        is_wanted: impl Fn(&str) -> bool,
    ) -> Vec<String> {
        let mut notes: Vec<(&'static str, String, Vec<String>)> = Vec::new();
        let rows = self.rows.iter().skip(rows.start).take(rows.len());
        let all = rows.clone().count();
        for row in rows {
            let cells = row.cells.iter().skip(columns.start).take(columns.len());
            let warnings = cells.flat_map(|cell| &cell.answer.warnings);
            for warning in warnings.filter(|warning| is_wanted(warning.code())) {
                let at = row.label.clone();
                match notes.iter_mut().find(|(code, ..)| *code == warning.code()) {
                    Some((_, _, places)) if !places.contains(&at) => places.push(at),
                    Some(_) => {}
                    None => notes.push((warning.code(), note_words(warning), vec![at])),
                }
            }
        }
        let words = |(_, text, places): (&str, String, Vec<String>)| {
            if places.len() == all { text } else { format!("{}: {text}", places.join(", ")) }
        };
        notes.into_iter().map(words).collect()
    }
}
