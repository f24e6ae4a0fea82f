//! One solution in molal terms: its active species, their activity coefficients, and the pH at which charges balance.
//!
//! H⁺ has no total of its own. All components are written so that electroneutrality fixes it: `Σ z m = 0` with
//! `m(H⁺) = 10^−pH / γ(H⁺)` and pH = −log₁₀ a(H⁺). The sum falls as pH rises, so there is one root.

use std::f64::consts::LN_10;

use super::equilibria::{Equilibria, HYDROXIDE};
use super::family::{Family, Member};
use super::prediction::SolutionError;
use super::roots::bracketed_root;
use super::species::{HYDROGEN, Species};

/// The pH scale searched.
const PH_RANGE: (f64, f64) = (-2.0, 16.5);
/// Loops over activity coefficients allowed; real solutions take 4 to 10.
const MOST_ACTIVITY_LOOPS: u32 = 120;
/// From this loop on, half of each change of the activity coefficients is taken.
const DAMP_FROM_LOOP: u32 = 12;
/// Width at which a root counts as found, in pH.
const PH_TOLERANCE: f64 = 1e-8;
/// The same before there are activity coefficients.
const FIRST_PH_TOLERANCE: f64 = 1e-3;
/// Change of the pH from one loop to the next that ends the loops.
const SETTLED_PH: f64 = 1e-7;
/// The same of every log₁₀ γ.
const SETTLED_LOG_GAMMA: f64 = 1e-6;
/// mol/kg of all species and of ionic strength beyond which a solution is refused.
const MOST_MOLAL: f64 = 60.0;

/// An ion of water: H⁺ or OH⁻.
#[derive(Debug, Clone)]
struct WaterIon {
    species: usize,
    charge: f64,
    log_gamma: f64,
    molality: f64,
}

/// The solution being solved.
#[derive(Debug, Clone)]
pub(super) struct System<'a> {
    equilibria: &'a Equilibria,
    hydrogen: WaterIon,
    hydroxide: WaterIon,
    log_k_water: f64,
    debye_huckel_a: f64,
    families: Vec<Family>,
    /// Interaction coefficients of the active species, row by row, in the order of [`System::each`].
    epsilon: Vec<f64>,
    active: usize,
    log_water: f64,
    pub(super) ionic_strength: f64,
    pub(super) ph: f64,
    /// Loops over the activity coefficients.
    pub(super) activity_loops: u32,
    /// Evaluations of the charge balance.
    pub(super) charge_evaluations: u32,
}

impl<'a> System<'a> {
    /// Sets up the solution of `totals` (mol per kg of water of each component, by position) at a temperature in °C.
    pub(super) fn new(equilibria: &'a Equilibria, totals: &[f64], temperature_c: f64) -> Self {
        let families = families(equilibria, totals, temperature_c);
        let water_ion =
            |species: usize, charge: f64| WaterIon { species, charge, log_gamma: 0.0, molality: 0.0 };
        let order: Vec<usize> = [HYDROGEN, HYDROXIDE]
            .into_iter()
            .chain(families.iter().flat_map(|f| f.members.iter().map(|m| m.species)))
            .collect();
        let epsilon = order
            .iter()
            .flat_map(|one| order.iter().map(|other| equilibria.activity.epsilon(*one, *other)))
            .collect();
        let log_k_water = equilibria.species.get(HYDROXIDE).map_or(-14.0, |water| water.log_k(temperature_c));
        Self {
            hydrogen: water_ion(HYDROGEN, 1.0),
            hydroxide: water_ion(HYDROXIDE, -1.0),
            log_k_water,
            debye_huckel_a: equilibria.activity.debye_huckel_a(temperature_c),
            families,
            epsilon,
            active: order.len(),
            log_water: 0.0,
            ionic_strength: 0.0,
            ph: 7.0,
            activity_loops: 0,
            charge_evaluations: 0,
            equilibria,
        }
    }

    /// Finds pH and species.
    pub(super) fn solve(&mut self) -> Result<(), SolutionError> {
        let mut ph = self.root_in(PH_RANGE, FIRST_PH_TOLERANCE)?;
        for turn in 1..=MOST_ACTIVITY_LOOPS {
            self.activity_loops = turn;
            let change = self.update_activities(if turn < DAMP_FROM_LOOP { 1.0 } else { 0.5 })?;
            let last = ph;
            ph = self.root_near(last)?;
            if (ph - last).abs() < SETTLED_PH && change < SETTLED_LOG_GAMMA {
                self.ph = ph;
                return Ok(());
            }
        }
        Err(SolutionError::NotConverged { loops: MOST_ACTIVITY_LOOPS })
    }

    /// The pH in a bracket at which charges balance with the present activity coefficients; the species are left at it.
    fn root_in(&mut self, (low, high): (f64, f64), tolerance: f64) -> Result<f64, SolutionError> {
        let mut failed = false;
        let mut evaluations = 0;
        let mut charge = |ph: f64| {
            evaluations += 1;
            let charge = self.charge_at(ph);
            failed |= charge.is_none();
            charge
        };
        let root = bracketed_root(&mut charge, low, high, tolerance);
        // Leaves the species at the root, not at the last point tried.
        let settled = root.and_then(&mut charge);
        self.charge_evaluations += evaluations;
        match (root, settled) {
            (Some(ph), Some(_)) => Ok(ph),
            _ if failed => Err(SolutionError::NotConverged { loops: self.activity_loops }),
            _ => Err(SolutionError::OutsidePhScale),
        }
    }

    /// The same from the last pH: a few secant steps, then brackets of growing width, then the whole scale.
    fn root_near(&mut self, last: f64) -> Result<f64, SolutionError> {
        let mut evaluate = |ph: f64| {
            self.charge_evaluations += 1;
            self.charge_at(ph).filter(|charge| charge.is_finite())
        };
        let mut before = (last - 0.005, evaluate(last - 0.005));
        let mut here = (last, evaluate(last));
        for _ in 0..6 {
            let ((x0, Some(f0)), (x1, Some(f1))) = (before, here) else {
                break;
            };
            let step = f1 * (x1 - x0) / (f0 - f1);
            if !step.is_finite() || step.abs() > 0.3 {
                break;
            }
            let next = x1 + step;
            let at_next = evaluate(next);
            if step.abs() < PH_TOLERANCE && at_next.is_some() {
                return Ok(next);
            }
            (before, here) = (here, (next, at_next));
        }
        let mut half_width = 0.1;
        while half_width < 5.0 {
            let (low, high) = (last - half_width, last + half_width);
            self.charge_evaluations += 2;
            let positive = self.charge_at(low).is_some_and(|charge| charge > 0.0);
            if positive && self.charge_at(high).is_some_and(|charge| charge < 0.0) {
                return self.root_in((low, high), PH_TOLERANCE);
            }
            half_width *= 7.0;
        }
        self.root_in(PH_RANGE, PH_TOLERANCE)
    }

    /// Sum of charges at a pH with the present activity coefficients, mol/kg.
    pub(super) fn charge_at(&mut self, ph: f64) -> Option<f64> {
        self.hydrogen.molality = (LN_10 * (-ph - self.hydrogen.log_gamma)).exp();
        self.hydroxide.molality =
            (LN_10 * (self.log_k_water + ph + self.log_water - self.hydroxide.log_gamma)).exp();
        let mut charge = self.hydrogen.molality - self.hydroxide.molality;
        for family in &mut self.families {
            charge += family.charge_at(ph)?;
        }
        Some(charge)
    }

    /// Recomputes ionic strength, activity coefficients and constants; returns the largest change of a log₁₀ γ.
    fn update_activities(&mut self, share: f64) -> Result<f64, SolutionError> {
        let molalities: Vec<f64> = self.each().map(|(_, _, molality)| molality).collect();
        let ionic_strength =
            0.5 * self.each().map(|(_, charge, molality)| charge * charge * molality).sum::<f64>();
        let solutes: f64 = molalities.iter().sum();
        if !solutes.is_finite() || solutes > MOST_MOLAL || ionic_strength > MOST_MOLAL {
            return Err(SolutionError::TooConcentrated { molality: solutes });
        }
        self.ionic_strength = ionic_strength;
        self.log_water = self.equilibria.activity.water_slope * solutes;
        let long_range = self.equilibria.activity.long_range(self.debye_huckel_a, ionic_strength);
        let mut rows = self.epsilon.chunks_exact(self.active.max(1));
        let mut change = 0.0_f64;
        let mut update = |charge: f64, log_gamma: &mut f64| {
            let Some(row) = rows.next() else { return };
            if charge == 0.0 {
                return;
            }
            let specific: f64 = row.iter().zip(&molalities).map(|(e, m)| e * m).sum();
            let target = charge * charge * long_range + specific;
            let step = share * (target - *log_gamma);
            change = change.max(step.abs());
            *log_gamma += step;
        };
        update(self.hydrogen.charge, &mut self.hydrogen.log_gamma);
        update(self.hydroxide.charge, &mut self.hydroxide.log_gamma);
        for member in self.families.iter_mut().flat_map(|family| &mut family.members) {
            update(member.charge, &mut member.log_gamma);
        }
        for family in &mut self.families {
            family.refresh_constants(self.log_water);
        }
        if change.is_finite() {
            Ok(change)
        } else {
            Err(SolutionError::TooConcentrated { molality: solutes })
        }
    }

    /// Position, charge and molality of every active species: H⁺, OH⁻, then family by family.
    pub(super) fn each(&self) -> impl Iterator<Item = (usize, f64, f64)> + '_ {
        let water = [&self.hydrogen, &self.hydroxide];
        let water = water.into_iter().map(|ion| (ion.species, ion.charge, ion.molality));
        let members = self.families.iter().flat_map(|family| &family.members);
        water.chain(members.map(|member| (member.species, member.charge, member.molality)))
    }

    /// Buffer capacity `−d(charge)/d(pH)`: strong base that raises the pH by one, mol per kg of water, by central difference.
    pub(super) fn capacity(&mut self) -> Option<f64> {
        const STEP: f64 = 0.01;
        let below = self.charge_at(self.ph - STEP)?;
        let above = self.charge_at(self.ph + STEP)?;
        self.charge_at(self.ph)?;
        Some((below - above) / (2.0 * STEP))
    }

    /// Root of the sum of squares of the charges by which doubtful constants may be off, mol/kg.
    pub(super) fn charge_doubt(&mut self) -> Option<f64> {
        let species = &self.equilibria.species;
        let mut sum = 0.0;
        for family in &mut self.families {
            sum += family.squared_charge_doubt(self.ph, |member| {
                species.get(member.species).map_or(0.0, |species| species.uncertainty)
            })?;
        }
        Some(sum.sqrt())
    }

    /// How far the pH moves when a kg of water is given `acid` mol of strong acid (negative: alkali), at the present activity
    /// coefficients. `None` if it leaves the scale. The species are left as they were.
    pub(super) fn shift_by_acid(&mut self, acid: f64) -> Option<f64> {
        let ph = self.ph;
        let (low, high) = if acid > 0.0 { (PH_RANGE.0, ph) } else { (ph, PH_RANGE.1) };
        let moved = bracketed_root(|ph| self.charge_at(ph).map(|f| f - acid), low, high, 1e-3);
        self.charge_at(ph)?;
        moved.map(|moved| moved - ph)
    }

    /// Enthalpy (kJ per kg of water, constants of 25 °C) of the species, counted from components, H⁺ and water.
    pub(super) fn enthalpy_kj(&self) -> f64 {
        self.each()
            .filter_map(|(species, _, molality)| {
                Some(self.equilibria.species.get(species)?.enthalpy_kj * molality)
            })
            .sum()
    }
}

/// Sorts the components present into families and lists the species of each.
fn families(equilibria: &Equilibria, totals: &[f64], temperature_c: f64) -> Vec<Family> {
    let present = |part: usize| totals.get(part).is_some_and(|total| *total > 0.0);
    let active: Vec<(usize, &Species)> = equilibria
        .species
        .iter()
        .enumerate()
        .filter(|(_, species)| !species.of.is_empty() && species.of.iter().all(|&(part, _)| present(part)))
        .collect();
    let mut groups: Vec<Vec<usize>> =
        (0..totals.len()).filter(|part| present(*part)).map(|part| vec![part]).collect();
    for (_, species) in active.iter().filter(|(_, species)| species.of.len() > 1) {
        let shares = |group: &Vec<usize>| species.of.iter().any(|(part, _)| group.contains(part));
        let (joined, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(shares);
        groups = apart;
        groups.push(joined.concat());
    }
    groups
        .into_iter()
        .map(|parts| {
            let members = active
                .iter()
                .filter(|(_, species)| species.of.iter().any(|(part, _)| parts.contains(part)))
                .map(|&(position, species)| member(position, species, &parts, temperature_c))
                .collect();
            let totals = parts.iter().filter_map(|part| totals.get(*part).copied()).collect();
            Family::new(totals, members)
        })
        .collect()
}

fn member(position: usize, species: &Species, parts: &[usize], temperature_c: f64) -> Member {
    let count_of = |part: &usize| -> f64 {
        species.of.iter().filter(|(at, _)| at == part).map(|(_, count)| count).sum()
    };
    let is_component =
        species.is_component().and_then(|component| parts.iter().position(|part| *part == component));
    Member::new(
        position,
        species.charge,
        species.hydrogen,
        species.water,
        species.log_k(temperature_c),
        parts.iter().map(count_of).collect(),
        is_component,
    )
}
