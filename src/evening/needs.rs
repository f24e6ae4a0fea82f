//! How much of each bath an evening needs.

use super::clock::Tank;
use super::file::{Evening, TankSpec, table_name};

/// How a bath serves several tanks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Served {
    /// Poured afresh for each tank.
    Fresh,
    /// One after the other, poured back in between.
    InTurn,
    /// Plain water, fresh for each tank.
    Water,
    /// Running water, not counted.
    Hose,
}

/// A bath in the order of use.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BathNeed {
    /// Bath: developer, stop, fixer, rinse, washing aid, wash, wetting, or a step's own name.
    pub bath: String,
    /// Step that it serves: develop, stop, fix, or one's own.
    pub step: String,
    /// Of all tanks together, mL; none where a tank's volume is not given.
    pub volume_ml: Option<f64>,
    /// How often it is poured afresh, and how much each time, mL; (0, none) for a hose.
    pub fresh: (usize, Option<f64>),
    /// How it serves several tanks.
    pub served: Served,
    /// The first tank that it serves.
    pub tank: usize,
    /// All tanks that it serves.
    pub serves: Vec<usize>,
    /// Temperature named for a developer.
    pub temperature: Option<crate::quantity::Temperature>,
    /// Formula as named.
    pub formula: Option<String>,
    /// How it is used, as named.
    pub use_name: Option<String>,
    /// Bottle as named.
    pub bottle: Option<String>,
}

/// What a step's bath is called.
fn bath_name(step: &str) -> String {
    let rest = step.strip_prefix(table_name(step)).unwrap_or_default();
    let word = match table_name(step) {
        "develop" => "developer",
        "fix" => "fixer",
        "aid" => "washing aid",
        other => other,
    };
    format!("{word}{rest}")
}

/// Where [`Evening::baths`] holds a step's bath.
pub(crate) fn key_of(step: &str) -> &str {
    if step == "fix" { "fixer" } else { step }
}

/// The baths in order. A developer is poured afresh for each tank, water too; the rest serves one tank after the other.
pub(crate) fn needs(evening: &Evening, tanks: &[Tank]) -> Vec<BathNeed> {
    let mut all: Vec<BathNeed> = Vec::new();
    for (index, (spec, tank)) in evening.tanks.iter().zip(tanks).enumerate() {
        let volume = spec.volume.map(crate::quantity::Volume::as_ml);
        let mut after = 0;
        for bath in tank.baths.iter().filter(|bath| bath.is_in_tank) {
            let need = one(evening, spec, index, &bath.name, bath.is_hose, volume);
            let same = all.iter().position(|other| is_same(other, &need));
            // A bath that an earlier tank has not stands where this one's order has it.
            let same_step = all.iter().skip(after).take_while(|other| other.step == need.step).count();
            let place = same.unwrap_or((after + same_step).min(all.len()));
            match all.get_mut(place).filter(|_| same.is_some()) {
                Some(other) => join(other, &need),
                None => all.insert(place, need),
            }
            after = place + 1;
        }
    }
    all
}

fn one(
    evening: &Evening,
    spec: &TankSpec,
    index: usize,
    step: &str,
    is_hose: bool,
    volume: Option<f64>,
) -> BathNeed {
    let kind = table_name(step);
    let named = evening.baths.get(key_of(step));
    let is_water = named.is_none_or(|own| own.formula.is_none() && own.bottle.is_none())
        && (matches!(kind, "presoak" | "rinse" | "wash") || kind == "stop" && spec.has_water_stop);
    let served = match kind {
        "develop" => Served::Fresh,
        _ if is_hose => Served::Hose,
        _ if is_water => Served::Water,
        _ => Served::InTurn,
    };
    let is_developer = kind == "develop";
    let is_shared = |bath: Option<&String>, tank: &Option<String>| {
        if is_developer { bath.or(tank.as_ref()).cloned() } else { bath.cloned() }
    };
    BathNeed {
        bath: bath_name(step),
        step: step.to_owned(),
        volume_ml: if is_hose { None } else { volume },
        fresh: if is_hose { (0, None) } else { (1, volume) },
        served,
        tank: index,
        serves: vec![index],
        temperature: spec.temperature.filter(|_| is_developer),
        formula: is_shared(named.and_then(|own| own.formula.as_ref()), &spec.developer),
        use_name: spec.use_name.clone().filter(|_| is_developer),
        bottle: is_shared(named.and_then(|own| own.bottle.as_ref()), &spec.bottle),
    }
}

fn is_same(one: &BathNeed, other: &BathNeed) -> bool {
    one.step == other.step
        && one.served == other.served
        && one.formula == other.formula
        && one.use_name == other.use_name
        && one.bottle == other.bottle
        && one.temperature == other.temperature
        && (matches!(one.served, Served::InTurn | Served::Hose) || one.fresh.1 == other.fresh.1)
}

fn join(one: &mut BathNeed, other: &BathNeed) {
    one.serves.extend(&other.serves);
    match one.served {
        Served::Fresh | Served::Water => {
            one.fresh.0 += other.fresh.0;
            one.volume_ml = one.volume_ml.zip(other.volume_ml).map(|(sum, own)| sum + own);
        }
        // One filling of the largest tank serves them all.
        Served::InTurn => {
            one.volume_ml = one.volume_ml.zip(other.volume_ml).map(|(most, own)| most.max(own));
            one.fresh.1 = one.volume_ml;
        }
        Served::Hose => {}
    }
}
