//! An evening of films, tanks and baths on one clock, for one pair of hands.
//!
//! [`clock`] is the model: a tank is a row of baths, and hands are needed at known moments of each. [`calm`] and [`tight`] place several
//! tanks so that no two moments meet; [`washing`] refuses a wash that is too short; [`mod@file`] reads an evening, [`table`] what holds where
//! the file is silent, [`needs`] how much of each bath.

pub mod beats;
pub mod calm;
pub mod character;
pub mod clock;
pub mod file;
#[cfg(test)]
mod laws;
pub mod loads;
pub mod needs;
pub mod table;
pub mod tight;
pub mod washing;

pub use clock::{Act, ActKind, Bath, Hands, Plan, Tank, TankPlan, Unplannable};
