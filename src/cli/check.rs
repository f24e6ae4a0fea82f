//! `soupcon check`: formulas and substances of one's own, judged.

use std::path::PathBuf;

use clap::Args;

use super::context::Context;
use super::error::CliError;
use crate::diagnostic::FindingSeverity;
use crate::lint::{self, Tables};
use crate::render::check::{CheckBody, findings_document};
use crate::render::json::document;

const EXAMPLES: &str = "\
Examples:
  soupcon check my-developer.toml
  soupcon check ~/darkroom/library            every formula and substance below it
  soupcon check formulas --json

Exit codes: 0 nothing found, or only advice and notes; 1 an error or a warning found; 2 the path cannot be read.
An error makes a file unusable or can hurt; a warning is probably a mistake; advice is worth a look; a note names a danger that the file knows of.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct CheckArguments {
    /// Files, or folders with the layout of `formulas`; - for a formula on standard input
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
}

pub(super) fn run(arguments: &CheckArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.check_folders()?;
    let equilibria = context.equilibria()?;
    let (safety, relations) = (context.safety()?, context.relations()?);
    let tables = Tables { equilibria: &equilibria, safety: &safety, relations: &relations };
    let from_input = arguments.paths.iter().any(|path| path.as_os_str() == "-");
    let typed = if from_input { Some(context.standard_input("a formula")?) } else { None };
    let report = lint::paths(&arguments.paths, typed, &context.library, Some(tables))?;
    if report.formulas + report.substances == 0 && report.findings.is_empty() {
        let message = "there is no formula and no substance below these paths";
        return Err(CliError::argument("PATH", message, "name a .toml file, or a folder with such files"));
    }
    context.answer(|| findings_document(&report), || document(CheckBody::new(&report)))?;
    Ok(u8::from(report.at_least(FindingSeverity::Warning).next().is_some()))
}
