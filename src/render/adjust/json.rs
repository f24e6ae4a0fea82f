//! What `adjust --json` prints.

use crate::formula::Formula;
use crate::predict::adjust::{AddedForm, Adjustment};
use crate::solution::Prediction;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct AdjustBody {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file.
    pub origin: String,
    pub part: Option<String>,
    /// Id of the formula whose pH is wanted.
    #[serde(rename = "match")]
    pub matched: Option<String>,
    pub temperature_c: f64,
    /// Wanted.
    pub target_ph: f64,
    /// `exact`, `ph`, `ph-and-capacity` or `already-there`.
    pub way: &'static str,
    /// What goes in.
    pub using: Vec<AddedBody>,
    /// What is left out.
    pub replaced: Option<RemovedBody>,
    /// The solution as it is.
    pub before: PhBody,
    /// The solution then.
    pub after: PhBody,
}

/// A substance that goes in.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct AddedBody {
    /// Id of the form.
    pub substance: String,
    pub grams_per_litre: f64,
    /// How much of a liquid.
    pub millilitres_per_litre: Option<f64>,
    /// That stay dissolved at 18 °C; null where not known.
    pub limit_grams_per_litre: Option<f64>,
}

/// A substance that is left out.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct RemovedBody {
    /// Id of the form.
    pub substance: String,
    /// How much there was.
    pub grams_per_litre: f64,
}

/// A predicted solution in short.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PhBody {
    pub ph: f64,
    /// Expected error, either way.
    pub ph_error: f64,
    /// mol/L per pH.
    pub buffer_capacity: f64,
    /// mol per kg of water.
    pub ionic_strength: f64,
}

impl From<&Prediction> for PhBody {
    fn from(prediction: &Prediction) -> Self {
        Self {
            ph: prediction.ph,
            ph_error: prediction.ph_error,
            buffer_capacity: prediction.buffer_capacity,
            ionic_strength: prediction.ionic_strength,
        }
    }
}

impl From<&AddedForm> for AddedBody {
    fn from(part: &AddedForm) -> Self {
        Self {
            substance: part.form.id.clone(),
            grams_per_litre: part.grams_per_litre,
            millilitres_per_litre: part.millilitres_per_litre(),
            limit_grams_per_litre: part.dissolves_g_per_l,
        }
    }
}

impl AdjustBody {
    /// From an adjustment.
    pub(crate) fn new(
        formula: &Formula,
        part: Option<&str>,
        matched: Option<&str>,
        celsius: f64,
        adjustment: &Adjustment,
    ) -> Self {
        Self {
            formula: formula.id.clone(),
            origin: formula.origin_name(),
            part: part.map(str::to_owned),
            matched: matched.map(str::to_owned),
            temperature_c: celsius,
            target_ph: adjustment.target_ph,
            way: adjustment.way.word(),
            using: adjustment.added.iter().map(AddedBody::from).collect(),
            replaced: adjustment
                .removed
                .as_ref()
                .map(|(form, grams)| RemovedBody { substance: form.id.clone(), grams_per_litre: *grams }),
            before: (&adjustment.before).into(),
            after: (&adjustment.after).into(),
        }
    }
}
