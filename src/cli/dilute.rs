//! `soupcon dilute`: how much stock and water, and whether it is enough for the films.

use clap::Args;

use super::arguments::{ratio, ratio_of, volume};
use super::context::Context;
use super::error::CliError;
use crate::formula::Formula;
use crate::quantity::rounding::{show_short, show_significant, to_step};
use crate::quantity::{MixRatio, Volume};
use crate::render::Document;
use crate::render::json::{DiluteBody, DilutePart, document};

const EXAMPLES: &str = "\
Examples:
  soupcon dilute 1+3 600ml
  soupcon dilute 1+1 500ml --formula mq-borax-classic --rolls 1
  soupcon dilute 1+2+100 1L --formula pyro-metol-metaborate-staining     A + B + water";

/// Arguments of `dilute`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct DiluteArguments {
    /// Parts by volume: 1+3 is 1 stock and 3 water; 1+1+8 is A, B and water
    dilution: String,
    /// How much working solution
    volume: String,
    /// The formula, to see whether the stock is enough
    #[arg(long)]
    formula: Option<String>,
    /// Films (or sheets of 516 cm²) to develop in it
    #[arg(long, value_name = "N", requires = "formula")]
    rolls: Option<u32>,
}

pub(super) fn run(arguments: &DiluteArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let volume = volume("VOLUME", &arguments.volume)?;
    let found = arguments.formula.as_deref().map(|name| context.formula(name)).transpose()?;
    let formula = found.as_ref().map(|found| &found.formula);
    let ratio = match formula {
        Some(formula) => ratio_of("DILUTION", &arguments.dilution, formula)?,
        None => ratio("DILUTION", &arguments.dilution)?,
    };
    let split = Split::new(&ratio, volume, formula)?;
    let (warnings, enough) = stock_warnings(&split, formula, arguments.rolls);
    context.answer(
        || {
            let mut answer = Document::new();
            let mut facts: Vec<(String, String)> =
                split.parts.iter().map(|(name, ml)| (name.clone(), measure_words(*ml))).collect();
            facts.push(("water".to_owned(), measure_words(split.water_ml)));
            facts.push(("makes".to_owned(), volume.to_string()));
            let origin = formula.and_then(Formula::origin_words);
            facts.extend(origin.map(|words| ("origin".to_owned(), words)));
            answer.facts(facts);
            answer.list(warnings.clone());
            answer
        },
        || {
            let parts = split.parts.iter().filter(|_| split.parts.len() > 1);
            document(DiluteBody {
                stock_ml: split.parts.iter().map(|(_, ml)| ml).sum(),
                water_ml: split.water_ml,
                parts: parts.map(|(name, ml)| DilutePart { name: name.clone(), volume_ml: *ml }).collect(),
                warnings: warnings.clone(),
                origin: formula.map(Formula::origin_name),
            })
        },
    )?;
    Ok(u8::from(!enough))
}

/// Least stock that can be measured, mL: the finest mark of a 1 mL syringe.
const LEAST_ML: f64 = crate::quantity::LEAST_ML;

/// A working solution taken apart.
struct Split {
    parts: Vec<(String, f64)>,
    water_ml: f64,
}

impl Split {
    fn new(ratio: &MixRatio, volume: Volume, formula: Option<&Formula>) -> Result<Self, CliError> {
        let names: Vec<String> = match formula {
            Some(formula) if formula.parts.iter().any(|part| part.name.is_some()) => {
                formula.parts.iter().filter_map(|part| part.name.clone()).collect()
            }
            _ => vec!["stock".to_owned()],
        };
        let figures = ratio.parts();
        if figures.len() != names.len() && figures.len() != names.len() + 1 {
            let message = format!("`{}` parts do not fit {}", figures.len(), names.join(" + "));
            let fix = "write one figure for each part and, last, one for water";
            return Err(CliError::argument("DILUTION", message, fix));
        }
        let total: f64 = figures.iter().sum();
        let millilitres = |figure: &f64| figure / total * volume.as_ml();
        let water_ml = figures.get(names.len()).map_or(0.0, millilitres);
        let parts: Vec<(String, f64)> = names.into_iter().zip(figures.iter().map(millilitres)).collect();
        if let Some((name, _)) = parts.iter().find(|(_, ml)| *ml > 0.0 && *ml < LEAST_ML) {
            let message =
                format!("{volume} of it would hold less than {LEAST_ML} mL of {name}, too little to measure");
            return Err(CliError::argument("VOLUME", message, "make more of it, or dilute in two steps"));
        }
        Ok(Self { parts, water_ml })
    }
}

/// Whether the stock is enough for the films, in words.
fn stock_warnings(split: &Split, formula: Option<&Formula>, rolls: Option<u32>) -> (Vec<String>, bool) {
    let (Some(formula), Some(rolls)) = (formula, rolls) else { return (Vec::new(), true) };
    let Some(least) = formula.capacity.stock_ml_per_roll else {
        let words = "least stock for each film: not known for this formula; no check made";
        return (vec![words.to_owned()], true);
    };
    let needed = least * f64::from(rolls);
    let stock: f64 = split.parts.iter().map(|(_, ml)| ml).sum();
    let enough = stock >= needed * (1.0 - 1e-9);
    let source = formula.capacity.source.as_deref().unwrap_or("the formula's source");
    let films = if rolls == 1 { "1 film needs".to_owned() } else { format!("{rolls} films need") };
    let words = if enough {
        format!("enough: {films} {} mL of stock [{source}]", show_short(needed, 0))
    } else {
        format!(
            "not enough: {films} {} mL of stock and this holds {} mL [{source}]; use a bigger tank, fewer films or less water",
            show_short(needed, 0),
            show_short(stock, 0)
        )
    };
    (vec![words], enough)
}

/// To the mark of a cylinder.
fn measure_words(ml: f64) -> String {
    format!("{} mL", show_significant(to_step(ml, crate::scale::dose::measuring_step_ml(ml))))
}
