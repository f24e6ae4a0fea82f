//! How near a solution is to saturation, substance by substance, from published curves of the substance alone in water.
//!
//! What the data do not hold: common ions (sodium sulfite beside sodium carbonate dissolves less than either alone), salting out, and
//! what an acid or base becomes in the bath. So a margin is an upper limit, and a substance of which less than half is still what was weighed (by the
//! prediction) has no limit here. Where the curve does not reach the temperature, the nearest point bounds it from one side, on the
//! footing that more dissolves in warmer water; sodium sulfite above 33 °C is the exception, and its curve reaches far enough. Within 10 K it
//! bounds it from the other side, too: the steepest curve of the data doubles in 9 K, and twice as steep a one is allowed for.
//!
//! A limit is found as grams per litre of solution: the amount that fills the water left beside it, with everything else in place.
//! Volumes are those of the model's components; where they are not known, the crystals' own.
//!
//! The cupboard stands at 18 °C, or `--temp` where that is colder; a warm bath does not warm the bottle. The steepest curve of the
//! data doubles in 9 K, and twice as steep a one is allowed for.

use std::sync::Arc;

use super::{additions, equilibrium_row, is_solvent};
use crate::solution::{
    Addition, Equilibria, Prediction, WATER_G_PER_MOL, grams_per_100_g_water, predict, water_in_a_litre,
};
use crate::substance::chemical_formula::AtomicWeights;
use crate::substance::{Form, State};
use crate::vessel::Content;

/// mL that a gram of a solid of unknown density takes up in solution; a middle of organic solids, no source.
const UNKNOWN_ML_PER_G: f64 = 0.7;
/// Most grams per litre that are looked for.
const MOST_G_PER_L: f64 = 3000.0;
/// Margin under which a solution counts as close to saturation.
pub(crate) const CLOSE: f64 = 0.15;
/// Share still as weighed under which a substance counts as turned into something else.
const STILL_ITSELF: f64 = 0.5;
/// Share of its boron as metaborate above which borax counts as turned into that; borax itself has half.
const NO_BORAX: f64 = 0.9;

/// Share of its own solubility up to which an acid turned into its salt surely stays dissolved: the salts in the data dissolve at least a
/// third as well as their acids (sulfite against metabisulfite is the poorest), and a judgement on top of that.
pub(super) const SURE_AS_SALT: f64 = 0.2;

/// How far from a figure it still bounds from both sides, K.
const BOUNDS_WITHIN_K: f64 = 10.0;
/// In so many K a solubility at most doubles: half of what the steepest curve of the data takes (disodium phosphate, 10 to 20 °C).
const DOUBLES_IN_K: f64 = 4.5;

/// By how many times a solubility may at most differ over a difference of temperature; none where that is too far.
pub(super) fn at_most_times(kelvin: f64) -> Option<f64> {
    (kelvin.abs() <= BOUNDS_WITHIN_K).then(|| 2_f64.powf(kelvin.abs() / DOUBLES_IN_K))
}

/// What an acid or base is while it is what was weighed: parent, species, its component, and what it becomes. Of borax, which has no
/// species of its own, what it turns into.
const AS_WEIGHED: &[(&str, &str, &str, TurnsInto)] = &[
    ("borax", "B(OH)4-", "B(OH)3", TurnsInto::Salt),
    ("boric-acid", "B(OH)3", "B(OH)3", TurnsInto::Salt),
    ("hydroquinone", "hydroquinone", "hydroquinone", TurnsInto::Salt),
    ("phenidone", "phenidone", "phenidone", TurnsInto::Salt),
    ("dimezone", "dimezone", "dimezone", TurnsInto::Salt),
    ("pyrogallol", "pyrogallol", "pyrogallol", TurnsInto::Salt),
    ("pyrocatechol", "pyrocatechol", "pyrocatechol", TurnsInto::Salt),
    ("p-aminophenol", "p-aminophenol", "p-aminophenol", TurnsInto::Salt),
    ("benzotriazole", "benzotriazole", "benzotriazole", TurnsInto::Salt),
    ("ascorbic-acid", "ascorbic acid", "ascorbate-", TurnsInto::Salt),
    ("citric-acid", "H3citrate", "citrate^3-", TurnsInto::Salt),
    ("tartaric-acid", "H2tartrate", "tartrate^2-", TurnsInto::Salt),
    ("oxalic-acid", "H2oxalate", "oxalate^2-", TurnsInto::Salt),
    // Its acid form is not among the species: baths that develop with it hold the salt.
    ("glycin", "glycin", "glycinate-", TurnsInto::Salt),
    ("metol", "metol+", "metol", TurnsInto::Base),
    ("amidol", "amidol+", "amidol", TurnsInto::Base),
    ("p-aminophenol-hydrochloride", "p-aminophenol+", "p-aminophenol", TurnsInto::Base),
    ("sodium-bisulfite", "HSO3-", "SO3^2-", TurnsInto::Salt),
    ("sodium-metabisulfite", "HSO3-", "SO3^2-", TurnsInto::Salt),
    ("potassium-metabisulfite", "HSO3-", "SO3^2-", TurnsInto::Salt),
    ("sodium-bicarbonate", "HCO3-", "CO3^2-", TurnsInto::Salt),
];

/// What an acid or base turns into in a bath of another pH.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TurnsInto {
    /// An acid into its salt, which as a rule dissolves better.
    Salt,
    /// The salt of an agent into the free base, which as a rule dissolves less.
    Base,
}

/// What is known of how much dissolves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// So many grams per litre of this solution.
    Known {
        /// g/L.
        grams_per_litre: f64,
    },
    /// At least as much as at a colder temperature, the nearest of which there is a figure.
    AtLeast {
        /// g/L.
        grams_per_litre: f64,
        /// Of that figure, °C.
        at_c: f64,
    },
    /// At most as much as at a warmer temperature, the nearest of which there is a figure.
    AtMost {
        /// g/L.
        grams_per_litre: f64,
        /// Of that figure, °C.
        at_c: f64,
    },
    /// In this bath it is no longer what was weighed.
    Changed {
        becomes: TurnsInto,
        /// How much would dissolve of it unchanged, g/L, where that is known at this temperature or near it.
        unchanged_g_per_l: Option<f64>,
    },
    /// No figure.
    NotKnown,
}

/// One substance against its solubility.
#[derive(Debug, Clone, PartialEq)]
pub struct Margin {
    pub form: Arc<Form>,
    /// In the solution, g/L; none where it cannot be told.
    pub grams_per_litre: Option<f64>,
    /// Temperature asked, °C.
    pub at_c: f64,
    /// How much dissolves at it.
    pub limit: Limit,
    /// Temperature under which its crystals come, °C; none where the data do not reach so far.
    pub saturated_at_c: Option<f64>,
}

/// What a margin comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SolubilityVerdict {
    /// Crystals will come.
    Crystals,
    /// Little room is left.
    Close,
    /// It stays dissolved.
    Dissolved,
    /// The data do not say.
    NotKnown,
}

impl Margin {
    /// What is left of the solubility: 1 for nothing dissolved, 0 at saturation, below 0 where crystals will come.
    pub fn share_left(&self) -> Option<f64> {
        match self.limit {
            Limit::Known { grams_per_litre } => {
                crate::solution::margin(self.grams_per_litre?, grams_per_litre)
            }
            _ => None,
        }
    }

    /// Grams per litre by which it is judged, where there is such a figure.
    pub fn limit_g_per_litre(&self) -> Option<f64> {
        match self.limit {
            Limit::Known { grams_per_litre }
            | Limit::AtLeast { grams_per_litre, .. }
            | Limit::AtMost { grams_per_litre, .. } => Some(grams_per_litre),
            Limit::Changed { .. } | Limit::NotKnown => None,
        }
    }

    /// What it comes to.
    pub fn verdict(&self) -> SolubilityVerdict {
        let Some(dissolved) = self.grams_per_litre else { return SolubilityVerdict::NotKnown };
        let left = |limit: f64| 1.0 - dissolved / limit;
        match self.limit {
            Limit::Known { grams_per_litre } => match left(grams_per_litre) {
                left if left < 0.0 => SolubilityVerdict::Crystals,
                left if left < CLOSE => SolubilityVerdict::Close,
                _ => SolubilityVerdict::Dissolved,
            },
            Limit::AtLeast { grams_per_litre, at_c } => {
                let most = at_most_times(self.at_c - at_c).map(|times| grams_per_litre * times);
                if left(grams_per_litre) > CLOSE {
                    SolubilityVerdict::Dissolved
                } else if most.is_some_and(|most| left(most) < 0.0) {
                    SolubilityVerdict::Crystals
                } else {
                    SolubilityVerdict::NotKnown
                }
            }
            Limit::AtMost { grams_per_litre, at_c } => {
                let least = at_most_times(self.at_c - at_c).map(|times| grams_per_litre / times);
                if left(grams_per_litre) < 0.0 {
                    SolubilityVerdict::Crystals
                } else if least.is_some_and(|least| left(least) > CLOSE) {
                    SolubilityVerdict::Dissolved
                } else if left(grams_per_litre) < CLOSE {
                    SolubilityVerdict::Close
                } else {
                    SolubilityVerdict::NotKnown
                }
            }
            Limit::Changed { becomes: TurnsInto::Salt, unchanged_g_per_l: Some(limit) }
                if dissolved <= limit * SURE_AS_SALT =>
            {
                SolubilityVerdict::Dissolved
            }
            Limit::Changed { .. } | Limit::NotKnown => SolubilityVerdict::NotKnown,
        }
    }
}

/// Every solid of a solution against its solubility at a temperature; `prediction` tells what is still what was weighed.
pub(crate) fn margins(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    list: &[Content],
    prediction: Option<&Prediction>,
    celsius: f64,
) -> Vec<Margin> {
    list.iter()
        .enumerate()
        .filter(|(_, solid)| solid.form.state == State::Solid)
        .map(|(index, solid)| {
            let limit = limit(equilibria, weights, list, index, prediction, celsius);
            let is_changed = matches!(limit, Limit::Changed { .. });
            let strength = per_100_g_added(equilibria, list, index, celsius).filter(|_| !is_changed);
            Margin {
                form: Arc::clone(&solid.form),
                grams_per_litre: solid.grams_per_litre,
                at_c: celsius,
                limit,
                saturated_at_c: strength.and_then(|strength| saturated_at_c(&solid.form, weights, strength)),
            }
        })
        .collect()
}

/// The same, with what a prediction says of acids and bases; without one where solvents or strength are beyond the model.
pub(crate) fn margins_in(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    list: &[Content],
    celsius: f64,
) -> Vec<Margin> {
    let without_solvents: Vec<Content> =
        list.iter().filter(|content| !is_solvent(&content.form)).cloned().collect();
    let prediction = additions(equilibria, &without_solvents, "it")
        .ok()
        .and_then(|additions| predict(equilibria, &additions, celsius).ok());
    margins(equilibria, weights, list, prediction.as_ref(), celsius)
}

/// The temperature at which a curve, followed from cold to warm, first reaches a strength in grams per 100 g of water.
fn saturated_at_c(form: &Form, weights: &AtomicWeights, strength: f64) -> Option<f64> {
    let points = &form.primary_solubility()?.points;
    points.windows(2).find_map(|pair| {
        let [(cold, _), (warm, _)] = pair else { return None };
        let at = |celsius: f64| form.solubility_per_100_g(celsius, weights);
        let (less, more) = (at(*cold)?, at(*warm)?);
        let crosses = less < strength && strength <= more;
        crosses.then(|| cold + (warm - cold) * (strength - less) / (more - less))
    })
}

fn limit(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    list: &[Content],
    index: usize,
    prediction: Option<&Prediction>,
    celsius: f64,
) -> Limit {
    let Some(content) = list.get(index) else { return Limit::NotKnown };
    let per_litre = |per_100_g: f64| saturated_g_per_litre(equilibria, list, index, per_100_g, celsius);
    if let Some(becomes) =
        prediction.and_then(|prediction| changed(equilibria, list, &content.form, prediction))
    {
        let near = figure(&content.form, weights, celsius).and_then(|own| own.at_least(celsius));
        return Limit::Changed { becomes, unchanged_g_per_l: near.and_then(per_litre) };
    }
    match figure(&content.form, weights, celsius) {
        Some(Figure::At(per_100_g)) => {
            per_litre(per_100_g).map_or(Limit::NotKnown, |grams_per_litre| Limit::Known { grams_per_litre })
        }
        Some(Figure::Colder(per_100_g, at_c)) => per_litre(per_100_g)
            .map_or(Limit::NotKnown, |grams_per_litre| Limit::AtLeast { grams_per_litre, at_c }),
        Some(Figure::Warmer(per_100_g, at_c)) => per_litre(per_100_g)
            .map_or(Limit::NotKnown, |grams_per_litre| Limit::AtMost { grams_per_litre, at_c }),
        None => Limit::NotKnown,
    }
}

/// A figure of the curve in grams of the form per 100 g of water added.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Figure {
    /// At the temperature itself.
    At(f64),
    /// At the nearest colder temperature of the data, °C.
    Colder(f64, f64),
    /// At the nearest warmer one.
    Warmer(f64, f64),
}

impl Figure {
    /// How much dissolves at the least at a temperature, g per 100 g of water, where that is bounded.
    pub(super) fn at_least(self, celsius: f64) -> Option<f64> {
        match self {
            Self::At(value) | Self::Colder(value, _) => Some(value),
            Self::Warmer(value, at_c) => at_most_times(celsius - at_c).map(|times| value / times),
        }
    }

    /// How much dissolves at the most.
    pub(super) fn at_most(self, celsius: f64) -> Option<f64> {
        match self {
            Self::At(value) | Self::Warmer(value, _) => Some(value),
            Self::Colder(value, at_c) => at_most_times(celsius - at_c).map(|times| value * times),
        }
    }
}

/// Grams of a form that surely do, and that at the most could, dissolve in 100 g of water at a temperature; none where the data do not say.
pub(crate) fn bounds_per_100_g(
    form: &Form,
    weights: &AtomicWeights,
    celsius: f64,
) -> (Option<f64>, Option<f64>) {
    let figure = figure(form, weights, celsius);
    (figure.and_then(|figure| figure.at_least(celsius)), figure.and_then(|figure| figure.at_most(celsius)))
}

/// What the data say of a form at a temperature.
pub(super) fn figure(form: &Form, weights: &AtomicWeights, celsius: f64) -> Option<Figure> {
    if let Some(value) = form.solubility_per_100_g(celsius, weights) {
        return Some(Figure::At(value));
    }
    let points = &form.primary_solubility()?.points;
    let at = |point: f64| Some((form.solubility_per_100_g(point, weights)?, point));
    let colder = points.iter().rev().find(|(point, _)| *point < celsius).and_then(|(point, _)| at(*point));
    let warmer = points.iter().find(|(point, _)| *point > celsius).and_then(|(point, _)| at(*point));
    match (colder, warmer) {
        (Some((value, at_c)), _) => Some(Figure::Colder(value, at_c)),
        (None, Some((value, at_c))) => Some(Figure::Warmer(value, at_c)),
        (None, None) => None,
    }
}

/// Whether less than half of a form is still what was weighed.
fn changed(
    equilibria: &Equilibria,
    list: &[Content],
    form: &Form,
    prediction: &Prediction,
) -> Option<TurnsInto> {
    let &(_, species, component, becomes) = AS_WEIGHED.iter().find(|(id, ..)| *id == form.parent.id)?;
    let total: f64 = list
        .iter()
        .filter_map(|limit| {
            let row = equilibrium_row(equilibria, &limit.form)?;
            let count: f64 =
                row.components().iter().filter(|(name, _)| name == component).map(|(_, count)| count).sum();
            Some(count * limit.moles_per_litre()?)
        })
        .sum();
    let itself = prediction
        .species
        .iter()
        .find(|species_row| species_row.name == species)
        .map_or(0.0, |own| own.moles_per_litre);
    let is_turned =
        if form.parent.id == "borax" { itself > NO_BORAX * total } else { itself < STILL_ITSELF * total };
    (total > 0.0 && is_turned).then_some(becomes)
}

/// Grams of one form in a litre saturated with it, everything else in place; `per_100_g` is its solubility.
fn saturated_g_per_litre(
    equilibria: &Equilibria,
    list: &[Content],
    index: usize,
    per_100_g: f64,
    celsius: f64,
) -> Option<f64> {
    let least = 1e-9;
    let mut trial = list.to_vec();
    trial.get_mut(index)?.grams_per_litre = Some(least);
    let mut room = Room::of(equilibria, &trial);
    let mut is_over = |grams: f64| {
        let crystal_water_g = trial.get_mut(index).map(|own| {
            own.grams_per_litre = Some(grams);
            room.take(index, own);
            crystal_water_g(&own.form, grams)
        });
        let strength = crystal_water_g.and_then(|crystal_water_g| {
            grams_per_100_g_water(grams, room.water_kg(&trial, celsius)?, crystal_water_g)
        });
        strength.is_none_or(|strength| strength > per_100_g)
    };
    if is_over(least) {
        return None;
    }
    let (mut low, mut high) = (0.0, MOST_G_PER_L);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if is_over(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(low)
}

/// Grams of one form per 100 g of the water that is there besides its own crystal water; none where no water is left.
pub(super) fn per_100_g_added(
    equilibria: &Equilibria,
    list: &[Content],
    index: usize,
    celsius: f64,
) -> Option<f64> {
    let own = list.get(index)?;
    let grams = own.grams_per_litre?;
    grams_per_100_g_water(grams, water_kg(equilibria, list, celsius)?, crystal_water_g(&own.form, grams))
}

/// Water of crystallisation in so many grams of a form, g.
pub(super) fn crystal_water_g(form: &Form, grams: f64) -> f64 {
    form.molar_mass_g_per_mol.map_or(0.0, |mass| grams * form.crystal_water * WATER_G_PER_MOL / mass)
}

/// kg of water in a litre of a solution, crystal water included; none where hardly any is left.
pub(super) fn water_kg(equilibria: &Equilibria, list: &[Content], celsius: f64) -> Option<f64> {
    Room::of(equilibria, list).water_kg(list, celsius)
}

/// What takes up room in a litre of a solution, looked up once for many strengths.
struct Room<'e> {
    equilibria: &'e Equilibria,
    additions: Vec<Addition>,
    /// Place among the additions of each member of the list; none of what only displaces water.
    places: Vec<Option<usize>>,
}

impl<'e> Room<'e> {
    fn of(equilibria: &'e Equilibria, list: &[Content]) -> Self {
        let mut additions: Vec<Addition> = Vec::new();
        let place = |content: &Content| {
            let row = equilibrium_row(equilibria, &content.form).filter(|row| {
                !row.components().is_empty()
                    && row.components().iter().all(|(name, _)| equilibria.knows_volume(name))
            })?;
            additions.push(row.addition(content.moles_per_litre()?, content.form.crystal_water));
            Some(additions.len() - 1)
        };
        let places = list.iter().map(place).collect();
        Self { equilibria, additions, places }
    }

    /// Takes a member in another strength.
    fn take(&mut self, index: usize, content: &Content) {
        let place = self.places.get(index).copied().flatten();
        let addition = place.and_then(|place| self.additions.get_mut(place));
        if let (Some(addition), Some(moles)) = (addition, content.moles_per_litre()) {
            addition.moles = moles;
        }
    }

    fn water_kg(&self, list: &[Content], celsius: f64) -> Option<f64> {
        let mut displaced_ml = 0.0;
        for (own, place) in list.iter().zip(&self.places) {
            if place.is_none() && own.form.parent.id != "water" {
                let each = own.form.density_g_per_ml.map_or(UNKNOWN_ML_PER_G, |density| 1.0 / density);
                displaced_ml += own.pure_grams_per_litre().unwrap_or(0.0) * each;
            }
        }
        let water = water_in_a_litre(self.equilibria, &self.additions, celsius).ok()?;
        let left = water - displaced_ml / 1000.0;
        (left > 0.0).then_some(left)
    }
}
