//! The kinds of entries, what each holds, and what can stand in them.

mod check;
mod verdict;

use super::Date;
use crate::quantity::{Films, MixRatio, Temperature};
pub use check::dilution_text;
pub use verdict::{Highlights, Shadows, Verdict};

/// What was poured into a bottle when a batch was mixed.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    /// Name of the bottle.
    pub bottle: String,
    /// The part of the formula in it; none of a formula in one part.
    pub part: Option<String>,
    /// How much, mL; none where that is not known.
    pub volume_ml: Option<f64>,
}

/// What a batch took from a jar.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// Id of the form.
    pub form: String,
    /// How much.
    pub amount: f64,
    /// Whether in millilitres, else in grams.
    pub is_ml: bool,
}

/// A batch that was mixed.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixed {
    /// The day of mixing, not that of writing it down.
    pub date: Date,
    /// Id of the formula.
    pub formula: Option<String>,
    /// Volume mixed, of each part, mL.
    pub volume_ml: Option<f64>,
    /// The dilution at which it went into the bottles; none for as mixed.
    pub dilution: Option<MixRatio>,
    /// The bottles that were filled.
    pub filled: Vec<Filled>,
    /// What it took.
    pub taken: Vec<Taken>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// What was poured out of a bottle for a film, and what went back.
#[derive(Debug, Clone, PartialEq)]
pub struct Draw {
    /// Name of the bottle.
    pub bottle: String,
    /// Taken out, mL; none where not known.
    pub drawn_ml: Option<f64>,
    /// Poured back, mL; none where not known.
    pub returned_ml: Option<f64>,
}

/// Films that were developed together.
#[derive(Debug, Clone, PartialEq)]
pub struct Developed {
    /// The day of developing, not that of writing it down.
    pub date: Date,
    /// The film in the user's own words; may be left out where a bottle is named.
    pub film: Option<String>,
    /// Id of the formula.
    pub formula: String,
    /// Stock and water, as typed: `1+1`; `stock` is 1+0.
    pub dilution: MixRatio,
    /// Temperature of the bath.
    pub temperature: Temperature,
    /// Way of agitation.
    pub agitation: String,
    /// Minutes in the developer.
    pub minutes: f64,
    /// Gradient measured, if any.
    pub gradient: Option<f64>,
    /// How they came out as a whole; counts as the highlights where these are not judged.
    pub verdict: Option<Verdict>,
    /// The shadows, judged at once.
    pub shadows: Option<Shadows>,
    /// The highlights, judged at once.
    pub highlights: Option<Highlights>,
    /// How many of which size.
    pub films: Option<Films>,
    /// Numbers of the rolls, by which a later judgement finds them.
    pub rolls: Vec<String>,
    /// The bottles they went through.
    pub draws: Vec<Draw>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// Negatives judged, days later.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The day of judging; the film was developed before.
    pub date: Date,
    /// Number of the roll.
    pub roll: String,
    /// None where nobody looked at them.
    pub shadows: Option<Shadows>,
    /// None where nobody looked at them.
    pub highlights: Option<Highlights>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// Replenisher poured into a bottle.
#[derive(Debug, Clone, PartialEq)]
pub struct Replenished {
    /// The day of pouring, not that of writing it down.
    pub date: Date,
    /// Name of the bottle.
    pub bottle: String,
    /// Id of the formula poured in.
    pub formula: Option<String>,
    /// How much, mL.
    pub volume_ml: Option<f64>,
    /// The bottle it came from.
    pub from: Option<String>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// A figure that was measured on a bottle or anything else.
#[derive(Debug, Clone, PartialEq)]
pub struct Measurement {
    /// The day of measuring, not that of writing it down.
    pub date: Date,
    /// The bottle, or what else was measured, in the user's own words.
    pub subject: String,
    /// What was measured: `pH`, `silver` in g/L, `clearing` in s, or in the user's own words.
    pub quantity: String,
    /// The figure.
    pub value: f64,
    /// Its unit; none for a pure number.
    pub unit: Option<String>,
    /// The film it was measured with.
    pub film: Option<String>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// What the curve of a film showed after a time in a developer.
#[derive(Debug, Clone, PartialEq)]
pub struct CurveMeasured {
    /// The day it is about, not that of writing it down.
    pub date: Date,
    /// The film in the user's own words.
    pub film: String,
    /// Id of the formula.
    pub formula: String,
    /// Stock and water, as typed: `1+1`; `stock` is 1+0.
    pub dilution: MixRatio,
    /// Temperature of the bath.
    pub temperature: Temperature,
    /// Way of agitation.
    pub agitation: String,
    /// Minutes in the developer.
    pub minutes: f64,
    /// Average gradient.
    pub gradient: f64,
    /// Speed, arithmetic as in ISO 100.
    pub speed: Option<f64>,
    /// Number of the roll.
    pub roll: Option<String>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// Sheets of paper that were printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// The day of printing, not that of writing it down.
    pub date: Date,
    /// How many of which size.
    pub sheets: Films,
    /// The bottles they went through.
    pub bottles: Vec<String>,
    /// Roll and frame.
    pub negative: Option<String>,
    /// The paper in the user's own words.
    pub paper: Option<String>,
    /// Its grade or filter.
    pub grade: Option<String>,
    /// Exposure, s: the base under the enlarger, derived from the stops beside it where they are given.
    pub exposure_s: Option<f64>,
    /// Exposure in stops over one second, with the places that got more or less: `3.584963 stops; sky +3/4`.
    pub exposure: Option<String>,
    /// What would be changed next time, stops; more light is positive.
    pub stops: Option<f64>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// The strokes on a bottle's label, counted.
#[derive(Debug, Clone, PartialEq)]
pub struct Count {
    /// The day of counting, not that of writing it down.
    pub date: Date,
    /// Name of the bottle.
    pub bottle: String,
    /// Films through it so far, in this life of the bottle.
    pub films: f64,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// Bottles that were emptied and thrown out.
#[derive(Debug, Clone, PartialEq)]
pub struct Discarded {
    /// The day of emptying; a bottle of the same name begins anew after it.
    pub date: Date,
    /// Names of the bottles.
    pub bottles: Vec<String>,
    /// Id of what was in it.
    pub formula: Option<String>,
    /// How much, mL.
    pub volume_ml: Option<f64>,
    /// Who did it, in the words of the user.
    pub by: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// One line of the journal.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// A batch was mixed.
    Mixed(Mixed),
    /// Films were developed.
    Developed(Developed),
    /// Negatives were judged.
    Judged(Judged),
    /// A bath was replenished.
    Replenished(Replenished),
    /// Something was measured.
    Measured(Measurement),
    /// A strip was read, and its gradient and speed kept.
    Curve(CurveMeasured),
    /// Paper was printed.
    Printed(Printed),
    /// Strokes were counted.
    Count(Count),
    /// Bottles were thrown out.
    Discarded(Discarded),
}

/// One expression over whatever the entry is.
macro_rules! of_any {
    ($entry:expr, $own:ident => $what:expr) => {
        match $entry {
            Entry::Mixed($own) => $what,
            Entry::Developed($own) => $what,
            Entry::Judged($own) => $what,
            Entry::Replenished($own) => $what,
            Entry::Measured($own) => $what,
            Entry::Curve($own) => $what,
            Entry::Printed($own) => $what,
            Entry::Count($own) => $what,
            Entry::Discarded($own) => $what,
        }
    };
}

impl Entry {
    /// The word of its kind in the file.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Mixed(_) => "mixed",
            Self::Developed(_) => "developed",
            Self::Judged(_) => "judged",
            Self::Replenished(_) => "replenished",
            Self::Measured(_) => "measured",
            Self::Curve(_) => "curve",
            Self::Printed(_) => "printed",
            Self::Count(_) => "count",
            Self::Discarded(_) => "discarded",
        }
    }

    /// The day it is about; the line may have been written later.
    pub fn date(&self) -> Date {
        of_any!(self, own => own.date)
    }

    /// Who did it, in the words of the user.
    pub fn by(&self) -> Option<&str> {
        of_any!(self, own => own.by.as_deref())
    }

    /// Anything else that was said.
    pub fn note(&self) -> Option<&str> {
        of_any!(self, own => own.note.as_deref())
    }
}
