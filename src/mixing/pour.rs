//! Something poured into a solution, or solutions poured together.

use super::Objection;
use super::review::unsafe_solvent;
use crate::safety::{Caution, Filling, SafetyData, Severity};
use crate::substance::Class;
use crate::vessel::Vessel;

/// What is said of a vessel into which something is poured.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pouring {
    /// Why it must not be done.
    pub objections: Vec<Objection>,
    /// What to know before, the gravest first.
    pub cautions: Vec<Caution>,
    /// What the pH brings.
    pub warnings: Vec<&'static str>,
}

/// Judges chemicals put to a solution to bring it to a pH: what the tables refuse, any danger that only the addition brings, and a pH that
/// something in it does not bear. An addition is never what a formula works by, so a danger is reason enough to take another.
pub fn add(
    safety: &SafetyData,
    place: &str,
    (before, ph_before): (&Vessel, f64),
    (after, ph_after): (&Vessel, f64),
) -> Pouring {
    let mut pouring = pour(safety, place, Some(before), after, Filling::FromChemicals, 1.0);
    let (dangers, cautions): (Vec<Caution>, Vec<Caution>) = pouring
        .cautions
        .into_iter()
        .partition(|caution| caution.severity == Severity::Danger && caution.groups.len() > 1);
    pouring.cautions = cautions;
    pouring.objections.extend(dangers.iter().map(|caution| {
        let fix = "take another acid or alkali";
        Objection::not_this_way("dangerous-addition", place, &caution.text, fix)
    }));
    let (objections, warnings) = beyond_ph(place, after, ph_before, ph_after);
    pouring.objections.extend(objections);
    pouring.warnings.extend(warnings);
    pouring
}

/// A pH that a class of chemicals does not bear: beyond it the solution spoils or fumes. All common practice, no source.
struct PhLimit {
    class: Class,
    below: Option<f64>,
    above: Option<f64>,
    /// Whether it is refused; else it is warned of.
    refused: Option<&'static str>,
    text: &'static str,
}

const PH_LIMITS: [PhLimit; 6] = [
    PhLimit {
        class: Class::Sulfide,
        below: Some(10.0),
        above: None,
        refused: Some("frees-hydrogen-sulfide"),
        text: "sulfide this little alkaline gives off hydrogen sulfide: it can kill, and after a while you no longer smell it",
    },
    PhLimit {
        class: Class::Thiosulfate,
        below: Some(4.0),
        above: None,
        refused: Some("throws-sulfur"),
        text: "thiosulfate (hypo) this acid breaks up: sulfur falls out and sulfur dioxide comes off",
    },
    PhLimit {
        class: Class::Sulfite,
        below: Some(6.0),
        above: None,
        refused: None,
        text: "Sulfite this acid gives off sulfur dioxide: add the acid slowly and cool, air the room; not for people with asthma.",
    },
    PhLimit {
        class: Class::Selenium,
        below: Some(7.0),
        above: None,
        refused: Some("frees-hydrogen-selenide"),
        text: "selenium this acid falls out, and hydrogen selenide can come off, more poisonous than hydrogen sulfide",
    },
    PhLimit {
        class: Class::AluminiumSalt,
        below: None,
        above: Some(6.5),
        refused: Some("alum-falls-out"),
        text: "alum falls out as a white sludge when it is this little acid, and no longer hardens",
    },
    PhLimit {
        class: Class::Ammonium,
        below: None,
        above: Some(8.0),
        refused: None,
        text: "Ammonium this alkaline gives off ammonia, which bites eyes and lungs: extraction on, or choose a lower pH.",
    },
];

/// What the way to a pH brings beyond what the solution bears: why not, or what to know.
fn beyond_ph(place: &str, vessel: &Vessel, before: f64, after: f64) -> (Vec<Objection>, Vec<&'static str>) {
    let (mut objections, mut cautions) = (Vec::new(), Vec::new());
    for limit in &PH_LIMITS {
        let is_below = limit.below.is_some_and(|below| after < below && after < before);
        let is_above = limit.above.is_some_and(|above| after > above && after > before);
        let is_there = vessel.iter().any(|content| content.form.is_class(&limit.class));
        if !is_there || !is_below && !is_above {
            continue;
        }
        match limit.refused {
            Some(code) => {
                let fix = "ask for a pH that it bears, or leave it unchanged";
                objections.push(Objection::not_this_way(code, place, limit.text, fix));
            }
            None => cautions.push(limit.text),
        }
    }
    (objections, cautions)
}

/// Judges the vessel as it is then, by chemicals as bought or by ready solutions; what was so `before` is not told again.
pub fn pour(
    safety: &SafetyData,
    place: &str,
    before: Option<&Vessel>,
    after: &Vessel,
    filling: Filling,
    litres: f64,
) -> Pouring {
    let mut pouring = Pouring::default();
    pouring.objections.extend(after.solvent().and_then(|solvent| unsafe_solvent(place, &solvent.form)));
    match safety.while_mixing(after, litres, filling) {
        Ok(cautions) => pouring.cautions = cautions,
        Err(refusal) => pouring.objections.push(Objection::never(place, &refusal)),
    }
    let known =
        before.and_then(|before| safety.while_mixing(before, litres, filling).ok()).unwrap_or_default();
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
        // All common practice, no source.
        for (id, limit, down, refused) in [
            ("sodium-sulfide-nonahydrate", 10.0, true, true),
            ("sodium-thiosulfate-pentahydrate", 4.0, true, true),
            ("sodium-sulfite-anhydrous", 6.0, true, false),
            ("selenium", 7.0, true, true),
            ("potassium-alum-dodecahydrate", 6.5, false, true),
            ("ammonium-chloride", 8.0, false, false),
        ] {
            let step = if down { -0.1 } else { 0.1 };
            let told = |before: f64, after: f64| {
                let (objections, warnings) =
                    beyond_ph("it", &vessel(&["sodium-chloride", id]), before, after);
                (!objections.is_empty(), !warnings.is_empty())
            };
            let is_told = (refused, !refused);
            assert_eq!(told(7.2 - 40.0 * step, limit), (false, false), "{id} bears its limit");
            assert_eq!(told(7.2 - 40.0 * step, limit + step), is_told, "{id} does not bear more");
            // What is beyond it already and is brought back, or stays, is not made worse.
            assert_eq!(told(limit + 3.0 * step, limit + step), (false, false), "{id} on the way back");
            assert_eq!(told(limit + step, limit + step), (false, false), "{id} as it is");
            assert_eq!(told(limit + step, limit + 2.0 * step), is_told, "{id} worse");
        }
        let (objections, warnings) = beyond_ph("it", &vessel(&["sodium-chloride"]), 12.0, 1.0);
        assert!(objections.is_empty() && warnings.is_empty(), "salt bears all");
    }

    #[test]
    fn only_what_the_addition_brings_is_told_and_a_danger_is_refused() {
        let library = Library::shipped();
        let data = SafetyData::shipped(&library);
        let told = |before: &[&str], after: &[&str]| {
            let pouring = add(&data, "it", (&vessel(before), 7.0), (&vessel(after), 7.0));
            (pouring.objections.len(), pouring.cautions.len())
        };
        let (hypo, bromide) = ("sodium-thiosulfate-pentahydrate", "potassium-bromide");
        assert_eq!(told(&[bromide], &[bromide]), (0, 0));
        // Formaldehyde with hydrochloric acid makes bis(chloromethyl) ether: refused, whoever was there first.
        assert!(told(&["formaldehyde-37"], &["formaldehyde-37", "hydrochloric-acid-37"]).0 > 0);
        // What was so before is not told again.
        let both = [hypo, "sulfuric-acid"];
        let poured = pour(&data, "it", Some(&vessel(&both)), &vessel(&both), Filling::FromChemicals, 1.0);
        let fresh = pour(&data, "it", None, &vessel(&both), Filling::FromChemicals, 1.0);
        assert!(poured.cautions.is_empty(), "{:?}", poured.cautions);
        assert!(fresh.cautions.len() + fresh.objections.len() > 0);
        assert!(
            fresh.cautions.iter().all(|own| own.only_above_c.is_none()),
            "what is poured together is not hot"
        );
    }
}
