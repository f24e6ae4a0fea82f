//! Two exposures through a soft and a hard filter for one negative.
//!
//! Highlight and shadow take their tone in a, c seconds through the soft filter alone and in b, d through the hard one:
//! `S/a + H/b = 1` and `S/c + H/d = 1`. Derived; assumes that exposures through both add at a given density, which is about true.

use super::{ExposureWarning, Stops};
use crate::quantity::Duration;

/// Times through one filter alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FilterTimes {
    /// Until the densest wanted place just takes tone.
    pub highlight: Duration,
    /// Until the thinnest place is just full black.
    pub shadow: Duration,
}

impl FilterTimes {
    /// How much the shadow lags behind: `log10(c/a)`, added to the negative's range this is the filter's own.
    pub(crate) fn lag(&self) -> f64 {
        (self.shadow.as_s() / self.highlight.as_s()).log10()
    }
}

/// Which way the paper fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Failure {
    /// Both filters too soft.
    TooSoft,
    /// Both filters too hard.
    TooHard,
    /// The soft one comes out harder than the hard one.
    Exchanged,
}

impl Failure {
    /// Stable short name.
    pub(crate) fn code(self) -> &'static str {
        match self {
            Self::TooSoft => "too-soft",
            Self::TooHard => "too-hard",
            Self::Exchanged => "exchanged",
        }
    }

    /// What is wrong.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::TooSoft => "both filters are too soft for this negative",
            Self::TooHard => "both filters are too hard for this negative",
            Self::Exchanged => "the soft filter comes out harder than the hard one",
        }
    }

    /// How that is seen.
    pub(crate) fn because(self) -> &'static str {
        match self {
            Self::TooSoft => {
                "through either the shadows are not yet black when the highlights have their tone"
            }
            Self::TooHard => "through either the shadows are black before the highlights have their tone",
            Self::Exchanged => "the shadows lag behind through the hard filter and lead through the soft one",
        }
    }

    /// What to do.
    pub(crate) fn fix(self) -> &'static str {
        match self {
            Self::TooSoft => "take a harder filter or paper, or develop the next negative longer",
            Self::TooHard => "take a softer filter or paper, or develop the next negative less",
            Self::Exchanged => "exchange --soft and --hard, or read the strips again",
        }
    }
}

/// The two exposures.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TwoFilters {
    /// Soft and hard, s; none where the paper fails.
    pub exposures_s: Result<(f64, f64), Failure>,
    /// What keeping the soft time and adding the hard one would do to the highlights.
    pub highlight_excess: Option<Stops>,
    /// How much longer than the negative's the soft filter's range is, in log exposure.
    pub soft_lag: f64,
    /// The same of the hard filter; below zero where it is shorter.
    pub hard_lag: f64,
    /// Where the sum stops holding.
    pub warnings: Vec<ExposureWarning>,
}

/// Solves the two equations: `S = (1/d - 1/b)/det`, `H = (1/a - 1/c)/det`, `det = 1/(a·d) - 1/(b·c)`.
pub(crate) fn two_filters(soft: FilterTimes, hard: FilterTimes) -> TwoFilters {
    let (a, c) = (soft.highlight.as_s(), soft.shadow.as_s());
    let (b, d) = (hard.highlight.as_s(), hard.shadow.as_s());
    let same = |one: f64, other: f64| (one / other - 1.0).abs() < 1e-12;
    let exposures_s = match (c > a, d < b) {
        // One filter that fits needs no other.
        _ if same(a, c) => Ok((a, 0.0)),
        _ if same(b, d) => Ok((0.0, b)),
        (true, true) => {
            let det = 1.0 / (a * d) - 1.0 / (b * c);
            Ok(((1.0 / d - 1.0 / b) / det, (1.0 / a - 1.0 / c) / det))
        }
        (true, false) => Err(Failure::TooSoft),
        (false, true) => Err(Failure::TooHard),
        (false, false) => Err(Failure::Exchanged),
    };
    let highlight_excess = exposures_s.ok().map(|(_, hard_s)| Stops::from_ratio(1.0 + hard_s / b));
    let warnings = vec![ExposureWarning::AddingFilters];
    TwoFilters { exposures_s, highlight_excess, soft_lag: soft.lag(), hard_lag: hard.lag(), warnings }
}

/// What two given exposures do: highlight and shadow against what they need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Given {
    /// At the highlight: above zero is too much.
    pub highlight: Stops,
    pub shadow: Option<Stops>,
}

/// Judges two given exposures: `log2(S/a + H/b)`.
pub(crate) fn given(
    soft_s: f64,
    hard_s: f64,
    highlights: (Duration, Duration),
    shadows: Option<(Duration, Duration)>,
) -> Given {
    let of =
        |(soft, hard): (Duration, Duration)| Stops::from_ratio(soft_s / soft.as_s() + hard_s / hard.as_s());
    Given { highlight: of(highlights), shadow: shadows.map(of) }
}

/// Which tone is to stay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hold {
    Highlight,
    Shadow,
}

/// A change of the hard exposure with the soft one that goes with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct HardChange {
    /// Change of the hard exposure, s.
    pub hard_s: f64,
    /// Change of the soft exposure, s.
    pub soft_s: f64,
    /// Change of both together, s.
    pub total_s: f64,
}

/// `dS = -dH · a/b` holds highlights, `dS = -dH · c/d` shadows: the times through soft and hard alone to the tone that stays.
pub(crate) fn hard_change(hard_s: f64, soft: Duration, hard: Duration) -> HardChange {
    let soft_s = -hard_s * soft.as_s() / hard.as_s() + 0.0;
    HardChange { hard_s, soft_s, total_s: hard_s + soft_s }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn what_is_found_gives_both_tones(
            a in 2.0_f64..60.0, lag in 1.01_f64..4.0, b in 2.0_f64..60.0, lead in 0.2_f64..0.99, hard in -2.0_f64..5.0,
        ) {
            let s = Duration::from_s;
            let (soft, hard_times) = (
                FilterTimes { highlight: s(a), shadow: s(a * lag) },
                FilterTimes { highlight: s(b), shadow: s(b * lead) },
            );
            let (soft_s, hard_s) = two_filters(soft, hard_times).exposures_s.unwrap();
            prop_assert!(soft_s > 0.0 && hard_s > 0.0);
            let highlights = (soft.highlight, hard_times.highlight);
            let told = given(soft_s, hard_s, highlights, Some((soft.shadow, hard_times.shadow)));
            prop_assert!(told.highlight.get().abs() < 1e-9 && told.shadow.unwrap().get().abs() < 1e-9);
            // Held highlights stay where they are.
            let change = hard_change(hard, soft.highlight, hard_times.highlight);
            let after = given(soft_s + change.soft_s, hard_s + change.hard_s, highlights, None);
            prop_assert!(after.highlight.get().abs() < 1e-9);
        }
    }

    #[test]
    fn every_way_to_fail_is_told_apart() {
        let of = |a, c, b, d| {
            let s = Duration::from_s;
            let times = |highlight, shadow| FilterTimes { highlight: s(highlight), shadow: s(shadow) };
            two_filters(times(a, c), times(b, d)).exposures_s
        };
        assert_eq!(of(8.0, 20.0, 24.0, 30.0), Err(Failure::TooSoft));
        assert_eq!(of(20.0, 8.0, 24.0, 10.0), Err(Failure::TooHard));
        assert_eq!(of(20.0, 8.0, 10.0, 24.0), Err(Failure::Exchanged));
        assert_eq!(of(8.0, 8.0, 24.0, 10.0), Ok((8.0, 0.0)));
        assert_eq!(of(8.0, 20.0, 12.0, 12.0), Ok((0.0, 12.0)));
    }
}
