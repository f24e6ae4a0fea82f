//! A print's time from a meter: `t = 1000 · 10^D / (P · E)` prints the density D of the negative at net 0.60 (ISO 6846: `P = 1000/H`);
//! with the paper's own log exposure for the tone, `t = 10^(log H + D) / E`.

use super::error::within;
use super::limits::of_time;
use super::{ExposureError, ExposureWarning};

/// What the thinnest place then gets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct MeteredShadow {
    /// Its log exposure, lux seconds.
    pub log_exposure: f64,
    /// By how much it falls short of the paper's black; below zero where it is beyond.
    pub short_of_black: Option<f64>,
}

/// A metered time.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Metered {
    /// The time, s.
    pub seconds: f64,
    /// Exposure of the open easel in that time, log lux seconds.
    pub log_exposure_open: f64,
    /// Where the sum stops holding.
    pub warnings: Vec<ExposureWarning>,
}

impl Metered {
    /// What a thinner place gets, and what it lacks for black.
    ///
    /// # Errors
    /// A density out of range.
    pub(crate) fn shadow(&self, thin: f64, log_black: Option<f64>) -> Result<MeteredShadow, ExposureError> {
        let log_exposure = self.log_exposure_open - within("a density", thin, 0.0, 6.0)?;
        Ok(MeteredShadow { log_exposure, short_of_black: log_black.map(|black| black - log_exposure) })
    }
}

/// From the ISO speed of the paper.
///
/// # Errors
/// A figure out of range.
pub(crate) fn by_paper_speed(speed: f64, lux: f64, density: f64) -> Result<Metered, ExposureError> {
    within("a paper speed", speed, 0.1, 100_000.0)?;
    metered(3.0 - speed.log10(), lux, density)
}

/// From the log exposure (lux seconds) that gives the tone wanted.
///
/// # Errors
/// A figure out of range.
pub(crate) fn by_log_exposure(log_h: f64, lux: f64, density: f64) -> Result<Metered, ExposureError> {
    metered(within("a log exposure", log_h, -5.0, 6.0)?, lux, density)
}

fn metered(log_h: f64, lux: f64, density: f64) -> Result<Metered, ExposureError> {
    within("an illuminance in lux", lux, 1e-4, 1e6)?;
    within("a density", density, 0.0, 6.0)?;
    let log_exposure_open = log_h + density;
    let seconds = 10.0_f64.powf(log_exposure_open) / lux;
    let warnings = std::iter::once(ExposureWarning::Meter).chain(of_time(seconds)).collect();
    Ok(Metered { seconds, log_exposure_open, warnings })
}
