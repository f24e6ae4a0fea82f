//! The baths of prints: `silver`, `capacity`, `wash`.

use clap::Args;

use super::super::arguments::{temperature, volume};
use super::super::context::Context;
use super::super::error::CliError;
use super::{figure, maybe_figure, maybe_seconds, tell, with_unit};
use crate::exposure::{
    Baths, PaperSheet, SilverPerSheet, mg_per_sq_in, sheets_per_litre, two_baths, units_left, washed,
};
use crate::quantity::{QuantityError, Volume};
use crate::render::exposure::json::ExposureBody;
use crate::render::exposure::words;

const SILVER: &str = "\
Examples:
  soupcon exposure silver --sheet 38.7mg --carried 10ml --sheets 40 --volume 1L
  soupcon exposure silver --sheet 38.7mg --limit 0.5g/L
  soupcon exposure silver --sheet 8x10in --coating 1.5g/m2 --dissolved 0.5 --limit 2g/L

0.5 g/L is the customary limit of a single bath for lasting prints, 2 g/L of the first of two.";

/// Arguments of `exposure silver`.
#[derive(Debug, Args)]
#[command(after_help = SILVER)]
pub(super) struct SilverArguments {
    /// Silver that a sheet gives to the fixer, or its size: 38.7mg, 8x10in
    #[arg(long, value_name = "SILVER|SIZE")]
    sheet: String,
    /// Silver coated on the paper, with a size [default: 1.5g/m2, from memory]
    #[arg(long, visible_alias = "silver", value_name = "COATING")]
    coating: Option<String>,
    /// Share of it that the fixer dissolves, with a size [default: 0.5]
    #[arg(long, value_name = "SHARE")]
    dissolved: Option<String>,
    /// What a drained sheet carries from bath to bath
    #[arg(long, value_name = "VOLUME")]
    carried: Option<String>,
    /// How many sheets have gone through
    #[arg(long, value_name = "NUMBER", requires = "volume")]
    sheets: Option<String>,
    /// Volume of each bath
    #[arg(long, value_name = "VOLUME", requires = "sheets")]
    volume: Option<String>,
    /// Silver at which a bath is spent [default: 0.5g/L]
    #[arg(long, value_name = "SILVER")]
    limit: Option<String>,
}

/// Silver coated on paper where nobody says otherwise, g/m²; from memory.
const COATING: f64 = 1.5;
/// Share of it that is left unexposed and dissolved; an old trade magazine's "about half".
const DISSOLVED: f64 = 0.5;
/// Limit of a single bath for lasting prints, g/L; a print-washer maker's page.
const LIMIT: f64 = 0.5;

fn sheet(argument: &str, text: &str) -> Result<PaperSheet, CliError> {
    text.parse().map_err(|error: QuantityError| {
        CliError::argument(argument, error, "write a size as 8x10in, 30.5x40.6cm or a4")
    })
}

pub(super) fn silver(arguments: &SilverArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let (own, units) = if arguments.sheet.to_lowercase().trim_end().ends_with("mg") {
        if arguments.coating.is_some() || arguments.dissolved.is_some() {
            let message = "the silver of the sheet is given already";
            return Err(CliError::argument(
                "--coating",
                message,
                "give a size with --coating: --sheet 8x10in",
            ));
        }
        (SilverPerSheet::from_mg(with_unit("--sheet", &arguments.sheet, &[("mg", 1.0)], "38.7mg")?)?, None)
    } else {
        let sheet = sheet("--sheet", &arguments.sheet)?;
        let coating = arguments.coating.as_deref();
        let coating =
            coating.map_or(Ok(COATING), |text| with_unit("--coating", text, &[("g/m2", 1.0)], "1.5g/m2"))?;
        let dissolved =
            maybe_figure("--dissolved", arguments.dissolved.as_deref(), "0.5")?.unwrap_or(DISSOLVED);
        (SilverPerSheet::from_coating(coating, dissolved, sheet.area_cm2())?, Some(sheet.units()))
    };
    let carried = arguments.carried.as_deref().map(|text| volume("--carried", text)).transpose()?;
    let carried_ml = carried.map_or(0.0, Volume::as_ml);
    let limit = arguments.limit.as_deref();
    let limit = limit.map_or(Ok(LIMIT), |text| with_unit("--limit", text, &[("g/L", 1.0)], "0.5g/L"))?;
    let per_litre = sheets_per_litre(own, limit, carried_ml)?;
    let baths = match (&arguments.sheets, &arguments.volume) {
        (Some(sheets), Some(text)) => {
            let sheets = figure("--sheets", sheets, "40")?;
            let volume_ml = volume("--volume", text)?.as_ml();
            Some(Baths { silver: own, carried_ml, sheets, volume_ml })
        }
        _ => None,
    };
    let after = baths.as_ref().map(two_baths).transpose()?;
    let told = baths.as_ref().zip(after.as_ref());
    let warnings = after.as_ref().map(|own| own.warnings.clone()).unwrap_or_default();
    tell(
        context,
        &warnings,
        || words::silver(own.milligrams, limit, per_litre, told),
        || ExposureBody::silver(own.milligrams, limit, per_litre, told, units),
    )
}

const CAPACITY: &str = "\
Examples:
  soupcon exposure capacity --sheet 30.5x40.6cm                   in sheets of 8 x 10 in
  soupcon exposure capacity --per-litre 25 --volume 1.5L --done 10x8x10in --done 6x12x16in";

/// Arguments of `exposure capacity`.
#[derive(Debug, Args)]
#[command(after_help = CAPACITY)]
pub(super) struct CapacityArguments {
    /// A size of paper, to be told in sheets of 8 × 10 in
    #[arg(long, value_name = "SIZE", required_unless_present = "per_litre")]
    sheet: Option<String>,
    /// What a litre of the bath does, in sheets of 8 × 10 in
    #[arg(long, value_name = "NUMBER", requires = "volume")]
    per_litre: Option<String>,
    /// Volume of the bath
    #[arg(long, value_name = "VOLUME", requires = "per_litre")]
    volume: Option<String>,
    /// Sheets that have gone through, number and size: 10x8x10in
    #[arg(long, value_name = "SHEETS", requires = "per_litre")]
    done: Vec<String>,
}

pub(super) fn capacity(arguments: &CapacityArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let units =
        arguments.sheet.as_deref().map(|text| sheet("--sheet", text)).transpose()?.map(|own| own.units());
    let left = match (&arguments.per_litre, &arguments.volume) {
        (Some(per_litre), Some(text)) => {
            let done = arguments.done.iter().map(|text| {
                let wrong = || {
                    CliError::argument(
                        "--done",
                        format!("`{text}` is not a number of sheets"),
                        "write it as 10x8x10in",
                    )
                };
                let (count, size) = text.split_once(['x', '×']).ok_or_else(wrong)?;
                let count = figure("--done", count, "10")?;
                if !(0.0..=1e6).contains(&count) {
                    return Err(wrong());
                }
                Ok((count, sheet("--done", size)?))
            });
            let done = done.collect::<Result<Vec<_>, CliError>>()?;
            let litres = volume("--volume", text)?.as_ml() / 1000.0;
            Some(units_left(figure("--per-litre", per_litre, "25")?, litres, &done)?)
        }
        _ => None,
    };
    tell(context, &[], || words::capacity(units, left), || ExposureBody::capacity(units, left))?;
    Ok(u8::from(left.is_some_and(|left| left < 0.0)))
}

const WASH: &str = "\
Examples:
  soupcon exposure wash 60min --to-temp 10C
  soupcon exposure wash --residue 1.4ug/cm2               in other units";

/// Arguments of `exposure wash`.
#[derive(Debug, Args)]
#[command(after_help = WASH)]
pub(super) struct WashArguments {
    /// The washing time at the first temperature
    #[arg(required_unless_present = "residue", requires = "to_temp", conflicts_with = "residue")]
    time: Option<String>,
    /// The temperature it is for [default: 20C]
    #[arg(long, value_name = "TEMPERATURE", requires = "time")]
    from_temp: Option<String>,
    /// The temperature of the water
    #[arg(long, value_name = "TEMPERATURE", requires = "time")]
    to_temp: Option<String>,
    /// A residue: g/m2, mg/m2, ug/cm2, mg/sqin
    #[arg(long, value_name = "RESIDUE")]
    residue: Option<String>,
}

pub(super) fn wash(arguments: &WashArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let residue = arguments.residue.as_deref().map(|text| {
        // A square inch is 6.4516 cm² exactly.
        let units = [("ug/cm2", 0.01), ("mg/m2", 0.001), ("mg/sqin", 1.0 / mg_per_sq_in(1.0)), ("g/m2", 1.0)];
        with_unit("--residue", text, &units, "1.4ug/cm2")
    });
    let residue = residue.transpose()?.map(|grams| (grams, mg_per_sq_in(grams)));
    if residue.is_some_and(|(grams, _)| !(0.0..=1e6).contains(&grams)) {
        return Err(CliError::argument(
            "--residue",
            "a residue is not below zero",
            "write such as 1.4ug/cm2",
        ));
    }
    let time = maybe_seconds("TIME", arguments.time.as_deref())?;
    let to = arguments.to_temp.as_deref().map(|text| temperature("--to-temp", text)).transpose()?;
    let from = arguments.from_temp.as_deref().map(|text| temperature("--from-temp", text)).transpose()?;
    let washed = match (time, to) {
        (Some(time), Some(to)) => Some((time.as_s(), washed(time, from, to)?)),
        _ => None,
    };
    let told = washed.as_ref().map(|(from_s, own)| (*from_s, own));
    let warnings = washed.as_ref().map(|(_, own)| own.warnings.clone()).unwrap_or_default();
    tell(context, &warnings, || words::wash(told, residue), || ExposureBody::wash(told, residue))
}
