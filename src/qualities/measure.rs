//! What a rule asks of a formula: a figure of its baths as first used, or of its bottles.

use serde::Deserialize;

use crate::composition::brought::SpeciesAmounts;
use crate::composition::{Composer, Composition, first_baths};
use crate::formula::{Bath, EvidenceKind, Formula, Ingredient};
use crate::substance::Role;
use crate::substance::molar::SODIUM_SULFITE_G_PER_MOL;

/// Statements of what is deadly, toxic, carcinogenic or burns the skin.
const GRAVE: &[&str] = &["H300", "H301", "H310", "H311", "H330", "H331", "H314", "H350"];

/// Statements of what may damage fertility or the unborn child.
const UNBORN: &[&str] = &["H360"];

fn states(ingredient: &Ingredient, codes: &[&str]) -> bool {
    ingredient.form.hazards.statements.iter().any(|code| codes.iter().any(|bad| code.starts_with(bad)))
}

/// A limit on a figure.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Test {
    /// Which figure; the table's head lists them.
    pub of: String,
    /// It is at least this.
    pub from: Option<f64>,
    pub below: Option<f64>,
}

impl Test {
    /// Whether the figure is known and within the limits.
    pub(crate) fn holds(&self, measures: &Measures<'_>) -> bool {
        let Some(value) = measures.value(&self.of) else { return false };
        self.from.is_none_or(|least| value >= least) && self.below.is_none_or(|most| value < most)
    }
}

/// The figures of one formula.
#[derive(Debug)]
pub(crate) struct Measures<'a> {
    formula: &'a Formula,
    composer: &'a Composer<'a>,
    baths: Vec<Composition>,
    used: SpeciesAmounts,
    bottles: Vec<(Composition, SpeciesAmounts)>,
    thinnest: f64,
    first_water: f64,
}

impl<'a> Measures<'a> {
    /// Works them out for the first use.
    pub(crate) fn of(formula: &'a Formula, composer: &'a Composer<'a>) -> Self {
        Self::at(formula, &first_baths(formula), composer)
    }

    /// Works them out for the baths of one use.
    pub(crate) fn at(formula: &'a Formula, first: &[Bath], composer: &'a Composer<'a>) -> Self {
        let baths: Vec<Composition> = first.iter().map(|bath| composer.bath(formula, bath)).collect();
        let chemistry = composer.chemistry();
        let used = SpeciesAmounts::of(&baths, chemistry);
        let bottles = composer
            .bottled(formula)
            .into_iter()
            .map(|own| {
                let brought = SpeciesAmounts::of(std::slice::from_ref(&own), chemistry);
                (own, brought)
            })
            .collect();
        let most_water = |baths: &[Bath]| baths.iter().map(water).fold(0.0, f64::max);
        let thinnest =
            formula.uses.iter().map(|listed_use| most_water(&listed_use.baths)).fold(0.0, f64::max);
        Self { formula, composer, used, bottles, thinnest, first_water: most_water(first), baths }
    }

    /// The figure of that name; none where it is not known, or there is no such figure.
    pub(crate) fn value(&self, name: &str) -> Option<f64> {
        if let Some(species) = name.strip_prefix("mol:") {
            return self.composer.chemistry().named(species).map(|_| self.used.moles(species));
        }
        if let Some(species) = name.strip_prefix("bottled:") {
            self.composer.chemistry().named(species)?;
            return Some(self.bottles.iter().map(|(_, own)| own.moles(species)).fold(0.0, f64::max));
        }
        if let Some(parent) = name.strip_prefix("g:") {
            let grams = |composition: &Composition| {
                composition.component(parent).map_or(Some(0.0), |component| component.grams_per_litre)
            };
            return self.baths.iter().map(grams).sum();
        }
        Some(match name {
            "sulfite" => sulfite_g(&self.baths, self.composer),
            "bottled sulfite" => {
                let all = self.bottles.iter().map(|(_, own)| own.moles("sulfite"));
                all.fold(0.0, f64::max) * SODIUM_SULFITE_G_PER_MOL
            }
            "agents" => return self.agents_g(),
            "water" => self.first_water,
            "thinnest" => self.thinnest,
            "baths" => count(self.baths.len()),
            "degrees" => return self.formula.uses.first().and_then(|listed_use| listed_use.temperature_c),
            "parts" => count(self.formula.parts.len()),
            "chemicals" => count(self.parents().len()),
            "poisons" => count(self.poisons()),
            "warned" => count(self.warned()),
            "solvent" => f64::from(u8::from(self.formula.parts.iter().any(|part| part.solvent.is_some()))),
            "days" => return self.days(),
            "days unknown" => f64::from(u8::from(self.days().is_none())),
            "published" => f64::from(u8::from(self.formula.evidence.kind == EvidenceKind::Published)),
            "reused" => f64::from(u8::from(self.formula.replenishment.is_some())),
            _ => return None,
        })
    }

    /// Developing agents of all baths, g/L.
    fn agents_g(&self) -> Option<f64> {
        self.baths
            .iter()
            .flat_map(|bath| &bath.components)
            .filter(|own| own.role == Some(Role::DevelopingAgent))
            .map(|own| own.grams_per_litre)
            .sum()
    }

    /// Chemicals of all parts, water left out.
    fn parents(&self) -> Vec<&str> {
        let mut all: Vec<&str> =
            self.formula.ingredients().map(|ingredient| ingredient.form.parent.id.as_str()).collect();
        all.extend(
            self.formula.parts.iter().filter_map(|part| Some(part.solvent.as_ref()?.parent.id.as_str())),
        );
        all.retain(|own| *own != "water");
        all.sort_unstable();
        all.dedup();
        all
    }

    fn poisons(&self) -> usize {
        let grave = |ingredient: &&Ingredient| states(ingredient, GRAVE);
        self.formula.ingredients().filter(grave).count()
    }

    /// Chemicals of all parts that are grave, harm fertility or the unborn, or harm both swallowed and through the skin (oxalates); one
    /// more where a caution of the formula speaks of poison.
    fn warned(&self) -> usize {
        let warned = |own: &&Ingredient| {
            states(own, GRAVE) || states(own, UNBORN) || (states(own, &["H302"]) && states(own, &["H312"]))
        };
        let cautions = self.formula.cautions.always.iter().chain(&self.formula.cautions.choosing);
        let told = cautions
            .map(|cautions| cautions.to_lowercase())
            .any(|own| own.contains("poison") || own.contains("toxic"));
        self.formula.ingredients().filter(warned).count() + usize::from(told)
    }

    /// Days in a full bottle, of the part that keeps shortest.
    fn days(&self) -> Option<f64> {
        let all = self.formula.parts.iter().filter_map(|part| part.keeping.full_bottle_days);
        all.fold(None, |least: Option<f64>, own| Some(least.map_or(own, |least| least.min(own))))
    }
}

/// Parts of water to one part of what is bottled.
fn water(bath: &Bath) -> f64 {
    let stock: f64 = bath.shares.iter().map(|(_, share)| share).sum();
    if stock > 0.0 { bath.water / stock } else { 0.0 }
}

/// Sulfite of the bath that holds most, as anhydrous sodium sulfite, g/L.
fn sulfite_g(baths: &[Composition], composer: &Composer<'_>) -> f64 {
    let moles = |composition: &Composition| {
        SpeciesAmounts::of(std::slice::from_ref(composition), composer.chemistry()).moles("sulfite")
    };
    baths.iter().map(moles).fold(0.0, f64::max) * SODIUM_SULFITE_G_PER_MOL
}

fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(f64::MAX, f64::from)
}
