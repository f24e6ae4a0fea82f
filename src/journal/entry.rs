//! The kinds of entries, what each holds, and what can stand in them.

use super::{Date, JournalError};
use crate::diagnostic::is_hostile;
use crate::quantity::{Films, MixRatio, Temperature};

/// Most characters of a text field.
const LONGEST_TEXT: usize = 500;

/// How a negative came out as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Too little density: developed too short.
    Thin,
    /// As wanted.
    Right,
    /// Too much density: developed too long.
    Dense,
}

/// What the shadows show: the exposure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shadows {
    /// No detail: exposed too little.
    Empty,
    /// As wanted.
    Right,
    /// More density than is needed: exposed too much.
    Full,
}

/// What the highlights show: the development.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Highlights {
    /// Too little contrast: developed too short.
    Flat,
    /// As wanted.
    Right,
    /// Too much: developed too long.
    Blocked,
}

/// The words of a judgement, in the file and on the command line.
macro_rules! words {
    ($type:ident: $($variant:ident = $word:literal),+) => {
        impl $type {
            /// The word in the file.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// What a word means.
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}
words!(Verdict: Thin = "thin", Right = "right", Dense = "dense");
words!(Shadows: Empty = "empty", Right = "right", Full = "full");
words!(Highlights: Flat = "flat", Right = "right", Blocked = "blocked");

impl From<Verdict> for Highlights {
    /// A verdict counts as one on the highlights: it is the development that it judged.
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Thin => Self::Flat,
            Verdict::Right => Self::Right,
            Verdict::Dense => Self::Blocked,
        }
    }
}

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
