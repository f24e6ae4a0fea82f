//! The amounts by which the rules of combination decide.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::extreme::Acidity;
use crate::substance::{Class, Form};
use crate::vessel::Content;

/// How many protons a mole gives or takes, and how many sulfite, chloride and ammonium ions it holds, by parent id.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Equivalents {
    #[serde(rename = "source")]
    _source: String,
    acid: BTreeMap<String, f64>,
    alkali: BTreeMap<String, f64>,
    sulfite: BTreeMap<String, f64>,
    #[serde(default)]
    chloride: BTreeMap<String, f64>,
    #[serde(default)]
    ammonium: BTreeMap<String, f64>,
}

/// A solution as the rules see it: what goes in, what comes of it there, and how acid it is then.
#[derive(Debug)]
pub(super) struct Seen<'a> {
    /// What goes in.
    pub(super) contents: &'a [Content],
    /// What comes of it.
    pub(super) arisen: Vec<Arisen>,
    /// How acid it is and which gases are dissolved in it, where that is known.
    pub(super) acidity: Option<Acidity>,
    /// How much is made, litres.
    pub(super) litres: f64,
}

impl<'a> Seen<'a> {
    /// What goes in, and nothing more: of a litre.
    pub(super) fn plain(contents: &'a [Content]) -> Self {
        Self { contents, arisen: Vec::new(), acidity: None, litres: 1.0 }
    }
}

/// A chemical that nobody weighed and that is in the solution all the same, since others make it there: the same ions in water are the same
/// bath, whichever jars they came from.
#[derive(Debug)]
pub(super) struct Arisen {
    /// As what it counts.
    pub(super) class: Class,
    /// Ids of the forms that make it.
    pub(super) of: Vec<String>,
    /// mol/L.
    pub(super) moles: Bounds,
}

/// Less than so much of what arises is nothing, mol/L; our own limit.
const LEAST_ARISEN: f64 = 0.005;

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

    fn least(self, other: Self) -> Self {
        Self { low: self.low.min(other.low).max(0.0), high: self.high.min(other.high).max(0.0) }
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
    /// Alkali equivalents per litre.
    #[serde(rename = "alkali eq/L")]
    AlkaliEquivalentsPerLitre,
    /// Grams of the pure chemical per litre, in the form by which it is judged.
    #[serde(rename = "g/L")]
    GramsPerLitre,
    /// Grams in the whole batch.
    #[serde(rename = "g")]
    Grams,
}

/// A group that takes anything but water.
pub(super) const ANYTHING: &str = "*";

/// Whether a form is meant by a name: a class, a parent or the form itself, a statement of its hazards (`EUH032`), or anything but water.
pub(super) fn is_named(form: &Form, name: &str) -> bool {
    if name == ANYTHING {
        return form.parent.id != "water";
    }
    if name.starts_with(|first: char| first.is_ascii_uppercase()) {
        return form.hazards.codes().any(|code| code == name);
    }
    form.id == name || form.parent.id == name || form.is_class_named(name)
}

/// All acid that could be given off.
const ANY_ACID: &str = "any-acid";
/// Acid left after alkali and sulfite have taken theirs; negative in an alkaline bath.
const SPARE_ACID: &str = "spare-acid";
/// The same where the acid goes in: beside alum a borate follows the acid, and takes nothing up yet.
const ACID_BEFORE_BORATE: &str = "acid-before-borate";
/// The pH, where it is known.
const PH: &str = "ph";
/// Gas dissolved in the solution at equilibrium, mol/L, where it is known.
const DISSOLVED_HYDROGEN_SULFIDE: &str = "dissolved-hydrogen-sulfide";
const DISSOLVED_AMMONIA: &str = "dissolved-ammonia";
/// Names in `needs` that are no class.
pub(super) const SPECIAL: [&str; 7] =
    [ANY_ACID, SPARE_ACID, ACID_BEFORE_BORATE, ANYTHING, PH, DISSOLVED_HYDROGEN_SULFIDE, DISSOLVED_AMMONIA];
/// Those of them that are read of a solution, and not summed up from its contents.
pub(super) const READ: [&str; 3] = [PH, DISSOLVED_HYDROGEN_SULFIDE, DISSOLVED_AMMONIA];

impl Equivalents {
    /// Ids that the tables name.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        let of_acid_and_alkali = self.acid.keys().chain(self.alkali.keys());
        let of_ions = self.sulfite.keys().chain(self.chloride.keys()).chain(self.ammonium.keys());
        of_acid_and_alkali.chain(of_ions).map(String::as_str)
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

    /// Ions of a kind in a content, mol/L: one a mole unless the table says more.
    fn ions(table: &BTreeMap<String, f64>, content: &Content) -> Bounds {
        Bounds::moles(content).times(table.get(&content.form.parent.id).copied().unwrap_or(1.0))
    }

    /// Alkali of a content that frees ammonia, equivalents per litre: what is much weaker than ammonia does not, and of a carbonate, a
    /// phosphate, a sulfide only the first step does.
    fn freeing(&self, content: &Content) -> Bounds {
        let form = &content.form;
        let is_caustic = form.is_class(&Class::StrongAlkali) && !form.is_class(&Class::Sulfide);
        let is_weaker = FREES_AMMONIA.iter().any(|name| is_named(form, name));
        if is_caustic {
            self.alkali_of(content)
        } else if is_weaker && form.parent.id != "sodium-bicarbonate" {
            Bounds::moles(content)
        } else {
            Bounds::NOTHING
        }
    }

    /// What comes of the contents of a solution, by stoichiometry.
    ///
    /// * Chloride and a strong acid are hydrochloric acid: the lower of the two amounts, of the acid what alkali leaves.
    /// * An ammonium salt and alkali are ammonia: the lower of the two, of the alkali what acid leaves.
    /// * Silver oxide is silver and caustic, as far as no acid takes it up.
    pub(super) fn arisen(&self, contents: &[Content]) -> Vec<Arisen> {
        let ids = |test: &dyn Fn(&Content) -> bool| -> Vec<String> {
            contents.iter().filter(|content| test(content)).map(|content| content.form.id.clone()).collect()
        };
        let sum = |amount: &dyn Fn(&Content) -> Bounds| {
            contents.iter().map(amount).fold(Bounds::NOTHING, Bounds::plus)
        };
        let when = |test: bool, amount: Bounds| if test { amount } else { Bounds::NOTHING };
        let has = |content: &Content, class: Class| content.form.is_class(&class);
        let acid = sum(&|content| self.acid_of(content));
        let alkali = sum(&|content| self.alkali_of(content));
        let is_chloride = |own: &Content| has(own, Class::Chloride) && !has(own, Class::ChlorideAcid);
        let is_acid = |own: &Content| has(own, Class::StrongAcid) && !has(own, Class::ChlorideAcid);
        let is_ammonium = |own: &Content| has(own, Class::Ammonium);
        let frees = |own: &Content| self.freeing(own).high > 0.0;
        let is_silver_oxide = |own: &Content| own.form.parent.id == "silver-oxide";
        let chloride = sum(&|own| when(is_chloride(own), Self::ions(&self.chloride, own)));
        let strong_acid = sum(&|own| when(is_acid(own), self.acid_of(own)));
        let ammonium = sum(&|own| when(is_ammonium(own), Self::ions(&self.ammonium, own)));
        let freeing = sum(&|own| self.freeing(own));
        let oxide = sum(&|own| when(is_silver_oxide(own), self.alkali_of(own)));
        let all = [
            Arisen {
                class: Class::ChlorideAcid,
                of: ids(&|own| is_chloride(own) || is_acid(own)),
                moles: chloride.least(strong_acid.minus(alkali)),
            },
            Arisen {
                class: Class::Ammonia,
                of: ids(&|own| is_ammonium(own) || frees(own)),
                moles: ammonium.least(freeing.minus(acid)),
            },
            Arisen {
                class: Class::StrongAlkali,
                of: ids(&is_silver_oxide),
                moles: oxide.least(alkali.minus(acid)),
            },
        ];
        all.into_iter().filter(|own| own.moles.high >= LEAST_ARISEN).collect()
    }

    /// An amount in a solution; none where it would have to be read of the solution and is not known.
    pub(super) fn amount(&self, of: &str, unit: LimitUnit, seen: &Seen<'_>) -> Option<Bounds> {
        let exactly = |value: f64| Bounds { low: value, high: value };
        let dissolved = || seen.acidity.and_then(|own| own.dissolved);
        match of {
            PH => seen.acidity.map(|own| exactly(own.ph)),
            DISSOLVED_HYDROGEN_SULFIDE => dissolved().map(|own| exactly(own.hydrogen_sulfide)),
            DISSOLVED_AMMONIA => dissolved().map(|own| exactly(own.ammonia)),
            name => Some(self.sum(name, unit, seen)),
        }
    }

    /// An amount that is the sum of what is in a solution.
    fn sum(&self, of: &str, unit: LimitUnit, seen: &Seen<'_>) -> Bounds {
        let vessel = seen.contents;
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
                let arisen = seen.arisen.iter().filter(|arisen| arisen.class.word() == name);
                let arisen = || sum(&mut arisen.map(|arisen| arisen.moles));
                match unit {
                    LimitUnit::MolesPerLitre if name == "sulfite" => {
                        sum(&mut own.map(|content| Self::ions(&self.sulfite, content)))
                    }
                    LimitUnit::MolesPerLitre => sum(&mut own.map(Bounds::moles)).plus(arisen()),
                    LimitUnit::AcidEquivalentsPerLitre => sum(&mut own.map(|content| self.acid_of(content))),
                    LimitUnit::AlkaliEquivalentsPerLitre => {
                        sum(&mut own.map(|content| self.alkali_of(content))).plus(arisen())
                    }
                    LimitUnit::GramsPerLitre => sum(&mut own.map(Bounds::grams)),
                    LimitUnit::Grams => sum(&mut own.map(Bounds::grams)).times(seen.litres),
                }
            }
        }
    }
}

/// What frees ammonia beside the caustic alkalis, by class or parent: of the rule that keeps gold from ammonium and alkali.
const FREES_AMMONIA: [&str; 7] = [
    "alkali",
    "carbonate",
    "borax",
    "sodium-metaborate",
    "triethanolamine",
    "trisodium-phosphate",
    "sulfide",
];

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
        let bounds = SafetyData::shipped(&library)
            .combinations
            .equivalents
            .amount(of, unit, &Seen::plain(&vessel))
            .unwrap();
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
