//! How much for these films: the batch that a number of films asks for.

use super::life::{Basis, Life};
use super::rules::{ClassRules, Span};
use crate::formula::{Bath, Formula, Kind};
use crate::quantity::{Films, MixRatio, Volume};

/// A tank: what covers its reels.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct CoveredTank {
    /// The user's name of it; none where it is the rule or a typed volume.
    pub name: Option<String>,
    /// What covers the reels, mL.
    pub volume_ml: f64,
}

/// The smallest tank that holds the films: the user's own, else what the trade's tanks take; none for sheets, whose tanks differ.
pub(crate) fn smallest_tank<'a>(
    films: &Films,
    own: impl Iterator<Item = (&'a str, f64, u32)>,
    rules: &ClassRules,
) -> Option<CoveredTank> {
    let reels = films.reels();
    if reels.sheets > 0 {
        return None;
    }
    // A 120 takes the room of two reels of 135.
    let places = reels.narrow.saturating_add(reels.wide.saturating_mul(2));
    let mut bottles_left = own.peekable();
    if bottles_left.peek().is_none() {
        return Some(CoveredTank { name: None, volume_ml: rules.tanks.covers_ml(places).high });
    }
    let own: Vec<(&str, f64, u32)> = bottles_left.collect();
    let smallest = |tanks: &mut dyn Iterator<Item = &(&'a str, f64, u32)>| {
        tanks
            .min_by(|one, other| one.1.total_cmp(&other.1))
            .map(|(name, volume_ml, _)| CoveredTank { name: Some((*name).to_owned()), volume_ml: *volume_ml })
    };
    smallest(&mut own.iter().filter(|(_, _, holds)| *holds >= places))
        // More films than any tank holds go in several loads; the largest is filled each time.
        .or_else(|| {
            own.iter().max_by_key(|(_, _, holds)| *holds).map(|(name, volume_ml, _)| CoveredTank {
                name: Some((*name).to_owned()),
                volume_ml: *volume_ml,
            })
        })
}

/// What so many films ask for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Need {
    pub films: Films,
    /// Stock that they need, unrounded, mL; of a fixer and the like the bath itself.
    pub stock_ml: f64,
    /// The same counted by area and by the trade.
    pub stock_by_area_ml: f64,
    /// The same counted as the trade does.
    pub stock_by_trade_ml: f64,
    /// Figure for one film, mL, and its basis.
    pub for_one_ml: (f64, Basis),
    /// The tank that must be covered.
    pub tank: Option<CoveredTank>,
    /// Whether the tank, not the films, decides.
    pub tank_decides: bool,
    /// What to mix, rounded up: of each part as bottled, or a working volume.
    pub volume: Volume,
    /// The use for which it is told, where the formula is in parts: the working solution's ratio.
    pub ratio: Option<MixRatio>,
    /// The bath of that use in words.
    pub bath: String,
    /// The class, where a rule decides.
    pub class: Option<String>,
}

/// Why films ask for nothing that could be told.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("how much of {formula} a film needs is not known: no figure of its own, and its class has no rule")]
pub(crate) struct NotKnown {
    pub formula: String,
}

/// The batch for films.
///
/// The formula's own figure for one film goes first (counted by rolls, as it is told), else the safe figure of its class (by area). It is
/// rounded up to what can be measured and never below what covers the reels of the tank.
///
/// # Errors
/// Neither the formula nor its class says how much a film needs.
pub(crate) fn need(
    formula: &Formula,
    films: &Films,
    tank: Option<CoveredTank>,
    rules: &ClassRules,
) -> Result<Need, NotKnown> {
    let life = Life::of(formula, rules);
    let for_one = life.stock.planned_ml().or_else(|| {
        // A bath that is used again: as much as its films a litre ask, the lasting figure of a fixer.
        let capacity = life.capacity.as_ref()?;
        let Span { low, .. } = capacity.films_per_litre.span;
        (low > 0.0).then(|| (1000.0 / low, capacity.films_per_litre.basis))
    });
    let Some((one_ml, basis)) = for_one else { return Err(NotKnown { formula: formula.id.clone() }) };
    let (by_area, by_trade) = (one_ml * films.units(), one_ml * films.trade());
    let stock_ml = if basis == Basis::Stated { by_trade } else { by_area };
    let bath = bath_of(formula, &life);
    let of_mixture = life.stock.is_of_the_mixture && life.stock.stated_ml.is_none();
    let ratio = bath.and_then(|bath| ratio_of(formula, bath)).filter(|_| formula.parts.len() > 1);
    let share = bath.map_or(1.0, |bath| {
        let first = bath.shares.first().map_or(bath.total(), |(_, share)| *share);
        first / bath.total()
    });
    // A working volume for a formula in parts, else the stock itself.
    let films_ml = match (&ratio, of_mixture) {
        (Some(_), false) => stock_ml / share,
        _ => stock_ml,
    };
    let tank_ml = tank.as_ref().map_or(0.0, |tank| tank.volume_ml);
    let covers_ml = if ratio.is_some() { tank_ml } else { tank_ml * share };
    Ok(Need {
        films: films.clone(),
        stock_ml,
        stock_by_area_ml: by_area,
        stock_by_trade_ml: by_trade,
        for_one_ml: (one_ml, basis),
        tank_decides: covers_ml > films_ml,
        tank,
        volume: round_up(films_ml.max(covers_ml)),
        ratio,
        bath: bath.map_or_else(|| "undiluted".to_owned(), ToString::to_string),
        class: life.class.filter(|_| basis == Basis::Rule),
    })
}

/// The bath for which a batch is told: a concentrate's first use; else undiluted, where that is one.
fn bath_of<'f>(formula: &'f Formula, life: &Life<'_>) -> Option<&'f Bath> {
    let single = || {
        formula.uses.iter().filter_map(|listed_use| match listed_use.baths.as_slice() {
            [bath] => Some(bath),
            _ => None,
        })
    };
    let is_undiluted = |bath: &&Bath| bath.water <= 0.0 && bath.shares.len() == 1;
    if formula.parts.len() < 2 && !life.is_one_shot && formula.kind == Kind::FilmDeveloper {
        return single().find(is_undiluted).or_else(|| single().next());
    }
    single().next()
}

/// A bath as a ratio in the order of the parts; none where a part is not in it.
fn ratio_of(formula: &Formula, bath: &Bath) -> Option<MixRatio> {
    let mut figures = Vec::new();
    for part in &formula.parts {
        let name = part.name.as_deref().unwrap_or("stock");
        figures.push(bath.shares.iter().find(|(own, _)| own == name)?.1);
    }
    figures.push(bath.water);
    figures.iter().map(f64::to_string).collect::<Vec<_>>().join("+").parse().ok()
}

/// Up to what a cylinder measures: 1 mL below 50, 5 below 200, 10 below a litre, 50 above.
fn round_up(ml: f64) -> Volume {
    let step = if ml < 50.0 {
        1.0
    } else if ml < 200.0 {
        5.0
    } else if ml < 1000.0 {
        10.0
    } else {
        50.0
    };
    Volume::from_ml((ml / step - 1e-9).ceil() * step)
}
