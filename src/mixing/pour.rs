//! Something poured into a solution, or solutions poured together.

use super::Objection;
use super::solvent::unsafe_solvent;
use crate::safety::{Acidity, Caution, Filling, SafetyData, Severity};
use crate::vessel::Vessel;

/// What is said of a vessel into which something is poured.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pouring {
    /// Why it must not be done.
    pub objections: Vec<Objection>,
    /// What to know before, the gravest first.
    pub cautions: Vec<Caution>,
}

/// Judges chemicals put to a solution to bring it to a pH: what the tables refuse, and any danger that only the addition brings. An addition
/// is never what a formula works by, so a danger is reason enough to take another.
pub fn add(
    safety: &SafetyData,
    place: &str,
    before: &Vessel,
    after: &Vessel,
    ph: &dyn Fn(&Vessel) -> Option<Acidity>,
) -> Pouring {
    let mut pouring = pour(safety, place, Some(before), after, (Filling::FromChemicals, 1.0), ph);
    let (dangers, cautions): (Vec<Caution>, Vec<Caution>) = pouring
        .cautions
        .into_iter()
        .partition(|caution| caution.severity == Severity::Danger && caution.groups.len() > 1);
    pouring.cautions = cautions;
    pouring.objections.extend(dangers.iter().map(|caution| {
        let fix = "take another acid or alkali";
        Objection::not_this_way("dangerous-addition", place, &caution.text, fix)
    }));
    pouring
}

/// Judges the vessel as it is then, filled so with so many litres; `ph` tells how acid a vessel is where that is known. What was so `before`
/// is not told again.
pub fn pour(
    safety: &SafetyData,
    place: &str,
    before: Option<&Vessel>,
    after: &Vessel,
    (filling, litres): (Filling, f64),
    ph: &dyn Fn(&Vessel) -> Option<Acidity>,
) -> Pouring {
    let mut pouring = Pouring::default();
    pouring.objections.extend(after.solvent().and_then(|solvent| unsafe_solvent(place, &solvent.form)));
    let told = |vessel: &Vessel| safety.while_mixing_so_acid(vessel, litres, filling, ph(vessel));
    match told(after) {
        Ok(cautions) => pouring.cautions = cautions,
        Err(refusal) => pouring.objections.push(Objection::never(place, &refusal)),
    }
    let known = before.and_then(|before| told(before).ok()).unwrap_or_default();
    // What is poured together is not hot.
    let is_new = |caution: &Caution| known.iter().all(|own| own.id != caution.id);
    pouring.cautions.retain(|caution| caution.only_above_c.is_none() && is_new(caution));
    pouring
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;
    use crate::safety::SafetyData;
    use crate::vessel::Content;

    fn vessel(ids: &[&str]) -> Vessel {
        let library = Library::shipped();
        ids.iter().map(|id| Content::grams(&library.form(id).unwrap(), 50.0)).collect()
    }

    #[test]
    fn each_thing_bears_a_ph_down_or_up_to_its_limit() {
        let data = SafetyData::shipped(&Library::shipped());
        // All common practice, no source.
        for (id, row, bears, does_not) in [
            ("sodium-thiosulfate-pentahydrate", "hypo-this-acid", 4.0, 3.9),
            ("sodium-sulfite-anhydrous", "sulfite-this-acid", 6.0, 5.9),
            ("sodium-selenite", "frees-hydrogen-selenide", 7.0, 6.9),
            ("potassium-alum-dodecahydrate", "alum-falls-out", 6.4, 6.5),
        ] {
            let told = |ph: f64| {
                let known = |_: &Vessel| Some(Acidity::from(ph));
                let pouring = pour(&data, "it", None, &vessel(&[id]), (Filling::FromChemicals, 1.0), &known);
                pouring.objections.len() + pouring.cautions.iter().filter(|own| own.id == row).count()
            };
            assert_eq!(told(bears), 0, "{id} bears {bears}");
            assert_eq!(told(does_not), 1, "{id} does not bear {does_not}");
        }
    }

    #[test]
    fn only_what_the_addition_brings_is_told_and_a_danger_is_refused() {
        let library = Library::shipped();
        let data = SafetyData::shipped(&library);
        let neutral = |_: &Vessel| Some(Acidity::from(7.0));
        let told = |before: &[&str], after: &[&str]| {
            let pouring = add(&data, "it", &vessel(before), &vessel(after), &neutral);
            (pouring.objections.len(), pouring.cautions.len())
        };
        let (hypo, bromide) = ("sodium-thiosulfate-pentahydrate", "potassium-bromide");
        assert_eq!(told(&[bromide], &[bromide]), (0, 0));
        // Formaldehyde with hydrochloric acid makes bis(chloromethyl) ether: refused, whoever was there first.
        assert!(told(&["formaldehyde-37"], &["formaldehyde-37", "hydrochloric-acid-37"]).0 > 0);
        // What was so before is not told again.
        let both = [hypo, "sulfuric-acid"];
        let poured =
            pour(&data, "it", Some(&vessel(&both)), &vessel(&both), (Filling::FromChemicals, 1.0), &neutral);
        let fresh = pour(&data, "it", None, &vessel(&both), (Filling::FromChemicals, 1.0), &neutral);
        assert!(poured.cautions.is_empty(), "{:?}", poured.cautions);
        assert!(fresh.cautions.len() + fresh.objections.len() > 0);
        assert!(
            fresh.cautions.iter().all(|own| own.only_above_c.is_none()),
            "what is poured together is not hot"
        );
    }
}
