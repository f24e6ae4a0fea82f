//! A species and its formation constant, and why a table of them is refused.

use std::f64::consts::LN_10;

use thiserror::Error;

/// Gas constant, J/(mol K) (CODATA 2018, exact to the digits given).
const GAS_CONSTANT: f64 = 8.314_462_618;
/// 25 °C in K, the temperature of the constants on file.
const REFERENCE_K: f64 = 298.15;

/// Position of H⁺ among the species.
pub(super) const HYDROGEN: usize = 0;

/// Why a file of equilibria is refused.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum EquilibriaError {
    /// The text is not TOML, or a key is missing, unknown or of the wrong kind.
    #[error("the table of equilibria does not parse: {0}")]
    Parse(#[from] toml::de::Error),
    /// The same of a packed table.
    #[error("the table of equilibria does not parse: {0}")]
    Packed(#[from] serde::de::value::Error),
    /// The layout number is not the one this program reads.
    #[error("the table of equilibria has format {given}, this program reads format 1")]
    Format {
        /// The number found.
        given: u32,
    },
    /// A figure names a source the file does not list.
    #[error("{item} names the source \"{source_key}\", which [sources] does not list")]
    UnlistedSource {
        /// What carries the figure.
        item: String,
        /// The key that was not found.
        source_key: String,
    },
    /// A name is used that no component or species has.
    #[error("{item} names \"{name}\", which is neither a component nor a species")]
    UnknownName {
        /// Where it stands.
        item: String,
        /// The name that was not found.
        name: String,
    },
    /// Two entries carry one name.
    #[error("\"{name}\" stands twice")]
    Duplicate {
        /// Of a component or a species.
        name: String,
    },
    /// The charge in a species' name is not the sum of what it is made of.
    #[error("\"{name}\" has charge {stated} by its name and {computed} by its composition")]
    ChargeMismatch {
        /// The species.
        name: String,
        /// Charge read from the name.
        stated: f64,
        /// Charge from components and hydrogen.
        computed: f64,
    },
    /// A figure is not finite or has a sign it cannot have.
    #[error("{item} has a figure that cannot be used: {figure}")]
    BadFigure {
        /// What carries the figure.
        item: String,
        /// As it stands in the table.
        figure: f64,
    },
}

/// A species and its formation constant.
#[derive(Debug, Clone)]
pub(super) struct Species {
    pub(super) name: String,
    pub(super) charge: f64,
    /// Components by index and how many of each.
    pub(super) of: Vec<(usize, f64)>,
    /// Protons taken up in its formation.
    pub(super) hydrogen: f64,
    /// Water molecules taken up in its formation.
    pub(super) water: f64,
    pub(super) log_k25: f64,
    pub(super) enthalpy_kj: f64,
    pub(super) heat_capacity_j: f64,
    /// How far log K may be off.
    pub(super) uncertainty: f64,
}

impl Species {
    /// The component it is, if it is one and not formed from one.
    pub(super) fn is_component(&self) -> Option<usize> {
        match self.of.as_slice() {
            [(part, count)] if self.hydrogen == 0.0 && *count < 1.5 => Some(*part),
            _ => None,
        }
    }

    /// log₁₀ of the formation constant at a temperature in °C.
    pub(super) fn log_k(&self, temperature_c: f64) -> f64 {
        let kelvin = temperature_c + 273.15;
        let enthalpy = self.enthalpy_kj * 1000.0 * (1.0 / REFERENCE_K - 1.0 / kelvin);
        let capacity = self.heat_capacity_j * (REFERENCE_K / kelvin - 1.0 + (kelvin / REFERENCE_K).ln());
        self.log_k25 + (enthalpy + capacity) / (GAS_CONSTANT * LN_10)
    }
}
