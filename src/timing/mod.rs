//! From a known time to tonight's time: developer, temperature, dilution, agitation and contrast, with a range and the reasons.
//!
//! Model: ln t = ln t₀ + Σ ln factors. Each factor has a low, a central and a high value and says what stands behind it; ranges
//! combine in quadrature of logarithms. The factors live in `tables/timing.toml` and come in as text, as do developers (through
//! [`Developers`]) and the user's own records; this module reads no file and knows no clock.
//!
//! What it does not do: it refuses developers whose result one time does not set, and outside the range of the data it says so.
//! Published temperature coefficients disagree by a factor of two and hardly any relation between developers is published, so the
//! ranges are wide; own records narrow them: they and the books make one posterior ([`Model::adjust_from_own`]).
//!
//! ```
//! use soupcon::library::Library;
//! use soupcon::quantity::{Duration, Temperature};
//! use soupcon::timing::{Developer, Developers, Model, NegativeWish, Setup, TimeQuestion, TimingTable};
//!
//! struct Shipped<'a>(&'a Library, &'a TimingTable);
//! impl Developers for Shipped<'_> {
//!     fn developer(&self, id: &str) -> Option<Developer> {
//!         self.0.formula(id).ok().map(|found| Developer::of(&found.formula, true, self.1))
//!     }
//! }
//!
//! let library = Library::shipped();
//! let table = TimingTable::parse(library.table("timing.toml").unwrap_or_default(), "timing.toml").unwrap();
//! let developers = Shipped(&library, &table);
//! let developer = std::sync::Arc::new(developers.developer("mq-borax-classic").unwrap());
//! let at = |celsius| Setup {
//!     working: developer.working(None).unwrap(),
//!     developer: std::sync::Arc::clone(&developer),
//!     temperature: Temperature::from_c(celsius),
//!     agitation: "inversion".to_owned(),
//! };
//! let known = Duration::from_min(8.0);
//! let question = TimeQuestion { known, from: at(20.0), to: at(22.0), wish: NegativeWish::default(), tank: None };
//! let answer = Model::new(&table, &developers).adjust(&question).unwrap();
//! assert!(answer.low < answer.time && answer.time < Duration::from_min(8.0));
//! ```
//!
//! One temperature law: a constant ratio per degree, `t = t20 · e^(-k (T - 20 °C))`. Arrhenius' law differs from it by at most 0.6 %
//! from 16 to 24 °C (tested), while published coefficients disagree by a factor of two. A range means nine in ten. A known time that
//! is typed is taken as exact: identity, inverse and order of steps hold by books.

mod agitation;
mod answer;
mod belongs;
mod check;
mod contrast;
mod developer;
mod dilution;
mod error;
mod factorial;
mod figure;
mod file;
mod fit;
mod gaussian;
mod judging;
mod limits;
mod model;
mod own;
mod product;
mod records;
mod relation;
mod rows;
mod setup;
mod table;
mod temperature;
mod wish;

pub use agitation::{Agitation, USUAL as USUAL_AGITATION, USUAL_FOR_PAPER as USUAL_AGITATION_FOR_PAPER};
pub use answer::Estimate;
pub use contrast::{GammaLaw, Measured, gradient_ratio};
pub use developer::{CardTime, Developer};
pub use dilution::{ExponentFit, Working, fit_exponent};
pub use error::TimingError;
pub use factorial::{Factorial, factors as factorial_factors, mixture as factorial_mixture};
pub use figure::{Support, TimingFigure};
pub use limits::TimingWarning;
pub use model::Model;
pub use product::Factor;
pub use records::{BookWeight, Own, Record, RecordWeight, same_film};
pub use rows::{
    Coefficient, DeveloperRelation, FactorialRow, GradientRule, OwnErrors, Push, RelationSide, Scatter,
    TimingLimits,
};
pub use setup::{Alternative, Developers, NegativeWish, Neighbour, Setup, TankFill, TimeQuestion};
pub use table::TimingTable;
pub use temperature::{Convention, TypedCoefficient};
