//! Temperatures while mixing.
//!
//! A step of mixing is worked out along this path: liquids meet at their own temperatures (enthalpy of water, IAPWS-95); everything
//! dissolves and reacts at the heats of 25 °C; the products are brought to the final temperature. The products' heat capacity is taken
//! as that of their water, crystal water included, which is good to about a tenth for most salts; nothing is lost to vessel or air.
//!
//! Two heats are told apart. The heat of solution (published, at infinite dilution) ends in definite species: OH⁻ for caustic, HCO₃⁻
//! for bicarbonate. What then happens between those species and what is already in the beaker is the heat of reaction, computed from the
//! equilibria: neutralisation (−55.8 kJ/mol for H⁺ + OH⁻), a phenol or bisulfite meeting caustic, borax partly undone. It scales with
//! absolute mass: state real grams, not grams per litre.
//!
//! Sulfuric acid: J. Thomsen, Thermochemische Untersuchungen (recalled): `Q = 17860 r / (r + 1.798)` cal per mol of acid for r mol of
//! water per mol of acid. In a walk through the steps it goes in as a [`Portion::liquid`] with the heat of [`sulfuric_acid_heat`] and
//! its own water; the heats of dissolving ammonia or hydrogen chloride *gas* are not those of their solutions and must not be used for them.

use std::collections::BTreeMap;

use super::equilibria::{Equilibria, SubstanceRow};
use super::prediction::TEMPERATURE_RANGE_C;
use super::system::System;
use super::water::{HeatError, WATER_G_PER_MOL, WATER_RANGE_C, enthalpy, temperature_at};

/// J per thermochemical calorie, by definition.
const JOULE_PER_CALORIE: f64 = 4.184;

/// What is in the vessel.
#[derive(Debug, Clone, PartialEq)]
pub struct Beaker {
    water_g: f64,
    temperature_c: f64,
    /// mol of each component.
    contents: BTreeMap<String, f64>,
}

impl Beaker {
    /// Water alone: grams and °C (0 to 100).
    ///
    /// # Errors
    /// A temperature outside that range or an amount that is not above zero.
    pub fn new(water_g: f64, temperature_c: f64) -> Result<Self, HeatError> {
        let (low, high) = WATER_RANGE_C;
        if !(low..=high).contains(&temperature_c) {
            return Err(HeatError::TemperatureOutOfRange { temperature_c });
        }
        if !(water_g.is_finite() && water_g > 0.0) {
            return Err(HeatError::AmountNotUsable { amount: water_g });
        }
        Ok(Self { water_g, temperature_c, contents: BTreeMap::new() })
    }

    /// Water in it, g, crystal water of what was dissolved included.
    pub fn water_g(&self) -> f64 {
        self.water_g
    }

    /// °C.
    pub fn temperature_c(&self) -> f64 {
        self.temperature_c
    }

    /// The same at another temperature, after waiting, cooling or warming.
    ///
    /// # Errors
    /// A temperature outside 0 to 100 °C.
    pub fn at_temperature(&self, temperature_c: f64) -> Result<Self, HeatError> {
        let fresh = Self::new(self.water_g, temperature_c)?;
        Ok(Self { contents: self.contents.clone(), ..fresh })
    }
}

/// What goes in with one step.
#[derive(Debug, Clone, PartialEq)]
pub struct Portion {
    /// What it is called; used in messages only.
    pub substance: String,
    /// mol, in all (not per litre).
    pub moles: f64,
    /// Components by name, mol per mol.
    pub components: Vec<(String, f64)>,
    /// Crystal water, mol per mol.
    pub crystal_water: f64,
    /// Heat of solution, kJ/mol, positive cools; `None` where it is not known.
    pub heat_of_solution_kj: Option<f64>,
    /// Enthalpy of the species in which that heat ends: [`SubstanceRow::dissolved_state_kj`].
    pub dissolved_state_kj: f64,
    /// Water it brings as a liquid, g; 0 for a powder.
    pub water_g: f64,
    /// Temperature of that liquid, °C.
    pub liquid_c: f64,
}

impl Portion {
    /// A powder: `moles` in all, crystal water in mol per mol, heat of solution in kJ/mol.
    pub fn powder(
        row: &SubstanceRow,
        moles: f64,
        crystal_water: f64,
        heat_of_solution_kj: Option<f64>,
    ) -> Self {
        Self {
            substance: row.id().to_owned(),
            moles,
            components: row.components().to_vec(),
            crystal_water,
            heat_of_solution_kj,
            dissolved_state_kj: row.dissolved_state_kj(),
            water_g: 0.0,
            liquid_c: 20.0,
        }
    }

    /// A solution or liquid: as a powder, with the grams of water it brings and its temperature.
    pub fn liquid(
        row: &SubstanceRow,
        moles: f64,
        heat_of_solution_kj: Option<f64>,
        water_g: f64,
        liquid_c: f64,
    ) -> Self {
        Self { water_g, liquid_c, ..Self::powder(row, moles, 0.0, heat_of_solution_kj) }
    }

    /// Water alone.
    pub fn water(water_g: f64, liquid_c: f64) -> Self {
        Self {
            substance: "water".to_owned(),
            moles: 0.0,
            components: Vec::new(),
            crystal_water: 0.0,
            heat_of_solution_kj: Some(0.0),
            dissolved_state_kj: 0.0,
            water_g,
            liquid_c,
        }
    }
}

/// What one step did.
#[derive(Debug, Clone, PartialEq)]
pub struct TemperatureStep {
    /// The beaker after it; its temperature is held within 0 to 100 °C.
    pub beaker: Beaker,
    /// °C after it. Beyond 0 to 100 °C it says how far the heat would go if nothing boiled or froze.
    pub temperature_after_c: f64,
    /// Heat taken up by reaction with what was there, kJ; negative warms. `None` where the model has no answer: then it counts as nothing.
    pub reaction_kj: Option<f64>,
}

/// One step of mixing: what the beaker reads after a portion has dissolved in it.
///
/// # Errors
/// An amount that is negative or not a number, a liquid outside 0 to 100 °C, or a component that does not exist.
///
/// # Examples
/// ```
/// use soupcon::solution::{Beaker, Equilibria, Portion, step_temperature};
///
/// let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));
/// let table = Equilibria::parse(text)?;
/// let beaker = Beaker::new(600.0, 45.0)?;
/// if let Some(hypo) = table.substance("sodium-thiosulfate") {
///     // 240 g of the pentahydrate chill the beaker by about 16 K.
///     let portion = Portion::powder(hypo, 240.0 / 248.184, 5.0, Some(46.3));
///     let step = step_temperature(&table, &beaker, &portion)?;
///     assert!((28.0..31.0).contains(&step.temperature_after_c));
/// }
/// // Cold water poured in.
/// let step = step_temperature(&table, &beaker, &Portion::water(600.0, 15.0))?;
/// assert!((step.temperature_after_c - 30.0).abs() < 0.1);
/// assert!(step_temperature(&table, &beaker, &Portion::water(-1.0, 15.0)).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn step_temperature(
    equilibria: &Equilibria,
    beaker: &Beaker,
    portion: &Portion,
) -> Result<TemperatureStep, HeatError> {
    for amount in [portion.moles, portion.crystal_water, portion.water_g] {
        if !(amount.is_finite() && amount >= 0.0) {
            return Err(HeatError::AmountNotUsable { amount });
        }
    }
    let heats = [portion.heat_of_solution_kj.unwrap_or(0.0), portion.dissolved_state_kj];
    if let Some(&amount) = heats.iter().find(|heat| !heat.is_finite()) {
        return Err(HeatError::AmountNotUsable { amount });
    }
    let poured =
        if portion.water_g > 0.0 { Beaker::new(portion.water_g, portion.liquid_c)?.water_g } else { 0.0 };
    let water_g = beaker.water_g + poured + portion.moles * portion.crystal_water * WATER_G_PER_MOL;
    if !water_g.is_finite() {
        return Err(HeatError::AmountNotUsable { amount: portion.moles });
    }
    let mut contents = beaker.contents.clone();
    for (name, per_mole) in &portion.components {
        if !equilibria.has_component(name) {
            return Err(HeatError::UnknownComponent {
                substance: portion.substance.clone(),
                component: name.clone(),
            });
        }
        let moles = portion.moles * per_mole;
        if !(moles.is_finite() && moles >= 0.0) {
            return Err(HeatError::AmountNotUsable { amount: *per_mole });
        }
        *contents.entry(name.clone()).or_insert(0.0) += moles;
    }
    let after = Beaker { water_g, temperature_c: beaker.temperature_c, contents };
    let dissolution_kj = portion.heat_of_solution_kj.unwrap_or(0.0) * portion.moles;
    let reaction_kj = reaction(equilibria, beaker, &after, portion);
    let taken_up_kj = dissolution_kj + reaction_kj.unwrap_or(0.0);
    // Crystal water is warmed and cooled with the rest: the powder is taken as at the temperature of the beaker.
    let own_g = water_g - poured;
    let mixed = own_g * enthalpy(beaker.temperature_c) + poured * enthalpy(portion.liquid_c);
    let temperature_after_c = temperature_at((mixed - taken_up_kj * 1000.0) / water_g)
        .ok_or(HeatError::AmountNotUsable { amount: taken_up_kj })?;
    let (low, high) = WATER_RANGE_C;
    let beaker = Beaker { temperature_c: temperature_after_c.clamp(low, high), ..after };
    Ok(TemperatureStep { beaker, temperature_after_c, reaction_kj })
}

/// Heat taken up, kJ, when the species a heat of solution ends in come to equilibrium with what is in the beaker.
fn reaction(equilibria: &Equilibria, before: &Beaker, after: &Beaker, portion: &Portion) -> Option<f64> {
    if portion.moles == 0.0 && before.contents.is_empty() {
        return Some(0.0);
    }
    let change = species_enthalpy(equilibria, after)? - species_enthalpy(equilibria, before)?;
    Some(change - portion.moles * portion.dissolved_state_kj)
}

/// Enthalpy of all species in a beaker, kJ, counted from components, H⁺ and water; `None` where the model has no answer.
fn species_enthalpy(equilibria: &Equilibria, beaker: &Beaker) -> Option<f64> {
    let water_kg = beaker.water_g / 1000.0;
    let mut totals = vec![0.0; equilibria.components.len()];
    for (name, moles) in &beaker.contents {
        let total = totals.get_mut(equilibria.component_index(name)?)?;
        *total = moles / water_kg;
    }
    let (low, high) = TEMPERATURE_RANGE_C;
    let mut system = System::new(equilibria, &totals, beaker.temperature_c.clamp(low, high));
    system.solve().ok()?;
    Some(system.enthalpy_kj() * water_kg)
}

/// Heat of diluting sulfuric acid, kJ per mol of acid (negative: it warms), from `water_before` to `water_after` mol of water a mol of acid.
///
/// 0 to 0.11 for acid of 100 to 98 %. See the head of this module for the equation and its source.
///
/// # Errors
/// Amounts that are negative or not numbers, or less water after than before.
pub fn sulfuric_acid_heat(water_before: f64, water_after: f64) -> Result<f64, HeatError> {
    let usable = water_before.is_finite() && water_before >= 0.0 && water_after.is_finite();
    if !usable || water_after < water_before {
        return Err(HeatError::AmountNotUsable { amount: water_after });
    }
    let integral = |r: f64| 17_860.0 * r / (r + 1.798) * JOULE_PER_CALORIE / 1000.0;
    Ok(integral(water_before) - integral(water_after))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));

    fn table() -> Equilibria {
        Equilibria::parse(TEXT).unwrap()
    }

    fn powder(id: &str, moles: f64, heat: f64) -> Portion {
        Portion::powder(table().substance(id).unwrap(), moles, 0.0, Some(heat))
    }

    #[test]
    fn strong_acid_and_caustic_give_the_heat_of_forming_water() {
        let table = table();
        let acid = Portion::liquid(table.substance("hydrochloric-acid").unwrap(), 0.1, Some(0.0), 50.0, 20.0);
        let beaker = Beaker::new(950.0, 20.0).unwrap();
        let first = step_temperature(&table, &beaker, &acid).unwrap();
        assert!(first.reaction_kj.unwrap().abs() < 0.01);
        let second = step_temperature(&table, &first.beaker, &powder("sodium-hydroxide", 0.1, 0.0)).unwrap();
        // 55.81 kJ/mol times 0.1 mol.
        assert!((second.reaction_kj.unwrap() + 5.581).abs() < 0.01);
    }

    #[test]
    fn caustic_meets_bisulfite_and_phenol_with_heat() {
        let table = table();
        let beaker = Beaker::new(1000.0, 20.0).unwrap();
        for (id, per_mole) in [
            // HSO3- + OH-: -55.81 - 3.65.
            ("sodium-bisulfite", -59.5),
            // First proton of hydroquinone: 24 - 55.81.
            ("hydroquinone", -31.8),
        ] {
            let first = step_temperature(&table, &beaker, &powder(id, 0.2, 0.0)).unwrap();
            let caustic = powder("sodium-hydroxide", 0.1, 0.0);
            let second = step_temperature(&table, &first.beaker, &caustic).unwrap();
            let heat = second.reaction_kj.unwrap() / 0.1;
            assert!((heat - per_mole).abs() < 1.5, "{id}: {heat}");
        }
    }

    #[test]
    fn salts_that_stay_what_they_are_give_no_heat_of_reaction() {
        let table = table();
        let beaker = Beaker::new(1000.0, 20.0).unwrap();
        for id in ["sodium-carbonate", "sodium-thiosulfate", "sodium-sulfite", "potassium-bromide"] {
            let step = step_temperature(&table, &beaker, &powder(id, 0.3, 0.0)).unwrap();
            assert!(step.reaction_kj.unwrap().abs() < 0.8, "{id}: {:?}", step.reaction_kj);
        }
    }

    #[test]
    fn much_caustic_in_little_cold_water_boils() {
        let table = table();
        let mut beaker = Beaker::new(500.0, 15.0).unwrap();
        let agent = powder("p-aminophenol-hydrochloride", 0.34, 0.0);
        let bisulfite = powder("potassium-metabisulfite", 0.67, 0.0);
        for portion in [agent, bisulfite] {
            beaker = step_temperature(&table, &beaker, &portion).unwrap().beaker;
        }
        // 215 g of potassium hydroxide.
        let step = step_temperature(&table, &beaker, &powder("potassium-hydroxide", 3.83, -57.61)).unwrap();
        assert!(step.temperature_after_c > 130.0);
        assert!((step.beaker.temperature_c() - 100.0).abs() < 1e-9);
    }

    #[test]
    fn amounts_that_cannot_be_are_refused() {
        let table = table();
        let beaker = Beaker::new(1000.0, 20.0).unwrap();
        assert!(Beaker::new(0.0, 20.0).is_err());
        assert!(Beaker::new(1000.0, f64::NAN).is_err());
        assert!(step_temperature(&table, &beaker, &powder("borax", f64::NAN, 0.0)).is_err());
        assert!(step_temperature(&table, &beaker, &powder("borax", 1.0, f64::INFINITY)).is_err());
        assert!(sulfuric_acid_heat(5.0, 1.0).is_err());
    }

    #[test]
    fn sulfuric_acid_at_bath_strength_warms_by_seventy_kilojoules() {
        let heat = sulfuric_acid_heat(0.0, 300.0).unwrap();
        assert!((-75.0..-70.0).contains(&heat), "{heat}");
    }
}
