//! The kinds of entries, what each holds, and how each is written.

use std::fmt::Write as _;

use serde::Deserialize;

use super::{Date, JournalError, VERSION};
use crate::diagnostic::is_hostile;
use crate::quantity::{MixRatio, Temperature};

/// Most characters of a text field.
const LONGEST_TEXT: usize = 500;

/// How a negative came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Too little density: developed too short.
    Thin,
    /// As wanted.
    Right,
    /// Too much density: developed too long.
    Dense,
}

impl Verdict {
    /// The word in the file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Thin => "thin",
            Self::Right => "right",
            Self::Dense => "dense",
        }
    }
}

/// A film that was developed.
#[derive(Debug, Clone, PartialEq)]
pub struct Developed {
    /// When.
    pub date: Date,
    /// The film in the user's own words.
    pub film: String,
    /// Id of the formula.
    pub formula: String,
    /// Dilution.
    pub dilution: MixRatio,
    /// Temperature of the bath.
    pub temperature: Temperature,
    /// Way of agitation.
    pub agitation: String,
    /// Minutes in the developer.
    pub minutes: f64,
    /// Gradient measured, if any.
    pub gradient: Option<f64>,
    /// How it came out.
    pub verdict: Option<Verdict>,
    /// Anything else.
    pub note: Option<String>,
}

/// What happened to a bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BathKind {
    /// Made up.
    Mixed,
    /// Topped up.
    Replenished,
    /// Thrown out.
    Discarded,
}

/// A bath that was mixed, replenished or discarded.
#[derive(Debug, Clone, PartialEq)]
pub struct BathEvent {
    /// What happened.
    pub kind: BathKind,
    /// When.
    pub date: Date,
    /// The bath in the user's own words, such as the name on the bottle.
    pub bath: String,
    /// Id of the formula mixed or poured in.
    pub formula: Option<String>,
    /// Volume mixed, poured in or thrown out, mL.
    pub volume_ml: Option<f64>,
    /// Anything else.
    pub note: Option<String>,
}

/// A figure that was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Measurement {
    /// When.
    pub date: Date,
    /// The film or bath measured, in the user's own words.
    pub subject: String,
    /// What was measured, such as `pH`.
    pub quantity: String,
    /// The figure.
    pub value: f64,
    /// Its unit; none for a pure number.
    pub unit: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// One entry.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// A film was developed.
    Developed(Developed),
    /// A bath was mixed, replenished or discarded.
    Bath(BathEvent),
    /// Something was measured.
    Measured(Measurement),
}

impl Entry {
    /// The word of its kind in the file.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Developed(_) => "developed",
            Self::Bath(event) => match event.kind {
                BathKind::Mixed => "mixed",
                BathKind::Replenished => "replenished",
                BathKind::Discarded => "discarded",
            },
            Self::Measured(_) => "measured",
        }
    }

    /// When.
    pub fn date(&self) -> Date {
        match self {
            Self::Developed(entry) => entry.date,
            Self::Bath(entry) => entry.date,
            Self::Measured(entry) => entry.date,
        }
    }

    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot stand in the journal.
    pub fn check(&self) -> Result<(), JournalError> {
        match self {
            Self::Developed(entry) => {
                text("film", &entry.film)?;
                text("formula", &entry.formula)?;
                text("agitation", &entry.agitation)?;
                optional_text("note", entry.note.as_deref())?;
                figure("temperature in °C", entry.temperature.as_c(), 0.0, 60.0)?;
                figure("time in minutes", entry.minutes, 0.05, 1440.0)?;
                entry.gradient.map_or(Ok(()), |gradient| figure("gradient", gradient, 0.05, 5.0))
            }
            Self::Bath(entry) => {
                text("bath", &entry.bath)?;
                optional_text("formula", entry.formula.as_deref())?;
                optional_text("note", entry.note.as_deref())?;
                entry.volume_ml.map_or(Ok(()), |volume| figure("volume in mL", volume, 0.1, 1e7))
            }
            Self::Measured(entry) => {
                text("subject", &entry.subject)?;
                text("quantity", &entry.quantity)?;
                optional_text("unit", entry.unit.as_deref())?;
                optional_text("note", entry.note.as_deref())?;
                figure("value", entry.value, -1e9, 1e9)
            }
        }
    }

    /// The entry as it stands in the file, from `[[entry]]` to `end = true`.
    pub(super) fn to_toml(&self) -> String {
        let mut lines = Lines(format!("[[entry]]\nversion = {VERSION}\n"));
        lines.text("kind", self.kind());
        lines.text("date", &self.date().to_string());
        match self {
            Self::Developed(entry) => {
                lines.text("film", &entry.film);
                lines.text("formula", &entry.formula);
                lines.text("dilution", &dilution_text(&entry.dilution));
                lines.figure("celsius", entry.temperature.as_c());
                lines.text("agitation", &entry.agitation);
                lines.figure("minutes", entry.minutes);
                lines.optional_figure("gradient", entry.gradient);
                lines.optional_text("verdict", entry.verdict.map(Verdict::word));
                lines.optional_text("note", entry.note.as_deref());
            }
            Self::Bath(entry) => {
                lines.text("bath", &entry.bath);
                lines.optional_text("formula", entry.formula.as_deref());
                lines.optional_figure("volume_ml", entry.volume_ml);
                lines.optional_text("note", entry.note.as_deref());
            }
            Self::Measured(entry) => {
                lines.text("subject", &entry.subject);
                lines.text("quantity", &entry.quantity);
                lines.figure("value", entry.value);
                lines.optional_text("unit", entry.unit.as_deref());
                lines.optional_text("note", entry.note.as_deref());
            }
        }
        lines.0.push_str("end = true\n");
        lines.0
    }
}

/// A ratio as it is typed: `stock`, `1+3`, `1+1+8`.
pub fn dilution_text(ratio: &MixRatio) -> String {
    match ratio.parts() {
        [_] => "stock".to_owned(),
        parts => parts.iter().map(f64::to_string).collect::<Vec<_>>().join("+"),
    }
}

/// Lines `key = value` of TOML.
struct Lines(String);

impl Lines {
    fn text(&mut self, key: &str, value: &str) {
        let escaped = value.replace('\\', "\\\\").replace('"', "\\\"");
        let _ = writeln!(self.0, "{key} = \"{escaped}\"");
    }

    fn optional_text(&mut self, key: &str, value: Option<&str>) {
        if let Some(value) = value {
            self.text(key, value);
        }
    }

    fn figure(&mut self, key: &str, value: f64) {
        let _ = writeln!(self.0, "{key} = {value}");
    }

    fn optional_figure(&mut self, key: &str, value: Option<f64>) {
        if let Some(value) = value {
            self.figure(key, value);
        }
    }
}

fn text(field: &'static str, value: &str) -> Result<(), JournalError> {
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

fn optional_text(field: &'static str, value: Option<&str>) -> Result<(), JournalError> {
    value.map_or(Ok(()), |value| text(field, value))
}

fn figure(field: &'static str, value: f64, low: f64, high: f64) -> Result<(), JournalError> {
    if (low..=high).contains(&value) { Ok(()) } else { Err(JournalError::Figure { field, value, low, high }) }
}
