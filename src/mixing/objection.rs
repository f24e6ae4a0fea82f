//! Why something must not be mixed.

use thiserror::Error;

use crate::predict::heating::REFUSED_ABOVE_C;
use crate::quantity::rounding::show_short;
use crate::safety::Refusal;

/// How far a refusal goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ObjectionKind {
    /// Not at all: what meets there must not meet, however little of it.
    Never,
    /// Not as asked: too hot, no safe order, more than dissolves.
    NotThisWay,
}

impl ObjectionKind {
    /// The word in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Never => "never",
            Self::NotThisWay => "not-this-way",
        }
    }
}

/// Why something must not be mixed, or not so.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{place}: {text}")]
pub struct Objection {
    /// Decides whether amounts may be told at all.
    pub kind: ObjectionKind,
    /// Stable short name.
    pub code: &'static str,
    /// Where: a part, a use, a vessel, in words.
    pub place: String,
    /// Why.
    pub text: String,
    /// What to do about it.
    pub fix: String,
}

impl Objection {
    /// A combination that the tables refuse.
    pub fn never(place: impl Into<String>, refusal: &Refusal) -> Self {
        Self {
            kind: ObjectionKind::Never,
            code: "never-in-one-vessel",
            place: place.into(),
            text: refusal.text.clone(),
            fix: refusal.fix().to_owned(),
        }
    }

    /// Something that can be done another way.
    pub fn not_this_way(
        code: &'static str,
        place: impl Into<String>,
        text: impl Into<String>,
        fix: impl Into<String>,
    ) -> Self {
        Self {
            kind: ObjectionKind::NotThisWay,
            code,
            place: place.into(),
            text: text.into(),
            fix: fix.into(),
        }
    }

    /// A step that would boil its vessel; `peak_c` is what everything at once would reach.
    pub fn too_hot(place: &str, substance: &str, vessel: &str, peak_c: f64) -> Self {
        let text = format!(
            "{substance} would heat {vessel} to about {} °C (computed without loss of heat; above {} °C mixing is refused): it would boil and spit",
            show_short(peak_c, 0),
            show_short(REFUSED_ABOVE_C, 0)
        );
        let fix = "choose a formula with less of it, or one that lets more cold water at it (`soupcon list --near` finds its relatives); a smaller batch is no cooler";
        Self::not_this_way("too-hot", place, text, fix)
    }

    /// Whether it must not be done at all.
    pub fn is_never(&self) -> bool {
        self.kind == ObjectionKind::Never
    }
}
