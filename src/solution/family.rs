//! The species of one family of components at a given pH.
//!
//! A family is the smallest set of components that share species: borate alone, or sodium with EDTA where both are present. Its mass
//! balances `Tⱼ = Σₛ νₛⱼ mₛ` with `ln mₛ = ln cₛ + Σⱼ νₛⱼ uⱼ` (u: natural logarithm of the free component's molality, c: the
//! conditional constant times a power of the proton activity) are solved
//!
//! * in closed form where each species holds one unit of one component,
//! * by Newton on the logarithm of the balance where one component forms larger species (polyborates, disulfite); that function is
//!   convex and rises with a slope between 1 and the largest count, so Newton cannot run away,
//! * by a damped Newton on the convex potential `Σₛ mₛ − Σⱼ Tⱼ uⱼ` where components are coupled; its gradient is the mass balance
//!   and its Hessian is positive definite, so the solution is the only one.

use std::f64::consts::LN_10;

use super::roots::solve_positive_definite;

/// Newton steps allowed for one component; convergence is quadratic from the right-hand side.
const MOST_SINGLE_STEPS: u32 = 60;
/// Newton steps allowed for coupled components.
const MOST_COUPLED_STEPS: u32 = 200;
/// Largest relative error of a mass balance that counts as solved.
const BALANCE_TOLERANCE: f64 = 1e-12;
/// mol/kg of a species that cannot move a pH.
const NEGLIGIBLE_MOLALITY: f64 = 1e-9;
/// What is still accepted where rounding stops progress.
const ROUGH_TOLERANCE: f64 = 1e-8;

/// One species of a family.
#[derive(Debug, Clone)]
pub(super) struct Member {
    /// Position among all species of the table.
    pub(super) species: usize,
    pub(super) charge: f64,
    pub(super) hydrogen: f64,
    pub(super) water: f64,
    /// log₁₀ of the formation constant at the temperature of the solution.
    pub(super) log_k: f64,
    /// Units of each component of the family.
    pub(super) counts: Vec<f64>,
    /// For a component itself: which one.
    pub(super) is_component: Option<usize>,
    /// log₁₀ of the activity coefficient.
    pub(super) log_gamma: f64,
    /// log₁₀ of the constant in molalities at the present activity coefficients, proton still as activity.
    pub(super) log_k_conditional: f64,
    /// Natural logarithm of the same times the proton activity to its power, at the present pH.
    ln_c: f64,
    /// mol/kg.
    pub(super) molality: f64,
}

impl Member {
    pub(super) fn new(
        species: usize,
        charge: f64,
        hydrogen: f64,
        water: f64,
        log_k: f64,
        counts: Vec<f64>,
        is_component: Option<usize>,
    ) -> Self {
        Self {
            species,
            charge,
            hydrogen,
            water,
            log_k,
            counts,
            is_component,
            log_gamma: 0.0,
            log_k_conditional: log_k,
            ln_c: 0.0,
            molality: 0.0,
        }
    }

    fn ln_molality(&self, ln_free: &[f64]) -> f64 {
        self.ln_c + self.counts.iter().zip(ln_free).map(|(count, u)| count * u).sum::<f64>()
    }
}

/// Components that share species, and those species.
#[derive(Debug, Clone)]
pub(super) struct Family {
    /// mol/kg of each component, all above zero.
    totals: Vec<f64>,
    /// Natural logarithm of the molality of each free component; kept between calls as the next first guess.
    ln_free: Vec<f64>,
    pub(super) members: Vec<Member>,
    method: Method,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Method {
    /// One component that stays as it is.
    Spectator,
    /// One component, species of one unit each.
    Closed,
    /// One component, species of several units.
    Single,
    /// Several components.
    Coupled,
}

impl Family {
    pub(super) fn new(totals: Vec<f64>, members: Vec<Member>) -> Self {
        let method = match (totals.len(), members.len()) {
            (1, 1) => Method::Spectator,
            (1, _) => {
                let simple = members.iter().flat_map(|m| &m.counts).all(|count| *count < 1.5);
                if simple { Method::Closed } else { Method::Single }
            }
            _ => Method::Coupled,
        };
        let ln_free = totals.iter().map(|total| total.ln()).collect();
        Self { totals, ln_free, members, method }
    }

    /// Works the activity coefficients into the constants. `log_water` is log₁₀ of the activity of water.
    pub(super) fn refresh_constants(&mut self, log_water: f64) {
        let mut component_gammas = vec![0.0; self.totals.len()];
        for member in &self.members {
            if let Some(slot) = member.is_component.and_then(|at| component_gammas.get_mut(at)) {
                *slot = member.log_gamma;
            }
        }
        for member in &mut self.members {
            let components: f64 =
                member.counts.iter().zip(&component_gammas).map(|(count, g)| count * g).sum();
            member.log_k_conditional =
                member.log_k + member.water * log_water + components - member.log_gamma;
        }
    }

    /// Distributes the components over the species at a pH and returns the charge they carry, mol/kg.
    ///
    /// `None` if no distribution was found within the steps allowed.
    pub(super) fn charge_at(&mut self, ph: f64) -> Option<f64> {
        for member in &mut self.members {
            member.ln_c = LN_10 * (member.log_k_conditional - member.hydrogen * ph);
        }
        match self.method {
            Method::Spectator => {
                for (member, total) in self.members.iter_mut().zip(&self.totals) {
                    member.molality = *total;
                }
            }
            Method::Closed => self.solve_closed()?,
            Method::Single => self.solve_single()?,
            Method::Coupled => self.solve_coupled()?,
        }
        Some(self.members.iter().map(|member| member.charge * member.molality).sum())
    }

    /// Sum of the squares of the charges (mol/kg) that this family gains when log₁₀ K of one member after the other rises by its
    /// doubt; the state is left as it was.
    pub(super) fn squared_charge_doubt(&mut self, ph: f64, doubt: impl Fn(&Member) -> f64) -> Option<f64> {
        if self.method == Method::Spectator {
            return Some(0.0);
        }
        let charge = self.charge_at(ph)?;
        let mut sum = 0.0;
        for at in 0..self.members.len() {
            let Some(member) = self.members.get_mut(at) else {
                continue;
            };
            let shift = doubt(member);
            // A species of which there is none moves nothing.
            if shift == 0.0 || member.molality * 10_f64.powf(shift) < NEGLIGIBLE_MOLALITY {
                continue;
            }
            member.log_k_conditional += shift;
            let moved = self.charge_at(ph);
            if let Some(member) = self.members.get_mut(at) {
                member.log_k_conditional -= shift;
            }
            sum += (moved? - charge).powi(2);
        }
        self.charge_at(ph)?;
        Some(sum)
    }

    fn solve_closed(&mut self) -> Option<()> {
        let total = *self.totals.first()?;
        let largest = self.members.iter().map(|member| member.ln_c).fold(f64::NEG_INFINITY, f64::max);
        let mut sum = 0.0;
        for member in &mut self.members {
            member.molality = (member.ln_c - largest).exp();
            sum += member.molality;
        }
        for member in &mut self.members {
            member.molality *= total / sum;
        }
        sum.is_finite().then_some(())
    }

    /// `ln Σ νₛ mₛ` and its slope in u; both stay finite whatever u is.
    fn log_balance(&self, u: f64) -> (f64, f64) {
        let terms = || {
            self.members.iter().filter_map(move |member| {
                let count = *member.counts.first()?;
                Some((count, member.ln_c + count * u))
            })
        };
        let largest = terms().map(|(_, term)| term).fold(f64::NEG_INFINITY, f64::max);
        let (mut sum, mut slope) = (0.0, 0.0);
        for (count, term) in terms() {
            let part = count * (term - largest).exp();
            sum += part;
            slope += count * part;
        }
        (largest + sum.ln(), slope / sum)
    }

    fn solve_single(&mut self) -> Option<()> {
        let ln_total = self.totals.first()?.ln();
        let mut u = *self.ln_free.first()?;
        let mut solved = false;
        for _ in 0..MOST_SINGLE_STEPS {
            let (value, slope) = self.log_balance(u);
            let miss = value - ln_total;
            u -= miss / slope;
            if miss.abs() < BALANCE_TOLERANCE {
                solved = true;
                break;
            }
        }
        if !solved || !u.is_finite() {
            return None;
        }
        if let Some(free) = self.ln_free.first_mut() {
            *free = u;
        }
        self.set_molalities();
        Some(())
    }

    fn set_molalities(&mut self) {
        for member in &mut self.members {
            member.molality = member.ln_molality(&self.ln_free).exp();
        }
    }

    fn solve_coupled(&mut self) -> Option<()> {
        self.approach();
        self.set_molalities();
        let (mut rows, mut miss) = self.newton_rows();
        for _ in 0..MOST_COUPLED_STEPS {
            if miss < BALANCE_TOLERANCE {
                return Some(());
            }
            let step = solve_positive_definite(rows)?;
            let longest = step.iter().fold(0.0_f64, |most, part| most.max(part.abs()));
            let mut share = (LN_10 / longest).min(1.0);
            let start = self.ln_free.clone();
            let (potential, rounding) = self.potential();
            loop {
                for ((free, from), part) in self.ln_free.iter_mut().zip(&start).zip(&step) {
                    *free = from + share * part;
                }
                self.set_molalities();
                let (next, _) = self.potential();
                let (next_rows, next_miss) = self.newton_rows();
                // Close to the solution the potential is flat within rounding, and the balance itself tells.
                if next <= potential + rounding || next_miss < 0.5 * miss {
                    (rows, miss) = (next_rows, next_miss);
                    break;
                }
                share *= 0.5;
                if share < 1e-6 {
                    // No descent left: the point before is as good as it gets.
                    self.ln_free = start;
                    self.set_molalities();
                    return (miss < ROUGH_TOLERANCE).then_some(());
                }
            }
        }
        (miss < ROUGH_TOLERANCE).then_some(())
    }

    /// Lowers the free components one after the other until no balance is far exceeded, so that Newton starts within reach.
    fn approach(&mut self) {
        for (free, total) in self.ln_free.iter_mut().zip(&self.totals) {
            *free = free.min(total.ln());
        }
        for _ in 0..8 {
            let mut furthest = 0.0_f64;
            for (at, total) in self.totals.iter().enumerate() {
                let (mut largest, mut most_units) = (f64::NEG_INFINITY, 1.0_f64);
                let with = |member: &Member| member.counts.get(at).copied().filter(|c| *c > 0.0);
                for member in &self.members {
                    if let Some(count) = with(member) {
                        largest = largest.max(member.ln_molality(&self.ln_free));
                        most_units = most_units.max(count);
                    }
                }
                let mut sum = 0.0;
                for member in &self.members {
                    if let Some(count) = with(member) {
                        sum += count * (member.ln_molality(&self.ln_free) - largest).exp();
                    }
                }
                let excess = largest + sum.ln() - total.ln();
                if let Some(free) = self.ln_free.get_mut(at).filter(|_| excess.is_finite()) {
                    *free -= excess / most_units;
                }
                furthest = furthest.max(excess.abs());
            }
            if furthest < 0.5 {
                break;
            }
        }
    }

    /// The convex potential, and how much of it may be rounding.
    fn potential(&self) -> (f64, f64) {
        let species: f64 = self.members.iter().map(|member| member.molality).sum();
        let terms = || self.totals.iter().zip(&self.ln_free).map(|(total, u)| total * u);
        let free: f64 = terms().sum();
        let size = species + terms().map(f64::abs).sum::<f64>();
        (species - free, 1e-14 * size)
    }

    /// Rows of the Newton system with its right-hand side, and the largest relative error of a mass balance.
    fn newton_rows(&self) -> (Vec<Vec<f64>>, f64) {
        let size = self.totals.len();
        let mut rows = vec![vec![0.0; size + 1]; size];
        for (row, total) in rows.iter_mut().zip(&self.totals) {
            if let Some(right) = row.last_mut() {
                *right = *total;
            }
        }
        for member in &self.members {
            for (row, one) in rows.iter_mut().zip(&member.counts) {
                if *one == 0.0 {
                    continue;
                }
                for (entry, other) in row.iter_mut().zip(&member.counts) {
                    *entry += one * other * member.molality;
                }
                if let Some(right) = row.last_mut() {
                    *right -= one * member.molality;
                }
            }
        }
        let miss = rows
            .iter()
            .zip(&self.totals)
            .filter_map(|(row, total)| Some((row.last()? / total).abs()))
            .fold(0.0, f64::max);
        (rows, miss)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn balance(family: &Family, component: usize) -> f64 {
        family.members.iter().map(|m| m.counts[component] * m.molality).sum()
    }

    #[test]
    fn a_strong_one_to_three_complex_is_found_from_afar() {
        // Iron and oxalate with the constants of sit.dat, exact stoichiometry, no activity corrections.
        let member = |charge, log_k, counts: [f64; 2], is| {
            Member::new(0, charge, 0.0, 0.0, log_k, counts.to_vec(), is)
        };
        let members = vec![
            member(3.0, 0.0, [1.0, 0.0], Some(0)),
            member(-2.0, 0.0, [0.0, 1.0], Some(1)),
            member(1.0, 9.53, [1.0, 1.0], None),
            member(-1.0, 15.75, [1.0, 2.0], None),
            member(-3.0, 20.2, [1.0, 3.0], None),
        ];
        for excess in [0.0, 1e-6, 0.5, -0.05] {
            let totals = vec![0.1, 0.3 + excess];
            let mut family = Family::new(totals.clone(), members.clone());
            family.charge_at(7.0).unwrap();
            for (at, total) in totals.iter().enumerate() {
                assert!((balance(&family, at) / total - 1.0).abs() < 1e-8, "{excess}");
            }
            let [iron, oxalate, .., three] = family.members.as_slice() else { panic!("five") };
            let quotient = (three.molality / iron.molality).log10() - 3.0 * oxalate.molality.log10();
            assert!((quotient - 20.2).abs() < 1e-9);
        }
    }

    #[test]
    fn large_species_keep_the_mass_balance_over_the_whole_scale() {
        let member = |charge, hydrogen, log_k, count: f64, is| {
            Member::new(0, charge, hydrogen, 0.0, log_k, vec![count], is)
        };
        let members = vec![
            member(0.0, 0.0, 0.0, 1.0, Some(0)),
            member(-1.0, -1.0, -9.237, 1.0, None),
            member(-1.0, -1.0, -7.35, 3.0, None),
            member(-2.0, -2.0, -16.1, 4.0, None),
        ];
        let mut last = f64::INFINITY;
        for step in 0..180 {
            let ph = -2.0 + 0.1 * f64::from(step);
            let mut family = Family::new(vec![1.5], members.clone());
            let charge = family.charge_at(ph).unwrap();
            assert!((balance(&family, 0) / 1.5 - 1.0).abs() < 1e-10);
            assert!(charge <= last);
            last = charge;
        }
    }
}
