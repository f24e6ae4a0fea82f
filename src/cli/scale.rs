//! `soupcon scale`: what to weigh for a batch.

use clap::Args;

use super::arguments::{BatchArguments, warn_of_unused};
use super::context::Context;
use super::error::CliError;
use crate::render::batch::batch_document;
use crate::render::json::{ScaleBody, document};
use crate::scale;

const EXAMPLES: &str = "\
Examples:
  soupcon scale mq-borax-classic 500ml
  soupcon scale mq-borax-classic 1L --working 1+1 --balance 0.01g
  soupcon scale mq-borax-classic --limit metol=3.2g           the largest batch
  soupcon scale mq-carbonate-tray-tank 1L --have sodium-carbonate-monohydrate

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
    let request = arguments.batch.request(context)?;
    let relations = context.relations()?;
    let batch = scale::scale(&found.formula, &request, &relations)?;
    warn_of_unused(&request, &batch, context);
    context.answer(
        || batch_document(&found.formula, &batch),
        || document(ScaleBody::new(&found.formula, &batch)),
    )?;
    Ok(0)
}
