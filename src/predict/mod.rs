//! What a formula's solutions will do: joins the recipe with [`crate::solution`].
//!
//! A part, or a working bath mixed from parts, becomes a list of neutral additions; every prediction carries its expected error, and
//! says what it could not model. Concentrates in glycol or amine are refused: the model is one of water. So is a formula that ends at
//! an end point, since nobody knows how much really goes in.
//!
//! * [`report`]: everything about a formula at once. [`sensitivity`]: what moves the pH. [`measured`]: a meter's reading against it.
//! * [`adjust`]: how much of an alkali or acid reaches a pH. [`margin`], [`concentrate`]: what stays dissolved. [`heating`]: how warm.
//! * [`exchanged`]: what another form on the shelf does to the pH. [`mod@contradiction`]: whether a stated pH can be true.
//!
//! No pH is told where something that is not modelled may move it by more than 0.7; what a bath does to skin and eyes counts on a pH
//! only within 0.5. A prediction contradicts a stated pH outside its own error and 0.15 for the reading; a note under `[stated]`
//! shows that somebody looked, and silences it.

pub(crate) mod adjust;
mod common_ions;
pub(crate) mod concentrate;
pub mod contradiction;
pub mod crystals;
pub(crate) mod exchanged;
pub(crate) mod heating;
pub(crate) mod margin;
pub(crate) mod measured;
pub mod report;
pub mod sensitivity;

pub use contradiction::contradiction;

use std::borrow::Cow;

use thiserror::Error;

use crate::formula::Part;
use crate::solution::{
    Addition, Equilibria, ModelLimit, Modelling, Prediction, SolutionError, SubstanceRow, acid_reserve,
    alkali_reserve, predict,
};
use crate::substance::{Class, DeclaredStanding, Form, Role};
use crate::suggestion;
use crate::vessel::{Content, Vessel};

/// Grams of organic solvent per litre above which the water model does not hold; a judgement, no source.
pub const MOST_SOLVENT_G_PER_L: f64 = 100.0;

/// Why there is no prediction.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PredictError {
    /// Not a watery solution.
    #[error(
        "{what} holds so much {solvent} that a model of solutions in water does not fit it, so nothing is predicted"
    )]
    NotWater {
        /// Which part or bath.
        what: String,
        /// Its name, as printed.
        solvent: String,
    },
    /// An ingredient goes in until something happens.
    #[error(
        "{form} goes into {what} only until {until}: how much that takes is not known beforehand, so no pH is predicted"
    )]
    EndPoint {
        /// Which part or bath.
        what: String,
        /// The ingredient.
        form: String,
        /// The end point.
        until: String,
    },
    /// An amount that cannot be turned into moles and matters.
    #[error("the amount of {form} cannot be turned into moles, so the pH is not predicted")]
    NoMoles {
        /// Its name, as printed.
        form: String,
    },
    /// A substance of the user's names a component that does not exist.
    #[error("{form}: its [solution] names the component \"{component}\", which does not exist")]
    UnknownComponent {
        /// Id of the substance.
        form: String,
        /// The name that was not found.
        component: String,
        /// The most similar name that there is.
        near: Option<String>,
    },
    /// The model has no answer.
    #[error(transparent)]
    Solution(#[from] SolutionError),
}

impl PredictError {
    /// How to put it right, in words of the bench.
    pub fn fix(&self) -> String {
        match self {
            Self::NotWater { .. } => {
                "ask `soupcon predict` about its working bath, in which the solvent is a small share: --dilution 1+50".to_owned()
            }
            Self::EndPoint { .. } => "measure it with a meter when it is mixed".to_owned(),
            Self::NoMoles { .. } => {
                "give its amount in grams, or its substance a density and a chemical formula".to_owned()
            }
            Self::UnknownComponent { near: Some(near), .. } => format!("did you mean \"{near}\"?"),
            Self::UnknownComponent { near: None, .. } => {
                "use a component of tables/equilibria.toml, such as \"Na+\" or \"CO3^2-\"; or write standing = \"unknown\""
                    .to_owned()
            }
            Self::Solution(error) => error.fix().to_owned(),
        }
    }

    /// Stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotWater { .. } => "not-water",
            Self::EndPoint { .. } => "end-point",
            Self::NoMoles { .. } => "no-moles",
            Self::UnknownComponent { .. } => "unknown-component",
            Self::Solution(SolutionError::Unreachable { .. }) => "out-of-reach",
            Self::Solution(_) => "no-prediction",
        }
    }
}

/// What a mole of a form brings: as its own file says, else as the table of equilibria says; none where neither does.
pub fn equilibrium_row<'e>(equilibria: &'e Equilibria, form: &Form) -> Option<Cow<'e, SubstanceRow>> {
    let Some(given_chemistry) = &form.parent.solution else {
        return equilibria.substance(&form.parent.id).map(Cow::Borrowed);
    };
    let standing = match given_chemistry.standing {
        DeclaredStanding::Modelled => Modelling::Modelled,
        DeclaredStanding::Inert => Modelling::Inert,
        DeclaredStanding::Unknown => Modelling::Unknown,
    };
    Some(Cow::Owned(SubstanceRow::declared(
        &form.parent.id,
        standing,
        given_chemistry.components.clone(),
        given_chemistry.protons,
        given_chemistry.note.clone(),
    )))
}

/// The row of a form, with the names of its components checked.
fn checked_row<'e>(
    equilibria: &'e Equilibria,
    form: &Form,
) -> Result<Option<Cow<'e, SubstanceRow>>, PredictError> {
    let Some(row) = equilibrium_row(equilibria, form) else { return Ok(None) };
    match row.components().iter().find(|(name, _)| !equilibria.has_component(name)) {
        Some((name, _)) => Err(PredictError::UnknownComponent {
            form: form.id.clone(),
            component: name.clone(),
            near: near_component(equilibria, name),
        }),
        None => Ok(Some(row)),
    }
}

/// The component whose name is most like a mistyped one: charges written otherwise (`SO3--`, `SO3-2`) count as like.
pub fn near_component(equilibria: &Equilibria, typed: &str) -> Option<String> {
    let letters = |name: &str| -> String {
        let body = name.split(['^', '+']).next().unwrap_or(name).trim_end_matches('-');
        body.chars().filter(|letter| letter.is_alphanumeric()).collect::<String>().to_lowercase()
    };
    let plain = letters(typed.trim_end_matches(['1', '2', '3', '4']));
    let same = |name: &&str| letters(name) == letters(typed) || letters(name) == plain;
    equilibria
        .component_names()
        .find(same)
        .or_else(|| suggestion::nearest(typed, equilibria.component_names()))
        .map(str::to_owned)
}

/// Whether a form is an organic solvent or an amine, in much of which the model of water does not hold.
fn is_solvent(form: &Form) -> bool {
    form.has_role(Role::Solvent) && form.is_class(&Class::Organic) || form.is_class(&Class::Amine)
}

/// Whether something in a solution may matter in a way that no number bounds, so that its error is that of the rest alone.
pub fn has_open_doubt(prediction: &Prediction) -> bool {
    prediction.limits.iter().any(|limit| matches!(limit, ModelLimit::Unknown { ph_shift: None, .. }))
}

/// Expected error of a pH above which it does not decide what a bath does to skin and eyes; our own limit.
const WORST_TRUSTED_ERROR: f64 = 0.5;
/// Expected error of a pH above which it is of no use as a check of the finished bath; our own limit.
pub const WORST_PH_ERROR: f64 = 0.7;

/// The pH of a solution where it may be counted on: its error is small and nothing in it is beyond the model.
pub fn trusted_ph(prediction: &Prediction) -> Option<f64> {
    (prediction.ph_error <= WORST_TRUSTED_ERROR && !has_open_doubt(prediction)).then_some(prediction.ph)
}

/// Beyond these a pH is so extreme that the reserve behind it matters; a little wider than the limits of the mixture rules.
const RESERVE_MATTERS_BEYOND_PH: (f64, f64) = (2.5, 11.0);

/// Acid or alkali reserve of a solution of extreme pH, grams of sodium hydroxide per 100 g; none where the pH is not extreme, or the
/// titration is beyond the model.
pub fn reserve_g(
    equilibria: &Equilibria,
    additions: &[Addition],
    prediction: &Prediction,
    celsius: f64,
) -> Option<f64> {
    let (acid, alkaline) = RESERVE_MATTERS_BEYOND_PH;
    if prediction.ph <= acid {
        acid_reserve(equilibria, additions, celsius).ok()
    } else if prediction.ph >= alkaline {
        alkali_reserve(equilibria, additions, celsius).ok()
    } else {
        None
    }
}

/// [`reserve_g`] of a vessel.
pub fn reserve_of_vessel(
    equilibria: &Equilibria,
    vessel: &Vessel,
    prediction: &Prediction,
    celsius: f64,
) -> Option<f64> {
    reserve_g(equilibria, &additions(equilibria, vessel, "").ok()?, prediction, celsius)
}

/// What is not modelled and may decide the pH, if anything: the figure is then that of the rest.
pub fn unmodelled(prediction: &Prediction) -> Option<&str> {
    prediction.limits.iter().find_map(|limit| match limit {
        ModelLimit::Unknown { substance, ph_shift, .. }
            if ph_shift.is_none_or(|shift| shift > WORST_PH_ERROR) =>
        {
            Some(substance.as_str())
        }
        _ => None,
    })
}

/// Neutral additions for the model; what the table does not know counts as unknown.
///
/// # Errors
/// An organic solvent in earnest, an amount without moles of something that matters, or a component that does not exist.
pub fn additions(
    equilibria: &Equilibria,
    list: &[Content],
    what: &str,
) -> Result<Vec<Addition>, PredictError> {
    // Of several obstacles the same one is told in whatever order the recipe names them.
    let mut by_id: Vec<&Content> = list.iter().collect();
    by_id.sort_by(|one, other| one.form.id.cmp(&other.form.id));
    let obstacle = |content: &Content| added(equilibria, content, what).err();
    match by_id.into_iter().find_map(obstacle) {
        Some(error) => Err(error),
        None => list.iter().filter_map(|content| added(equilibria, content, what).transpose()).collect(),
    }
}

/// What one chemical is to the model; none of water and of what has no moles and does not matter.
fn added(equilibria: &Equilibria, content: &Content, what: &str) -> Result<Option<Addition>, PredictError> {
    let form = &content.form;
    if form.parent.id == "water" {
        return Ok(None);
    }
    let is_solvent = is_solvent(form) || content.is_solvent;
    if is_solvent && content.grams_per_litre.is_none_or(|grams| grams > MOST_SOLVENT_G_PER_L) {
        return Err(PredictError::NotWater { what: what.to_owned(), solvent: form.name.clone() });
    }
    let row = checked_row(equilibria, form)?;
    match (row, content.moles_per_litre()) {
        (Some(row), Some(moles)) => {
            Ok(Some(Addition { substance: form.name.clone(), ..row.addition(moles, form.crystal_water) }))
        }
        (Some(row), None) if row.standing() == Modelling::Inert => Ok(None),
        (Some(row), None) if row.standing() == Modelling::Modelled => {
            Err(PredictError::NoMoles { form: form.name.clone() })
        }
        (_, moles) => Ok(Some(Addition {
            substance: form.name.clone(),
            moles: moles.unwrap_or(0.0),
            components: Vec::new(),
            water_moles: 0.0,
            standing: Modelling::Unknown,
            protons: 0.0,
        })),
    }
}

/// What a part is called in a sentence.
fn part_words(part: &Part) -> String {
    part.name.as_ref().map_or_else(|| "the solution".to_owned(), |name| format!("part {name}"))
}

/// What a vessel is to the model, where it is one of water and nothing in it goes in until an end point.
fn modelled(equilibria: &Equilibria, vessel: &Vessel, what: &str) -> Result<Vec<Addition>, PredictError> {
    if let Some((content, until)) = vessel.end_point() {
        return Err(PredictError::EndPoint {
            what: what.to_owned(),
            form: content.form.name.clone(),
            until: until.to_owned(),
        });
    }
    additions(equilibria, vessel, what)
}

/// Predicts what is in a vessel; `what` names it in a sentence.
///
/// # Errors
/// Not a watery solution, an end point, or the model has no answer.
pub fn predict_vessel(
    equilibria: &Equilibria,
    vessel: &Vessel,
    what: &str,
    celsius: f64,
) -> Result<Prediction, PredictError> {
    Ok(predict(equilibria, &modelled(equilibria, vessel, what)?, celsius)?)
}

/// Predicts a part of a recipe as bottled.
///
/// # Errors
/// As [`predict_vessel`].
pub fn predict_part(equilibria: &Equilibria, part: &Part, celsius: f64) -> Result<Prediction, PredictError> {
    predict_vessel(equilibria, &Vessel::of_part(part), &part_words(part), celsius)
}
