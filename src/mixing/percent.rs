//! Whether a percent solution can be made as asked.
//!
//! A percentage of a solid without a basis is taken as w/v, as the trade means it, and the answer says so; a liquid must say which.

use super::Objection;
use crate::predict::heating::{PORTIONS_ABOVE_C, REFUSED_ABOVE_C, in_portions, peak_of_dissolving};
use crate::predict::margin::bounds_per_100_g;
use crate::quantity::rounding::{show_short, show_significant};
use crate::quantity::{Strength, StrengthBasis, USUAL_C};
use crate::safety::Severity;
use crate::solution::Equilibria;
use crate::substance::chemical_formula::{AtomicWeights, ChemicalFormula};
use crate::substance::{Form, Role, State};

/// Less water than this in 100 mL is none, g.
const LEAST_WATER_G: f64 = 0.5;

/// What is said of the making of a percent solution.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Making {
    /// Why it cannot be made so.
    pub objections: Vec<Objection>,
    /// What to know before.
    pub cautions: Vec<(Severity, String)>,
}

/// Judges a percent solution of a form, of so much of a product of an assay, in water; how hot it gets is told by its mixing sheet, and by
/// [`heat_of_making`] where there is none.
pub fn making(weights: &AtomicWeights, form: &Form, strength: Strength, assay: f64) -> Making {
    let mut making = Making::default();
    let place = format!("a {strength} solution of {}", form.name);
    let mut object = |code, text: String, fix: &str| {
        making.objections.push(Objection::not_this_way(code, place.clone(), text, fix));
    };
    let is_solid = form.state == State::Solid;
    if let Some(keeps) = form.parent.keeps_in_solution.as_ref().filter(|keeps| keeps.solvent != "water") {
        let fix = format!("make it with {}", keeps.solvent.replace('-', " "));
        object("other-solvent", "it hardly dissolves in water, or does not keep in it".to_owned(), &fix);
    }
    if form.parent.id == "water" {
        object("is-water", "water is what it is made with".to_owned(), "name the chemical");
    }
    let is_element =
        |formula: &String| ChemicalFormula::parse(formula).is_ok_and(|formula| formula.atoms().len() == 1);
    if is_solid && form.chemical_formula.as_ref().is_some_and(is_element) {
        let text = "an element does not dissolve in water by itself".to_owned();
        object("does-not-dissolve", text, "dissolve it as its formula does");
    }
    let (product_g, water_g) = in_a_hundred(form, strength, assay);
    if water_g < LEAST_WATER_G {
        let text = "there is no room left for water".to_owned();
        object("no-water", text, "ask for a weaker one, or a product of a higher assay");
        return making;
    }
    let (least, most) = if is_solid { bounds_per_100_g(form, weights, USUAL_C) } else { (None, None) };
    let per_100_g = product_g / water_g * 100.0;
    let is_too_much = most.filter(|most| per_100_g > *most);
    if let Some(most) = is_too_much {
        let text = format!(
            "it is more than dissolves: at most {} g in 100 g of water at {} °C",
            show_significant(most),
            show_short(USUAL_C, 0)
        );
        object("more-than-dissolves", text, "ask for a weaker one");
    }
    if let Some(least) = least.filter(|least| per_100_g > *least && is_too_much.is_none()) {
        making.cautions.push((
            Severity::Warning,
            format!(
                "Not all of it may stay dissolved: {} g in 100 g of water certainly do at {} °C.",
                show_significant(least),
                show_short(USUAL_C, 0)
            ),
        ));
    }
    if form.parent.keeps_in_solution.is_none() && form.has_role(Role::DevelopingAgent) {
        // Common practice, no source.
        making.cautions.push((
            Severity::Warning,
            "It spoils in water within hours to days: make it for the day, with a little sulfite where the formula has it.".to_owned(),
        ));
    }
    making
}

/// Grams of the product in 100 mL (or 100 g) of a percent solution, and of the water that is left for it.
fn in_a_hundred(form: &Form, strength: Strength, assay: f64) -> (f64, f64) {
    let product_g = match strength.basis() {
        StrengthBasis::WeightInVolume | StrengthBasis::WeightInWeight => strength.percent() / assay,
        StrengthBasis::VolumeInVolume => strength.percent() * form.density_g_per_ml.unwrap_or(1.0),
    };
    let room = match (strength.basis(), form.state) {
        (StrengthBasis::WeightInWeight, _) => product_g,
        (_, State::Solid) => form.solid_room_ml(product_g),
        _ => product_g / form.density_g_per_ml.unwrap_or(1.0),
    };
    (product_g, 100.0 - room)
}

/// How hot the making gets, all at once in water of the tap; it scales with the strength alone.
pub fn heat_of_making(equilibria: &Equilibria, form: &Form, strength: Strength, assay: f64) -> Making {
    let mut making = Making::default();
    let (product_g, water_g) = in_a_hundred(form, strength, assay);
    let Some(peak) = peak_of_dissolving(equilibria, form, (product_g, assay), water_g.max(1.0)) else {
        return making;
    };
    if peak > REFUSED_ABOVE_C {
        let place = format!("a {strength} solution of {}", form.name);
        let fix = "take a weaker one: half the strength gives about half the heat".to_owned();
        let objection = Objection::too_hot(&place, &form.name, "the vessel", peak);
        making.objections.push(Objection { fix, ..objection });
    } else if peak > PORTIONS_ABOVE_C {
        making.cautions.push((Severity::Danger, in_portions(peak)));
    }
    making
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;

    #[test]
    fn an_element_does_not_dissolve_and_what_has_no_formula_is_no_element() {
        let library = Library::shipped();
        let is_element = |id: &str| {
            let form = library.form(id).unwrap();
            let strength: Strength = "1% w/v".parse().unwrap();
            let made = making(library.weights(), &form, strength, 1.0);
            (
                form.chemical_formula.is_some(),
                made.objections.iter().any(|own| own.code == "does-not-dissolve"),
            )
        };
        // Selenium is an element; gelatin is a mixture of proteins without a formula; borax is a salt.
        assert_eq!(is_element("selenium"), (true, true));
        assert_eq!(is_element("gelatin"), (false, false));
        assert_eq!(is_element("borax-decahydrate"), (true, false));
    }

    #[test]
    fn a_hot_solution_is_cautioned_in_the_words_of_the_sheet() {
        let library = Library::shipped();
        let equilibria = Equilibria::parse(library.table("equilibria.toml").unwrap()).unwrap();
        let form = library.form("sodium-hydroxide").unwrap();
        // 20 g in 100 mL: 44 kJ/mol (CRC Handbook, in its file) over some 95 g of water are about 55 K.
        let heat = heat_of_making(&equilibria, &form, "20% w/v".parse().unwrap(), 1.0);
        let (severity, text) = &heat.cautions[0];
        assert_eq!(*severity, Severity::Danger);
        assert!(text.starts_with("Added at once it would reach") && text.contains("ice water"), "{text}");
    }

    #[test]
    fn a_hundred_millilitres_hold_the_product_and_the_water_left_for_it() {
        let library = Library::shipped();
        let held = |id: &str, strength: &str, assay| {
            in_a_hundred(&library.form(id).unwrap(), strength.parse().unwrap(), assay)
        };
        // 20 g of a bromide of half strength; as crystals of 2.74 g/mL (CRC Handbook, in its file) they take 7.3 mL.
        let (grams, water) = held("potassium-bromide", "10% w/v", 0.5);
        assert!(
            (grams - 20.0).abs() < 1e-9 && (water - (100.0 - 20.0 / 2.74)).abs() < 1e-6,
            "{grams} {water}"
        );
        let (grams, water) = held("potassium-bromide", "10% w/w", 0.5);
        assert!((grams - 20.0).abs() < 1e-9 && (water - 80.0).abs() < 1e-9, "{grams} {water}");
        // 10 mL of acetic acid of 1.0446 g/mL.
        let (grams, water) = held("acetic-acid", "10% v/v", 1.0);
        assert!((grams - 10.446).abs() < 1e-6 && (water - 90.0).abs() < 1e-6, "{grams} {water}");
    }

    #[test]
    fn a_solution_that_leaves_no_water_or_does_not_dissolve_cannot_be_made() {
        let library = Library::shipped();
        let codes = |id: &str, strength: &str, assay| -> Vec<&'static str> {
            let made =
                making(library.weights(), &library.form(id).unwrap(), strength.parse().unwrap(), assay);
            made.objections.iter().map(|own| own.code).collect()
        };
        // 65.02 g of bromide dissolve in 100 g of water at 20 °C (CRC Handbook, in its file): 39.4 % by weight.
        assert!(codes("potassium-bromide", "35% w/w", 1.0).is_empty());
        assert_eq!(codes("potassium-bromide", "45% w/w", 1.0), ["more-than-dissolves"]);
        assert_eq!(codes("potassium-bromide", "50% w/w", 0.5), ["no-water"]);
        assert!(codes("acetic-acid", "10% v/v", 1.0).is_empty());
    }
}
