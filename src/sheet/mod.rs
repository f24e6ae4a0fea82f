//! The mixing sheet as one value: batch, steps with their cautions and temperatures, safety, prediction.
//!
//! It joins what other modules know and decides nothing of their subjects; how it looks is `render`'s affair.

use thiserror::Error;

use crate::formula::{FinishedIn, Formula, Part};
use crate::predict::exchanged::{PhChange, ph_changes};
use crate::predict::heating::{self, Finish, Reading};
use crate::predict::{WORST_PH_ERROR, predict_vessel, reserve_of_vessel, trusted_ph, unmodelled};
use crate::quantity::rounding;
use crate::safety::{
    Acidity, BathHazards, Caution, Filling, General, PowderHazard, Refusal, SafetyData, Severity, SpecialBox,
};
use crate::scale::{Batch, BatchPart};
use crate::sequence::{Action, Plan, SequenceError, Step, plan};
use crate::solution::{Buffering, Equilibria};
use crate::vessel::{Content, Vessel};

/// Temperature at which the pH of a finished bath is told, °C.
pub const PH_AT_C: f64 = 20.0;

/// A step with what must be known before it.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetStep {
    /// Number within its part.
    pub number: usize,
    /// The step.
    pub step: Step,
    /// What must be known before it.
    pub cautions: Vec<StepCaution>,
    /// Temperature after it, °C, where it can be told.
    pub after_c: Option<f64>,
}

/// A caution before a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepCaution {
    /// How grave.
    pub severity: Severity,
    /// Plain words.
    pub text: String,
    /// The standard statement with its code.
    pub statement: Option<String>,
}

/// What the finished solution should read.
#[derive(Debug, Clone, PartialEq)]
pub struct ExpectedPh {
    /// pH at [`PH_AT_C`].
    pub ph: f64,
    /// Expected error, either way.
    pub error: f64,
    /// Whether it is so poorly buffered that the figure is not to be trusted.
    pub is_poorly_buffered: bool,
}

/// One part, mixed by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetPart {
    /// What to weigh.
    pub batch: BatchPart,
    /// That so little of it cannot be mixed, and how much can; none where it can.
    pub too_small: Option<String>,
    /// How to mix it.
    pub plan: Plan,
    /// The steps, numbered.
    pub steps: Vec<SheetStep>,
    /// The pH that it should read.
    pub ph: Option<ExpectedPh>,
    /// What is not modelled and may decide the pH, where that is why it is not told.
    pub unmodelled: Option<String>,
    /// How warm it ends, and what it takes to end at the temperature of use; none where it cannot be told.
    pub finish: Option<Finish>,
    /// Where it goes when it is mixed.
    pub ends_in: FinishedIn,
    /// The hazards of the solution as bottled, by the mixture rules.
    pub bath: BathHazards,
    /// Baths that must not come before or after it without a wash.
    pub never_beside: Vec<String>,
}

/// A mixing sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct MixingSheet {
    /// The recipe.
    pub formula: Formula,
    /// The batch.
    pub batch: Batch,
    /// Boxes that come before all else.
    pub boxes: Vec<SpecialBox>,
    /// Hazards of the substances as weighed.
    pub powders: Vec<PowderHazard>,
    /// Cautions about what stands side by side on the bench.
    pub dry: Vec<Caution>,
    /// Cautions when the parts are mixed for use.
    pub at_use: Vec<Caution>,
    /// What exchanges on the shelf do to the pH.
    pub ph_changes: Vec<PhChange>,
    /// What to wear, air, waste, exposure, who decides.
    pub general: General,
    /// The parts.
    pub parts: Vec<SheetPart>,
}

/// Why there is no sheet.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SheetError {
    /// No safe order.
    #[error("{part}: {reason}")]
    Sequence {
        /// The part in words.
        part: String,
        /// Why.
        #[source]
        reason: SequenceError,
    },
    /// What must never be in one vessel.
    #[error("{part}: {refusal}")]
    NeverTogether {
        /// The part in words.
        part: String,
        /// Why.
        refusal: Box<Refusal>,
    },
    /// A step that would boil.
    #[error(
        "{part}: {substance} would heat {where_to} to about {peak_c} °C (computed without loss of heat; above {limit_c} °C mixing is refused): it would boil and spit caustic"
    )]
    TooHot {
        /// The part in words.
        part: String,
        /// What heats it.
        substance: String,
        /// Its own vessel, or the main one.
        where_to: &'static str,
        /// Temperature reached, °C.
        peak_c: String,
        /// The limit, °C.
        limit_c: String,
    },
}

impl SheetError {
    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::Sequence { reason, .. } => reason.fix().to_owned(),
            Self::NeverTogether { refusal, .. } => refusal.fix().to_owned(),
            Self::TooHot { .. } => {
                "choose a formula with less of it, or one that lets more cold water at it (`soupcon list --near` finds its relatives); a smaller batch is no cooler"
                    .to_owned()
            }
        }
    }

    /// Stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Sequence { .. } => "no-safe-order",
            Self::NeverTogether { .. } => "never-in-one-vessel",
            Self::TooHot { .. } => "too-hot",
        }
    }
}

/// Puts a sheet together.
///
/// # Errors
/// A part that has no safe order, must not be in one vessel, or would boil.
pub fn sheet(
    formula: &Formula,
    batch: &Batch,
    safety: &SafetyData,
    equilibria: &Equilibria,
) -> Result<MixingSheet, SheetError> {
    let mut parts = Vec::with_capacity(batch.parts.len());
    let mut everything: Vec<Content> = Vec::new();
    let mut found: Vec<Caution> = Vec::new();
    for (own, source) in batch.parts.iter().zip(&formula.parts) {
        let contents = own.vessel(source);
        let (part, cautions) = sheet_part(own, source, batch, &contents, safety, equilibria)?;
        everything.extend(contents);
        found.extend(cautions);
        parts.push(part);
    }
    let at_use = at_use(formula, safety, batch);
    found.extend(at_use.iter().cloned());
    let kind = Some(formula.kind);
    let every: Vec<&Caution> = found.iter().collect();
    let boxes = safety.boxes(&everything, kind, Some(&formula.id));
    let mut general = safety.general(&everything, kind, &every);
    general.also_wear(parts.iter().map(|part| &part.bath));
    if !boxes.is_empty() {
        // A box asks for more than an open window.
        general.ventilation = Some("Under extraction or outdoors; nobody else in the room.".to_owned());
    }
    Ok(MixingSheet {
        boxes,
        powders: safety.powders(&everything),
        dry: safety.dry(&everything),
        at_use,
        ph_changes: ph_changes(equilibria, formula, batch, PH_AT_C),
        general,
        formula: formula.clone(),
        batch: batch.clone(),
        parts,
    })
}

/// A part in words.
fn part_words(own: &BatchPart) -> String {
    own.name.as_ref().map_or_else(|| "this formula".to_owned(), |name| format!("part {name}"))
}

/// Cautions while a part is mixed, or that it must not be.
fn while_mixing(
    own: &BatchPart,
    contents: &[Content],
    safety: &SafetyData,
) -> Result<Vec<Caution>, SheetError> {
    safety
        .while_mixing(contents, own.volume.as_litres(), Filling::FromChemicals)
        .map_err(|refusal| SheetError::NeverTogether { part: part_words(own), refusal })
}

/// Refuses a batch of which a part must not be in one vessel, for those who only want its weights.
///
/// # Errors
/// [`SheetError::NeverTogether`].
pub fn refuse_never_together(
    formula: &Formula,
    batch: &Batch,
    safety: &SafetyData,
) -> Result<(), SheetError> {
    let mut parts = batch.parts.iter().zip(&formula.parts);
    parts.try_for_each(|(own, source)| while_mixing(own, &own.vessel(source), safety).map(drop))
}

fn sheet_part(
    own: &BatchPart,
    source: &Part,
    batch: &Batch,
    contents: &Vessel,
    safety: &SafetyData,
    equilibria: &Equilibria,
) -> Result<(SheetPart, Vec<Caution>), SheetError> {
    let name = part_words(own);
    let cautions = while_mixing(own, contents, safety)?;
    let mut plan = plan(own, source, batch.balance)
        .map_err(|reason| SheetError::Sequence { part: name.clone(), reason })?;
    // Whatever the file says, what must not be closed in gets no bottle.
    let ends_in = if source.mixing.finish == FinishedIn::Bottle && cautions.iter().any(|own| own.is_open) {
        plan.end_in_a_tray();
        FinishedIn::Tray
    } else {
        source.mixing.finish
    };
    let readings = heating::readings(equilibria, own, &plan, source.solvent.is_none());
    refuse_boiling(&name, &plan, &readings)?;
    let cautions = where_hot(cautions, &plan, &readings);
    // What is really taken counts, not what the recipe names.
    let prediction = predict_vessel(equilibria, contents, &name, PH_AT_C).ok();
    let trusted = prediction.as_ref().and_then(|own| {
        let reserve_g = reserve_of_vessel(equilibria, contents, own, PH_AT_C);
        Some(Acidity { ph: trusted_ph(own)?, reserve_g })
    });
    let unmodelled = prediction.as_ref().and_then(unmodelled).map(str::to_owned);
    let ph = prediction.filter(|prediction| {
        let is_of_use = prediction.ph_error <= WORST_PH_ERROR || prediction.buffering == Buffering::Poor;
        is_of_use && unmodelled.is_none()
    });
    let ph = ph.map(|prediction| ExpectedPh {
        ph: prediction.ph,
        error: prediction.ph_error,
        is_poorly_buffered: prediction.buffering == Buffering::Poor,
    });
    let bath = safety.bath(contents, trusted);
    let mut steps = numbered(&plan, &readings, &cautions);
    if let Some(first) =
        steps.iter_mut().find(|step| step.step.carries_g.is_some()).filter(|_| bath.is_corrosive())
    {
        first.cautions.insert(
            0,
            StepCaution {
                severity: Severity::Warning,
                text: "The finished solution burns skin and eyes: gloves, goggles and apron from here on."
                    .to_owned(),
                statement: None,
            },
        );
    }
    Ok((
        SheetPart {
            bath,
            never_beside: safety.never_beside(contents),
            ends_in,
            too_small: too_small(own, batch),
            batch: own.clone(),
            steps,
            ph,
            unmodelled,
            finish: heating::finish(&plan, &readings),
            plan,
        },
        cautions,
    ))
}

/// What is said of a part of which something rounds to nothing.
fn too_small(part: &BatchPart, batch: &Batch) -> Option<String> {
    let (lost, least) = part.lost()?;
    let names: Vec<&str> = lost.iter().map(|item| item.form.name.as_str()).collect();
    let of = part.name.as_ref().map_or_else(String::new, |name| format!(" of part {name}"));
    let remedy = if crate::scale::can_mix(least) {
        format!("Mix {least} or more.")
    } else {
        "Use a finer balance.".to_owned()
    };
    Some(format!(
        "{}{of} cannot be mixed with a balance that shows {} g and a syringe: of {} there would be too little to weigh or measure. {remedy}",
        part.volume,
        rounding::show_short(batch.balance.step_g, 4),
        names.join(", ")
    ))
}

fn refuse_boiling(part: &str, plan: &Plan, readings: &[Reading]) -> Result<(), SheetError> {
    for (step, reading) in plan.steps.iter().zip(readings) {
        let Some(peak) = reading.heats_above(heating::REFUSED_ABOVE_C) else { continue };
        // Hot water that only cools is no danger of this kind.
        if step.action == Action::TopUp || step.carries_g.is_none() && step.action != Action::DissolveApart {
            continue;
        }
        return Err(SheetError::TooHot {
            part: part.to_owned(),
            substance: step.form.as_ref().map_or_else(String::new, |form| form.name.clone()),
            where_to: if step.action == Action::DissolveApart { "its vessel" } else { "the vessel" },
            peak_c: rounding::show_short(peak, 0),
            limit_c: rounding::show_short(heating::REFUSED_ABOVE_C, 0),
        });
    }
    Ok(())
}

/// Leaves out what holds only above a temperature that the vessel does not have when the last member goes in.
fn where_hot(cautions: Vec<Caution>, plan: &Plan, readings: &[Reading]) -> Vec<Caution> {
    let entering: Vec<(usize, &str)> = plan
        .steps
        .iter()
        .enumerate()
        .filter(|(_, step)| step.action != Action::DissolveApart)
        .filter_map(|(index, step)| Some((index, step.form.as_ref()?.id.as_str())))
        .collect();
    let order: Vec<&str> = entering.iter().map(|(_, id)| *id).collect();
    let before = |caution: &Caution| {
        let step = caution.completed_at(&order).and_then(|at| entering.get(at)).map(|(step, _)| *step)?;
        readings.get(step.checked_sub(1)?)?.after_c
    };
    let holds = |caution: &Caution| {
        let limit = caution.only_above_c;
        limit.zip(before(caution)).is_none_or(|(limit, celsius)| celsius > limit)
    };
    cautions.into_iter().filter(holds).collect()
}

/// Numbers the steps and puts each caution before the step that completes it.
fn numbered(plan: &Plan, readings: &[Reading], cautions: &[Caution]) -> Vec<SheetStep> {
    let mut steps: Vec<SheetStep> = plan
        .steps
        .iter()
        .zip(readings)
        .enumerate()
        .map(|(index, (step, reading))| SheetStep {
            number: index + 1,
            step: step.clone(),
            cautions: heat_cautions(step, *reading),
            after_c: reading.after_c,
        })
        .collect();
    // Steps at which something first enters a vessel, in order.
    let entering: Vec<(usize, &str)> = plan
        .steps
        .iter()
        .enumerate()
        .filter(|(_, step)| step.action != Action::DissolveApart)
        .filter_map(|(index, step)| Some((index, step.form.as_ref()?.id.as_str())))
        .collect();
    let order: Vec<&str> = entering.iter().map(|(_, id)| *id).collect();
    for caution in cautions {
        let Some(&(mut place, id)) = caution.completed_at(&order).and_then(|at| entering.get(at)) else {
            continue;
        };
        if caution.groups.len() < 2 {
            // What it does with water alone happens where it is dissolved.
            let apart = plan.steps.iter().position(|step| {
                step.action == Action::DissolveApart && step.form.as_ref().is_some_and(|form| form.id == id)
            });
            place = apart.unwrap_or(place);
        }
        // Where all members meet in the second vessel already, it belongs there.
        if let Some(meeting) = meets_apart(plan, caution).filter(|_| caution.groups.len() > 1) {
            place = meeting;
        }
        if let Some(step) = steps.get_mut(place) {
            step.cautions.push(StepCaution {
                severity: caution.severity,
                text: caution.text.clone(),
                statement: caution.statement.clone(),
            });
        }
    }
    steps
}

/// The step in a second vessel at which the last member of a caution goes in, if all of them go in there.
fn meets_apart(plan: &Plan, caution: &Caution) -> Option<usize> {
    let place = |group: &Vec<String>| {
        plan.steps.iter().position(|step| {
            step.action == Action::DissolveApart
                && step.form.as_ref().is_some_and(|form| group.contains(&form.id))
        })
    };
    caution.groups.iter().map(place).collect::<Option<Vec<_>>>()?.into_iter().max()
}

/// Portions and an ice bath where the computed peak asks for them.
fn heat_cautions(step: &Step, reading: Reading) -> Vec<StepCaution> {
    let starts_hot =
        matches!(step.action, Action::Start | Action::Cool | Action::TopUp | Action::Operation(_));
    match reading.heats_above(heating::PORTIONS_ABOVE_C) {
        Some(peak) if !starts_hot => vec![StepCaution {
            severity: Severity::Danger,
            text: format!(
                "All at once this would heat to about {} °C. Stand the vessel in ice water, add it in small portions, and wait after each until it is below 40 °C.",
                rounding::show_short(peak, 0)
            ),
            statement: None,
        }],
        _ => Vec::new(),
    }
}

/// Cautions when parts are poured together for use, each once.
fn at_use(formula: &Formula, safety: &SafetyData, batch: &Batch) -> Vec<Caution> {
    let litres = batch.parts.iter().map(|part| part.volume.as_litres()).fold(0.0, f64::max);
    let mut cautions: Vec<Caution> = Vec::new();
    for own in &formula.uses {
        for bath in own.baths.iter().filter(|bath| bath.shares.len() > 1) {
            let contents = Vessel::of_bath(formula, bath);
            // What must never be in one vessel is told as a danger: the parts themselves are sound.
            match safety.while_mixing(&contents, litres, Filling::FromParts) {
                Ok(found) => cautions.extend(found),
                Err(refusal) => cautions.push(Caution {
                    id: refusal.id.clone(),
                    severity: Severity::Danger,
                    text: refusal.text.clone(),
                    product: refusal.product.clone(),
                    statement: refusal.statement.clone(),
                    about: refusal.about.clone(),
                    groups: vec![refusal.about.clone()],
                    gas: None,
                    is_principle: false,
                    only_above_c: None,
                    is_open: false,
                    source: refusal.source.clone(),
                }),
            }
        }
    }
    let mut seen: Vec<String> = Vec::new();
    cautions.retain(|caution| {
        let new = !seen.contains(&caution.id);
        seen.push(caution.id.clone());
        new
    });
    cautions
}
