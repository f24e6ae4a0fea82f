//! Contact sheets: the least exposure for full black through another film's base and fog, `t2 = t1 · 10^(D2 - D1)`. Derived.

use super::error::within;
use super::limits::{of_change, of_time};
use super::{ExposureError, ExposureWarning, Stops};
use crate::quantity::Duration;

/// The time for the other film.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Contact {
    /// Time before, s.
    pub from_s: f64,
    /// Time after, s.
    pub seconds: f64,
    pub factor: f64,
    pub stops: Stops,
    /// Where the sum stops holding.
    pub warnings: Vec<ExposureWarning>,
}

/// From one base plus fog to another.
///
/// # Errors
/// A density out of range.
pub(crate) fn contact(time: Duration, from_fog: f64, to_fog: f64) -> Result<Contact, ExposureError> {
    within("a density of base and fog", from_fog, 0.0, 3.0)?;
    within("a density of base and fog", to_fog, 0.0, 3.0)?;
    let factor = 10.0_f64.powf(to_fog - from_fog);
    let (from_s, stops) = (time.as_s(), Stops::from_ratio(factor));
    let seconds = from_s * factor;
    let warnings = of_time(seconds).into_iter().chain(of_change(stops)).collect();
    Ok(Contact { from_s, seconds, factor, stops, warnings })
}
