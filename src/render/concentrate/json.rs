//! What `concentrate --json` prints.

use crate::formula::Formula;
use crate::predict::concentrate::{Answer, Concentrate};
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ConcentrateBody {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file.
    pub origin: String,
    /// Times as strong, as asked.
    pub asked_times: Option<f64>,
    /// At which it is kept.
    pub storage_temperature_c: f64,
    pub parts: Vec<ConcentratePart>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ConcentratePart {
    /// A, B …
    pub name: Option<String>,
    /// `yes`, `no` or `not-known`; null where no strength was asked.
    pub answer: Option<&'static str>,
    /// Above which something surely crystallises, no water is left, or it must not be mixed.
    pub largest_times: f64,
    /// Why it must not be mixed stronger; null where what dissolves sets the limit, or a strength was asked.
    pub refused_above: Option<String>,
    /// About from which a salt can crystallise beside salts of its own ion, by the ion product; null where that sets no lower limit.
    pub about_times_beside_common_ions: Option<f64>,
    /// What crystallises first; null where no figure sets a limit.
    pub limited_by: Option<String>,
    pub substances: Vec<ReachBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ReachBody {
    /// Id of the form.
    pub substance: String,
    /// In the formula as it is.
    pub grams_per_litre: Option<f64>,
    /// Dissolves so many times as strong; null where not known.
    pub dissolves_to_times: Option<f64>,
    /// Crystallises above; null where not known.
    pub crystallises_above_times: Option<f64>,
}

impl ConcentrateBody {
    pub(crate) fn new(formula: &Formula, parts: &[Concentrate], asked: Option<f64>, celsius: f64) -> Self {
        Self {
            formula: formula.id.clone(),
            origin: formula.origin_name(),
            asked_times: asked,
            storage_temperature_c: celsius,
            parts: parts
                .iter()
                .map(|part| ConcentratePart {
                    name: part.name.clone(),
                    answer: asked.map(|times| match part.answer(times) {
                        Answer::Yes => "yes",
                        Answer::No => "no",
                        Answer::NotKnown => "not-known",
                    }),
                    largest_times: part.ceiling(),
                    refused_above: part.refused_from.as_ref().map(|(_, why)| why.clone()),
                    about_times_beside_common_ions: part.about.as_ref().map(|(about, _)| *about),
                    limited_by: part
                        .most
                        .as_ref()
                        .filter(|(most, _)| *most < part.no_water_above)
                        .map(|(_, form)| form.id.clone()),
                    substances: part
                        .reaches
                        .iter()
                        .map(|reach| ReachBody {
                            substance: reach.form.id.clone(),
                            grams_per_litre: reach.grams_per_litre,
                            dissolves_to_times: reach.dissolves_to,
                            crystallises_above_times: reach.fails_above,
                        })
                        .collect(),
                })
                .collect(),
        }
    }
}
