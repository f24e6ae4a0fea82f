//! `soupcon time`: from a known time to a time under other conditions.

use clap::Args;

use super::arguments::{temperature_or, volume};
use super::conditions::{
    KnownArguments, Shelf, agitation, developer, duration, own_usual, refuse_untimed, timing_error,
    timing_table, usual_agitation, working,
};
use super::context::Context;
use super::error::CliError;
use crate::formula::Formula;
use crate::quantity::Duration;
use crate::render::json::document;
use crate::render::timing::{TimeBody, TimeForm, time_document};
use crate::timing::{Question, Setup, Table, Tank, TimingError, Wish};

const EXAMPLES: &str = "\
Examples:
  soupcon time 8min --from mq-borax-classic --to-temp 22C
  soupcon time 8:30 --from mq-borax-classic --to mq-borax-bromide-80-sulfite-stronger
  soupcon time 8min --from mq-borax-classic --to-dilution 1+1 --rolls 1 --tank 500ml
  soupcon time 9min --from metol-sulfite --to-agitation rotary --contrast -1
  soupcon time 8min --from mq-borax-classic --gradient 0.65
  soupcon time 8min --from mq-borax-classic --push 1
  soupcon time --film \"my 400 film\" --to-temp 23C
  soupcon time --film \"my 400 film\" --to-temp 23C -q                 the answer in three lines

Factors, their ranges and their sources come from the table of the library; with --film all your records and the books
together give one answer, and what each weighed is told.";

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
    /// The temperature wanted [default: that of the known time or record, else 20C]
    #[arg(long, value_name = "TEMPERATURE", help_heading = "Wanted")]
    to_temp: Option<String>,
    /// The dilution wanted [default: that of the known time or record for the same developer, else its usual one]
    #[arg(long, value_name = "DILUTION", help_heading = "Wanted")]
    to_dilution: Option<String>,
    /// The agitation wanted [default: that of the known time or record, else inversion, tray for paper]
    #[arg(long, value_name = "AGITATION", help_heading = "Wanted")]
    to_agitation: Option<String>,
    /// More or less contrast in steps of one stop of subject range: +1, -1
    #[arg(long, value_name = "STEPS", allow_hyphen_values = true, help_heading = "Wanted")]
    contrast: Option<String>,
    /// The gradient wanted, a pure number such as 0.58
    #[arg(long, value_name = "GRADIENT", conflicts_with = "contrast", help_heading = "Wanted")]
    gradient: Option<f64>,
    /// Push: the film was used so many stops above its index; contrast grows, shadows gain nothing
    #[arg(long, value_name = "STOPS", help_heading = "Wanted")]
    push: Option<f64>,
    /// Pull: the film was used so many stops below its index
    #[arg(long, value_name = "STOPS", conflicts_with = "push", help_heading = "Wanted")]
    pull: Option<f64>,
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
        let working = match (&self.to_dilution, same) {
            (None, Some(same)) => same.working.clone(),
            (typed, _) => working("--to-dilution", &developer, typed.as_deref())?,
        };
        let usual = known
            .map_or_else(|| table.usual_celsius_of(&developer, &working), |known| known.temperature.as_c());
        Ok(Setup {
            temperature: temperature_or("--to-temp", self.to_temp.as_deref(), usual)?,
            agitation: match (&self.to_agitation, known) {
                (None, Some(known)) => known.agitation.clone(),
                (None, None) => usual_agitation(&developer, &working).to_owned(),
                (Some(typed), _) => agitation("--to-agitation", table, typed)?,
            },
            working,
            developer,
        })
    }

    fn contrast(&self) -> Result<f64, CliError> {
        self.contrast.as_deref().map_or(Ok(0.0), steps)
    }

    /// Stops of index; a number of stops, with --pull below zero.
    fn push(&self) -> Result<f64, CliError> {
        let (argument, stops, sign) = match (self.push, self.pull) {
            (Some(push), _) => ("--push", push, 1.0),
            (None, Some(pull)) => ("--pull", pull, -1.0),
            (None, None) => return Ok(0.0),
        };
        if !(stops.is_finite() && stops > 0.0) {
            let message = format!("{stops} is no number of stops above zero");
            return Err(CliError::argument(argument, message, "write --push 1 or --pull 1"));
        }
        Ok(sign * stops)
    }

    fn tank(&self) -> Result<Option<Tank>, CliError> {
        let (Some(rolls), Some(tank)) = (self.rolls, &self.tank) else { return Ok(None) };
        Ok(Some(Tank { rolls: f64::from(rolls), volume_ml: volume("--tank", tank)?.as_ml() }))
    }
}

impl TimeArguments {
    /// The negative wanted.
    fn wish(&self) -> Result<Wish, CliError> {
        Ok(Wish {
            contrast: self.to.contrast()?,
            gradient: self.to.gradient,
            known_gradient: self.from.from_gradient,
            push: self.to.push()?,
        })
    }
}

/// Steps of contrast: `+1`, `-1`, `N+1`.
pub(super) fn steps(text: &str) -> Result<f64, CliError> {
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
    let (wish, tank) = (arguments.wish()?, arguments.to.tank()?);
    let records = arguments.from.records(context)?;
    let mut named = Vec::new();
    let (answer, to) = match (known, &arguments.from.film) {
        (Some(known), _) => {
            let from = arguments.from.setup(context, &table, &mut named)?;
            let to = arguments.to.setup(context, &table, (Some(&from), &mut named), None)?;
            let shelf = Shelf { library: &context.library, table: &table, named: &named };
            let model = arguments.from.model(&table, &shelf, &records)?;
            let question = Question { known, from, to, wish, tank };
            let mut answer = match model.adjust(&question) {
                Err(error @ TimingError::NoRelation { .. }) => {
                    let card = model.adjust_from_card(&question.to, &wish, tank);
                    card.and_then(|card| card.ok_or(error))
                }
                other => other,
            }
            .map_err(|error| timing_error("KNOWN", &error))?;
            answer.from.get_or_insert(question.from);
            (answer, question.to)
        }
        (None, Some(film)) => {
            let default = arguments.from.from.as_deref();
            let wanted = arguments.to.to.as_deref().or(default);
            let usual = own_usual(context, &table, film, &records, wanted);
            let to = arguments.to.setup(context, &table, (usual.as_ref(), &mut named), default)?;
            let shelf = Shelf { library: &context.library, table: &table, named: &named };
            let model = arguments.from.model(&table, &shelf, &records)?;
            let answer =
                model.adjust_from_own(&to, &wish, tank).map_err(|error| timing_error("--film", &error))?;
            (answer, to)
        }
        (None, None) => {
            let default = arguments.from.from.as_deref();
            if arguments.to.to.is_none() {
                let fix = "write 8min, 8:30, 8m30s or 510s; name a film of your records with --film; or name a formula with a time on its card with --to";
                return Err(CliError::argument("KNOWN", "the known time is missing", fix));
            }
            let to = arguments.to.setup(context, &table, (None, &mut named), default)?;
            let shelf = Shelf { library: &context.library, table: &table, named: &named };
            let model = arguments.from.model(&table, &shelf, &records)?;
            let card =
                model.adjust_from_card(&to, &wish, tank).map_err(|error| timing_error("--to", &error))?;
            let answer = card.ok_or_else(|| {
                let message =
                    format!("the known time is missing, and the card of {} has none", to.developer.id);
                let fix = "write 8min, 8:30, 8m30s or 510s; or name a film of your records with --film";
                CliError::argument("KNOWN", message, fix)
            })?;
            (answer, to)
        }
    };
    let form = TimeForm { brief: context.is_quiet(), titled: context.is_page() };
    context.answer(|| time_document(&answer, &to, form), || document(TimeBody::new(&answer, &to)))?;
    Ok(0)
}
