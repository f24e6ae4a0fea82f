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
