//! `soupcon concentrate`: how strong a stock can be.

use clap::Args;

use super::arguments::{number, temperature_or};
use super::context::Context;
use super::error::CliError;
use super::judged::{join, recipe, refuse};
use crate::formula::Formula;
use crate::mixing::Objection;
use crate::predict::concentrate::{Answer, concentrate};
use crate::quantity::STORAGE_C;
use crate::render::Block;
use crate::render::concentrate::ConcentrateBody;
use crate::render::concentrate::{answer_words, concentrate_document};
use crate::render::json::document;
use crate::render::review::Reviewed;
use crate::render::safety::caution_block;
use crate::safety::{Caution, Severity};

const EXAMPLES: &str = "\
Examples:
  soupcon concentrate mq-carbonate-tray-tank
  soupcon concentrate mq-carbonate-tray-tank 2x
  soupcon concentrate plain-thiosulfate-fixer 2x --storage 10C

Exit code 1 where the data say that it would crystallise.";

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
    // The formula as it stands, with its uses, and the stock as strong as asked, with the heat of its making.
    let standing = recipe(formula, context)?;
    let never: Vec<Objection> = standing.objections.iter().filter(|own| own.is_never()).cloned().collect();
    if !never.is_empty() {
        return refuse(context, ("stock", formula.id.as_str()), &never, || {
            let body = ConcentrateBody::new(formula, &[], asked, celsius);
            Reviewed::new(body, &never, standing.review.cautions())
        });
    }
    let mut parts = formula
        .parts
        .iter()
        .map(|part| concentrate(&equilibria, context.library.weights(), part, celsius, asked))
        .collect::<Result<Vec<_>, _>>()?;
    if asked.is_none() && standing.objections.is_empty() {
        for (index, part) in parts.iter_mut().enumerate() {
            part.refused_from = refused_from(formula, index, part.ceiling(), context);
        }
    }
    let stock = asked.and_then(|times| recipe(&as_strong(formula, times, None), context).ok());
    let mut objections: Vec<Objection> = Vec::new();
    let made = stock.as_ref().unwrap_or(&standing);
    join(&mut objections, made.objections.iter().cloned());
    let refused = asked.and_then(|times| {
        let part = parts.iter().find(|part| part.answer(times) == Answer::No)?;
        Some(answer_words(part, times))
    });
    if let Some(message) = refused {
        let fix = format!(
            "make it weaker (`soupcon concentrate {}` tells how strong it can be), keep it warmer, or split it into parts",
            formula.id
        );
        let (place, text) = message.split_once(": ").unwrap_or(("the stock", &message));
        join(&mut objections, [Objection::not_this_way("crystallises", place, text, fix)]);
    }
    // What the strength brings, and any danger of what meets in it.
    let known: Vec<&str> = standing.review.cautions().iter().map(|caution| caution.id.as_str()).collect();
    let is_told = |caution: &&Caution| {
        caution.groups.len() > 1 && caution.severity == Severity::Danger
            || !known.contains(&caution.id.as_str())
    };
    let cautions: Vec<&Caution> = made.review.cautions().into_iter().filter(is_told).collect();
    let body = || ConcentrateBody::new(formula, &parts, asked, celsius);
    if !objections.is_empty() {
        let subject = ("stock", formula.id.as_str());
        return refuse(context, subject, &objections, || {
            let body = ConcentrateBody { parts: Vec::new(), ..body() };
            Reviewed::new(body, &objections, cautions)
        });
    }
    context.answer(
        || {
            let mut answer = concentrate_document(formula, &parts, asked);
            answer.blocks.extend(cautions.iter().map(|caution| Block::Caution(caution_block(caution))));
            answer
        },
        || document(Reviewed::new(body(), &objections, cautions.iter().copied())),
    )?;
    Ok(0)
}

/// How near the factor is looked for from which a stock is refused.
const NEAR: f64 = 1.05;

/// The factor up to which one part can be made stronger without a refusal, and what is refused above it; none where nothing is, up to the
/// strongest that dissolves.
fn refused_from(
    formula: &Formula,
    index: usize,
    ceiling: f64,
    context: &Context<'_, '_>,
) -> Option<(f64, String)> {
    let objection = |times: f64| {
        recipe(&as_strong(formula, times, Some(index)), context)
            .ok()?
            .objections
            .first()
            .map(ToString::to_string)
    };
    // A little below what dissolves, where there is still water.
    let (mut low, mut high) = (1.0, ceiling * 0.98);
    let mut why = if high > low { objection(high) } else { None }?;
    while high > low * NEAR {
        let middle = f64::sqrt(low * high);
        match objection(middle) {
            Some(text) => (high, why) = (middle, text),
            None => low = middle,
        }
    }
    Some((low, why))
}

/// The formula's parts, or the one of that place, so many times as strong; its uses are those of the formula as it stands.
fn as_strong(formula: &Formula, times: f64, only: Option<usize>) -> Formula {
    let mut own = formula.clone();
    for (_, part) in
        own.parts.iter_mut().enumerate().filter(|(index, _)| only.is_none_or(|only| only == *index))
    {
        part.ingredients = part.ingredients.iter().map(|line| line.times(times)).collect();
    }
    own.uses.clear();
    own
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
