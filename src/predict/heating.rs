//! How warm or cold the beaker gets while a plan is carried out: heat of solution, of neutralisation, of dilution, and of the water poured in.
//!
//! No heat is lost to the air and each step is taken at once: the figures are the worst case for what heats, and say what a
//! thermometer reads in a vessel that is used briskly. It scales with the whole mass, so that a large batch is no cooler than a small one.
//!
//! Above 60 °C a step asks for portions and ice, above 90 °C the way is refused.

use super::equilibrium_row;
use crate::formula::{Amount, OperationKind};
use crate::quantity::USUAL_C;
use crate::quantity::rounding::show_short;
use crate::scale::{BatchPart, Item};
use crate::sequence::{Action, BOILS_C, Plan, Step};
use crate::solution::{Beaker, Equilibria, Portion, WATER_G_PER_MOL, step_temperature, sulfuric_acid_heat};
use crate::substance::{Class, Form, State};

/// Above it a vessel is kept in an ice bath and filled in portions, °C; common practice, no source.
pub(crate) const PORTIONS_ABOVE_C: f64 = 60.0;
/// Above it mixing is refused, °C; common practice, no source.
pub(crate) const REFUSED_ABOVE_C: f64 = 90.0;
/// What is said where a vessel would get hotter than [`PORTIONS_ABOVE_C`] all at once.
pub(crate) fn in_portions(peak_c: f64) -> String {
    format!(
        "Added at once it would reach {} °C. Stand the vessel in ice water. Add small portions. Let each cool below 40 °C.",
        show_short(peak_c, 0)
    )
}
/// Below it water turns to ice, or hardly anything more dissolves, °C.
const FREEZES_C: f64 = 0.0;
/// Temperatures at which baths are used, °C, and so at which a fresh one had best end; common practice, no source.
pub(crate) const WANTED_C: [f64; 2] = [20.0, 24.0];
/// Coldest and hottest water that a tap gives, °C; common practice, no source.
const TAP_RANGE_C: (f64, f64) = (5.0, 60.0);
/// Coldest and hottest that water is, °C.
const WATER_C: (f64, f64) = (0.0, 100.0);
/// A bath within so many K of what is wanted needs nothing.
const NEAR_ENOUGH_K: f64 = 1.0;
/// What was dissolved apart is poured in when it is no warmer than the hand, °C; common practice, no source.
const POURED_AT_MOST_C: f64 = 30.0;
/// Grams of a solid of unknown heat of solution per 100 g of water above which the temperature is no longer told.
const UNKNOWN_HEAT_MATTERS: f64 = 3.0;

/// Temperature after a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ThermometerReading {
    /// °C after the step; none where it cannot be told.
    pub after_c: Option<f64>,
    /// °C that the step's own vessel reaches when everything is added at once.
    pub peak_c: Option<f64>,
    /// The same, but only where all heats are known: beyond 0 to 100 °C how far they would go if nothing froze or boiled.
    pub all_at_once_c: Option<f64>,
    /// Water in the step's own vessel after it, g, crystal water included.
    pub water_g: Option<f64>,
    /// By how many kelvin the step itself warms its vessel.
    pub rise_k: f64,
    /// Water poured into its vessel with the step at a temperature of its own, g.
    pub poured_g: f64,
}

impl ThermometerReading {
    /// The peak, where the step itself and not a hot start brings its vessel above a limit.
    pub(crate) fn heats_above(&self, limit_c: f64) -> Option<f64> {
        self.peak_c.filter(|peak| *peak > limit_c && self.rise_k >= MATTERS_FROM_K)
    }

    /// How cold it would get, °C, where what dissolves takes up more heat than the water has before it freezes.
    pub(crate) fn freezes_at_once(&self) -> Option<f64> {
        self.peak_c.filter(|coldest| *coldest < FREEZES_C && self.rise_k < 0.0)
    }

    /// Whether it goes in by portions, kept near a temperature by water outside, so that nobody knows what it reads afterwards.
    fn is_held_back(&self) -> bool {
        self.heats_above(PORTIONS_ABOVE_C).is_some() || self.freezes_at_once().is_some()
    }
}

/// Rise from which a step counts as heating its vessel, K; common practice, no source.
const MATTERS_FROM_K: f64 = 15.0;

const NOTHING: ThermometerReading = ThermometerReading {
    after_c: None,
    peak_c: None,
    all_at_once_c: None,
    water_g: None,
    rise_k: 0.0,
    poured_g: 0.0,
};

/// What it takes for a part to end at a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ending {
    /// °C wanted.
    pub target_c: f64,
    /// Temperature of the water to top up with, °C, all else as planned; none where no tap gives it or there is nothing to top up.
    pub top_up_c: Option<f64>,
    /// Temperature of the water to start with, °C, topped up at [`USUAL_C`]; none where no water does it, or a wait between makes it idle.
    pub start_c: Option<f64>,
}

/// How a part ends when it is mixed as planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// °C after the last step.
    pub end_c: f64,
    /// °C of the planned start.
    pub start_c: f64,
    /// What it takes to end at each of [`WANTED_C`].
    pub endings: Vec<Ending>,
}

impl Finish {
    /// Whether it ends about as wanted without doing anything.
    pub fn is_near(&self, target_c: f64) -> bool {
        (self.end_c - target_c).abs() <= NEAR_ENOUGH_K
    }
}

/// Readings after each step of a plan, in the plan's order.
///
/// A plan that does not start with water (glycol, amine) has none.
pub(crate) fn readings(
    equilibria: &Equilibria,
    batch: &BatchPart,
    plan: &Plan,
    in_water: bool,
) -> Vec<ThermometerReading> {
    let mut vessel: Option<Beaker> = None;
    let mut apart: Option<(f64, f64)> = None;
    // Once much of a solid of unknown heat is in, readings are no longer told; peaks still are, with that heat counted as nothing.
    let mut is_told = true;
    let mut water_used_ml = 0.0;
    plan.steps
        .iter()
        .map(|step| {
            if !in_water {
                return NOTHING;
            }
            let item = step.item.and_then(|index| batch.items.get(index));
            match step.action {
                Action::Start => {
                    water_used_ml = step.water_ml.unwrap_or(0.0);
                    vessel = step.celsius.and_then(|celsius| Beaker::new(water_used_ml, celsius).ok());
                    read(vessel.as_ref())
                }
                Action::Add | Action::Pinch => {
                    let Some(batch_item) = item else { return NOTHING };
                    is_told &= !heat_matters_unknown(batch_item, step, vessel.as_ref());
                    let portion = portion(equilibria, batch_item, step, vessel.as_ref());
                    let reading = add(equilibria, &mut vessel, &portion);
                    water_used_ml += liquid_water_g(batch_item);
                    let reading = told(reading, is_told);
                    is_told &= !reading.is_held_back();
                    reading
                }
                Action::DissolveApart => {
                    let Some(batch_item) = item else { return NOTHING };
                    let water = step.water_ml.unwrap_or(0.0);
                    water_used_ml += water + liquid_water_g(batch_item);
                    let mut second = Beaker::new(water, step.celsius.unwrap_or(USUAL_C)).ok();
                    let portion = portion(equilibria, batch_item, step, second.as_ref());
                    let reading = add(equilibria, &mut second, &portion);
                    apart = reading
                        .peak_c
                        .map(|peak| (water + liquid_water_g(batch_item), peak.min(POURED_AT_MOST_C)));
                    told(reading, !heat_matters_unknown(batch_item, step, second.as_ref()))
                }
                Action::PourIn => {
                    let (Some(own), Some((water_g, celsius))) = (item, apart.take()) else {
                        vessel = None;
                        return NOTHING;
                    };
                    // It is dissolved already: only its water and what it reacts with count.
                    let dissolved = portion(equilibria, own, step, vessel.as_ref());
                    let portion =
                        Portion { heat_of_solution_kj: Some(0.0), water_g, liquid_c: celsius, ..dissolved };
                    let reading = add(equilibria, &mut vessel, &portion);
                    told(reading, is_told)
                }
                Action::Operation(kind) => {
                    let at = |own: &Beaker, celsius: f64| own.at_temperature(celsius).ok();
                    vessel = vessel.as_ref().and_then(|vessel| match (kind, step.celsius) {
                        (OperationKind::Heat, Some(celsius)) => at(vessel, celsius),
                        (OperationKind::Boil, _) => at(vessel, BOILS_C),
                        (OperationKind::Cool, Some(celsius)) => {
                            at(vessel, celsius.min(vessel.temperature_c()))
                        }
                        (OperationKind::Strain | OperationKind::Filter, _) => Some(vessel.clone()),
                        // What stands ends at the temperature of the room, if it stands long enough.
                        _ => at(vessel, USUAL_C),
                    });
                    told(read(vessel.as_ref()), is_told)
                }
                Action::Cool => {
                    let limit = step.celsius.unwrap_or(USUAL_C);
                    vessel = vessel
                        .as_ref()
                        .and_then(|vessel| vessel.at_temperature(vessel.temperature_c().min(limit)).ok());
                    told(read(vessel.as_ref()), is_told)
                }
                Action::TopUp => {
                    let rest = (batch.volume.as_ml() - water_used_ml - solids_ml(batch)).max(0.0);
                    let portion = Portion::water(rest, step.celsius.unwrap_or(USUAL_C));
                    let reading = add(equilibria, &mut vessel, &portion);
                    told(reading, is_told)
                }
            }
        })
        .collect()
}

/// How a part ends, and what it takes to end at the temperatures at which baths are used; `readings` are those of the plan.
///
/// From the heat balance of water: what is warmer or colder at the start, or in the water made up with, moves the end by its share of the
/// whole. The heats of dissolving and reaction hardly depend on it. None where the end cannot be told.
pub(crate) fn finish(plan: &Plan, readings: &[ThermometerReading]) -> Option<Finish> {
    let end = readings.last()?;
    let (end_c, total_g) = (end.after_c?, end.water_g?);
    let start_c = plan.steps.iter().find(|step| step.action == Action::Start)?.celsius?;
    let waits = plan.steps.iter().any(|step| step.action.operation().is_some());
    let is_topped_up = plan.steps.last().is_some_and(|step| step.action == Action::TopUp);
    let top_up_g = if is_topped_up { end.poured_g } else { 0.0 };
    // Crystals are taken as at the temperature of the vessel, so that all but what is poured in follows the start.
    let main = plan.steps.iter().zip(readings).filter(|(step, _)| step.action != Action::DissolveApart);
    let follows_g = total_g - main.map(|(_, reading)| reading.poured_g).sum::<f64>();
    let endings = WANTED_C
        .into_iter()
        .map(|target_c| {
            let heat = (target_c - end_c) * total_g;
            let top_up_c = USUAL_C + heat / top_up_g;
            let needed_c = start_c + heat / follows_g;
            let within = |(low, high): (f64, f64), celsius: f64| (low..=high).contains(&celsius);
            Ending {
                target_c,
                top_up_c: Some(top_up_c).filter(|celsius| within(TAP_RANGE_C, *celsius)),
                start_c: Some(needed_c).filter(|celsius| !waits && within(WATER_C, *celsius)),
            }
        })
        .collect();
    Some(Finish { end_c, start_c, endings })
}

/// Takes back the temperatures from a step on, after which nobody knows them, up to an operation that gives the vessel one of its own.
pub(crate) fn forget_from(step: usize, plan: &Plan, readings: &mut [ThermometerReading]) {
    let known_again = |own: &Step| match own.action {
        Action::Operation(kind) => !matches!(kind, OperationKind::Strain | OperationKind::Filter),
        _ => false,
    };
    for (own, reading) in plan.steps.iter().zip(readings).skip(step) {
        if known_again(own) {
            return;
        }
        reading.after_c = None;
        reading.all_at_once_c = None;
    }
}

/// Hides a reading that rests on an unknown heat, or that portions are to prevent; its peak stays.
fn told(reading: ThermometerReading, is_told: bool) -> ThermometerReading {
    let is_prevented = reading.is_held_back();
    ThermometerReading {
        after_c: reading.after_c.filter(|_| is_told && !is_prevented),
        all_at_once_c: reading.all_at_once_c.filter(|_| is_told),
        ..reading
    }
}

/// Whether a step brings so much of a solid of unknown heat that the temperature after it cannot be told.
fn heat_matters_unknown(item: &Item, step: &Step, vessel: Option<&Beaker>) -> bool {
    let is_strong = item.solution.is_some_and(|strength| {
        !Amount::PercentSolution { millilitres: item.amount, strength }.is_weak_solution_of(&item.form)
    });
    if is_strong || item.form.state != State::Solid && item.grams.is_none() {
        // What a strong solution gives off when it is diluted, and how much of a liquid of unknown density there is, nobody knows.
        return true;
    }
    let is_ready = item.dose.is_some() || item.solution.is_some();
    let mixes_with_heat = item.form.state == State::Solid || heats_when_diluted(&item.form);
    // Of a liquid the pure chemical counts, not the water that it brings.
    let pure = if item.form.state == State::Solid { 1.0 } else { item.assay };
    let grams = step.carries_g.or(item.grams).unwrap_or(item.amount) * pure;
    let water_g = vessel.map_or(f64::INFINITY, Beaker::water_g);
    !is_ready
        && mixes_with_heat
        && item.form.heat_of_solution.is_none()
        && grams / water_g * 100.0 >= UNKNOWN_HEAT_MATTERS
}

/// Whether a liquid warms the water that it is poured into, so that nobody knows the reading where its heat is not in the tables:
/// hydrochloric acid, alcohols. Common practice, no source. That of sulfuric acid is computed.
fn heats_when_diluted(form: &Form) -> bool {
    form.is_class(&Class::StrongAcid) && form.parent.id != "sulfuric-acid" || form.is_class(&Class::Flammable)
}

fn read(vessel: Option<&Beaker>) -> ThermometerReading {
    let after_c = vessel.map(Beaker::temperature_c);
    ThermometerReading { after_c, all_at_once_c: after_c, water_g: vessel.map(Beaker::water_g), ..NOTHING }
}

/// Adds a portion; a vessel whose temperature cannot be told stays untold.
fn add(equilibria: &Equilibria, vessel: &mut Option<Beaker>, portion: &Portion) -> ThermometerReading {
    let after = vessel.as_ref().and_then(|vessel| step_temperature(equilibria, vessel, portion).ok());
    let Some(after) = after else {
        *vessel = None;
        return NOTHING;
    };
    let before_c = vessel.as_ref().map_or(after.temperature_after_c, Beaker::temperature_c);
    let water_g = Some(after.beaker.water_g());
    *vessel = Some(after.beaker);
    let rise_k = after.temperature_after_c - before_c;
    let celsius = Some(after.temperature_after_c);
    ThermometerReading {
        after_c: celsius,
        peak_c: celsius,
        all_at_once_c: celsius,
        water_g,
        rise_k,
        poured_g: portion.water_g,
    }
}

/// What a step brings, in all.
fn portion(equilibria: &Equilibria, item: &Item, step: &Step, vessel: Option<&Beaker>) -> Portion {
    let form = &item.form;
    let grams = step.carries_g.or(if step.action == Action::DissolveApart { item.grams } else { None });
    // Where the grams are not known the most that they can be tell the worst.
    let grams = grams.or_else(|| item.at_most_g().filter(|_| item.grams.is_none()));
    let liquid = form.state != State::Solid || item.dose.is_some() || item.solution.is_some();
    let heat = form.heat_of_solution.as_ref().map(|heat| heat.kj_per_mol);
    let Some(grams) = grams else { return Portion::water(item.amount, USUAL_C) };
    let Some(moles) = form.moles_in(grams, item.assay) else { return Portion::water(0.0, USUAL_C) };
    let water_g = liquid_water_g(item);
    let (components, dissolved_state_kj) = equilibrium_row(equilibria, form)
        .map_or_else(|| (Vec::new(), 0.0), |row| (row.components().to_vec(), row.dissolved_state_kj()));
    let heat = if form.is_class(&Class::StrongAcid) && form.parent.id == "sulfuric-acid" && vessel.is_some() {
        // The heat of dilution at this strength, not at infinite dilution.
        let water_before = water_g / WATER_G_PER_MOL / moles;
        let water_after = water_before + vessel.map_or(0.0, Beaker::water_g) / WATER_G_PER_MOL / moles;
        sulfuric_acid_heat(water_before, water_after).ok().or(heat)
    } else if liquid {
        Some(0.0)
    } else {
        heat
    };
    Portion {
        substance: form.id.clone(),
        moles,
        components,
        crystal_water: form.crystal_water,
        heat_of_solution_kj: heat,
        dissolved_state_kj,
        water_g,
        liquid_c: USUAL_C,
    }
}

/// °C that water of [`USUAL_C`] reaches when so many grams of a product are dissolved in so many of it at once; none where that is not known.
pub(crate) fn peak_of_dissolving(
    equilibria: &Equilibria,
    form: &Form,
    (grams, assay): (f64, f64),
    water_g: f64,
) -> Option<f64> {
    let moles = form.moles_in(grams, assay)?;
    let beaker = Beaker::new(water_g, USUAL_C).ok()?;
    let brought_g = if form.state == State::Solid { 0.0 } else { grams * (1.0 - assay) };
    let heat = if form.parent.id == "sulfuric-acid" {
        let before = brought_g / WATER_G_PER_MOL / moles;
        sulfuric_acid_heat(before, before + water_g / WATER_G_PER_MOL / moles).ok()
    } else {
        form.heat_of_solution.as_ref().map(|heat| heat.kj_per_mol)
    };
    let portion = Portion {
        substance: form.id.clone(),
        moles,
        components: Vec::new(),
        crystal_water: form.crystal_water,
        heat_of_solution_kj: Some(heat?),
        dissolved_state_kj: 0.0,
        water_g: brought_g,
        liquid_c: USUAL_C,
    };
    Some(step_temperature(equilibria, &beaker, &portion).ok()?.temperature_after_c)
}

/// Grams of water that a liquid, a dose or a measured solution brings.
fn liquid_water_g(item: &Item) -> f64 {
    if let Some(dose) = &item.dose {
        return if dose.solvent == "water" { (dose.millilitres - item.amount).max(0.0) } else { 0.0 };
    }
    if let Some(strength) = item.solution {
        return item.amount * (1.0 - strength.percent() / 100.0);
    }
    if item.form.state == State::Solid {
        return 0.0;
    }
    item.grams.map_or(0.0, |grams| grams * (1.0 - item.assay))
}

/// Volume that the solids take up, mL; about half a millilitre a gram, as for the start.
fn solids_ml(batch: &BatchPart) -> f64 {
    batch
        .items
        .iter()
        .filter(|item| item.form.state == State::Solid && item.dose.is_none() && item.solution.is_none())
        .map(|item| item.amount * 0.5)
        .sum()
}
