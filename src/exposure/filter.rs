//! Another filter or another paper, with the user's own factors: `t2 = t1 · F2/F1`, or `t1 · P1/P2` for paper speeds.

use super::error::within;
use super::limits::{of_change, of_time};
use super::{ExposureError, ExposureWarning, Stops};
use crate::quantity::Duration;

/// The time through the other filter, or on the other paper.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Filtered {
    /// Time before, s.
    pub from_s: f64,
    /// Time after, s.
    pub seconds: f64,
    pub factor: f64,
    pub stops: Stops,
    /// Where the sum stops holding.
    pub warnings: Vec<ExposureWarning>,
}

/// From one filter factor to another; for one tone, that in which the factors were measured.
///
/// # Errors
/// A factor out of range.
pub(crate) fn by_factor(time: Duration, from: f64, to: f64) -> Result<Filtered, ExposureError> {
    within("a filter factor", from, 0.01, 1000.0)?;
    within("a filter factor", to, 0.01, 1000.0)?;
    Ok(filtered(time, to / from, Vec::new()))
}

/// From one ISO paper speed to another: the tone of net density 0.60 stays (ISO 6846).
///
/// # Errors
/// A speed out of range.
pub(crate) fn by_speed(time: Duration, from: f64, to: f64) -> Result<Filtered, ExposureError> {
    within("a paper speed", from, 0.1, 100_000.0)?;
    within("a paper speed", to, 0.1, 100_000.0)?;
    Ok(filtered(time, from / to, vec![ExposureWarning::SpeedPoint]))
}

fn filtered(time: Duration, factor: f64, mut warnings: Vec<ExposureWarning>) -> Filtered {
    let (from_s, stops) = (time.as_s(), Stops::from_ratio(factor));
    let seconds = from_s * factor;
    warnings.extend(of_time(seconds));
    warnings.extend(of_change(stops));
    Filtered { from_s, seconds, factor, stops, warnings }
}
