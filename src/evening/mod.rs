//! An evening of films, tanks and baths on one clock, for one pair of hands.
//!
//! [`clock`] is the model: a tank is a row of baths, and hands are needed at known moments of each. [`calm`] and [`tight`] place several
//! tanks so that no two moments meet; [`washing`] refuses a wash that is too short; [`mod@file`] reads an evening, [`table`] what holds where
//! the file is silent, [`needs`] how much of each bath.

pub(crate) mod beats;
pub(crate) mod calm;
pub(crate) mod character;
pub(crate) mod clock;
pub(crate) mod file;
#[cfg(test)]
mod laws;
pub(crate) mod loads;
pub(crate) mod needs;
pub(crate) mod table;
pub(crate) mod tight;
pub(crate) mod washing;

pub(crate) use clock::{EveningPlan, Tank, TankBath, Unplannable};
