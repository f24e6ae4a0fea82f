//! What taking another form from the shelf does to the pH of a batch.

use super::{part_words, predict_part, predict_vessel};
use crate::formula::Formula;
use crate::scale::Batch;
use crate::solution::Equilibria;

/// Changes of pH smaller than this are not worth a word.
const LEAST_CHANGE: f64 = 0.05;

/// A change of pH by what is taken from the shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct PhChange {
    /// A, B …
    pub part: Option<String>,
    /// What the recipe names and what is taken, by name.
    pub exchanges: Vec<(String, String)>,
    /// pH of the recipe.
    pub before: f64,
    /// pH of the batch.
    pub after: f64,
}

/// Parts whose predicted pH an exchange changes; forms of one chemical change nothing, mole for mole.
///
/// Parts that cannot be predicted are left out.
pub(crate) fn ph_changes(
    equilibria: &Equilibria,
    formula: &Formula,
    batch: &Batch,
    celsius: f64,
) -> Vec<PhChange> {
    formula
        .parts
        .iter()
        .zip(&batch.parts)
        .filter_map(|(source, batch_part)| {
            let exchanges: Vec<(String, String)> = batch_part
                .items
                .iter()
                .filter_map(|item| {
                    Some((item.instead_of.as_ref()?.form.name.clone(), item.form.name.clone()))
                })
                .collect();
            if exchanges.is_empty() {
                return None;
            }
            let before = predict_part(equilibria, source, celsius).ok()?.ph;
            let after =
                predict_vessel(equilibria, &batch_part.vessel(source), &part_words(source), celsius).ok()?.ph;
            ((after - before).abs() >= LEAST_CHANGE).then(|| PhChange {
                part: batch_part.name.clone(),
                exchanges,
                before,
                after,
            })
        })
        .collect()
}
