//! How strong a stock can be: all amounts times a factor, against the solubilities at the temperature of the cupboard.
//!
//! Each substance alone in the water that is left; what [`super::margin`] says of the data's limits holds here twice, since a
//! concentrate brings common ions up with everything else. The answer is "at most", never "surely"; where salts share an ion, the
//! factor at which the ion product of one is reached stands beside it (`common_ions`).

use std::sync::Arc;

use super::common_ions::times_saturated;
use super::margin::{
    CLOSE, Limit, Margin, SURE_AS_SALT, TurnsInto, figure, margins_in, per_100_g_added, water_kg,
};
use super::{PredictError, additions};
use crate::formula::Part;
use crate::solution::Equilibria;
use crate::substance::chemical_formula::AtomicWeights;
use crate::substance::{Form, State};
use crate::vessel::Vessel;

/// Strongest that is looked for.
const MOST_TIMES: f64 = 1000.0;
/// Below such a share of the strongest the ion product is worth telling: nearer it says the same.
const LESS: f64 = 0.97;

/// How far one substance lets a solution be concentrated.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Reach {
    pub form: Arc<Form>,
    /// In the solution as it is, g/L.
    pub grams_per_litre: Option<f64>,
    /// Factor up to which the data say that it dissolves.
    pub dissolves_to: Option<f64>,
    /// Factor above which the data say that it does not.
    pub fails_above: Option<f64>,
    /// How much dissolves in the solution concentrated as far as asked, or as far as it goes.
    pub limit: Limit,
}

/// How strong a stock of a part can be.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Concentrate {
    /// A, B …
    pub name: Option<String>,
    /// Temperature of the cupboard, °C.
    pub celsius: f64,
    pub reaches: Vec<Reach>,
    /// Factor above which something surely crystallises, and what; none where no data set one.
    pub most: Option<(f64, Arc<Form>)>,
    /// About the factor at which the first salt reaches its ion product beside salts of its own ion; only where that is less.
    pub about: Option<(f64, Arc<Form>)>,
    /// Factor at which no water would be left.
    pub no_water_above: f64,
    /// Factor from which on it must not be mixed, and why, in words; for the caller to find.
    pub refused_from: Option<(f64, String)>,
}

/// Whether a stock of a strength keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Answer {
    /// All data allow it.
    Yes,
    /// Something crystallises, or there is no water for it.
    No,
    /// Nothing known forbids it, but not everything is known.
    NotKnown,
}

impl Concentrate {
    /// The strongest that is not surely too strong: the first substance's limit, or no water left.
    pub(crate) fn ceiling(&self) -> f64 {
        let refused = self.refused_from.as_ref().map_or(f64::INFINITY, |(from, _)| *from);
        self.dissolving_ceiling().min(refused)
    }

    /// The same by what dissolves alone.
    pub(crate) fn dissolving_ceiling(&self) -> f64 {
        self.most.as_ref().map_or(self.no_water_above, |(most, _)| most.min(self.no_water_above))
    }

    /// Whether it can be made so many times as strong.
    pub(crate) fn answer(&self, times: f64) -> Answer {
        if times > self.ceiling() {
            return Answer::No;
        }
        let all_known =
            self.reaches.iter().all(|reach| reach.dissolves_to.is_some_and(|to| times <= to * (1.0 + 1e-9)));
        let is_free = self.about.as_ref().is_none_or(|(about, _)| times <= *about);
        if all_known && is_free { Answer::Yes } else { Answer::NotKnown }
    }

    /// Substances of which the data do not say whether they dissolve so strong.
    pub(crate) fn not_known_at(&self, times: f64) -> impl Iterator<Item = &Reach> {
        self.reaches.iter().filter(move |reach| {
            reach.dissolves_to.is_none_or(|to| times > to)
                && reach.fails_above.is_none_or(|above| times <= above)
        })
    }

    /// Whether a substance comes close to its limit so strong.
    pub(crate) fn close_at(&self, times: f64) -> impl Iterator<Item = &Reach> {
        self.reaches.iter().filter(move |reach| {
            reach.fails_above.is_some_and(|above| times <= above && times > above * (1.0 - CLOSE))
        })
    }
}

/// Works out how strong a stock of a part can be; `asked` is the factor wanted, where one is.
///
/// # Errors
/// A part that is not in water, or holds much of a solvent.
pub(crate) fn concentrate(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    part: &Part,
    celsius: f64,
    asked: Option<f64>,
) -> Result<Concentrate, PredictError> {
    let what = super::part_words(part);
    if let Some(solvent) = &part.solvent {
        return Err(PredictError::NotWater { what, solvent: solvent.name.clone() });
    }
    let list = Vessel::of_part(part);
    // Refuses a solvent in earnest and names of components that do not exist.
    additions(equilibria, &list, &what)?;
    let no_water_above = greatest(|times| water_kg(equilibria, &list.times(times), celsius).is_some());
    let solids = (0..list.len()).filter(|&at| list.get(at).is_some_and(|own| own.form.state == State::Solid));
    let now = margins_in(equilibria, weights, &list, celsius);
    let mut reaches: Vec<Reach> =
        solids.zip(&now).map(|(index, margin)| reach(equilibria, weights, &list, index, margin)).collect();
    let most = reaches
        .iter()
        .filter_map(|reach| Some((reach.fails_above?, Arc::clone(&reach.form))))
        .min_by(|one, two| one.0.total_cmp(&two.0).then_with(|| one.1.id.cmp(&two.1.id)));
    // The limits told are those of the stock as asked.
    let shown = asked.unwrap_or(1.0).min(no_water_above * 0.98);
    let stock = list.times(shown);
    let limits = margins_in(equilibria, weights, &stock, celsius);
    for (reach, margin) in reaches.iter_mut().zip(limits) {
        reach.limit = margin.limit;
    }
    let about = beside_others(equilibria, weights, &list, celsius)
        .filter(|(about, _)| *about < LESS * most.as_ref().map_or(no_water_above, |(most, _)| *most));
    let name = part.name.clone();
    Ok(Concentrate { name, celsius, reaches, most, about, no_water_above, refused_from: None })
}

/// The first salt to reach its ion product, and about the factor at which it does; none where no two share an ion.
fn beside_others(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    list: &Vessel,
    celsius: f64,
) -> Option<(f64, Arc<Form>)> {
    let solids = list.iter().enumerate().filter(|(_, own)| own.form.state == State::Solid);
    let reached = solids.filter_map(|(index, content)| {
        let times_saturated =
            |times: f64| times_saturated(equilibria, weights, &list.times(times), index, celsius);
        times_saturated(1.0)?;
        // Where no water is left, it is reached as well.
        let factor = greatest(|times| times_saturated(times).is_some_and(|product| product <= 1.0));
        Some((factor, Arc::clone(&content.form)))
    });
    reached.min_by(|one, two| one.0.total_cmp(&two.0).then_with(|| one.1.id.cmp(&two.1.id)))
}

/// How far one substance lets the list be concentrated; `now` is its margin in the solution as it is.
fn reach(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    list: &Vessel,
    index: usize,
    now: &Margin,
) -> Reach {
    let up_to = |per_100_g: f64| {
        greatest(|times| {
            let strength = per_100_g_added(equilibria, &list.times(times), index, now.at_c);
            strength.is_some_and(|strength| strength <= per_100_g)
        })
    };
    let data = figure(&now.form, weights, now.at_c).filter(|_| now.grams_per_litre.is_some());
    let least = data.and_then(|own| own.at_least(now.at_c));
    let most = data.and_then(|own| own.at_most(now.at_c));
    let (least, most) = match now.limit {
        Limit::Changed { becomes: TurnsInto::Salt, .. } => (least.map(|own| own * SURE_AS_SALT), None),
        Limit::Changed { becomes: TurnsInto::Base, .. } => (None, None),
        _ => (least, most),
    };
    let (dissolves_to, fails_above) = (least.map(up_to), most.map(up_to));
    Reach {
        form: Arc::clone(&now.form),
        grams_per_litre: now.grams_per_litre,
        dissolves_to,
        fails_above,
        limit: now.limit,
    }
}

/// The greatest factor for which something holds that holds up to some factor and not beyond; 0 where it holds for none.
fn greatest(holds: impl Fn(f64) -> bool) -> f64 {
    if holds(MOST_TIMES) {
        return MOST_TIMES;
    }
    let (mut low, mut high) = (0.0, MOST_TIMES);
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
