//! More and less exposure: `t2 = t1 · 2^s`.

use super::error::within;
use super::limits::{of_change, of_time};
use super::{ExposureError, ExposureWarning, Stops};
use crate::quantity::Duration;

/// How a change is told.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum By {
    Stops(Stops),
    /// In percent more, or less below zero.
    Percent(f64),
    /// By what a print darkens as it dries, percent.
    DryDown(f64),
}

/// A change of exposure.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Change {
    /// Before, s; none where only the change was asked for.
    pub from_s: Option<f64>,
    /// After, s.
    pub seconds: Option<f64>,
    pub stops: Stops,
    /// Where the sum stops holding.
    pub warnings: Vec<ExposureWarning>,
}

/// Changes an exposure.
///
/// # Errors
/// A loss of all light or more, a dry-down that is none.
pub(crate) fn change(from: Option<Duration>, by: By) -> Result<Change, ExposureError> {
    let stops = match by {
        By::Stops(stops) => stops,
        By::Percent(percent) => Stops::from_percent(within("a change in percent", percent, -99.0, 10_000.0)?),
        By::DryDown(percent) => Stops::from_percent(-within("a dry-down in percent", percent, 0.0, 50.0)?),
    };
    Ok(changed(from.map(Duration::as_s), stops))
}

/// The change between two times: `s = log2(t2/t1)`.
pub(crate) fn change_to(from: Duration, to: Duration) -> Change {
    changed(Some(from.as_s()), Stops::from_ratio(to.as_s() / from.as_s()))
}

fn changed(from_s: Option<f64>, stops: Stops) -> Change {
    let seconds = from_s.map(|from| from * stops.factor());
    let warnings = seconds.and_then(of_time).into_iter().chain(of_change(stops)).collect();
    Change { from_s, seconds, stops, warnings }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn there_and_back_is_where_one_was(seconds in 0.5_f64..500.0, first in -3.0_f64..3.0, second in -3.0_f64..3.0) {
            let there = |from: f64, stops: f64| {
                change(Some(Duration::from_s(from)), By::Stops(Stops::new(stops))).unwrap().seconds.unwrap()
            };
            let back = there(there(seconds, first), -first);
            prop_assert!((back / seconds - 1.0).abs() < 1e-12);
            // Stops add.
            let both = there(there(seconds, first), second);
            prop_assert!((both / there(seconds, first + second) - 1.0).abs() < 1e-12);
            let told = change_to(Duration::from_s(seconds), Duration::from_s(both)).stops.get();
            prop_assert!((told - first - second).abs() < 1e-9);
        }
    }
}
