//! From what is typed to an entry in the journal.

use super::super::bath::films_option;
use super::arguments::{
    Add, Common, CountArguments, DevelopedArguments, DiscardedArguments, JudgedArguments, MeasuredArguments,
    MixedArguments, PrintedArguments, ReplenishedArguments,
};
use crate::cli::arguments::{ratio, temperature, volume};
use crate::cli::conditions::{developer, duration, journal_error, timing_error, timing_table};
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::exposure::{Local, PrintExposure};
use crate::journal::{
    Count, CurveMeasured, Developed, Discarded, Draw, Entry, Filled, Highlights, Journal, Judged,
    Measurement, Mixed, Printed, Replenished, Shadows, Taken, Verdict, append_patiently,
};
use crate::quantity::{Duration, Films, MixRatio, Volume, parse_number};
use crate::render::Document;
use crate::render::json::document;
use crate::render::record::{AddedBody, EntryBody, entry_words};
use crate::scale;
use crate::scale::Unit;
use crate::timing::{Table, USUAL_AGITATION, Working};

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
    let mut found: Vec<(&Filled, &Mixed)> = Vec::new();
    for entry in &journal.entries {
        match entry {
            Entry::Mixed(mixed) => {
                for filled in &mixed.filled {
                    let is_part =
                        filled.part.as_ref().is_some_and(|part| filled.bottle == format!("{name} {part}"));
                    if filled.bottle == name || is_part {
                        found.retain(|(own, _)| own.bottle != filled.bottle);
                        found.push((filled, mixed));
                    }
                }
            }
            Entry::Discarded(discarded) => {
                found.retain(|(own, _)| {
                    !discarded.bottles.iter().any(|bottle| *bottle == own.bottle || bottle == name)
                });
            }
            _ => {}
        }
    }
    found
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
        let found = standing(journal, &name);
        if found.is_empty() {
            context.warn(&format!(
                "no bottle {name} stands in the journal: `soupcon record add mixed FORMULA VOLUME --bottle {name}` begins its life"
            ));
            bottles.push(name);
        } else {
            bottles.extend(found.into_iter().map(|(filled, _)| filled.bottle.clone()));
        }
    }
    Ok(bottles)
}

fn mixed(arguments: &MixedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    let typed = names("--bottle", &arguments.bottle)?;
    let found = context.formula(&arguments.batch.formula)?;
    let relations = context.relations()?;
    let request = arguments.batch.request(&found.formula, &relations, context)?;
    let batch = scale::scale(&found.formula, &request, &relations)?;
    let taken = batch.parts.iter().flat_map(|part| &part.items).map(|item| Taken {
        form: item.form.id.clone(),
        amount: item.amount,
        is_ml: item.unit == Unit::Millilitre,
    });
    let taken: Vec<Taken> = taken.collect();
    let bottles = u32::try_from(typed.len().max(1)).map_or(1.0, f64::from);
    let each = |total_ml: f64| Some(total_ml / bottles);
    let (volume_ml, dilution) = match &batch.working {
        Some((volume, ratio)) => (Some(volume.as_ml()), Some(ratio.clone())),
        None => (batch.parts.first().map(|part| part.volume.as_ml()), None),
    };
    let mut filled = Vec::new();
    for name in &typed {
        if dilution.is_some() || batch.parts.len() < 2 {
            filled.push(Filled { bottle: name.clone(), part: None, volume_ml: volume_ml.and_then(each) });
            continue;
        }
        filled.extend(batch.parts.iter().enumerate().map(|(index, part)| {
            let part_name = part.name.clone().unwrap_or_else(|| (index + 1).to_string());
            Filled {
                bottle: format!("{name} {part_name}"),
                part: Some(part_name),
                volume_ml: each(part.volume.as_ml()),
            }
        }));
    }
    let journal = journal_so_far(&arguments.common, context)?;
    for own in &filled {
        if let [(_, before), ..] = standing(&journal, &own.bottle).as_slice() {
            let what = before.formula.as_deref().unwrap_or("something else");
            context.warn(&format!(
                "bottle {} was filled on {} with {what} and not thrown out in the journal; a new life begins, the old one ends",
                own.bottle, before.date
            ));
        }
    }
    Ok(Entry::Mixed(Mixed {
        date: arguments.common.date()?,
        formula: Some(found.formula.id.clone()),
        volume_ml,
        dilution,
        filled,
        taken,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

/// The dilution as typed, or the usual one of the formula.
fn dilution_of(
    context: &mut Context<'_, '_>,
    table: &Table,
    formula: &str,
    typed: Option<&str>,
) -> Result<(String, MixRatio), CliError> {
    let developer = developer(context, table, formula, &mut Vec::new())?;
    let typed = typed.map(|text| ratio("--dilution", text)).transpose()?;
    let dilution = match (developer.working(typed.as_ref()), typed) {
        (Ok(working), _) => ratio("--dilution", &working.to_string())?,
        // Two baths and the like have no one dilution; what happened may be noted all the same.
        (Err(_), Some(typed)) if developer.must_be_timed(&Working::stock(), table).is_err() => typed,
        (Err(error), _) => return Err(timing_error("--dilution", &error)),
    };
    Ok((developer.id.clone(), dilution))
}

fn developed(arguments: &DevelopedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    let table = timing_table(&context.library)?;
    let time = duration("TIME", &arguments.time)?;
    if arguments.film.is_none() && arguments.bottle.is_empty() {
        let fix = "give --film FILM, in your own words, or --bottle NAME";
        return Err(CliError::argument("--film", "neither a film nor a bottle is named", fix));
    }
    let journal = if arguments.bottle.is_empty() {
        Journal::default()
    } else {
        journal_so_far(&arguments.common, context)?
    };
    let bottles = known_bottles("--bottle", &arguments.bottle, &journal, context)?;
    let first = arguments.bottle.first().map(|name| standing(&journal, name.trim())).unwrap_or_default();
    let contents = first.first().map(|(_, mixed)| *mixed);
    let formula = match (&arguments.formula, contents.and_then(|mixed| mixed.formula.clone())) {
        (Some(formula), _) => formula.clone(),
        (None, Some(formula)) => formula,
        (None, None) => {
            let message = "the developer is not named, and the journal does not know what is in the bottle";
            return Err(CliError::argument("--formula", message, "give --formula FORMULA"));
        }
    };
    // A bottle of working solution is poured as it is.
    let in_bottle = contents.and_then(|mixed| mixed.dilution.clone());
    let (formula, dilution) = match (&arguments.dilution, &in_bottle) {
        (None, Some(dilution)) => (context.formula(&formula)?.formula.id, dilution.clone()),
        (typed, _) => dilution_of(context, &table, &formula, typed.as_deref())?,
    };
    let is_undiluted = dilution.parts().len() == 1 || in_bottle.as_ref() == Some(&dilution);
    Ok(Entry::Developed(Developed {
        date: arguments.common.date()?,
        film: arguments.film.as_ref().map(|film| film.trim().to_owned()),
        formula,
        draws: draws(arguments, &bottles, first.len().max(1), &dilution, is_undiluted)?,
        dilution,
        temperature: temperature("--temp", &arguments.temp)?,
        agitation: agitation_name(&table, &arguments.agitation)?,
        minutes: time.as_min(),
        gradient: arguments.gradient,
        verdict: arguments.verdict.map(Verdict::from),
        shadows: arguments.shadows.map(Shadows::from),
        highlights: arguments.highlights.map(Highlights::from),
        films: arguments.films.as_deref().map(|text| films_option("--films", text)).transpose()?,
        rolls: names("--rolls", &arguments.rolls)?,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

/// What each bottle gave and got back: the first `developers` bottles hold the developer, its parts in their order.
fn draws(
    arguments: &DevelopedArguments,
    bottles: &[String],
    developers: usize,
    dilution: &MixRatio,
    is_undiluted: bool,
) -> Result<Vec<Draw>, CliError> {
    let typed = |argument: &str, text: &Option<String>| {
        text.as_deref().map(|text| volume(argument, text).map(Volume::as_ml)).transpose()
    };
    let tank = typed("--tank", &arguments.tank)?;
    let drawn = typed("--drawn", &arguments.drawn)?;
    // `0ml` is a plain answer here.
    let nothing = arguments.returned.as_deref().is_some_and(|text| {
        parse_number(text.trim().trim_end_matches(|letter: char| letter.is_alphabetic())) == Ok(0.0)
    });
    let returned = if nothing { Some(0.0) } else { typed("--returned", &arguments.returned)? };
    for (argument, given) in [("--drawn", drawn), ("--returned", returned)] {
        if given.is_some() && (bottles.is_empty() || developers > 1) {
            let message = "this tells what one bottle gave, and there is not one";
            return Err(CliError::argument(argument, message, "name one bottle of developer with --bottle"));
        }
    }
    let total: f64 = dilution.parts().iter().sum();
    let draw = |(index, bottle): (usize, &String)| {
        if index >= developers {
            // A bath that goes back as it came.
            return Draw { bottle: bottle.clone(), drawn_ml: tank, returned_ml: tank };
        }
        let share =
            if is_undiluted { 1.0 } else { dilution.parts().get(index).copied().unwrap_or_default() / total };
        let drawn_ml = drawn.or(tank.map(|tank| tank * share));
        let back = if is_undiluted { drawn_ml } else { Some(0.0) };
        Draw { bottle: bottle.clone(), drawn_ml, returned_ml: returned.or(back) }
    };
    Ok(bottles.iter().enumerate().map(draw).collect())
}

/// An amount of films.
fn films(argument: &str, text: &str) -> Result<Films, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(argument, error, "write 4films, 2x135, 2x135-36,1x120 or 6x4x5in")
    })
}

/// A way of agitation by the table's name, also one that timing refuses.
fn agitation_name(table: &Table, typed: &str) -> Result<String, CliError> {
    let found = table.agitation_named(typed, true).map_err(|error| timing_error("--agitation", &error))?;
    Ok(found.name.clone())
}

fn judged(arguments: &JudgedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    let roll = arguments.roll.trim().to_owned();
    if journal_so_far(&arguments.common, context)?.roll(&roll).is_none() {
        context.warn(&format!(
            "no development of roll {roll} stands in the journal yet; the judgement waits for it"
        ));
    }
    let verdict = arguments.verdict.map(|word| Highlights::from(Verdict::from(word)));
    Ok(Entry::Judged(Judged {
        date: arguments.common.date()?,
        roll,
        shadows: arguments.shadows.map(Shadows::from),
        highlights: arguments.highlights.map(Highlights::from).or(verdict),
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
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

fn replenished(arguments: &ReplenishedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    let formula = arguments
        .formula
        .as_ref()
        .map(|name| Ok::<_, CliError>(context.formula(name)?.formula.id))
        .transpose()?;
    let from = match &arguments.from {
        Some(name) => Some(one_bottle(name, &arguments.common, context)?),
        None => None,
    };
    Ok(Entry::Replenished(Replenished {
        date: arguments.common.date()?,
        bottle: one_bottle(&arguments.bottle, &arguments.common, context)?,
        formula,
        volume_ml: Some(volume("VOLUME", &arguments.volume)?.as_ml()),
        from,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

fn measured(arguments: &MeasuredArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    if let Some(gradient) = arguments.gradient {
        return curve(arguments, gradient, context);
    }
    let name = arguments.bottle.as_deref().unwrap_or_default();
    let bottle = one_bottle(name, &arguments.common, context)?;
    let (quantity, value, unit) = if let Some(ph) = arguments.ph {
        if !(-1.0..=15.0).contains(&ph) {
            let message = format!("a pH of {ph} is none");
            return Err(CliError::argument(
                "--ph",
                message,
                "give what the meter or the strip shows, such as 8.4",
            ));
        }
        ("pH", ph, None)
    } else if let Some(text) = &arguments.silver {
        ("silver", silver(text)?, Some("g/L".to_owned()))
    } else {
        let text = arguments.clearing.as_deref().unwrap_or_default();
        ("clearing", duration("--clearing", text)?.as_min() * 60.0, Some("s".to_owned()))
    };
    Ok(Entry::Measured(Measurement {
        date: arguments.common.date()?,
        subject: bottle,
        quantity: quantity.to_owned(),
        value,
        unit,
        film: arguments.film.as_ref().map(|film| film.trim().to_owned()),
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

/// Silver in g/L, as `1.5g/L`.
fn silver(text: &str) -> Result<f64, CliError> {
    let plain = text.trim().to_lowercase();
    let (figure, factor) = match (plain.strip_suffix("mg/l"), plain.strip_suffix("g/l")) {
        (Some(figure), _) => (figure, 0.001),
        (None, Some(figure)) => (figure, 1.0),
        (None, None) => {
            let message = format!("`{}` does not say grams in how much", text.trim());
            return Err(CliError::argument("--silver", message, "write it as 1.5g/L"));
        }
    };
    let value = parse_number(figure)
        .map_err(|error| CliError::argument("--silver", error, "write it as 1.5g/L"))?
        * factor;
    if (0.0..=100.0).contains(&value) {
        return Ok(value);
    }
    Err(CliError::argument("--silver", format!("{value} g/L cannot be"), "fixers hold up to about 10g/L"))
}

fn curve(
    arguments: &MeasuredArguments,
    gradient: f64,
    context: &mut Context<'_, '_>,
) -> Result<Entry, CliError> {
    let table = timing_table(&context.library)?;
    let journal = if arguments.roll.is_some() {
        journal_so_far(&arguments.common, context)?
    } else {
        Journal::default()
    };
    let of_roll = arguments.roll.as_deref().and_then(|roll| journal.roll(roll.trim()));
    let missing = |argument: &'static str| {
        let message = match &arguments.roll {
            Some(roll) => format!("the journal does not tell it of roll {}", roll.trim()),
            None => "it is not known without --roll".to_owned(),
        };
        CliError::argument(
            argument,
            message,
            format!("give {argument}, or --roll of a development in the journal"),
        )
    };
    let film = arguments.film.clone().or_else(|| of_roll.and_then(|own| own.film.clone()));
    let formula = arguments.formula.clone().or_else(|| of_roll.map(|own| own.formula.clone()));
    let formula = formula.ok_or_else(|| missing("--formula"))?;
    let typed_minutes =
        arguments.time.as_deref().map(|text| duration("--time", text).map(Duration::as_min)).transpose()?;
    let (formula, dilution) = match (of_roll, &arguments.dilution) {
        (Some(own), None) => (formula, own.dilution.clone()),
        (_, typed) => dilution_of(context, &table, &formula, typed.as_deref())?,
    };
    let typed_temperature = arguments.temp.as_deref().map(|text| temperature("--temp", text)).transpose()?;
    let agitation = match (&arguments.agitation, of_roll) {
        (None, Some(own)) => own.agitation.clone(),
        (typed, _) => agitation_name(&table, typed.as_deref().unwrap_or(USUAL_AGITATION))?,
    };
    Ok(Entry::Curve(CurveMeasured {
        date: arguments.common.date()?,
        film: film.ok_or_else(|| missing("--film"))?.trim().to_owned(),
        formula,
        dilution,
        temperature: typed_temperature
            .or_else(|| of_roll.map(|own| own.temperature))
            .unwrap_or(crate::quantity::Temperature::from_c(crate::quantity::USUAL_C)),
        agitation,
        minutes: typed_minutes.or_else(|| of_roll.map(|own| own.minutes)).ok_or_else(|| missing("--time"))?,
        gradient,
        speed: arguments.speed,
        roll: arguments.roll.as_ref().map(|roll| roll.trim().to_owned()),
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

fn printed(arguments: &PrintedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    let bottles = if arguments.bottle.is_empty() {
        Vec::new()
    } else {
        let journal = journal_so_far(&arguments.common, context)?;
        known_bottles("--bottle", &arguments.bottle, &journal, context)?
    };
    let places = arguments.local.iter().map(|text| text.parse::<Local>()).collect::<Result<Vec<_>, _>>()?;
    let exposure = arguments.exposure.as_deref().map(|text| duration("--exposure", text)).transpose()?;
    // The stops are what is kept; the seconds follow from them.
    let exposure = exposure.map(|base| PrintExposure::new(base, places)).transpose()?;
    Ok(Entry::Printed(Printed {
        date: arguments.common.date()?,
        sheets: films("--sheets", &arguments.sheets)?,
        bottles,
        negative: arguments.negative.clone(),
        paper: arguments.paper_used.clone(),
        grade: arguments.grade.clone(),
        exposure_s: exposure.as_ref().map(|own| (own.base_s() * 1000.0).round() / 1000.0),
        exposure: exposure.as_ref().map(PrintExposure::to_text),
        stops: arguments.stops.as_deref().map(stops).transpose()?,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

/// Stops with their sign, as a decimal, a fraction or both: `+1/3`, `-0.5`, `+1 1/3`.
fn stops(text: &str) -> Result<f64, CliError> {
    let wrong = || {
        let message = format!("`{}` is no number of stops with its sign", text.trim());
        CliError::argument(
            "--stops",
            message,
            "write +1/3 for a third of a stop more light, -0.5 for half a stop less",
        )
    };
    let trimmed = text.trim();
    let sign = match trimmed.chars().next() {
        Some('+') => 1.0,
        Some('-' | '−') => -1.0,
        _ if parse_number(trimmed) == Ok(0.0) => return Ok(0.0),
        _ => return Err(wrong()),
    };
    let figure: String = trimmed.chars().skip(1).collect();
    let parts: Vec<&str> = figure.split_whitespace().collect();
    let one = |text: &str| -> Option<f64> {
        let value = match text.split_once('/') {
            None => parse_number(text).ok()?,
            Some((above, below)) => {
                parse_number(above).ok()? / parse_number(below).ok().filter(|&own| own > 0.0)?
            }
        };
        (!text.starts_with(['+', '-'])).then_some(value)
    };
    let value = match parts.as_slice() {
        [value] => one(value),
        [whole, fraction] if fraction.contains('/') => {
            one(whole).zip(one(fraction)).map(|(one, two)| one + two)
        }
        _ => None,
    };
    value.map(|value| sign * value).ok_or_else(wrong)
}

fn count(arguments: &CountArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    Ok(Entry::Count(Count {
        date: arguments.common.date()?,
        bottle: one_bottle(&arguments.bottle, &arguments.common, context)?,
        films: arguments.films,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

fn discarded(arguments: &DiscardedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    let journal = journal_so_far(&arguments.common, context)?;
    Ok(Entry::Discarded(Discarded {
        date: arguments.common.date()?,
        bottles: known_bottles("--bottle", &arguments.bottle, &journal, context)?,
        formula: None,
        volume_ml: None,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}
