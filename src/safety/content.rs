//! What is in a vessel, and the amounts by which the rules of combination decide.

use std::collections::BTreeMap;
use std::rc::Rc;

use serde::Deserialize;

use crate::formula::{Amount, Bath, Formula, Ingredient, Part};
use crate::substance::Form;

/// A substance in a vessel, per litre of what the vessel will hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Content {
    /// The form as weighed or measured.
    pub form: Rc<Form>,
    /// Grams of that form per litre; none where it is not known.
    pub grams_per_litre: Option<f64>,
    /// Whether it goes in as a ready percent solution, no longer as the chemical itself.
    pub as_solution: bool,
}

impl Content {
    /// A content of known amount.
    pub fn grams(form: &Rc<Form>, grams_per_litre: f64) -> Self {
        Self { form: Rc::clone(form), grams_per_litre: Some(grams_per_litre), as_solution: false }
    }

    /// A content of which the amount is not known.
    pub fn unknown_amount(form: &Rc<Form>) -> Self {
        Self { form: Rc::clone(form), grams_per_litre: None, as_solution: false }
    }

    /// The same at a share of the strength.
    #[must_use]
    pub fn diluted(mut self, share: f64) -> Self {
        self.grams_per_litre = self.grams_per_litre.map(|grams| grams * share);
        self
    }

    /// Grams of the pure chemical per litre.
    pub fn pure_grams_per_litre(&self) -> Option<f64> {
        self.grams_per_litre.map(|grams| grams * self.form.assay_fraction())
    }

    /// Moles of the chemical per litre.
    pub fn moles_per_litre(&self) -> Option<f64> {
        Some(self.pure_grams_per_litre()? / self.form.molar_mass_g_per_mol?)
    }

    /// Whether it is plain water.
    pub fn is_water(&self) -> bool {
        self.form.parent.id == "water"
    }
}

impl From<&Ingredient> for Content {
    fn from(ingredient: &Ingredient) -> Self {
        Self {
            form: Rc::clone(&ingredient.form),
            grams_per_litre: ingredient.grams_per_litre(),
            as_solution: matches!(ingredient.amount, Amount::PercentSolution { .. }),
        }
    }
}

/// What a part holds, its solvent included where that is not water.
pub fn contents_of_part(part: &Part) -> Vec<Content> {
    let solvent = part.solvent.iter().filter(|form| form.parent.id != "water").map(Content::unknown_amount);
    solvent.chain(part.ingredients.iter().map(Content::from)).collect()
}

/// What a bath holds that is poured together from the parts of a formula and water.
pub fn contents_of_bath(formula: &Formula, bath: &Bath) -> Vec<Content> {
    let total = bath.total();
    let mut contents: Vec<Content> = Vec::new();
    for (name, share) in &bath.shares {
        let part = formula.part(name).or_else(|| formula.parts.first().filter(|_| formula.parts.len() == 1));
        let Some(part) = part.filter(|_| total > 0.0) else { continue };
        for content in contents_of_part(part) {
            let content = content.diluted(share / total);
            match contents.iter_mut().find(|own| own.form.id == content.form.id) {
                Some(own) => {
                    own.grams_per_litre =
                        own.grams_per_litre.zip(content.grams_per_litre).map(|(a, b)| a + b);
                }
                None => contents.push(content),
            }
        }
    }
    contents
}

/// A bath as it is used, one of a sequence.
#[derive(Debug, Clone, PartialEq)]
pub struct BathSummary {
    /// Its name in the sequence.
    pub name: String,
    /// What it holds at working strength; nothing at all for plain water, which counts as a wash.
    pub contents: Vec<Content>,
}

impl BathSummary {
    /// A wash in plain water.
    pub fn wash() -> Self {
        Self { name: "wash".to_owned(), contents: Vec::new() }
    }

    /// Whether it is plain water.
    pub fn is_wash(&self) -> bool {
        self.contents.iter().all(Content::is_water)
    }
}

/// The baths of a formula at working strength, in the order of use: those of the use named, else of its first one; the parts
/// themselves where the formula gives no use.
pub fn baths_of(formula: &Formula, use_name: Option<&str>) -> Vec<BathSummary> {
    let use_of = match use_name {
        Some(name) => formula.uses.iter().find(|own| own.name.eq_ignore_ascii_case(name)),
        None => formula.uses.first(),
    };
    if let Some(use_of) = use_of {
        let several = use_of.baths.len() > 1;
        return use_of
            .baths
            .iter()
            .map(|bath| BathSummary {
                name: if several { format!("{} ({bath})", formula.id) } else { formula.id.clone() },
                contents: contents_of_bath(formula, bath),
            })
            .collect();
    }
    formula
        .parts
        .iter()
        .map(|part| BathSummary {
            name: part
                .name
                .as_ref()
                .map_or_else(|| formula.id.clone(), |name| format!("{} {name}", formula.id)),
            contents: contents_of_part(part),
        })
        .collect()
}

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

    fn of(value: Option<f64>) -> Self {
        value.map_or(Self::ANYTHING, |value| Self { low: value, high: value })
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
pub(super) enum Unit {
    /// Moles per litre; of sulfites, sulfite ions.
    #[default]
    #[serde(rename = "mol/L")]
    MolesPerLitre,
    /// Acid equivalents per litre.
    #[serde(rename = "eq/L")]
    AcidEquivalentsPerLitre,
    /// Grams of the pure chemical per litre.
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
    form.id == name || form.parent.id == name || form.is_class(name)
}

/// All acid that could be given off.
const ANY_ACID: &str = "any-acid";
/// Acid left after alkali and sulfite have taken theirs; negative in an alkaline bath.
const SPARE_ACID: &str = "spare-acid";
/// Names in `needs` that are no class.
pub(super) const SPECIAL: [&str; 3] = [ANY_ACID, SPARE_ACID, ANYTHING];

impl Equivalents {
    /// Ids that the tables name.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.acid.keys().chain(self.alkali.keys()).chain(self.sulfite.keys()).map(String::as_str)
    }

    /// Acid equivalents of a content: by the table; of an acid that the table does not have, one for each acid constant below 6.5.
    fn acid_of(&self, content: &Content) -> Bounds {
        let form = &content.form;
        let per_mole = self.acid.get(&form.parent.id).copied().or_else(|| {
            let is_acid = ["acid", "weak-acid", "acidic-in-water", "strong-acid"]
                .iter()
                .any(|class| form.is_class(class));
            is_acid.then(|| {
                let protons = form.acid_constants.iter().filter(|constant| constant.pka < 6.5).count();
                u32::try_from(protons.max(1)).map_or(1.0, f64::from)
            })
        });
        per_mole.map_or(Bounds::NOTHING, |per_mole| Bounds::of(content.moles_per_litre()).times(per_mole))
    }

    /// Alkali equivalents of a content: by the table; of an alkali that the table does not have, one.
    fn alkali_of(&self, content: &Content) -> Bounds {
        let form = &content.form;
        let per_mole = self.alkali.get(&form.parent.id).copied().or_else(|| {
            let is_alkali = ["alkali", "strong-alkali", "carbonate", "ammonia", "amine"]
                .iter()
                .any(|class| form.is_class(class));
            is_alkali.then_some(1.0)
        });
        per_mole.map_or(Bounds::NOTHING, |per_mole| Bounds::of(content.moles_per_litre()).times(per_mole))
    }

    /// An amount in a vessel.
    pub(super) fn amount(&self, of: &str, unit: Unit, vessel: &[Content], batch_litres: f64) -> Bounds {
        let sum = |bounds: &mut dyn Iterator<Item = Bounds>| bounds.fold(Bounds::NOTHING, Bounds::plus);
        match of {
            ANY_ACID => sum(&mut vessel.iter().map(|content| self.acid_of(content))),
            SPARE_ACID => {
                let acid = sum(&mut vessel.iter().map(|content| self.acid_of(content)));
                acid.minus(sum(&mut vessel.iter().map(|content| self.alkali_of(content))))
            }
            name => {
                let own = vessel.iter().filter(|content| is_named(&content.form, name));
                match unit {
                    Unit::MolesPerLitre if name == "sulfite" => sum(&mut own.map(|content| {
                        let ions = self.sulfite.get(&content.form.parent.id).copied().unwrap_or(1.0);
                        Bounds::of(content.moles_per_litre()).times(ions)
                    })),
                    Unit::MolesPerLitre => sum(&mut own.map(|content| Bounds::of(content.moles_per_litre()))),
                    Unit::AcidEquivalentsPerLitre => sum(&mut own.map(|content| self.acid_of(content))),
                    Unit::GramsPerLitre => {
                        sum(&mut own.map(|content| Bounds::of(content.pure_grams_per_litre())))
                    }
                    Unit::Grams => sum(&mut own.map(|content| Bounds::of(content.pure_grams_per_litre())))
                        .times(batch_litres),
                }
            }
        }
    }
}
