//! `soupcon compare`: formulas side by side.

use clap::{Args, ValueEnum};

use super::arguments::PaperArguments;
use super::bath::class_rules;
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use crate::compare::{self, ComparedPh, ShownStrength};
use crate::composition::{Composer, Composition};
use crate::formula::Formula;
use crate::predict::predict_vessel;
use crate::quantity::USUAL_C;
use crate::render::compare::{CompareBody, ComparePage, compare_html, comparison_document};
use crate::render::json::document;
use crate::render::life::{does_words, keeps_words};

const EXAMPLES: &str = "\
Examples:
  soupcon compare mq-borax-classic mq-borax-boric-acid-buffered
  soupcon compare mq-borax-classic pq-borax-buffered metol-sulfite
  soupcon compare mq-borax-classic ./mine.toml --as used
  soupcon compare acid-hardening-alum-boric-fixer plain-thiosulfate-fixer --json
  soupcon compare mq-borax-classic pq-borax-buffered --format html -o compare.html

Each row shows one form; hydrates are converted. The words compare the first listed use of each with that of the first formula.";

/// What the table shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum As {
    /// Each part as it stands in its bottle.
    Bottled,
    /// Each bath of the first use.
    Used,
}

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct CompareArguments {
    /// Two to six formulas: ids, aliases, paths to .toml files, or - for standard input
    #[arg(required = true, num_args = 1.., value_name = "FORMULA")]
    formulas: Vec<String>,
    /// Which solutions the table shows [default: bottled, or used where a formula has several parts]
    #[arg(long = "as", value_enum, value_name = "STRENGTH")]
    strength: Option<As>,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &CompareArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    if !(compare::FEWEST..=compare::MOST).contains(&arguments.formulas.len()) {
        let error = compare::CompareError::Count { given: arguments.formulas.len() };
        return Err(CliError::argument("FORMULA", &error, compare::CompareError::fix()));
    }
    let mut formulas: Vec<Formula> = Vec::new();
    for name in &arguments.formulas {
        formulas.push(context.formula(name)?.formula);
    }
    let refs: Vec<&Formula> = formulas.iter().collect();
    let shown = match arguments.strength {
        Some(As::Bottled) => ShownStrength::Bottled,
        Some(As::Used) => ShownStrength::Used,
        None => ShownStrength::usual(&refs),
    };
    let parts = || refs.iter().flat_map(|formula| &formula.parts);
    let forms = parts()
        .flat_map(|part| part.ingredients.iter().map(|ingredient| &ingredient.form).chain(&part.solvent));
    let equilibria = context.equilibria_for(&forms.map(|form| form.parent.id.as_str()).collect())?;
    let ph = |composition: &Composition| {
        let prediction =
            predict_vessel(&equilibria, &composition.vessel, &composition.label, USUAL_C).ok()?;
        Some(ComparedPh {
            value: prediction.ph,
            error: prediction.ph_error,
            buffer_capacity: prediction.buffer_capacity,
        })
    };
    let comparison = compare::compare(&refs, shown, &Composer::new(&context.library), Some(&ph))
        .map_err(|error| CliError::argument("FORMULA", &error, compare::CompareError::fix()))?;
    let rules = class_rules(context)?;
    let html = || {
        let page = ComparePage {
            comparison: &comparison,
            keeps: refs.iter().map(|formula| keeps_words(formula, &rules)).collect(),
            does: refs.iter().map(|formula| does_words(formula, &rules)).collect(),
        };
        compare_html(&page, paper)
    };
    let text = context.rendered_with(
        || comparison_document(&comparison),
        html,
        || document(CompareBody::new(&comparison)),
    );
    arguments.output.write(&text, context)?;
    Ok(0)
}
