//! Times as documents and JSON: the answer with its derivation, the wall chart, factorial development, the journal's list.

use serde::Serialize;

use crate::quantity::rounding::{show_decimals, show_short};
use crate::quantity::{Duration, Temperature};
use crate::render::{Column, Document, Print};
use crate::timing::{
    Alternative, BookWeight, Estimate, Factor, Factorial, FactorialRow, RecordWeight, Setup, Warning, Wish,
};

/// Conditions in words: `mq-borax-classic 1+1, 20 °C, inversion`.
pub fn setup_words(setup: &Setup) -> String {
    let dilution = setup.working.to_string();
    let dilution = if dilution == "stock" { "undiluted".to_owned() } else { dilution };
    format!("{} {dilution}, {}, {}", setup.developer.id, setup.temperature, setup.agitation)
}

/// How much of an answer is printed.
#[derive(Debug, Clone, Copy, Default)]
pub struct TimeForm {
    /// Only the answer: time, range, what to test.
    pub brief: bool,
    /// With a title, for a page.
    pub titled: bool,
}

/// The answer to a question of time: time, range and what to test in three lines, then the derivation.
pub fn time_document(answer: &Estimate, to: &Setup, form: TimeForm) -> Document {
    let mut document = Document::new();
    if form.titled {
        document.title(format!("{}: start from {}", to.developer.id, answer.timer()));
    }
    let range = match answer.timer_range() {
        Some((low, high)) => format!("{} to {}", clock(low), clock(high)),
        None => "exactly the known time".to_owned(),
    };
    let lines = vec![
        vec![answer.timer().to_string(), wanted_words(answer, to)],
        vec![String::new(), range],
        vec!["TEST".to_owned(), answer.test_first()],
    ];
    document.table(vec![Column::left(""), Column::left("")], lines);
    if form.brief {
        return document;
    }
    document.heading("Why");
    let columns = vec![Column::left(""), Column::left(""), Column::left(""), Column::left("")];
    document.table(columns, why_rows(answer));
    if !answer.warnings.is_empty() {
        document.heading("Mind");
        document.list(answer.warnings.iter().map(ToString::to_string).collect());
    }
    if !answer.records.is_empty() {
        document.heading("Your records");
        let records = answer.records.iter().map(record_words);
        document.list(records.chain(answer.books.iter().map(book_words)).collect());
    }
    let told = answer.factors.iter().filter(|factor| !factor.basis.is_empty() || factor.source.is_some());
    let told: Vec<String> = told.map(basis_words).collect();
    if !told.is_empty() {
        document.heading("From");
        document.list(told);
    }
    if !answer.alternatives.is_empty() {
        document.heading("Other ways between the developers");
        document.list(answer.alternatives.iter().map(alternative_words).collect());
    }
    document
}

/// The conditions wanted, and first of all in what they differ from a record started from.
fn wanted_words(answer: &Estimate, to: &Setup) -> String {
    let dilution = dilution_words(to);
    let words = format!("{} {dilution} at {}, {}", to.developer.id, to.temperature, to.agitation);
    let Some(from) = answer.from.as_ref().filter(|_| answer.start.is_some()) else { return words };
    let mut differ: Vec<String> = Vec::new();
    if from.developer.id != to.developer.id {
        differ.push(from.developer.id.clone());
    }
    if from.developer.id != to.developer.id || !from.working.same_as(&to.working) {
        differ.push(dilution_words(from));
    }
    if from.temperature.to_string() != to.temperature.to_string() {
        differ.push(from.temperature.to_string());
    }
    if from.agitation != to.agitation {
        differ.push(from.agitation.clone());
    }
    if differ.is_empty() { words } else { format!("{words} (known: {})", differ.join(", ")) }
}

fn dilution_words(setup: &Setup) -> String {
    let dilution = setup.working.to_string();
    if dilution == "stock" { "undiluted".to_owned() } else { dilution }
}

/// The known time, each factor, and what they make together.
fn why_rows(answer: &Estimate) -> Vec<Vec<String>> {
    let show = |value: f64| show_decimals(value, 2);
    let span = |low: f64, high: f64| format!("({} to {})", show(low), show(high));
    let mut rows = Vec::new();
    let known = match (&answer.start, &answer.from) {
        (Some(start), _) => start.clone(),
        (None, Some(from)) => {
            format!("{}, {}, {}: yours", dilution_words(from), from.temperature, from.agitation)
        }
        (None, None) => String::new(),
    };
    rows.push(vec!["known".to_owned(), clock(answer.known), String::new(), known]);
    for factor in &answer.factors {
        let basis = factor.basis.split(": ").next().unwrap_or_default();
        let basis = basis.split(". ").next().unwrap_or_default().trim_end_matches('.');
        let basis = if basis.is_empty() {
            factor.support.to_string()
        } else {
            format!("{basis}; {}", factor.support)
        };
        rows.push(vec![
            factor.short.clone(),
            format!("\u{d7} {}", show(factor.factor)),
            span(factor.low, factor.high),
            basis,
        ]);
    }
    if answer.factors.len() > 1 {
        rows.push(vec![String::new(), "------".to_owned(), String::new(), String::new()]);
    }
    if !answer.factors.is_empty() {
        let against = |time: Duration| time.as_s() / answer.known.as_s();
        rows.push(vec![
            "together".to_owned(),
            format!("\u{d7} {}", show(against(answer.time))),
            span(against(answer.low), against(answer.high)),
            format!("rounded to {} s", show_short(answer.timer_step_s(), 0)),
        ]);
    }
    rows
}

/// What a record was worth.
fn record_words(record: &RecordWeight) -> String {
    if record.taken.starts_with("not used") {
        return format!("{}: {}", record.record, record.taken);
    }
    let percent = show_short(100.0 * record.weight, 0);
    format!("{}: {}; weighs {percent} %", record.record, record.taken)
}

/// What a figure of the books was worth.
fn book_words(book: &BookWeight) -> String {
    if book.share > 0.98 {
        return format!("{}: the books alone, your records do not tell", book.name);
    }
    let percent = show_short(100.0 * book.share, 0);
    format!("{}: {percent} % of the books' range is left after your records", book.name)
}

/// Where a factor comes from.
fn basis_words(factor: &Factor) -> String {
    let name = factor.name.split(',').next().unwrap_or_default();
    let basis = if factor.basis.is_empty() { String::new() } else { format!(": {}", factor.basis) };
    let source = factor.source.as_ref().map_or_else(String::new, |source| format!(" [{source}]"));
    format!("{name}{basis}{source}")
}

fn alternative_words(other: &Alternative) -> String {
    let show = |value: f64| show_decimals(value, 2);
    format!("{}: {} ({} to {})", other.by, show(other.factor), show(other.low), show(other.high))
}

/// `8:15`.
pub(in crate::render) fn clock(time: Duration) -> String {
    let whole = (time.as_s() + 0.5).floor();
    let minutes = (whole / 60.0).floor();
    format!("{minutes:.0}:{:02.0}", whole - minutes * 60.0)
}

/// `time --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct TimeBody {
    /// Conditions of the known time or of the record started from.
    pub from: Option<SetupBody>,
    /// Conditions wanted.
    pub to: SetupBody,
    /// The known time.
    pub known_seconds: f64,
    /// The time to start from, unrounded.
    pub seconds: f64,
    /// Low end of the range, unrounded.
    pub low_seconds: f64,
    /// High end of the range, unrounded.
    pub high_seconds: f64,
    /// The time as a timer is set.
    pub timer_seconds: f64,
    /// The step to which it is rounded.
    pub timer_step_seconds: f64,
    /// The record started from, in words.
    pub started_from: Option<String>,
    /// The derivation.
    pub factors: Vec<FactorBody>,
    /// What each own record weighed.
    pub records: Vec<RecordBody>,
    /// What the figures of the books were worth beside them.
    pub books: Vec<BookBody>,
    /// Other ways between the developers.
    pub alternatives: Vec<AlternativeBody>,
    /// What to mind.
    pub warnings: Vec<String>,
    /// Stable short names of the warnings, in the same order.
    pub warning_codes: Vec<&'static str>,
    /// What to test first.
    pub test_first: String,
}

/// Conditions of development.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SetupBody {
    /// Id of the formula.
    pub formula: String,
    /// Dilution.
    pub dilution: String,
    /// Temperature.
    pub temperature_c: f64,
    /// Way of agitation.
    pub agitation: String,
}

impl SetupBody {
    fn new(setup: &Setup) -> Self {
        Self {
            formula: setup.developer.id.clone(),
            dilution: setup.working.to_string(),
            temperature_c: setup.temperature.as_c(),
            agitation: setup.agitation.clone(),
        }
    }
}

/// One line of the derivation.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct FactorBody {
    /// What changes.
    pub name: String,
    /// Central factor.
    pub factor: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// `published`, `common-practice`, `memory`, `estimate`, `guess`, `own-record` or `given`.
    pub evidence: &'static str,
    /// Citation.
    pub source: Option<String>,
    /// Which figure was used.
    pub basis: String,
}

/// An own record.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct RecordBody {
    /// The record in words.
    pub record: String,
    /// How it was taken, or why not.
    pub taken: String,
    /// Its share of what all records weigh, 0 to 1.
    pub weight: f64,
}

/// A figure of the books.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct BookBody {
    /// Which figure.
    pub name: String,
    /// How much of its spread is left, 0 to 1.
    pub share_left: f64,
}

/// Another way.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct AlternativeBody {
    /// The formulas it passes.
    pub by: String,
    /// Its whole factor.
    pub factor: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

impl TimeBody {
    /// The document of an answer.
    pub fn new(answer: &Estimate, to: &Setup) -> Self {
        Self {
            from: answer.from.as_ref().map(SetupBody::new),
            to: SetupBody::new(to),
            known_seconds: answer.known.as_s(),
            seconds: answer.time.as_s(),
            low_seconds: answer.low.as_s(),
            high_seconds: answer.high.as_s(),
            timer_seconds: answer.timer().as_s(),
            timer_step_seconds: answer.timer_step_s(),
            started_from: answer.start.clone(),
            factors: answer
                .factors
                .iter()
                .map(|factor| FactorBody {
                    name: factor.name.clone(),
                    factor: factor.factor,
                    low: factor.low,
                    high: factor.high,
                    evidence: factor.support.word(),
                    source: factor.source.clone(),
                    basis: factor.basis.clone(),
                })
                .collect(),
            records: answer
                .records
                .iter()
                .map(|own| RecordBody {
                    record: own.record.clone(),
                    taken: own.taken.clone(),
                    weight: own.weight,
                })
                .collect(),
            books: answer
                .books
                .iter()
                .map(|book| BookBody { name: book.name.clone(), share_left: book.share })
                .collect(),
            alternatives: answer
                .alternatives
                .iter()
                .map(|other| AlternativeBody {
                    by: other.by.clone(),
                    factor: other.factor,
                    low: other.low,
                    high: other.high,
                })
                .collect(),
            warnings: answer.warnings.iter().map(ToString::to_string).collect(),
            warning_codes: answer.warnings.iter().map(Warning::code).collect(),
            test_first: answer.test_first(),
        }
    }
}

/// A cell of a wall chart: one temperature, one dilution, one known time.
#[derive(Debug)]
pub struct ChartCell {
    /// Conditions.
    pub to: Setup,
    /// The answer.
    pub answer: Estimate,
    /// Whether it is the known time itself.
    pub is_known: bool,
}

impl ChartCell {
    /// Whether the books' data do not reach so far.
    pub fn is_doubtful(&self) -> bool {
        self.answer.warnings.iter().any(|warning| FAR.contains(&warning.code()))
    }
}

/// Warnings that say that the data do not reach so far.
pub(in crate::render) const FAR: [&str; 3] =
    ["temperature-extrapolated", "large-temperature-step", "dilution-extrapolated"];

/// From when to when a developing time counts.
pub const CONVENTION: &str = "Times count from the start of pouring in to the start of pouring out.";
/// The same for sheets in a tray.
pub const CONVENTION_IN_A_TRAY: &str =
    "Times count from the first sheet in to the first sheet out, the order kept.";

/// A wall chart.
#[derive(Debug)]
pub struct Chart {
    /// Conditions of the known times.
    pub from: Setup,
    /// The film in the user's words, where one was named.
    pub film: Option<String>,
    /// Short name of the developer wanted, for the wall.
    pub name: String,
    /// The negative wanted.
    pub wish: Wish,
    /// Headings of the columns.
    pub columns: Vec<String>,
    /// A row for each temperature.
    pub rows: Vec<ChartRow>,
}

/// One temperature.
#[derive(Debug)]
pub struct ChartRow {
    /// The temperature.
    pub temperature: Temperature,
    /// The temperature in the unit of the thermometer on the wall.
    pub label: String,
    /// A cell for each column.
    pub cells: Vec<ChartCell>,
}

impl Chart {
    /// From when to when the times count.
    pub fn convention(&self) -> &'static str {
        if self.from.agitation == "tray" { CONVENTION_IN_A_TRAY } else { CONVENTION }
    }

    /// The film, or the time that a film must need for the chart to be its own.
    pub fn film_words(&self) -> String {
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
    pub fn contrast_words(&self) -> Option<String> {
        if let Some(gradient) = self.wish.gradient {
            return Some(format!("gradient {gradient:.2}"));
        }
        let steps = self.wish.contrast;
        (steps != 0.0).then(|| format!("{}{} step", if steps > 0.0 { "+" } else { "" }, show_short(steps, 2)))
    }

    /// What to mind, each with the temperatures where it applies.
    fn notes(&self) -> Vec<String> {
        self.notes_of(|_| true)
    }

    /// What to mind of some kinds.
    pub(in crate::render) fn notes_of(&self, is_wanted: impl Fn(&str) -> bool) -> Vec<String> {
        let mut notes: Vec<(&'static str, String, Vec<String>)> = Vec::new();
        for row in &self.rows {
            let warnings = row.cells.iter().flat_map(|cell| &cell.answer.warnings);
            for warning in warnings.filter(|own| is_wanted(own.code())) {
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

/// Columns of a chart, with that of the temperatures, for which a page has room in large print.
const WIDEST_IN_LARGE_PRINT: usize = 4;

/// The chart as a page for the wall.
pub fn chart_document(chart: &Chart) -> Document {
    let mut document = Document::new();
    let to = chart.rows.first().and_then(|row| row.cells.first()).map(|cell| &cell.to);
    let name = to.map_or(&chart.from.developer.id, |to| &to.developer.id);
    document.title(format!("{name}: developing times"));
    let mut facts = vec![("film".to_owned(), chart.film_words())];
    facts.extend(chart.contrast_words().map(|words| ("contrast".to_owned(), words)));
    if let Some(to) = to {
        facts.push(("agitation".to_owned(), to.agitation.clone()));
    }
    document.facts(facts);
    let mut columns = vec![Column::right("bath")];
    columns.extend(chart.columns.iter().map(|title| Column::right(title)));
    let rows = chart.rows.iter().map(|row| {
        let mut line = vec![row.label.clone()];
        line.extend(row.cells.iter().map(cell_words));
        line
    });
    let is_wide = columns.len() > WIDEST_IN_LARGE_PRINT;
    let table = |document: &mut Document| document.table(columns, rows.collect());
    if is_wide {
        table(&mut document);
    } else {
        document.print(Print::Large, table);
    }
    document
        .paragraph("Times are to start from, with the range in brackets; test before a film that matters. A ? stands where the data do not reach.");
    document.paragraph(chart.convention());
    document.list(chart.notes());
    document
}

/// `8:15 (7:30-9:00)`, minutes and seconds.
fn cell_words(cell: &ChartCell) -> String {
    let answer = &cell.answer;
    let doubt = if cell.is_doubtful() { "?" } else { "" };
    match answer.timer_range() {
        Some((low, high)) => format!("{} ({}-{}){doubt}", clock(answer.timer()), clock(low), clock(high)),
        None => format!("{} (known)", clock(answer.timer())),
    }
}

/// `chart --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ChartBody {
    /// Conditions of the known times.
    pub from: SetupBody,
    /// The film in the user's words; null where none was named.
    pub film: Option<String>,
    /// From when to when the times count.
    pub convention: &'static str,
    /// A row for each temperature.
    pub rows: Vec<ChartRowBody>,
    /// What to mind, with the temperatures where it applies.
    pub warnings: Vec<String>,
}

/// One temperature.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ChartRowBody {
    /// Temperature.
    pub temperature_c: f64,
    /// A cell for each column.
    pub cells: Vec<ChartCellBody>,
}

/// One time.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ChartCellBody {
    /// The known time.
    pub known_seconds: f64,
    /// Dilution.
    pub dilution: String,
    /// Time to start from, unrounded.
    pub seconds: f64,
    /// Low end of the range.
    pub low_seconds: f64,
    /// High end of the range.
    pub high_seconds: f64,
    /// Whether it is the known time itself.
    pub known: bool,
    /// Whether the data do not reach so far.
    pub doubtful: bool,
    /// Stable short names of what to mind.
    pub warning_codes: Vec<&'static str>,
}

impl ChartBody {
    /// The document of a chart.
    pub fn new(chart: &Chart) -> Self {
        let cell = |cell: &ChartCell| ChartCellBody {
            known_seconds: cell.answer.known.as_s(),
            dilution: cell.to.working.to_string(),
            seconds: cell.answer.time.as_s(),
            low_seconds: cell.answer.low.as_s(),
            high_seconds: cell.answer.high.as_s(),
            known: cell.is_known,
            doubtful: cell.is_doubtful(),
            warning_codes: cell.answer.warnings.iter().map(Warning::code).collect(),
        };
        Self {
            from: SetupBody::new(&chart.from),
            film: chart.film.clone(),
            convention: chart.convention(),
            rows: chart
                .rows
                .iter()
                .map(|row| ChartRowBody {
                    temperature_c: row.temperature.as_c(),
                    cells: row.cells.iter().map(cell).collect(),
                })
                .collect(),
            warnings: chart.notes(),
        }
    }
}

/// Factors of factorial development with the times they give.
pub fn factorial_document(appeared: Duration, found: &Factorial<'_>) -> Document {
    let mut document = Document::new();
    let agents = found.agents.iter().cloned().collect::<Vec<_>>().join(" + ");
    document.title(format!("{agents}: image after {appeared}"));
    let time = |factor: Option<f64>| {
        factor.map_or_else(String::new, |factor| {
            format!("{} (x{})", Duration::from_s(appeared.as_s() * factor), show_short(factor, 2))
        })
    };
    let rows = found.rows.iter().map(|row| {
        let strength = row.strength.clone().unwrap_or_else(|| "not stated".to_owned());
        vec![strength, time(row.soft), time(Some(row.figure.central)), time(row.strong)]
    });
    let columns = vec![
        Column::left("strength"),
        Column::right("soft"),
        Column::right("normal"),
        Column::right("strong"),
    ];
    document.table(columns, rows.collect());
    document.paragraph(spread_words(appeared, found));
    document.list(found.rows.iter().map(|row| factorial_source(row)).collect());
    document.paragraph(
        "Total time counts from pouring the developer on. The factor holds over moderate changes of temperature and alkali; that of pyro and amidol depends on strength. Keep your own: total time over time of appearance of a negative that was right.",
    );
    document
}

/// How far the sources are apart.
fn spread_words(appeared: Duration, found: &Factorial<'_>) -> String {
    let time = |factor: f64| Duration::from_s(appeared.as_s() * factor);
    if found.highest > found.lowest {
        format!(
            "The sources disagree, since they aim at different contrasts and strengths: factor {} to {}, that is {} to {}.",
            show_short(found.lowest, 2),
            show_short(found.highest, 2),
            time(found.lowest),
            time(found.highest)
        )
    } else {
        "A single figure; nothing to compare it with.".to_owned()
    }
}

fn factorial_source(row: &FactorialRow) -> String {
    let source = row.figure.source.clone().unwrap_or_else(|| row.figure.support.to_string());
    let note = row.figure.note.as_ref().map_or_else(String::new, |note| format!(" {note}"));
    format!("x{}: {source}.{note}", show_short(row.figure.central, 2))
}

/// `factorial --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct FactorialBody {
    /// Agents.
    pub agents: Vec<String>,
    /// Time of appearance.
    pub appeared_seconds: f64,
    /// Shortest total time of any source.
    pub low_seconds: f64,
    /// Longest total time of any source.
    pub high_seconds: f64,
    /// Factor of a mixture by parts, where one was asked.
    pub mixture: Option<MixtureBody>,
    /// The published factors.
    pub factors: Vec<FactorialRowBody>,
}

/// A mixture of agents.
#[derive(Debug, Clone, Copy, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct MixtureBody {
    /// Mean factor weighted by parts.
    pub factor: f64,
    /// Total time.
    pub seconds: f64,
}

/// One published factor.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct FactorialRowBody {
    /// Agents.
    pub agents: Vec<String>,
    /// Strength of the bath.
    pub strength: Option<String>,
    /// For a soft negative.
    pub soft: Option<f64>,
    /// Normal.
    pub normal: f64,
    /// For a strong negative.
    pub strong: Option<f64>,
    /// Total time with the normal factor.
    pub seconds: f64,
    /// Evidence.
    pub evidence: &'static str,
    /// Citation.
    pub source: Option<String>,
    /// What to know of it.
    pub note: Option<String>,
}

impl FactorialBody {
    /// The document of the factors of one or more agents.
    pub fn new(appeared: Duration, found: &[Factorial<'_>], mixture: Option<f64>) -> Self {
        let seconds = |factor: f64| appeared.as_s() * factor;
        let lowest = found.iter().map(|one| one.lowest).fold(f64::INFINITY, f64::min);
        let highest = found.iter().map(|one| one.highest).fold(0.0, f64::max);
        let row = |row: &&FactorialRow| FactorialRowBody {
            agents: row.agents.iter().cloned().collect(),
            strength: row.strength.clone(),
            soft: row.soft,
            normal: row.figure.central,
            strong: row.strong,
            seconds: seconds(row.figure.central),
            evidence: row.figure.support.word(),
            source: row.figure.source.clone(),
            note: row.figure.note.clone(),
        };
        Self {
            agents: found.iter().flat_map(|one| one.agents.iter().cloned()).collect(),
            appeared_seconds: appeared.as_s(),
            low_seconds: seconds(mixture.unwrap_or(lowest)),
            high_seconds: seconds(mixture.unwrap_or(highest)),
            mixture: mixture.map(|factor| MixtureBody { factor, seconds: seconds(factor) }),
            factors: found.iter().flat_map(|one| one.rows.iter().map(row)).collect(),
        }
    }
}
