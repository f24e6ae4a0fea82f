//! Entries about what was measured: a quantity, a silver reading, a curve.

use super::bottles::dilution_of;
use super::developed::agitation_name;
use super::{journal_so_far, one_bottle};
use crate::cli::arguments::temperature;
use crate::cli::conditions::{duration, timing_table};
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::cli::record::arguments::MeasuredArguments;
use crate::journal::{CurveMeasured, Entry, Journal, Measurement};
use crate::quantity::{Duration, parse_number};
use crate::timing::USUAL_AGITATION;

pub(super) fn measured(
    arguments: &MeasuredArguments,
    context: &mut Context<'_, '_>,
) -> Result<Entry, CliError> {
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
    let film = arguments.film.clone().or_else(|| of_roll.and_then(|of_roll| of_roll.film.clone()));
    let formula = arguments.formula.clone().or_else(|| of_roll.map(|of_roll| of_roll.formula.clone()));
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
            .or_else(|| of_roll.map(|of_roll| of_roll.temperature))
            .unwrap_or(crate::quantity::Temperature::from_c(crate::quantity::USUAL_C)),
        agitation,
        minutes: typed_minutes
            .or_else(|| of_roll.map(|of_roll| of_roll.minutes))
            .ok_or_else(|| missing("--time"))?,
        gradient,
        speed: arguments.speed,
        roll: arguments.roll.as_ref().map(|roll| roll.trim().to_owned()),
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}
