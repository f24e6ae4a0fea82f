//! `soupcon water`: hot and cold tap water to a temperature.

use clap::Args;

use super::arguments::{temperature, volume};
use super::context::Context;
use super::error::CliError;
use crate::quantity::rounding::{show_step, to_step};
use crate::render::Document;
use crate::render::json::document;
use crate::render::water::WaterBody;
use crate::scale::dose::measuring_step_ml;
use crate::solution::hot_volume_for_target;

const EXAMPLES: &str = "\
Examples:
  soupcon water 1L --hot 45C --cold 12C --target 20C
  soupcon water 750ml --hot 60C --cold 20C --target 50C
  soupcon water 1L --hot 113F --cold 55F --target 68F

The heat balance uses the density and enthalpy of real water; each volume is measured at its own temperature.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct WaterArguments {
    /// How much water, at the target temperature
    volume: String,
    /// Temperature of the hot water [default: the configuration's `hot_tap`]
    #[arg(long, allow_hyphen_values = true)]
    hot: Option<String>,
    /// Temperature of the cold water [default: the configuration's `cold_tap`]
    #[arg(long, allow_hyphen_values = true)]
    cold: Option<String>,
    /// Temperature wanted
    #[arg(long, allow_hyphen_values = true)]
    target: String,
}

pub(super) fn run(arguments: &WaterArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let volume = volume("VOLUME", &arguments.volume)?;
    let hot = context.settings.hot_tap(arguments.hot.as_deref())?;
    let hot = hot.ok_or_else(|| unknown_tap("--hot 45C", "hot_tap"))?.value;
    let cold = context.settings.cold_tap(arguments.cold.as_deref())?;
    let cold = cold.ok_or_else(|| unknown_tap("--cold 12C", "cold_tap"))?.value;
    let target = temperature("--target", &arguments.target)?;
    let blend =
        hot_volume_for_target(volume.as_ml(), target.as_c(), hot.as_c(), cold.as_c()).map_err(|error| {
            CliError::Refused { code: "water", message: error.to_string(), fix: error.fix().to_owned() }
        })?;
    context.answer(
        || {
            let mut answer = Document::new();
            let words = |ml: f64| {
                let step = measuring_step_ml(ml.max(volume.as_ml() / 10.0));
                format!("{} mL", show_step(to_step(ml, step), step))
            };
            answer.facts(vec![
                (format!("hot, {hot}"), words(blend.hot_ml)),
                (format!("cold, {cold}"), words(blend.cold_ml)),
                ("makes".to_owned(), format!("{volume} at {target}")),
            ]);
            answer.list(vec!["Read the thermometer: a cold vessel takes a degree or two.".to_owned()]);
            answer
        },
        || document(WaterBody { hot_ml: blend.hot_ml, cold_ml: blend.cold_ml }),
    )?;
    Ok(0)
}

/// A temperature that nobody gave.
fn unknown_tap(example: &str, key: &str) -> CliError {
    let option = example.split(' ').next().unwrap_or(example);
    let fix = format!("give {example}, or write `{key}` into the configuration (see `soupcon config`)");
    CliError::argument(option, "the temperature of this tap is not known", fix)
}
