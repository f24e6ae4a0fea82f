//! What `scale --json` prints.

use crate::formula::Formula;
use crate::render::origin::{own_substances, with_solvents};
use crate::scale::{Advice, Batch, Item};
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ScaleBody {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file.
    pub origin: String,
    /// Chemicals of the user's own.
    pub own_substances: Vec<crate::render::origin::OwnSubstance>,
    /// The limiting substance, where the volume came from one.
    pub limited_by: Option<String>,
    /// Percent solutions to make before anything else.
    pub made_first: Vec<crate::render::made_first::MadeFirstBody>,
    pub parts: Vec<ScalePart>,
    /// What exchanges on the shelf do to the pH.
    pub ph_changes: Vec<crate::render::predict::PhChangeBody>,
    /// What the films asked for, where films were named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub films: Option<crate::render::films::FilmsBody>,
}

/// One part of a batch.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ScalePart {
    /// A, B …
    pub name: Option<String>,
    /// Volume as bottled, mL.
    pub volume_ml: f64,
    /// What to weigh or measure.
    pub items: Vec<ItemBody>,
}

/// One line to weigh or measure.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ItemBody {
    /// Id of the form to take.
    pub substance: String,
    pub name: String,
    /// Per litre of the part.
    pub per_litre: f64,
    /// `g` or `ml`.
    pub unit: &'static str,
    /// For the batch, unrounded.
    pub amount: f64,
    /// Rounded to the balance or the measure; with a dose, the grams that it carries.
    pub weigh: f64,
    /// (weigh − amount) / amount.
    pub rounding_error_percent: f64,
    /// Grams of the form that enter the vessel, where known.
    pub mass_g: Option<f64>,
    /// A percent solution in place of weighing.
    pub dose: Option<DoseBody>,
    /// The percent solution that the recipe itself measures, such as `10 % w/v`.
    pub solution: Option<String>,
    /// The form that the formula names.
    pub instead_of: Option<String>,
    /// What to mind.
    pub advice: Vec<String>,
}

/// A dose of a percent solution.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct DoseBody {
    /// % w/v.
    pub strength_percent: f64,
    /// mL to take.
    pub millilitres: f64,
    pub solvent: String,
}

impl ItemBody {
    /// From a line of a batch.
    pub(crate) fn new(item: &Item) -> Self {
        Self {
            substance: item.form.id.clone(),
            name: item.form.name.clone(),
            per_litre: item.per_litre,
            unit: item.unit.json(),
            amount: item.amount,
            weigh: item.weigh,
            rounding_error_percent: item.rounding_error_percent,
            mass_g: item.grams,
            dose: item.dose.as_ref().map(|dose| DoseBody {
                strength_percent: dose.strength_percent,
                millilitres: dose.millilitres,
                solvent: dose.solvent.clone(),
            }),
            solution: item.solution.map(|strength| strength.to_string()),
            instead_of: item.instead_of.as_ref().map(|instead| instead.form.id.clone()),
            advice: item.advice.iter().map(Advice::to_string).collect(),
        }
    }
}

impl ScaleBody {
    /// From a batch and what its exchanges do to the pH.
    pub(crate) fn new(
        formula: &Formula,
        batch: &Batch,
        changes: &[crate::predict::exchanged::PhChange],
    ) -> Self {
        Self {
            formula: formula.id.clone(),
            origin: formula.origin_name(),
            own_substances: own_substances(&with_solvents(
                formula,
                batch.parts.iter().flat_map(|part| &part.items).map(|item| item.form.as_ref()),
            )),
            limited_by: batch.limited_by.as_ref().map(|form| form.id.clone()),
            made_first: crate::render::made_first::MadeFirstBody::of(batch),
            parts: batch
                .parts
                .iter()
                .map(|part| ScalePart {
                    name: part.name.clone(),
                    volume_ml: part.volume.as_ml(),
                    items: part.items.iter().map(ItemBody::new).collect(),
                })
                .collect(),
            ph_changes: changes.iter().map(Into::into).collect(),
            films: None,
        }
    }
}
