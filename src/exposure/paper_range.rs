//! Range against range: the paper's log range is to be the negative's effective density range.
//!
//! `R = 100 · Q · (D_dense - D_thin)`, rounded to 10 (ISO 6846). With a share `s` of stray light, of the thinnest part's illuminance,
//! `range' = log10((1 + s) / (10^-range + s))`. Derived.

use super::error::within;
use super::{ExposureError, ExposureWarning};
use crate::quantity::rounding::to_step;

/// The negative, in the light it is printed with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct NegativeRange {
    /// Diffuse density of the thinnest part with detail.
    pub thin: f64,
    /// Diffuse density of the densest part with detail.
    pub dense: f64,
    /// Condenser factor Q; 1 in diffuse light and for dye images.
    pub condenser_factor: f64,
    /// Stray light as a share of the thinnest part's illuminance.
    pub stray: f64,
}

/// The paper it asks for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PaperRange {
    /// As measured, diffuse.
    pub density_range: f64,
    /// As the paper sees it.
    pub effective_range: f64,
    pub iso_range: f64,
    /// What is to be minded.
    pub warnings: Vec<ExposureWarning>,
}

/// The paper range that fits a negative.
///
/// # Errors
/// A dense part that is not denser, figures out of range.
pub(crate) fn paper_range(negative: &NegativeRange) -> Result<PaperRange, ExposureError> {
    let NegativeRange { thin, dense, condenser_factor, stray } = *negative;
    within("a density", thin, 0.0, 6.0)?;
    within("a density", dense, 0.0, 6.0)?;
    within("a condenser factor", condenser_factor, 1.0, 2.0)?;
    within("a share of stray light", stray, 0.0, 0.5)?;
    if dense <= thin {
        return Err(ExposureError::NoRange { thin, dense });
    }
    let density_range = dense - thin;
    let range = density_range * condenser_factor;
    let effective_range = ((1.0 + stray) / (10.0_f64.powf(-range) + stray)).log10();
    let iso_range = to_step(100.0 * effective_range, 10.0);
    let mut warnings = Vec::new();
    if condenser_factor > 1.0 {
        warnings.push(ExposureWarning::CondenserFactor);
    }
    let tens = effective_range * 10.0;
    if (tens - tens.floor() - 0.5).abs() < 1e-6 {
        warnings.push(ExposureWarning::BetweenTwo { ranges: (tens.floor() * 10.0, tens.ceil() * 10.0) });
    }
    Ok(PaperRange { density_range, effective_range, iso_range, warnings })
}

/// The condenser factor from one negative that fits two paper ranges: `Q = range in the condenser / range in diffuse light`.
///
/// # Errors
/// Ranges out of range.
pub(crate) fn condenser_factor(diffuse: f64, condenser: f64) -> Result<f64, ExposureError> {
    within("a log range", diffuse, 0.1, 4.0)?;
    within("a log range", condenser, 0.1, 4.0)?;
    Ok(condenser / diffuse)
}
