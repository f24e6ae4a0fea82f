//! Sums from one time to another: `change`, `lamp`, `filter`, `contact`, `metered`.

use clap::Args;

use super::super::context::Context;
use super::super::error::CliError;
use super::{figure, maybe_figure, maybe_seconds, percent, seconds, stops, tell};
use crate::exposure::{
    By, by_factor, by_log_exposure, by_paper_speed, by_speed, change as changed, change_to,
    contact as contacted, lamp_effect, lamp_loss,
};
use crate::render::exposure::json::ExposureBody;
use crate::render::exposure::words;

const CHANGE: &str = "\
Examples:
  soupcon exposure change 12s --stops +1/3
  soupcon exposure change 10s --to 16s                  how many stops that is
  soupcon exposure change 12s --percent +15
  soupcon exposure change 20s --dry-down 8%             for paper that darkens as it dries";

/// Arguments of `exposure change`.
#[derive(Debug, Args)]
#[command(after_help = CHANGE)]
#[command(group(clap::ArgGroup::new("by").required(true).args(["stops", "to", "percent", "dry_down"])))]
pub(super) struct ChangeArguments {
    /// The exposure: 12s, 1:30; without it only the change is told
    time: Option<String>,
    /// By stops: +1/3, -2/3, 1 1/2
    #[arg(long, value_name = "STOPS", allow_hyphen_values = true)]
    stops: Option<String>,
    /// To this time
    #[arg(long, value_name = "TIME", requires = "time")]
    to: Option<String>,
    /// By percent of the time: +15, -10
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    percent: Option<String>,
    /// Less by what the print darkens in drying: 8%
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    dry_down: Option<String>,
}

pub(super) fn change(arguments: &ChangeArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let from = maybe_seconds("TIME", arguments.time.as_deref())?;
    let time_change = match (&arguments.stops, &arguments.to, &arguments.percent, &arguments.dry_down, from) {
        (Some(text), ..) => changed(from, By::Stops(stops("--stops", text)?))?,
        (_, Some(text), _, _, Some(from)) => change_to(from, seconds("--to", text)?),
        (_, _, Some(text), ..) => changed(from, By::Percent(percent("--percent", text, true)?))?,
        (_, _, _, Some(text), _) => changed(from, By::DryDown(percent("--dry-down", text, false)?))?,
        _ => {
            let fix = "give --stops, --to, --percent or --dry-down";
            return Err(CliError::argument("exposure change", "no change is given", fix));
        }
    };
    tell(
        context,
        &time_change.warnings,
        || words::change(&time_change),
        || ExposureBody::change(&time_change),
    )
}

const LAMP: &str = "\
Examples:
  soupcon exposure lamp --pulses 10 --pulse 1.15s --matches 10s   ten pulses as grey as one exposure
  soupcon exposure lamp 2s --lost 0.15s                           what a loss does at 2 s

Measure it with paper, without a negative, to a light grey.";

/// Arguments of `exposure lamp`.
#[derive(Debug, Args)]
#[command(after_help = LAMP)]
pub(super) struct LampArguments {
    /// A setting, with --lost
    #[arg(requires = "lost", conflicts_with_all = ["pulses", "pulse", "matches"])]
    time: Option<String>,
    /// How many pulses
    #[arg(long, value_name = "NUMBER", requires_all = ["pulse", "matches"])]
    pulses: Option<usize>,
    /// The setting of each
    #[arg(long, value_name = "TIME", requires = "pulses")]
    pulse: Option<String>,
    /// The single exposure that gives the same grey
    #[arg(long, value_name = "TIME", requires = "pulses")]
    matches: Option<String>,
    /// What each switching loses
    #[arg(long, value_name = "TIME", requires = "time")]
    lost: Option<String>,
}

pub(super) fn lamp(arguments: &LampArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    if let (Some(time), Some(lost)) = (&arguments.time, &arguments.lost) {
        let own = lamp_effect(seconds("TIME", time)?, seconds("--lost", lost)?)?;
        return tell(context, &[], || words::lamp_effect(&own), || ExposureBody::lamp_effect(&own));
    }
    let (Some(pulses), Some(pulse), Some(matches)) = (arguments.pulses, &arguments.pulse, &arguments.matches)
    else {
        let fix = "give --pulses 10 --pulse 1.15s --matches 10s, or a time with --lost";
        return Err(CliError::argument("exposure lamp", "nothing is measured", fix));
    };
    let own = lamp_loss(pulses, seconds("--pulse", pulse)?, seconds("--matches", matches)?)?;
    tell(context, &own.warnings, || words::lamp_loss(&own), || ExposureBody::lamp_loss(&own))
}

const FILTER: &str = "\
Examples:
  soupcon exposure filter 8s --from-factor 1.0 --to-factor 1.9
  soupcon exposure filter 10s --from-speed 250 --to-speed 160     another paper, by ISO speed

Factors are your own: time with the filter over time without, for one tone, lamp and paper.";

/// Arguments of `exposure filter`.
#[derive(Debug, Args)]
#[command(after_help = FILTER)]
pub(super) struct FilterArguments {
    /// The exposure
    time: String,
    /// Your factor of the filter in use
    #[arg(long, value_name = "FACTOR", requires = "to_factor", required_unless_present = "from_speed")]
    from_factor: Option<String>,
    /// Your factor of the other filter
    #[arg(long, value_name = "FACTOR", requires = "from_factor")]
    to_factor: Option<String>,
    /// Speed of the paper in use
    #[arg(long, value_name = "SPEED", requires = "to_speed", conflicts_with = "from_factor")]
    from_speed: Option<String>,
    /// Speed of the other paper
    #[arg(long, value_name = "SPEED", requires = "from_speed")]
    to_speed: Option<String>,
}

pub(super) fn filter(arguments: &FilterArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let time = seconds("TIME", &arguments.time)?;
    let factor = |name: &str, text: &Option<String>| figure(name, text.as_deref().unwrap_or_default(), "1.9");
    let speed_change = if arguments.from_speed.is_some() {
        by_speed(
            time,
            factor("--from-speed", &arguments.from_speed)?,
            factor("--to-speed", &arguments.to_speed)?,
        )?
    } else {
        by_factor(
            time,
            factor("--from-factor", &arguments.from_factor)?,
            factor("--to-factor", &arguments.to_factor)?,
        )?
    };
    tell(
        context,
        &speed_change.warnings,
        || words::filter(&speed_change),
        || ExposureBody::filter(&speed_change),
    )
}

const CONTACT: &str = "\
Examples:
  soupcon exposure contact 9s --from-fog 0.28 --to-fog 0.35

TIME is the least exposure at which the rebate of the first film prints as black as bare paper.";

/// Arguments of `exposure contact`.
#[derive(Debug, Args)]
#[command(after_help = CONTACT)]
pub(super) struct ContactArguments {
    /// The exposure that is right for the first film
    time: String,
    /// Base plus fog of the first film, as density
    #[arg(long, value_name = "DENSITY")]
    from_fog: String,
    /// Base plus fog of the other film
    #[arg(long, value_name = "DENSITY")]
    to_fog: String,
}

pub(super) fn contact(arguments: &ContactArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let from = figure("--from-fog", &arguments.from_fog, "0.28")?;
    let to = figure("--to-fog", &arguments.to_fog, "0.35")?;
    let own = contacted(seconds("TIME", &arguments.time)?, from, to)?;
    tell(context, &own.warnings, || words::contact(&own), || ExposureBody::contact(&own))
}

const METERED: &str = "\
Examples:
  soupcon exposure metered --speed 250 --lux 4 --density 0.90
  soupcon exposure metered --log-h 0.227 --lux 3 --density 1.40 --thin 0.30 --log-h-black 1.3561

The second takes the log exposure for the tone wanted from your paper's own curve.";

/// Arguments of `exposure metered`.
#[derive(Debug, Args)]
#[command(after_help = METERED)]
pub(super) struct MeteredArguments {
    /// ISO speed of the paper
    #[arg(long, value_name = "SPEED", required_unless_present = "log_h", conflicts_with = "log_h")]
    speed: Option<String>,
    /// Log exposure (lux seconds) that gives the tone wanted
    #[arg(long, value_name = "LOG", allow_hyphen_values = true)]
    log_h: Option<String>,
    /// Illuminance at the easel without a negative, in lux
    #[arg(long, value_name = "LUX")]
    lux: String,
    /// Density of the negative where the tone is wanted
    #[arg(long, value_name = "DENSITY")]
    density: String,
    /// Density of the thinnest place
    #[arg(long, value_name = "DENSITY")]
    thin: Option<String>,
    /// Log exposure at which the paper is black
    #[arg(long, value_name = "LOG", requires = "thin", allow_hyphen_values = true)]
    log_h_black: Option<String>,
}

pub(super) fn metered(arguments: &MeteredArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let bare = arguments.lux.trim();
    let lux =
        figure("--lux", bare.strip_suffix("lux").or_else(|| bare.strip_suffix("lx")).unwrap_or(bare), "4")?;
    let density = figure("--density", &arguments.density, "0.90")?;
    let metered = match (&arguments.speed, &arguments.log_h) {
        (Some(speed), _) => by_paper_speed(figure("--speed", speed, "250")?, lux, density)?,
        (None, log) => {
            by_log_exposure(figure("--log-h", log.as_deref().unwrap_or_default(), "0.227")?, lux, density)?
        }
    };
    let black = maybe_figure("--log-h-black", arguments.log_h_black.as_deref(), "1.36")?;
    let thin = maybe_figure("--thin", arguments.thin.as_deref(), "0.30")?;
    let shadow = thin.map(|thin| metered.shadow(thin, black)).transpose()?;
    tell(
        context,
        &metered.warnings,
        || words::metered(&metered, shadow.as_ref()),
        || ExposureBody::metered(&metered, shadow.as_ref()),
    )
}
