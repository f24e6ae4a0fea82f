//! What holds where a file of an evening is silent: `tables/evening.toml`.

use serde::Deserialize;

use super::clock::{Hands, Softness, TankBath};
use crate::diagnostic::{Finding, TableSource, read_table};

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EveningTable {
    #[serde(rename = "format")]
    _format: u32,
    /// One pair of hands.
    pub hands: HandTimes,
    /// Steps after development, in order.
    #[serde(rename = "step")]
    pub steps: Vec<StepRow>,
    pub temperature: Temperatures,
    /// How long before.
    pub lead: Lead,
    /// Fixing by the clearing test.
    pub clearing: Clearing,
    /// What makes a fixer alkaline, acid or hardening.
    pub substances: Substances,
}

/// How a figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Mark {
    /// A document was read.
    Source,
    /// What darkroom workers do.
    CommonPractice,
    /// Not checked.
    Memory,
    /// Ours.
    Advice,
}

impl Mark {
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Source => "by a source",
            Self::CommonPractice => "common practice",
            Self::Memory => crate::doubt::FROM_MEMORY,
            Self::Advice => "advice",
        }
    }
}

/// Times of the hands, s.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct HandTimes {
    /// Pouring in, and out.
    pub pour_in: i64,
    pub first_turning: i64,
    /// Each later one.
    pub each_turning: i64,
    /// From one to the next.
    pub every: i64,
    pub hang_a_film: i64,
    /// Loading a film in the dark, at most.
    pub load_a_film: i64,
    /// How late a turning may be in a tight evening.
    pub late: i64,
    /// First moving of hangers.
    pub hanger_first: i64,
    /// A sheet from tray to tray, or from the bottom of a pile to its top.
    pub sheet: i64,
    /// The same where there are many.
    pub sheet_of_many: i64,
    /// More sheets than these are many; a number.
    pub many_sheets: u32,
    /// Most sheets in one tray; a number.
    pub most_sheets: u32,
    /// Mixing a developer that lives for minutes.
    pub mix: i64,
    /// How it stands.
    pub mark: Mark,
    pub source: String,
}

/// What the hands do, as the table names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum HandsWord {
    Turned,
    /// All the time.
    Continuous,
    /// Poured only.
    Poured,
}

/// A step after development.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StepRow {
    pub name: String,
    /// Its time where none is given, s.
    pub seconds: i64,
    /// Longest in a calm evening, s.
    pub calm: Option<i64>,
    /// Longest in a tight evening, s.
    pub tight: Option<i64>,
    /// The same as a multiple of the time.
    pub tight_times: Option<i64>,
    /// Its time where no washing aid goes before it, s.
    pub without_aid: Option<i64>,
    pub hands: HandsWord,
    /// How it stands.
    pub mark: Mark,
    pub source: String,
}

impl StepRow {
    /// The bath of so many seconds.
    pub(crate) fn bath(&self, seconds: i64, hands: Hands) -> TankBath {
        let tight = self.tight.unwrap_or(0).max(self.tight_times.unwrap_or(1) * seconds);
        TankBath {
            name: self.name.clone(),
            seconds,
            softness: Softness { calm_s: self.calm.unwrap_or(0).max(seconds), tight_s: tight.max(seconds) },
            hands,
            is_developer: false,
            is_hose: self.name == "wash",
            is_in_tank: true,
        }
    }
}

/// Temperatures, °C.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Temperatures {
    /// The developer's where nothing is known.
    pub developer: f64,
    /// How near to it.
    pub developer_within: f64,
    /// The stop bath's.
    pub stop_within: f64,
    /// The fixer's.
    pub fixer_within: f64,
    /// The wash's.
    pub wash_within: f64,
    /// How it stands.
    pub mark: Mark,
    pub source: String,
}

/// How long before the first developer, minutes.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Lead {
    pub mix: i64,
    /// Tempering bottles.
    pub temper: i64,
    /// Drying after.
    pub dry: i64,
    /// How it stands.
    pub mark: Mark,
    pub source: String,
}

/// Substances by which the sequence of baths is chosen.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Substances {
    /// In an alkaline fixer.
    pub alkalis: Vec<String>,
    pub acids: Vec<String>,
    /// In a hardening one.
    pub hardeners: Vec<String>,
    /// Least share by which its wash is longer.
    pub hardener_wash_least: f64,
    /// The usual one, taken where no time is given.
    pub hardener_wash_usual: f64,
    /// How it stands.
    pub mark: Mark,
    pub source: String,
}

/// Fixing by the clearing test.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Clearing {
    pub times: i64,
    /// The same for iodide-rich films.
    pub times_iodide_rich: i64,
    /// Never less, s.
    pub least: i64,
    /// How it stands.
    pub mark: Mark,
    pub source: String,
}

impl EveningTable {
    /// Reads the table.
    ///
    /// # Errors
    /// What is wrong with it.
    pub(crate) fn parse<'a>(source: impl Into<TableSource<'a>>) -> Result<Self, Finding> {
        read_table(source, "tables/evening.toml")
    }

    pub(crate) fn step(&self, name: &str) -> Option<&StepRow> {
        self.steps.iter().find(|step| step.name == name)
    }
}
