//! Why a typed quantity is refused.

use thiserror::Error;

/// Why a typed quantity is refused; every message says what to write instead.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum QuantityError {
    /// Nothing was typed.
    #[error("the value is empty; write a number with its unit")]
    Empty,
    /// A comma stands where the decimal point belongs.
    #[error(
        "`{text}` has a comma; the decimal mark is a point and there is no thousands mark: write {suggestion}"
    )]
    Comma {
        /// What was typed.
        text: String,
        /// The same with points.
        suggestion: String,
    },
    /// `nan` or `inf`.
    #[error("`{text}` is not a finite number; write the amount in figures, such as 2.5")]
    NotFinite {
        /// What was typed.
        text: String,
    },
    /// A number beyond any darkroom.
    #[error("`{text}` is far beyond any batch (the limit is 1000000000); check the number of zeros")]
    TooLarge {
        /// What was typed.
        text: String,
    },
    /// No number where one is needed.
    #[error("`{text}` is not a number; write figures with a point, such as 2.5")]
    NotANumber {
        /// What was typed.
        text: String,
    },
    /// Below zero.
    #[error("a {kind} cannot be negative: `{text}`")]
    Negative {
        /// The quantity: `volume`, `mass`.
        kind: &'static str,
        /// What was typed.
        text: String,
    },
    /// Zero where an amount is needed.
    #[error("a {kind} of zero makes nothing: `{text}`; give an amount above zero")]
    Zero {
        /// The quantity: `volume`, `mass`.
        kind: &'static str,
        /// What was typed.
        text: String,
    },
    /// Smaller than anybody can measure.
    #[error("a {kind} of `{text}` is too small to measure")]
    TooSmall {
        /// The quantity: `volume`, `mass`.
        kind: &'static str,
        /// What was typed.
        text: String,
    },
    /// A number without a unit.
    #[error("this {kind} has no unit; write it as {examples}")]
    NoUnit {
        /// The quantity: `volume`, `mass`.
        kind: &'static str,
        /// How it may be written.
        examples: &'static str,
    },
    /// A unit that is not known.
    #[error("`{unit}` is not a unit of {kind}{}; known are {known}", suggestion.as_ref().map_or_else(String::new, |near| format!(" (did you mean {near}?)")))]
    UnknownUnit {
        /// What was typed.
        unit: String,
        /// The quantity: `volume`, `mass`.
        kind: &'static str,
        /// A near miss.
        suggestion: Option<String>,
        /// All known units.
        known: String,
    },
    /// A unit that means two things.
    #[error("`{unit}` is not taken: {reason}")]
    AmbiguousUnit {
        /// What was typed.
        unit: String,
        /// Which two things it means and what to write.
        reason: &'static str,
    },
    /// A temperature below absolute zero or a strength above its limit.
    #[error("{kind} `{text}` is outside {low} to {high}")]
    OutOfRange {
        /// The quantity: `temperature`, `strength`.
        kind: &'static str,
        /// What was typed.
        text: String,
        /// Lower limit, with unit.
        low: &'static str,
        /// Upper limit, with unit.
        high: &'static str,
    },
    /// A dilution written with a colon.
    #[error(
        "`{text}` is read two ways: {stock} in {other} (write {as_in}) or {stock} to {other} (write {as_to}); use a plus sign"
    )]
    ColonDilution {
        /// What was typed.
        text: String,
        /// The figure before the colon with its word: `1 part`.
        stock: String,
        /// The figure after it.
        other: String,
        /// Dilution when read as "in".
        as_in: String,
        /// Dilution when read as "to".
        as_to: String,
    },
    /// A dilution that is none.
    #[error(
        "`{text}` is not a dilution; write `stock` for undiluted or parts such as 1+3 (1 part stock, 3 parts water)"
    )]
    NotADilution {
        /// What was typed.
        text: String,
    },
    /// A strength without its basis.
    #[error(
        "`{text}` does not say percent of what; write {text} w/v (grams in 100 mL), {text} w/w (grams in 100 g) or {text} v/v (mL in 100 mL)"
    )]
    NoBasis {
        /// What was typed, up to the percent sign.
        text: String,
    },
    /// A strength that is none.
    #[error("`{text}` is not a strength; write it as 10 % w/v, 28 % w/w or 50 % v/v")]
    NotAStrength {
        /// What was typed.
        text: String,
    },
    /// Films that are none.
    #[error("`{text}` is no amount of films; write {how}")]
    NotFilms {
        /// What was typed.
        text: String,
        /// How it may be written.
        how: &'static str,
    },
    /// A duration that is none.
    #[error("`{text}` is not a time; write 8min, 8:30, 8m30s or 510s")]
    NotADuration {
        /// What was typed.
        text: String,
    },
}
