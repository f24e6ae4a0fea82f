//! What meets what, when it is mixed and when it is used: put together once, and read by everything that answers a person.
//!
//! Three doors: a batch or recipe ([`review()`]), several formulas used one after another ([`sequence`]), and something poured into a
//! solution ([`pour()`]). Each applies the tables of [`crate::safety`] to a [`crate::vessel::Vessel`]; how acid it is and what gas is dissolved
//! in it ([`acidity()`]) is handed in as a value, and decides in the same rows for whoever asks.
//!
//! What must not be done is an [`Objection`], of two kinds. *Never*: a combination, or a solvent that is none; the volume does not matter
//! and nobody prints amounts or steps for it. *Not this way*: heat, order, solubility; who only asks what a solution is gets the answer,
//! with the objection first.

mod acidity;
mod course;
mod objection;
mod percent;
mod pour;
mod review;
mod solvent;
mod together;

pub use acidity::{acidity, acidity_of};
pub use course::{SequenceBath, SequenceMember, SequenceReview, baths_of, sequence};
pub use objection::{Objection, ObjectionKind};
pub use percent::{Making, heat_of_making, making};
pub use pour::{Pouring, add, pour};
pub use review::{Review, VesselReview, review, review_of};
pub use solvent::untold_heat;
pub use together::{bath_of_ratio, not_a_use, two_baths};
