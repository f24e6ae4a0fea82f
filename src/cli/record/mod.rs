//! `soupcon record`: the user's journal.

mod add;
mod arguments;

use std::time::{SystemTime, UNIX_EPOCH};

use clap::{Args, Subcommand};

use super::conditions::JournalArguments;
use super::context::Context;
use super::error::CliError;
use crate::journal::{Date, Entry, Journal};
use crate::render::json::document;
use crate::render::record::{EntryBody, ListBody, bottles, list_document};
use crate::timing::same_film;
use arguments::Add;

const EXAMPLES: &str = "\
Examples:
  soupcon record add mixed mq-borax-classic 1L --bottle D3,D4
  soupcon record add developed 8:30 --bottle D3 --films 2x135 --rolls R-061,R-062 --tank 600ml
  soupcon record add judged R-061 --shadows right --highlights blocked
  soupcon record add replenished 88ml --bottle D3
  soupcon record add measured --clearing 60s --bottle F1
  soupcon record add measured --gradient 0.58 --roll R-061
  soupcon record add printed --sheets 12x8x10in --bottle F2
  soupcon record add count 7 --bottle F1
  soupcon record add discarded --bottle F1
  soupcon record list --film \"my 400 film\"

The journal only grows: entries are appended and never changed.";

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
    Add(Box<Add>),
    /// Print the entries
    List(ListArguments),
}

/// Arguments of `record list`.
#[derive(Debug, Args)]
struct ListArguments {
    /// Only entries of this film
    #[arg(long, value_name = "FILM")]
    film: Option<String>,
    /// Only entries of this bottle
    #[arg(long, value_name = "NAME")]
    bottle: Option<String>,
    #[command(flatten)]
    journal: JournalArguments,
}

pub(super) fn run(arguments: &RecordArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    match &arguments.action {
        Action::Add(add) => add::run(add, context),
        Action::List(own) => list(own, context),
    }
}

/// A line as `evening` prints it: `soupcon record add …`.
#[derive(Debug, clap::Parser)]
#[command(no_binary_name = true)]
struct Line {
    #[command(subcommand)]
    add: Add,
}

/// Appends what the lines tell (the words after `add`); nothing where one of them tells nothing. Says into which journal.
pub(super) fn append_lines(lines: &[Vec<String>], context: &mut Context<'_, '_>) -> Result<String, CliError> {
    let mut all = Vec::new();
    for words in lines {
        let line = <Line as clap::Parser>::try_parse_from(words).map_err(|error| {
            let message = error.to_string();
            let first = message.lines().next().unwrap_or_default().trim_start_matches("error: ").to_owned();
            CliError::argument(
                "--record",
                first,
                "record the tank by hand with `soupcon record add developed`",
            )
        })?;
        all.push(line.add);
    }
    add::append_all(&all, context)
}

/// Today's date by the system's clock, in universal time.
pub(super) fn today() -> Result<Date, CliError> {
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
    let of_film = |entry: &Entry| match (&arguments.film, entry) {
        (None, _) => true,
        (Some(film), Entry::Developed(own)) => own.film.as_deref().is_some_and(|own| same_film(film, own)),
        (Some(film), Entry::Curve(own)) => same_film(film, &own.film),
        (Some(_), _) => false,
    };
    let of_bottle = |entry: &Entry| {
        arguments.bottle.as_ref().is_none_or(|bottle| bottles(entry).any(|own| own == bottle))
    };
    let entries: Vec<&Entry> =
        journal.entries.iter().filter(|entry| of_film(entry) && of_bottle(entry)).collect();
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
