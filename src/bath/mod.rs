//! How much a bath treats, how long it keeps, what state a bottle is in, and what becomes of a bath in use.
//!
//! Order of evidence: what the user measured or counted, the figure of the formula's own file, the rule of its class
//! ([`rules::ClassRules`]), `not known`. A rule is a range with its class, is called a rule wherever it is told, never beats a stated
//! figure, and never by itself says that a bottle must go. Replenishing is a mass balance ([`replenish`]).
//!
//! Left to others: where the journal lies, today's date, words and pages.

pub(crate) mod bottle;
pub mod class;
pub(crate) mod course;
pub mod fixer;
pub mod life;
pub(crate) mod need;
pub(crate) mod replenish;
pub mod rules;
pub(crate) mod stock;

pub use bottle::{Bottle, Bottles};
pub use class::{classes, classes_of_part, fixer_class, sheet_class};
pub use life::{Basis, BathCapacity, Days, Life, Range, Stock, TimeGrowth, days};
pub use rules::ClassRules;
