//! Local exposure: `burn` and `dodge`.

use clap::Args;

use super::super::context::Context;
use super::super::error::CliError;
use super::{maybe_figure, seconds, stops, tell};
use crate::exposure::{Stops, burn as burnt, burn_of_extra, by_factor, dodge as dodged, dodge_of_held_back};
use crate::render::exposure::json::ExposureBody;
use crate::render::exposure::words;

const BURN: &str = "\
Examples:
  soupcon exposure burn 20s --stops +3/4
  soupcon exposure burn 20s --stops +3/4 --from-factor 1.0 --to-factor 1.6   through another filter
  soupcon exposure burn 20s --extra 8s                                       how many stops that is";

/// Arguments of `exposure burn`.
#[derive(Debug, Args)]
#[command(after_help = BURN)]
#[command(group(clap::ArgGroup::new("how-much").required(true).args(["stops", "extra"])))]
pub(super) struct BurnArguments {
    /// The base exposure
    base: String,
    /// How much more: +3/4
    #[arg(long, value_name = "STOPS", allow_hyphen_values = true)]
    stops: Option<String>,
    /// An extra time, to be told in stops
    #[arg(long, value_name = "TIME")]
    extra: Option<String>,
    /// Your factor of the base's filter
    #[arg(long, value_name = "FACTOR", requires = "to_factor")]
    from_factor: Option<String>,
    /// Your factor of the filter to burn through
    #[arg(long, value_name = "FACTOR", requires = "from_factor")]
    to_factor: Option<String>,
}

pub(super) fn burn(arguments: &BurnArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let base = seconds("BASE", &arguments.base)?;
    let from = maybe_figure("--from-factor", arguments.from_factor.as_deref(), "1.0")?;
    let to = maybe_figure("--to-factor", arguments.to_factor.as_deref(), "1.6")?;
    let filters = from.zip(to);
    if let Some((from, to)) = filters {
        // The same limits as for a change of filter.
        by_factor(base, from, to)?;
    }
    let burn_asked = match (&arguments.stops, &arguments.extra) {
        (Some(text), _) => burnt(base, stops("--stops", text)?, filters)?,
        (None, extra) => {
            burn_of_extra(base, seconds("--extra", extra.as_deref().unwrap_or_default())?, filters)
        }
    };
    tell(context, &[], || words::burn(&burn_asked), || ExposureBody::burn(&burn_asked))
}

const DODGE: &str = "\
Examples:
  soupcon exposure dodge 20s --stops -1/4
  soupcon exposure dodge 20s --stops -1/4 --stops -1/3    two places that overlap
  soupcon exposure dodge 20s --held-back 3s               how many stops that is";

/// Arguments of `exposure dodge`.
#[derive(Debug, Args)]
#[command(after_help = DODGE)]
#[command(group(clap::ArgGroup::new("how-much").required(true).args(["stops", "held_back"])))]
pub(super) struct DodgeArguments {
    /// The base exposure
    base: String,
    /// How much less: -1/4; several times for places that overlap
    #[arg(long, value_name = "STOPS", allow_hyphen_values = true)]
    stops: Vec<String>,
    /// A time held back, to be told in stops
    #[arg(long, value_name = "TIME")]
    held_back: Option<String>,
}

pub(super) fn dodge(arguments: &DodgeArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let base = seconds("BASE", &arguments.base)?;
    let dodge_asked = if let Some(text) = &arguments.held_back {
        dodge_of_held_back(base, seconds("--held-back", text)?)?
    } else {
        dodged(base, &arguments.stops.iter().map(|text| less(text)).collect::<Result<Vec<_>, _>>()?)?
    };
    tell(context, &[], || words::dodge(&dodge_asked), || ExposureBody::dodge(&dodge_asked))
}

/// Stops of a dodge: below zero, or without a sign.
fn less(text: &str) -> Result<Stops, CliError> {
    let stops_asked = stops("--stops", text)?;
    if text.trim_start().starts_with('+') {
        let message = format!("dodging by {stops_asked} stop is the other way round");
        return Err(CliError::argument(
            "--stops",
            message,
            "more exposure is burning: soupcon exposure burn",
        ));
    }
    Ok(stops_asked)
}
