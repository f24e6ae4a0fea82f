//! How much of a named alkali or acid brings a solution to a pH.
//!
//! Three ways, tried in this order:
//! 1. *Exact.* What is taken out is put back by other substances, component for component (borax and caustic for metaborate:
//!    `Na₂B₄O₇ + 2 NaOH = 4 NaBO₂ + H₂O`). It is the same solution, whatever the constants are.
//! 2. *By pH*, with one substance: the least amount at which the predicted pH is the one wanted. It holds its pH more or less firmly than before.
//! 3. *By pH and buffer capacity*, with two substances.
//!
//! The pH of 2 and 3 is computed on both sides with the same model, so that what the model has wrong of the rest cancels in part.

use std::sync::Arc;

use thiserror::Error;

use super::margin::{Limit, margins};
use super::{MOST_SOLVENT_G_PER_L, PredictError, additions, equilibrium_row, is_solvent};
use crate::quantity::STORAGE_C;
use crate::solution::{Addition, Equilibria, Modelling, Prediction, SolutionError, amount_for_ph, predict};
use crate::substance::chemical_formula::AtomicWeights;
use crate::substance::{Form, State};
use crate::vessel::{Content, Vessel};

/// Most grams of a reagent per litre that are tried where its solubility is not known.
const MOST_G_PER_L: f64 = 300.0;
/// pH within which a solution is already where it should be.
const THERE: f64 = 0.005;
/// Two pH that differ by less are the same statement.
const SAME: f64 = 1e-6;
/// Amounts of the first of two substances that are tried.
const TRIES: u32 = 40;

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Order {
    /// What is dissolved in a litre.
    pub list: Vessel,
    /// What it is called in a sentence: `the solution`, `part A`.
    pub what: String,
    /// One substance, or two.
    pub using: Vec<Arc<Form>>,
    /// Taken out first.
    pub replace: Option<Arc<Form>>,
    /// The pH wanted; none for that of the solution as it is.
    pub ph: Option<f64>,
    /// Buffer capacity wanted, mol/L per pH, with two substances; none for that of the solution as it is.
    pub capacity: Option<f64>,
    /// °C.
    pub celsius: f64,
}

/// Why there is no amount.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub(crate) enum AdjustError {
    /// The solution cannot be predicted.
    #[error(transparent)]
    Predict(#[from] PredictError),
    /// What is to be replaced is not there.
    #[error("{form} is not in {what}, so it cannot be replaced")]
    NotInIt { form: String, what: String, contains: Vec<String> },
    /// What the reagent does in water is not known.
    #[error("{form} cannot be used to adjust a pH: what it does in water is not known{}", note.as_ref().map_or_else(String::new, |note| format!(": {note}")))]
    NotModelled {
        form: String,
        /// What is not known.
        note: Option<String>,
    },
    /// More than two substances.
    #[error("{count} substances cannot be worked out from a pH and a buffer capacity")]
    TooMany { count: usize },
    /// No amount reaches it.
    #[error(
        "pH {target:.1} is out of reach with {form}: adding up to {most_g:.0} g/L can only bring {what} from pH {from:.1} to between {lowest:.1} and {highest:.1}"
    )]
    OutOfReach {
        what: String,
        form: String,
        /// pH wanted.
        target: f64,
        /// pH without it.
        from: f64,
        /// Lowest pH met.
        lowest: f64,
        /// Highest pH met.
        highest: f64,
        /// Most that was tried, g/L.
        most_g: f64,
    },
    /// Two substances reach the pH but not the capacity.
    #[error(
        "{forms} reach pH {target:.1}, but hold it with {lowest:.4} to {highest:.4} mol/L per pH, not with {wanted:.4}"
    )]
    CapacityOutOfReach {
        /// Both.
        forms: String,
        /// pH wanted.
        target: f64,
        /// Capacity wanted, mol/L per pH.
        wanted: f64,
        /// Lowest met.
        lowest: f64,
        /// Highest met.
        highest: f64,
    },
    /// Two substances do not reach the pH together.
    #[error("no mixture of {forms} brings {what} to pH {target:.1}")]
    PairOutOfReach {
        what: String,
        /// Both.
        forms: String,
        /// pH wanted.
        target: f64,
    },
}

impl AdjustError {
    /// How to put it right.
    pub(crate) fn fix(&self) -> String {
        match self {
            Self::Predict(error) => error.fix(),
            Self::NotInIt { contains, .. } => format!("it contains {}", contains.join(", ")),
            Self::NotModelled { .. } => "take an alkali, acid or buffer salt of known composition".to_owned(),
            Self::TooMany { .. } => "name one substance, or two".to_owned(),
            Self::OutOfReach { target, from, lowest, highest, .. } => {
                if target < lowest && (lowest - from).abs() < 0.05 {
                    "it only raises the pH: name an acid, or take the old alkali out first with --replace"
                        .to_owned()
                } else if target > highest && (highest - from).abs() < 0.05 {
                    "it only lowers the pH: name an alkali, or take the old acid out first with --replace"
                        .to_owned()
                } else {
                    "name a stronger alkali or acid, or a pH within that range".to_owned()
                }
            }
            Self::CapacityOutOfReach { .. } => {
                "name another pair, or a capacity within that range with --capacity".to_owned()
            }
            Self::PairOutOfReach { .. } => "name one acid and one alkali, or another pair".to_owned(),
        }
    }

    /// Stable short name.
    pub(crate) fn code(&self) -> &'static str {
        match self {
            Self::Predict(error) => error.code(),
            Self::NotInIt { .. } => "not-in-it",
            Self::NotModelled { .. } => "not-modelled",
            Self::TooMany { .. } => "too-many",
            Self::OutOfReach { .. } | Self::PairOutOfReach { .. } | Self::CapacityOutOfReach { .. } => {
                "out-of-reach"
            }
        }
    }
}

impl From<SolutionError> for AdjustError {
    fn from(error: SolutionError) -> Self {
        Self::Predict(PredictError::Solution(error))
    }
}

/// How the amounts were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// Component for component.
    Exact,
    /// By pH.
    Ph,
    /// By pH and buffer capacity.
    PhAndCapacity,
    /// Nothing needs to be added.
    AlreadyThere,
}

impl Way {
    /// The word in JSON.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Exact => "exact",
            Self::Ph => "ph",
            Self::PhAndCapacity => "ph-and-capacity",
            Self::AlreadyThere => "already-there",
        }
    }
}

/// A substance and how much of it goes into a litre.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct AddedForm {
    pub form: Arc<Form>,
    /// g/L.
    pub grams_per_litre: f64,
    /// Most that stays dissolved at 18 °C, g/L, where that is known.
    pub dissolves_g_per_l: Option<f64>,
}

impl AddedForm {
    /// mL/L, where it is a liquid of known density.
    pub(crate) fn millilitres_per_litre(&self) -> Option<f64> {
        let is_liquid = self.form.state != State::Solid;
        self.form.density_g_per_ml.filter(|_| is_liquid).map(|density| self.grams_per_litre / density)
    }
}

/// How a solution is brought to a pH.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Adjustment {
    /// How the amounts were found.
    pub way: Way,
    /// pH aimed at.
    pub target_ph: f64,
    /// What goes in.
    pub added: Vec<AddedForm>,
    /// What is left out, g/L.
    pub removed: Option<(Arc<Form>, f64)>,
    /// The solution as it is.
    pub before: Prediction,
    /// The solution then.
    pub after: Prediction,
}

/// Works out the amounts.
///
/// # Errors
/// See [`AdjustError`].
pub(crate) fn adjust(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    order: &Order,
) -> Result<Adjustment, AdjustError> {
    let before = predicted(equilibria, &order.list, order)?;
    for form in &order.using {
        let row = equilibrium_row(equilibria, form);
        let usable = row.as_ref().is_some_and(|row| row.standing() == Modelling::Modelled)
            && form.molar_mass_g_per_mol.is_some();
        if !usable {
            let note = row.and_then(|row| row.note().map(str::to_owned));
            return Err(AdjustError::NotModelled { form: form.name.clone(), note });
        }
    }
    if order.using.len() > 2 {
        return Err(AdjustError::TooMany { count: order.using.len() });
    }
    let (rest, removed) = without(order)?;
    let target_ph = order.ph.unwrap_or(before.ph);
    let same_ph = (target_ph - before.ph).abs() < SAME;
    let done = |way: Way, grams: &[f64]| -> Result<Adjustment, AdjustError> {
        let list = rest
            .clone()
            .with(order.using.iter().zip(grams).map(|(form, grams)| Content::grams(form, *grams)));
        let mut added = Vec::new();
        for (form, grams) in order.using.iter().zip(grams) {
            added.push(AddedForm {
                form: Arc::clone(form),
                grams_per_litre: *grams,
                dissolves_g_per_l: dissolves(equilibria, weights, &rest, form),
            });
        }
        let after = predicted(equilibria, &list, order)?;
        Ok(Adjustment { way, target_ph, added, removed: removed.clone(), before: before.clone(), after })
    };
    if let (Some((form, grams)), true) = (&removed, same_ph && order.capacity.is_none()) {
        let gone = Content::grams(form, *grams);
        if let Some(exact) = exactly(equilibria, &gone, &order.using) {
            return done(Way::Exact, &exact);
        }
    }
    let at_rest = predicted(equilibria, &rest, order)?;
    if (at_rest.ph - target_ph).abs() < THERE && order.using.len() < 2 {
        return done(Way::AlreadyThere, &[0.0]);
    }
    match order.using.as_slice() {
        [form] => {
            let grams = by_ph(equilibria, weights, &rest, form, target_ph, order)?;
            done(Way::Ph, &[grams])
        }
        [first, second] => {
            let wanted = order.capacity.unwrap_or(before.buffer_capacity);
            let pair =
                by_ph_and_capacity(equilibria, weights, &rest, [first, second], target_ph, wanted, order)?;
            done(Way::PhAndCapacity, &pair)
        }
        _ => Err(AdjustError::TooMany { count: order.using.len() }),
    }
}

fn predicted(equilibria: &Equilibria, list: &[Content], order: &Order) -> Result<Prediction, AdjustError> {
    Ok(predict(equilibria, &additions(equilibria, list, &order.what)?, order.celsius)?)
}

/// A solution without one form, and how much of it there was, g/L.
type Rest = (Vessel, Option<(Arc<Form>, f64)>);

/// The solution without what is to be replaced.
fn without(order: &Order) -> Result<Rest, AdjustError> {
    let Some(replace) = &order.replace else { return Ok((order.list.clone(), None)) };
    let (gone, rest): (Vec<Content>, Vec<Content>) =
        order.list.clone().into_iter().partition(|own| own.form.id == replace.id);
    let grams: Option<f64> = gone.first().and_then(|own| own.grams_per_litre);
    match grams {
        Some(grams) => Ok((rest.into(), Some((Arc::clone(replace), grams)))),
        None => Err(AdjustError::NotInIt {
            form: replace.id.clone(),
            what: order.what.clone(),
            contains: order.list.iter().map(|own| own.form.id.clone()).collect(),
        }),
    }
}

/// Grams of the reagents that bring exactly the components of what is gone; none where no amounts do.
fn exactly(equilibria: &Equilibria, gone: &Content, using: &[Arc<Form>]) -> Option<Vec<f64>> {
    let row = equilibrium_row(equilibria, &gone.form)?;
    if row.standing() != Modelling::Modelled {
        return None;
    }
    let gone_moles = gone.moles_per_litre()?;
    let rows: Vec<_> = using.iter().map(|form| equilibrium_row(equilibria, form)).collect::<Option<_>>()?;
    let mut names: Vec<&str> = row.components().iter().map(|(name, _)| name.as_str()).collect();
    for row in &rows {
        names.extend(row.components().iter().map(|(name, _)| name.as_str()));
    }
    names.sort_unstable();
    names.dedup();
    let vector = |components: &[(String, f64)]| -> Vec<f64> {
        names
            .iter()
            .map(|name| components.iter().filter(|(own, _)| own == name).map(|(_, count)| count).sum())
            .collect()
    };
    let wanted: Vec<f64> = vector(row.components()).into_iter().map(|count| count * gone_moles).collect();
    let columns: Vec<Vec<f64>> = rows.iter().map(|row| vector(row.components())).collect();
    let dot = |one: &[f64], two: &[f64]| one.iter().zip(two).map(|(a, b)| a * b).sum::<f64>();
    // Least squares, which is exact where an exact answer exists.
    let moles = match columns.as_slice() {
        [only] => vec![dot(only, &wanted) / dot(only, only)],
        [one, two] => {
            let (a, b, d) = (dot(one, one), dot(one, two), dot(two, two));
            let determinant = a * d - b * b;
            if determinant.abs() < 1e-9 {
                return None;
            }
            let (e, f) = (dot(one, &wanted), dot(two, &wanted));
            vec![(e * d - f * b) / determinant, (f * a - e * b) / determinant]
        }
        _ => return None,
    };
    let fits = wanted.iter().enumerate().all(|(at, want)| {
        let made: f64 = columns
            .iter()
            .zip(&moles)
            .map(|(column, moles)| column.get(at).copied().unwrap_or(0.0) * moles)
            .sum();
        (made - want).abs() <= 1e-9 * gone_moles
    });
    if !fits || moles.iter().any(|own| *own < -1e-12) {
        return None;
    }
    using.iter().zip(&moles).map(|(form, own)| Some(own.max(0.0) * form.product_g_per_mol()?)).collect()
}

/// Most grams of a form that stay dissolved beside a list at 18 °C, where that is known.
fn dissolves(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    rest: &[Content],
    form: &Arc<Form>,
) -> Option<f64> {
    let list = Vessel::from(rest.to_vec()).with([Content::grams(form, 0.0)]);
    let margins = margins(equilibria, weights, &list, None, STORAGE_C);
    let own = margins.into_iter().find(|margin| margin.form.id == form.id)?;
    match own.limit {
        Limit::Known { grams_per_litre } => Some(grams_per_litre),
        _ => None,
    }
}

/// Most moles of a reagent per litre that are tried, and as grams of the form.
fn most(equilibria: &Equilibria, weights: &AtomicWeights, rest: &[Content], form: &Arc<Form>) -> (f64, f64) {
    let there: f64 =
        rest.iter().filter(|own| own.form.id == form.id).filter_map(|own| own.grams_per_litre).sum();
    let bound = if is_solvent(form) { MOST_SOLVENT_G_PER_L } else { MOST_G_PER_L };
    let grams = dissolves(equilibria, weights, rest, form).map_or(bound, |limit| limit.min(bound)) - there;
    let grams = grams.max(1e-3);
    let moles = form.moles_in(grams, form.assay_fraction()).unwrap_or(0.0);
    (moles, grams)
}

/// Grams of a form that hold so many moles.
fn grams_of(form: &Form, moles: f64) -> f64 {
    form.product_g_per_mol().map_or(0.0, |grams| moles * grams)
}

fn reagent(equilibria: &Equilibria, form: &Form) -> Result<Addition, AdjustError> {
    let row = super::checked_row(equilibria, form)?;
    row.map(|row| row.addition(1.0, form.crystal_water))
        .ok_or_else(|| AdjustError::NotModelled { form: form.name.clone(), note: None })
}

fn by_ph(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    rest: &[Content],
    form: &Arc<Form>,
    target: f64,
    order: &Order,
) -> Result<f64, AdjustError> {
    let base = additions(equilibria, rest, &order.what)?;
    let reagent = reagent(equilibria, form)?;
    let (most_moles, most_g) = most(equilibria, weights, rest, form);
    match amount_for_ph(equilibria, &base, &reagent, target, order.celsius, most_moles) {
        Ok(moles) => Ok(grams_of(form, moles)),
        Err(SolutionError::Unreachable { lowest_ph, highest_ph, .. }) => Err(AdjustError::OutOfReach {
            what: order.what.clone(),
            form: form.name.clone(),
            target,
            from: predict(equilibria, &base, order.celsius)?.ph,
            lowest: lowest_ph,
            highest: highest_ph,
            most_g,
        }),
        Err(error) => Err(error.into()),
    }
}

/// Two substances: for each amount of the first the second is found by pH, and of these pairs the one with the capacity wanted.
fn by_ph_and_capacity(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    rest: &[Content],
    [first, second]: [&Arc<Form>; 2],
    target: f64,
    wanted: f64,
    order: &Order,
) -> Result<Vec<f64>, AdjustError> {
    let base = additions(equilibria, rest, &order.what)?;
    let (one, two) = (reagent(equilibria, first)?, reagent(equilibria, second)?);
    let (most_one, _) = most(equilibria, weights, rest, first);
    let (most_two, _) = most(equilibria, weights, rest, second);
    // Moles of the second and the capacity, for an amount of the first.
    let pair = |moles: f64| -> Option<(f64, f64)> {
        let mut solution = base.clone();
        solution.push(Addition { moles, ..one.clone() });
        let needed = amount_for_ph(equilibria, &solution, &two, target, order.celsius, most_two).ok()?;
        solution.push(Addition { moles: needed, ..two.clone() });
        Some((needed, predict(equilibria, &solution, order.celsius).ok()?.buffer_capacity))
    };
    let forms = format!("{} and {}", first.name, second.name);
    let (mut lowest, mut highest) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut last: Option<(f64, f64)> = None;
    for step in 0..=TRIES {
        let moles = if step == 0 {
            0.0
        } else {
            most_one * 10_f64.powf(4.0 * (f64::from(step) / f64::from(TRIES) - 1.0))
        };
        let Some((_, capacity)) = pair(moles) else {
            last = None;
            continue;
        };
        lowest = lowest.min(capacity);
        highest = highest.max(capacity);
        let found = last
            .filter(|(_, before)| (before > &wanted) != (capacity > wanted))
            .and_then(|(low, before)| between(&pair, (low, before), moles, wanted));
        if let Some((one, two)) = found {
            return Ok(vec![grams_of(first, one), grams_of(second, two)]);
        }
        last = Some((moles, capacity));
    }
    if lowest.is_finite() {
        Err(AdjustError::CapacityOutOfReach { forms, target, wanted, lowest, highest })
    } else {
        Err(AdjustError::PairOutOfReach { what: order.what.clone(), forms, target })
    }
}

/// Halves an interval of the first substance until the capacity is met.
fn between(
    pair: &dyn Fn(f64) -> Option<(f64, f64)>,
    (mut low, low_capacity): (f64, f64),
    mut high: f64,
    wanted: f64,
) -> Option<(f64, f64)> {
    let is_above = low_capacity > wanted;
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        let (_, capacity) = pair(middle)?;
        if (capacity > wanted) == is_above { low = middle } else { high = middle }
    }
    let moles = f64::midpoint(low, high);
    Some((moles, pair(moles)?.0))
}
