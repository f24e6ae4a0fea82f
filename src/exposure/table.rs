//! The wall table: a ladder of base times in sixths of a stop, with what to hold back and what to add at each.

use super::error::within;
use super::lamp::count_of;
use super::{Clock, ExposureError, Stops};
use crate::quantity::Duration;

/// Rows of a page: from the first time two and a half stops up.
const ROWS: usize = 16;
/// What is held back, in sixths of a stop.
pub(crate) const DODGES: [f64; 2] = [2.0, 1.0];
/// What is added, in sixths of a stop.
pub(crate) const BURNS: [f64; 5] = [1.0, 2.0, 3.0, 4.0, 6.0];

/// A base time.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WallRow {
    /// Exact, s.
    pub seconds: f64,
    pub set_s: f64,
    /// To hold back, exact, s: by [`DODGES`].
    pub held_back_s: Vec<f64>,
    /// To add, exact, s: by [`BURNS`].
    pub extra_s: Vec<f64>,
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WallTable {
    pub clock: Clock,
    /// Rows, each a sixth of a stop more than the one above.
    pub rows: Vec<WallRow>,
    /// The error that rounding may have.
    pub within: Stops,
    /// From which time on it stays within, s.
    pub shortest_s: f64,
}

/// Works out the table.
///
/// # Errors
/// A first time that the clock cannot be set to or that is out of range; rows that coincide.
pub(crate) fn wall_table(first: Duration, clock: Clock, error: Stops) -> Result<WallTable, ExposureError> {
    let first_s = within("a first time in seconds", first.as_s(), 0.5, 120.0)?;
    within("an error in stops", error.get(), 0.001, 3.0)?;
    if !clock.can_set(first_s) {
        return Err(ExposureError::NotOnTheClock { seconds: first_s, clock });
    }
    let sixths = |count: f64| (count / 6.0).exp2();
    let rows: Vec<WallRow> = (0..ROWS)
        .map(|index| {
            let seconds = first_s * sixths(count_of(index));
            WallRow {
                seconds,
                set_s: clock.set(seconds),
                held_back_s: DODGES.iter().map(|own| seconds * (1.0 - sixths(-own))).collect(),
                extra_s: BURNS.iter().map(|own| seconds * (sixths(*own) - 1.0)).collect(),
            }
        })
        .collect();
    let pairs = rows.iter().zip(rows.iter().skip(1));
    if let Some((index, (row, _))) =
        pairs.enumerate().find(|(_, (row, next))| clock.ticks(row.seconds) >= clock.ticks(next.seconds))
    {
        let from_s = clock.step_s() / (sixths(1.0) - 1.0);
        let (first, second) = (index + 1, index + 2);
        return Err(ExposureError::StripsCoincide { first, second, seconds: row.set_s, clock, from_s });
    }
    Ok(WallTable { clock, rows, within: error, shortest_s: clock.shortest_within_s(error) })
}
