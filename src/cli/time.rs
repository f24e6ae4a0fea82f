//! `soupcon time`: from a known time to a time under other conditions.

use clap::Args;

use super::arguments::{temperature_or, volume};
use super::conditions::{
    KnownArguments, Shelf, agitation, developer, duration, refuse_untimed, timing_error, timing_table,
    working,
};
use super::context::Context;
use super::error::CliError;
use crate::formula::Formula;
use crate::quantity::Duration;
use crate::render::json::document;
use crate::render::timing::{TimeBody, time_document};
use crate::timing::{Question, Setup, Table, Tank};

const EXAMPLES: &str = "\
Examples:
  soupcon time 8min --from mq-borax-classic --to-temp 22C
  soupcon time 8:30 --from mq-borax-classic --to mq-borax-bromide-80-sulfite-stronger
  soupcon time 8min --from mq-borax-classic --to-dilution 1+1 --rolls 1 --tank 500ml
  soupcon time 9min --from metol-sulfite --to-agitation rotary --contrast -1
  soupcon time --film \"my 400 film\" --to mq-borax-classic --to-temp 23C

Factors, their ranges and their sources come from the table of the library; your own records come first.";

/// Arguments of `time`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct TimeArguments {
    /// The time that works: 8min, 8:30, 8m30s, 510s; may be left out with --film
    known: Option<String>,
    #[command(flatten)]
    from: KnownArguments,
    #[command(flatten)]
    to: WantedArguments,
}

/// What is wanted.
#[derive(Debug, Clone, Args)]
pub(super) struct WantedArguments {
    /// The developer wanted [default: the same]
    #[arg(long, value_name = "FORMULA", help_heading = "Wanted")]
    to: Option<String>,
    /// The temperature wanted [default: that of the known time, else 20C]
    #[arg(long, value_name = "TEMPERATURE", help_heading = "Wanted")]
    to_temp: Option<String>,
    /// The dilution wanted [default: that of the known time for the same developer, else its usual one]
    #[arg(long, value_name = "DILUTION", help_heading = "Wanted")]
    to_dilution: Option<String>,
    /// The agitation wanted [default: that of the known time, else inversion]
    #[arg(long, value_name = "AGITATION", help_heading = "Wanted")]
    to_agitation: Option<String>,
    /// More or less contrast in steps of one stop of subject range: +1, -1
    #[arg(long, value_name = "STEPS", allow_hyphen_values = true, help_heading = "Wanted")]
    contrast: Option<String>,
    /// Films (or sheets of 516 cm²) in the tank, to see whether the stock is enough
    #[arg(long, value_name = "N", requires = "tank", help_heading = "Tank")]
    rolls: Option<u32>,
    /// Working solution in the tank
    #[arg(long, value_name = "VOLUME", requires = "rolls", help_heading = "Tank")]
    tank: Option<String>,
}

impl WantedArguments {
    /// The conditions wanted; what is not said is as in the known ones.
    fn setup(
        &self,
        context: &mut Context<'_, '_>,
        table: &Table,
        (known, named): (Option<&Setup>, &mut Vec<Formula>),
        default_formula: Option<&str>,
    ) -> Result<Setup, CliError> {
        let developer = match (self.to.as_deref().or(default_formula), known) {
            (Some(name), _) => developer(context, table, name, named)?,
            (None, Some(known)) => std::rc::Rc::clone(&known.developer),
            (None, None) => {
                let fix = "give --to FORMULA";
                return Err(CliError::argument("--to", "the developer wanted is not named", fix));
            }
        };
        refuse_untimed(&developer, table)?;
        if let Some(known) = known {
            let matches = known.developer.must_be_of_the_kind_of(&developer);
            matches.map_err(|error| timing_error("--to", &error))?;
        }
        let same = known.filter(|known| known.developer == developer);
        let usual = known.map_or(crate::quantity::USUAL_C, |known| known.temperature.as_c());
        Ok(Setup {
            working: match (&self.to_dilution, same) {
                (None, Some(same)) => same.working.clone(),
                (typed, _) => working("--to-dilution", &developer, typed.as_deref())?,
            },
            developer,
            temperature: temperature_or("--to-temp", self.to_temp.as_deref(), usual)?,
            agitation: match (&self.to_agitation, known) {
                (None, Some(known)) => known.agitation.clone(),
                (typed, _) => agitation("--to-agitation", table, typed.as_deref())?,
            },
        })
    }

    fn contrast(&self) -> Result<f64, CliError> {
        self.contrast.as_deref().map_or(Ok(0.0), steps)
    }

    fn tank(&self) -> Result<Option<Tank>, CliError> {
        let (Some(rolls), Some(tank)) = (self.rolls, &self.tank) else { return Ok(None) };
        Ok(Some(Tank { rolls: f64::from(rolls), volume_ml: volume("--tank", tank)?.as_ml() }))
    }
}

/// Steps of contrast: `+1`, `-1`, `N+1`.
fn steps(text: &str) -> Result<f64, CliError> {
    let trimmed = text.trim();
    let signed = trimmed.strip_prefix(['N', 'n']).unwrap_or(trimmed);
    let is_plain = signed.starts_with(['+', '-'])
        && signed.len() > 1
        && signed.bytes().skip(1).all(|byte| byte.is_ascii_digit() || byte == b'.');
    signed.parse().ok().filter(|_| is_plain).ok_or_else(|| {
        let message = format!("`{trimmed}` is no number of steps with its sign");
        CliError::argument("--contrast", message, "write +1 for one step more, -1 for one less")
    })
}

pub(super) fn run(arguments: &TimeArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let table = timing_table(&context.library)?;
    let known: Option<Duration> =
        arguments.known.as_deref().map(|text| duration("KNOWN", text)).transpose()?;
    let (contrast, tank) = (arguments.to.contrast()?, arguments.to.tank()?);
    let records = arguments.from.records(context)?;
    let mut named = Vec::new();
    let (answer, from, to) = if let Some(known) = known {
        let from = arguments.from.setup(context, &table, &mut named)?;
        let to = arguments.to.setup(context, &table, (Some(&from), &mut named), None)?;
        let shelf = Shelf { library: &context.library, table: &table, named: &named };
        let model = arguments.from.model(&table, &shelf, &records)?;
        let question = Question { known, from, to, contrast, tank };
        let answer = model.adjust(&question).map_err(|error| timing_error("KNOWN", &error))?;
        (answer, Some(question.from), question.to)
    } else {
        if arguments.from.film.is_none() {
            let fix = "write 8min, 8:30, 8m30s or 510s; or name a film of your records with --film";
            return Err(CliError::argument("KNOWN", "the known time is missing", fix));
        }
        let to = arguments.to.setup(context, &table, (None, &mut named), arguments.from.from.as_deref())?;
        let shelf = Shelf { library: &context.library, table: &table, named: &named };
        let model = arguments.from.model(&table, &shelf, &records)?;
        let answer =
            model.adjust_from_own(&to, contrast, tank).map_err(|error| timing_error("--film", &error))?;
        (answer, None, to)
    };
    context.answer(
        || time_document(&answer, from.as_ref(), &to),
        || document(TimeBody::new(&answer, from.as_ref(), &to)),
    )?;
    Ok(0)
}
