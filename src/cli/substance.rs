//! `soupcon substance`: what is known of a chemical.

use super::context::Context;
use super::error::CliError;
use crate::render::json::document;
use crate::render::substance::substance_document;
use crate::render::substance::{HazardBody, SubstanceBody, SubstanceName, SubstancesBody};
use crate::render::{Column, Document};
use clap::Args;

const EXAMPLES: &str = "\
Examples:
  soupcon substance                     every form that can be weighed
  soupcon substance metol
  soupcon substance 497-19-8            by CAS number
  soupcon substance sodium-carbonate    its forms, and what each weighs against the others";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct SubstanceArguments {
    /// Id, name or CAS number; without it all are listed
    name: Option<String>,
}

pub(super) fn run(arguments: &SubstanceArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.check_folders()?;
    let Some(name) = &arguments.name else { return list(context) };
    let form = context.library.form_by_name(name)?;
    let solubility = form.solubility_per_100_g(20.0, context.library.weights());
    let sources = context.library.sources();
    let cite = |key: &str| sources.get(key).cloned().unwrap_or_else(|| key.to_owned());
    let safety = context.safety()?;
    let text = |code: &str| safety.statements().get(code).map(|own| own.text.clone()).unwrap_or_default();
    let hazards: Vec<HazardBody> = form
        .hazards
        .statements
        .iter()
        .chain(&form.hazards.supplementary)
        .map(|code| HazardBody { code: code.clone(), text: text(code) })
        .collect();
    context.answer(
        || substance_document(&form, solubility, &hazards, &cite),
        || {
            let hazards = hazards
                .iter()
                .map(|hazard| HazardBody { code: hazard.code.clone(), text: hazard.text.clone() })
                .collect();
            document(SubstanceBody::new(&form, solubility, hazards))
        },
    )?;
    Ok(0)
}

fn list(context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let (all, findings) = context.library.all_substances()?;
    context.warn_of(&findings);
    context.answer(
        || {
            let mut names = Document::new();
            let rows = all
                .iter()
                .flat_map(|substance| &substance.forms)
                .map(|form| vec![form.id.clone(), form.name.clone()])
                .collect();
            names.table(vec![Column::left("id"), Column::left("name")], rows);
            names
        },
        || {
            let substances = all
                .iter()
                .flat_map(|substance| &substance.forms)
                .map(|form| SubstanceName { id: form.id.clone(), name: form.name.clone() })
                .collect();
            document(SubstancesBody { substances })
        },
    )?;
    Ok(0)
}
