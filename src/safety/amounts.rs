//! The amounts by which the rules of combination decide.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::substance::{Class, Form};
use crate::vessel::Content;

/// How many protons a mole gives or takes, and how many sulfite ions it holds, by parent id.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Equivalents {
    #[serde(rename = "source")]
    _source: String,
    acid: BTreeMap<String, f64>,
    alkali: BTreeMap<String, f64>,
    sulfite: BTreeMap<String, f64>,
}

/// An amount between two bounds; they differ where something is not known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bounds {
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Bounds {
    const NOTHING: Self = Self { low: 0.0, high: 0.0 };
    const ANYTHING: Self = Self { low: 0.0, high: f64::INFINITY };

    /// A known value, else nothing up to what it surely does not exceed.
    fn of(value: Option<f64>, at_most: Option<f64>) -> Self {
        match (value, at_most) {
            (Some(value), _) => Self { low: value, high: value },
            (None, Some(high)) => Self { low: 0.0, high },
            (None, None) => Self::ANYTHING,
        }
    }

    /// Moles per litre of a member of a vessel. Of a solvent nobody knows how little there is, so it protects from nothing.
    fn moles(content: &Content) -> Self {
        Self::of(content.moles_per_litre().filter(|_| !content.is_solvent), content.at_most_moles())
    }

    /// Grams per litre by which it is judged.
    fn grams(content: &Content) -> Self {
        let known = content.judged_grams_per_litre().filter(|_| !content.is_solvent);
        Self::of(known, content.at_most_judged_grams())
    }

    fn plus(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }

    fn minus(self, other: Self) -> Self {
        Self { low: self.low - other.high, high: self.high - other.low }
    }

    pub(super) fn times(self, factor: f64) -> Self {
        Self { low: self.low * factor, high: self.high * factor }
    }
}

/// In what an amount is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
pub(super) enum LimitUnit {
    /// Moles per litre; of sulfites, sulfite ions.
    #[default]
    #[serde(rename = "mol/L")]
    MolesPerLitre,
    #[serde(rename = "eq/L")]
    AcidEquivalentsPerLitre,
    /// Grams of the pure chemical per litre, in the form by which it is judged.
    #[serde(rename = "g/L")]
    GramsPerLitre,
    /// Grams in the whole batch.
    #[serde(rename = "g")]
    Grams,
}

/// A group that takes anything but water.
pub(super) const ANYTHING: &str = "*";

/// Whether a form is meant by a name: a class, a parent or the form itself, or anything but water.
pub(super) fn is_named(form: &Form, name: &str) -> bool {
    if name == ANYTHING {
        return form.parent.id != "water";
    }
    form.id == name || form.parent.id == name || form.is_class_named(name)
}

/// All acid that could be given off.
const ANY_ACID: &str = "any-acid";
/// Acid left after alkali and sulfite have taken theirs; negative in an alkaline bath.
const SPARE_ACID: &str = "spare-acid";
/// The same where the acid goes in: beside alum a borate follows the acid, and takes nothing up yet.
const ACID_BEFORE_BORATE: &str = "acid-before-borate";
/// Names in `needs` that are no class.
pub(super) const SPECIAL: [&str; 4] = [ANY_ACID, SPARE_ACID, ACID_BEFORE_BORATE, ANYTHING];

impl Equivalents {
    /// Ids that the tables name.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.acid.keys().chain(self.alkali.keys()).chain(self.sulfite.keys()).map(String::as_str)
    }

    /// Acid equivalents of a content: by the table; of an acid that the table does not have, one for each acid constant below 6.5.
    fn acid_of(&self, content: &Content) -> Bounds {
        let form = &content.form;
        let per_mole = self.acid.get(&form.parent.id).copied().or_else(|| {
            let is_acid = [Class::Acid, Class::WeakAcid, Class::AcidicInWater, Class::StrongAcid]
                .iter()
                .any(|class| form.is_class(class));
            is_acid.then(|| {
                let protons = form.acid_constants.iter().filter(|constant| constant.pka < 6.5).count();
                u32::try_from(protons.max(1)).map_or(1.0, f64::from)
            })
        });
        per_mole.map_or(Bounds::NOTHING, |per_mole| Bounds::moles(content).times(per_mole))
    }

    /// Alkali equivalents of a content: by the table; of an alkali that the table does not have, one.
    fn alkali_of(&self, content: &Content) -> Bounds {
        let form = &content.form;
        let per_mole = self.alkali.get(&form.parent.id).copied().or_else(|| {
            let is_alkali =
                [Class::Alkali, Class::StrongAlkali, Class::Carbonate, Class::Ammonia, Class::Amine]
                    .iter()
                    .any(|class| form.is_class(class));
            is_alkali.then_some(1.0)
        });
        per_mole.map_or(Bounds::NOTHING, |per_mole| Bounds::moles(content).times(per_mole))
    }

    pub(super) fn amount(&self, of: &str, unit: LimitUnit, vessel: &[Content], batch_litres: f64) -> Bounds {
        let sum = |bounds: &mut dyn Iterator<Item = Bounds>| bounds.fold(Bounds::NOTHING, Bounds::plus);
        match of {
            ANY_ACID => sum(&mut vessel.iter().map(|content| self.acid_of(content))),
            SPARE_ACID | ACID_BEFORE_BORATE => {
                let has_alum = vessel.iter().any(|content| {
                    content.form.is_class(&Class::AluminiumSalt) || content.form.is_class(&Class::ChromiumIii)
                });
                let is_later = |content: &&Content| {
                    of == ACID_BEFORE_BORATE && has_alum && content.form.is_class(&Class::Borate)
                };
                let acid = sum(&mut vessel.iter().map(|content| self.acid_of(content)));
                let in_first = vessel.iter().filter(|content| !is_later(content));
                acid.minus(sum(&mut in_first.map(|content| self.alkali_of(content))))
            }
            name => {
                let own = vessel.iter().filter(|content| is_named(&content.form, name));
                match unit {
                    LimitUnit::MolesPerLitre if name == "sulfite" => sum(&mut own.map(|content| {
                        let ions = self.sulfite.get(&content.form.parent.id).copied().unwrap_or(1.0);
                        Bounds::moles(content).times(ions)
                    })),
                    LimitUnit::MolesPerLitre => sum(&mut own.map(Bounds::moles)),
                    LimitUnit::AcidEquivalentsPerLitre => sum(&mut own.map(|content| self.acid_of(content))),
                    LimitUnit::GramsPerLitre => sum(&mut own.map(Bounds::grams)),
                    LimitUnit::Grams => sum(&mut own.map(Bounds::grams)).times(batch_litres),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;
    use crate::safety::SafetyData;

    fn amount(of: &str, unit: LimitUnit, contents: &[(&str, f64)]) -> f64 {
        let library = Library::shipped();
        let vessel: Vec<Content> =
            contents.iter().map(|(id, grams)| Content::grams(&library.form(id).unwrap(), *grams)).collect();
        let bounds = SafetyData::shipped(&library).combinations.equivalents.amount(of, unit, &vessel, 1.0);
        assert!((bounds.low - bounds.high).abs() < 1e-12, "all is known: {bounds:?}");
        bounds.high
    }

    #[test]
    fn a_mole_of_metabisulfite_is_two_of_sulfite() {
        // In water S2O5 is two HSO3 (stoichiometry). 126.04 and 190.11 g/mol by the atomic masses of the IUPAC.
        let sulfite = |contents: &[(&str, f64)]| amount("sulfite", LimitUnit::MolesPerLitre, contents);
        assert!((sulfite(&[("sodium-sulfite-anhydrous", 12.604)]) - 0.1).abs() < 1e-4);
        assert!((sulfite(&[("sodium-metabisulfite", 19.011)]) - 0.2).abs() < 1e-4);
        let both = [("sodium-sulfite-anhydrous", 12.604), ("sodium-metabisulfite", 19.011)];
        assert!((sulfite(&both) - 0.3).abs() < 2e-4);
    }
}
