//! What the lamp loses at each switching: `effective time = t - L`, a model derived from the rise of the filament less its afterglow.

use super::error::within;
use super::{ExposureError, ExposureWarning, Stops};
use crate::quantity::Duration;

/// A lamp's loss, measured with paper.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LampLoss {
    /// Lost at each switching, s; below zero where the pulses gave more.
    pub lost_s: f64,
    /// What is to be minded.
    pub warnings: Vec<ExposureWarning>,
}

/// What a loss does to a setting.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LampEffect {
    pub setting_s: f64,
    /// What the paper gets of it, s.
    pub seconds: f64,
    /// Too little by so much, below zero.
    pub stops: Stops,
    /// What to set so that the paper gets the time, s.
    pub set_s: f64,
}

/// The loss from `n` pulses of `t` that match one exposure `T`: `L = (n·t - T) / (n - 1)`. It holds intermittency as well.
///
/// # Errors
/// Fewer than two pulses, or a loss as long as the pulse.
pub(crate) fn lamp_loss(
    pulses: usize,
    pulse: Duration,
    matches: Duration,
) -> Result<LampLoss, ExposureError> {
    let count = within("a number of pulses", count_of(pulses), 2.0, 1000.0)?;
    let lost_s = (count * pulse.as_s() - matches.as_s()) / (count - 1.0);
    if lost_s >= pulse.as_s() {
        return Err(ExposureError::NothingLeft { seconds: pulse.as_s(), lost_s });
    }
    let warnings = if lost_s < 0.0 { vec![ExposureWarning::GainedBySwitching] } else { Vec::new() };
    Ok(LampLoss { lost_s, warnings })
}

/// What is left of a setting: `log2((t - L) / t)`.
///
/// # Errors
/// A loss as long as the setting.
pub(crate) fn lamp_effect(setting: Duration, lost: Duration) -> Result<LampEffect, ExposureError> {
    let (setting_s, lost_s) = (setting.as_s(), lost.as_s());
    let seconds = setting_s - lost_s;
    if seconds <= 0.0 {
        return Err(ExposureError::NothingLeft { seconds: setting_s, lost_s });
    }
    let stops = Stops::from_ratio(seconds / setting_s);
    Ok(LampEffect { setting_s, seconds, stops, set_s: setting_s + lost_s })
}

/// A small count as a number.
pub(super) fn count_of(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}
