//! What an entry must hold before it is written.

use super::verdict::Highlights;
use super::{CurveMeasured, Developed, Entry, Mixed};
use crate::diagnostic::is_hostile;
use crate::journal::JournalError;
use crate::quantity::MixRatio;

/// Most characters of a text field.
const LONGEST_TEXT: usize = 500;

impl Entry {
    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot stand in the journal.
    pub fn check(&self) -> Result<(), JournalError> {
        optional_text("by", self.by())?;
        optional_text("note", self.note())?;
        match self {
            Self::Mixed(entry) => entry.check(),
            Self::Developed(entry) => entry.check(),
            Self::Judged(entry) => {
                text("roll", &entry.roll)?;
                if entry.shadows.is_none() && entry.highlights.is_none() {
                    return Err(nothing("judged"));
                }
                Ok(())
            }
            Self::Replenished(entry) => {
                text("bottle", &entry.bottle)?;
                optional_text("formula", entry.formula.as_deref())?;
                optional_text("from", entry.from.as_deref())?;
                volume(entry.volume_ml)
            }
            Self::Measured(entry) => {
                text("subject", &entry.subject)?;
                text("quantity", &entry.quantity)?;
                optional_text("unit", entry.unit.as_deref())?;
                optional_text("film", entry.film.as_deref())?;
                figure("value", entry.value, -1e9, 1e9)
            }
            Self::Curve(entry) => entry.check(),
            Self::Printed(entry) => {
                texts("bottle", &entry.bottles)?;
                optional_text("negative", entry.negative.as_deref())?;
                optional_text("paper", entry.paper.as_deref())?;
                optional_text("grade", entry.grade.as_deref())?;
                optional_text("exposure", entry.exposure.as_deref())?;
                optional_figure("exposure in s", entry.exposure_s, 0.01, 1e5)?;
                optional_figure("stops", entry.stops, -20.0, 20.0)
            }
            Self::Count(entry) => {
                text("bottle", &entry.bottle)?;
                figure("films", entry.films, 0.0, 1e5)
            }
            Self::Discarded(entry) => {
                if entry.bottles.is_empty() {
                    return Err(nothing("bottle"));
                }
                texts("bottle", &entry.bottles)?;
                optional_text("formula", entry.formula.as_deref())?;
                volume(entry.volume_ml)
            }
        }
    }
}

impl Mixed {
    fn check(&self) -> Result<(), JournalError> {
        optional_text("formula", self.formula.as_deref())?;
        volume(self.volume_ml)?;
        for filled in &self.filled {
            text("bottle", &filled.bottle)?;
            optional_text("part", filled.part.as_deref())?;
            volume(filled.volume_ml)?;
        }
        if self.formula.is_none() && self.filled.is_empty() {
            return Err(nothing("formula"));
        }
        for taken in &self.taken {
            text("taken", &taken.form)?;
            figure("amount taken", taken.amount, 0.0, 1e9)?;
            if taken.form.contains(' ') {
                let what = format!("`{}` is no form's id", taken.form);
                return Err(JournalError::Text { field: "taken", what });
            }
        }
        Ok(())
    }
}

impl Developed {
    fn check(&self) -> Result<(), JournalError> {
        optional_text("film", self.film.as_deref())?;
        if self.film.is_none() && self.draws.is_empty() {
            return Err(nothing("film"));
        }
        text("formula", &self.formula)?;
        text("agitation", &self.agitation)?;
        texts("roll", &self.rolls)?;
        for draw in &self.draws {
            text("bottle", &draw.bottle)?;
            optional_figure("drawn in mL", draw.drawn_ml, 0.0, 1e7)?;
            optional_figure("returned in mL", draw.returned_ml, 0.0, 1e7)?;
        }
        figure("temperature in °C", self.temperature.as_c(), 0.0, 60.0)?;
        figure("time in minutes", self.minutes, 0.05, 1440.0)?;
        optional_figure("gradient", self.gradient, 0.05, 5.0)
    }

    /// The highlights as judged at once, or what the verdict says of them.
    pub fn highlights_at_once(&self) -> Option<Highlights> {
        self.highlights.or_else(|| self.verdict.map(Highlights::from))
    }
}

impl CurveMeasured {
    fn check(&self) -> Result<(), JournalError> {
        text("film", &self.film)?;
        text("formula", &self.formula)?;
        text("agitation", &self.agitation)?;
        optional_text("roll", self.roll.as_deref())?;
        figure("temperature in °C", self.temperature.as_c(), 0.0, 60.0)?;
        figure("time in minutes", self.minutes, 0.05, 1440.0)?;
        figure("gradient", self.gradient, 0.05, 5.0)?;
        optional_figure("speed", self.speed, 0.01, 1e6)
    }
}

/// A ratio as it is typed: `stock`, `1+3`, `1+1+8`.
pub fn dilution_text(ratio: &MixRatio) -> String {
    match ratio.parts() {
        [_] => "stock".to_owned(),
        parts => parts.iter().map(f64::to_string).collect::<Vec<_>>().join("+"),
    }
}

fn nothing(field: &'static str) -> JournalError {
    JournalError::Text { field, what: "nothing is said".to_owned() }
}

fn text(field: &'static str, value: &str) -> Result<(), JournalError> {
    // Nearly every text is short and plain.
    let is_plain = |byte: &u8| matches!(byte, b' '..=b'~');
    if value.len() <= LONGEST_TEXT
        && value.as_bytes().iter().all(is_plain)
        && value.as_bytes().iter().any(|&byte| byte != b' ')
    {
        return Ok(());
    }
    let wrong = |what: &str| Err(JournalError::Text { field, what: what.to_owned() });
    if value.trim().is_empty() {
        return wrong("nothing is said");
    }
    if value.chars().count() > LONGEST_TEXT {
        return wrong("longer than 500 characters");
    }
    if let Some(hostile) =
        value.chars().find(|&character| is_hostile(character) || matches!(character, '\n' | '\r' | '\t'))
    {
        let what = format!(
            "holds the control character U+{:04X}, which could disturb a terminal or the file",
            u32::from(hostile)
        );
        return wrong(&what);
    }
    Ok(())
}

fn texts(field: &'static str, values: &[String]) -> Result<(), JournalError> {
    values.iter().try_for_each(|value| text(field, value))
}

fn optional_text(field: &'static str, value: Option<&str>) -> Result<(), JournalError> {
    value.map_or(Ok(()), |value| text(field, value))
}

fn figure(field: &'static str, value: f64, low: f64, high: f64) -> Result<(), JournalError> {
    if (low..=high).contains(&value) { Ok(()) } else { Err(JournalError::Figure { field, value, low, high }) }
}

fn optional_figure(field: &'static str, value: Option<f64>, low: f64, high: f64) -> Result<(), JournalError> {
    value.map_or(Ok(()), |value| figure(field, value, low, high))
}

fn volume(value: Option<f64>) -> Result<(), JournalError> {
    optional_figure("volume in mL", value, 0.1, 1e7)
}
