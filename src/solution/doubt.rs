//! How far a predicted pH may be off, and what to say beside it.
//!
//! Independent doubts are added as squares: the activity model (by ionic strength, and by components whose interactions are poorly
//! known), the constants (each by its own doubt, through the charge it moves and the buffer capacity), the purity of salts as sold, and
//! whatever of an addition is not known. The first was fitted to comparison rows so that nine in ten lie inside; none of it is a
//! published figure.

use super::equilibria::Equilibria;
use super::prediction::{Addition, Buffering, ModelLimit, Modelling};
use super::system::System;

/// Ionic strength, mol/kg, up to which the activity model was compared with others.
const COMPARED_TO_IONIC_STRENGTH: f64 = 3.7;
/// Error of the activity model in dilute solution.
const MODEL_ERROR: f64 = 0.03;
/// What each mol/kg of ionic strength adds to it.
const MODEL_ERROR_SLOPE: f64 = 0.04;
/// An error is not told larger than this; beyond it a figure says nothing anyway.
const LARGEST_ERROR: f64 = 7.0;

/// A solved solution, to be asked how sure its pH is.
pub(super) struct Doubts<'s, 'e> {
    pub(super) equilibria: &'e Equilibria,
    /// mol per litre of each component, by position.
    pub(super) totals: &'s [f64],
    pub(super) system: &'s mut System<'e>,
    /// kg of water per litre.
    pub(super) water_kg: f64,
    /// mol per kg of water and pH.
    pub(super) capacity_molal: f64,
}

impl Doubts<'_, '_> {
    /// How far so many mol/L of acid or alkali move the pH, whichever moves it more.
    fn shift(&mut self, protons_per_litre: f64) -> f64 {
        let per_kg = protons_per_litre / self.water_kg;
        let mut by = |acid| self.system.shift_by_acid(acid).map_or(LARGEST_ERROR, f64::abs);
        by(per_kg).max(by(-per_kg))
    }

    /// What to say beside the figure.
    pub(super) fn limits(&mut self, additions: &[Addition]) -> Vec<ModelLimit> {
        let mut limits = Vec::new();
        for addition in additions.iter().filter(|one| one.standing == Modelling::Unknown) {
            let protons = addition.moles * addition.protons;
            limits.push(ModelLimit::Unknown {
                substance: addition.substance.clone(),
                moles: addition.moles,
                ph_shift: (protons > 0.0).then(|| self.shift(protons)),
            });
        }
        self.missing_complexes(&mut limits);
        let ionic_strength = self.system.ionic_strength;
        if ionic_strength > COMPARED_TO_IONIC_STRENGTH {
            limits
                .push(ModelLimit::IonicStrength { ionic_strength, compared_to: COMPARED_TO_IONIC_STRENGTH });
        }
        let buffer_capacity = self.capacity_molal * self.water_kg;
        if Buffering::of(buffer_capacity) == Buffering::Poor {
            limits.push(ModelLimit::PoorlyBuffered { buffer_capacity });
        }
        limits
    }

    fn missing_complexes(&mut self, limits: &mut Vec<ModelLimit>) {
        for (component, metal) in self.equilibria.components.iter().zip(self.totals) {
            for &other in &component.complexes_missing_with {
                let partner = self.equilibria.components.get(other);
                let amount = self.totals.get(other).copied().unwrap_or(0.0).min(*metal);
                if let Some(partner) = partner.filter(|_| amount > 0.0) {
                    limits.push(ModelLimit::MissingComplexes {
                        component: component.name.clone(),
                        with: partner.name.clone(),
                        ph_shift: self.shift(amount),
                    });
                }
            }
        }
    }

    /// Expected error of the pH, either way.
    pub(super) fn ph_error(&mut self, limits: &[ModelLimit]) -> Option<f64> {
        let parts = [
            MODEL_ERROR + MODEL_ERROR_SLOPE * self.system.ionic_strength,
            self.poorly_known_activity(),
            self.system.charge_doubt()? / self.capacity_molal,
            self.impurity(),
        ];
        let unknown = limits.iter().map(unknown_shift);
        let squares = parts.into_iter().chain(unknown).map(|part| part * part);
        let error = squares.sum::<f64>().sqrt();
        Some(error.min(LARGEST_ERROR))
    }

    fn poorly_known_activity(&self) -> f64 {
        let components = self.equilibria.components.iter().zip(self.totals);
        components.map(|(part, moles)| part.activity_doubt * moles).sum()
    }

    /// What the acid that salts as sold may bring too many would do.
    fn impurity(&mut self) -> f64 {
        let components = self.equilibria.components.iter().zip(self.totals);
        let acid: f64 = components.map(|(part, moles)| part.acid_impurity * moles).sum();
        if acid == 0.0 {
            return 0.0;
        }
        let moved = self.system.shift_by_acid(acid / self.water_kg);
        moved.map_or(LARGEST_ERROR, f64::abs)
    }
}

fn unknown_shift(limit: &ModelLimit) -> f64 {
    match limit {
        ModelLimit::Unknown { ph_shift, .. } => ph_shift.unwrap_or(0.0),
        ModelLimit::MissingComplexes { ph_shift, .. } => *ph_shift,
        _ => 0.0,
    }
}
