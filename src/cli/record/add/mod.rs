//! From what is typed to an entry in the journal.

mod bottles;
mod developed;
mod measured;
mod printed;

use crate::cli::conditions::journal_error;
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::cli::record::arguments::{Add, Common};
use crate::journal::{Entry, Filled, Journal, Mixed, append_patiently};
use crate::render::Document;
use crate::render::json::document;
use crate::render::record::{AddedBody, EntryBody, entry_words};
use bottles::{count, discarded, mixed, replenished};
use developed::{developed, judged};
use measured::measured;
use printed::printed;

pub(super) fn run(add: &Add, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let (common, entry) = entry(add, context)?;
    write(&entry, common, context)
}

/// Appends several entries and tells the journal; all are read before the first is written.
pub(super) fn append_all(all: &[Add], context: &mut Context<'_, '_>) -> Result<String, CliError> {
    let mut entries = Vec::new();
    for own in all {
        let (common, entry) = entry(own, context)?;
        entry.check().map_err(|error| CliError::argument("record", &error, error.fix()))?;
        entries.push((common.journal.path(context)?, entry));
    }
    let mut told = String::new();
    for (path, entry) in entries {
        let waiting = format!("waiting for another program that is writing to {}", path.display());
        append_patiently(&path, &entry, &mut || context.warn(&waiting))
            .map_err(|error| journal_error(&error))?;
        told = path.display().to_string();
    }
    Ok(told)
}

/// The entry that was typed, with when and where.
fn entry<'a>(add: &'a Add, context: &mut Context<'_, '_>) -> Result<(&'a Common, Entry), CliError> {
    Ok(match add {
        Add::Mixed(own) => (&own.common, mixed(own, context)?),
        Add::Developed(own) => (&own.common, developed(own, context)?),
        Add::Judged(own) => (&own.common, judged(own, context)?),
        Add::Replenished(own) => (&own.common, replenished(own, context)?),
        Add::Measured(own) => (&own.common, measured(own, context)?),
        Add::Printed(own) => (&own.common, printed(own, context)?),
        Add::Count(own) => (&own.common, count(own, context)?),
        Add::Discarded(own) => (&own.common, discarded(own, context)?),
    })
}

/// Appends the entry and says so.
fn write(entry: &Entry, common: &Common, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    entry.check().map_err(|error| CliError::argument("record", &error, error.fix()))?;
    let path = common.journal.path(context)?;
    let waiting = format!("waiting for another program that is writing to {}", path.display());
    append_patiently(&path, entry, &mut || context.warn(&waiting)).map_err(|error| journal_error(&error))?;
    let text = format!("{}: recorded in {}", entry_words(entry), path.display());
    let told = context.answer(
        || {
            let mut answer = Document::new();
            answer.paragraph(text);
            answer
        },
        || document(AddedBody { journal: path.display().to_string(), entry: EntryBody::new(entry) }),
    );
    let told = told.and_then(|()| context.streams.out.flush().map_err(CliError::from));
    told.map(|()| 0).map_err(|error| match error {
        CliError::Output { source } => CliError::Recorded { path: path.display().to_string(), source },
        other => other,
    })
}

/// Names as typed, without those that say nothing.
fn names(argument: &str, typed: &[String]) -> Result<Vec<String>, CliError> {
    let names: Vec<String> = typed.iter().map(|name| name.trim().to_owned()).collect();
    if names.iter().any(String::is_empty) {
        return Err(CliError::argument(argument, "a name between commas is empty", "write it as D3,D4"));
    }
    if let Some(twice) = names
        .iter()
        .enumerate()
        .find_map(|(index, name)| names.iter().skip(index + 1).find(|own| *own == name))
    {
        return Err(CliError::argument(argument, format!("`{twice}` is named twice"), "name each once"));
    }
    Ok(names)
}

/// The journal as far as it is there; what cannot be read of it is left for others to tell.
fn journal_so_far(common: &Common, context: &Context<'_, '_>) -> Result<Journal, CliError> {
    let path = common.journal.path(context)?;
    Journal::read(&path).map_err(|error| journal_error(&error))
}

/// The bottles that stand now under a name: itself, or "NAME A", "NAME B" of a formula in parts; with what was mixed into them.
fn standing<'j>(journal: &'j Journal, name: &str) -> Vec<(&'j Filled, &'j Mixed)> {
    let mut fillings: Vec<(&Filled, &Mixed)> = Vec::new();
    for entry in &journal.entries {
        match entry {
            Entry::Mixed(mixed) => {
                for filled in &mixed.filled {
                    let is_part =
                        filled.part.as_ref().is_some_and(|part| filled.bottle == format!("{name} {part}"));
                    if filled.bottle == name || is_part {
                        fillings.retain(|(own, _)| own.bottle != filled.bottle);
                        fillings.push((filled, mixed));
                    }
                }
            }
            Entry::Discarded(discarded) => {
                fillings.retain(|(own, _)| {
                    !discarded.bottles.iter().any(|bottle| *bottle == own.bottle || bottle == name)
                });
            }
            _ => {}
        }
    }
    fillings
}

/// Bottles as they stand, each part by its own name; one that nobody filled is told.
fn known_bottles(
    argument: &str,
    typed: &[String],
    journal: &Journal,
    context: &mut Context<'_, '_>,
) -> Result<Vec<String>, CliError> {
    let mut bottles = Vec::new();
    for name in names(argument, typed)? {
        let standing_bottle = standing(journal, &name);
        if standing_bottle.is_empty() {
            context.warn(&format!(
                "no bottle {name} stands in the journal: `soupcon record add mixed FORMULA VOLUME --bottle {name}` begins its life"
            ));
            bottles.push(name);
        } else {
            bottles.extend(standing_bottle.into_iter().map(|(filled, _)| filled.bottle.clone()));
        }
    }
    Ok(bottles)
}

/// One bottle that stands, by its whole name.
fn one_bottle(name: &str, common: &Common, context: &mut Context<'_, '_>) -> Result<String, CliError> {
    let journal = journal_so_far(common, context)?;
    let bottles = known_bottles("--bottle", &[name.to_owned()], &journal, context)?;
    match bottles.as_slice() {
        [bottle] => Ok(bottle.clone()),
        several => {
            let message = format!("{} is in parts: {}", name.trim(), several.join(", "));
            Err(CliError::argument("--bottle", message, "name one of them"))
        }
    }
}
