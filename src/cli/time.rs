//! `soupcon time`: from a known time to a time under other conditions.

use clap::Args;

use super::arguments::{date, temperature_or};
use super::bath::{class_rules, covering, films_option};
use super::conditions::{
    JournalArguments, KnownArguments, Shelf, agitation, developer, duration, own_usual, refuse_untimed,
    timing_error, timing_table, usual_agitation, working,
};
use super::context::Context;
use super::error::CliError;
use super::record::today;
use crate::bath::bottle::judge;
use crate::bath::rules::Span;
use crate::bath::stock::check;
use crate::bath::{Bottle, Bottles, Life};
use crate::formula::Formula;
use crate::journal::Date;
use crate::quantity::Duration;
use crate::quantity::rounding::show_short;
use crate::render::bottles::bottle_state;
use crate::render::films::{stock_words, volume_words};
use crate::render::json::document;
use crate::render::time::{TimeBody, TimeForm, time_document};
use crate::timing::{Estimate, Factor, NegativeWish, Setup, Support, TimeQuestion, TimingError, TimingTable};

const EXAMPLES: &str = "\
Examples:
  soupcon time 8min --from mq-borax-classic --to-temp 22C
  soupcon time 8:30 --from mq-borax-classic --to mq-borax-bromide-80-sulfite-stronger
  soupcon time 8min --from mq-borax-classic --to-dilution 1+1 --films 1 --tank 500ml
  soupcon time 8min --from mq-borax-classic --bottle D3        a bottle that has had films
  soupcon time 9min --from metol-sulfite --to-agitation rotary --contrast -1
  soupcon time 8min --from mq-borax-classic --gradient 0.65
  soupcon time 8min --from mq-borax-classic --push 1
  soupcon time --film \"my 400 film\" --to-temp 23C
  soupcon time --film \"my 400 film\" --to-temp 23C -q                 the answer in three lines

Factors, their ranges and their sources come from the table of the library; with --film all your records and the books
together give one answer, which says what each weighed.";

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
    /// Films in the tank, to see whether the stock is enough: 2, 2x135, 1x120, 6x4x5in
    #[arg(long, value_name = "FILMS", help_heading = "Tank")]
    films: Option<String>,
    /// Working solution in it, or the name of a tank of the configuration [default: the smallest that holds the films]
    #[arg(long, value_name = "TANK", requires = "films", help_heading = "Tank")]
    tank: Option<String>,
    /// A bottle of your journal: what is in it is wanted, and the films through it make the time longer
    #[arg(long, value_name = "NAME", help_heading = "Tank")]
    bottle: Option<String>,
    /// The day for which the bottle is judged [default: today]
    #[arg(long, value_name = "YYYY-MM-DD", requires = "bottle", help_heading = "Tank")]
    date: Option<String>,
}

impl WantedArguments {
    /// The conditions wanted; what is not said is as in the known ones.
    fn setup(
        &self,
        context: &mut Context<'_, '_>,
        table: &TimingTable,
        (known, named): (Option<&Setup>, &mut Vec<Formula>),
        default_formula: Option<&str>,
    ) -> Result<Setup, CliError> {
        let developer = match (self.to.as_deref().or(default_formula), known) {
            (Some(name), _) => developer(context, table, name, named)?,
            (None, Some(known)) => std::sync::Arc::clone(&known.developer),
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
}

impl TimeArguments {
    /// The negative wanted.
    fn wish(&self) -> Result<NegativeWish, CliError> {
        Ok(NegativeWish {
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
    let wish = arguments.wish()?;
    let records = arguments.from.records(context)?;
    let mut named = Vec::new();
    let bottle = match &arguments.to.bottle {
        Some(name) => {
            let on = match &arguments.to.date {
                Some(text) => date("--date", text)?,
                None => today()?,
            };
            Some(UsedBottle::of(name, on, &arguments.from.journal, context)?)
        }
        None => None,
    };
    let mut wanted = arguments.to.clone();
    wanted.to = wanted.to.or_else(|| bottle.as_ref().map(|bottle| bottle.formula.id.clone()));
    wanted.to_dilution = wanted.to_dilution.or_else(|| bottle.as_ref().and_then(UsedBottle::dilution));
    let (mut answer, to) = match (known, &arguments.from.film) {
        (Some(known), _) => {
            let from = arguments.from.setup(context, &table, &mut named)?;
            let to = wanted.setup(context, &table, (Some(&from), &mut named), None)?;
            let shelf = Shelf { library: &context.library, table: &table, named: &named };
            let model = arguments.from.model(&table, &shelf, &records)?;
            let question = TimeQuestion { known, from, to, wish, tank: None };
            let mut answer = match model.adjust(&question) {
                Err(error @ TimingError::NoRelation { .. }) => {
                    let card = model.adjust_from_card(&question.to, &wish, None);
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
            let formula = wanted.to.as_deref().or(default);
            let usual = own_usual(context, &table, film, &records, formula);
            let to = wanted.setup(context, &table, (usual.as_ref(), &mut named), default)?;
            let shelf = Shelf { library: &context.library, table: &table, named: &named };
            let model = arguments.from.model(&table, &shelf, &records)?;
            let answer =
                model.adjust_from_own(&to, &wish, None).map_err(|error| timing_error("--film", &error))?;
            (answer, to)
        }
        (None, None) => {
            let default = arguments.from.from.as_deref();
            if wanted.to.is_none() {
                let fix = "write 8min, 8:30, 8m30s or 510s; name a film of your records with --film; or name a formula with a time on its card with --to";
                return Err(CliError::argument("KNOWN", "the known time is missing", fix));
            }
            let to = wanted.setup(context, &table, (None, &mut named), default)?;
            let shelf = Shelf { library: &context.library, table: &table, named: &named };
            let model = arguments.from.model(&table, &shelf, &records)?;
            let card =
                model.adjust_from_card(&to, &wish, None).map_err(|error| timing_error("--to", &error))?;
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
    if let Some(bottle) = &bottle {
        bottle.lengthen(&mut answer);
    }
    let stock = match &arguments.to.films {
        Some(text) => stock_in_tank(text, &to, (arguments.to.tank.as_deref(), &named), context)?,
        None => Vec::new(),
    };
    let state: Vec<String> = bottle.iter().flat_map(|own| own.state.clone()).collect();
    context.answer(
        || {
            let mut page = time_document(&answer, &to, form);
            let told = state.iter().filter(|own| !form.brief || own.starts_with("OUT")).chain(&stock);
            page.list(told.cloned().collect());
            page
        },
        || {
            let mut body = TimeBody::new(&answer, &to);
            body.warnings.extend(state.iter().chain(&stock).cloned());
            body.warning_codes.extend(state.iter().map(|_| "bottle"));
            body.warning_codes.extend(stock.iter().map(|_| "stock"));
            document(body)
        },
    )?;
    Ok(0)
}

/// Whether the stock in the tank is enough for the films, as `dilute` and the card tell it.
fn stock_in_tank(
    films: &str,
    to: &Setup,
    (tank, named): (Option<&str>, &[Formula]),
    context: &Context<'_, '_>,
) -> Result<Vec<String>, CliError> {
    let rules = class_rules(context)?;
    let films = films_option("--films", films)?;
    let tank_ml = covering(&films, tank, &rules, context)?.as_ml();
    // A formula from a file is known by what was named only.
    let formula = match named.iter().find(|own| own.id == to.developer.id) {
        Some(own) => own.clone(),
        None => context.library.formula(&to.developer.id)?.formula,
    };
    let ratio = super::arguments::ratio("--to-dilution", &to.working.to_string())?;
    let figures = ratio.parts();
    let total: f64 = figures.iter().sum();
    let shares: Vec<f64> =
        figures.iter().take(formula.parts.len()).map(|share| share / total * tank_ml).collect();
    Ok(stock_words(&check(&formula, &films, &shares, tank_ml, &rules)))
}

/// A bottle of the journal as the bath that is wanted.
struct UsedBottle {
    bottle: Bottle,
    formula: Formula,
    growth: Option<Span>,
    source: Option<String>,
    /// What it is, how old, how many films, and whether it must go.
    state: Vec<String>,
}

impl UsedBottle {
    fn of(
        name: &str,
        on: Date,
        journal_arguments: &JournalArguments,
        context: &mut Context<'_, '_>,
    ) -> Result<Self, CliError> {
        let journal = journal_arguments.read(context)?;
        let bottles = Bottles::standing(&journal, on);
        let bottle = bottles.named(name.trim()).next().cloned().ok_or_else(|| {
            let known: Vec<&str> = bottles.bottles.iter().map(|bottle| bottle.name.as_str()).collect();
            let fix = if known.is_empty() {
                "note it with `soupcon record add mixed FORMULA VOLUME --bottle NAME`".to_owned()
            } else {
                format!("those that stand are {}", known.join(", "))
            };
            CliError::argument("--bottle", format!("no bottle {} stands on {on}", name.trim()), fix)
        })?;
        let Some(id) = bottle.formula.clone() else {
            let message = format!("the journal does not say what is in bottle {}", bottle.name);
            return Err(CliError::argument("--bottle", message, "give --to FORMULA instead"));
        };
        let formula = context.formula(&id)?.formula;
        let rules = class_rules(context)?;
        let life = Life::of(&formula, &rules);
        let growth = if life.is_one_shot { None } else { bottle.next_time(&life) };
        let source = life.rule_source.map(str::to_owned);
        let state = bottle_state(&judge(&bottle, Some(&formula), on, &rules));
        Ok(Self { bottle, formula, growth, source, state })
    }

    fn dilution(&self) -> Option<String> {
        self.bottle.dilution.as_ref().map(crate::journal::dilution_text)
    }

    /// Makes the time longer by what the films through the bottle have spent.
    fn lengthen(&self, answer: &mut Estimate) {
        let Some(growth) = self.growth.filter(|growth| growth.high > 1.0) else { return };
        let central = (growth.low * growth.high).sqrt();
        answer.low = Duration::from_s(answer.low.as_s() * growth.low);
        answer.high = Duration::from_s(answer.high.as_s() * growth.high);
        answer.time = Duration::from_s(answer.time.as_s() * central);
        answer.factors.push(Factor {
            name: "used bath".to_owned(),
            short: format!("bottle {}", self.bottle.name),
            factor: central,
            low: growth.low,
            high: growth.high,
            support: Support::CommonPractice,
            source: self.source.clone(),
            basis: format!(
                "bottle {}: {} through {} (rule)",
                self.bottle.name,
                match show_short(self.bottle.films, 2).as_str() {
                    "1" => "1 film".to_owned(),
                    films => format!("{films} films"),
                },
                self.bottle.filled_ml.map_or_else(String::new, volume_words)
            ),
        });
    }
}
