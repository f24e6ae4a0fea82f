//! Entries about films: developed, judged.

use super::bottles::dilution_of;
use super::{journal_so_far, known_bottles, names, standing};
use crate::cli::arguments::{temperature, volume};
use crate::cli::bath::films_option;
use crate::cli::conditions::{duration, timing_error, timing_table};
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::cli::record::arguments::{DevelopedArguments, JudgedArguments};
use crate::journal::{Developed, Draw, Entry, Highlights, Journal, Judged, Shadows, Verdict};
use crate::quantity::{Films, MixRatio, Volume, parse_number};
use crate::timing::TimingTable;

pub(super) fn developed(
    arguments: &DevelopedArguments,
    context: &mut Context<'_, '_>,
) -> Result<Entry, CliError> {
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
pub(super) fn films(argument: &str, text: &str) -> Result<Films, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(argument, error, "write 4films, 2x135, 2x135-36,1x120 or 6x4x5in")
    })
}

/// A way of agitation by the table's name, also one that timing refuses.
pub(super) fn agitation_name(table: &TimingTable, typed: &str) -> Result<String, CliError> {
    let found = table.agitation_named(typed, true).map_err(|error| timing_error("--agitation", &error))?;
    Ok(found.name.clone())
}

pub(super) fn judged(arguments: &JudgedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
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
