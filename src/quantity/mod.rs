//! Quantities with their units: what a person types, what is computed with, what is printed.
//!
//! Each type keeps one base unit in a private field and offers a named constructor and reader per unit, so that a bare number
//! cannot be mistaken for another unit. Typed text must carry its unit. Rounding happens once, at display ([`rounding`]).

mod dilution;
mod duration;
mod error;
mod films;
mod mass;
mod number;
pub mod rounding;
mod strength;
mod temperature;
mod units;
mod volume;

/// Temperature at which a figure is told or asked where nothing is said, °C: that of use, of a tap and of a pH.
pub const USUAL_C: f64 = 20.0;
/// Temperature of a cupboard in which a solution must stay clear where nothing is said, °C.
pub const STORAGE_C: f64 = 18.0;

pub use dilution::MixRatio;
pub use duration::Duration;
pub use error::QuantityError;
pub use films::{Films, Reels, UNIT_CM2};
pub use mass::{Mass, parse_historical_mass};
pub(crate) use number::{Figure, parse_number};
pub use strength::{Strength, StrengthBasis};
pub use temperature::Temperature;
pub(crate) use volume::LEAST_ML;
pub use volume::Volume;
