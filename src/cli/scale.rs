//! `soupcon scale`: what to weigh for a batch.

use clap::Args;

use super::arguments::{BatchArguments, warn_of_unused};
use super::context::Context;
use super::error::CliError;
use crate::predict::exchanged::ph_changes;
use crate::predict::report::USUAL_C;
use crate::render::Block;
use crate::render::batch::batch_document;
use crate::render::films::{FilmsBody, need_words};
use crate::render::json::{ScaleBody, document};
use crate::render::predict::exchange_lines;
use crate::scale;
use crate::sheet::refuse_never_together;

const EXAMPLES: &str = "\
Examples:
  soupcon scale mq-borax-classic 500ml
  soupcon scale mq-borax-classic 2x135                        for two films
  soupcon scale mq-borax-classic 1L --working 1+1 --balance 0.01g
  soupcon scale mq-borax-classic --limit metol=3.2g           the largest batch
  soupcon scale mq-carbonate-tray-tank 1L --have sodium-carbonate-monohydrate
  soupcon scale mq-borax-classic 500ml --shelf shelf.toml     the jars of a file

These are weights in no order; `soupcon sheet` tells how to mix them.";

/// Arguments of `scale`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ScaleArguments {
    #[command(flatten)]
    batch: BatchArguments,
}

pub(super) fn run(arguments: &ScaleArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let found = context.formula(&arguments.batch.formula)?;
    let relations = context.relations()?;
    let need = arguments.batch.need(&found.formula, context)?;
    let request = arguments.batch.request(&found.formula, &relations, context)?;
    let batch = scale::scale(&found.formula, &request, &relations)?;
    refuse_never_together(&found.formula, &batch, &context.safety()?)
        .map_err(|error| CliError::no_sheet("weights", &found.formula.id, &error))?;
    warn_of_unused(&request, &batch, context);
    // The table is read only where an exchange may have moved something.
    let changes = if batch.parts.iter().flat_map(|part| &part.items).any(|item| item.instead_of.is_some()) {
        ph_changes(&context.equilibria()?, &found.formula, &batch, USUAL_C)
    } else {
        Vec::new()
    };
    context.answer(
        || {
            let mut answer = batch_document(&found.formula, &batch);
            if let Some(need) = &need {
                answer.blocks.insert(1.min(answer.blocks.len()), Block::Paragraph(need_words(need)));
            }
            if !changes.is_empty() {
                answer.caution("NOTE", exchange_lines(&changes));
            }
            answer
        },
        || {
            let body = ScaleBody::new(&found.formula, &batch, &changes);
            document(ScaleBody { films: need.as_ref().map(FilmsBody::new), ..body })
        },
    )?;
    Ok(0)
}
