//! `soupcon chart`: times over temperatures and dilutions for one pair of developers, for the wall.

use clap::Args;

use super::arguments::temperature;
use super::conditions::{
    KnownArguments, Shelf, agitation, developer, duration, refuse_untimed, timing_error, timing_table,
    working,
};
use super::context::Context;
use super::error::CliError;
use crate::quantity::rounding::show_short;
use crate::quantity::{Duration, Temperature};
use crate::render::json::document;
use crate::render::timing::{Chart, ChartBody, ChartCell, ChartRow, chart_document};
use crate::timing::{Model, Question, Setup, Working};

/// Most rows of a chart.
const MOST_ROWS: usize = 60;

const EXAMPLES: &str = "\
Examples:
  soupcon chart 8min --from mq-borax-classic
  soupcon chart 8min --from mq-borax-classic --to-dilution stock --to-dilution 1+1
  soupcon chart 6min 8min 10min --from mq-borax-classic --to mq-borax-bromide-80-sulfite-stronger
  soupcon chart 8min --from mq-borax-classic --coldest 65F --warmest 75F --format html";

/// Arguments of `chart`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ChartArguments {
    /// Times that work, one column each: 8min, 8:30, 8m30s, 510s
    #[arg(required = true)]
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
    /// First row; rows go by whole degrees of the unit written
    #[arg(long, value_name = "TEMPERATURE", default_value = "18C", help_heading = "Wanted")]
    coldest: String,
    /// Last row
    #[arg(long, value_name = "TEMPERATURE", default_value = "24C", help_heading = "Wanted")]
    warmest: String,
}

pub(super) fn run(arguments: &ChartArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let table = timing_table(&context.library)?;
    let times: Vec<Duration> =
        arguments.known.iter().map(|text| duration("KNOWN", text)).collect::<Result<_, _>>()?;
    let rows = temperatures(arguments)?;
    let records = arguments.from.records(context)?;
    let mut named = Vec::new();
    let from = arguments.from.setup(context, &table, &mut named)?;
    let wanted = match &arguments.to {
        Some(name) => developer(context, &table, name, &mut named)?,
        None => std::rc::Rc::clone(&from.developer),
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
        Some(typed) => agitation("--to-agitation", &table, Some(typed))?,
        None => from.agitation.clone(),
    };
    let shelf = Shelf { library: &context.library, table: &table, named: &named };
    let model = arguments.from.model(&table, &shelf, &records)?;
    let start = Setup { developer: wanted, agitation, ..from.clone() };
    let chart = chart(&model, &from, &start, &times, &dilutions, &rows)?;
    context.answer(|| chart_document(&chart), || document(ChartBody::new(&chart)))?;
    Ok(0)
}

/// Every known time and dilution at every temperature; `to` says the rest.
fn chart(
    model: &Model<'_>,
    from: &Setup,
    to: &Setup,
    times: &[Duration],
    dilutions: &[Working],
    temperatures: &[(Temperature, String)],
) -> Result<Chart, CliError> {
    let pairs: Vec<(&Duration, &Working)> =
        times.iter().flat_map(|time| dilutions.iter().map(move |dilution| (time, dilution))).collect();
    let title = |(time, dilution): &(&Duration, &Working)| {
        if times.len() > 1 { format!("{dilution}, known {time}") } else { dilution.to_string() }
    };
    let mut rows = Vec::new();
    for (temperature, label) in temperatures {
        let mut cells = Vec::new();
        for (known, working) in &pairs {
            let to = Setup { working: (*working).clone(), temperature: *temperature, ..to.clone() };
            let question = Question { known: **known, from: from.clone(), to, contrast: 0.0, tank: None };
            let answer = model.adjust(&question).map_err(|error| timing_error("KNOWN", &error))?;
            cells.push(ChartCell { to: question.to, answer });
        }
        rows.push(ChartRow { temperature: *temperature, label: label.clone(), cells });
    }
    Ok(Chart { from: from.clone(), columns: pairs.iter().map(title).collect(), rows })
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
        let message = format!("{coldest} to {warmest} is no range for a chart");
        return Err(CliError::argument("--warmest", message, "give 18C and 24C, coldest first"));
    }
    Ok(rows)
}
