//! Washing prints in colder or warmer water, and what a residue is in other units.

use super::error::within;
use super::{ExposureError, ExposureWarning};
use crate::quantity::{Duration, Temperature, USUAL_C};

/// Below and above, °C, the rule is not to be trusted; advice.
const TRUSTED_C: (f64, f64) = (10.0, 27.0);
/// Square millimetres in a square inch, over a thousand: mg/in² from g/m².
const MG_PER_SQ_IN: f64 = 0.645_16;

/// A washing time.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Washed {
    /// Time at the other temperature, s.
    pub seconds: f64,
    /// Its ratio to the first.
    pub factor: f64,
    /// What diffusion alone would ask for.
    pub diffusion_ratio: f64,
    /// What is to be minded.
    pub warnings: Vec<ExposureWarning>,
}

/// Twice the time for each 10 °C colder.
///
/// Source of the rule: US War Department, TM 11-2323: twice the time at 50 °F, four times at 35 °F. It is a safe rule, not physics.
///
/// # Errors
/// Water that is none.
pub(crate) fn washed(
    time: Duration,
    from: Option<Temperature>,
    to: Temperature,
) -> Result<Washed, ExposureError> {
    let from_c = within("wash water in °C", from.map_or(USUAL_C, Temperature::as_c), 0.0, 60.0)?;
    let to_c = within("wash water in °C", to.as_c(), 0.0, 60.0)?;
    let factor = ((from_c - to_c) / 10.0).exp2();
    let warnings = if (TRUSTED_C.0..=TRUSTED_C.1).contains(&to_c) {
        Vec::new()
    } else {
        vec![ExposureWarning::WashTemperature { celsius: to_c }]
    };
    let diffusion_ratio = diffusion_ratio(from_c, to_c);
    Ok(Washed { seconds: time.as_s() * factor, factor, diffusion_ratio, warnings })
}

/// How much slower diffusion is: its constant goes as absolute temperature over viscosity.
pub(crate) fn diffusion_ratio(from_c: f64, to_c: f64) -> f64 {
    let speed = |celsius: f64| (celsius + 273.15) / water_viscosity_mpa_s(celsius);
    speed(from_c) / speed(to_c)
}

/// Viscosity of water at atmospheric pressure, mPa s, from 0 to 100 °C: `Σ a (T/300 K)^b`.
///
/// Source: IAPWS, Release on the formulation 2008 for the viscosity of ordinary water substance (R12-08), the short equation for atmospheric pressure;
/// coefficients from memory, checked in the tests against 1.0016 mPa s at 20 °C and 1.3059 at 10 °C.
pub(crate) fn water_viscosity_mpa_s(celsius: f64) -> f64 {
    let reduced = (celsius + 273.15) / 300.0;
    let terms = [(280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0)];
    terms.iter().map(|(a, b)| a * reduced.powf(*b)).sum::<f64>() / 1000.0
}

/// Milligrams per square inch from grams per square metre.
pub(crate) fn mg_per_sq_in(grams_per_m2: f64) -> f64 {
    grams_per_m2 * MG_PER_SQ_IN
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: viscosity of water, 1.0016 mPa s at 20 °C and 1.3059 at 10 °C (IAPWS). Tolerance: half of the last place.
    #[test]
    fn the_viscosity_of_water_is_the_published_one() {
        assert!((water_viscosity_mpa_s(20.0) - 1.0016).abs() < 0.000_05);
        assert!((water_viscosity_mpa_s(10.0) - 1.3059).abs() < 0.000_05);
    }
}
