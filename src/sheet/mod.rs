//! The mixing sheet as one value: batch, steps with their cautions and temperatures, safety, prediction.
//!
//! It joins what other modules know and decides nothing of their subjects; how it looks is `render`'s affair.

use std::cell::RefCell;
use std::sync::Arc;

use crate::formula::{Amount, FinishedIn, Formula, OperationKind, Part};
use crate::mixing::{self, Objection, Review, VesselReview};
use crate::predict::crystals::Crystals;
use crate::predict::exchanged::{PhChange, ph_changes};
use crate::predict::heating::{self, Finish, ThermometerReading};
use crate::predict::{WORST_PH_ERROR, predict_vessel, unmodelled};
use crate::quantity::{Strength, StrengthBasis, USUAL_C, rounding};
use crate::safety::{BathHazards, Caution, GasRelease, Release, SafetyData, Severity};
use crate::scale::{Batch, BatchPart, Item};
use crate::sequence::{Action, Plan, Step, plan};
use crate::solution::{Buffering, Equilibria, Prediction};
use crate::substance::chemical_formula::AtomicWeights;
use crate::substance::{Class, Form};
use crate::vessel::Vessel;

/// A step with what must be known before it.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetStep {
    /// Number within its part.
    pub number: usize,
    /// Act, amount and words as planned; its words agree with the thermometer.
    pub step: Step,
    /// What must be known before it.
    pub cautions: Vec<StepCaution>,
    /// Temperature after it, °C, where it can be told.
    pub after_c: Option<f64>,
}

/// A caution before a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepCaution {
    /// Id of its row of the combinations; empty where it is computed here.
    pub id: String,
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
    /// pH at [`USUAL_C`].
    pub ph: f64,
    /// Expected error, either way.
    pub error: f64,
    /// Whether it is so poorly buffered that the figure is not to be trusted.
    pub is_poorly_buffered: bool,
    /// Of a pH standard: its certified figures, °C and pH, coolest first; empty where the pH is computed.
    pub certified: Vec<(f64, f64)>,
}

/// How far off a standard may be that is weighed and kept as its file says; common practice, no source.
const CERTIFIED_ERROR: f64 = 0.01;

/// The pH of a standard at the usual temperature, by its certified figures; none of what is none.
fn certified(formula: &Formula) -> Option<ExpectedPh> {
    let certified = &formula.stated.certified_ph;
    let nearest = certified
        .iter()
        .min_by(|one, other| (one.0 - USUAL_C).abs().total_cmp(&(other.0 - USUAL_C).abs()))?;
    (formula.parts.len() == 1).then(|| ExpectedPh {
        ph: nearest.1,
        error: CERTIFIED_ERROR,
        is_poorly_buffered: false,
        certified: certified.clone(),
    })
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
    /// What crystallises when the bottle gets cold; none where nothing does, or nobody asked.
    pub crystals: Option<Crystals>,
    /// Where it goes when it is mixed.
    pub ends_in: FinishedIn,
    /// The hazards of the solution as bottled, by the mixture rules.
    pub bath: BathHazards,
    /// Baths that must not come before or after it without a wash.
    pub never_beside: Vec<String>,
    /// What gas can come off it, and what to do then.
    pub gas: Vec<String>,
}

/// All that is told before and while a batch is mixed, before anything is laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct MixingSheet {
    /// The recipe.
    pub formula: Formula,
    /// What to weigh, rounded to the balance.
    pub batch: Batch,
    /// Why it must not be mixed, or not so; the gravest first.
    pub objections: Vec<Objection>,
    /// What meets what: boxes, hazards, cautions, what to wear.
    pub review: Review,
    /// What exchanges on the shelf do to the pH.
    pub ph_changes: Vec<PhChange>,
    /// In the order of the batch.
    pub parts: Vec<SheetPart>,
}

/// Puts a sheet together.
///
/// # Errors
/// The first reason for which it must not be mixed, or not so.
pub fn sheet(
    formula: &Formula,
    batch: &Batch,
    safety: &SafetyData,
    equilibria: &Equilibria,
) -> Result<MixingSheet, Box<Objection>> {
    let mut sheet = assemble(formula, batch, safety, equilibria);
    if sheet.objections.is_empty() { Ok(sheet) } else { Err(Box::new(sheet.objections.remove(0))) }
}

/// Puts together what is known of a batch with all that is to be said against it; a part that must not be mixed, or not so, has no steps.
pub fn assemble(
    formula: &Formula,
    batch: &Batch,
    safety: &SafetyData,
    equilibria: &Equilibria,
) -> MixingSheet {
    let vessels: Vec<(Vessel, f64)> = batch
        .parts
        .iter()
        .zip(&formula.parts)
        .map(|(own, source)| (own.vessel(source), own.volume.as_litres()))
        .collect();
    let predictions = Predictions { equilibria, known: RefCell::default() };
    let ph = |vessel: &Vessel| mixing::acidity_of(equilibria, vessel, predictions.of(vessel)?.as_ref());
    let ways: Vec<Way> = batch
        .parts
        .iter()
        .zip(&formula.parts)
        .map(|(own, source)| Way::of(own, source, batch, equilibria))
        .collect();
    let is_true =
        |part: usize, caution: &Caution| ways.get(part).is_none_or(|way| way.is_hot_enough(caution));
    let review = mixing::review_of(safety, formula, vessels, &ph, &is_true);
    let mut objections = review.objections.clone();
    let mut parts = Vec::with_capacity(batch.parts.len());
    for (((own, source), vessel), way) in batch.parts.iter().zip(&formula.parts).zip(&review.parts).zip(ways)
    {
        let (part, objection) = sheet_part(own, source, way, (batch, vessel), &predictions);
        objections.extend(objection);
        let mut part = part;
        part.ph = certified(formula).or(part.ph);
        parts.push(part);
    }
    for (part, vessel) in parts.iter_mut().zip(&review.parts) {
        part.gas.extend(gas_when_poured(vessel, &review));
    }
    objections.sort_by_key(|objection| objection.kind);
    if !objections.is_empty() {
        for part in &mut parts {
            part.steps.clear();
        }
    }
    MixingSheet {
        objections,
        ph_changes: ph_changes(equilibria, formula, batch, USUAL_C),
        review,
        formula: formula.clone(),
        batch: batch.clone(),
        parts,
    }
}

impl MixingSheet {
    /// Refuses percent solutions that the formula asks for and that cannot be: more than dissolves.
    pub fn refuse_impossible_percents(&mut self, weights: &AtomicWeights) {
        for ingredient in self.formula.ingredients() {
            let Amount::PercentSolution { strength, .. } = ingredient.amount else { continue };
            let form = &ingredient.form;
            let mut making = mixing::making(weights, form, strength, form.assay_fraction());
            making.objections.retain(|objection| objection.code == "more-than-dissolves");
            self.objections.extend(making.objections);
        }
    }

    /// Says of what is bottled what crystallises in the cold.
    pub fn tell_crystals(&mut self, equilibria: &Equilibria, weights: &AtomicWeights) {
        let is_warm = self.formula.warm_use_c().is_some();
        for (part, vessel) in self.parts.iter_mut().zip(&self.review.parts) {
            let is_kept =
                part.ends_in == FinishedIn::Bottle && !is_warm && vessel.contents.solvent().is_none();
            if is_kept {
                part.crystals = Crystals::of(equilibria, weights, &vessel.contents);
            }
        }
    }
}

/// What is predicted of vessels at [`USUAL_C`], each worked out once.
struct Predictions<'a> {
    equilibria: &'a Equilibria,
    known: RefCell<Vec<(Vessel, Option<Arc<Prediction>>)>>,
}

impl Predictions<'_> {
    /// None where the model has no answer.
    fn of(&self, vessel: &Vessel) -> Option<Arc<Prediction>> {
        let known = self.known.borrow().iter().find(|(own, _)| own == vessel).map(|(_, own)| own.clone());
        known.unwrap_or_else(|| {
            let predicted = predict_vessel(self.equilibria, vessel, "it", USUAL_C).ok().map(Arc::new);
            self.known.borrow_mut().push((vessel.clone(), predicted.clone()));
            predicted
        })
    }
}

fn part_words(own: &BatchPart) -> String {
    own.name.as_ref().map_or_else(|| "this formula".to_owned(), |name| format!("part {name}"))
}

/// The gases that come off a part only when it is poured together with another for use.
fn gas_when_poured(part: &VesselReview, review: &Review) -> Vec<String> {
    let mut gases: Vec<GasRelease> = Vec::new();
    for bath in &review.baths {
        let takes_part = |caution: &&Caution| {
            let has = |id: &String| part.contents.iter().any(|content| content.form.id == *id);
            caution.about.iter().any(has)
        };
        let cautions: Vec<&Caution> = bath.outcome.iter().flatten().filter(takes_part).collect();
        let named = |own: &&GasRelease| cautions.iter().any(|caution| caution.gas.as_ref() == Some(&own.id));
        for gas in bath.gases.iter().filter(named) {
            let is_told = part.gases.iter().any(|own| own.id == gas.id && own.release != Release::WithAcid)
                || gases.iter().any(|own| own.id == gas.id);
            if !is_told {
                gases.push(gas.clone());
            }
        }
    }
    GasRelease::label_lines(&gases, true)
}

/// By how much salts without a known heat can have warmed a vessel, K; a judgement, no source.
const UNTOLD_K: f64 = 10.0;

/// The way to mix a part, with what its thermometer reads on it.
struct Way {
    plan: Plan,
    readings: Vec<ThermometerReading>,
    objection: Option<Objection>,
}

impl Way {
    fn of(own: &BatchPart, source: &Part, batch: &Batch, equilibria: &Equilibria) -> Self {
        let (plan, objection) = match plan(own, source, batch.balance) {
            Ok(plan) => (plan, None),
            Err(reason) => {
                let (name, text) = (part_words(own), reason.to_string());
                (Plan::default(), Some(Objection::not_this_way("no-safe-order", name, text, reason.fix())))
            }
        };
        let readings = heating::readings(equilibria, own, &plan, source.solvent.is_none());
        Self { plan, readings, objection }
    }

    /// Whether a caution that holds only above a temperature finds the vessel so warm when the last member goes in.
    fn is_hot_enough(&self, caution: &Caution) -> bool {
        let Some(limit) = caution.only_above_c else { return true };
        let completed = completing_step(&self.plan, caution);
        let hottest = self.before(completed).into_iter().chain(self.heated_after(completed));
        hottest.reduce(f64::max).is_none_or(|celsius| celsius > limit)
    }

    /// What the vessel reads before a step, °C; none where nothing tells it.
    fn before(&self, step: usize) -> Option<f64> {
        let mut earlier = self.readings.get(..step)?.iter().rev();
        if let Some(celsius) = earlier.next()?.after_c {
            return Some(celsius);
        }
        // Where no heat is known for what went in since, it can be so much warmer than it was.
        earlier.find_map(|reading| reading.after_c).map(|celsius| celsius + UNTOLD_K)
    }

    /// What it is heated to from a step on, °C: on a stove the last member makes no difference.
    fn heated_after(&self, step: usize) -> Option<f64> {
        let later = self.plan.steps.get(step..)?.iter();
        let heated = later.filter_map(|own| match own.action {
            Action::Operation(OperationKind::Boil) => Some(crate::sequence::BOILS_C),
            Action::Operation(OperationKind::Heat) => own.celsius,
            _ => None,
        });
        heated.reduce(f64::max)
    }
}

/// The step at which the last member of a caution goes in; the first where none is known.
fn completing_step(plan: &Plan, caution: &Caution) -> usize {
    let entering = entering(plan);
    let order: Vec<&str> = entering.iter().map(|(_, id)| *id).collect();
    caution.completed_at(&order).and_then(|at| entering.get(at)).map_or(0, |(step, _)| *step)
}

/// The steps at which something first enters the vessel itself, in order, with the id of what does.
fn entering(plan: &Plan) -> Vec<(usize, &str)> {
    plan.steps
        .iter()
        .enumerate()
        .filter(|(_, step)| step.action != Action::DissolveApart)
        .filter_map(|(index, step)| Some((index, step.form.as_ref()?.id.as_str())))
        .collect()
}

fn sheet_part(
    own: &BatchPart,
    source: &Part,
    way: Way,
    (batch, vessel): (&Batch, &VesselReview),
    predictions: &Predictions<'_>,
) -> (SheetPart, Option<Objection>) {
    let name = part_words(own);
    let none: &[Caution] = &[];
    let cautions = vessel.outcome.as_ref().map_or(none, Vec::as_slice);
    let Way { mut plan, mut readings, mut objection } = way;
    for caution in cautions.iter().filter(|own| own.heats) {
        heating::forget_from(completing_step(&plan, caution), &plan, &mut readings);
    }
    // Whatever the file says, what must not be closed in gets no bottle.
    let ends_in = if source.mixing.finish == FinishedIn::Bottle && cautions.iter().any(|own| own.is_open) {
        plan.end_in_a_tray();
        FinishedIn::Tray
    } else {
        source.mixing.finish
    };
    objection = objection.or_else(|| boiling(&name, &plan, &readings));
    objection = objection.or_else(|| mixing::untold_heat(&name, &vessel.contents));
    objection = objection
        .or_else(|| own.items.iter().find_map(|item| boils_while_made(item, predictions.equilibria)));
    // What is really taken counts, not what the recipe names.
    let contents = &vessel.contents;
    let prediction = predictions.of(contents);
    let unmodelled = prediction.as_deref().and_then(unmodelled).map(str::to_owned);
    let ph = prediction.filter(|prediction| {
        let is_of_use = prediction.ph_error <= WORST_PH_ERROR || prediction.buffering == Buffering::Poor;
        is_of_use && unmodelled.is_none()
    });
    let ph = ph.map(|prediction| ExpectedPh {
        ph: prediction.ph,
        error: prediction.ph_error,
        is_poorly_buffered: prediction.buffering == Buffering::Poor,
        certified: Vec::new(),
    });
    let bath = vessel.bath.clone();
    let mut steps = numbered(&plan, &readings, cautions);
    let burning = burning_step(&steps).filter(|_| bath.is_corrosive());
    if let Some(burning) = burning.and_then(|place| steps.get_mut(place)) {
        burning.cautions.insert(
            0,
            StepCaution {
                id: String::new(),
                severity: Severity::Warning,
                text: "It burns skin and eyes when mixed.".to_owned(),
                statement: None,
            },
        );
    }
    (
        SheetPart {
            bath,
            never_beside: vessel.never_beside.clone(),
            gas: GasRelease::label_lines(&vessel.gases, false),
            crystals: None,
            ends_in,
            too_small: too_small(own, batch),
            batch: own.clone(),
            steps,
            ph,
            unmodelled,
            finish: heating::finish(&plan, &readings),
            plan,
        },
        objection,
    )
}

/// The first step that takes up what burns; where no single chemical does, the first that takes up any.
fn burning_step(steps: &[SheetStep]) -> Option<usize> {
    let takes = |test: &dyn Fn(&Form) -> bool| {
        steps.iter().position(|own| own.step.form.as_ref().is_some_and(|form| test(form)))
    };
    let says = |form: &Form, code: &str| form.hazards.statements.iter().any(|own| own == code);
    takes(&|form| says(form, "H314"))
        .or_else(|| takes(&|form| form.is_class(&Class::StrongAcid) || form.is_class(&Class::StrongAlkali)))
        .or_else(|| takes(&|form| says(form, "H318")))
        .or_else(|| steps.iter().position(|own| own.step.carries_g.is_some()))
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

/// The percent solution of an item, where making it would boil.
fn boils_while_made(item: &Item, equilibria: &Equilibria) -> Option<Objection> {
    let dose =
        || item.dose.as_ref().map(|dose| Strength::new(dose.strength_percent, StrengthBasis::WeightInVolume));
    let strength = item.solution.or_else(dose)?;
    let making = mixing::heat_of_making(equilibria, &item.form, strength, item.assay);
    making.objections.into_iter().next()
}

/// The first step that would boil its vessel.
fn boiling(part: &str, plan: &Plan, readings: &[ThermometerReading]) -> Option<Objection> {
    let (step, peak) = plan.steps.iter().zip(readings).find_map(|(step, reading)| {
        let peak = reading.heats_above(heating::REFUSED_ABOVE_C)?;
        // Hot water that only cools is no danger of this kind.
        let is_own = step.carries_g.is_some() || step.action == Action::DissolveApart;
        (is_own && step.action != Action::TopUp).then_some((step, peak))
    })?;
    let vessel = if step.action == Action::DissolveApart { "its vessel" } else { "the vessel" };
    let substance = step.form.as_ref().map_or("", |form| form.name.as_str());
    Some(Objection::too_hot(part, substance, vessel, peak))
}

/// Numbers the steps and puts each caution before the step that completes it.
fn numbered(plan: &Plan, readings: &[ThermometerReading], cautions: &[Caution]) -> Vec<SheetStep> {
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
    let mut before_c = None;
    let next_c: Vec<Option<f64>> = readings.iter().skip(1).map(|own| own.after_c).chain([None]).collect();
    for (step, next_c) in steps.iter_mut().zip(next_c) {
        step.step.agree_with(before_c, step.after_c, next_c);
        if step.step.action != Action::DissolveApart {
            before_c = step.after_c;
        }
    }
    let entering = entering(plan);
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
                id: caution.id.clone(),
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

/// Portions, and ice or warm water outside, where the computed peak or cold asks for them.
fn heat_cautions(step: &Step, reading: ThermometerReading) -> Vec<StepCaution> {
    let starts_hot =
        matches!(step.action, Action::Start | Action::Cool | Action::TopUp | Action::Operation(_));
    match reading.heats_above(heating::PORTIONS_ABOVE_C) {
        Some(peak) if !starts_hot => vec![StepCaution {
            id: String::new(),
            severity: Severity::Danger,
            text: heating::in_portions(peak),
            statement: None,
        }],
        _ => reading.freezes_at_once().filter(|_| !starts_hot).map(freezing).into_iter().collect(),
    }
}

/// Portions and warm water outside.
fn freezing(coldest_c: f64) -> StepCaution {
    StepCaution {
        id: String::new(),
        severity: Severity::Warning,
        text: format!(
            "Added at once it would cool to {} °C, stop dissolving, and freeze. Stand the vessel in water as warm as at the start. Add small portions. Let each dissolve.",
            rounding::show_short(coldest_c, 0)
        ),
        statement: None,
    }
}
