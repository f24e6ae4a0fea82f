//! What is in a litre of a solution: one value, from which everything else is judged.
//!
//! A vessel is made here and nowhere else: from a part of a recipe ([`Vessel::of_part`]), from a batch as really taken ([`crate::scale`] hands
//! it out, with the assay of the jar and the hydrate on the shelf), from a bath mixed of parts ([`Vessel::of_bath`]), from several poured together
//! ([`Vessel::mix`]) and from a solution to which something is added ([`Vessel::with`]). The solvent is a member like any other. What is
//! not known stays unknown and says why; where it can be bounded from above, that bound stands beside it.
//!
//! Mixing adds volumes: c = Σ sᵢ·cᵢ / Σ s, water diluting; the small change of volume on mixing is neglected.

mod room;

use std::ops::Deref;
use std::sync::Arc;

pub use room::Room;

use crate::formula::{Amount, Bath, Formula, Ingredient, Part, Use, amount_at_most_g, amount_in_grams};
use crate::quantity::StrengthBasis;
use crate::substance::Form;

/// Why an amount is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unknown {
    /// The chemical has no fixed composition, so moles mean nothing.
    NoMolarMass,
    /// A volume of a liquid whose density is not known.
    NoDensity,
    /// A volume of a solution in percent by weight, whose density is not known.
    PercentByWeight,
}

impl Unknown {
    /// A remark for a table cell: what is unknown, and what that takes away.
    pub fn words(self) -> &'static str {
        match self {
            Self::NoMolarMass => "no fixed composition, so no moles",
            Self::NoDensity => "density not known, so no grams",
            Self::PercentByWeight => "percent by weight of a solution of unknown density, so no grams",
        }
    }
}

/// One form in a vessel, per litre of what the vessel will hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Content {
    /// The form as weighed or measured.
    pub form: Arc<Form>,
    /// Grams of the product per litre; none where it is not known.
    pub grams_per_litre: Option<f64>,
    /// Grams of the product per litre that it surely is not more than, where the grams themselves are not known.
    pub at_most_g_per_litre: Option<f64>,
    /// Fraction by mass of the chemical in the product that is really taken.
    pub assay: f64,
    /// Why its grams are not known.
    pub unknown: Option<Unknown>,
    /// Whether it goes in as a ready percent solution, no longer as the chemical itself.
    pub as_solution: bool,
    /// The end point until which it goes in, so that nobody knows how much there is of it.
    pub until: Option<String>,
    /// Whether every line of it is called optional.
    pub optional: bool,
    /// Whether it is the solvent of a part, whose amount is an estimate from the room that the rest leaves.
    pub is_solvent: bool,
}

impl Content {
    /// A content of known amount, of the form's usual assay.
    pub fn grams(form: &Arc<Form>, grams_per_litre: f64) -> Self {
        Self { grams_per_litre: Some(grams_per_litre), ..Self::unknown_amount(form) }
    }

    /// A content of which the amount is not known, nor bounded.
    pub fn unknown_amount(form: &Arc<Form>) -> Self {
        Self {
            form: Arc::clone(form),
            grams_per_litre: None,
            at_most_g_per_litre: None,
            assay: form.assay_fraction(),
            unknown: None,
            as_solution: false,
            until: None,
            optional: false,
            is_solvent: false,
        }
    }

    /// A content by its amount as a recipe writes it, per litre.
    pub fn of_amount(form: &Arc<Form>, amount: Amount) -> Self {
        let grams_per_litre = amount_in_grams(form, amount);
        let unknown = match (grams_per_litre, amount) {
            (Some(_), _) => None,
            (None, Amount::PercentSolution { strength, .. })
                if strength.basis() == StrengthBasis::WeightInWeight =>
            {
                Some(Unknown::PercentByWeight)
            }
            (None, _) => Some(Unknown::NoDensity),
        };
        Self {
            grams_per_litre,
            at_most_g_per_litre: amount_at_most_g(form, amount).filter(|_| grams_per_litre.is_none()),
            unknown,
            as_solution: amount.is_weak_solution_of(form),
            ..Self::unknown_amount(form)
        }
    }

    /// The same at a share of the strength.
    #[must_use]
    pub fn diluted(mut self, share: f64) -> Self {
        self.grams_per_litre = self.grams_per_litre.map(|grams| grams * share);
        self.at_most_g_per_litre = self.at_most_g_per_litre.map(|grams| grams * share);
        self
    }

    /// Grams of the product per litre, or what they surely do not exceed; none where not even that is known.
    pub fn at_most_grams(&self) -> Option<f64> {
        self.grams_per_litre.or(self.at_most_g_per_litre)
    }

    /// Grams of the pure chemical per litre, in the form that was taken.
    pub fn pure_grams_per_litre(&self) -> Option<f64> {
        self.grams_per_litre.map(|grams| grams * self.assay)
    }

    /// Moles of the chemical per litre.
    pub fn moles_per_litre(&self) -> Option<f64> {
        self.form.moles_in(self.grams_per_litre?, self.assay)
    }

    /// Moles of the chemical per litre at the most.
    pub fn at_most_moles(&self) -> Option<f64> {
        self.form.moles_in(self.at_most_grams()?, self.assay)
    }

    /// Grams of the chemical per litre by which its hazards are judged, whatever hydrate they came in: those of the form in which its
    /// substance is classified. Without a molar mass the pure grams as they are.
    pub fn judged_grams_per_litre(&self) -> Option<f64> {
        self.grams_per_litre.map(|grams| self.form.judged_grams(grams, self.assay))
    }

    /// The same at the most.
    pub fn at_most_judged_grams(&self) -> Option<f64> {
        self.at_most_grams().map(|grams| self.form.judged_grams(grams, self.assay))
    }

    /// Why its moles are not known; none where they are.
    pub fn unknown_moles(&self) -> Option<Unknown> {
        match (self.grams_per_litre, self.moles_per_litre()) {
            (Some(_), Some(_)) => None,
            (Some(_), None) => Some(Unknown::NoMolarMass),
            (None, _) => Some(self.unknown.unwrap_or(Unknown::NoDensity)),
        }
    }

    /// Whether it is plain water.
    pub fn is_water(&self) -> bool {
        self.form.parent.id == "water"
    }

    /// Puts more of the same form to it; an unknown share makes the sum unknown.
    fn join(&mut self, other: &Self) {
        // Grams of the other product count as so many of this one as hold the same.
        let same = |grams: f64| grams * other.assay / self.assay;
        let most = self.at_most_grams().zip(other.at_most_grams()).map(|(one, two)| one + same(two));
        self.grams_per_litre =
            self.grams_per_litre.zip(other.grams_per_litre).map(|(one, two)| one + same(two));
        self.at_most_g_per_litre = most.filter(|_| self.grams_per_litre.is_none());
        self.unknown = self.unknown.or(other.unknown);
        self.as_solution &= other.as_solution;
        self.optional &= other.optional;
        self.is_solvent |= other.is_solvent;
        self.until = self.until.take().or_else(|| other.until.clone());
    }
}

impl From<&Ingredient> for Content {
    fn from(ingredient: &Ingredient) -> Self {
        Self {
            until: ingredient.until.clone(),
            optional: ingredient.optional,
            ..Self::of_amount(&ingredient.form, ingredient.amount)
        }
    }
}

/// What is in a litre of a solution; reads as the list of its contents.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Vessel {
    contents: Vec<Content>,
}

impl Deref for Vessel {
    type Target = [Content];

    fn deref(&self) -> &[Content] {
        &self.contents
    }
}

impl From<Vec<Content>> for Vessel {
    fn from(contents: Vec<Content>) -> Self {
        Self { contents }
    }
}

impl FromIterator<Content> for Vessel {
    fn from_iter<I: IntoIterator<Item = Content>>(contents: I) -> Self {
        Self { contents: contents.into_iter().collect() }
    }
}

impl IntoIterator for Vessel {
    type Item = Content;
    type IntoIter = std::vec::IntoIter<Content>;

    fn into_iter(self) -> Self::IntoIter {
        self.contents.into_iter()
    }
}

impl<'a> IntoIterator for &'a Vessel {
    type Item = &'a Content;
    type IntoIter = std::slice::Iter<'a, Content>;

    fn into_iter(self) -> Self::IntoIter {
        self.contents.iter()
    }
}

impl Vessel {
    /// A part of a recipe as bottled, its solvent included where that is not water.
    pub fn of_part(part: &Part) -> Self {
        Self::of_solvent(part).into_iter().chain(part.ingredients.iter().map(Content::from)).collect()
    }

    /// The solvent of a part: as much of it as the ingredients leave room for. None where it is water.
    pub fn of_solvent(part: &Part) -> Option<Content> {
        let solvent = part.solvent.as_ref().filter(|form| form.parent.id != "water")?;
        let room_ml = (1000.0 - Room::of(&part.ingredients).total_ml()).max(0.0);
        let content = Content::of_amount(solvent, Amount::Millilitres(room_ml));
        Some(Content { is_solvent: true, ..content })
    }

    /// A bath mixed from the parts of a formula and water; a share of a part that there is not counts as water.
    pub fn of_bath(formula: &Formula, bath: &Bath) -> Self {
        let parts: Vec<(Self, f64)> = bath
            .shares
            .iter()
            .filter_map(|(name, share)| Some((Self::of_part(formula.part_of_share(name)?), *share)))
            .collect();
        let total = bath.total();
        let shares: Vec<(&Self, f64)> = parts.iter().map(|(part, share)| (part, share / total)).collect();
        if total > 0.0 { Self::mix(&shares) } else { Self::default() }
    }

    /// The baths of a use, one after the other.
    pub fn of_use(formula: &Formula, chosen: &Use) -> Vec<Self> {
        chosen.baths.iter().map(|bath| Self::of_bath(formula, bath)).collect()
    }

    /// Several solutions mixed, each with its share of the volume; the rest is water. Each form stands once.
    pub fn mix(shares: &[(&Self, f64)]) -> Self {
        let mut mixture = Self::default();
        for (vessel, share) in shares {
            for content in *vessel {
                mixture.pour(content.clone().diluted(*share));
            }
        }
        mixture
    }

    /// The solution with something added; the volume is that of the whole.
    #[must_use]
    pub fn with(mut self, added: impl IntoIterator<Item = Content>) -> Self {
        added.into_iter().for_each(|content| self.pour(content));
        self
    }

    fn pour(&mut self, content: Content) {
        match self.contents.iter_mut().find(|own| own.form.id == content.form.id) {
            Some(own) => own.join(&content),
            None => self.contents.push(content),
        }
    }

    /// All amounts times a factor.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        self.iter().map(|content| content.clone().diluted(factor)).collect()
    }

    /// What goes in only until an end point, with that end point.
    pub fn end_point(&self) -> Option<(&Content, &str)> {
        self.iter().find_map(|content| Some((content, content.until.as_deref()?)))
    }

    /// The solvent that is not water, of which there is most.
    pub fn solvent(&self) -> Option<&Content> {
        self.iter().find(|content| content.is_solvent)
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;
    use crate::quantity::Strength;

    fn form(id: &str) -> Arc<Form> {
        Library::shipped().form(id).unwrap()
    }

    #[test]
    fn moles_are_grams_times_the_assay_of_the_jar_over_the_molar_mass() {
        // 60.052 g/mol (molmass 2026.1.8): 100 g of a 60 % product.
        let content = Content { assay: 0.6, ..Content::grams(&form("acetic-acid-28"), 100.0) };
        assert_relative_eq!(content.moles_per_litre().unwrap(), 60.0 / 60.052, max_relative = 1e-4);
    }

    #[test]
    fn what_is_not_known_stays_unknown_in_a_mixture_and_keeps_its_bound() {
        let strength = Strength::new(10.0, StrengthBasis::WeightInWeight);
        let amount = Amount::PercentSolution { millilitres: 100.0, strength };
        let bromide = form("potassium-bromide");
        let one: Vessel = vec![Content::of_amount(&bromide, amount)].into();
        let two: Vessel = vec![Content::grams(&bromide, 4.0)].into();
        let mixture = Vessel::mix(&[(&one, 0.5), (&two, 0.5)]);
        assert_eq!(mixture.len(), 1);
        assert_eq!(mixture[0].grams_per_litre, None);
        assert_eq!(mixture[0].unknown_moles(), Some(Unknown::PercentByWeight));
        // 100 mL of at most 1.9 g/mL, a tenth of it solute; half of both.
        assert_relative_eq!(mixture[0].at_most_grams().unwrap(), 9.5 + 2.0, max_relative = 1e-9);
    }

    #[test]
    fn a_percentage_by_weight_near_that_of_the_product_is_the_product() {
        let acid = form("sulfuric-acid");
        let density = acid.density_g_per_ml.unwrap();
        let of = |percent: f64| {
            let strength = Strength::new(percent, StrengthBasis::WeightInWeight);
            Content::of_amount(&acid, Amount::PercentSolution { millilitres: 300.0, strength })
        };
        assert_relative_eq!(of(96.0).grams_per_litre.unwrap(), 300.0 * density, max_relative = 1e-9);
        assert!(!of(96.0).as_solution, "it is the chemical itself");
        assert_eq!(of(80.0).grams_per_litre, None);
        assert_relative_eq!(of(80.0).at_most_grams().unwrap() * of(80.0).assay, 300.0 * 1.9 * 0.8);
    }

    #[test]
    fn a_solvent_takes_the_room_that_is_left_and_is_the_only_one() {
        let part = |id: &str| Library::shipped().formula(id).unwrap().formula.parts.remove(0);
        // 90 g of ascorbic acid of 1.6525 g/mL and 2.5 g of phenidone of 2 g/mL for want of a figure leave 944.3 mL of triethanolamine,
        // 1.1242 g/mL (CRC Handbook, as in the files).
        let vessel = Vessel::of_part(&part("phenidone-ascorbate-tea-concentrate"));
        let solvent = vessel.solvent().unwrap();
        let room_ml = 1000.0
            - 90.0 / 1.6525
            - 2.5
                / part("phenidone-ascorbate-tea-concentrate").ingredients[1]
                    .form
                    .density_g_per_ml
                    .unwrap_or(2.0);
        assert_relative_eq!(solvent.grams_per_litre.unwrap(), room_ml * 1.1242, max_relative = 1e-6);
        assert_eq!(vessel.iter().filter(|content| content.is_solvent).count(), 1);
        let in_water = Vessel::of_part(&part("mq-borax-classic"));
        assert!(in_water.solvent().is_none() && in_water.iter().all(|content| !content.is_water()));
        assert!(Content::grams(&form("water"), 1.0).is_water());
    }

    #[test]
    fn half_of_a_jar_of_half_the_assay_is_a_quarter() {
        let content = Content { assay: 0.5, ..Content::grams(&form("metol"), 0.5) };
        assert_relative_eq!(content.pure_grams_per_litre().unwrap(), 0.25, max_relative = 1e-12);
    }

    #[test]
    fn a_solution_on_sale_brings_its_water_and_a_solid_none() {
        let part = |text: &str| {
            let file = format!(
                "format = 1\ntitle = \"t\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n{text}"
            );
            Library::shipped().formula_from_text(&file, "it", "it.toml").unwrap().formula.parts.remove(0)
        };
        let acid = part("[[ingredients]]\nsubstance = \"acetic-acid-28\"\nmillilitres = 100\n");
        // 100 mL of 1.036 g/mL, 72 % of it water.
        assert_relative_eq!(Room::of(&acid.ingredients).brought_water_g, 103.6 * 0.72, max_relative = 1e-6);
        let salt = part("[[ingredients]]\nsubstance = \"borax-decahydrate\"\ngrams = 100\n");
        assert_relative_eq!(Room::of(&salt.ingredients).brought_water_g, 0.0);
    }

    #[test]
    fn what_both_bottles_hold_adds_up_in_the_bath() {
        // Volumes of A and B alike: 40 and 20 g/L of sulfite are 30 g/L of the bath.
        let sulfite = form("sodium-sulfite-anhydrous");
        let bottle = |grams: f64, assay: f64| -> Vessel {
            vec![Content { assay, ..Content::grams(&sulfite, grams) }].into()
        };
        let bath = |one: &Vessel, two: &Vessel| Vessel::mix(&[(one, 0.5), (two, 0.5)]);
        let mixed = bath(&bottle(40.0, 1.0), &bottle(20.0, 1.0));
        assert_eq!(mixed.len(), 1);
        assert_relative_eq!(mixed[0].grams_per_litre.unwrap(), 30.0, max_relative = 1e-12);
        // A jar of 90 % brings nine tenths of its grams, whichever bottle is poured first.
        for (one, two) in [((40.0, 1.0), (20.0, 0.9)), ((20.0, 0.9), (40.0, 1.0))] {
            let mixed = bath(&bottle(one.0, one.1), &bottle(two.0, two.1));
            assert_relative_eq!(mixed[0].pure_grams_per_litre().unwrap(), 29.0, max_relative = 1e-12);
        }
        // So does what is added to a bath.
        let topped = bottle(30.0, 1.0).with(bottle(5.0, 1.0));
        assert_relative_eq!(topped[0].grams_per_litre.unwrap(), 35.0, max_relative = 1e-12);
    }
}
