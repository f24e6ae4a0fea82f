//! What a bath holds once its chemicals are taken for what they bring, and acid and alkali are set against each other.

use std::collections::BTreeMap;

use super::Composition;
use super::chemistry::Chemistry;

/// g/mol by which a chemical without molar mass is counted: about that of a developing agent; judgement, no source.
pub(crate) const STAND_IN_G_PER_MOL: f64 = 200.0;

/// Species in mol/L.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct SpeciesAmounts(BTreeMap<String, f64>);

impl SpeciesAmounts {
    /// What one bath, or several met one after the other, bring together.
    ///
    /// Acid is set against hydroxide, carbonate (which it turns into bicarbonate), borate and triethanolamine, in this order; hydroxide that
    /// is left turns boric acid into metaborate and bicarbonate into carbonate.
    pub(crate) fn of(compositions: &[Composition], chemistry: &Chemistry) -> Self {
        let mut brought = Self::default();
        for component in compositions.iter().flat_map(|composition| &composition.components) {
            let counted = component.grams_per_litre.map(|grams| grams / STAND_IN_G_PER_MOL);
            let Some(moles) = component.moles_per_litre.or(counted) else { continue };
            for (species, count) in chemistry.brought_by(&component.parent.id) {
                brought.add(&species.name, moles * count);
            }
        }
        brought.neutralise();
        for species in chemistry.species().iter().filter(|species| !species.sum_of.is_empty()) {
            let sum = species.sum_of.iter().map(|name| brought.moles(name)).sum();
            brought.add(&species.name, sum);
        }
        brought
    }

    /// mol/L of a species.
    pub(crate) fn moles(&self, species: &str) -> f64 {
        self.0.get(species).copied().unwrap_or(0.0)
    }

    /// All species with their mol/L, by name.
    pub(crate) fn all(&self) -> impl Iterator<Item = (&str, f64)> {
        self.0.iter().map(|(name, moles)| (name.as_str(), *moles))
    }

    fn add(&mut self, name: &str, moles: f64) {
        if moles != 0.0 {
            *self.0.entry(name.to_owned()).or_default() += moles;
        }
    }

    fn neutralise(&mut self) {
        for alkali in ["hydroxide", "carbonate", "borate", "triethanolamine"] {
            let taken = self.moles(alkali).min(self.moles("acid"));
            self.add(alkali, -taken);
            self.add("acid", -taken);
            if alkali == "carbonate" {
                self.add("bicarbonate", taken);
            }
        }
        // Of the boron, each equivalent of alkali already holds one as metaborate.
        let boric = (self.moles("boron") - self.moles("borate")).max(0.0);
        let turned = self.moles("hydroxide").min(boric);
        self.add("hydroxide", -turned);
        self.add("borate", turned);
        let turned = self.moles("hydroxide").min(self.moles("bicarbonate"));
        self.add("hydroxide", -turned);
        self.add("bicarbonate", -turned);
        self.add("carbonate", turned);
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;
    use crate::composition::{Composer, typed};
    use crate::library::Library;

    fn brought(text: &str) -> SpeciesAmounts {
        let library = Library::shipped();
        let composer = Composer::new(&library);
        SpeciesAmounts::of(&[typed::parse(text, &composer).unwrap()], composer.chemistry())
    }

    #[test]
    fn borax_is_metaborate_and_boric_acid() {
        // 0.01 mol of borax: 381.372 g/mol (molmass 2026.1.8).
        let borax = brought("borax-decahydrate=3.81372");
        assert_abs_diff_eq!(borax.moles("borate"), 0.02, epsilon = 1e-6);
        assert_abs_diff_eq!(borax.moles("boron"), 0.04, epsilon = 1e-6);
        assert_abs_diff_eq!(borax.moles("mild alkali"), 0.02, epsilon = 1e-6);
    }

    #[test]
    fn acid_takes_alkali_and_caustic_makes_metaborate_and_carbonate() {
        // 0.01 mol of metabisulfite takes 0.02 mol of alkali from 0.05 mol of metaborate.
        let bath = brought("sodium-metabisulfite=1.90106,sodium-metaborate-tetrahydrate=6.893");
        assert_abs_diff_eq!(bath.moles("borate"), 0.03, epsilon = 1e-5);
        assert_abs_diff_eq!(bath.moles("acid"), 0.0, epsilon = 1e-9);
        assert_abs_diff_eq!(bath.moles("sulfite"), 0.02, epsilon = 1e-5);
        // 0.02 mol of hydroxide on 0.03 mol of bicarbonate.
        let bath = brought("sodium-hydroxide=0.79994,sodium-bicarbonate=2.52021");
        assert_abs_diff_eq!(bath.moles("carbonate"), 0.02, epsilon = 1e-5);
        assert_abs_diff_eq!(bath.moles("bicarbonate"), 0.01, epsilon = 1e-5);
        assert_abs_diff_eq!(bath.moles("hydroxide"), 0.0, epsilon = 1e-9);
    }
}
