//! `soupcon chart`: times over temperatures and dilutions for one pair of developers, for the wall.

use clap::Args;

use super::arguments::{PaperArguments, temperature};
use super::conditions::{
    KnownArguments, Shelf, agitation, developer, duration, own_usual, refuse_untimed, timing_error,
    timing_table, working,
};
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use super::time::steps;
use crate::bench::head::short_name;
use crate::formula::Formula;
use crate::quantity::rounding::show_short;
use crate::quantity::{Duration, Temperature};
use crate::render::chart::{Chart, ChartBody, ChartCell, ChartRow, chart_document};
use crate::render::json::document;
use crate::render::papers::chart::chart_html;
use crate::timing::{Model, NegativeWish, Record, Setup, TimeQuestion, TimingError, TimingTable, Working};

/// Most rows of a chart.
const MOST_ROWS: usize = 60;

const EXAMPLES: &str = "\
Examples:
  soupcon chart 8min --from mq-borax-classic
  soupcon chart 8min --from mq-borax-classic --to-dilution stock --to-dilution 1+1
  soupcon chart 6min 8min 10min --from mq-borax-classic --to mq-borax-bromide-80-sulfite-stronger
  soupcon chart --film \"my 400 film\" --contrast -1
  soupcon chart 8min --from mq-borax-classic --coldest 65F --warmest 75F --format html -o chart.html";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ChartArguments {
    /// Times that work, one column each: 8min, 8:30, 8m30s, 510s; may be left out with --film
    known: Vec<String>,
    #[command(flatten)]
    from: KnownArguments,
    /// The developer wanted [default: the same]
    #[arg(long, value_name = "FORMULA", help_heading = "Wanted")]
    to: Option<String>,
    /// A dilution wanted, one column each; may be given several times
    #[arg(long, value_name = "DILUTION", help_heading = "Wanted")]
    to_dilution: Vec<String>,
    /// The agitation wanted [default: that of the known time]
    #[arg(long, value_name = "AGITATION", help_heading = "Wanted")]
    to_agitation: Option<String>,
    /// More or less contrast in steps of one stop of subject range: +1, -1
    #[arg(long, value_name = "STEPS", allow_hyphen_values = true, help_heading = "Wanted")]
    contrast: Option<String>,
    /// The gradient wanted, a pure number such as 0.58
    #[arg(long, value_name = "GRADIENT", conflicts_with = "contrast", help_heading = "Wanted")]
    gradient: Option<f64>,
    /// First row; rows go by whole degrees of the unit written
    #[arg(long, value_name = "TEMPERATURE", default_value = "18C", help_heading = "Wanted")]
    coldest: String,
    /// Last row
    #[arg(long, value_name = "TEMPERATURE", default_value = "24C", help_heading = "Wanted")]
    warmest: String,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &ChartArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    let table = timing_table(&context.library)?;
    let times: Vec<Duration> =
        arguments.known.iter().map(|text| duration("KNOWN", text)).collect::<Result<_, _>>()?;
    let rows = temperatures(arguments)?;
    let records = arguments.from.records(context)?;
    let mut named = Vec::new();
    let from = if times.is_empty() {
        own_conditions(arguments, context, &table, &records)?
    } else {
        arguments.from.setup(context, &table, &mut named)?
    };
    let wanted = match &arguments.to {
        Some(name) => developer(context, &table, name, &mut named)?,
        None => std::sync::Arc::clone(&from.developer),
    };
    refuse_untimed(&wanted, &table)?;
    let dilutions: Vec<Working> = if arguments.to_dilution.is_empty() {
        vec![if wanted == from.developer {
            from.working.clone()
        } else {
            working("--to-dilution", &wanted, None)?
        }]
    } else {
        let each = arguments.to_dilution.iter();
        each.map(|text| working("--to-dilution", &wanted, Some(text))).collect::<Result<_, _>>()?
    };
    let agitation = match &arguments.to_agitation {
        Some(typed) => agitation("--to-agitation", &table, typed)?,
        None => from.agitation.clone(),
    };
    let wish = NegativeWish {
        contrast: arguments.contrast.as_deref().map_or(Ok(0.0), steps)?,
        gradient: arguments.gradient,
        known_gradient: arguments.from.from_gradient,
        push: 0.0,
    };
    let shelf = Shelf { library: &context.library, table: &table, named: &named };
    let model = arguments.from.model(&table, &shelf, &records)?;
    let to = Setup { developer: wanted, agitation, ..from.clone() };
    let name = wall_name(&to.developer.id, &named, context);
    let asked = Asked { from, to, wish, times, dilutions };
    let mut chart = asked.chart(&model, &rows)?;
    chart.film.clone_from(&arguments.from.film);
    chart.name = name;
    let text = context.rendered_with(
        || chart_document(&chart),
        || chart_html(&chart, paper),
        || document(ChartBody::new(&chart)),
    );
    arguments.output.write(&text, context)?;
    Ok(0)
}

/// The developer's name as it stands on the wall; its id where no formula of the name is found.
fn wall_name(id: &str, named: &[Formula], context: &Context<'_, '_>) -> String {
    let named = named.iter().find(|own| own.id == id).map(|own| own.title.clone());
    let title = named.or_else(|| Some(context.library.formula(id).ok()?.formula.title));
    title
        .map_or_else(|| id.to_owned(), |title| short_name(&title).0.trim_end_matches(" developer").to_owned())
}

/// The conditions of the film's records, from which a chart without a known time starts.
fn own_conditions(
    arguments: &ChartArguments,
    context: &Context<'_, '_>,
    table: &TimingTable,
    records: &[Record],
) -> Result<Setup, CliError> {
    let Some(film) = &arguments.from.film else {
        let fix = "write 8min, 8:30, 8m30s or 510s; or name a film of your records with --film";
        return Err(CliError::argument("KNOWN", "the known time is missing", fix));
    };
    let wanted = arguments.to.as_deref().or(arguments.from.from.as_deref());
    own_usual(context, table, film, records, wanted)
        .ok_or_else(|| timing_error("--film", &TimingError::NoRecord { film: film.clone(), others: 0 }))
}

/// What a chart is of.
struct Asked {
    from: Setup,
    /// The conditions wanted, but for temperature and dilution.
    to: Setup,
    wish: NegativeWish,
    /// Known times, none to start from own records.
    times: Vec<Duration>,
    dilutions: Vec<Working>,
}

impl Asked {
    /// Every known time and dilution at every temperature.
    fn chart(&self, model: &Model<'_>, temperatures: &[(Temperature, String)]) -> Result<Chart, CliError> {
        let known: Vec<Option<Duration>> =
            if self.times.is_empty() { vec![None] } else { self.times.iter().copied().map(Some).collect() };
        let pairs: Vec<(Option<Duration>, &Working)> = known
            .iter()
            .flat_map(|time| self.dilutions.iter().map(move |dilution| (*time, dilution)))
            .collect();
        let title = |(time, dilution): &(Option<Duration>, &Working)| match time {
            Some(time) if self.times.len() > 1 => format!("{dilution}, known {time}"),
            _ => dilution.to_string(),
        };
        let mut rows = Vec::new();
        for (temperature, label) in temperatures {
            let mut cells = Vec::new();
            for (known, working) in &pairs {
                let to = Setup { working: (*working).clone(), temperature: *temperature, ..self.to.clone() };
                cells.push(self.cell(model, *known, to)?);
            }
            rows.push(ChartRow { temperature: *temperature, label: label.clone(), cells });
        }
        Ok(Chart {
            from: self.from.clone(),
            name: String::new(),
            film: None,
            wish: self.wish,
            columns: pairs.iter().map(title).collect(),
            rows,
        })
    }

    fn cell(&self, model: &Model<'_>, known: Option<Duration>, to: Setup) -> Result<ChartCell, CliError> {
        let answer = match known {
            Some(known) => {
                let (from, wish) = (self.from.clone(), self.wish);
                let question = TimeQuestion { known, from, to: to.clone(), wish, tank: None };
                model.adjust(&question).map_err(|error| timing_error("KNOWN", &error))?
            }
            None => model
                .adjust_from_own(&to, &self.wish, None)
                .map_err(|error| timing_error("--film", &error))?,
        };
        Ok(ChartCell { is_known: answer.factors.is_empty(), to, answer })
    }
}

/// The rows: whole steps from the coldest to the warmest, in the unit the coldest is written in.
fn temperatures(arguments: &ChartArguments) -> Result<Vec<(Temperature, String)>, CliError> {
    let coldest = temperature("--coldest", &arguments.coldest)?;
    let warmest = temperature("--warmest", &arguments.warmest)?;
    let in_fahrenheit = arguments.coldest.trim().ends_with(['f', 'F', 't', 'T']);
    let (low, high) =
        if in_fahrenheit { (coldest.as_f(), warmest.as_f()) } else { (coldest.as_c(), warmest.as_c()) };
    let mut rows = Vec::new();
    let mut at = low;
    while at <= high + 1e-9 && rows.len() <= MOST_ROWS {
        rows.push(if in_fahrenheit {
            (Temperature::from_f(at), format!("{} °F", show_short(at, 1)))
        } else {
            (Temperature::from_c(at), Temperature::from_c(at).to_string())
        });
        at += 1.0;
    }
    if rows.is_empty() || rows.len() > MOST_ROWS {
        let message = format!("the coldest ({coldest}) is not colder than the warmest ({warmest})");
        return Err(CliError::argument("--warmest", message, "give 18C and 24C, coldest first"));
    }
    Ok(rows)
}
