//! Geometric test strips: totals `T_i = T_0 · 2^(i·step)`, their settings in the order of the hand.
//!
//! The running totals are rounded to the clock and settings are their differences: rounded each by itself, errors would add up.

use super::error::within;
use super::lamp::count_of;
use super::limits::of_time;
use super::{Clock, ExposureError, ExposureWarning, Stops};
use crate::quantity::Duration;

/// Fewest and most strips.
const STRIPS: (f64, f64) = (2.0, 15.0);
/// Shortest and longest step, stops.
const STEPS: (f64, f64) = (0.04, 3.0);
/// Longest total, s.
const LONGEST_S: f64 = 3600.0;

/// How the strips are exposed. Strip 1 always gets least.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum StripMethod {
    /// The whole sheet is open first; strip after strip is covered.
    #[default]
    Cover,
    /// Only the last strip is open first; strip after strip is uncovered.
    Uncover,
    /// Each strip alone, through a slot.
    Apart,
}

impl StripMethod {
    /// As typed.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Cover => "cover",
            Self::Uncover => "uncover",
            Self::Apart => "apart",
        }
    }
}

/// Where a strip begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum StripStart {
    /// The total of strip 1, set as it is.
    First(Duration),
    /// The total in the middle: `T_i = T_c · 2^((i - (n-1)/2) · step)`.
    Centre(Duration),
}

/// What strip is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct StripRequest {
    /// Where it begins.
    pub start: StripStart,
    pub step: Stops,
    pub strips: usize,
    pub clock: Clock,
    /// The way of the hand.
    pub method: StripMethod,
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TestStrip {
    /// What was asked for.
    pub request: StripRequest,
    /// Exact totals of strips 1 to n, s.
    pub totals_s: Vec<f64>,
    /// The totals that the clock gives, s.
    pub clocked_s: Vec<f64>,
    /// Settings in the order of the hand, s.
    pub settings_s: Vec<f64>,
    /// Largest error of a total.
    pub largest_error: Stops,
    /// What the largest error would be if each setting were rounded by itself.
    pub largest_error_each: Stops,
    /// What is to be minded.
    pub warnings: Vec<ExposureWarning>,
}

impl TestStrip {
    /// The strip from which stops are counted, from 0: the middle one, of an even number the lighter of the two.
    pub(crate) fn middle(&self) -> usize {
        self.totals_s.len().saturating_sub(1) / 2
    }

    /// Which strips lie under the card at a setting (from 0), as they lie on the paper.
    pub(crate) fn covered(&self, setting: usize) -> Vec<bool> {
        let count = self.totals_s.len();
        (0..count)
            .map(|own| match self.request.method {
                StripMethod::Cover => own < setting,
                StripMethod::Uncover => own + setting + 1 < count,
                StripMethod::Apart => own != setting,
            })
            .collect()
    }

    /// The strip that is done, or begun, with a setting (from 0).
    pub(crate) fn strip_of(&self, setting: usize) -> usize {
        match self.request.method {
            StripMethod::Cover | StripMethod::Apart => setting,
            StripMethod::Uncover => (self.totals_s.len().saturating_sub(1)).saturating_sub(setting),
        }
    }
}

/// Works out a strip.
///
/// # Errors
/// Too many or too few strips, a first time that the clock cannot be set to, two strips that get the same time.
pub(crate) fn strip(request: StripRequest) -> Result<TestStrip, ExposureError> {
    let StripRequest { start, step, strips, clock, method } = request;
    let count = within("a number of strips", count_of(strips), STRIPS.0, STRIPS.1)?;
    let step_stops = within("a step in stops", step.get(), STEPS.0, STEPS.1)?;
    let first_s = match start {
        StripStart::First(first) if !clock.can_set(first.as_s()) => {
            return Err(ExposureError::NotOnTheClock { seconds: first.as_s(), clock });
        }
        StripStart::First(first) => first.as_s(),
        StripStart::Centre(centre) => centre.as_s() * (-(count - 1.0) / 2.0 * step_stops).exp2(),
    };
    let totals_s: Vec<f64> =
        (0..strips).map(|index| first_s * (count_of(index) * step_stops).exp2()).collect();
    within("a total in seconds", totals_s.last().copied().unwrap_or_default(), 0.0, LONGEST_S)?;
    let ticks: Vec<f64> = totals_s.iter().map(|&total| clock.ticks(total)).collect();
    let before = std::iter::once(0.0).chain(ticks.iter().copied());
    let differences: Vec<f64> = ticks.iter().zip(before).map(|(own, before)| own - before).collect();
    if let Some(index) = differences.iter().position(|&difference| difference < 1.0) {
        let seconds = clock.seconds(ticks.get(index).copied().unwrap_or_default());
        if index == 0 {
            return Err(ExposureError::NotOnTheClock { seconds: first_s, clock });
        }
        let from_s = clock.step_s() / (step.factor() - 1.0);
        let (first, second) = (index, index + 1);
        return Err(ExposureError::StripsCoincide { first, second, seconds, clock, from_s });
    }
    let clocked_s: Vec<f64> = ticks.iter().map(|&own| clock.seconds(own)).collect();
    let largest_error = largest(&clocked_s, &totals_s);
    let mut settings_s: Vec<f64> = match method {
        StripMethod::Apart => clocked_s.clone(),
        _ => differences.iter().map(|&difference| clock.seconds(difference)).collect(),
    };
    if method == StripMethod::Uncover {
        settings_s.reverse();
    }
    let largest_error_each = match method {
        StripMethod::Apart => largest_error,
        _ => largest(&rounded_each(&totals_s, clock), &totals_s),
    };
    let mut warnings: Vec<ExposureWarning> = Vec::new();
    if largest_error.get() > step_stops / 4.0 {
        warnings.push(ExposureWarning::CoarseClock { error: largest_error, step });
    }
    warnings.extend(totals_s.last().and_then(|&longest| of_time(longest)));
    Ok(TestStrip { request, totals_s, clocked_s, settings_s, largest_error, largest_error_each, warnings })
}

/// The totals that come of rounding each setting by itself.
fn rounded_each(totals_s: &[f64], clock: Clock) -> Vec<f64> {
    let before = std::iter::once(0.0).chain(totals_s.iter().copied());
    let mut sum = 0.0;
    let sums = totals_s.iter().zip(before).map(|(own, before)| {
        sum += clock.ticks(own - before);
        clock.seconds(sum)
    });
    sums.collect()
}

/// The largest error of what is set, in size.
fn largest(set_s: &[f64], exact_s: &[f64]) -> Stops {
    let errors = set_s.iter().zip(exact_s).map(|(set, exact)| (set / exact).log2().abs());
    Stops::new(errors.fold(0.0, f64::max))
}

/// A strip that was chosen, as one exposure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ChosenStrip {
    /// Its number, from 1.
    pub number: usize,
    /// How many pulses it has had.
    pub pulses: usize,
    /// Its exact total, s.
    pub total_s: f64,
    /// The one exposure that gives the same, s: `T - (k-1) · L`.
    pub seconds: f64,
    /// The same from the total that the clock gave, s.
    pub from_clock_s: f64,
    /// How much less that is than the total.
    pub stops: Stops,
}

/// The one exposure that matches a chosen strip: it has had as many pulses as its number, the print has one.
///
/// # Errors
/// No such strip, or a loss that leaves nothing.
pub(crate) fn chosen(strip: &TestStrip, number: usize, lost_s: f64) -> Result<ChosenStrip, ExposureError> {
    let count = count_of(strip.totals_s.len());
    within("the number of a strip", count_of(number), 1.0, count)?;
    let at = |list: &[f64]| list.get(number - 1).copied().unwrap_or_default();
    let total_s = at(&strip.totals_s);
    let pulses = if strip.request.method == StripMethod::Apart { 1 } else { number };
    let lost = count_of(pulses - 1) * lost_s;
    // A pulse that is all loss gives nothing, and the sum would count it as more than it is.
    let shortest_s = strip.settings_s.iter().copied().fold(f64::INFINITY, f64::min);
    if pulses > 1 && shortest_s <= lost_s {
        return Err(ExposureError::NothingLeft { seconds: shortest_s, lost_s });
    }
    let (seconds, from_clock_s) = (total_s - lost, at(&strip.clocked_s) - lost);
    if seconds <= 0.0 || from_clock_s <= 0.0 {
        return Err(ExposureError::NothingLeft { seconds: total_s, lost_s: lost });
    }
    let stops = Stops::from_ratio(seconds / total_s);
    Ok(ChosenStrip { number, pulses, total_s, seconds, from_clock_s, stops })
}

/// The steps of a strip in even seconds: they are uneven stops.
///
/// # Errors
/// Times that do not rise.
pub(crate) fn steps_between(totals: &[Duration]) -> Result<Vec<Stops>, ExposureError> {
    let pairs = totals.iter().zip(totals.iter().skip(1)).map(|(first, second)| {
        let (first_s, second_s) = (first.as_s(), second.as_s());
        if second_s <= first_s {
            return Err(ExposureError::NotRising { first_s, second_s });
        }
        Ok(Stops::from_ratio(second_s / first_s))
    });
    pairs.collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn request(first: f64, step: f64, strips: usize, clock: Clock, method: StripMethod) -> StripRequest {
        StripRequest {
            start: StripStart::First(Duration::from_s(first)),
            step: Stops::new(step),
            strips,
            clock,
            method,
        }
    }

    proptest! {
        #[test]
        fn cover_is_uncover_reversed_and_settings_add_up(
            first in 10_u32..300, twelfths in 1_u32..13, strips in 2_usize..12, seconds in any::<bool>(),
        ) {
            let clock = if seconds { Clock::Seconds } else { Clock::Tenths };
            let first = f64::from(first) * clock.step_s();
            let of = |method| strip(request(clock.set(first), f64::from(twelfths) / 12.0, strips, clock, method));
            match (of(StripMethod::Cover), of(StripMethod::Uncover), of(StripMethod::Apart)) {
                (Ok(cover), Ok(uncover), Ok(apart)) => {
                    let reversed: Vec<f64> = uncover.settings_s.iter().rev().copied().collect();
                    prop_assert_eq!(&cover.settings_s, &reversed);
                    // What each strip gets while it is open is its total, by either way of the hand.
                    for way in [&cover, &uncover, &apart] {
                        for (index, total) in way.clocked_s.iter().enumerate() {
                            let got: f64 = way.settings_s.iter().enumerate()
                                .filter(|(setting, _)| !way.covered(*setting)[index])
                                .map(|(_, seconds)| seconds).sum();
                            prop_assert!((got - total).abs() < 1e-9, "{} strip {}", way.request.method.word(), index + 1);
                        }
                        // No total is off by more than half a step of the clock.
                        for (set, exact) in way.clocked_s.iter().zip(&way.totals_s) {
                            prop_assert!((set - exact).abs() <= clock.step_s() / 2.0 + 1e-9);
                        }
                    }
                    prop_assert!(cover.largest_error.get() <= cover.largest_error_each.get() + 1e-12);
                }
                (Err(one), Err(two), Err(three)) => prop_assert!(one == two && two == three),
                other => prop_assert!(false, "{:?}", other),
            }
        }
    }

    #[test]
    fn strips_that_coincide_are_refused_and_the_advice_works() {
        let refused = strip(request(4.0, 1.0 / 6.0, 9, Clock::Seconds, StripMethod::Cover)).unwrap_err();
        let ExposureError::StripsCoincide { first: 1, second: 2, from_s, .. } = refused else {
            panic!("{refused:?}")
        };
        let advised = request(from_s.ceil(), 1.0 / 6.0, 9, Clock::Seconds, StripMethod::Cover);
        assert!(strip(advised).is_ok());
        let half = strip(request(8.5, 1.0 / 3.0, 7, Clock::Seconds, StripMethod::Cover));
        assert_eq!(half, Err(ExposureError::NotOnTheClock { seconds: 8.5, clock: Clock::Seconds }));
    }
}
