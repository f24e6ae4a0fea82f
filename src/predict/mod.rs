//! What a formula's solutions will do: joins the recipe with [`crate::solution`].
//!
//! A part, or a working bath mixed from parts, becomes a list of neutral additions; every prediction carries its expected error, and
//! says what it could not model. Concentrates in glycol or amine are refused: the model is one of water. So is a formula that ends at
//! an end point, since nobody knows how much really goes in.
//!
//! * [`report`]: everything about a formula at once. [`sensitivity`]: what moves the pH. [`measured`]: a meter's reading against it.
//! * [`adjust`]: how much of an alkali or acid reaches a pH. [`margin`], [`concentrate`]: what stays dissolved. [`heating`]: how warm.
//! * [`exchanged`]: what another form on the shelf does to the pH. [`mod@contradiction`]: whether a stated pH can be true.

pub mod adjust;
pub mod concentrate;
pub mod contradiction;
pub mod exchanged;
pub mod heating;
pub mod margin;
pub mod measured;
pub mod report;
pub mod sensitivity;

pub use contradiction::contradiction;

use std::borrow::Cow;
use std::rc::Rc;

use thiserror::Error;

use crate::composition::Composition;
use crate::formula::{Bath, Formula, Ingredient, Part};
use crate::scale::BatchPart;
use crate::solution::{
    Addition, Equilibria, Limit, Prediction, SolutionError, Standing, SubstanceRow, predict,
};
use crate::substance::{DeclaredStanding, Form, Role};
use crate::suggestion;

/// Grams of organic solvent per litre above which the water model does not hold; a judgement, no source.
pub const MOST_SOLVENT_G_PER_L: f64 = 100.0;

/// One form in a litre of a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Dissolved {
    /// The form.
    pub form: Rc<Form>,
    /// Grams of the form per litre; none where they cannot be known.
    pub grams_per_litre: Option<f64>,
}

impl Dissolved {
    /// mol per litre: grams × assay / molar mass.
    pub fn moles_per_litre(&self) -> Option<f64> {
        Some(self.grams_per_litre? * self.form.assay_fraction() / self.form.molar_mass_g_per_mol?)
    }
}

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
        /// The solvent.
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
        /// The form.
        form: String,
    },
    /// A substance of the user's names a component that does not exist.
    #[error("{form}: its [solution] names the component \"{component}\", which does not exist")]
    UnknownComponent {
        /// The form.
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
                "ask about its working bath, in which the solvent is a small share: --dilution 1+50".to_owned()
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

/// What is dissolved in a litre of a part as bottled; a solvent other than water is not in it.
pub fn dissolved_in_part(part: &Part) -> Vec<Dissolved> {
    part.ingredients.iter().map(|own| dissolved(own, 1.0)).collect()
}

/// What is dissolved in a litre of a part of a batch, by the forms that are really taken from the shelf.
pub fn dissolved_in_batch(part: &BatchPart) -> Vec<Dissolved> {
    let litres = part.volume.as_litres();
    part.items
        .iter()
        .map(|item| Dissolved {
            form: Rc::clone(&item.form),
            // A product of another assay than its form's usual one counts as so much more or less of that.
            grams_per_litre: item
                .grams
                .filter(|_| litres > 0.0)
                .map(|grams| grams / litres * item.assay / item.form.assay_fraction()),
        })
        .collect()
}

/// What is dissolved in a litre of a working bath, parts and water mixed by volume.
pub fn dissolved_in_bath(formula: &Formula, bath: &Bath) -> Vec<Dissolved> {
    let total = bath.total();
    let mut list: Vec<Dissolved> = Vec::new();
    for (part, share) in parts_of(formula, bath) {
        if let Some(solvent) = &part.solvent {
            let grams = solvent.density_g_per_ml.map(|density| density * 1000.0 * share / total);
            list.push(Dissolved { form: Rc::clone(solvent), grams_per_litre: grams });
        }
        for own in &part.ingredients {
            let new = dissolved(own, share / total);
            match list.iter_mut().find(|known| known.form.id == new.form.id) {
                Some(known) => {
                    known.grams_per_litre =
                        known.grams_per_litre.zip(new.grams_per_litre).map(|(one, two)| one + two);
                }
                None => list.push(new),
            }
        }
    }
    list
}

/// What is dissolved in a litre of a composition.
pub fn dissolved_in_composition(composition: &Composition) -> Vec<Dissolved> {
    let components = composition.components.iter();
    components
        .map(|own| Dissolved { form: Rc::clone(&own.basis), grams_per_litre: own.grams_per_litre })
        .collect()
}

/// The parts in a bath with their shares by volume.
fn parts_of<'f>(formula: &'f Formula, bath: &'f Bath) -> impl Iterator<Item = (&'f Part, f64)> {
    bath.shares.iter().filter_map(|(name, share)| {
        let part = formula.parts.iter().find(|part| part.name.as_deref().unwrap_or("stock") == name)?;
        Some((part, *share))
    })
}

fn dissolved(own: &Ingredient, share: f64) -> Dissolved {
    Dissolved {
        form: Rc::clone(&own.form),
        grams_per_litre: own.grams_per_litre().map(|grams| grams * share),
    }
}

/// What a mole of a form brings: as its own file says, else as the table of equilibria says; none where neither does.
pub fn row_of<'e>(equilibria: &'e Equilibria, form: &Form) -> Option<Cow<'e, SubstanceRow>> {
    let Some(own) = &form.parent.solution else {
        return equilibria.substance(&form.parent.id).map(Cow::Borrowed);
    };
    let standing = match own.standing {
        DeclaredStanding::Modelled => Standing::Modelled,
        DeclaredStanding::Inert => Standing::Inert,
        DeclaredStanding::Unknown => Standing::Unknown,
    };
    Some(Cow::Owned(SubstanceRow::declared(
        &form.parent.id,
        standing,
        own.components.clone(),
        own.protons,
        own.note.clone(),
    )))
}

/// The row of a form, with the names of its components checked.
fn checked_row<'e>(
    equilibria: &'e Equilibria,
    form: &Form,
) -> Result<Option<Cow<'e, SubstanceRow>>, PredictError> {
    let Some(row) = row_of(equilibria, form) else { return Ok(None) };
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
    form.has_role(Role::Solvent) && form.is_class("organic") || form.is_class("amine")
}

/// Whether something in a solution may matter in a way that no number bounds, so that its error is that of the rest alone.
pub fn has_open_doubt(prediction: &Prediction) -> bool {
    prediction.limits.iter().any(|limit| matches!(limit, Limit::Unknown { ph_shift: None, .. }))
}

/// Expected error of a pH above which it does not decide what a bath does to skin and eyes; our own limit.
const WORST_TRUSTED_ERROR: f64 = 0.5;
/// Expected error of a pH above which it is of no use as a check of the finished bath; our own limit.
pub const WORST_PH_ERROR: f64 = 0.7;

/// The pH of a solution where it may be counted on: its error is small and nothing in it is beyond the model.
pub fn trusted_ph(prediction: &Prediction) -> Option<f64> {
    (prediction.ph_error <= WORST_TRUSTED_ERROR && !has_open_doubt(prediction)).then_some(prediction.ph)
}

/// What is not modelled and may decide the pH, if anything: the figure is then that of the rest.
pub fn unmodelled(prediction: &Prediction) -> Option<&str> {
    prediction.limits.iter().find_map(|limit| match limit {
        Limit::Unknown { substance, ph_shift, .. } if ph_shift.is_none_or(|shift| shift > WORST_PH_ERROR) => {
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
    list: &[Dissolved],
    what: &str,
) -> Result<Vec<Addition>, PredictError> {
    let mut additions = Vec::with_capacity(list.len());
    for own in list {
        let form = &own.form;
        if form.parent.id == "water" {
            continue;
        }
        if is_solvent(form) && own.grams_per_litre.is_none_or(|grams| grams > MOST_SOLVENT_G_PER_L) {
            return Err(PredictError::NotWater { what: what.to_owned(), solvent: form.name.clone() });
        }
        let row = checked_row(equilibria, form)?;
        match (row, own.moles_per_litre()) {
            (Some(row), Some(moles)) => additions
                .push(Addition { substance: form.name.clone(), ..row.addition(moles, form.crystal_water) }),
            (Some(row), None) if row.standing() == Standing::Inert => {}
            (Some(row), None) if row.standing() == Standing::Modelled => {
                return Err(PredictError::NoMoles { form: form.name.clone() });
            }
            (_, moles) => additions.push(Addition {
                substance: form.name.clone(),
                moles: moles.unwrap_or(0.0),
                components: Vec::new(),
                water_moles: 0.0,
                standing: Standing::Unknown,
                protons: 0.0,
            }),
        }
    }
    Ok(additions)
}

/// What a part is called in a sentence.
fn part_words(part: &Part) -> String {
    part.name.as_ref().map_or_else(|| "the solution".to_owned(), |name| format!("part {name}"))
}

/// Refuses a part that is not in water or ends at an end point.
fn refuse_part(part: &Part, what: &str) -> Result<(), PredictError> {
    if let Some(solvent) = &part.solvent {
        return Err(PredictError::NotWater { what: what.to_owned(), solvent: solvent.name.clone() });
    }
    refuse_end_point(part, what)
}

fn refuse_end_point(part: &Part, what: &str) -> Result<(), PredictError> {
    let with_end = part.ingredients.iter().find_map(|own| Some((own, own.until.as_ref()?)));
    match with_end {
        Some((own, until)) => Err(PredictError::EndPoint {
            what: what.to_owned(),
            form: own.form.name.clone(),
            until: until.clone(),
        }),
        None => Ok(()),
    }
}

/// Predicts a part as bottled.
///
/// # Errors
/// Not a watery solution, an end point, or the model has no answer.
pub fn predict_part(equilibria: &Equilibria, part: &Part, celsius: f64) -> Result<Prediction, PredictError> {
    let what = part_words(part);
    refuse_part(part, &what)?;
    let additions = additions(equilibria, &dissolved_in_part(part), &what)?;
    Ok(predict(equilibria, &additions, celsius)?)
}

/// Predicts a part of a batch, with the forms that are really taken; `source` is the same part of the formula.
///
/// # Errors
/// As [`predict_part`].
pub fn predict_batch(
    equilibria: &Equilibria,
    batch: &BatchPart,
    source: &Part,
    celsius: f64,
) -> Result<Prediction, PredictError> {
    let what = part_words(source);
    refuse_part(source, &what)?;
    let additions = additions(equilibria, &dissolved_in_batch(batch), &what)?;
    Ok(predict(equilibria, &additions, celsius)?)
}

/// Predicts a composition: a part or a bath on the common ground of comparing.
///
/// # Errors
/// As [`predict_part`]; of a solvent in earnest, or an end point.
pub fn predict_composition(
    equilibria: &Equilibria,
    composition: &Composition,
    celsius: f64,
) -> Result<Prediction, PredictError> {
    let what = composition.label.clone();
    if composition.has_end_point {
        let (form, until) = ("one of its ingredients".to_owned(), "an end point".to_owned());
        return Err(PredictError::EndPoint { what, form, until });
    }
    let additions = additions(equilibria, &dissolved_in_composition(composition), &what)?;
    Ok(predict(equilibria, &additions, celsius)?)
}

/// Predicts a working bath.
///
/// # Errors
/// Not a watery solution, an end point in one of its parts, or the model has no answer.
pub fn predict_bath(
    equilibria: &Equilibria,
    formula: &Formula,
    bath: &Bath,
    celsius: f64,
) -> Result<Prediction, PredictError> {
    let what = "the working bath";
    for (part, _) in parts_of(formula, bath) {
        refuse_end_point(part, what)?;
    }
    let additions = additions(equilibria, &dissolved_in_bath(formula, bath), what)?;
    Ok(predict(equilibria, &additions, celsius)?)
}
