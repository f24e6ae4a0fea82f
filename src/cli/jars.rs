//! `soupcon shelf` and `soupcon shopping`: jars after what was mixed, and what a plan still needs.

use std::path::PathBuf;

use clap::Args;

use super::bath::{WantedVolume, need_for, volume_or_films};
use super::conditions::JournalArguments;
use super::context::Context;
use super::error::CliError;
use super::shelf::{ShelfRead, from_file};
use crate::can_make;
use crate::formula::Formula;
use crate::render::json::document;
use crate::render::shelf::{ShelfBody, shelf_document};
use crate::render::shopping::{ShoppingBody, shopping_document};
use crate::scale::{Batch, Have, Request, Wanted, scale};
use crate::shelf::{Cost, Left, cost, left, shopping};

const SHELF_EXAMPLES: &str = "\
Examples:
  soupcon shelf --shelf shelf.toml
  soupcon new shelf -o shelf.toml        starts one

A jar in the file:
  [[jars]]
  form = \"metol\"
  amount = \"25 g\"          what was in it
  counted = \"2026-11-25\"   at the end of that day
  size = \"100 g\"           as you buy it
  price = 18.5             of one size, in your own currency
  assay = \"98 %\"

What the journal says was mixed later is taken off; the file is never changed.";

const SHOPPING_EXAMPLES: &str = "\
Examples:
  soupcon shopping mq-borax-classic=2L acid-hardening-alum-boric-fixer=1L --shelf shelf.toml
  soupcon shopping mq-borax-classic=8films --shelf shelf.toml";

/// The file of the shelf.
#[derive(Debug, Clone, Args)]
struct FileArguments {
    /// The .toml file that lists the shelf [default: $`SOUPCON_SHELF`, else shelf.toml in your configuration folder]
    #[arg(
        long,
        value_name = "FILE",
        help = "The .toml file that lists the shelf [default: $SOUPCON_SHELF, else shelf.toml in your configuration folder]"
    )]
    shelf: Option<PathBuf>,
}

#[derive(Debug, Args)]
#[command(after_help = SHELF_EXAMPLES)]
pub(super) struct ShelfArguments {
    #[command(flatten)]
    file: FileArguments,
    #[command(flatten)]
    journal: JournalArguments,
}

#[derive(Debug, Args)]
#[command(after_help = SHOPPING_EXAMPLES)]
pub(super) struct ShoppingArguments {
    /// What is to be mixed, each with its volume of each part, or for which films
    #[arg(required = true, value_name = "FORMULA=VOLUME|FILMS")]
    plan: Vec<String>,
    #[command(flatten)]
    file: FileArguments,
    #[command(flatten)]
    journal: JournalArguments,
}

/// Where the shelf's file usually lies.
fn usual_file(context: &Context<'_, '_>) -> Option<PathBuf> {
    context
        .environment
        .path("SOUPCON_SHELF")
        .or_else(|| Some(context.environment.configuration_folder()?.join("shelf.toml")))
}

fn read(arguments: &FileArguments, context: &mut Context<'_, '_>) -> Result<ShelfRead, CliError> {
    let path = arguments.shelf.clone().or_else(|| usual_file(context)).ok_or_else(|| {
        let fix = "give --shelf FILE, or set SOUPCON_SHELF; `soupcon new shelf -o shelf.toml` starts one";
        CliError::argument("--shelf", "where the shelf's file lies is not known", fix)
    })?;
    from_file(&path, context)
}

/// What is left of the shelf. A journal that has no place is an empty one.
fn what_is_left(
    shelf: &ShelfRead,
    journal: &JournalArguments,
    context: &mut Context<'_, '_>,
) -> Result<Vec<Left>, CliError> {
    let journal = journal.read(context)?;
    Ok(left(&shelf.jars, &journal))
}

pub(super) fn run_shelf(arguments: &ShelfArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let shelf = read(&arguments.file, context)?;
    let left = what_is_left(&shelf, &arguments.journal, context)?;
    context.answer(|| shelf_document(&left), || document(ShelfBody::new(&left)))?;
    Ok(0)
}

pub(super) fn run_shopping(
    arguments: &ShoppingArguments,
    context: &mut Context<'_, '_>,
) -> Result<u8, CliError> {
    let shelf = read(&arguments.file, context)?;
    let left = what_is_left(&shelf, &arguments.journal, context)?;
    let mut batches = Vec::new();
    let mut words = Vec::new();
    for text in &arguments.plan {
        let Some((name, amount)) = text.split_once('=') else {
            let message = format!("`{text}` has no `=`");
            return Err(CliError::argument("PLAN", message, "write it as mq-borax-classic=2L"));
        };
        let formula = context.formula(name.trim())?.formula;
        let wanted = match volume_or_films("PLAN", amount)? {
            WantedVolume::Volume(volume) => Wanted::Bottled(volume),
            WantedVolume::Films(films) => {
                let need = need_for(&formula, &films, None, context)?;
                match need.ratio {
                    Some(ratio) => Wanted::Working { volume: need.volume, ratio },
                    None => Wanted::Bottled(need.volume),
                }
            }
        };
        words.push(format!("{} {}", formula.id, amount.trim()));
        batches.push(batch_from(&formula, wanted, &shelf, context)?);
    }
    let wanted = shopping(&batches, &left);
    context.answer(|| shopping_document(&wanted, &words), || document(ShoppingBody::new(&wanted)))?;
    Ok(0)
}

/// A batch that takes the forms on the shelf, however much there is of them.
fn batch_from(
    formula: &Formula,
    wanted: Wanted,
    shelf: &ShelfRead,
    context: &Context<'_, '_>,
) -> Result<Batch, CliError> {
    let relations = context.relations()?;
    let without_limit: Vec<Have> =
        shelf.have.iter().map(|have| Have { amount: None, ..have.clone() }).collect();
    let request = Request {
        wanted,
        have: can_make::serving(formula, &without_limit, &relations),
        assays: shelf.assays.clone(),
        ..Request::volume(crate::quantity::Volume::from_ml(1000.0))
    };
    Ok(scale(formula, &request, &relations)?)
}

/// Cost of a litre of each part by the prices of the usual shelf; none where there is no such file.
pub(super) fn cost_of_a_litre(
    formula: &Formula,
    context: &mut Context<'_, '_>,
) -> Result<Option<Cost>, CliError> {
    let Some(path) = usual_file(context).filter(|path| path.is_file()) else { return Ok(None) };
    let shelf = from_file(&path, context)?;
    let litre = Wanted::Bottled(crate::quantity::Volume::from_ml(1000.0));
    let batch = batch_from(formula, litre, &shelf, context)?;
    Ok(Some(cost(&batch, &shelf.jars)))
}
