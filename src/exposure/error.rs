//! Why there is no answer, and what to do.

use thiserror::Error;

use super::Clock;
use crate::quantity::rounding::show_short;

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ExposureError {
    /// A figure that no enlarger, paper or lamp has.
    #[error("{what} of {value} is outside {low} to {high}")]
    OutOfRange { what: &'static str, value: f64, low: f64, high: f64 },
    /// Two strips get the same time on this clock.
    #[error("strips {first} and {second} coincide: on a clock of {clock} both get {seconds} s")]
    StripsCoincide {
        /// The first of the two, from 1.
        first: usize,
        second: usize,
        /// What both get, s.
        seconds: f64,
        clock: Clock,
        /// From which first time on no two coincide, s.
        from_s: f64,
    },
    /// A time that cannot be set on the clock.
    #[error("{} s cannot be set on a clock of {clock}", show_short(*seconds, 3))]
    NotOnTheClock {
        /// The time, s.
        seconds: f64,
        clock: Clock,
    },
    /// The lamp loses as much as it gives.
    #[error("at {} s the lamp would give nothing: it loses {} s", show_short(*seconds, 3), show_short(*lost_s, 3))]
    NothingLeft {
        /// The time, s.
        seconds: f64,
        lost_s: f64,
    },
    /// The paper is nearer than a lens can throw an image.
    #[error(
        "no sharp image: from negative to paper are {} mm, and a lens of {} mm needs at least {} mm",
        show_short(*height_mm, 1), show_short(*focal_mm, 1), show_short(4.0 * focal_mm, 1)
    )]
    NoImage {
        /// Negative to paper, mm.
        height_mm: f64,
        /// Focal length, mm.
        focal_mm: f64,
    },
    /// The paper is within the focal length.
    #[error(
        "no image: from lens to paper are {} mm, and a lens of {} mm needs more than that",
        show_short(*lens_mm, 1), show_short(*focal_mm, 1)
    )]
    WithinFocus {
        /// Lens to paper, mm.
        lens_mm: f64,
        /// Focal length, mm.
        focal_mm: f64,
    },
    /// Nothing tells how the size changes.
    #[error("one size is given and the other is not")]
    HalfASize,
    /// The thinnest part is not thinner than the densest.
    #[error("the dense part ({dense}) is not denser than the thin part ({thin})")]
    NoRange {
        /// Density of the thin part.
        thin: f64,
        /// Density of the dense part.
        dense: f64,
    },
    /// What is held back is all there is.
    #[error("holding back {} s of {} s leaves no exposure", show_short(*held_back_s, 2), show_short(*base_s, 2))]
    NoneLeft { held_back_s: f64, base_s: f64 },
    /// More or less where the other was asked for.
    #[error("{what} by {stops} stop is the other way round")]
    WrongWay {
        /// `burning` or `dodging`.
        what: &'static str,
        /// As typed.
        stops: String,
    },
    /// Times that do not rise.
    #[error("the totals of a strip rise; {} s comes after {} s", show_short(*second_s, 3), show_short(*first_s, 3))]
    NotRising {
        /// The one before, s.
        first_s: f64,
        /// The one after, s.
        second_s: f64,
    },
    /// A text that is no part of a print's exposure.
    #[error("`{text}` is not {what}")]
    NotReadable {
        /// What was read.
        text: String,
        /// What it should be.
        what: &'static str,
    },
}

impl ExposureError {
    /// Stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::OutOfRange { .. } => "out-of-range",
            Self::StripsCoincide { .. } => "strips-coincide",
            Self::NotOnTheClock { .. } => "not-on-the-clock",
            Self::NothingLeft { .. } => "nothing-left",
            Self::NoImage { .. } | Self::WithinFocus { .. } => "no-image",
            Self::HalfASize => "half-a-size",
            Self::NoRange { .. } => "no-range",
            Self::NoneLeft { .. } => "none-left",
            Self::WrongWay { .. } => "wrong-way",
            Self::NotRising { .. } => "not-rising",
            Self::NotReadable { .. } => "not-readable",
        }
    }

    /// Whether the request was wrong; otherwise it was understood and the answer is no.
    pub fn is_request(&self) -> bool {
        matches!(
            self,
            Self::OutOfRange { .. }
                | Self::HalfASize
                | Self::NoRange { .. }
                | Self::WrongWay { .. }
                | Self::NotRising { .. }
                | Self::NotReadable { .. }
        )
    }

    /// What to do.
    pub fn fix(&self) -> String {
        match self {
            Self::OutOfRange { low, high, .. } => format!("give a figure between {low} and {high}"),
            Self::StripsCoincide { from_s, clock, .. } => {
                let longer = format!(
                    "begin at {} s or more, take a longer step or fewer strips",
                    clock.at_least(*from_s)
                );
                match clock {
                    Clock::Tenths => longer,
                    Clock::Seconds => format!("{longer}, or set a clock of 0.1 s"),
                }
            }
            Self::NotOnTheClock { seconds, clock } => {
                let below = clock.at_most(*seconds);
                let above = clock.at_least(*seconds);
                let either = if below == "0" || below == "0.0" {
                    format!("write {above}s")
                } else {
                    format!("write {below}s or {above}s")
                };
                match clock {
                    Clock::Seconds if Clock::Tenths.can_set(*seconds) => {
                        format!("{either}, or set a clock of 0.1 s")
                    }
                    _ => either,
                }
            }
            Self::NothingLeft { .. } => "give a longer time, or measure the lamp's loss anew".to_owned(),
            Self::NoImage { .. } => {
                "measure from the negative to the paper, or give the focal length of the lens in use".to_owned()
            }
            Self::WithinFocus { .. } => {
                "measure from the lens to the paper, or give the focal length of the lens in use".to_owned()
            }
            Self::HalfASize => {
                "give both sizes in one way: --from 4x --to 8x; --from-image and --to-image with --negative; --from-height and --to-height; --from-lens and --to-lens"
                    .to_owned()
            }
            Self::NoRange { .. } => "exchange them: --thin is the shadow, --dense the highlight".to_owned(),
            Self::NoneLeft { .. } => "hold back less, or give a longer base exposure".to_owned(),
            Self::WrongWay { what, .. } => match *what {
                "burning" => "less exposure is dodging: soupcon exposure dodge".to_owned(),
                _ => "more exposure is burning: soupcon exposure burn".to_owned(),
            },
            Self::NotRising { .. } => "give them from the shortest to the longest".to_owned(),
            Self::NotReadable { .. } => "write a place and stops: sky +3/4, face -1/4".to_owned(),
        }
    }
}

/// Refuses a figure outside its range.
pub(super) fn within(what: &'static str, value: f64, low: f64, high: f64) -> Result<f64, ExposureError> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(ExposureError::OutOfRange { what, value, low, high })
    }
}
