//! Everything that is predicted of a formula, at once: each part as bottled or diluted, and the working baths of its uses.

use std::sync::Arc;

use super::heating::{self, PORTIONS_ABOVE_C};
use super::margin::{Figure, Margin, SolubilityVerdict, crystal_water_g, figure, margins_in};
use super::sensitivity::{Sensitivity, Siblings, sensitivities};
use super::{MOST_SOLVENT_G_PER_L, PredictError, equilibrium_row, is_solvent};
use crate::formula::{Bath, Formula, Part};
use crate::quantity::{MixRatio, STORAGE_C, USUAL_C, Volume};
use crate::scale::dose::Balance;
use crate::scale::exchange::Relations;
use crate::scale::{Item, Request, scale};
use crate::sequence::{Action, plan};
use crate::solution::{
    Addition, Equilibria, ModelLimit, Modelling, Prediction, grams_per_100_g_water, predict,
};
use crate::substance::Form;
use crate::substance::chemical_formula::AtomicWeights;
use crate::vessel::{Content, Vessel};

/// Batch whose heat is told, mL; the temperatures of a plan hardly depend on it.
const BATCH_ML: f64 = 1000.0;
/// Finest balance, so that nothing becomes a dose.
const FINE_STEP_G: f64 = 1e-4;
/// Grams of an organic solvent per litre from which it is worth a word.
const SOLVENT_MENTIONED_G_PER_L: f64 = 5.0;

/// What the report is made from.
#[derive(Clone, Copy)]
#[allow(missing_debug_implementations, reason = "a function has nothing to show")]
pub struct Sources<'a> {
    /// Constants and interaction coefficients.
    pub equilibria: &'a Equilibria,
    /// Standard atomic weights.
    pub weights: &'a AtomicWeights,
    /// All forms of a chemical.
    pub siblings: &'a Siblings<'a>,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Temperature of the pH, °C.
    pub celsius: f64,
    /// Temperature of the cupboard, °C.
    pub storage_c: f64,
    /// Only this part.
    pub part: Option<String>,
    /// Diluted or mixed so.
    pub ratio: Option<MixRatio>,
    /// Only pH and solubility: no table of what moves it, no temperatures.
    pub is_brief: bool,
}

impl Question {
    /// As bottled, at the usual temperatures.
    pub fn usual() -> Self {
        Self { celsius: USUAL_C, storage_c: STORAGE_C, part: None, ratio: None, is_brief: false }
    }

    /// The same without the table of what moves it and without temperatures.
    pub fn brief() -> Self {
        Self { is_brief: true, ..Self::usual() }
    }
}

/// Something that limits how far a prediction may be trusted.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// As printed.
    pub words: String,
    /// Most by which it may move the pH either way; none where no number can be named.
    pub ph_shift: Option<f64>,
}

/// A predicted solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Predicted {
    /// pH, buffering, species.
    pub prediction: Prediction,
    /// What was put into the model.
    pub additions: Vec<Addition>,
    /// What could not be modelled, and how that limits it.
    pub doubts: Vec<Doubt>,
    /// What moves the pH, most first; empty in a brief report.
    pub sensitivities: Vec<Sensitivity>,
}

/// The temperature after something has gone in.
#[derive(Debug, Clone, PartialEq)]
pub struct Heating {
    /// What goes in.
    pub form: Arc<Form>,
    /// Whether it is dissolved in a vessel of its own.
    pub is_apart: bool,
    /// °C then; beyond 0 to 100 °C how far the heat would go. None where a heat is not known.
    pub after_c: Option<f64>,
    /// Whether it heats the vessel so far that it must go in by portions, with an ice bath.
    pub needs_portions: bool,
    /// Water in that vessel, g.
    pub water_g: Option<f64>,
}

/// A substance that does not dissolve in the water of its own step.
#[derive(Debug, Clone, PartialEq)]
pub struct Undissolved {
    /// As weighed.
    pub form: Arc<Form>,
    /// In the vessel, g per 100 g of water.
    pub grams_per_100_g: f64,
    /// That dissolve at that temperature.
    pub limit_g_per_100_g: f64,
    /// °C.
    pub celsius: f64,
}

/// One part, bottled or diluted, with all that is worked out of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Solution {
    /// A, B …; none in a one-part formula.
    pub name: Option<String>,
    /// Its dilution in words; none as bottled.
    pub dilution: Option<String>,
    /// What is dissolved in a litre.
    pub list: Vessel,
    /// What is predicted, or why nothing is.
    pub outcome: Result<Predicted, PredictError>,
    /// Each solid against its solubility in the cupboard.
    pub margins: Vec<Margin>,
    /// What would not dissolve while a litre is mixed.
    pub undissolved: Vec<Undissolved>,
    /// Water that a litre starts with: mL and °C.
    pub start: Option<(f64, f64)>,
    /// Temperatures while a litre is mixed.
    pub heating: Vec<Heating>,
    /// Why there are none.
    pub no_heating: Option<String>,
}

/// One working bath of a use.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingBath {
    /// Name of the use; none where it was asked for.
    pub used_as: Option<String>,
    /// The mixture in words.
    pub mixture: String,
    /// What is dissolved in a litre.
    pub list: Vessel,
    /// What is predicted, or why nothing is.
    pub outcome: Result<Predicted, PredictError>,
}

/// Everything predicted of a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// What was asked.
    pub question: Question,
    /// In the order of the formula, or the one asked for.
    pub parts: Vec<Solution>,
    /// Of the uses that the formula names, or the mixture asked for.
    pub baths: Vec<WorkingBath>,
}

impl Report {
    /// The one solution that the question is about, where there is one: the only part, the part asked for, the mixture asked for.
    pub fn subject(&self) -> Option<(&[Content], &Result<Predicted, PredictError>)> {
        match (self.parts.as_slice(), self.baths.as_slice(), &self.question.ratio) {
            ([part], _, _) => Some((&part.list, &part.outcome)),
            (_, [bath], Some(_)) => Some((&bath.list, &bath.outcome)),
            _ => None,
        }
    }

    /// Why there is no pH, where what was asked about has none at all.
    pub fn refusal(&self) -> Option<&PredictError> {
        let asked: Vec<_> = match (&self.question.ratio, self.baths.as_slice(), &self.question.part) {
            (Some(_), [bath], None) if self.parts.len() > 1 => vec![&bath.outcome],
            _ => self.parts.iter().map(|part| &part.outcome).collect(),
        };
        if asked.iter().any(|outcome| outcome.is_ok()) {
            return None;
        }
        asked.into_iter().find_map(|outcome| outcome.as_ref().err())
    }
}

/// Why a question cannot be put.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum QuestionError {
    /// The formula has parts, and none of that name.
    #[error("there is no part {name}")]
    NoSuchPart {
        /// What was asked.
        name: String,
        /// Those that there are, by name.
        parts: Vec<String>,
    },
    /// The mixture has another number of parts.
    #[error("the mixture {ratio} does not fit {what}")]
    RatioDoesNotFit {
        /// The ratio in words.
        ratio: String,
        /// What it was asked of.
        what: String,
    },
}

impl QuestionError {
    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::NoSuchPart { parts, .. } if parts.is_empty() => "the formula has one part".to_owned(),
            Self::NoSuchPart { parts, .. } => format!("its parts are {}", parts.join(", ")),
            Self::RatioDoesNotFit { .. } => {
                "write one figure for each part in its order and, last, one for water: 1+3, or 1+1+8 for A, B and water"
                    .to_owned()
            }
        }
    }
}

/// Predicts a formula.
///
/// # Errors
/// A part that there is not, or a ratio that does not fit.
pub fn report(sources: Sources<'_>, formula: &Formula, question: &Question) -> Result<Report, QuestionError> {
    let chosen = chosen_parts(formula, question)?;
    let mut parts = Vec::with_capacity(chosen.len());
    let mut baths = Vec::new();
    match (&question.ratio, chosen.as_slice()) {
        (Some(ratio), [part]) => {
            let bath = diluted(part, ratio)?;
            parts.push(solution(sources, formula, part, Some(&bath), question));
        }
        (Some(ratio), _) => {
            let bath = mixed(formula, ratio)?;
            baths.push(working(sources, formula, None, &bath, question));
            parts.extend(chosen.iter().map(|part| solution(sources, formula, part, None, question)));
        }
        (None, _) => {
            parts.extend(chosen.iter().map(|part| solution(sources, formula, part, None, question)));
            if question.part.is_none() {
                baths.extend(used_baths(sources, formula, question));
            }
        }
    }
    Ok(Report { question: question.clone(), parts, baths })
}

fn chosen_parts<'f>(formula: &'f Formula, question: &Question) -> Result<Vec<&'f Part>, QuestionError> {
    let Some(name) = &question.part else { return Ok(formula.parts.iter().collect()) };
    formula.part(name).map(|part| vec![part]).ok_or_else(|| QuestionError::NoSuchPart {
        name: name.clone(),
        parts: formula.parts.iter().filter_map(|part| part.name.clone()).collect(),
    })
}

fn ratio_words(ratio: &MixRatio) -> String {
    let words: Vec<String> =
        ratio.parts().iter().map(|part| crate::quantity::rounding::show_short(*part, 3)).collect();
    words.join("+")
}

/// One part and water.
fn diluted(part: &Part, ratio: &MixRatio) -> Result<Bath, QuestionError> {
    match ratio.parts() {
        [stock] => Ok(Bath { shares: vec![(part.share_name().to_owned(), *stock)], water: 0.0 }),
        [stock, water] => Ok(Bath { shares: vec![(part.share_name().to_owned(), *stock)], water: *water }),
        _ => Err(QuestionError::RatioDoesNotFit { ratio: ratio_words(ratio), what: "one part".to_owned() }),
    }
}

/// All parts in their order, and water.
fn mixed(formula: &Formula, ratio: &MixRatio) -> Result<Bath, QuestionError> {
    let count = formula.parts.len();
    let figures = ratio.parts();
    if figures.len() != count && figures.len() != count + 1 {
        let names: Vec<String> = formula.parts.iter().map(|part| part.share_name().to_owned()).collect();
        let what = format!("a formula of {}", names.join(", "));
        return Err(QuestionError::RatioDoesNotFit { ratio: ratio_words(ratio), what });
    }
    let shares =
        formula.parts.iter().zip(figures).map(|(part, share)| (part.share_name().to_owned(), *share));
    let shares = shares.filter(|(_, share)| *share > 0.0).collect();
    Ok(Bath { shares, water: figures.get(count).copied().unwrap_or(0.0) })
}

/// Each mixture that the uses name, once; a one-part formula undiluted is its part already.
fn used_baths(sources: Sources<'_>, formula: &Formula, question: &Question) -> Vec<WorkingBath> {
    let mut seen: Vec<String> = Vec::new();
    let mut baths = Vec::new();
    for listed_use in &formula.uses {
        for bath in &listed_use.baths {
            let is_a_part = bath.shares.len() == 1 && bath.water == 0.0;
            let words = bath.to_string();
            if is_a_part || seen.contains(&words) {
                continue;
            }
            seen.push(words);
            baths.push(working(sources, formula, Some(listed_use.name.clone()), bath, question));
        }
    }
    baths
}

fn working(
    sources: Sources<'_>,
    formula: &Formula,
    used_as: Option<String>,
    bath: &Bath,
    question: &Question,
) -> WorkingBath {
    let list = Vessel::of_bath(formula, bath);
    let outcome = predicted(sources, &list, "the working bath", question);
    WorkingBath { used_as, mixture: bath.to_string(), list, outcome }
}

fn solution(
    sources: Sources<'_>,
    formula: &Formula,
    part: &Part,
    bath: Option<&Bath>,
    question: &Question,
) -> Solution {
    let what = super::part_words(part);
    let diluted = bath.filter(|bath| bath.water > 0.0);
    let list = diluted.map_or_else(|| Vessel::of_part(part), |bath| Vessel::of_bath(formula, bath));
    let outcome = predicted(sources, &list, &what, question);
    let in_water = part.solvent.is_none() || diluted.is_some();
    let margins = if in_water {
        margins_in(sources.equilibria, sources.weights, &list, question.storage_c)
    } else {
        Vec::new()
    };
    let mixed = (!question.is_brief).then(|| mixing(sources, formula, part));
    let (mixing, no_heating) = match mixed {
        None => (Mixing::default(), None),
        Some(Ok(mixing)) => (mixing, None),
        Some(Err(reason)) => (Mixing::default(), Some(reason)),
    };
    Solution {
        name: part.name.clone(),
        dilution: diluted.map(Bath::to_string),
        list,
        outcome,
        margins,
        undissolved: mixing.undissolved,
        start: mixing.start,
        heating: mixing.heating,
        no_heating,
    }
}

fn predicted(
    sources: Sources<'_>,
    list: &Vessel,
    what: &str,
    question: &Question,
) -> Result<Predicted, PredictError> {
    let celsius = question.celsius;
    let additions = super::modelled(sources.equilibria, list, what)?;
    let prediction = predict(sources.equilibria, &additions, celsius)?;
    let doubts = doubts(sources.equilibria, list, &prediction);
    let sensitivities = if question.is_brief {
        Vec::new()
    } else {
        sensitivities(sources.equilibria, sources.siblings, list, celsius, prediction.ph)
    };
    Ok(Predicted { prediction, additions, doubts, sensitivities })
}

/// What could not be modelled, in words, with what it may do.
fn doubts(equilibria: &Equilibria, list: &[Content], prediction: &Prediction) -> Vec<Doubt> {
    let note_of = |name: &str| -> Option<String> {
        let own = list.iter().find(|own| own.form.name == name)?;
        Some(equilibrium_row(equilibria, &own.form)?.note()?.to_owned())
    };
    let mut doubts: Vec<Doubt> = prediction
        .limits
        .iter()
        .filter_map(|limit| match limit {
            ModelLimit::Unknown { substance, ph_shift, .. } => {
                let why = note_of(substance)
                    .unwrap_or_else(|| "what it does in water is not in the tables".to_owned());
                Some(Doubt { words: format!("{substance}: {why}"), ph_shift: *ph_shift })
            }
            ModelLimit::MissingComplexes { component, with, ph_shift } => Some(Doubt {
                words: format!("complexes of {component} with {with} are not in the tables"),
                ph_shift: Some(*ph_shift),
            }),
            ModelLimit::IonicStrength { ionic_strength, compared_to } => Some(Doubt {
                words: format!(
                    "ionic strength {ionic_strength:.1} mol/kg; the model was compared with others up to {compared_to:.1}"
                ),
                ph_shift: None,
            }),
            _ => None,
        })
        .collect();
    for content in list {
        let Some(row) = equilibrium_row(equilibria, &content.form) else { continue };
        let is_solvent = is_solvent(&content.form);
        match (row.standing(), row.note()) {
            (Modelling::Modelled, Some(note)) => {
                doubts.push(Doubt { words: format!("{}: {note}", content.form.name), ph_shift: None });
            }
            (Modelling::Inert, Some(note)) if !is_solvent => {
                doubts.push(Doubt { words: format!("{}: {note}", content.form.name), ph_shift: None });
            }
            _ => {}
        }
        if let Some(grams) =
            content.grams_per_litre.filter(|grams| is_solvent && *grams > SOLVENT_MENTIONED_G_PER_L)
        {
            doubts.push(Doubt {
                words: format!(
                    "{grams:.0} g/L of {}: the constants are those of water; above {MOST_SOLVENT_G_PER_L:.0} g/L nothing is predicted",
                    content.form.name
                ),
                ph_shift: None,
            });
        }
    }
    doubts
}

/// What happens while a litre of a part is mixed.
#[derive(Debug, Clone, Default)]
struct Mixing {
    start: Option<(f64, f64)>,
    heating: Vec<Heating>,
    undissolved: Vec<Undissolved>,
}

fn mixing(sources: Sources<'_>, formula: &Formula, part: &Part) -> Result<Mixing, String> {
    if let Some(solvent) = &part.solvent {
        return Err(format!("it is made up with {}, not with water", solvent.name));
    }
    let request = Request {
        balance: Balance { step_g: FINE_STEP_G, max_g: None },
        ..Request::volume(Volume::from_ml(BATCH_ML))
    };
    let batch = scale(formula, &request, &Relations::default()).map_err(|error| error.to_string())?;
    let batch_part = batch.parts.iter().find(|own| own.name == part.name).ok_or("it has no batch")?;
    let plan = plan(batch_part, part, batch.balance).map_err(|error| error.to_string())?;
    let readings = heating::readings(sources.equilibria, batch_part, &plan, true);
    let start = plan.start.celsius.map(|celsius| (plan.start.millilitres, celsius));
    let mut mixing = Mixing { start, ..Mixing::default() };
    // Grams of each item in the main vessel so far.
    let mut in_vessel: Vec<(usize, f64)> = Vec::new();
    for (step, reading) in plan.steps.iter().zip(&readings) {
        let (Some(form), Some(index)) = (&step.form, step.item) else { continue };
        mixing.heating.push(Heating {
            form: Arc::clone(form),
            is_apart: step.action == Action::DissolveApart,
            after_c: reading.all_at_once_c,
            needs_portions: reading.heats_above(PORTIONS_ABOVE_C).is_some(),
            water_g: reading.water_g,
        });
        let Some(item) = batch_part.items.get(index) else { continue };
        let grams = match step.action {
            Action::DissolveApart => item.grams,
            Action::Add | Action::Pinch => {
                let grams = step.carries_g.unwrap_or(0.0);
                let so_far =
                    in_vessel.iter().filter(|(at, _)| *at == index).map(|(_, grams)| grams).sum::<f64>();
                in_vessel.push((index, grams));
                Some(so_far + grams)
            }
            _ => None,
        };
        mixing.undissolved.extend(grams.and_then(|grams| too_much(sources.weights, item, grams, reading)));
    }
    Ok(mixing)
}

/// Whether so many grams of an item do not dissolve in the water of its vessel.
fn too_much(
    weights: &AtomicWeights,
    item: &Item,
    grams: f64,
    reading: &heating::ThermometerReading,
) -> Option<Undissolved> {
    let form = &item.form;
    if form.state != crate::substance::State::Solid || item.dose.is_some() || item.solution.is_some() {
        return None;
    }
    let celsius = reading.after_c?;
    let strength = grams_per_100_g_water(grams, reading.water_g? / 1000.0, crystal_water_g(form, grams))?;
    let Some(Figure::At(limit)) = figure(form, weights, celsius) else { return None };
    (strength > limit).then(|| Undissolved {
        form: Arc::clone(form),
        grams_per_100_g: strength,
        limit_g_per_100_g: limit,
        celsius,
    })
}

/// Whether crystals will come in the cupboard, or little keeps them from it.
pub fn crystals(margins: &[Margin]) -> impl Iterator<Item = &Margin> {
    margins
        .iter()
        .filter(|margin| matches!(margin.verdict(), SolubilityVerdict::Crystals | SolubilityVerdict::Close))
}
