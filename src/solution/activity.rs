//! Activity coefficients by the specific ion interaction theory (SIT, in the form of the Nuclear Energy Agency).
//!
//! `log γᵢ = −A zᵢ² √I / (1 + 1.5 √I) + Σⱼ ε(i, j) mⱼ` over the ions j of opposite charge; I and m in mol/kg. For a neutral
//! species log γ = 0. The 1.5 is that of the convention on which the primary pH standards rest, so a predicted pH is on their scale.
//!
//! Good to an ionic strength of about 3.5 mol/kg; no ion pairs of sodium or potassium may be added, the coefficients already hold
//! their effect. Coefficients do not change with temperature.

use std::collections::{BTreeMap, BTreeSet};

use super::file::{InteractionEntry, ModelEntry};
use super::species::{EquilibriaError, HYDROGEN, Species};

/// The name the alkali defaults are told against.
const SODIUM: &str = "Na+";

/// Parameters of the model for a set of species.
#[derive(Debug, Clone)]
pub(super) struct ActivityModel {
    a: [f64; 3],
    b: f64,
    /// log₁₀ of the activity of water per mol/kg of all solutes.
    pub(super) water_slope: f64,
    /// One row a species, one column a species, kg/mol.
    epsilon: Vec<Vec<f64>>,
}

impl ActivityModel {
    /// Works out the coefficient of every pair once.
    pub(super) fn new(
        model: &ModelEntry,
        interactions: &[InteractionEntry],
        species: &[Species],
    ) -> Result<Self, EquilibriaError> {
        let mut listed: BTreeMap<(&str, &str), f64> = BTreeMap::new();
        let names: BTreeSet<&str> = species.iter().map(|species| species.name.as_str()).collect();
        for pair in interactions {
            for name in [&pair.cation, &pair.anion] {
                if !names.contains(name.as_str()) {
                    return Err(EquilibriaError::UnknownName {
                        item: "an interaction".to_owned(),
                        name: name.clone(),
                    });
                }
            }
            if !pair.epsilon.is_finite() {
                return Err(EquilibriaError::BadFigure { item: pair.anion.clone(), figure: pair.epsilon });
            }
            if listed.insert((&pair.cation, &pair.anion), pair.epsilon).is_some() {
                return Err(EquilibriaError::Duplicate {
                    name: format!("{} with {}", pair.cation, pair.anion),
                });
            }
        }
        let hydrogen = species.get(HYDROGEN).map_or("", |species| species.name.as_str());
        let of_pair = |cation: &Species, anion: &Species| -> f64 {
            let exact = listed.get(&(cation.name.as_str(), anion.name.as_str()));
            let like_sodium = model.alkali_like_sodium.contains(&cation.name);
            let sodium = listed.get(&(SODIUM, anion.name.as_str())).filter(|_| like_sodium);
            if let Some(&epsilon) = exact.or(sodium) {
                epsilon
            } else if cation.name == hydrogen {
                model.hydrogen_anion_epsilon
            } else if like_sodium || cation.name == SODIUM {
                model.alkali_anion_slope * (anion.charge.abs() - 1.0)
            } else {
                model.other_cation_epsilon
            }
        };
        let row = |one: &Species| -> Vec<f64> {
            let coefficient = |other: &Species| {
                if one.charge > 0.0 && other.charge < 0.0 {
                    of_pair(one, other)
                } else if one.charge < 0.0 && other.charge > 0.0 {
                    of_pair(other, one)
                } else {
                    0.0
                }
            };
            species.iter().map(coefficient).collect()
        };
        Ok(Self {
            a: model.debye_huckel_a,
            b: model.debye_huckel_b,
            water_slope: model.water_activity_slope,
            epsilon: species.iter().map(row).collect(),
        })
    }

    /// The Debye-Hückel slope A at a temperature in °C (0 to 60 °C), (kg/mol)^½.
    pub(super) fn debye_huckel_a(&self, temperature_c: f64) -> f64 {
        let [a0, a1, a2] = self.a;
        a0 + temperature_c * (a1 + temperature_c * a2)
    }

    /// The Debye-Hückel term for unit charge: `−A √I / (1 + B √I)`, I in mol/kg.
    pub(super) fn long_range(&self, debye_huckel_a: f64, ionic_strength: f64) -> f64 {
        let root = ionic_strength.sqrt();
        -debye_huckel_a * root / (1.0 + self.b * root)
    }

    /// Interaction coefficient of two species by position, kg/mol; 0 for like or no charge.
    pub(super) fn epsilon(&self, one: usize, other: usize) -> f64 {
        self.epsilon.get(one).and_then(|row| row.get(other)).copied().unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::super::Equilibria;

    const TEXT: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));

    #[test]
    fn pairs_follow_the_listed_figure_then_sodium_then_the_default() {
        let table = Equilibria::parse(TEXT).unwrap();
        let at = |name: &str| table.species.iter().position(|s| s.name == name).unwrap();
        let epsilon = |one: &str, other: &str| table.activity.epsilon(at(one), at(other));
        for (one, other, expected) in [
            ("Na+", "OH-", 0.04),
            ("OH-", "Na+", 0.04),
            ("K+", "OH-", 0.09),
            ("K+", "SO3^2-", -0.08),
            ("NH4+", "S2O3^2-", -0.08),
            ("Na+", "S2O8^2-", -0.05),
            ("Na+", "hydroquinone-", 0.0),
            ("H+", "SO4^2-", 0.12),
            ("Ca^2+", "Cl-", 0.0),
            ("Na+", "K+", 0.0),
            ("Na+", "B(OH)3", 0.0),
        ] {
            assert!((epsilon(one, other) - expected).abs() < 1e-12, "{one} {other}");
        }
    }

    #[test]
    fn the_long_range_term_is_that_of_the_convention() {
        let table = Equilibria::parse(TEXT).unwrap();
        let a = table.activity.debye_huckel_a(25.0);
        // A at 25 °C, molal: 0.509 in the usual tables (Robinson and Stokes; 0.5092 to 0.5115 by convention of units).
        assert!((a - 0.5098).abs() < 0.001, "{a}");
        let expected = -a * 0.1_f64.sqrt() / (1.0 + 1.5 * 0.1_f64.sqrt());
        assert!((table.activity.long_range(a, 0.1) - expected).abs() < 1e-12);
    }
}
