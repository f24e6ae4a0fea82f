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

use crate::composition::brought::{Brought, STAND_IN_G_PER_MOL};
use crate::composition::{Analyst, Composition, first_baths};
use crate::formula::{Bath, Formula};
use crate::substance::Role;

/// Distance between one bath and several, all else equal.
pub const BATH_COUNT_COST: f64 = 5.0;
/// Distance between baths that do different work, all else equal.
pub const OTHER_WORK_COST: f64 = 8.0;
/// Share of a species' weight that tells its chemicals apart where they are alike but not the same.
const TELL_APART_SHARE: f64 = 0.2;

/// How much a species of a role matters.
pub fn weight(role: Option<Role>) -> f64 {
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
pub enum Work {
    /// Makes a layer sensitive.
    Sensitises,
    /// Develops.
    Develops,
    /// Bleaches or reduces.
    Bleaches,
    /// Tones.
    Tones,
    /// Fixes.
    Fixes,
    /// Hardens.
    Hardens,
    /// Stops or clears by acid.
    Acidifies,
    /// Anything else.
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
pub struct Profile {
    work: Work,
    amounts: BTreeMap<String, f64>,
}

impl Profile {
    /// The point of one composition.
    pub fn of(composition: &Composition, analyst: &Analyst<'_>) -> Self {
        Self::of_sum(std::slice::from_ref(composition), analyst)
    }

    /// The point of several baths together, as a film meets them one after the other.
    fn of_sum(compositions: &[Composition], analyst: &Analyst<'_>) -> Self {
        let chemistry = analyst.chemistry();
        let mut profile = Self::default();
        for component in compositions.iter().flat_map(|own| &own.components) {
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
        let brought = Brought::of(compositions, chemistry);
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

    /// The main work of the bath.
    pub fn work(&self) -> Work {
        self.work
    }

    /// Squared distance to another point.
    fn squared(&self, other: &Self) -> f64 {
        let other_work = if self.work == other.work { 0.0 } else { OTHER_WORK_COST.powi(2) };
        other_work + self.differences(other).map(|(_, difference)| difference * difference).sum::<f64>()
    }

    /// Distance to another point.
    pub fn distance(&self, other: &Self) -> f64 {
        self.squared(other).sqrt()
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
    fn of(baths: &[Composition], analyst: &Analyst<'_>) -> Self {
        Self {
            baths: baths.iter().map(|bath| Profile::of(bath, analyst)).collect(),
            together: Profile::of_sum(baths, analyst),
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
pub enum Strength {
    /// As bottled.
    Bottled,
    /// As first used.
    Used,
}

impl Strength {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Bottled => "as bottled",
            Self::Used => "as used",
        }
    }
}

/// A solution that others are compared with.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    bottled: Sequence,
    used: Sequence,
}

impl Point {
    /// Of a formula.
    pub fn of_formula(formula: &Formula, analyst: &Analyst<'_>) -> Self {
        let baths = first_baths(formula);
        let strong: Vec<Bath> = baths.iter().map(|bath| Bath { water: 0.0, ..bath.clone() }).collect();
        let mixed = |baths: &[Bath]| -> Vec<Composition> {
            baths.iter().map(|bath| analyst.bath(formula, bath)).collect()
        };
        Self { bottled: Sequence::of(&mixed(&strong), analyst), used: Sequence::of(&mixed(&baths), analyst) }
    }

    /// Of a composition typed or measured, which is bottled and used as it is.
    pub fn of_composition(composition: &Composition, analyst: &Analyst<'_>) -> Self {
        let sequence = Sequence::of(std::slice::from_ref(composition), analyst);
        Self { bottled: sequence.clone(), used: sequence }
    }

    /// The distance to another, and at which strength it was found.
    pub fn distance(&self, other: &Self) -> (f64, Strength) {
        let bottled = self.bottled.distance(&other.bottled);
        let used = self.used.distance(&other.used);
        if used < bottled { (used, Strength::Used) } else { (bottled, Strength::Bottled) }
    }

    /// The species that differ most, largest first, at the nearer strength.
    fn differences(&self, other: &Self, strength: Strength, most: usize) -> Vec<Difference> {
        let together = |point: &Self| match strength {
            Strength::Bottled => point.bottled.together.clone(),
            Strength::Used => point.used.together.clone(),
        };
        let (own, theirs) = (together(self), together(other));
        let mut all: Vec<Difference> = own
            .differences(&theirs)
            .filter(|(_, amount)| amount.abs() > 0.05)
            .map(|(species, amount)| Difference { species: species.to_owned(), amount })
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
pub struct Difference {
    /// Name of the species or chemical.
    pub species: String,
    /// Its share of the distance before squaring; positive where the other solution has more.
    pub amount: f64,
}

/// A formula near the one asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Near<'a> {
    /// The formula.
    pub formula: &'a Formula,
    /// Its distance; 0 is the same bath, 1 an agent doubled.
    pub distance: f64,
    /// Whether the bottles or the baths are that near.
    pub strength: Strength,
    /// What makes the distance, largest first, three at most.
    pub differences: Vec<Difference>,
}

/// Formulas by distance from a solution, nearest first, ties by id.
pub fn nearest<'a>(
    to: &Point,
    formulas: impl IntoIterator<Item = &'a Formula>,
    analyst: &Analyst<'_>,
) -> Vec<Near<'a>> {
    let mut all: Vec<Near<'a>> = formulas
        .into_iter()
        .map(|formula| {
            let point = Point::of_formula(formula, analyst);
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
mod tests {
    use super::*;
    use crate::composition::typed;
    use crate::library::Library;

    /// Everything that the tests ask of the shipped library, read once.
    struct Bench {
        library: Library,
        formulas: Vec<Formula>,
    }

    impl Bench {
        fn new() -> Self {
            let library = Library::shipped();
            let formulas = library.formulas().unwrap().0.into_iter().map(|found| found.formula).collect();
            Self { library, formulas }
        }

        fn near(&self, to: &str, count: usize) -> Vec<String> {
            let analyst = Analyst::new(&self.library);
            let point = if typed::looks_typed(to) {
                Point::of_composition(&typed::parse(to, &analyst).unwrap(), &analyst)
            } else {
                Point::of_formula(self.formulas.iter().find(|formula| formula.id == to).unwrap(), &analyst)
            };
            nearest(&point, &self.formulas, &analyst)
                .iter()
                .take(count)
                .map(|near| near.formula.id.clone())
                .collect()
        }

        fn distance(&self, one: &str, other: &str) -> f64 {
            let analyst = Analyst::new(&self.library);
            let point = |id: &str| {
                Point::of_formula(self.formulas.iter().find(|formula| formula.id == id).unwrap(), &analyst)
            };
            point(one).distance(&point(other)).0
        }

        fn typed(&self, one: &str, other: &str) -> f64 {
            let analyst = Analyst::new(&self.library);
            let point = |text: &str| Point::of_composition(&typed::parse(text, &analyst).unwrap(), &analyst);
            point(one).distance(&point(other)).0
        }
    }

    /// All of `members` come before all others when looking from any of them.
    fn assert_family(bench: &Bench, members: &[&str]) {
        for member in members {
            let near = bench.near(member, members.len());
            for other in members {
                assert!(
                    near.iter().any(|id| id == other),
                    "{other} is not among the nearest to {member}: {near:?}"
                );
            }
        }
    }

    #[test]
    fn the_same_bath_is_at_zero_and_the_way_back_is_as_far() {
        let bench = Bench::new();
        let analyst = Analyst::new(&bench.library);
        let points: Vec<Point> =
            bench.formulas.iter().map(|formula| Point::of_formula(formula, &analyst)).collect();
        for (place, one) in points.iter().enumerate() {
            assert!(one.distance(one).0.abs() < 1e-12, "{}", bench.formulas[place].id);
            for other in &points {
                let (there, back) = (one.distance(other).0, other.distance(one).0);
                assert!(there.is_finite() && (there - back).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn one_strength_alone_keeps_the_triangle() {
        let bench = Bench::new();
        let analyst = Analyst::new(&bench.library);
        let points: Vec<Profile> = bench
            .formulas
            .iter()
            .step_by(4)
            .map(|formula| Profile::of_sum(&analyst.bottled(formula), &analyst))
            .collect();
        for one in &points {
            for other in &points {
                for third in &points {
                    assert!(one.distance(other) <= one.distance(third) + third.distance(other) + 1e-9);
                }
            }
        }
    }

    #[test]
    fn hydrates_counter_ions_and_ways_of_mixing_make_no_difference() {
        let bench = Bench::new();
        // Masses of one mole each: molmass 2026.1.8.
        for (one, other) in [
            ("sodium-carbonate-anhydrous=10.5988", "sodium-carbonate-decahydrate=28.6141"),
            ("sodium-carbonate-anhydrous=10.5988", "sodium-carbonate-monohydrate=12.4004"),
            ("borax-decahydrate=3.81372", "borax-pentahydrate=2.91296"),
            ("sodium-thiosulfate-pentahydrate=248.184", "sodium-thiosulfate-anhydrous=158.107"),
            // 1 mol of sodium hydroxide and 1 mol of bicarbonate are 1 mol of carbonate.
            ("sodium-bicarbonate=8.4007,sodium-hydroxide=3.9997", "sodium-carbonate-anhydrous=10.5988"),
            // 1 mol of metabisulfite and 2 mol of hydroxide are 2 mol of sulfite.
            ("sodium-metabisulfite=19.0106,sodium-hydroxide=7.9994", "sodium-sulfite-anhydrous=25.2086"),
            // 1 mol of borax and 2 mol of hydroxide are 4 mol of metaborate.
            ("borax-decahydrate=38.1372,sodium-hydroxide=7.9994", "sodium-metaborate-tetrahydrate=55.144"),
            ("potassium-bromide=1.19002", "sodium-bromide=1.02894"),
        ] {
            let distance = bench.typed(one, other);
            assert!(distance < 0.002, "{one} and {other}: {distance}");
        }
    }

    #[test]
    fn kin_are_told_apart_but_stay_kin() {
        let bench = Bench::new();
        // 2 mmol of each: 162.188 and 190.242 g/mol (IUPAC 2021).
        let kin = bench.typed("phenidone=0.3244", "dimezone=0.3805");
        let stranger = bench.typed("phenidone=0.3244", "metol=0.6888");
        assert!(kin > 0.2 && kin < stranger / 2.0, "{kin} and {stranger}");
    }

    #[test]
    fn a_typed_composition_finds_its_formula_by_stock_and_by_working_strength() {
        let bench = Bench::new();
        let classic = "metol=2,sodium-sulfite-anhydrous=100,hydroquinone=5,borax-decahydrate=2";
        assert_eq!(bench.near(classic, 1), ["mq-borax-classic"]);
        // A chemist told the same in crystals.
        let crystals = "metol=2g,sodium-sulfite-heptahydrate=200,hydroquinone=5,borax-decahydrate=2";
        assert_eq!(bench.near(crystals, 1), ["mq-borax-classic"]);
        let stock = "metol=3,sodium-sulfite-anhydrous=45,hydroquinone=12,sodium-carbonate-anhydrous=67.5,potassium-bromide=1.9";
        assert_eq!(bench.near(stock, 1), ["mq-carbonate-neutral-paper-developer"]);
        let working = "metol=1,sodium-sulfite-anhydrous=15,hydroquinone=4,sodium-carbonate-anhydrous=22.5,potassium-bromide=0.633";
        assert_eq!(bench.near(working, 1), ["mq-carbonate-neutral-paper-developer"]);
    }

    #[test]
    fn metol_hydroquinone_borax_developers_are_a_family() {
        let bench = Bench::new();
        // The nearest ten to the classic are all of metol, hydroquinone, much sulfite and borax or metaborate.
        for id in bench.near("mq-borax-classic", 10) {
            assert!(id.starts_with("mq-borax") || id.starts_with("mq-metaborate"), "{id}");
        }
        assert_family(&bench, &["mq-borax-boric-acid-buffered", "mq-borax-less-boric-acid"]);
        assert_family(
            &bench,
            &[
                "mq-borax-bromide-80-sulfite",
                "mq-borax-bromide-80-sulfite-stronger",
                "mq-metaborate-bromide-80-sulfite",
            ],
        );
        // Without hydroquinone it is further off than with boric acid; carbonate is further off than metaborate.
        let from_classic = |id: &str| bench.distance("mq-borax-classic", id);
        assert!(
            from_classic("metol-sulfite-borax-without-hydroquinone")
                > from_classic("mq-borax-boric-acid-buffered")
        );
        assert!(from_classic("mq-carbonate-tray-tank") > from_classic("mq-metaborate-studio"));
    }

    #[test]
    fn other_families_of_film_developers_are_neighbours() {
        let bench = Bench::new();
        for id in bench.near("metol-sulfite", 9) {
            assert!(id.starts_with("metol-"), "{id}");
        }
        assert_family(
            &bench,
            &[
                "pq-borax-buffered",
                "pq-borax-75-sulfite",
                "pq-borax-85-sulfite",
                "pq-borax-100-sulfite-bisulfite",
            ],
        );
        assert_family(
            &bench,
            &[
                "two-bath-metol-sulfite-borax",
                "two-bath-metol-sulfite-metaborate",
                "two-bath-metol-sulfite-metaborate-sulfite",
            ],
        );
        assert_family(
            &bench,
            &[
                "p-aminophenol-potassium-hydroxide-concentrate",
                "p-aminophenol-sodium-hydroxide-concentrate",
                "p-aminophenol-from-paracetamol",
            ],
        );
        assert_family(
            &bench,
            &[
                "coffee-carbonate-ascorbate",
                "coffee-carbonate-ascorbate-bromide",
                "coffee-carbonate-ascorbate-stand",
            ],
        );
        assert_family(&bench, &["hydroquinone-potash-two-solution", "hydroquinone-hydroxide-two-solution"]);
        // Caustic potash and caustic soda, mole for mole, are the same bath.
        let caustic = bench.distance(
            "p-aminophenol-potassium-hydroxide-concentrate",
            "p-aminophenol-sodium-hydroxide-concentrate",
        );
        assert!(caustic < 0.01, "{caustic}");
    }

    #[test]
    fn pyro_is_near_pyro() {
        let bench = Bench::new();
        let pyro = [
            "pyro-soda-tank",
            "pyro-soda-average",
            "pyro-soda-sensitometry-standard",
            "pyro-sulfite-carbonate-abc",
        ];
        assert_family(&bench, &pyro);
        for from in ["pyro-soda-tank", "pyro-metol-metaborate-staining", "pyro-metol-sulfite-carbonate-abc"] {
            for id in bench.near(from, 5) {
                assert!(id.contains("pyro-"), "{from}: {id}");
            }
        }
    }

    #[test]
    fn carbonate_paper_developers_are_a_family() {
        let bench = Bench::new();
        for from in ["mq-carbonate-neutral-paper-developer", "mq-carbonate-warm-tone-paper-developer"] {
            for id in bench.near(from, 6) {
                assert!(id.starts_with("mq-"), "{from}: {id}");
                assert!(!id.contains("borax") && !id.contains("metaborate"), "{from}: {id}");
            }
        }
        assert_family(
            &bench,
            &[
                "mq-carbonate-neutral-paper-developer",
                "mq-cold-tone-chloride-45-sulfite-paper-developer",
                "mq-cold-tone-chloride-paper-developer",
            ],
        );
        assert_family(
            &bench,
            &[
                "amidol-sulfite-paper-developer",
                "amidol-sulfite-stock-1910",
                "amidol-sulfite-120-stock-paper-developer",
            ],
        );
    }

    #[test]
    fn fixers_are_near_fixers_and_stop_baths_near_stop_baths() {
        let bench = Bench::new();
        let is_fixer = |id: &str| id.contains("fixer");
        for (from, count) in [
            ("thiosulfate-metabisulfite-acid-fixer", 8),
            ("acid-hardening-alum-boric-fixer", 8),
            ("plain-thiosulfate-fixer", 3),
        ] {
            for id in bench.near(from, count) {
                assert!(is_fixer(&id), "{from}: {id}");
            }
        }
        assert_family(
            &bench,
            &[
                "acid-hardening-alum-boric-fixer",
                "acid-hardening-alum-boric-strong-fixer",
                "odourless-metaborate-alum-hardening-fixer",
            ],
        );
        for id in bench.near("acetic-acid-stop-bath", 5) {
            // An acid clearing bath of iron prints is, by what is in it, a stop bath.
            assert!(id.ends_with("stop-bath") || id.contains("clearing-bath"), "{id}");
        }
        let stops = bench.near("acetic-sulfate-non-swelling-stop-bath", 5);
        let stops: Vec<_> = stops.iter().filter(|id| id.ends_with("stop-bath")).collect();
        assert_eq!(stops.get(1).map(|id| id.as_str()), Some("acetic-acid-stop-bath"), "{stops:?}");
        // A developer of another agent is nearer to a developer than anything that does not develop.
        let analyst = Analyst::new(&bench.library);
        let amidol =
            bench.formulas.iter().find(|formula| formula.id == "amidol-sulfite-paper-developer").unwrap();
        let ranked = nearest(&Point::of_formula(amidol, &analyst), &bench.formulas, &analyst);
        for near in ranked.iter().take(30) {
            assert!(
                near.formula.kind.is_developer() || near.formula.id.contains("intensifier"),
                "{}",
                near.formula.id
            );
        }
    }

    #[test]
    fn a_distance_says_what_makes_it() {
        let bench = Bench::new();
        let analyst = Analyst::new(&bench.library);
        let find = |id: &str| bench.formulas.iter().find(|formula| formula.id == id).unwrap();
        let ranked = nearest(
            &Point::of_formula(find("mq-borax-classic"), &analyst),
            [find("mq-borax-bromide-80-sulfite")],
            &analyst,
        );
        let told: Vec<(&str, bool)> =
            ranked[0].differences.iter().map(|own| (own.species.as_str(), own.amount > 0.0)).collect();
        assert_eq!(told, [("bromide", true), ("hydroquinone", false), ("metol", false)]);
        assert_eq!(ranked[0].strength, Strength::Bottled);
    }
}
