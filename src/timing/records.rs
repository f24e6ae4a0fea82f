//! The user's own records of one film, as conditions to learn from; [`super::own`] learns.

use std::collections::BTreeMap;

use super::figure::{Support, TimingFigure};
use super::rows::{DeveloperRelation, RelationSide};
use super::setup::{Lookup, Setup};
use super::table::TimingTable;
use crate::journal::{Date, DevelopedResult, Highlights, Shadows, dilution_text};
use crate::quantity::{Duration, MixRatio, Temperature};

/// Most records of one film that are looked at, the latest ones.
const MOST_RECORDS: usize = 60;
/// How far apart two developers may be of which nothing is known, nine in ten in ln t.
const UNRELATED: f64 = 0.8;

/// A development of the user's own with what was later judged or measured of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Of the bath; later judgements keep it.
    pub date: Date,
    /// The film in the user's own words.
    pub film: String,
    /// Id of the formula.
    pub formula: String,
    /// Stock and water, as typed; `stock` is 1+0.
    pub dilution: MixRatio,
    /// Temperature of the bath.
    pub temperature: Temperature,
    /// Way of agitation.
    pub agitation: String,
    /// Minutes in the developer.
    pub minutes: f64,
    /// Average gradient measured.
    pub gradient: Option<f64>,
    /// Arithmetic film speed measured.
    pub speed: Option<f64>,
    /// The shadows: the exposure.
    pub shadows: Option<Shadows>,
    /// The highlights: the development.
    pub highlights: Option<Highlights>,
}

impl Record {
    /// From the journal; none where no film is named.
    pub fn of(result: &DevelopedResult<'_>) -> Option<Self> {
        let developed = result.developed;
        Some(Self {
            date: developed.date,
            film: developed.film.clone()?,
            formula: developed.formula.clone(),
            dilution: developed.dilution.clone(),
            temperature: developed.temperature,
            agitation: developed.agitation.clone(),
            minutes: developed.minutes,
            gradient: result.gradient,
            speed: result.speed,
            shadows: result.shadows,
            highlights: result.highlights,
        })
    }
}

/// A record to learn from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Start {
    pub(super) setup: Setup,
    pub(super) minutes: f64,
    pub(super) words: String,
    pub(super) short: String,
    pub(super) highlights: Option<Highlights>,
    pub(super) gradient: Option<f64>,
    dilution: MixRatio,
}

/// What a record was worth to an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordWeight {
    /// The record in words.
    pub record: String,
    /// How it was taken: `right`, `longer than`, `shorter than`, `gradient 0.58`, `not judged`, or why it was not used.
    pub taken: String,
    /// Its share of what all records weigh in the answer, 0 to 1; 0 where it was not used.
    pub weight: f64,
}

/// What a figure of the books was worth beside the records.
#[derive(Debug, Clone, PartialEq)]
pub struct BookWeight {
    /// Which figure.
    pub name: String,
    /// How much of its spread before is left, 0 to 1: 1 where the records say nothing of it.
    pub share: f64,
}

/// What the user's own records of one film say.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Own {
    pub(super) film: String,
    pub(super) starts: Vec<Start>,
    pub(super) unused: Vec<RecordWeight>,
    pub(super) relations: Vec<DeveloperRelation>,
    /// The latest judgement of the shadows.
    pub(super) shadows: Option<(Date, Shadows)>,
    /// The latest speed measured in each formula.
    pub(super) speeds: BTreeMap<String, f64>,
}

/// Whether two names of a film are the same: case and spaces aside.
pub fn same_film(one: &str, other: &str) -> bool {
    let plain = |text: &str| text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
    plain(one) == plain(other)
}

impl Own {
    /// Looks through the records of a film.
    pub(super) fn new(film: &str, records: &[Record], table: &TimingTable, lookup: &Lookup<'_>) -> Self {
        let mut of_film: Vec<&Record> =
            records.iter().filter(|record| same_film(&record.film, film)).collect();
        of_film.sort_by_key(|record| record.date);
        let skipped = of_film.len().saturating_sub(MOST_RECORDS);
        let mut own_records = Self { film: film.to_owned(), ..Self::default() };
        for (index, record) in of_film.iter().enumerate() {
            if index < skipped {
                own_records
                    .leave(record, format!("not used: only the latest {MOST_RECORDS} records are looked at"));
                continue;
            }
            match start(record, table, lookup) {
                Ok(start) => own_records.starts.push(start),
                Err(why) => own_records.leave(record, format!("not used: {why}")),
            }
        }
        for record in &of_film {
            own_records.shadows =
                record.shadows.map(|shadows| (record.date, shadows)).or(own_records.shadows);
            own_records.speeds.extend(record.speed.map(|speed| (record.formula.clone(), speed)));
        }
        own_records.relations = unrelated(&own_records.starts);
        own_records
    }

    fn leave(&mut self, record: &Record, taken: String) {
        let dilution = dilution_text(&record.dilution);
        let record = format!(
            "{}, {} {dilution}, {}, {}",
            record.date,
            record.formula,
            record.temperature,
            Duration::from_min(record.minutes)
        );
        self.unused.push(RecordWeight { record, taken, weight: 0.0 });
    }

    /// How many records of the film can be used.
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// The conditions that a question about the film takes over where it says nothing: those of the latest record judged right, else
    /// of the latest, in the developer named or in any.
    pub fn usual(&self, formula: Option<&str>) -> Option<&Setup> {
        let of = || {
            let fits = move |start: &&Start| formula.is_none_or(|id| start.setup.developer.id == id);
            self.starts.iter().rev().filter(fits)
        };
        let right = of().find(|start| start.highlights == Some(Highlights::Right));
        right.or_else(|| of().next()).map(|start| &start.setup)
    }
}

/// A record as conditions to learn from, or why it cannot be one.
fn start(record: &Record, table: &TimingTable, lookup: &Lookup<'_>) -> Result<Start, String> {
    let developer = lookup.developer(&record.formula).ok_or("its formula is no longer in the library")?;
    let working = developer.working(Some(&record.dilution)).map_err(|error| error.to_string())?;
    developer.must_be_timed(&working, table).map_err(|error| error.to_string())?;
    let agitation = table.agitation(&record.agitation).map_err(|error| error.to_string())?.0.name.clone();
    let setup = Setup { developer, working, temperature: record.temperature, agitation };
    let conditions = format!(
        "{} {}, {}, {}",
        record.formula,
        dilution_text(&record.dilution),
        record.temperature,
        setup.agitation
    );
    let time = Duration::from_min(record.minutes);
    Ok(Start {
        words: format!("your record of {}: {}, {conditions}, {time}", record.date, record.film),
        short: format!("{}, {conditions}, {time}", record.date),
        setup,
        minutes: record.minutes,
        highlights: record.highlights,
        gradient: record.gradient,
        dilution: record.dilution.clone(),
    })
}

/// Between every two developers with records a relation of which nothing is known, at the conditions of their first records.
fn unrelated(starts: &[Start]) -> Vec<DeveloperRelation> {
    let mut first: BTreeMap<&str, &Start> = BTreeMap::new();
    for start in starts {
        first.entry(&start.setup.developer.id).or_insert(start);
    }
    let sides: Vec<RelationSide> = first
        .values()
        .map(|start| RelationSide {
            formula: start.setup.developer.id.clone(),
            dilution: start.dilution.clone(),
            celsius: 20.0,
            agitation: None,
        })
        .collect();
    let mut all = Vec::new();
    for (index, one) in sides.iter().enumerate() {
        for other in sides.iter().skip(index + 1) {
            all.push(DeveloperRelation {
                from: one.clone(),
                to: other.clone(),
                figure: TimingFigure {
                    low: (-UNRELATED).exp(),
                    central: 1.0,
                    high: UNRELATED.exp(),
                    support: Support::OwnRecord,
                    source: None,
                    note: Some("only your own records relate the two".to_owned()),
                },
            });
        }
    }
    all
}
