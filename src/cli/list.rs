//! `soupcon list`: formulas by words, kind and chemicals.

use clap::Args;

use super::context::{Context, check_folders};
use super::error::CliError;
use crate::formula::{Formula, Kind};
use crate::library::Found;
use crate::render::Document;
use crate::render::json::{ListBody, ListedFormula, document};
use crate::suggestion;

const EXAMPLES: &str = "\
Examples:
  soupcon list                                       all formulas
  soupcon list --kind fixer
  soupcon list --with metol --without hydroquinone
  soupcon list borax fine grain                      words in id, title, summary or aliases

A chemical stands for all its forms: --with sodium-carbonate finds every hydrate.";

/// Arguments of `list`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ListArguments {
    /// Words that must all occur in the id, title, summary or aliases
    words: Vec<String>,
    /// Only this kind: film-developer, paper-developer, fixer …
    #[arg(long)]
    kind: Option<String>,
    /// Only with this chemical, in any form
    #[arg(long, value_name = "SUBSTANCE")]
    with: Vec<String>,
    /// Only without this chemical, in any form
    #[arg(long, value_name = "SUBSTANCE")]
    without: Vec<String>,
}

pub(super) fn run(arguments: &ListArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    check_folders(&context.library)?;
    let kind = arguments.kind.as_deref().map(kind).transpose()?;
    let with = chemicals(&arguments.with, context)?;
    let without = chemicals(&arguments.without, context)?;
    let words: Vec<String> = arguments.words.iter().map(|word| word.to_lowercase()).collect();
    let (all, findings) = context.library.formulas()?;
    for finding in &findings {
        context.warn(&format!("{finding} ({})", finding.fix));
    }
    let found: Vec<Found> = all
        .into_iter()
        .filter(|found| {
            let formula = &found.formula;
            kind.is_none_or(|kind| formula.kind == kind)
                && with.iter().all(|chemical| contains(formula, chemical))
                && !without.iter().any(|chemical| contains(formula, chemical))
                && words.iter().all(|word| mentions(formula, word))
        })
        .collect();
    context.answer(
        || list_document(&found),
        || document(ListBody { formulas: found.iter().map(ListedFormula::new).collect() }),
    )?;
    if found.is_empty() {
        context.warn("no formula matches; `soupcon list` without arguments shows all");
        return Ok(1);
    }
    Ok(0)
}

/// A kind by its name, with a suggestion.
fn kind(text: &str) -> Result<Kind, CliError> {
    let plain = text.trim().to_lowercase().replace([' ', '_'], "-");
    Kind::from_folder(&plain).ok_or_else(|| {
        let names: Vec<&str> = Kind::ALL.iter().map(|kind| kind.folder()).collect();
        let fix = match suggestion::nearest(&plain, names.iter().copied()) {
            Some(near) => format!("did you mean {near}?"),
            None => format!("kinds are {}", names.join(", ")),
        };
        CliError::argument("--kind", format!("`{text}` is not a kind of solution"), fix)
    })
}

/// Parents (or forms) by name; an unknown one is refused rather than matching nothing.
fn chemicals(names: &[String], context: &Context<'_, '_>) -> Result<Vec<String>, CliError> {
    names
        .iter()
        .map(|name| {
            let plain = name.trim().to_lowercase().replace([' ', '_'], "-");
            if context
                .library
                .substance(&plain)
                .map_err(|findings| CliError::Findings { findings })?
                .is_some()
            {
                return Ok(plain);
            }
            match context.library.form_by_name(&plain) {
                Ok(form) => Ok(form.id.clone()),
                Err(crate::formula::FormError::BareParent { name, .. }) => Ok(name),
                Err(error) => Err(error.into()),
            }
        })
        .collect()
}

/// Whether a formula contains a chemical: by parent, or exactly that form.
fn contains(formula: &Formula, chemical: &str) -> bool {
    let own = |form: &crate::substance::Form| form.parent.id == chemical || form.id == chemical;
    formula.ingredients().any(|ingredient| own(&ingredient.form))
        || formula.parts.iter().any(|part| part.solvent.as_deref().is_some_and(own))
}

fn mentions(formula: &Formula, word: &str) -> bool {
    let texts = [&formula.id, &formula.title, &formula.summary];
    texts.into_iter().chain(&formula.aliases).any(|text| text.to_lowercase().contains(word))
}

/// Kind by kind: id, then title and evidence below it.
fn list_document(found: &[Found]) -> Document {
    let mut list = Document::new();
    for kind in Kind::ALL {
        let own: Vec<&Found> = found.iter().filter(|found| found.formula.kind == kind).collect();
        if own.is_empty() {
            continue;
        }
        list.heading(kind.words());
        list.facts(
            own.iter()
                .map(|found| {
                    let formula = &found.formula;
                    let mark = if formula.evidence.doubt.is_some() { ", in doubt" } else { "" };
                    (
                        formula.id.clone(),
                        format!("{} ({}{mark})", formula.title, formula.evidence.kind.word()),
                    )
                })
                .collect(),
        );
    }
    list
}
