//! What every command that answers about a solution does with a refusal.

use serde::Serialize;

use super::context::Context;
use super::error::CliError;
use super::sheet::mixing_sheet;
use crate::formula::Formula;
use crate::mixing::Objection;
use crate::quantity::Volume;
use crate::render::CautionBlock;
use crate::render::json::document;
use crate::render::safety::objection_block;
use crate::scale::Request;
use crate::sheet::MixingSheet;

/// Volume for which a recipe is judged where none is asked, mL.
const JUDGED_ML: f64 = 1000.0;

/// A recipe judged at a litre, with the chemicals that it names.
pub(super) fn recipe(formula: &Formula, context: &Context<'_, '_>) -> Result<MixingSheet, CliError> {
    let request = Request::volume(Volume::from_ml(JUDGED_ML));
    mixing_sheet(formula, &request, &context.relations()?, context)
}

/// No amounts and no steps: the reason on standard error, or the usual document without parts on standard output; exit code 1.
pub(super) fn refuse<B: Serialize>(
    context: &mut Context<'_, '_>,
    (wanted, subject): (&str, &str),
    objections: &[Objection],
    body: impl FnOnce() -> B,
) -> Result<u8, CliError> {
    if context.is_json() {
        let text = document(body());
        context.streams.out.write_all(text.as_bytes())?;
        return Ok(1);
    }
    match objections.first() {
        Some(objection) => Err(CliError::objected(wanted, subject, objection)),
        None => Ok(1),
    }
}

/// The objections as they stand before an answer that is given all the same.
pub(super) fn blocks(objections: &[Objection]) -> Vec<CautionBlock> {
    objections.iter().map(objection_block).collect()
}
