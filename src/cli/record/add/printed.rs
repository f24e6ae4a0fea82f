//! Entries about prints.

use super::developed::films;
use super::{journal_so_far, known_bottles};
use crate::cli::conditions::duration;
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::cli::record::arguments::PrintedArguments;
use crate::exposure::{Local, PrintExposure};
use crate::journal::{Entry, Printed};
use crate::quantity::parse_number;

pub(super) fn printed(
    arguments: &PrintedArguments,
    context: &mut Context<'_, '_>,
) -> Result<Entry, CliError> {
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
        exposure_s: exposure.as_ref().map(|exposure| (exposure.base_s() * 1000.0).round() / 1000.0),
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
