//! Water itself: density, heat capacity and enthalpy, and the blending of hot and cold water.
//!
//! Values of the `IAPWS-95` formulation (W. Wagner, A. Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387) at one atmosphere (at 100 °C a
//! trifle more, to stay liquid), computed with the Python package `iapws` 1.5.5, every 5 K from 0 to 100 °C; between them a cubic through the
//! four nearest points, which meets the formulation to 0.002 g/L in density and 0.0002 kJ per kg and K in heat capacity.

use thiserror::Error;

use super::roots::bracketed_root;

/// Why there is no temperature.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum HeatError {
    /// Temperature outside that of liquid water, or not a number.
    #[error("{temperature_c} °C is not a temperature of liquid water (0 to 100 °C)")]
    TemperatureOutOfRange {
        /// What was given, °C.
        temperature_c: f64,
    },
    /// An amount is negative, zero where something is needed, or not a number.
    #[error("{amount} is not an amount that can be used here")]
    AmountNotUsable {
        /// As it was given, mL or g.
        amount: f64,
    },
    /// A blend cannot be colder than its cold or warmer than its hot water.
    #[error("{target_c} °C cannot be blended from water of {cold_c} and {hot_c} °C")]
    TargetNotBetween {
        /// Asked for, °C.
        target_c: f64,
        /// Cold water, °C.
        cold_c: f64,
        /// Hot water, °C.
        hot_c: f64,
    },
    /// A portion names a component the table does not hold.
    #[error("{substance}: there is no component \"{component}\"")]
    UnknownComponent {
        /// The portion.
        substance: String,
        /// The name that was not found.
        component: String,
    },
}

impl HeatError {
    /// How to put it right, in words of the bench.
    pub fn fix(&self) -> &'static str {
        match self {
            Self::TemperatureOutOfRange { .. } => "give a temperature from 0 to 100 °C",
            Self::AmountNotUsable { .. } => "give an amount above zero",
            Self::TargetNotBetween { .. } => "use warmer hot water or colder cold water",
            Self::UnknownComponent { .. } => "use a component of the table of equilibria",
        }
    }
}

/// Molar mass of water, g/mol (CIAAW standard atomic weights).
pub const WATER_G_PER_MOL: f64 = 18.015;

/// Lowest and highest temperature of the table, °C.
pub(super) const WATER_RANGE_C: (f64, f64) = (0.0, 100.0);
/// Distance of the rows, K.
const SPACING: f64 = 5.0;

/// Density kg/m³, enthalpy kJ/kg, heat capacity kJ/(kg K); one row every 5 K from 0 °C.
const ROWS: [[f64; 3]; 21] = [
    [999.8431, 0.0610, 4.21944],
    [999.9666, 21.1200, 4.20504],
    [999.7025, 42.1189, 4.19516],
    [999.1026, 63.0768, 4.18846],
    [998.2072, 84.0073, 4.18405],
    [997.0476, 104.9201, 4.18131],
    [995.6495, 125.8225, 4.17982],
    [994.0333, 146.7199, 4.17926],
    [992.2164, 167.6163, 4.17941],
    [990.2129, 188.5150, 4.18014],
    [988.0350, 209.4185, 4.18134],
    [985.6931, 230.3291, 4.18296],
    [983.1958, 251.2487, 4.18495],
    [980.5508, 272.1792, 4.18732],
    [977.7646, 293.1225, 4.19007],
    [974.8429, 314.0805, 4.19320],
    [971.7904, 335.0553, 4.19675],
    [968.6114, 356.0488, 4.20074],
    [965.3096, 377.0635, 4.20521],
    [961.8879, 398.1017, 4.21017],
    [958.3491, 419.1662, 4.21567],
];

/// One column at a temperature inside the table: the cubic through the four nearest rows.
fn interpolate(temperature_c: f64, column: impl Fn(&[f64; 3]) -> f64) -> f64 {
    let (low, high) = WATER_RANGE_C;
    let inside = temperature_c.clamp(low, high);
    let mut temperature = low;
    let mut nearest: Option<([f64; 4], f64)> = None;
    for window in ROWS.windows(4) {
        if let [a, b, c, d] = window {
            // The window serves between its middle rows; the first and last also serve their outer interval.
            if nearest.is_none() || inside >= temperature + SPACING {
                nearest = Some(([column(a), column(b), column(c), column(d)], temperature));
            }
        }
        temperature += SPACING;
    }
    let Some(([a, b, c, d], start)) = nearest else {
        return f64::NAN;
    };
    let x = (inside - start) / SPACING;
    a * (x - 1.0) * (x - 2.0) * (x - 3.0) / -6.0
        + b * x * (x - 2.0) * (x - 3.0) / 2.0
        + c * x * (x - 1.0) * (x - 3.0) / -2.0
        + d * x * (x - 1.0) * (x - 2.0) / 6.0
}

fn inside(temperature_c: f64) -> Result<f64, HeatError> {
    let (low, high) = WATER_RANGE_C;
    if (low..=high).contains(&temperature_c) {
        Ok(temperature_c)
    } else {
        Err(HeatError::TemperatureOutOfRange { temperature_c })
    }
}

/// Density of water, kg/m³ (equal to g/L), from 0 to 100 °C.
///
/// # Errors
/// [`HeatError::TemperatureOutOfRange`] outside that range.
pub fn water_density(temperature_c: f64) -> Result<f64, HeatError> {
    Ok(interpolate(inside(temperature_c)?, |[density, ..]| *density))
}

/// kg/L, at a temperature the caller has checked (0 to 100 °C).
pub(super) fn density_kg_per_litre(temperature_c: f64) -> f64 {
    interpolate(temperature_c, |[density, ..]| *density) / 1000.0
}

/// Enthalpy of liquid water, kJ/kg, counted from 0 °C. Outside 0 to 100 °C it goes on straight, so that how far a beaker would boil or
/// freeze can be told.
pub(super) fn enthalpy(temperature_c: f64) -> f64 {
    let (low, high) = WATER_RANGE_C;
    let within = temperature_c.clamp(low, high);
    interpolate(within, |[_, enthalpy, _]| *enthalpy)
        + (temperature_c - within) * interpolate(within, |[_, _, capacity]| *capacity)
}

/// The temperature, °C, at which liquid water has an enthalpy (kJ/kg).
pub(super) fn temperature_at(enthalpy_kj_per_kg: f64) -> Option<f64> {
    let miss = |temperature: f64| Some(enthalpy(temperature) - enthalpy_kj_per_kg);
    bracketed_root(miss, -1000.0, 5000.0, 1e-7)
}

/// Hot and cold water that make a volume at a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blend {
    /// Hot water, mL, measured hot.
    pub hot_ml: f64,
    /// Cold water, mL, measured cold.
    pub cold_ml: f64,
}

/// How much hot and how much cold water make `total_ml` (measured at the target temperature), each measured at its own temperature.
///
/// # Errors
/// [`HeatError::TargetNotBetween`] if the target is not between cold and hot or these are equal; a temperature outside 0 to 100 °C; a
/// volume that is not above zero.
///
/// # Examples
/// ```
/// use soupcon::solution::hot_volume_for_target;
///
/// let blend = hot_volume_for_target(1000.0, 20.0, 45.0, 12.0)?;
/// assert!((blend.hot_ml - 244.7).abs() < 1.0);
/// // Edge: the tap already runs at the target.
/// assert!(hot_volume_for_target(1000.0, 20.0, 45.0, 20.0)?.hot_ml.abs() < 1e-9);
/// // Failure: no blend of warmer waters is colder.
/// assert!(hot_volume_for_target(1000.0, 10.0, 45.0, 12.0).is_err());
/// # Ok::<(), soupcon::solution::HeatError>(())
/// ```
pub fn hot_volume_for_target(
    total_ml: f64,
    target_c: f64,
    hot_c: f64,
    cold_c: f64,
) -> Result<Blend, HeatError> {
    if !(total_ml.is_finite() && total_ml > 0.0) {
        return Err(HeatError::AmountNotUsable { amount: total_ml });
    }
    let mass = total_ml * water_density(target_c)?;
    let (hot_density, cold_density) = (water_density(hot_c)?, water_density(cold_c)?);
    if hot_c <= cold_c || !(cold_c..=hot_c).contains(&target_c) {
        return Err(HeatError::TargetNotBetween { target_c, cold_c, hot_c });
    }
    let cold = enthalpy(cold_c);
    let share = (enthalpy(target_c) - cold) / (enthalpy(hot_c) - cold);
    Ok(Blend { hot_ml: share * mass / hot_density, cold_ml: (1.0 - share) * mass / cold_density })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_the_rows_the_cubic_meets_the_formulation() {
        // IAPWS-95 at 0.101325 MPa, computed apart from the table with iapws 1.5.5. Tolerance: its own interpolation error.
        for (t, density, capacity) in [
            (2.5, 999.9572, 4.21157),
            (22.0, 997.7735, 4.18278),
            (37.5, 993.1490, 4.17926),
            (63.0, 981.6261, 4.18633),
            (97.0, 960.4863, 4.21231),
        ] {
            assert!((water_density(t).unwrap() - density).abs() < 0.002, "{t}");
            assert!((interpolate(t, |[_, _, capacity]| *capacity) - capacity).abs() < 2e-4, "{t}");
        }
        assert!(water_density(-0.1).is_err());
        assert!(water_density(f64::NAN).is_err());
    }

    #[test]
    fn enthalpy_and_temperature_are_each_others_inverse() {
        for t in [-20.0, 0.0, 3.3, 41.0, 99.0, 130.0] {
            assert!((temperature_at(enthalpy(t)).unwrap() - t).abs() < 1e-5);
        }
    }
}
