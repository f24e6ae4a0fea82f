//! What `predict --json` prints, and what an exchange on the shelf does to the pH.

use crate::formula::Formula;
use crate::predict::exchanged::PhChange;
use crate::predict::margin::{Limit, Margin, SolubilityVerdict, TurnsInto};
use crate::predict::measured::ReadingComparison;
use crate::predict::report::{Predicted, Report, Solution};
use crate::predict::sensitivity::Sensitivity;
use crate::predict::{PredictError, has_open_doubt};
use crate::render::review::RefusalJson;
use crate::solution::Buffering;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PredictBody {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file.
    pub origin: String,
    /// Each part, as bottled or diluted as asked.
    pub parts: Vec<PredictedPart>,
    /// Working baths of its uses, or the mixture asked for.
    pub baths: Vec<PredictedBath>,
    /// A meter's reading beside it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<MeasuredBody>,
    /// Why nothing is predicted of what was asked; `predict` then ends with 1.
    pub refusals: Vec<RefusalJson>,
}

/// pH and what goes with it; nulls where nothing is predicted.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct Outcome {
    /// At which the pH is told.
    pub temperature_c: f64,
    /// −log₁₀ of the activity of H⁺.
    pub ph: Option<f64>,
    /// Expected error, either way.
    pub ph_error: Option<f64>,
    /// mol per kg of water.
    pub ionic_strength: Option<f64>,
    /// mol/L of strong acid or alkali that moves it by one pH.
    pub buffer_capacity: Option<f64>,
    /// `poor`, `fair` or `firm`.
    pub buffering: Option<&'static str>,
    /// Whether something may matter in a way that no number bounds: then the error is that of the rest alone.
    pub open_doubt: bool,
    /// Why nothing is predicted.
    pub refused: Option<String>,
    /// What is in it, most first.
    pub species: Vec<SpeciesBody>,
    /// What could not be modelled.
    pub not_modelled: Vec<DoubtBody>,
    /// What moves the pH, most first; left out of the card.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sensitivities: Vec<SensitivityBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SpeciesBody {
    /// Its name, charge at the end.
    pub name: String,
    /// mol/L.
    pub moles_per_litre: f64,
}

/// Something not modelled.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct DoubtBody {
    pub what: String,
    /// Most by which it may move the pH.
    pub ph_shift: Option<f64>,
}

/// What one slip does.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SensitivityBody {
    /// Kind of slip.
    pub cause: &'static str,
    pub what: String,
    /// pH then.
    pub ph: f64,
    /// Less the prediction.
    pub change: f64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PredictedPart {
    /// A, B …
    pub name: Option<String>,
    /// Its dilution in words; null as bottled.
    pub dilution: Option<String>,
    #[serde(flatten)]
    pub outcome: Outcome,
    /// At which the solubilities are told.
    pub storage_temperature_c: f64,
    /// Each solid against its solubility.
    pub solubility: Vec<SolubilityBody>,
    /// Water that a litre starts with, mL.
    pub start_water_ml: Option<f64>,
    /// Its temperature.
    pub start_water_c: Option<f64>,
    /// Temperatures while a litre is mixed, in the order of mixing.
    pub heating: Vec<HeatingBody>,
    /// What does not dissolve in the water of its own step.
    pub undissolved: Vec<UndissolvedBody>,
}

/// A solid against its solubility.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SolubilityBody {
    /// Id of the form.
    pub substance: String,
    /// In the solution.
    pub grams_per_litre: Option<f64>,
    /// That dissolve at the storage temperature; null where not known.
    pub limit_grams_per_litre: Option<f64>,
    /// `crystals`, `close`, `dissolved` or `not-known`.
    pub verdict: &'static str,
    /// Where the data do not reach that temperature: the nearest figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest_limit_grams_per_litre: Option<f64>,
    /// Temperature of that figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest_limit_c: Option<f64>,
    /// `salt` or `base`, where it is no longer what was weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turned_into: Option<&'static str>,
    /// Below which it crystallises; null where the data do not reach.
    pub crystallises_below_c: Option<f64>,
}

/// The temperature after something has gone in.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct HeatingBody {
    /// Id of the form.
    pub substance: String,
    /// After it, taken at once, between 0 and 100; null where a heat is not known.
    pub temperature_after_c: Option<f64>,
    /// Whether it is dissolved in a vessel of its own.
    pub apart: bool,
    /// Whether it would boil.
    pub boils: bool,
}

/// What does not dissolve in its step.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct UndissolvedBody {
    /// Id of the form.
    pub substance: String,
    /// In the vessel.
    pub grams_per_100_g_water: f64,
    /// That dissolve.
    pub limit_grams_per_100_g_water: f64,
    pub temperature_c: f64,
}

/// A working bath.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PredictedBath {
    /// Name of the use.
    #[serde(rename = "use")]
    pub used_as: Option<String>,
    /// Parts by volume, in words.
    pub mixture: String,
    #[serde(flatten)]
    pub outcome: Outcome,
}

/// A reading beside the prediction.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct MeasuredBody {
    /// What the meter showed.
    pub ph: f64,
    /// Less the prediction.
    pub difference: f64,
    /// Whether it is within the prediction's error.
    pub agrees: bool,
    /// Strong alkali (negative: acid) that makes the difference.
    pub alkali_moles_per_litre: Option<f64>,
    /// Likeliest first.
    pub explanations: Vec<ExplanationBody>,
    pub electrode: Vec<&'static str>,
}

/// What may explain a difference.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ExplanationBody {
    #[serde(flatten)]
    pub slip: SensitivityBody,
    /// Its change over the difference.
    pub share: f64,
}

fn buffering_word(buffering: Buffering) -> &'static str {
    match buffering {
        Buffering::Poor => "poor",
        Buffering::Fair => "fair",
        Buffering::Firm => "firm",
    }
}

impl From<&Sensitivity> for SensitivityBody {
    fn from(sensitivity: &Sensitivity) -> Self {
        Self {
            cause: sensitivity.cause.word(),
            what: sensitivity.words.clone(),
            ph: sensitivity.ph,
            change: sensitivity.change,
        }
    }
}

impl Outcome {
    fn new(outcome: &Result<Predicted, PredictError>, celsius: f64) -> Self {
        let predicted = outcome.as_ref().ok();
        let prediction = predicted.map(|own| &own.prediction);
        Self {
            temperature_c: celsius,
            ph: prediction.map(|prediction| prediction.ph),
            ph_error: prediction.map(|prediction| prediction.ph_error),
            ionic_strength: prediction.map(|prediction| prediction.ionic_strength),
            buffer_capacity: prediction.map(|prediction| prediction.buffer_capacity),
            buffering: prediction.map(|prediction| buffering_word(prediction.buffering)),
            open_doubt: prediction.is_some_and(has_open_doubt),
            refused: outcome.as_ref().err().map(PredictError::to_string),
            species: prediction
                .into_iter()
                .flat_map(|own| &own.species)
                .map(|own| SpeciesBody { name: own.name.clone(), moles_per_litre: own.moles_per_litre })
                .collect(),
            not_modelled: predicted
                .into_iter()
                .flat_map(|own| &own.doubts)
                .map(|doubt| DoubtBody { what: doubt.words.clone(), ph_shift: doubt.ph_shift })
                .collect(),
            sensitivities: predicted
                .into_iter()
                .flat_map(|own| &own.sensitivities)
                .map(SensitivityBody::from)
                .collect(),
        }
    }
}

impl From<&Margin> for SolubilityBody {
    fn from(margin: &Margin) -> Self {
        let (known, nearest, turned_into) = match margin.limit {
            Limit::Known { grams_per_litre } => (Some(grams_per_litre), None, None),
            Limit::AtLeast { grams_per_litre, at_c } | Limit::AtMost { grams_per_litre, at_c } => {
                (None, Some((grams_per_litre, at_c)), None)
            }
            Limit::Changed { becomes: TurnsInto::Salt, .. } => (None, None, Some("salt")),
            Limit::Changed { becomes: TurnsInto::Base, .. } => (None, None, Some("base")),
            Limit::NotKnown => (None, None, None),
        };
        Self {
            substance: margin.form.id.clone(),
            grams_per_litre: margin.grams_per_litre,
            limit_grams_per_litre: known,
            verdict: match margin.verdict() {
                SolubilityVerdict::Crystals => "crystals",
                SolubilityVerdict::Close => "close",
                SolubilityVerdict::Dissolved => "dissolved",
                SolubilityVerdict::NotKnown => "not-known",
            },
            nearest_limit_grams_per_litre: nearest.map(|(grams, _)| grams),
            nearest_limit_c: nearest.map(|(_, celsius)| celsius),
            turned_into,
            crystallises_below_c: margin.saturated_at_c,
        }
    }
}

impl PredictBody {
    /// From a report and what a meter showed.
    pub(crate) fn new(formula: &Formula, report: &Report, comparison: Option<&ReadingComparison>) -> Self {
        Self {
            formula: formula.id.clone(),
            origin: formula.origin_name(),
            parts: report.parts.iter().map(|part| part_body(part, report)).collect(),
            baths: report
                .baths
                .iter()
                .map(|bath| PredictedBath {
                    used_as: bath.used_as.clone(),
                    mixture: bath.mixture.clone(),
                    outcome: Outcome::new(&bath.outcome, report.question.celsius),
                })
                .collect(),
            measured: comparison.map(|comparison| MeasuredBody {
                ph: comparison.measured,
                difference: comparison.difference,
                agrees: comparison.agrees,
                alkali_moles_per_litre: comparison.alkali_moles_per_litre,
                explanations: comparison
                    .explanations
                    .iter()
                    .map(|one| ExplanationBody { slip: (&one.sensitivity).into(), share: one.share })
                    .collect(),
                electrode: comparison.electrode.clone(),
            }),
            refusals: report
                .refusal()
                .map(|error| RefusalJson::not_this_way(error.code(), error.to_string(), error.fix()))
                .into_iter()
                .collect(),
        }
    }
}

fn part_body(part: &Solution, report: &Report) -> PredictedPart {
    PredictedPart {
        name: part.name.clone(),
        dilution: part.dilution.clone(),
        outcome: Outcome::new(&part.outcome, report.question.celsius),
        storage_temperature_c: report.question.storage_c,
        solubility: part.margins.iter().map(SolubilityBody::from).collect(),
        start_water_ml: part.start.map(|(millilitres, _)| millilitres),
        start_water_c: part.start.map(|(_, celsius)| celsius),
        heating: part
            .heating
            .iter()
            .map(|heating| HeatingBody {
                substance: heating.form.id.clone(),
                temperature_after_c: heating.after_c.map(|celsius| celsius.clamp(0.0, 100.0)),
                apart: heating.is_apart,
                boils: heating.after_c.is_some_and(|celsius| celsius >= 100.0),
            })
            .collect(),
        undissolved: part
            .undissolved
            .iter()
            .map(|undissolved| UndissolvedBody {
                substance: undissolved.form.id.clone(),
                grams_per_100_g_water: undissolved.grams_per_100_g,
                limit_grams_per_100_g_water: undissolved.limit_g_per_100_g,
                temperature_c: undissolved.celsius,
            })
            .collect(),
    }
}

/// What an exchange on the shelf does to the pH.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PhChangeBody {
    /// A, B …
    pub part: Option<String>,
    /// pH of the recipe.
    pub before: f64,
    /// pH of the batch.
    pub after: f64,
}

impl From<&PhChange> for PhChangeBody {
    fn from(ph_change: &PhChange) -> Self {
        Self { part: ph_change.part.clone(), before: ph_change.before, after: ph_change.after }
    }
}
