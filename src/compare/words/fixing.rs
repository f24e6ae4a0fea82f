//! Acid and fixing agent.

use super::developing::LEAST_AMMONIUM_MOL;
use super::{PairDifferences, Topic};
use crate::compare::Baths;
use crate::formula::Kind;
use crate::substance::Role;
use crate::substance::molar::HYPO_G_PER_MOL;

/// Acid left after alkali from which a fixer is acid, mol/L.
const LEAST_ACID_MOL: f64 = 0.005;

/// pH below which a bath is called acid.
const ACID_PH: f64 = 6.5;

/// Acid baths that are no developers: how much acid.
pub(super) fn acid(teller: &mut PairDifferences<'_>) {
    let (own, other) = (teller.own.brought.moles("acid"), teller.other.brought.moles("acid"));
    teller.both_have(Topic::OtherChemicals, (own, other), "acid", "mol/L that an alkali takes up");
}

/// By the predicted pH, else by the acid left after alkali.
fn is_acid(baths: &Baths) -> bool {
    match baths.ph.as_slice() {
        [Some(ph)] => ph.value < ACID_PH,
        _ => baths.brought.moles("acid") > LEAST_ACID_MOL,
    }
}

pub(super) fn fixing(teller: &mut PairDifferences<'_>, kinds: [Kind; 2]) {
    if !kinds.contains(&Kind::Fixer) {
        return;
    }
    let grams = |baths: &Baths| baths.brought.moles("thiosulfate") * HYPO_G_PER_MOL;
    let (own, other) = (grams(teller.own), grams(teller.other));
    teller.both_have(Topic::Fixing, (own, other), "thiosulfate", "g/L, counted as crystals");
    let has = |baths: &Baths, species: &str, least: f64| baths.brought.moles(species) > least;
    match (has(teller.own, "ammonium", LEAST_AMMONIUM_MOL), has(teller.other, "ammonium", LEAST_AMMONIUM_MOL))
    {
        (true, false) => teller.tell(Topic::Fixing, "with ammonium", &teller.facts.told.ammonium),
        (false, true) => teller.tell(Topic::Fixing, "without ammonium", &teller.facts.told.ammonium),
        _ => {}
    }
    match (is_acid(teller.own), is_acid(teller.other)) {
        (true, false) => teller.tell(Topic::Fixing, "acid", &teller.facts.told.acid_fixer),
        (false, true) => teller.tell(Topic::Fixing, "not acid", &teller.facts.told.no_acid_fixer),
        _ => {}
    }
    let hardens = |baths: &Baths| {
        baths
            .compositions
            .iter()
            .flat_map(|composition| &composition.components)
            .any(|own| own.role == Some(Role::Hardener))
    };
    match (hardens(teller.own), hardens(teller.other)) {
        (true, false) => teller.tell(Topic::Fixing, "hardens", &teller.facts.told.hardener),
        (false, true) => teller.tell(Topic::Fixing, "does not harden", &teller.facts.told.hardener),
        _ => {}
    }
}
