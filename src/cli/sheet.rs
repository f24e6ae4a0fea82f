//! `soupcon sheet`: the numbered mixing sheet.

use clap::Args;

use super::arguments::{BatchArguments, PaperArguments, warn_of_unused};
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use super::judged::refuse;
use crate::formula::Formula;
use crate::render::json::{SheetBody, document};
use crate::render::json_review::Reviewed;
use crate::render::sheet::sheet_document;
use crate::scale::exchange::Relations;
use crate::scale::{self, Request};
use crate::sheet::{MixingSheet, assemble};

const EXAMPLES: &str = "\
Examples:
  soupcon sheet mq-borax-classic 500ml
  soupcon sheet mq-borax-classic 1L --balance 0.01g
  soupcon sheet acid-hardening-alum-boric-fixer 2L --format markdown -o fixer.md
  soupcon sheet mq-borax-classic 1L --format html --paper letter -o sheet.html
  soupcon sheet mq-borax-classic --limit metol=3.2g";

/// Arguments of `sheet`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct SheetArguments {
    #[command(flatten)]
    batch: BatchArguments,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &SheetArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    let found = context.formula(&arguments.batch.formula)?;
    let relations = context.relations()?;
    if let Some(need) = arguments.batch.need(&found.formula, context)? {
        context.warn(&crate::render::films::need_words(&need));
    }
    let request = arguments.batch.request(&found.formula, &relations, context)?;
    let sheet = mixing_sheet(&found.formula, &request, &relations, context)?;
    let reviewed = |sheet: &MixingSheet| Reviewed::of_sheet(SheetBody::new(sheet), sheet);
    if !sheet.objections.is_empty() {
        let subject = ("sheet", found.formula.id.as_str());
        return refuse(context, subject, &sheet.objections, || reviewed(&sheet));
    }
    warn_of_unused(&request, &sheet.batch, context);
    for too_small in sheet.parts.iter().filter_map(|part| part.too_small.as_ref()) {
        context.warn(too_small);
    }
    let text = context.rendered_on(paper, || sheet_document(&sheet), || document(reviewed(&sheet)));
    arguments.output.write(&text, context)?;
    Ok(0)
}

/// The sheet of a batch.
pub(super) fn mixing_sheet(
    formula: &Formula,
    request: &Request,
    relations: &Relations,
    context: &Context<'_, '_>,
) -> Result<MixingSheet, CliError> {
    let batch = scale::scale(formula, request, relations)?;
    let safety = context.safety()?;
    // The recipe's chemicals for the pH, those taken from the shelf for the heat.
    let recipe = formula.ingredients().map(|own| own.form.parent.id.as_str());
    let taken = batch.parts.iter().flat_map(|part| &part.items).map(|item| item.form.parent.id.as_str());
    let equilibria = context.equilibria_for(&recipe.chain(taken).collect())?;
    Ok(assemble(formula, &batch, &safety, &equilibria))
}
