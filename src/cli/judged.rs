//! What every command that answers about a solution does with a refusal.

use serde::Serialize;

use super::context::Context;
use super::error::CliError;
use crate::formula::Formula;
use crate::mixing::{self, Objection};
use crate::quantity::Volume;
use crate::render::CautionBlock;
use crate::render::json::document;
use crate::render::safety::objection_block;
use crate::safety::{Filling, Severity};
use crate::scale::exchange::Relations;
use crate::scale::{self, Request};
use crate::sheet::{MixingSheet, assemble};
use crate::vessel::Vessel;

/// Volume for which a recipe is judged where none is asked, mL.
const JUDGED_ML: f64 = 1000.0;

/// A recipe judged at a litre, with the chemicals that it names.
pub(super) fn recipe(formula: &Formula, context: &Context<'_, '_>) -> Result<MixingSheet, CliError> {
    let request = Request::volume(Volume::from_ml(JUDGED_ML));
    mixing_sheet(formula, &request, &context.relations()?, context)
}

/// Adds objections that are not told yet, and puts the gravest first.
pub(super) fn join(objections: &mut Vec<Objection>, more: impl IntoIterator<Item = Objection>) {
    for own in more {
        if !objections.iter().any(|known| known.text == own.text && known.kind == own.kind) {
            objections.push(own);
        }
    }
    objections.sort_by_key(|objection| objection.kind);
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
    let recipe = formula.ingredients().map(|ingredient| ingredient.form.parent.id.as_str());
    let taken = batch.parts.iter().flat_map(|part| &part.items).map(|item| item.form.parent.id.as_str());
    let items = batch.parts.iter().flat_map(|part| &part.items);
    // What a chemical of the user's own brings may be anything in the table.
    let equilibria = if items.map(|item| &item.form).any(|form| form.parent.solution.is_some()) {
        context.equilibria()?
    } else {
        context.equilibria_for(&recipe.chain(taken).collect())?
    };
    let mut sheet = assemble(formula, &batch, &safety, &equilibria);
    if let Some((volume, ratio)) = &batch.working {
        // What is poured together for use is judged as `dilute` judges it.
        let bath = mixing::bath_of_ratio(formula, ratio);
        let vessel = Vessel::of_bath(formula, &bath);
        let ph = |vessel: &Vessel| mixing::acidity(&equilibria, vessel);
        let how = (Filling::FromParts, volume.as_litres());
        let poured = mixing::pour(&safety, &bath.to_string(), None, &vessel, how, &ph);
        for caution in &poured.cautions {
            let is_told = sheet.review.cautions().iter().any(|own| own.id == caution.id);
            if !is_told && caution.severity > Severity::Note {
                sheet.review.own.push(caution.text.clone());
            }
        }
        join(&mut sheet.objections, poured.objections.into_iter().chain(mixing::two_baths(formula, &bath)));
    }
    sheet.refuse_impossible_percents(context.library.weights());
    sheet.tell_crystals(&equilibria, context.library.weights());
    Ok(sheet)
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
