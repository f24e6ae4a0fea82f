//! What is asked and what is answered: chemicals that go into a solution, and what it is at equilibrium.

use serde::Deserialize;
use thiserror::Error;

/// Lowest and highest temperature of a prediction, °C.
pub const TEMPERATURE_RANGE_C: (f64, f64) = (0.0, 60.0);

/// How much is known of what a substance does in water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum Modelling {
    /// Its components say all that matters for pH.
    Modelled,
    /// It takes no part in the balance of charge and protons.
    Inert,
    /// Something that may matter is not known; its components, if any, are the part that is.
    Unknown,
}

/// One chemical in a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Addition {
    /// What it is called; used in messages and limits only.
    pub substance: String,
    /// mol per litre of solution.
    pub moles: f64,
    /// Components by name, mol per mol of the substance.
    pub components: Vec<(String, f64)>,
    /// Crystal water, mol per mol; part of the litre, so that a pH does not depend on it.
    pub water_moles: f64,
    /// How much is known of it.
    pub standing: Modelling,
    /// For [`Modelling::Unknown`]: the most protons a mole of the unknown part may take up or give off. 0 where not even that is known.
    pub protons: f64,
}

/// Why there is no prediction.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SolutionError {
    /// Temperature outside the range of the constants, or not a number.
    #[error("a pH is predicted from {low} to {high} °C, not at {temperature_c} °C",
        low = TEMPERATURE_RANGE_C.0, high = TEMPERATURE_RANGE_C.1)]
    TemperatureOutOfRange {
        /// What was asked for, °C.
        temperature_c: f64,
    },
    /// An amount is negative or not a number.
    #[error("{substance}: {moles} mol/L is not an amount")]
    AmountNotUsable {
        /// The addition.
        substance: String,
        /// Its amount, mol/L, or mol per mol of one of its components.
        moles: f64,
    },
    /// An addition names a component the table does not hold.
    #[error("{substance}: there is no component \"{component}\"")]
    UnknownComponent {
        /// The addition.
        substance: String,
        /// The name that was not found.
        component: String,
    },
    /// More is dissolved than the model can be asked about.
    #[error("{molality:.0} mol in a kg of water is more than the model can be asked about")]
    TooConcentrated {
        /// mol of solutes per kg of water; infinite where hardly any water is left.
        molality: f64,
    },
    /// Charges balance nowhere between pH −2 and 16.5.
    #[error("the charges of this solution balance nowhere between pH -2 and 16.5")]
    OutsidePhScale,
    /// The activity coefficients did not settle.
    #[error("the activity coefficients did not settle within {loops} rounds")]
    NotConverged {
        /// Rounds done.
        loops: u32,
    },
    /// The reagent cannot bring the solution to the pH asked for.
    #[error(
        "pH {target_ph:.2} is out of reach: this reagent takes the solution from {lowest_ph:.2} to {highest_ph:.2}"
    )]
    Unreachable {
        /// What was asked for.
        target_ph: f64,
        /// Lowest pH met over the amounts allowed.
        lowest_ph: f64,
        /// Highest pH met over the amounts allowed.
        highest_ph: f64,
    },
    /// A shift was asked for of a constant that does not exist.
    #[error("there is no constant of \"{name}\" to shift")]
    NoSuchConstant {
        /// The name that was not found.
        name: String,
    },
}

impl SolutionError {
    /// How to put it right, in words of the bench.
    pub fn fix(&self) -> &'static str {
        match self {
            Self::TemperatureOutOfRange { .. } => "ask for a temperature from 0 to 60 °C",
            Self::AmountNotUsable { .. } => "give an amount of zero or more",
            Self::UnknownComponent { .. } => "use a component of the table of equilibria",
            Self::TooConcentrated { .. } => "ask about the diluted solution",
            Self::OutsidePhScale => "check the amounts: so strong an acid or alkali is no bath",
            Self::NotConverged { .. } => "ask about a more dilute solution",
            Self::Unreachable { .. } => "choose a stronger reagent or a pH within that range",
            Self::NoSuchConstant { .. } => "name a species or component of the table of equilibria",
        }
    }
}

/// A species and how much of it there is.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeciesAmount {
    /// Its name, charge at the end.
    pub name: String,
    /// mol per litre of solution.
    pub moles_per_litre: f64,
}

/// Something that limits how far a prediction may be trusted.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ModelLimit {
    /// Something of an addition that may matter for pH is not known.
    Unknown {
        /// The addition.
        substance: String,
        /// mol per litre of it.
        moles: f64,
        /// Most it might move the pH up or down by the protons its unknown part may carry; `None` where no number can be named.
        ph_shift: Option<f64>,
    },
    /// Two components are known to form complexes of which no constant is known.
    MissingComplexes {
        /// The one, a metal.
        component: String,
        /// The other.
        with: String,
        /// Most it might move the pH up or down, if every pair freed or took up one proton.
        ph_shift: f64,
    },
    /// The ionic strength is beyond what the activity model was compared at.
    IonicStrength {
        /// Of this solution, mol/kg.
        ionic_strength: f64,
        /// Compared up to, mol/kg.
        compared_to: f64,
    },
    /// A trace of acid or alkali moves the pH far.
    PoorlyBuffered {
        /// mol/L per pH.
        buffer_capacity: f64,
    },
}

/// How much work a prediction was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Iterations {
    /// Rounds over the activity coefficients.
    pub activity: u32,
    /// Evaluations of the charge balance.
    pub charge: u32,
}

/// What a solution is at equilibrium.
#[derive(Debug, Clone, PartialEq)]
pub struct Prediction {
    /// −log₁₀ of the activity of H⁺.
    pub ph: f64,
    /// Expected error of the pH, either way: activity model, doubtful constants, purity of salts and unknown additions together.
    pub ph_error: f64,
    /// mol per kg of water.
    pub ionic_strength: f64,
    /// mol of strong acid or alkali that moves a litre by one pH, at the present activity coefficients (good to a tenth).
    pub buffer_capacity: f64,
    /// The same in words.
    pub buffering: Buffering,
    /// kg of water in a litre of the solution.
    pub water_kg_per_litre: f64,
    /// Species by falling amount, H⁺ and OH⁻ included; traces below a billionth of a mole are left out.
    pub species: Vec<SpeciesAmount>,
    /// What to say beside the figure. Empty where nothing is to be said.
    pub limits: Vec<ModelLimit>,
    /// How much work it was.
    pub iterations: Iterations,
}

/// Below this capacity (mol/L per pH) 1 mmol/L of stray acid or alkali moves the pH by more than 0.2.
const POOR_BELOW: f64 = 0.005;
/// From this capacity on 5 mmol/L of stray acid or alkali moves the pH by less than 0.2.
const FIRM_FROM: f64 = 0.025;

/// How firmly a solution holds its pH.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Buffering {
    /// Under 0.005 mol/L per pH: traces decide, the figure is not to be trusted.
    Poor,
    /// From 0.005 to 0.025 mol/L per pH.
    Fair,
    /// 0.025 mol/L per pH and more.
    Firm,
}

impl Buffering {
    /// The word for a capacity in mol/L per pH.
    pub fn of(buffer_capacity: f64) -> Self {
        if buffer_capacity >= FIRM_FROM {
            Self::Firm
        } else if buffer_capacity >= POOR_BELOW {
            Self::Fair
        } else {
            Self::Poor
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_follow_the_capacity() {
        assert_eq!(Buffering::of(0.0006), Buffering::Poor);
        assert_eq!(Buffering::of(0.005), Buffering::Fair);
        assert_eq!(Buffering::of(0.1), Buffering::Firm);
        assert!(Buffering::Poor < Buffering::Firm);
    }
}
