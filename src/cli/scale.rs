//! `soupcon scale`: what to weigh for a batch.

use clap::Args;

use super::arguments::{BatchArguments, warn_of_unused};
use super::context::Context;
use super::error::CliError;
use super::judged::{mixing_sheet, refuse};
use crate::render::Block;
use crate::render::films::{FilmsBody, need_words};
use crate::render::json::document;
use crate::render::predict::exchange_lines;
use crate::render::review::Reviewed;
use crate::render::scale::ScaleBody;
use crate::render::scale::batch_document;

const EXAMPLES: &str = "\
Examples:
  soupcon scale mq-borax-classic 500ml
  soupcon scale mq-borax-classic 2x135                        for two films
  soupcon scale mq-borax-classic 1L --working 1+1 --balance 0.01g
  soupcon scale mq-borax-classic --limit metol=3.2g           the largest batch
  soupcon scale mq-carbonate-tray-tank 1L --have sodium-carbonate-monohydrate
  soupcon scale mq-borax-classic 500ml --shelf shelf.toml     the jars of a file

These are weights, not a mixing order; `soupcon sheet` says how to mix them.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ScaleArguments {
    #[command(flatten)]
    batch: BatchArguments,
}

pub(super) fn run(arguments: &ScaleArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let in_library = context.formula(&arguments.batch.formula)?;
    let relations = context.relations()?;
    let need = arguments.batch.need(&in_library.formula, context)?;
    let request = arguments.batch.request(&in_library.formula, &relations, context)?;
    let sheet = mixing_sheet(&in_library.formula, &request, &relations, context)?;
    let (batch, changes) = (&sheet.batch, &sheet.ph_changes);
    let reviewed = |body: ScaleBody| Reviewed::of_sheet(body, &sheet);
    if !sheet.objections.is_empty() {
        let subject = ("weights", in_library.formula.id.as_str());
        return refuse(context, subject, &sheet.objections, || {
            reviewed(ScaleBody {
                made_first: Vec::new(),
                parts: Vec::new(),
                ..ScaleBody::new(&in_library.formula, batch, changes)
            })
        });
    }
    warn_of_unused(&request, batch, context);
    context.answer(
        || {
            let mut answer = batch_document(&in_library.formula, batch);
            if let Some(need) = &need {
                answer.blocks.insert(1.min(answer.blocks.len()), Block::Paragraph(need_words(need)));
            }
            if !changes.is_empty() {
                answer.caution("NOTE", exchange_lines(changes));
            }
            answer
        },
        || {
            let body = ScaleBody::new(&in_library.formula, batch, changes);
            document(reviewed(ScaleBody { films: need.as_ref().map(FilmsBody::new), ..body }))
        },
    )?;
    Ok(0)
}
