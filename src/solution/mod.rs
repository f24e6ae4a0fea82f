//! What a solution will do before it is mixed: pH and buffering, solubility, heat.
//!
//! Takes and returns plain values. It knows components, constants and mol; what a formula is, which hydrate was weighed and where the
//! tables lie is left to others.
//!
//! * [`predict`]: equilibrium pH over the acid-base species of all components, closed to the air. Activities by the specific ion
//!   interaction theory in molal terms (`activity`), polyborates, complexes of sodium with EDTA and of aluminium and iron; no other
//!   pairs of alkali ions, whose effect the coefficients hold already. 0 to 60 °C. Reported is pH = −log₁₀ a(H⁺), the scale of the
//!   primary standards; a glass electrode in a strong salt solution reads some hundredths beside it, above pH 12 more.
//! * [`amount_for_ph`]: how much of a reagent reaches a pH.
//! * `heat`, `water`: temperatures while mixing, with the heat of neutralisation. `solubility`: margins inside a published curve.
//!
//! Not in it: uptake or loss of carbon dioxide, sulfur dioxide or ammonia; oxidation; precipitation; solvents other than water.

mod activity;
mod buffer;
mod doubt;
mod equilibria;
mod excerpt;
mod family;
mod file;
mod heat;
mod prediction;
mod reserve;
mod roots;
mod solubility;
mod speciate;
mod species;
mod system;
mod water;

pub use buffer::amount_for_ph;
pub use equilibria::{Equilibria, SubstanceRow};
pub use heat::{Beaker, Portion, TemperatureStep, step_temperature, sulfuric_acid_heat};
pub use prediction::{
    Addition, Buffering, Iterations, ModelLimit, Modelling, Prediction, SolutionError, SpeciesAmount,
    TEMPERATURE_RANGE_C,
};
pub use reserve::{acid_reserve, alkali_reserve};
pub use solubility::{SolubilityCurve, SolubilityCurveError, grams_per_100_g_water, margin};
pub use speciate::{predict, water_in_a_litre};
pub use species::EquilibriaError;
pub use water::{Blend, HeatError, WATER_G_PER_MOL, hot_volume_for_target, water_density};
