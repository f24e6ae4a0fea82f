//! What hangs on the wall: `table` and `strip`.

use clap::{Args, ValueEnum};

use super::super::arguments::PaperArguments;
use super::super::context::Context;
use super::super::error::CliError;
use super::super::files::OutputArguments;
use super::{clock, maybe_seconds, seconds, stops, tell, warn};
use crate::exposure::{
    Stops, StripMethod, StripRequest, StripStart, chosen, steps_between, strip as laid, wall_table,
};
use crate::quantity::Duration;
use crate::render::exposure::json::ExposureBody;
use crate::render::exposure::{paper, words};
use crate::render::json::document;

const TABLE: &str = "\
Examples:
  soupcon exposure table
  soupcon exposure table --clock 1s --format html --paper a4 -o wall.html
  soupcon exposure table --from 5s

One page for the wall; the session needs no keyboard. Each row is a sixth of a stop more.";

/// Arguments of `exposure table`.
#[derive(Debug, Args)]
#[command(after_help = TABLE)]
pub(super) struct TableArguments {
    /// The timer's step: 0.1s or 1s [default: the configuration's, or 0.1s]
    #[arg(long, value_name = "STEP")]
    clock: Option<String>,
    /// The first base time
    #[arg(long, value_name = "TIME", default_value = "8s")]
    from: String,
    /// The error that rounding may have: tells from which time on the timer keeps within it
    #[arg(long, value_name = "STOPS", default_value = "1/12")]
    within: String,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn table(arguments: &TableArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let page = arguments.paper.paper(context)?;
    let clock = clock(arguments.clock.as_deref(), context)?;
    let first = seconds("--from", &arguments.from)?;
    let wall = wall_table(first, clock, stops("--within", &arguments.within)?)?;
    let command = format!("exposure table --clock {} --from {}", typed(clock.step_s()), typed(first.as_s()));
    let text = context.rendered_with(
        || words::table(&wall),
        || paper::wall_table(&wall, &command, page),
        || document(ExposureBody::table(&wall)),
    );
    arguments.output.write(&text, context)?;
    Ok(0)
}

const STRIP: &str = "\
Examples:
  soupcon exposure strip 8s --step 1/3 --strips 7
  soupcon exposure strip 8s --step 1/3 --strips 7 --method uncover --format html -o strip.html
  soupcon exposure strip --centre 16s --step 1/6 --strips 5        the finer strip round the guess
  soupcon exposure strip 5s --step 1/3 --strips 7 --lost 0.15s --chosen 6
  soupcon exposure strip --totals 5s,10s,15s,20s                   what even seconds are in stops

Totals are rounded to the timer, never each setting by itself.";

/// Arguments of `exposure strip`.
#[derive(Debug, Args)]
#[command(after_help = STRIP)]
pub(super) struct StripArguments {
    /// The total of strip 1, which gets least
    #[arg(required_unless_present_any = ["centre", "totals"])]
    first: Option<String>,
    /// From strip to strip, in stops
    #[arg(long, value_name = "STOPS", default_value = "1/3", allow_hyphen_values = true)]
    step: String,
    /// How many strips
    #[arg(long, value_name = "NUMBER", default_value_t = 7)]
    strips: usize,
    /// The timer's step: 0.1s or 1s [default: the configuration's, or 0.1s]
    #[arg(long, value_name = "STEP")]
    clock: Option<String>,
    /// How it is exposed: cover, uncover, or each strip apart
    #[arg(long, value_enum, default_value_t = MethodName::Cover, hide_possible_values = true)]
    method: MethodName,
    /// The total in the middle, in place of the first
    #[arg(long, value_name = "TIME", conflicts_with = "first")]
    centre: Option<String>,
    /// What the lamp loses at each switching
    #[arg(long, value_name = "TIME")]
    lost: Option<String>,
    /// The strip chosen: tells the one exposure that matches it
    #[arg(long, value_name = "NUMBER")]
    chosen: Option<usize>,
    /// Totals of a strip in even seconds, to be told in stops
    #[arg(long, value_name = "TIME,…", value_delimiter = ',', conflicts_with_all = ["first", "centre", "lost", "chosen"])]
    totals: Vec<String>,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum MethodName {
    /// All open first, then strip after strip covered
    Cover,
    /// The last strip open first, then strip after strip uncovered
    Uncover,
    /// Each strip alone, through a slot
    Apart,
}

impl MethodName {
    fn method(self) -> StripMethod {
        match self {
            Self::Cover => StripMethod::Cover,
            Self::Uncover => StripMethod::Uncover,
            Self::Apart => StripMethod::Apart,
        }
    }
}

/// Seconds as they are typed.
fn typed(seconds: f64) -> String {
    format!("{}s", crate::quantity::rounding::show_short(seconds, 3))
}

/// The strip as it is asked for, short.
fn command_of(arguments: &StripArguments, request: &StripRequest) -> String {
    let start = match request.start {
        StripStart::First(first) => typed(first.as_s()),
        StripStart::Centre(centre) => format!("--centre {}", typed(centre.as_s())),
    };
    let method = match request.method {
        StripMethod::Cover => String::new(),
        other => format!(" --method {}", other.word()),
    };
    format!("exposure strip {start} --step {} --strips {}{method}", arguments.step.trim(), request.strips)
}

pub(super) fn strip(arguments: &StripArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let page = arguments.paper.paper(context)?;
    if !arguments.totals.is_empty() {
        return even(arguments, context);
    }
    let start = match (
        maybe_seconds("FIRST", arguments.first.as_deref())?,
        maybe_seconds("--centre", arguments.centre.as_deref())?,
    ) {
        (_, Some(centre)) => StripStart::Centre(centre),
        (Some(first), None) => StripStart::First(first),
        (None, None) => {
            return Err(CliError::argument("FIRST", "no time is given", "give the first total, such as 8s"));
        }
    };
    let request = StripRequest {
        start,
        step: stops("--step", &arguments.step)?,
        strips: arguments.strips,
        clock: clock(arguments.clock.as_deref(), context)?,
        method: arguments.method.method(),
    };
    let strip = laid(request)?;
    let lost_s = maybe_seconds("--lost", arguments.lost.as_deref())?.map(Duration::as_s);
    let picked = arguments.chosen.map(|number| chosen(&strip, number, lost_s.unwrap_or(0.0))).transpose()?;
    let command = command_of(arguments, &request);
    let text = context.rendered_with(
        || words::strip(&strip, picked.as_ref(), lost_s),
        || paper::strip_card(&strip, picked.as_ref(), lost_s, &command, page),
        || document(ExposureBody::strip(&strip, picked.as_ref(), lost_s)),
    );
    arguments.output.write(&text, context)?;
    warn(context, &strip.warnings);
    Ok(0)
}

/// A strip in even seconds.
fn even(arguments: &StripArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let totals =
        arguments.totals.iter().map(|text| seconds("--totals", text)).collect::<Result<Vec<_>, _>>()?;
    if totals.len() < 2 {
        return Err(CliError::argument("--totals", "one total has no step", "give two or more: 5s,10s,15s"));
    }
    let steps = steps_between(&totals)?;
    let totals_s: Vec<f64> = totals.iter().map(|own| own.as_s()).collect();
    tell(
        context,
        &[],
        || words::steps(&totals_s, &steps),
        || ExposureBody::steps(totals_s.clone(), steps.iter().map(|stops: &Stops| stops.get()).collect()),
    )
}
