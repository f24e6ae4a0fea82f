//! The table of class rules, `tables/class-rules.toml`.
//!
//! A rule is two dates: looked at from the shorter figure (of one figure, that of a half-full bottle), out by the longer. A used bath
//! goes by its tank's figure from the first film on, never by the full bottle's. Only a stated figure or a clearing time that has
//! doubled throws a bottle out.

use serde::Deserialize;

use crate::diagnostic::{Finding, TableSource, read_table};
use crate::quantity::Figure;

/// Version of the table that this program reads.
const FORMAT: u32 = 1;

/// Low and high of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(from = "(Figure, Figure)")]
pub struct Span {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl From<(Figure, Figure)> for Span {
    fn from((low, high): (Figure, Figure)) -> Self {
        Self { low: low.into(), high: high.into() }
    }
}

impl Span {
    /// The lower of both ends.
    #[must_use]
    pub fn shorter(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.min(other.high) }
    }

    /// The higher of both ends.
    #[must_use]
    pub fn larger(self, other: Self) -> Self {
        Self { low: self.low.max(other.low), high: self.high.max(other.high) }
    }
}

/// The rule of one class of developers.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeveloperRule {
    /// Short name.
    pub id: String,
    /// The class in words.
    pub words: String,
    /// Whether it is used once and thrown away.
    #[serde(default)]
    pub one_shot: bool,
    /// Least and safe stock for a film, mL.
    pub stock_ml_per_film: Option<Span>,
    /// Whether that is of all parts and their water together.
    #[serde(default)]
    pub stock_is_of_the_mixture: bool,
    /// Strength of the agent's part for which the stock is told, g/L.
    pub stock_of_agent_g_per_litre: Option<f64>,
    /// Films through a litre at which it goes, low and high.
    pub films_per_litre: Option<Span>,
    /// The same of a litre of the first of two baths.
    pub two_bath_films_per_litre: Option<Span>,
    /// Films in a litre before the time grows.
    pub free_films: Option<f64>,
    /// Longer time of each further film in a litre, percent.
    pub growth_percent: Option<Span>,
    /// Least and most; none where nobody says.
    pub full_bottle_days: Option<Span>,
    /// Days in a half-full bottle.
    pub half_bottle_days: Option<Span>,
    /// Least and most, uncovered.
    pub tray_hours: Option<Span>,
    /// Days in a tank with its lid.
    pub tank_days: Option<Span>,
    /// Hours of the mixture ready to use.
    pub working_hours: Option<Span>,
    /// Minutes at 20 °C in which a first test with a film of medium speed usually lies, as mixed and not diluted further.
    pub start_minutes: Option<Span>,
    /// Whether a working dilution of it is a class of its own.
    #[serde(default)]
    pub dilutes: bool,
    /// What to know.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: String,
}

/// The rule of one class of solutions that are counted in sheets of paper, or only keep: paper developers, toners, stop baths.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetRule {
    /// Short name.
    pub id: String,
    /// The class in words.
    pub words: String,
    /// Parents of which one decides the class.
    pub holds: Vec<String>,
    /// Parents of which one must be there as well.
    #[serde(default)]
    pub needs: Vec<String>,
    /// Sheets of 8 by 10 in (516 cm²) through a litre, low and high.
    pub sheets_per_litre: Option<Span>,
    /// Least and most.
    pub full_bottle_days: Option<Span>,
    /// Days in a half-full bottle.
    pub half_bottle_days: Option<Span>,
    /// Least and most, uncovered.
    pub tray_hours: Option<Span>,
    /// What to know.
    pub note: Option<String>,
    /// Where it comes from.
    pub source: String,
}

/// Limits that decide a class.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct Tests {
    pub sulfite_g_per_litre: f64,
    pub p_aminophenol_g_per_litre: f64,
    /// Doubtful below the first, too little below the second.
    pub agent_g_per_film: (f64, f64),
    pub agent_source: String,
}

/// Parents by what they are to a class.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name")]
pub struct Substances {
    pub hydroxides: Vec<String>,
    pub carbonates: Vec<String>,
    pub alkalis: Vec<String>,
    pub sulfites: Vec<String>,
    pub p_aminophenols: Vec<String>,
    pub pyros: Vec<String>,
    pub ascorbates: Vec<String>,
    pub fixing: Vec<String>,
    pub thiocyanates: Vec<String>,
    pub formaldehydes: Vec<String>,
}

/// How long a solution keeps, and nothing else.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct WorkingRule {
    pub words: String,
    pub full_bottle_days: Option<Span>,
    pub tray_hours: Option<Span>,
    pub source: String,
}

/// What holds of all fixers.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct FixerRule {
    pub words: String,
    pub lasting_films_per_litre: f64,
    pub ordinary_films_per_litre: f64,
    pub two_bath_films_per_litre: f64,
    pub capacity_source: String,
    /// Sheets of 8 by 10 in through a litre, lasting and ordinary.
    pub paper_sheets_per_litre: Span,
    pub paper_source: String,
    /// Fixing time over clearing time: usual, and for films rich in iodide.
    pub clearing_times: Span,
    pub clearing_source: String,
    /// Clearing time over that of the fresh bath at which it is spent.
    pub spent_times: f64,
    pub coating_g_per_m2: Span,
    pub dissolved_share: f64,
    pub silver_limit_g_per_litre: f64,
    pub silver_source: String,
    pub iodide_note: String,
}

/// The rule of one class of fixers.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct FixerClass {
    pub id: String,
    pub words: String,
    pub full_bottle_days: Option<Span>,
    pub half_bottle_days: Option<Span>,
    pub tray_hours: Option<Span>,
    pub tank_days: Option<Span>,
    pub clearing_s: Option<Span>,
    pub source: String,
}

/// The acid balance of a stop bath.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct StopRule {
    pub words: String,
    pub spent_ph: f64,
    pub carry_over_ml: Span,
    pub acid_mol_per_litre_of_developer: Span,
    pub pka: f64,
    pub sign: String,
    pub discard_below_ml: f64,
    pub source: String,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct WashingAidRule {
    pub words: String,
    pub films_per_litre: Span,
    pub full_bottle_days: Span,
    pub tray_hours: Span,
    pub source: String,
}

/// What covers the reels of a daylight tank.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct TankRule {
    pub one_ml: Span,
    pub two_ml: Span,
    pub further_ml: Span,
    pub source: String,
}

impl TankRule {
    /// What covers so many reels of 135, low and high, mL.
    pub fn covers_ml(&self, reels: u32) -> Span {
        let further = f64::from(reels.saturating_sub(2));
        match reels {
            0 | 1 => self.one_ml,
            _ => Span {
                low: self.two_ml.low + further * self.further_ml.low,
                high: self.two_ml.high + further * self.further_ml.high,
            },
        }
    }
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is its name")]
pub struct ClassRules {
    format: u32,
    pub tests: Tests,
    pub substances: Substances,
    pub developers: Vec<DeveloperRule>,
    pub paper_developers: Vec<SheetRule>,
    pub toners: Vec<SheetRule>,
    pub stops: Vec<SheetRule>,
    pub working: WorkingRule,
    pub fixers: FixerRule,
    pub fixer_classes: Vec<FixerClass>,
    pub stop: StopRule,
    pub washing_aid: WashingAidRule,
    pub tanks: TankRule,
}

impl ClassRules {
    /// Reads the table; `file` names it in messages.
    ///
    /// # Errors
    /// The text is not such a table, or names no class of its own words.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        let rules: Self = read_table(source, file)?;
        if rules.format != FORMAT {
            let message = format!("format = {} is not known to this version", rules.format);
            return Err(Finding::error("format", file, None, message, "write format = 1"));
        }
        Ok(rules)
    }

    /// None for an id of another table.
    pub fn developer(&self, id: &str) -> Option<&DeveloperRule> {
        self.developers.iter().find(|rule| rule.id == id)
    }
}
