//! `soupcon record`: the user's journal.

use std::time::{SystemTime, UNIX_EPOCH};

use clap::{Args, Subcommand, ValueEnum};

use super::arguments::{date, ratio, temperature};
use super::conditions::{JournalArguments, developer, duration, journal_error, timing_error, timing_table};
use super::context::Context;
use super::error::CliError;
use crate::journal::{Date, Developed, Entry, Journal, Verdict, append_patiently, dilution_text};
use crate::quantity::rounding::show_short;
use crate::quantity::{Duration, MixRatio, Temperature};
use crate::render::json::document;
use crate::render::{Column, Document};
use crate::timing::{Table, USUAL_AGITATION, same_film};

const EXAMPLES: &str = "\
Examples:
  soupcon record add developed 8:30 --film \"my 400 film\" --formula mq-borax-classic --dilution 1+1 --temp 20C --verdict right
  soupcon record list --film \"my 400 film\"

The journal only grows: entries are appended and never changed.";

/// Arguments of `record`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct RecordArguments {
    #[command(subcommand)]
    action: Action,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// Append an entry
    #[command(subcommand)]
    Add(Add),
    /// Print the entries
    List(ListArguments),
}

#[derive(Debug, Subcommand)]
enum Add {
    /// A film that was developed
    Developed(DevelopedArguments),
}

/// Arguments of `record add developed`.
#[derive(Debug, Args)]
struct DevelopedArguments {
    /// Time in the developer: 8min, 8:30, 8m30s, 510s
    time: String,
    /// The film, in your own words
    #[arg(long, value_name = "FILM")]
    film: String,
    /// The developer
    #[arg(long, value_name = "FORMULA")]
    formula: String,
    /// Its dilution: stock, 1+1, or for a formula in parts A+B+water [default: undiluted, or its only way of use]
    #[arg(long, value_name = "DILUTION")]
    dilution: Option<String>,
    /// Temperature of the bath
    #[arg(long, value_name = "TEMPERATURE", default_value = "20C")]
    temp: String,
    /// Agitation: inversion, tray, rotary, tank-lift, stand, water-bath
    #[arg(long, value_name = "AGITATION", default_value = USUAL_AGITATION)]
    agitation: String,
    /// Gradient, if it was measured: a pure number such as 0.58
    #[arg(long, value_name = "GRADIENT")]
    gradient: Option<f64>,
    /// How the negatives came out; only times judged right make factors of your own
    #[arg(long, value_enum)]
    verdict: Option<VerdictWord>,
    /// When [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    date: Option<String>,
    /// Anything else
    #[arg(long, value_name = "WORDS")]
    note: Option<String>,
    #[command(flatten)]
    journal: JournalArguments,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum VerdictWord {
    /// Too little density
    Thin,
    /// As wanted
    Right,
    /// Too much density
    Dense,
}

impl From<VerdictWord> for Verdict {
    fn from(word: VerdictWord) -> Self {
        match word {
            VerdictWord::Thin => Self::Thin,
            VerdictWord::Right => Self::Right,
            VerdictWord::Dense => Self::Dense,
        }
    }
}

/// Arguments of `record list`.
#[derive(Debug, Args)]
struct ListArguments {
    /// Only entries of this film
    #[arg(long, value_name = "FILM")]
    film: Option<String>,
    #[command(flatten)]
    journal: JournalArguments,
}

pub(super) fn run(arguments: &RecordArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    match &arguments.action {
        Action::Add(Add::Developed(own)) => add_developed(own, context),
        Action::List(own) => list(own, context),
    }
}

fn add_developed(arguments: &DevelopedArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let table = timing_table(&context.library)?;
    let time = duration("TIME", &arguments.time)?;
    let developer = developer(context, &table, &arguments.formula, &mut Vec::new())?;
    let typed = arguments.dilution.as_deref().map(|text| ratio("--dilution", text)).transpose()?;
    let working = developer.working(typed.as_ref());
    let dilution: MixRatio = match (working, typed) {
        (Ok(working), _) => ratio("--dilution", &working.to_string())?,
        // Two baths and the like have no one dilution; what happened may be noted all the same.
        (Err(_), Some(typed))
            if developer.must_be_timed(&crate::timing::Working::stock(), &table).is_err() =>
        {
            typed
        }
        (Err(error), _) => return Err(timing_error("--dilution", &error)),
    };
    let date = match &arguments.date {
        Some(text) => date("--date", text)?,
        None => today()?,
    };
    let entry = Entry::Developed(Developed {
        date,
        film: arguments.film.trim().to_owned(),
        formula: developer.id.clone(),
        dilution,
        temperature: temperature("--temp", &arguments.temp)?,
        agitation: agitation_name(&table, &arguments.agitation)?,
        minutes: time.as_min(),
        gradient: arguments.gradient,
        verdict: arguments.verdict.map(Verdict::from),
        note: arguments.note.clone(),
    });
    entry.check().map_err(|error| CliError::argument("record", &error, error.fix()))?;
    let path = arguments.journal.path(context)?;
    let waiting = format!("waiting for another program that is writing to {}", path.display());
    append_patiently(&path, &entry, &mut || context.warn(&waiting)).map_err(|error| journal_error(&error))?;
    let text = format!("{}: recorded in {}", entry_words(&entry), path.display());
    let told = context.answer(
        || {
            let mut answer = Document::new();
            answer.paragraph(text);
            answer
        },
        || document(AddedBody { journal: path.display().to_string(), entry: EntryBody::new(&entry) }),
    );
    let told = told.and_then(|()| context.streams.out.flush().map_err(CliError::from));
    told.map(|()| 0).map_err(|error| match error {
        CliError::Output { source } => CliError::Recorded { path: path.display().to_string(), source },
        other => other,
    })
}

/// A way of agitation by the table's name, also one that timing refuses.
fn agitation_name(table: &Table, typed: &str) -> Result<String, CliError> {
    let wanted = typed.trim().to_lowercase().replace([' ', '_'], "-");
    let names = || table.agitations().iter().map(|one| one.name.as_str());
    names().find(|name| *name == wanted).map(str::to_owned).ok_or_else(|| {
        let known = names().collect::<Vec<_>>().join(", ");
        let message = format!("`{}` is not a way of agitation", typed.trim());
        CliError::argument("--agitation", message, format!("choose one of {known}"))
    })
}

/// Today's date by the system's clock, in universal time.
fn today() -> Result<Date, CliError> {
    let days = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .ok()
        .and_then(|since| i64::try_from(since.as_secs() / 86_400).ok())
        .and_then(Date::from_days_since_1970);
    days.ok_or_else(|| {
        CliError::argument("--date", "the system's clock tells no usable date", "give --date 2026-11-25")
    })
}

fn list(arguments: &ListArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let journal: Journal = arguments.journal.read(context)?;
    let wanted = |entry: &&Entry| match (&arguments.film, entry) {
        (None, _) => true,
        (Some(film), Entry::Developed(developed)) => same_film(film, &developed.film),
        (Some(_), _) => false,
    };
    let entries: Vec<&Entry> = journal.entries.iter().filter(wanted).collect();
    context.answer(
        || list_document(&entries),
        || {
            document(ListBody {
                entries: entries.iter().map(|entry| EntryBody::new(entry)).collect(),
                unread: journal.unread.iter().map(ToString::to_string).collect(),
            })
        },
    )?;
    Ok(0)
}

fn list_document(entries: &[&Entry]) -> Document {
    let mut answer = Document::new();
    let (developed, others): (Vec<&Entry>, Vec<&Entry>) =
        entries.iter().partition(|entry| matches!(entry, Entry::Developed(_)));
    let rows = developed.iter().filter_map(|entry| match entry {
        Entry::Developed(own) => Some(developed_row(own)),
        _ => None,
    });
    let columns = vec![
        Column::left("date"),
        Column::left("film"),
        Column::left("developer"),
        Column::right("bath"),
        Column::left("agitation"),
        Column::right("time"),
        Column::right("gradient"),
        Column::left("verdict"),
    ];
    answer.table(columns, rows.collect());
    answer.list(others.into_iter().map(entry_words).collect());
    if entries.is_empty() {
        answer.paragraph("No entries.");
    }
    answer
}

fn developed_row(own: &Developed) -> Vec<String> {
    vec![
        own.date.to_string(),
        own.film.clone(),
        format!("{} {}", own.formula, dilution_text(&own.dilution)),
        own.temperature.to_string(),
        own.agitation.clone(),
        Duration::from_min(own.minutes).to_string(),
        own.gradient.map_or_else(String::new, |gradient| show_short(gradient, 2)),
        own.verdict.map_or_else(String::new, |verdict| verdict.word().to_owned()),
    ]
}

/// An entry on one line.
fn entry_words(entry: &Entry) -> String {
    let head = format!("{} {}", entry.date(), entry.kind());
    match entry {
        Entry::Developed(own) => {
            let mut row = developed_row(own);
            row.retain(|cell| !cell.is_empty());
            format!("{head}: {}", row.get(1..).unwrap_or_default().join(", "))
        }
        Entry::Bath(own) => {
            let volume =
                own.volume_ml.map_or_else(String::new, |volume| format!(", {} mL", show_short(volume, 1)));
            let formula = own.formula.as_ref().map_or_else(String::new, |formula| format!(", {formula}"));
            format!("{head}: {}{formula}{volume}", own.bath)
        }
        Entry::Measured(own) => {
            let unit = own.unit.as_ref().map_or_else(String::new, |unit| format!(" {unit}"));
            format!("{head}: {}, {} {}{unit}", own.subject, own.quantity, show_short(own.value, 3))
        }
    }
}

/// `record list --json`.
#[derive(serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct ListBody {
    entries: Vec<EntryBody>,
    /// Entries that are kept but cannot be read, in words.
    unread: Vec<String>,
}

/// `record add --json`.
#[derive(serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct AddedBody {
    journal: String,
    entry: EntryBody,
}

/// An entry; what does not belong to its kind is absent.
#[derive(Default, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct EntryBody {
    kind: &'static str,
    date: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    film: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bath: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    formula: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    dilution: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    agitation: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seconds: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gradient: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    volume_ml: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    subject: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    quantity: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

impl EntryBody {
    fn new(entry: &Entry) -> Self {
        let body = Self { kind: entry.kind(), date: entry.date().to_string(), ..Self::default() };
        match entry {
            Entry::Developed(own) => Self {
                film: Some(own.film.clone()),
                formula: Some(own.formula.clone()),
                dilution: Some(dilution_text(&own.dilution)),
                temperature_c: Some(Temperature::as_c(own.temperature)),
                agitation: Some(own.agitation.clone()),
                seconds: Some(own.minutes * 60.0),
                gradient: own.gradient,
                verdict: own.verdict.map(Verdict::word),
                note: own.note.clone(),
                ..body
            },
            Entry::Bath(own) => Self {
                bath: Some(own.bath.clone()),
                formula: own.formula.clone(),
                volume_ml: own.volume_ml,
                note: own.note.clone(),
                ..body
            },
            Entry::Measured(own) => Self {
                subject: Some(own.subject.clone()),
                quantity: Some(own.quantity.clone()),
                value: Some(own.value),
                unit: own.unit.clone(),
                note: own.note.clone(),
                ..body
            },
        }
    }
}
