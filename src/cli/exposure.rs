//! `soupcon exposure`: the sums under the enlarger. One file a group of sums; here what they share.

mod baths;
mod contrast;
mod local;
mod seconds;
mod size;
mod strip;

use clap::{Args, Subcommand};

use super::context::Context;
use super::error::CliError;
use crate::exposure::{Clock, ExposureError, ExposureWarning, Length, Stops};
use crate::quantity::{Duration, QuantityError};
use crate::render::Document;
use crate::render::exposure::json::ExposureBody;
use crate::render::json::document;

const EXAMPLES: &str = "\
Examples:
  soupcon exposure change 12s --stops +1/3
  soupcon exposure strip 8s --step 1/3 --strips 7 --format html -o strip.html
  soupcon exposure size 10s --from 4x --to 8x
  soupcon exposure two-filter --soft 8s,20s --hard 24s,10s
  soupcon exposure table --format html -o wall.html     for the wall: no keyboard in the dark

`soupcon exposure SUM --help` has the options of a sum and its examples.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ExposureArguments {
    #[command(subcommand)]
    sum: Sum,
}

#[derive(Debug, Subcommand)]
enum Sum {
    /// Print stops in seconds for the wall
    Table(strip::TableArguments),
    /// Change an exposure by stops, to a time, by percent, or for dry-down
    Change(seconds::ChangeArguments),
    /// Work out a test strip in even stops, and print its card
    Strip(strip::StripArguments),
    /// Work out what the lamp loses at each switching
    Lamp(seconds::LampArguments),
    /// Change the size of the picture or the diaphragm
    Size(size::SizeArguments),
    /// Find the paper range that fits a negative
    Range(contrast::RangeArguments),
    /// Work out the exposures through a soft and a hard filter
    TwoFilter(contrast::TwoFilterArguments),
    /// Burn in: how much more a place gets
    Burn(local::BurnArguments),
    /// Dodge: how long a place is held back
    Dodge(local::DodgeArguments),
    /// Change the filter or the paper
    Filter(seconds::FilterArguments),
    /// Change the film of a contact sheet
    Contact(seconds::ContactArguments),
    /// Work out a time from a lux meter and the paper's speed
    Metered(seconds::MeteredArguments),
    /// Work out the silver in the fixing baths, and sheets per litre
    Silver(baths::SilverArguments),
    /// Count sheets by area, and what a bath still does
    Capacity(baths::CapacityArguments),
    /// Change the temperature of a wash
    Wash(baths::WashArguments),
}

pub(super) fn run(arguments: &ExposureArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    match &arguments.sum {
        Sum::Table(table) => strip::table(table, context),
        Sum::Change(change) => seconds::change(change, context),
        Sum::Strip(strip) => strip::strip(strip, context),
        Sum::Lamp(lamp) => seconds::lamp(lamp, context),
        Sum::Size(size) => size::run(size, context),
        Sum::Range(range) => contrast::range(range, context),
        Sum::TwoFilter(two_filter) => contrast::two_filter(two_filter, context),
        Sum::Burn(burn) => local::burn(burn, context),
        Sum::Dodge(dodge) => local::dodge(dodge, context),
        Sum::Filter(filter) => seconds::filter(filter, context),
        Sum::Contact(contact) => seconds::contact(contact, context),
        Sum::Metered(metered) => seconds::metered(metered, context),
        Sum::Silver(silver) => baths::silver(silver, context),
        Sum::Capacity(capacity) => baths::capacity(capacity, context),
        Sum::Wash(wash) => baths::wash(wash, context),
    }
}

impl From<ExposureError> for CliError {
    fn from(error: ExposureError) -> Self {
        if error.is_request() {
            return Self::argument("exposure", &error, error.fix());
        }
        Self::Refused { code: error.code(), message: error.to_string(), fix: error.fix() }
    }
}

/// Prints an answer, and its warnings on standard error.
fn tell(
    context: &mut Context<'_, '_>,
    warnings: &[ExposureWarning],
    words: impl FnOnce() -> Document,
    body: impl FnOnce() -> ExposureBody,
) -> Result<u8, CliError> {
    context.answer(words, || document(body()))?;
    warn(context, warnings);
    Ok(0)
}

fn warn(context: &mut Context<'_, '_>, warnings: &[ExposureWarning]) {
    for warning in warnings {
        context.warn(&warning.to_string());
    }
}

/// A time under the enlarger.
fn seconds(argument: &str, text: &str) -> Result<Duration, CliError> {
    text.parse().map_err(|error: QuantityError| {
        CliError::argument(argument, error, "write seconds or minutes: 12s, 8.5s, 1:30")
    })
}

/// The same where it may be left out.
fn maybe_seconds(argument: &str, text: Option<&str>) -> Result<Option<Duration>, CliError> {
    text.map(|text| seconds(argument, text)).transpose()
}

/// A change of time: `+3s`, `-1.5s`.
fn signed_seconds(argument: &str, text: &str) -> Result<f64, CliError> {
    let trimmed = text.trim();
    let (sign, rest) = match trimmed.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, trimmed.strip_prefix('+').unwrap_or(trimmed)),
    };
    Ok(sign * seconds(argument, rest)?.as_s())
}

fn stops(argument: &str, text: &str) -> Result<Stops, CliError> {
    text.parse().map_err(|error: QuantityError| {
        CliError::argument(argument, error, "write stops as +1/3, -2/3, 1 1/2 or 0.5")
    })
}

fn length(argument: &str, text: &str) -> Result<Length, CliError> {
    text.parse().map_err(|error: QuantityError| {
        CliError::argument(argument, error, "write the length with its unit: 36mm, 24cm, 10in")
    })
}

fn maybe_length(argument: &str, text: Option<&str>) -> Result<Option<Length>, CliError> {
    text.map(|text| length(argument, text)).transpose()
}

/// A bare figure: a density, a factor, a speed.
fn figure(argument: &str, text: &str, example: &str) -> Result<f64, CliError> {
    super::arguments::number(argument, text, &format!("write a plain figure such as {example}"))
}

fn maybe_figure(argument: &str, text: Option<&str>, example: &str) -> Result<Option<f64>, CliError> {
    text.map(|text| figure(argument, text, example)).transpose()
}

/// A figure with one of some units behind it, in the first of them; `sizes` are what the others are in it.
fn with_unit(argument: &str, text: &str, units: &[(&str, f64)], example: &str) -> Result<f64, CliError> {
    let plain = text.trim().replace('²', "2").replace(['µ', 'μ'], "u");
    let lower = plain.to_lowercase();
    let fix = format!("write it with its unit, such as {example}");
    let found = units.iter().find_map(|(unit, size)| Some((lower.strip_suffix(&unit.to_lowercase())?, size)));
    let Some((figure, size)) = found else {
        let message = format!(
            "`{}` has none of the units {}",
            text.trim(),
            units.iter().map(|unit| unit.0).collect::<Vec<_>>().join(", ")
        );
        return Err(CliError::argument(argument, message, fix));
    };
    Ok(super::arguments::number(argument, figure, &fix)? * size)
}

/// The timer: by option, by the environment, or by the configuration.
fn clock(given: Option<&str>, context: &Context<'_, '_>) -> Result<Clock, CliError> {
    Ok(context.settings.clock(given)?.value)
}

/// A share in percent: `8%`; where the option's name is the unit a bare figure too.
fn percent(argument: &str, text: &str, unit_is_named: bool) -> Result<f64, CliError> {
    let trimmed = text.trim();
    let rest = match trimmed.strip_suffix('%') {
        Some(rest) => rest,
        None if unit_is_named => trimmed,
        None => {
            let message = format!("`{trimmed}` has no %");
            return Err(CliError::argument(argument, message, "write it with its sign: 8%"));
        }
    };
    super::arguments::number(argument, rest, "write percent as +15, -10 or 8%")
}
