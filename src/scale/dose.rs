//! Small amounts: when a balance cannot weigh them well enough, a dose of a percent solution, for substances that keep in one.
//!
//! An amount is too small where half a balance step over it is more than 5 % (2 % for restrainers, antifoggants, thiocyanate): judged
//! by the resolution, not by the luck of rounding. Common practice, no source.

use crate::quantity::{USUAL_C, rounding};
use crate::substance::{Class, Form, Role};

/// Usual weighing tolerance as a fraction; common practice, no source.
const TOLERANCE: f64 = 0.05;
/// Tolerance for restrainers, antifoggants and silver solvents, which act strongly in small amounts; common practice, no source. Up to
/// [`TOLERANCE`] they are weighed all the same where a percent solution would not be measured much better.
const TIGHT_TOLERANCE: f64 = 0.02;
/// Half a mark of the syringe or pipette with which a dose is measured, mL.
const HALF_MARK_ML: f64 = 0.05;
/// Largest volume that a small syringe measures to its half mark, mL, and how far off a large syringe and a cylinder are, mL; common
/// practice, no source.
const SMALL_SYRINGE_ML: f64 = 5.0;
const LARGE_SYRINGE_ERROR_ML: f64 = 0.25;
const CYLINDER_ERROR_ML: f64 = 0.5;
/// A dose is worth its bottle where it is off by so much of the balance's error at most; common practice, no source.
const WORTH_A_DOSE: f64 = 0.5;
/// Bottle sizes in which a percent solution is made, mL; common practice, no source.
const STOCK_ML: [f64; 6] = [50.0, 100.0, 200.0, 250.0, 500.0, 1000.0];
/// Largest share of the batch that a dose may be; common practice, no source.
const LARGEST_SHARE: f64 = 0.25;
/// The same for a dose in glycol or alcohol, which is no part of the recipe; common practice, no source.
const LARGEST_ORGANIC_SHARE: f64 = 0.025;
/// Share of the solubility at 20 °C that a percent solution may use; common practice, no source.
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
        Some(rounding::down_to_step(self.max_g?, self.step_g)).filter(|grams| *grams > 0.0)
    }
}

/// What a form is that acts strongly in small amounts; none of those that do not.
pub fn acts_in_traces(form: &Form) -> Option<&'static str> {
    if form.has_role(Role::Restrainer) {
        Some("a restrainer")
    } else if form.has_role(Role::Antifoggant) {
        Some("an antifoggant")
    } else if form.is_class(&Class::Thiocyanate) {
        Some("a silver solvent")
    } else {
        None
    }
}

/// How far off a weighing of this form may be, as a fraction.
pub fn tolerance(form: &Form) -> f64 {
    if acts_in_traces(form).is_some() { TIGHT_TOLERANCE } else { TOLERANCE }
}

/// How far off a weighing may be by the balance's resolution, half a step over the amount, as a fraction.
pub fn uncertainty(grams: f64, balance: Balance) -> f64 {
    balance.step_g / 2.0 / grams
}

/// Whether half a step is more than the tolerance of the amount: judged by the resolution, not by the luck of rounding.
pub fn is_too_small(grams: f64, form: &Form, balance: Balance) -> bool {
    rounding::exceeds(uncertainty(grams, balance), tolerance(form))
}

/// Least grams of this form that the balance weighs within tolerance.
pub fn least_weighable_g(form: &Form, balance: Balance) -> f64 {
    balance.step_g / 2.0 / tolerance(form)
}

/// Least millilitres of this form that a syringe or pipette measures within tolerance.
pub fn least_measurable_ml(form: &Form) -> f64 {
    HALF_MARK_ML / tolerance(form)
}

/// The volume from which `grams` in a batch of `batch_ml` can be weighed, or measured as a percent solution.
pub fn least_batch_ml(
    grams: f64,
    form: &Form,
    balance: Balance,
    batch_ml: f64,
    solvent: Option<&str>,
) -> f64 {
    let weighed_ml = batch_ml * least_weighable_g(form, balance) / grams;
    let strengths = form.parent.keeps_in_solution.iter().flat_map(|keeps| &keeps.percent);
    strengths
        .map(|percent| batch_ml * least_measurable_ml(form) * percent / 100.0 / grams)
        .filter(|&least_ml| dose_for(grams * least_ml / batch_ml, form, balance, least_ml, solvent).is_some())
        .fold(weighed_ml, f64::min)
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
    let (percent, exact_ml) = strongest_dose(grams, form, batch_ml, solvent)?;
    if !is_worth_a_dose(grams, exact_ml, balance) {
        return None;
    }
    let keeps = form.parent.keeps_in_solution.as_ref()?;
    stock_ml(percent, exact_ml, least_weighable_g(form, balance))?;
    Some(Dose {
        strength_percent: percent,
        millilitres: rounding::to_step(exact_ml, measuring_step_ml(exact_ml)),
        solvent: keeps.solvent.clone(),
        note: keeps.note.clone(),
    })
}

/// Whether an amount that acts in traces is weighed about as well as a percent solution of it is measured, and within the usual tolerance.
pub fn weighs_as_well(
    grams: f64,
    form: &Form,
    balance: Balance,
    batch_ml: f64,
    solvent: Option<&str>,
) -> bool {
    !rounding::exceeds(uncertainty(grams, balance), TOLERANCE)
        && strongest_dose(grams, form, batch_ml, solvent)
            .is_some_and(|(_, exact_ml)| !is_worth_a_dose(grams, exact_ml, balance))
}

/// Whether the measure is so much better than the balance that a bottle of percent solution is worth it.
fn is_worth_a_dose(grams: f64, millilitres: f64, balance: Balance) -> bool {
    let measured = measuring_error_ml(millilitres) / millilitres;
    !rounding::exceeds(measured, WORTH_A_DOSE * uncertainty(grams, balance))
}

/// How far off a volume may be, mL: a small syringe, a large one or a pipette, a cylinder.
pub fn measuring_error_ml(millilitres: f64) -> f64 {
    match millilitres {
        ml if ml <= SMALL_SYRINGE_ML => HALF_MARK_ML,
        ml if ml < PIPETTE_BELOW_ML => LARGE_SYRINGE_ERROR_ML,
        _ => CYLINDER_ERROR_ML,
    }
}

/// The strongest percent solution of which a measurable dose has room in the batch, and that dose, mL.
fn strongest_dose(grams: f64, form: &Form, batch_ml: f64, solvent: Option<&str>) -> Option<(f64, f64)> {
    let keeps = form.parent.keeps_in_solution.as_ref()?;
    if solvent.is_some_and(|solvent| solvent != keeps.solvent) {
        return None;
    }
    let solubility = form.solubility_as_weighed(USUAL_C).filter(|_| keeps.solvent == "water");
    let share = if keeps.solvent == "water" { LARGEST_SHARE } else { LARGEST_ORGANIC_SHARE };
    let mut strengths = keeps.percent.clone();
    strengths.sort_by(|left, right| right.total_cmp(left));
    for percent in strengths {
        if solubility.is_some_and(|limit| rounding::exceeds(percent, limit * SOLUBILITY_SHARE)) {
            continue;
        }
        let exact_ml = grams / percent * 100.0;
        if rounding::exceeds(least_measurable_ml(form), exact_ml)
            || rounding::exceeds(exact_ml, batch_ml * share)
        {
            continue;
        }
        return Some((percent, exact_ml));
    }
    None
}

/// The bottle of a percent solution that holds what is needed of it and takes at least so much to make.
pub fn stock_ml(percent: f64, needed_ml: f64, least: f64) -> Option<f64> {
    let is_too_small =
        |stock: f64| rounding::exceeds(needed_ml, stock) || rounding::exceeds(least, stock * percent / 100.0);
    STOCK_ML.into_iter().find(|&stock| !is_too_small(stock))
}

/// Below this a volume is measured with a syringe or pipette, mL; common practice, no source.
pub const PIPETTE_BELOW_ML: f64 = 20.0;

/// Step to which a volume is measured: syringe, pipette, cylinder, jug; common practice, no source.
pub fn measuring_step_ml(millilitres: f64) -> f64 {
    match millilitres {
        ml if ml < 2.0 => 0.05,
        ml if ml < PIPETTE_BELOW_ML => 0.1,
        ml if ml < 100.0 => 0.5,
        ml if ml < 1000.0 => 1.0,
        ml if ml < 5000.0 => 5.0,
        _ => 10.0,
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;
    use crate::substance::Substance;

    fn shipped(id: &str) -> Arc<Form> {
        Library::shipped().form(id).unwrap()
    }

    fn dose(grams: f64, form: &Form, batch_ml: f64) -> Option<(f64, f64)> {
        let dose = dose_for(grams, form, Balance::default(), batch_ml, None)?;
        Some((dose.strength_percent, dose.millilitres))
    }

    #[test]
    fn what_acts_in_traces_is_weighed_to_a_tighter_tolerance() {
        // Half of a step of 0.1 g is 5 % of 1 g and 2 % of 2.5 g.
        for (id, least) in [("metol", 1.0), ("potassium-bromide", 2.5), ("potassium-thiocyanate", 2.5)] {
            let form = shipped(id);
            let too_small = |grams| is_too_small(grams, &form, Balance::default());
            assert_eq!((too_small(least * 0.99), too_small(least)), (true, false), "{id}");
        }
    }

    #[test]
    fn a_dose_is_measurable_and_leaves_the_batch_its_room() {
        let bromide = shipped("potassium-bromide");
        // The strongest whose dose can be measured: half a mark of 0.05 mL is 2 % of 2.5 mL.
        assert_eq!(dose(0.5, &bromide, 1000.0), Some((10.0, 5.0)));
        assert_eq!(dose(0.2, &bromide, 1000.0), Some((1.0, 20.0)));
        assert_eq!(dose(0.2, &bromide, 79.0), None, "20 mL are more than a quarter of it");
        // Of glycol a fortieth at most.
        let phenidone = shipped("phenidone");
        assert_eq!(dose(0.2, &phenidone, 1000.0), Some((1.0, 20.0)));
        assert_eq!(dose(0.2, &phenidone, 799.0), None);
        let into_glycol = dose_for(0.5, &bromide, Balance::default(), 1000.0, Some("propylene-glycol"));
        assert_eq!(into_glycol, None, "a watery dose does not go into glycol");
    }

    #[test]
    fn a_restrainer_is_weighed_where_the_cylinder_is_no_better() {
        let bromide = shipped("potassium-bromide");
        let balance = Balance::default();
        let dosed = |grams| dose_for(grams, &bromide, balance, 1000.0, None).map(|own| own.millilitres);
        let weighed = |grams| weighs_as_well(grams, &bromide, balance, 1000.0, None);
        // 2 g on 0.1 g: half a step is 2.5 %; 20 mL of 10 % in a cylinder, half a millilitre off, are 2.5 % too.
        assert_eq!((dosed(2.0), weighed(2.0)), (None, true));
        // 1 g: 5 % against 2.5 % of 10 mL in a syringe.
        assert_eq!((dosed(1.0), weighed(1.0)), (Some(10.0), false));
        assert_eq!((dosed(0.5), weighed(0.5)), (Some(5.0), false));
        // What keeps in no solution is never called well weighed.
        assert!(!weighs_as_well(0.9, &shipped("metol"), balance, 1000.0, None));
    }

    #[test]
    fn the_least_batch_is_that_of_the_balance_or_of_a_percent_solution() {
        let balance = Balance::default();
        // 2 g/L of metol: 1 g from 500 mL on. 0.5 g/L of bromide: 2.5 mL of 1 % hold 0.025 g, from 50 mL on.
        for (id, per_ml, least) in [("metol", 0.002, 500.0), ("potassium-bromide", 0.0005, 50.0)] {
            let form = shipped(id);
            let found = least_batch_ml(per_ml, &form, balance, 1.0, None);
            assert!((found - least).abs() < 1e-6, "{id}: {found}");
            let serves = |ml: f64| {
                !is_too_small(per_ml * ml, &form, balance)
                    || dose_for(per_ml * ml, &form, balance, ml, None).is_some()
            };
            assert!(serves(least) && !serves(least * 0.99), "{id}");
        }
    }

    #[test]
    fn a_percent_solution_stays_well_below_the_solubility() {
        let library = Library::shipped();
        let strength = |limit: f64| {
            let text = format!(
                "format = 1\nname = \"trace\"\nroles = [\"preservative\"]\n\
                 keeps_in_solution = {{ solvent = \"water\", percent = [1, 10], source = \"memory\" }}\n\
                 [[forms]]\nid = \"trace\"\nname = \"trace\"\n\
                 solubility = [{{ primary = true, basis = \"as-weighed\", points = [[20, {limit}]], source = \"memory\" }}]\n"
            );
            let read = Substance::parse(&text, "trace", "trace.toml", library.weights()).unwrap();
            dose(0.5, &read.forms[0], 1000.0).map(|(strength, _)| strength)
        };
        // 10 % is four fifths of 12.5 g in 100 g of water.
        assert_eq!((strength(12.6), strength(12.4), strength(1.2)), (Some(10.0), Some(1.0), None));
    }

    #[test]
    fn a_balance_is_loaded_in_whole_steps_and_a_volume_measured_with_what_holds_it() {
        let fullest = |step_g, max_g| Balance { step_g, max_g: Some(max_g) }.fullest_g();
        assert_eq!(fullest(0.1, 200.0).map(f64::round), Some(200.0));
        assert!(fullest(0.3, 1.0).is_some_and(|grams| (grams - 0.9).abs() < 1e-9));
        assert_eq!(fullest(500.0, 200.0), None, "less than one step");
        // Syringe, pipette, cylinders, jug; common practice, no source.
        let steps = [1.0, 10.0, 50.0, 500.0, 3000.0, 8000.0].map(measuring_step_ml);
        assert_eq!(steps.map(|step| format!("{step}")), ["0.05", "0.1", "0.5", "1", "5", "10"]);
    }

    #[test]
    fn a_volume_is_read_to_half_a_mark_of_what_measures_it() {
        // A syringe of 5 mL to half of its 0.1 mL, a large one or a pipette to a quarter, a cylinder to half a millilitre; common practice,
        // no source.
        for (ml, error_ml) in [(0.5, 0.05), (5.0, 0.05), (5.1, 0.25), (19.9, 0.25), (20.0, 0.5), (100.0, 0.5)]
        {
            assert!((measuring_error_ml(ml) - error_ml).abs() < 1e-12, "{ml} mL");
        }
        // The mark that one sees on each, up to and from where the next is taken.
        for (ml, step_ml) in [
            (1.9, 0.05),
            (2.0, 0.1),
            (19.9, 0.1),
            (20.0, 0.5),
            (99.0, 0.5),
            (100.0, 1.0),
            (999.0, 1.0),
            (1000.0, 5.0),
            (4999.0, 5.0),
            (5000.0, 10.0),
        ] {
            assert!((measuring_step_ml(ml) - step_ml).abs() < 1e-12, "{ml} mL");
        }
    }

    #[test]
    fn a_percent_solution_is_made_in_the_least_bottle_that_holds_it_and_takes_what_can_be_weighed() {
        // Bottles of 50, 100, 200, 250, 500 mL and a litre are what one buys; common practice, no source.
        for (needed_ml, bottle_ml) in [
            (50.0, Some(50.0)),
            (50.1, Some(100.0)),
            (100.1, Some(200.0)),
            (200.1, Some(250.0)),
            (250.1, Some(500.0)),
            (500.1, Some(1000.0)),
            (1000.0, Some(1000.0)),
            (1000.1, None),
        ] {
            assert_eq!(stock_ml(10.0, needed_ml, 0.0), bottle_ml, "{needed_ml} mL");
        }
        // 1 g of a 1 % solution is in 100 mL.
        for (least_g, bottle_ml) in
            [(1.0, Some(100.0)), (1.01, Some(200.0)), (10.0, Some(1000.0)), (10.1, None)]
        {
            assert_eq!(stock_ml(1.0, 5.0, least_g), bottle_ml, "{least_g} g");
        }
    }

    #[test]
    fn a_balance_carries_no_more_than_whole_steps_of_its_load() {
        let fullest = |step_g, max_g| Balance { step_g, max_g: Some(max_g) }.fullest_g();
        for (step_g, max_g, most_g) in
            [(0.1, 20.0, 20.0), (0.1, 0.7, 0.7), (0.5, 1.9, 1.5), (0.1, 0.1, 0.1), (0.1, 0.14, 0.1)]
        {
            assert!(
                fullest(step_g, max_g).is_some_and(|most| (most - most_g).abs() < 1e-9),
                "{max_g} by {step_g}"
            );
        }
        assert_eq!(Balance { step_g: 0.1, max_g: None }.fullest_g(), None, "load not known");
    }

    #[test]
    fn a_dose_is_worth_its_bottle_where_it_halves_the_error() {
        // 0.05 g of 2 g is 2.5 %, 0.5 mL of 40 mL 1.25 %: half as far off is worth the bottle, 39 mL are not.
        let balance = Balance::default();
        assert!(is_worth_a_dose(2.0, 40.0, balance) && !is_worth_a_dose(2.0, 39.0, balance));
        // 1 g of bromide by 0.1 g is 5 % off, the most that is weighed at all; less is not called as good.
        let bromide = shipped("potassium-bromide");
        let coarse =
            |grams, step_g| weighs_as_well(grams, &bromide, Balance { step_g, max_g: None }, 1000.0, None);
        assert!(coarse(2.0, 0.1) && coarse(2.0, 0.09));
        assert!(!coarse(20.0, 2.1), "half of 2.1 g is more than 5 % of 20 g");
        assert!(coarse(20.0, 0.1));
    }

    #[test]
    fn a_dose_leaves_three_quarters_of_the_batch_and_of_glycol_thirty_nine_fortieths() {
        let (bromide, phenidone) = (shipped("potassium-bromide"), shipped("phenidone"));
        // 20 mL of 1 %: a quarter of 80 mL, a fortieth of 800 mL.
        assert!(dose(0.2, &bromide, 80.0).is_some() && dose(0.2, &bromide, 79.0).is_none());
        assert!(dose(0.2, &phenidone, 800.0).is_some() && dose(0.2, &phenidone, 799.0).is_none());
        // 2.5 mL is the least that is measured to 2 %.
        assert_eq!(dose(0.25, &bromide, 1000.0).map(|own| own.0), Some(10.0));
        assert_eq!(dose(0.249, &bromide, 1000.0).map(|own| own.0), Some(1.0));
    }

    #[test]
    fn the_least_batch_of_what_is_dosed_counts_its_share_of_the_batch() {
        // 0.1 g/L of bromide: 2.5 mL of a 1 % solution hold 0.025 g, from 250 mL on; asked of a litre or of ten the batch is the same.
        let (bromide, balance) = (shipped("potassium-bromide"), Balance::default());
        for batch_ml in [100.0, 1000.0, 10_000.0] {
            let found = least_batch_ml(0.0001 * batch_ml, &bromide, balance, batch_ml, None);
            assert!((found - 250.0).abs() < 1e-6, "{batch_ml}: {found}");
        }
        // Into glycol no watery dose goes: weighed from 2.5 g on, that is 25 L.
        let weighed = least_batch_ml(0.1, &bromide, balance, 1000.0, Some("propylene-glycol"));
        assert!((weighed - 25_000.0).abs() < 1e-6, "{weighed}");
    }
}
