//! `soupcon predict`: what a solution will do before it is mixed.

use clap::Args;

use super::arguments::{number, ratio, temperature_or};
use super::context::Context;
use super::error::CliError;
use crate::predict::measured::{ReadingComparison, compare};
use crate::predict::report::{Question, QuestionError, Report, report};
use crate::predict::sensitivity::BROUGHT_BY_SLIPS;
use crate::quantity::{STORAGE_C, USUAL_C};
use crate::render::json::document;
use crate::render::predict::PredictBody;
use crate::render::predict::predict_document;

const EXAMPLES: &str = "\
Examples:
  soupcon predict mq-borax-classic
  soupcon predict mq-borax-classic --dilution 1+1 --temp 24C
  soupcon predict mq-borax-classic --measured 8.1     what a reading may mean
  soupcon predict pyro-metol-metaborate-staining --dilution 1+2+100
  soupcon predict two-bath-metol-sulfite-borax --part A
  soupcon predict mq-carbonate-tray-tank --storage 5C

Without --dilution each part is predicted as bottled, and the working baths of its uses beside it.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct PredictArguments {
    /// The formula: id, alias, path to a .toml file, or - for standard input
    formula: String,
    /// Temperature of the pH, 0 to 60 °C [default: 20C]
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    temp: Option<String>,
    /// At this dilution: 1+1 (stock+water), or 1+1+8 (A+B+water)
    #[arg(long, value_name = "PARTS")]
    dilution: Option<String>,
    /// Only this part
    #[arg(long, value_name = "NAME")]
    part: Option<String>,
    /// Where it is kept [default: 18C, or --temp where that is colder]
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    storage: Option<String>,
    /// What a pH meter reads in it, at the temperature of --temp
    #[arg(long, value_name = "PH", allow_hyphen_values = true)]
    measured: Option<String>,
}

pub(super) fn run(arguments: &PredictArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let found = context.formula(&arguments.formula)?;
    let formula = &found.formula;
    let question = question(arguments)?;
    let measured = arguments.measured.as_deref().map(|text| ph("--measured", text)).transpose()?;
    // What a reading may come from is looked for in the whole table.
    let equilibria = if measured.is_some() {
        context.equilibria()?
    } else {
        context.equilibria_with(formula, &BROUGHT_BY_SLIPS)?
    };
    let report = context.report(&equilibria, formula, &question)?;
    let comparison = measured.map(|measured| compared(&equilibria, &report, measured)).transpose()?;
    context.answer(
        || predict_document(formula, &report, comparison.as_ref()),
        || document(PredictBody::new(formula, &report, comparison.as_ref())),
    )?;
    match report.refusal() {
        // The document has it.
        Some(_) if context.is_json() => Ok(1),
        Some(error) => Err(error.clone().into()),
        None => Ok(0),
    }
}

fn question(arguments: &PredictArguments) -> Result<Question, CliError> {
    let celsius = temperature_or("--temp", arguments.temp.as_deref(), USUAL_C)?.as_c();
    let storage = temperature_or("--storage", arguments.storage.as_deref(), celsius.min(STORAGE_C))?;
    let ratio = arguments.dilution.as_deref().map(|text| ratio("--dilution", text)).transpose()?;
    Ok(Question { celsius, storage_c: storage.as_c(), part: arguments.part.clone(), ratio, is_brief: false })
}

/// A pH: a bare number, as it is read.
pub(super) fn ph(argument: &str, text: &str) -> Result<f64, CliError> {
    let fix = "write a pH from 0 to 14, such as 8.4";
    let value = number(argument, text, fix)?;
    if (0.0..=14.0).contains(&value) {
        Ok(value)
    } else {
        Err(CliError::argument(argument, format!("pH {text} is out of range, 0 to 14"), fix))
    }
}

/// Sets a reading beside the one solution that it can be of.
fn compared(
    equilibria: &crate::solution::Equilibria,
    report: &Report,
    measured: f64,
) -> Result<ReadingComparison, CliError> {
    let Some((_, outcome)) = report.subject() else {
        let message = "the formula has several parts, and a reading is of one solution";
        let fix = "say which: --part A, or --dilution 1+1 for the mixture";
        return Err(CliError::argument("--measured", message, fix));
    };
    let predicted = outcome.as_ref().map_err(|error| CliError::from(error.clone()))?;
    Ok(compare(
        equilibria,
        &predicted.additions,
        &predicted.prediction,
        &predicted.sensitivities,
        report.question.celsius,
        measured,
    ))
}

impl From<QuestionError> for CliError {
    fn from(error: QuestionError) -> Self {
        let argument = match &error {
            QuestionError::NoSuchPart { .. } => "--part",
            QuestionError::RatioDoesNotFit { .. } => "--dilution",
        };
        Self::argument(argument, &error, error.fix())
    }
}

impl Context<'_, '_> {
    /// Everything predicted of a formula.
    pub(super) fn report(
        &self,
        equilibria: &crate::solution::Equilibria,
        formula: &crate::formula::Formula,
        question: &Question,
    ) -> Result<Report, CliError> {
        let siblings = |parent: &str| {
            let substance = self.library.substance(parent).ok().flatten();
            substance.map(|substance| substance.forms.clone()).unwrap_or_default()
        };
        let sources = crate::predict::report::Sources {
            equilibria,
            weights: self.library.weights(),
            siblings: &siblings,
        };
        Ok(report(sources, formula, question)?)
    }
}
