//! `soupcon sheet`: the numbered mixing sheet.

use std::path::{Path, PathBuf};

use clap::Args;

use super::arguments::{BatchArguments, PaperArguments, warn_of_unused};
use super::context::Context;
use super::error::CliError;
use super::files::write_atomically;
use crate::render::json::{SheetBody, document};
use crate::render::sheet::sheet_document;
use crate::scale;
use crate::sheet::sheet;

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
    /// Write to a file instead of standard output (- for standard output)
    #[arg(short, long, value_name = "FILE", help_heading = "Output")]
    output: Option<PathBuf>,
    /// Overwrite the file if it is there
    #[arg(long, help_heading = "Output")]
    force: bool,
}

pub(super) fn run(arguments: &SheetArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let found = context.formula(&arguments.batch.formula)?;
    let request = arguments.batch.request(context)?;
    let relations = context.relations()?;
    let batch = scale::scale(&found.formula, &request, &relations)?;
    warn_of_unused(&request, &batch, context);
    let safety = context.safety()?;
    // The recipe's chemicals for the pH, those taken from the shelf for the heat.
    let recipe = found.formula.ingredients().map(|own| own.form.parent.id.as_str());
    let taken = batch.parts.iter().flat_map(|part| &part.items).map(|item| item.form.parent.id.as_str());
    let equilibria = context.equilibria_for(&recipe.chain(taken).collect())?;
    let sheet = sheet(&found.formula, &batch, &safety, &equilibria).map_err(|error| CliError::Refused {
        code: error.code(),
        message: format!("no sheet for `{}`: {error}", found.formula.id),
        fix: error.fix(),
    })?;
    let text = context.rendered_on(
        arguments.paper.paper(),
        || sheet_document(&sheet),
        || document(SheetBody::new(&sheet)),
    );
    match arguments.output.as_deref().filter(|path| *path != Path::new("-")) {
        Some(path) => {
            write_atomically(path, &text, arguments.force)?;
            context.hint(&format!("wrote {}", path.display()));
        }
        None => context.streams.out.write_all(text.as_bytes())?,
    }
    Ok(0)
}
