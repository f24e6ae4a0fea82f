//! `soupcon concentrate`: how strong a stock can be.

use clap::Args;

use super::arguments::{number, temperature_or};
use super::context::Context;
use super::error::CliError;
use crate::predict::concentrate::{Answer, concentrate};
use crate::predict::report::STORAGE_C;
use crate::render::json::document;
use crate::render::json_predict::ConcentrateBody;
use crate::render::predict::{answer_words, concentrate_document};

const EXAMPLES: &str = "\
Examples:
  soupcon concentrate mq-carbonate-tray-tank
  soupcon concentrate mq-carbonate-tray-tank 2x
  soupcon concentrate plain-thiosulfate-fixer 2x --storage 10C

Exit code 1 where the data say that it would crystallise.";

/// Arguments of `concentrate`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ConcentrateArguments {
    /// The formula: id, alias, path to a .toml file, or - for standard input
    formula: String,
    /// How many times as strong: 5x
    times: Option<String>,
    /// Where it is kept [default: 18C]
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    storage: Option<String>,
}

pub(super) fn run(arguments: &ConcentrateArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let found = context.formula(&arguments.formula)?;
    let formula = &found.formula;
    let asked = arguments.times.as_deref().map(times).transpose()?;
    let celsius = temperature_or("--storage", arguments.storage.as_deref(), STORAGE_C)?.as_c();
    let equilibria = context.equilibria()?;
    let parts = formula
        .parts
        .iter()
        .map(|part| concentrate(&equilibria, context.library.weights(), part, celsius, asked))
        .collect::<Result<Vec<_>, _>>()?;
    context.answer(
        || concentrate_document(formula, &parts, asked),
        || document(ConcentrateBody::new(formula, &parts, asked, celsius)),
    )?;
    let refused = asked.and_then(|times| {
        let part = parts.iter().find(|part| part.answer(times) == Answer::No)?;
        Some(answer_words(part, times))
    });
    match refused {
        Some(message) => Err(CliError::Refused {
            code: "crystallises",
            message,
            fix: "make it weaker, keep it warmer, or split it into parts".to_owned(),
        }),
        None => Ok(0),
    }
}

/// `5x`, `2.5x`, `5×`.
fn times(text: &str) -> Result<f64, CliError> {
    let fix = "write how many times as strong: 5x";
    let trimmed = text.trim();
    let Some(figure) = trimmed.strip_suffix(['x', 'X', '×']) else {
        return Err(CliError::argument("TIMES", format!("`{text}` has no x"), fix));
    };
    let value = number("TIMES", figure, fix)?;
    if (0.01..=1000.0).contains(&value) {
        Ok(value)
    } else {
        Err(CliError::argument(
            "TIMES",
            format!("{text} is no strength of a stock (from 0.01x to 1000x)"),
            fix,
        ))
    }
}
