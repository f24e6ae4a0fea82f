//! Small amounts: when a balance cannot weigh them well enough, a dose of a percent solution, for substances that keep in one.

use crate::quantity::rounding;
use crate::substance::{Form, Role};

/// Usual weighing tolerance as a fraction; common practice, no source.
const TOLERANCE: f64 = 0.05;
/// Tolerance for restrainers, antifoggants and silver solvents, which act strongly in small amounts; common practice, no source.
const TIGHT_TOLERANCE: f64 = 0.02;
/// Half a mark of the syringe or pipette with which a dose is measured, mL.
const HALF_MARK_ML: f64 = 0.05;
/// Bottle sizes in which a percent solution is made, mL.
const STOCK_ML: [f64; 6] = [50.0, 100.0, 200.0, 250.0, 500.0, 1000.0];
/// Largest share of the batch that a dose may be.
const LARGEST_SHARE: f64 = 0.25;
/// The same for a dose in glycol or alcohol, which is no part of the recipe; common practice, no source.
const LARGEST_ORGANIC_SHARE: f64 = 0.025;
/// Share of the solubility at 20 °C that a percent solution may use.
const SOLUBILITY_SHARE: f64 = 0.8;

/// A balance: its smallest step and its largest load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// Resolution, g.
    pub step_g: f64,
    /// Largest load, g, where known.
    pub max_g: Option<f64>,
}

impl Default for Balance {
    /// 0.1 g, load not known.
    fn default() -> Self {
        Self { step_g: 0.1, max_g: None }
    }
}

impl Balance {
    /// The largest load in whole steps, g; none where the load is not known or less than one step.
    pub fn fullest_g(self) -> Option<f64> {
        let steps = (self.max_g? / self.step_g * (1.0 + 1e-9)).floor();
        (steps >= 1.0).then(|| rounding::to_step(steps * self.step_g, self.step_g))
    }
}

/// How far off a weighing of this form may be, as a fraction.
pub fn tolerance(form: &Form) -> f64 {
    let tight = [Role::Restrainer, Role::Antifoggant].iter().any(|&role| form.has_role(role))
        || form.is_class("thiocyanate");
    if tight { TIGHT_TOLERANCE } else { TOLERANCE }
}

/// Whether half a step is more than the tolerance of the amount: judged by the resolution, not by the luck of rounding.
pub fn is_too_small(grams: f64, form: &Form, balance: Balance) -> bool {
    balance.step_g / 2.0 > tolerance(form) * grams * (1.0 + 1e-9)
}

/// Least grams of this form that the balance weighs within tolerance.
pub fn least_weighable_g(form: &Form, balance: Balance) -> f64 {
    balance.step_g / 2.0 / tolerance(form)
}

/// A measured volume of a percent solution in place of a weighing.
#[derive(Debug, Clone, PartialEq)]
pub struct Dose {
    /// Strength of the percent solution, % w/v.
    pub strength_percent: f64,
    /// Volume to take, mL, rounded to what a syringe shows.
    pub millilitres: f64,
    /// Substance id of the solvent.
    pub solvent: String,
    /// How much of the solution to make, mL.
    pub make_ml: f64,
    /// Grams in it.
    pub make_g: f64,
    /// What to know when making it.
    pub note: Option<String>,
}

/// The dose that replaces weighing `grams` in a batch of `batch_ml`, if the substance keeps in solution and a measurable dose exists.
///
/// `solvent` is the batch's own where it is not water: a watery dose does not go into a glycol concentrate.
pub fn dose_for(
    grams: f64,
    form: &Form,
    balance: Balance,
    batch_ml: f64,
    solvent: Option<&str>,
) -> Option<Dose> {
    let keeps = form.parent.keeps_in_solution.as_ref()?;
    if solvent.is_some_and(|solvent| solvent != keeps.solvent) {
        return None;
    }
    let solubility = form.solubility_as_weighed(20.0).filter(|_| keeps.solvent == "water");
    let share = if keeps.solvent == "water" { LARGEST_SHARE } else { LARGEST_ORGANIC_SHARE };
    let mut strengths = keeps.percent.clone();
    strengths.sort_by(|left, right| right.total_cmp(left));
    for percent in strengths {
        if solubility.is_some_and(|limit| percent > limit * SOLUBILITY_SHARE) {
            continue;
        }
        let exact_ml = grams / percent * 100.0;
        if exact_ml * tolerance(form) < HALF_MARK_ML || exact_ml > batch_ml * share {
            continue;
        }
        let least = least_weighable_g(form, balance);
        let make_ml = STOCK_ML
            .into_iter()
            .find(|&stock| stock * percent / 100.0 >= least * (1.0 - 1e-9) && stock >= exact_ml)?;
        return Some(Dose {
            strength_percent: percent,
            millilitres: rounding::to_step(exact_ml, measuring_step_ml(exact_ml)),
            solvent: keeps.solvent.clone(),
            make_ml,
            make_g: make_ml * percent / 100.0,
            note: keeps.note.clone(),
        });
    }
    None
}

/// Step to which a volume is measured: syringe, pipette, cylinder, jug; common practice, no source.
pub fn measuring_step_ml(millilitres: f64) -> f64 {
    match millilitres {
        ml if ml < 2.0 => 0.05,
        ml if ml < 20.0 => 0.1,
        ml if ml < 100.0 => 0.5,
        ml if ml < 1000.0 => 1.0,
        ml if ml < 5000.0 => 5.0,
        _ => 10.0,
    }
}
