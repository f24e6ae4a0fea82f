//! Where the laws stop holding, in words.

use std::fmt;

use super::Stops;
use crate::quantity::rounding::show_short;

/// Shortest and longest time without a word about it, s. An advice of the trade, no limit of any paper: none was found.
const USUAL_S: (f64, f64) = (5.0, 60.0);
/// Largest change without a word about it: fourfold.
const LARGEST_STOPS: f64 = 2.0;

/// Where a law stops holding.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum ExposureWarning {
    /// Below the usual times: what the lamp loses at each switching shows.
    ShortTime {
        /// The time, s.
        seconds: f64,
    },
    /// Above the usual times: paper may need more than the sum says.
    LongTime {
        /// The time, s.
        seconds: f64,
    },
    /// More than a fourfold change.
    LargeChange {
        /// By how much.
        stops: Stops,
    },
    /// The law of size holds for diffuse light, or a condenser that is not moved.
    Condenser {
        /// Whether the head is known to be one.
        is_known: bool,
    },
    /// Two ways to the same size disagree.
    SizesDisagree {
        /// By how much.
        stops: Stops,
    },
    /// The clock is too coarse for the strip.
    CoarseClock {
        /// The largest error.
        error: Stops,
        /// The step of the strip.
        step: Stops,
    },
    /// Pulses gave more than one exposure.
    GainedBySwitching,
    /// Drops in size with no meaning: the sum of exposures is only about true.
    AddingFilters,
    /// No single condenser factor holds.
    CondenserFactor,
    /// Range between two papers.
    BetweenTwo {
        /// The softer and the harder: ISO ranges.
        ranges: (f64, f64),
    },
    /// More silver in the second bath than lasting prints stand.
    SecondBathFull {
        /// Silver, g/L.
        grams_per_litre: f64,
    },
    /// More silver in the first bath than it stands.
    FirstBathFull {
        /// Silver, g/L.
        grams_per_litre: f64,
    },
    /// Water carried in has taken the fixer's strength.
    Diluted {
        /// What is left, as a fraction.
        strength_left: f64,
    },
    /// Cold or hot wash water.
    WashTemperature {
        /// Its temperature, °C.
        celsius: f64,
    },
    /// A meter sees colour otherwise than paper.
    Meter,
    /// Paper speed and kept highlights are not the same.
    SpeedPoint,
}

impl ExposureWarning {
    /// Stable short name.
    pub(crate) fn code(&self) -> &'static str {
        match self {
            Self::ShortTime { .. } => "short-time",
            Self::LongTime { .. } => "reciprocity",
            Self::LargeChange { .. } => "large-change",
            Self::Condenser { .. } => "condenser",
            Self::SizesDisagree { .. } => "sizes-disagree",
            Self::CoarseClock { .. } => "coarse-clock",
            Self::GainedBySwitching => "gained-by-switching",
            Self::AddingFilters => "adding-filters",
            Self::CondenserFactor => "condenser-factor",
            Self::BetweenTwo { .. } => "between-two-papers",
            Self::SecondBathFull { .. } => "second-bath",
            Self::FirstBathFull { .. } => "first-bath",
            Self::Diluted { .. } => "diluted",
            Self::WashTemperature { .. } => "wash-temperature",
            Self::Meter => "meter",
            Self::SpeedPoint => "speed-point",
        }
    }
}

impl fmt::Display for ExposureWarning {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ShortTime { seconds } => write!(
                formatter,
                "at {} s what the lamp loses at each switching shows (a loss of 0.15 s would be {} stop), and hands have no time: stop down, or measure the lamp with `exposure lamp`",
                show_short(*seconds, 1),
                show_short(Stops::from_ratio(seconds / (seconds - 0.15).max(0.05)).get(), 2)
            ),
            Self::LongTime { seconds } => write!(
                formatter,
                "at {} s paper may respond less than time times light says (reciprocity; no figures for papers are known): open the lens, or make a strip",
                show_short(*seconds, 1)
            ),
            Self::LargeChange { stops } => write!(
                formatter,
                "a change of {stops} stops is more than fourfold: reciprocity and the lamp may spoil the sum, make a strip"
            ),
            Self::Condenser { is_known: true } => formatter.write_str(
                "condenser: the law fails when lamp or condenser is moved with the size, or its image does not fill the lens: meter a clear patch at the easel, or make a strip",
            ),
            Self::Condenser { is_known: false } => formatter.write_str(
                "holds for diffuse light; with a condenser that is moved with the size meter a clear patch at the easel, or make a strip",
            ),
            Self::SizesDisagree { stops } => write!(
                formatter,
                "the sizes and the distances disagree by {} stop: measure one of them again",
                stops.size().unsigned()
            ),
            Self::CoarseClock { error, step } => write!(
                formatter,
                "the clock is coarse for this strip: a total is off by {} stop, and the step is {}",
                show_short(error.size().get(), 3),
                step.unsigned()
            ),
            Self::GainedBySwitching => formatter.write_str(
                "below zero: the short exposures gave more than the one, by afterglow or since the two greys were not quite alike; measure again",
            ),
            Self::AddingFilters => formatter.write_str(
                "that exposures through two filters add is only about true: end with a strip",
            ),
            Self::CondenserFactor => formatter.write_str(
                "no single condenser factor holds for all films and developments: print one negative both ways and take your own",
            ),
            Self::BetweenTwo { ranges: (low, high) } => write!(
                formatter,
                "halfway between two: R {low} closes the deepest shadow a little, R {high} falls a little short of black"
            ),
            Self::SecondBathFull { grams_per_litre } => write!(
                formatter,
                "the second bath holds {} g/L of silver; above 0.3 prints may not last (from memory)",
                show_short(*grams_per_litre, 2)
            ),
            Self::FirstBathFull { grams_per_litre } => write!(
                formatter,
                "the first bath holds {} g/L of silver; at 2 discard it and move the second into its place",
                show_short(*grams_per_litre, 2)
            ),
            Self::Diluted { strength_left } => write!(
                formatter,
                "water carried in has left {} % of the first bath's strength: let prints drain 10 to 15 s",
                show_short(strength_left * 100.0, 0)
            ),
            Self::WashTemperature { celsius } if *celsius < 10.0 => {
                write!(formatter, "below 10 °C the rule is a guess: warm the water ({} °C)", show_short(*celsius, 1))
            }
            Self::WashTemperature { celsius } => {
                write!(formatter, "at {} °C gelatin softens: above 27 °C do not wash", show_short(*celsius, 1))
            }
            Self::Meter => formatter.write_str(
                "a lux meter sees colour otherwise than paper: compare once with a strip and keep the ratio",
            ),
            Self::SpeedPoint => formatter.write_str(
                "paper speed keeps the tone of net density 0.60; highlights are kept by the ratio of the two papers' own highlight exposures",
            ),
        }
    }
}

/// What is to be said of a time.
pub(super) fn of_time(seconds: f64) -> Option<ExposureWarning> {
    if seconds < USUAL_S.0 {
        Some(ExposureWarning::ShortTime { seconds })
    } else if seconds > USUAL_S.1 {
        Some(ExposureWarning::LongTime { seconds })
    } else {
        None
    }
}

/// What is to be said of a change.
pub(super) fn of_change(stops: Stops) -> Option<ExposureWarning> {
    (stops.size().get() > LARGEST_STOPS + 1e-9).then_some(ExposureWarning::LargeChange { stops })
}
