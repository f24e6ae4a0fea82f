//! `soupcon dilute`: how much stock and water, and whether it is enough for the films.

use clap::Args;

use super::arguments::ratio;
use super::bath::{Wanted, class_rules, covering, films_option, volume_or_films};
use super::context::Context;
use super::error::CliError;
use crate::bath::stock::{Grade, check};
use crate::formula::Formula;
use crate::quantity::rounding::{show_significant, to_step};
use crate::quantity::{MixRatio, Volume};
use crate::render::Document;
use crate::render::films::{StockBody, stock_words};
use crate::render::json::{DiluteBody, DilutePart, document};

const EXAMPLES: &str = "\
Examples:
  soupcon dilute 1+3 600ml
  soupcon dilute 1+1 500ml --formula mq-borax-classic --films 1
  soupcon dilute 1+1 2x135 --formula mq-borax-classic          in the smallest tank
  soupcon dilute 1+2+100 1L --formula pyro-metol-metaborate-staining     A + B + water";

/// Arguments of `dilute`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct DiluteArguments {
    /// Parts by volume: 1+3 is 1 stock and 3 water; 1+1+8 is A, B and water
    dilution: String,
    /// How much working solution, or for which films: 4films, 2x135
    #[arg(value_name = "VOLUME|FILMS")]
    volume: String,
    /// The formula, to see whether the stock is enough
    #[arg(long)]
    formula: Option<String>,
    /// Films to develop in it: 2, 2x135, 1x120, 6x4x5in
    #[arg(long, value_name = "FILMS", requires = "formula")]
    films: Option<String>,
    /// The tank for FILMS in place of a VOLUME: a name of the configuration, or what covers its reels
    #[arg(long, value_name = "TANK")]
    tank: Option<String>,
}

pub(super) fn run(arguments: &DiluteArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let ratio = ratio("DILUTION", &arguments.dilution)?;
    let rules = class_rules(context)?;
    let found = arguments.formula.as_deref().map(|name| context.formula(name)).transpose()?;
    let formula = found.as_ref().map(|found| &found.formula);
    let typed_films = arguments.films.as_deref().map(|text| films_option("--films", text)).transpose()?;
    let (volume, films) = match volume_or_films("VOLUME", &arguments.volume)? {
        Wanted::Volume(volume) => (volume, typed_films),
        Wanted::Films(films) => {
            if typed_films.is_some() {
                let fix = "name the films once";
                return Err(CliError::argument("--films", "the films stand in place of the volume", fix));
            }
            (covering(&films, arguments.tank.as_deref(), &rules, context)?, Some(films))
        }
    };
    let split = Split::new(&ratio, volume, formula)?;
    let checked = formula.zip(films.as_ref()).map(|(formula, films)| {
        let shares: Vec<f64> = split.parts.iter().map(|(_, ml)| *ml).collect();
        check(formula, films, &shares, volume.as_ml(), &rules)
    });
    let warnings = checked.as_ref().map(stock_words).unwrap_or_default();
    let enough = checked.as_ref().is_none_or(|checked| checked.grade != Grade::TooLittle);
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
                stock: checked.as_ref().map(StockBody::new),
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

/// To the mark of a cylinder.
fn measure_words(ml: f64) -> String {
    format!("{} mL", show_significant(to_step(ml, crate::scale::dose::measuring_step_ml(ml))))
}
