//! Agitation: ways of moving the bath, each with a factor against intermittent inversion in a small tank.
//!
//! The factors stand in the table; any change of agitation deserves a test. Stand and water-bath development are known by name only to be refused: they do not go by one time.

use super::figure::TimingFigure;

/// The way of agitation where nothing else is said.
pub const USUAL: &str = "inversion";

/// The way of agitation for paper where nothing else is said.
pub const USUAL_FOR_PAPER: &str = "tray";

/// A way of agitation.
#[derive(Debug, Clone, PartialEq)]
pub struct Agitation {
    /// As typed.
    pub name: String,
    /// Other words for it.
    pub aliases: Vec<String>,
    /// As printed, without a full stop.
    pub words: String,
    /// Time against intermittent inversion, or why there is none.
    pub factor: Result<TimingFigure, String>,
}
