//! A wall chart as a value: a row for each temperature, a cell for each known time and dilution.

use crate::quantity::Temperature;
use crate::quantity::rounding::show_short;
use crate::render::time::setup_words;
use crate::timing::{Estimate, NegativeWish, Setup};

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
    pub(in crate::render) fn notes_of(&self, is_wanted: impl Fn(&str) -> bool) -> Vec<String> {
        let mut notes: Vec<(&'static str, String, Vec<String>)> = Vec::new();
        for row in &self.rows {
            let warnings = row.cells.iter().flat_map(|cell| &cell.answer.warnings);
            for warning in warnings.filter(|warnings| is_wanted(warnings.code())) {
                let at = row.label.clone();
                match notes.iter_mut().find(|(code, ..)| *code == warning.code()) {
                    Some((_, _, places)) if !places.contains(&at) => places.push(at),
                    Some(_) => {}
                    None => notes.push((warning.code(), warning.to_string(), vec![at])),
                }
            }
        }
        let all = self.rows.len();
        let words = |(_, text, places): (&str, String, Vec<String>)| {
            if places.len() == all { text } else { format!("{}: {text}", places.join(", ")) }
        };
        notes.into_iter().map(words).collect()
    }
}
