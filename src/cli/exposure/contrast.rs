//! Contrast: `range` and `two-filter`.

use clap::{Args, ValueEnum};

use super::super::context::Context;
use super::super::error::CliError;
use super::{figure, maybe_figure, percent, seconds, signed_seconds, tell};
use crate::exposure::{
    FilterTimes, Hold, NegativeRange, condenser_factor, given, hard_change, paper_range, two_filters,
};
use crate::quantity::Duration;
use crate::render::exposure::json::ExposureBody;
use crate::render::exposure::words;

const RANGE: &str = "\
Examples:
  soupcon exposure range --thin 0.35 --dense 1.50
  soupcon exposure range --thin 0.35 --dense 1.50 --condenser 1.20 --stray 1%
  soupcon exposure range --fits-diffuse 1.05 --fits-condenser 1.275   your own condenser factor

Densities are diffuse, where detail is wanted. Dye images (chromogenic films) have the factor 1.";

/// Arguments of `exposure range`.
#[derive(Debug, Args)]
#[command(after_help = RANGE)]
pub(super) struct RangeArguments {
    /// Density of the thinnest part with detail
    #[arg(long, value_name = "DENSITY", requires = "dense", required_unless_present = "fits_diffuse")]
    thin: Option<String>,
    /// Density of the densest part with detail
    #[arg(long, value_name = "DENSITY", requires = "thin")]
    dense: Option<String>,
    /// Condenser factor: 1.1 to 1.35; 1 in diffuse light
    #[arg(long, value_name = "FACTOR", requires = "thin")]
    condenser: Option<String>,
    /// Stray light, in percent of what the thinnest part lets through: 1%
    #[arg(long, value_name = "PERCENT", requires = "thin")]
    stray: Option<String>,
    /// Log range of the paper that fits a negative in diffuse light
    #[arg(long, value_name = "RANGE", requires = "fits_condenser", conflicts_with = "thin")]
    fits_diffuse: Option<String>,
    /// Log range of the paper that fits the same negative in the condenser
    #[arg(long, value_name = "RANGE", requires = "fits_diffuse")]
    fits_condenser: Option<String>,
}

pub(super) fn range(arguments: &RangeArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    if let (Some(diffuse), Some(condenser)) = (&arguments.fits_diffuse, &arguments.fits_condenser) {
        let diffuse = figure("--fits-diffuse", diffuse, "1.05")?;
        let factor = condenser_factor(diffuse, figure("--fits-condenser", condenser, "1.275")?)?;
        return tell(
            context,
            &[],
            || words::condenser_factor(factor),
            || ExposureBody::condenser_factor(factor),
        );
    }
    let density =
        |name: &str, text: &Option<String>| figure(name, text.as_deref().unwrap_or_default(), "0.35");
    let negative = NegativeRange {
        thin: density("--thin", &arguments.thin)?,
        dense: density("--dense", &arguments.dense)?,
        condenser_factor: maybe_figure("--condenser", arguments.condenser.as_deref(), "1.20")?.unwrap_or(1.0),
        stray: arguments.stray.as_deref().map_or(Ok(0.0), |text| percent("--stray", text, false))? / 100.0,
    };
    let paper_range_needed = paper_range(&negative)?;
    tell(
        context,
        &paper_range_needed.warnings,
        || words::range(&paper_range_needed, negative.condenser_factor),
        || ExposureBody::range(&paper_range_needed, negative.condenser_factor),
    )
}

const TWO_FILTER: &str = "\
Examples:
  soupcon exposure two-filter --soft 8s,20s --hard 24s,10s
  soupcon exposure two-filter --soft 8s,20s --hard 24s,10s --range 1.10      the filters' own ranges
  soupcon exposure two-filter --soft 8s,20s --hard 24s,10s --try 8s,7.2s     what two exposures would do
  soupcon exposure two-filter --soft 8s,20s --hard 24s,10s --hard-change +3s --hold highlight

Each pair comes from a strip through that filter alone: the time at which the densest wanted place just takes tone, then
the time at which the thinnest place is just full black.";

/// Arguments of `exposure two-filter`.
#[derive(Debug, Args)]
#[command(after_help = TWO_FILTER)]
pub(super) struct TwoFilterArguments {
    /// Through the soft filter alone: highlight, shadow
    #[arg(long, value_name = "TIME,TIME")]
    soft: String,
    /// Through the hard filter alone: highlight, shadow
    #[arg(long, value_name = "TIME,TIME")]
    hard: String,
    /// Density range of the negative: tells the filters' ranges on this paper
    #[arg(long, value_name = "RANGE")]
    range: Option<String>,
    /// Soft and hard exposures to be judged
    #[arg(long = "try", value_name = "TIME,TIME", conflicts_with = "hard_change")]
    tried: Option<String>,
    /// A change of the hard exposure
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    hard_change: Option<String>,
    /// The tone that is to stay then
    #[arg(long, value_enum, requires = "hard_change", default_value_t = HoldName::Highlight)]
    hold: HoldName,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum HoldName {
    /// The highlights
    Highlight,
    /// The shadows
    Shadow,
}

/// Highlight, and shadow where it is told.
fn pair(argument: &str, text: &str) -> Result<(Duration, Option<Duration>), CliError> {
    match text.split_once(',') {
        Some((first, second)) => Ok((seconds(argument, first)?, Some(seconds(argument, second)?))),
        None => Ok((seconds(argument, text)?, None)),
    }
}

fn no_shadow(argument: &str) -> CliError {
    let fix = "write both times, highlight first: 8s,20s";
    CliError::argument(argument, "the time of the shadow is missing", fix)
}

pub(super) fn two_filter(
    arguments: &TwoFilterArguments,
    context: &mut Context<'_, '_>,
) -> Result<u8, CliError> {
    let soft = pair("--soft", &arguments.soft)?;
    let hard = pair("--hard", &arguments.hard)?;
    if let Some(text) = &arguments.hard_change {
        let change = signed_seconds("--hard-change", text)?;
        let (hold, soft, hard) = match arguments.hold {
            HoldName::Highlight => (Hold::Highlight, soft.0, hard.0),
            HoldName::Shadow => (
                Hold::Shadow,
                soft.1.ok_or_else(|| no_shadow("--soft"))?,
                hard.1.ok_or_else(|| no_shadow("--hard"))?,
            ),
        };
        let own = hard_change(change, soft, hard);
        return tell(context, &[], || words::hard_change(&own, hold), || ExposureBody::hard_change(&own));
    }
    if let Some(text) = &arguments.tried {
        let (soft_s, hard_s) = match pair("--try", text)? {
            (soft, Some(hard)) => (soft.as_s(), hard.as_s()),
            _ => {
                return Err(CliError::argument(
                    "--try",
                    "the hard exposure is missing",
                    "write both: 8s,7.2s",
                ));
            }
        };
        let given_times = given(soft_s, hard_s, (soft.0, hard.0), soft.1.zip(hard.1));
        return tell(
            context,
            &[],
            || words::given(soft_s, hard_s, &given_times),
            || ExposureBody::given(soft_s, hard_s, &given_times),
        );
    }
    let times = |argument: &str, (highlight, shadow): (Duration, Option<Duration>)| {
        Ok::<_, CliError>(FilterTimes { highlight, shadow: shadow.ok_or_else(|| no_shadow(argument))? })
    };
    let range = maybe_figure("--range", arguments.range.as_deref(), "1.10")?;
    let filter_times = two_filters(times("--soft", soft)?, times("--hard", hard)?);
    tell(
        context,
        &filter_times.warnings,
        || words::two_filters(&filter_times, range),
        || ExposureBody::two_filters(&filter_times, range),
    )?;
    Ok(u8::from(filter_times.exposures_s.is_err()))
}
