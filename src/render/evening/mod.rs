//! An evening: one view, as words (`words`), as two printed pages (`paper`) and as JSON (`json`).
//!
//! `rows` puts the acts of a plan into the rows that all of them show: the watch goes back to 0:00 at each developer, so that a delay
//! moves one tank only.

mod handling;
mod json;
mod paper;
mod rows;
mod words;

use serde::Serialize;

use crate::evening::beats::Beat;
use crate::evening::clock::{EveningPlan, Tank};
use crate::evening::file::Evening;
use crate::evening::needs::BathNeed;
use crate::evening::table::EveningTable;

pub(crate) use json::EveningBody;
pub(crate) use paper::evening_html;
pub(crate) use words::evening_document;

/// Why an evening is not planned.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct EveningRefusal {
    pub kind: &'static str,
    /// Stable short name.
    pub code: &'static str,
    /// What is wrong.
    pub text: String,
    /// What to do.
    pub fix: String,
}

/// A bath with where it comes from, in words.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct NeedView {
    pub need: BathNeed,
    /// What it is: formula and how it is made up.
    pub made: String,
    /// Bottle, `mix`, `jug`, `tap`.
    pub source: String,
    /// Whether that is enough, in words; empty where nothing is known.
    pub stock: String,
    /// What is taken from the bottle, mL; none where not known.
    pub drawn_ml: Option<f64>,
    /// What the bottle holds by the journal, mL.
    pub holds_ml: Option<f64>,
    /// Its temperature.
    pub celsius: String,
    /// To how many degrees it is brought, °C.
    pub target_c: f64,
    /// Where it goes after.
    pub then: String,
}

impl NeedView {
    /// Whether the bottle holds enough; none where that is not known.
    pub(crate) fn is_enough(&self) -> Option<bool> {
        // A thousandth of a litre is no lack.
        self.holds_ml.zip(self.drawn_ml).map(|(holds, drawn)| drawn <= holds + 1.0)
    }
}

/// All that is told of an evening.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct EveningView {
    /// The evening as read.
    pub evening: Evening,
    /// What made it: a file's name or the words typed.
    pub named: String,
    pub tanks: Vec<Tank>,
    /// What is in each tank, in words.
    pub contents: Vec<String>,
    /// The developing temperatures, °C, each once.
    pub degrees: Vec<f64>,
    /// The plan; none where it is refused.
    pub plan: Option<EveningPlan>,
    /// What a calm plan would take, s, beside a tight one.
    pub calm_end_s: Option<i64>,
    /// Baths in the order of use.
    pub needs: Vec<NeedView>,
    pub refusals: Vec<EveningRefusal>,
    /// What is missing or spent, to be known before anything is mixed.
    pub missing: Vec<String>,
    /// What must be known between baths.
    pub between: Vec<(String, String)>,
    /// What to do before, each with its word: warm, water, after.
    pub ready: Vec<(String, String)>,
    /// Further lines: the wash, what was assumed.
    pub notes: Vec<String>,
    /// What is done by heart in the dark, by tank: films in trays.
    pub beats: Vec<(usize, Vec<Beat>)>,
    /// Lines to record it.
    pub journal: Vec<String>,
    /// The journal in which it is recorded; none where it is not.
    pub recorded_in: Option<String>,
    /// Minutes that the bottles want in the water bath; none where not known.
    pub temper_minutes: Option<f64>,
    /// Whether soft times were stretched.
    pub is_tight: bool,
    /// Figures of the trade.
    pub table: EveningTable,
}
