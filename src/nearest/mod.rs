//! How far apart two solutions are in composition, and which formulas are nearest to one.
//!
//! **What is compared.** Both as bottled (parts of one bath mixed in their proportion, without water) and as first used (with its water);
//! the smaller of the two distances counts, so that a stock is found by its stock and by its working strength. Replenishers and others
//! without a use are used as bottled; several parts without a use are taken in equal volumes. Optional ingredients count.
//!
//! **Species.** Chemicals are turned into what they bring (`tables/composition.toml`): both carbonates bring carbonate, metabisulfite
//! brings two sulfite and two acid, borax brings four boron and two equivalents of alkali. So hydrates and counter-ions make no
//! difference. Acid is then set against hydroxide, carbonate, borate and triethanolamine in this order, and hydroxide that is left turns
//! boric acid into metaborate and bicarbonate into carbonate, because that is the bath that results. A chemical without molar mass
//! counts as [`STAND_IN_G_PER_MOL`]; one whose grams are unknown is left out.
//!
//! **Distance.** For each species i of concentration c (mol/L) with threshold εᵢ, xᵢ = wᵢ · log₂(1 + c/εᵢ), and
//!
//! d = √ ( Σ (xᵢ − yᵢ)² + W² if the baths do different work )
//!
//! Well above the threshold a doubling of an agent (w = 1) moves a solution by 1; below it hardly anything matters; absence against
//! presence costs w times the doublings from the threshold. The weights by role ([`weight`]) say what changes a bath's character: agents,
//! fixing agents, bleaches and toners 1, preservative 0.8, alkali and silver solvent 0.7, acid and hardener 0.6, restrainer 0.5, antifoggant 0.4,
//! buffer 0.35, and little for sequestrants, wetting agents and solvents. The main work of a bath ([`Work`]) is read off its contents, and
//! W is [`OTHER_WORK_COST`]. It is Euclidean, so symmetric and zero for the same bath. Baths used one after the other are compared in their
//! order, their squares added; a different number of baths costs [`BATH_COUNT_COST`] beside the distance of all baths together.
//!
//! Thresholds and weights are judgement (no source): they were set so that families of the trade come out as neighbours, which the tests hold.

use std::collections::BTreeMap;

use crate::composition::brought::{STAND_IN_G_PER_MOL, SpeciesAmounts};
use crate::composition::{Composer, Composition, first_baths};
use crate::formula::{Bath, Formula};
use crate::substance::Role;

/// Distance between one bath and several, all else equal.
pub(crate) const BATH_COUNT_COST: f64 = 5.0;
/// Distance between baths that do different work, all else equal.
pub(crate) const OTHER_WORK_COST: f64 = 8.0;
/// Share of a species' weight that tells its chemicals apart where they are alike but not the same.
const TELL_APART_SHARE: f64 = 0.2;

/// How much a species of a role matters.
pub(crate) fn weight(role: Option<Role>) -> f64 {
    match role {
        Some(
            Role::DevelopingAgent
            | Role::FixingAgent
            | Role::Bleach
            | Role::Oxidiser
            | Role::Toner
            | Role::SilverSource
            | Role::Sensitiser,
        ) => 1.0,
        Some(Role::Preservative) => 0.8,
        Some(Role::Alkali | Role::SilverSolvent) => 0.7,
        Some(Role::Acid | Role::Hardener) => 0.6,
        Some(Role::Restrainer | Role::Cleaner | Role::Colloid | Role::Catalyst) => 0.5,
        Some(Role::Antifoggant | Role::HalideSource | Role::Accelerator | Role::Stabiliser) => 0.4,
        Some(Role::Buffer) => 0.35,
        Some(Role::SwellingControl) => 0.25,
        Some(Role::Sequestrant | Role::Solvent) => 0.15,
        Some(Role::WettingAgent) => 0.1,
        Some(Role::Indicator) | None => 0.3,
    }
}

/// Threshold in mol/L of a chemical that has no row of its own.
fn usual_threshold(role: Option<Role>) -> f64 {
    match role {
        Some(Role::DevelopingAgent) => 0.0005,
        Some(Role::Solvent) => 0.1,
        Some(Role::SwellingControl | Role::Preservative) => 0.05,
        Some(Role::Acid | Role::FixingAgent | Role::Buffer | Role::Alkali) => 0.005,
        Some(Role::Antifoggant) => 0.0001,
        _ => 0.001,
    }
}

/// The main work of a bath, read off its contents: the first of these that it has the chemicals for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) enum Work {
    /// Makes a layer sensitive.
    Sensitises,
    Develops,
    /// Bleaches or reduces.
    Bleaches,
    Tones,
    Fixes,
    Hardens,
    /// Stops or clears by acid.
    Acidifies,
    #[default]
    Other,
}

impl Work {
    /// The work that a role does.
    fn of_role(role: Role) -> Self {
        match role {
            Role::SilverSource | Role::Sensitiser => Self::Sensitises,
            Role::DevelopingAgent => Self::Develops,
            Role::Bleach | Role::Oxidiser => Self::Bleaches,
            Role::Toner => Self::Tones,
            Role::FixingAgent => Self::Fixes,
            Role::Hardener => Self::Hardens,
            Role::Acid => Self::Acidifies,
            _ => Self::Other,
        }
    }
}

/// A bath as a point: its work, and a weighted log amount for each species.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Profile {
    work: Work,
    amounts: BTreeMap<String, f64>,
}

impl Profile {
    /// The point of one composition.
    pub(crate) fn of(composition: &Composition, composer: &Composer<'_>) -> Self {
        Self::of_sum(std::slice::from_ref(composition), composer)
    }

    /// The point of several baths together, as a film meets them one after the other.
    fn of_sum(compositions: &[Composition], composer: &Composer<'_>) -> Self {
        let chemistry = composer.chemistry();
        let mut profile = Self::default();
        for component in compositions.iter().flat_map(|composition| &composition.components) {
            let counted = component.grams_per_litre.map(|grams| grams / STAND_IN_G_PER_MOL);
            let Some(moles) = component.moles_per_litre.or(counted) else { continue };
            let parent = component.parent.id.as_str();
            let mut has_row = false;
            for (species, _) in chemistry.brought_by(parent) {
                has_row = true;
                if species.tell_apart {
                    let own_weight = TELL_APART_SHARE * weight(Some(species.role));
                    profile.add(parent, None, own_weight, doublings(moles, species.threshold));
                }
            }
            if !has_row {
                let role = component.parent.roles.first().copied();
                profile.add(parent, role, weight(role), doublings(moles, usual_threshold(role)));
            }
        }
        let brought = SpeciesAmounts::of(compositions, chemistry);
        for (name, moles) in brought.all().filter(|(_, moles)| *moles > 0.0) {
            if let Some(species) = chemistry.named(name) {
                let own_weight = species.weight.unwrap_or_else(|| weight(Some(species.role)));
                profile.add(name, Some(species.role), own_weight, doublings(moles, species.threshold));
            }
        }
        profile
    }

    /// Adds a species; at more than its threshold it may decide the work of the bath.
    fn add(&mut self, name: &str, role: Option<Role>, own_weight: f64, doublings: f64) {
        *self.amounts.entry(name.to_owned()).or_default() += own_weight * doublings;
        if let Some(role) = role.filter(|_| doublings > 1.0) {
            self.work = self.work.min(Work::of_role(role));
        }
    }

    /// Squared distance to another point.
    fn squared(&self, other: &Self) -> f64 {
        let other_work = if self.work == other.work { 0.0 } else { OTHER_WORK_COST.powi(2) };
        other_work + self.differences(other).map(|(_, difference)| difference * difference).sum::<f64>()
    }

    /// What differs, by species: positive where `other` has more.
    fn differences<'a>(&'a self, other: &'a Self) -> impl Iterator<Item = (&'a str, f64)> {
        let of_self = self
            .amounts
            .iter()
            .map(|(name, own)| (name.as_str(), other.amounts.get(name).unwrap_or(&0.0) - own));
        let only_other = other.amounts.iter().filter(|(name, _)| !self.amounts.contains_key(*name));
        of_self.chain(only_other.map(|(name, theirs)| (name.as_str(), *theirs)))
    }
}

/// log₂(1 + c/ε).
fn doublings(moles: f64, threshold: f64) -> f64 {
    (moles.max(0.0) / threshold).ln_1p() / std::f64::consts::LN_2
}

/// The baths of a solution in their order, and all of them together.
#[derive(Debug, Clone, PartialEq)]
struct Sequence {
    baths: Vec<Profile>,
    together: Profile,
}

impl Sequence {
    fn of(baths: &[Composition], composer: &Composer<'_>) -> Self {
        Self {
            baths: baths.iter().map(|bath| Profile::of(bath, composer)).collect(),
            together: Profile::of_sum(baths, composer),
        }
    }

    fn distance(&self, other: &Self) -> f64 {
        if self.baths.len() == other.baths.len() {
            return self
                .baths
                .iter()
                .zip(&other.baths)
                .map(|(own, theirs)| own.squared(theirs))
                .sum::<f64>()
                .sqrt();
        }
        self.together.squared(&other.together).sqrt().hypot(BATH_COUNT_COST)
    }
}

/// Which strength of two solutions was nearer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StrengthCompared {
    Bottled,
    /// As first used.
    Used,
}

impl StrengthCompared {
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Bottled => "as bottled",
            Self::Used => "as used",
        }
    }
}

/// A solution that others are compared with.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Point {
    bottled: Sequence,
    used: Sequence,
}

impl Point {
    pub(crate) fn of_formula(formula: &Formula, composer: &Composer<'_>) -> Self {
        let baths = first_baths(formula);
        let strong: Vec<Bath> = baths.iter().map(|bath| Bath { water: 0.0, ..bath.clone() }).collect();
        let mixed = |baths: &[Bath]| -> Vec<Composition> {
            baths.iter().map(|bath| composer.bath(formula, bath)).collect()
        };
        Self {
            bottled: Sequence::of(&mixed(&strong), composer),
            used: Sequence::of(&mixed(&baths), composer),
        }
    }

    /// Of a composition typed or measured, which is bottled and used as it is.
    pub(crate) fn of_composition(composition: &Composition, composer: &Composer<'_>) -> Self {
        let sequence = Sequence::of(std::slice::from_ref(composition), composer);
        Self { bottled: sequence.clone(), used: sequence }
    }

    /// The distance to another, and at which strength it was found.
    pub(crate) fn distance(&self, other: &Self) -> (f64, StrengthCompared) {
        let bottled = self.bottled.distance(&other.bottled);
        let used = self.used.distance(&other.used);
        if used < bottled { (used, StrengthCompared::Used) } else { (bottled, StrengthCompared::Bottled) }
    }

    /// The species that differ most, largest first, at the nearer strength.
    fn differences(&self, other: &Self, strength: StrengthCompared, most: usize) -> Vec<SpeciesDifference> {
        let together = |point: &Self| match strength {
            StrengthCompared::Bottled => point.bottled.together.clone(),
            StrengthCompared::Used => point.used.together.clone(),
        };
        let (own, theirs) = (together(self), together(other));
        let mut all: Vec<SpeciesDifference> = own
            .differences(&theirs)
            .filter(|(_, amount)| amount.abs() > 0.05)
            .map(|(species, amount)| SpeciesDifference { species: species.to_owned(), amount })
            .collect();
        all.sort_by(|left, right| {
            right.amount.abs().total_cmp(&left.amount.abs()).then(left.species.cmp(&right.species))
        });
        all.truncate(most);
        all
    }
}

/// One species that makes a distance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SpeciesDifference {
    /// Name of the species or chemical.
    pub species: String,
    /// Its share of the distance before squaring; positive where the other solution has more.
    pub amount: f64,
}

/// A formula near the one asked for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Near<'a> {
    pub formula: &'a Formula,
    /// Its distance; 0 is the same bath, 1 an agent doubled.
    pub distance: f64,
    /// Whether the bottles or the baths are that near.
    pub strength: StrengthCompared,
    /// What makes the distance, largest first, three at most.
    pub differences: Vec<SpeciesDifference>,
}

/// Formulas by distance from a solution, nearest first, ties by id.
pub(crate) fn nearest<'a>(
    to: &Point,
    formulas: impl IntoIterator<Item = &'a Formula>,
    composer: &Composer<'_>,
) -> Vec<Near<'a>> {
    let mut all: Vec<Near<'a>> = formulas
        .into_iter()
        .map(|formula| {
            let point = Point::of_formula(formula, composer);
            let (distance, strength) = to.distance(&point);
            Near { formula, distance, strength, differences: to.differences(&point, strength, 3) }
        })
        .collect();
    all.sort_by(|left, right| {
        left.distance.total_cmp(&right.distance).then(left.formula.id.cmp(&right.formula.id))
    });
    all
}

#[cfg(test)]
mod tests;
