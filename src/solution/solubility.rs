//! Solubility from published points: straight lines between them, nothing beyond them.
//!
//! A curve bends where the crystal changes its water; a table that holds a point there shows it, one that does not hides it. A mixture
//! is not the pure solute: a common ion (sodium with sodium) lowers what dissolves, so that a margin is an upper limit.

use thiserror::Error;

/// Why a list of points is no curve.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SolubilityCurveError {
    /// No points.
    #[error("a solubility curve needs at least one point")]
    Empty,
    /// A figure is not finite, or a solubility not above zero.
    #[error("the point {grams} g per 100 g water at {temperature_c} °C cannot be used")]
    BadPoint {
        /// °C.
        temperature_c: f64,
        /// g per 100 g of water.
        grams: f64,
    },
    /// Temperatures do not rise from point to point.
    #[error("solubility points must rise in temperature; {temperature_c} °C does not follow")]
    NotRising {
        /// The temperature out of order, °C.
        temperature_c: f64,
    },
}

/// Grams that 100 g of water dissolve, by temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct SolubilityCurve {
    points: Vec<(f64, f64)>,
}

impl SolubilityCurve {
    /// A curve through points (°C, g per 100 g of water) of rising temperature. One point is a curve known at that temperature only.
    ///
    /// # Errors
    /// See [`SolubilityCurveError`].
    pub fn new(points: Vec<(f64, f64)>) -> Result<Self, SolubilityCurveError> {
        if points.is_empty() {
            return Err(SolubilityCurveError::Empty);
        }
        let mut last = f64::NEG_INFINITY;
        for &(temperature_c, grams) in &points {
            if !(temperature_c.is_finite() && grams.is_finite() && grams > 0.0) {
                return Err(SolubilityCurveError::BadPoint { temperature_c, grams });
            }
            if temperature_c <= last {
                return Err(SolubilityCurveError::NotRising { temperature_c });
            }
            last = temperature_c;
        }
        Ok(Self { points })
    }

    /// g per 100 g of water at a temperature in °C; `None` outside the range of the points.
    ///
    /// # Examples
    /// ```
    /// use soupcon::solution::SolubilityCurve;
    ///
    /// let curve = SolubilityCurve::new(vec![(10.0, 3.0), (20.0, 5.0), (40.0, 13.0)])?;
    /// assert_eq!(curve.at(15.0), Some(4.0));
    /// assert_eq!(curve.at(40.0), Some(13.0));
    /// assert_eq!(curve.at(5.0), None);
    /// # Ok::<(), soupcon::solution::SolubilityCurveError>(())
    /// ```
    pub fn at(&self, temperature_c: f64) -> Option<f64> {
        let exact = self.points.iter().find(|point| (point.0 - temperature_c).abs() < 1e-9);
        if let Some(&(_, grams)) = exact {
            return Some(grams);
        }
        self.points.windows(2).find_map(|pair| match pair {
            [(cold, less), (warm, more)] if (*cold..=*warm).contains(&temperature_c) => {
                Some(less + (more - less) * (temperature_c - cold) / (warm - cold))
            }
            _ => None,
        })
    }
}

/// What is left of the solubility: 1 for nothing dissolved, 0 at saturation, below 0 where crystals will come.
///
/// Both in g per 100 g of water. `None` where the limit is not above zero or a figure is not finite.
pub fn margin(dissolved: f64, limit: f64) -> Option<f64> {
    let usable = dissolved.is_finite() && dissolved >= 0.0 && limit.is_finite() && limit > 0.0;
    usable.then(|| 1.0 - dissolved / limit)
}

/// Turns grams per litre of solution into grams per 100 g of water.
///
/// `water_kg_per_litre` is that of the [`super::Prediction`]. Where the grams and the curve are of a hydrate as weighed, its crystal
/// water (g per litre of solution) is taken off, because such curves count only the water added. `None` where no water is left.
pub fn grams_per_100_g_water(
    grams_per_litre: f64,
    water_kg_per_litre: f64,
    crystal_water_g_per_litre: f64,
) -> Option<f64> {
    let added_water_g = water_kg_per_litre * 1000.0 - crystal_water_g_per_litre;
    let usable = grams_per_litre.is_finite()
        && grams_per_litre >= 0.0
        && added_water_g.is_finite()
        && added_water_g > 0.0;
    usable.then(|| grams_per_litre / added_water_g * 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_single_point_is_known_at_its_temperature_only() {
        let curve = SolubilityCurve::new(vec![(15.0, 5.7)]).unwrap();
        assert_eq!(curve.at(15.0), Some(5.7));
        assert_eq!(curve.at(15.5), None);
        assert_eq!(curve.at(f64::NAN), None);
    }

    #[test]
    fn points_out_of_order_and_bad_figures_are_refused() {
        assert_eq!(SolubilityCurve::new(Vec::new()), Err(SolubilityCurveError::Empty));
        assert!(SolubilityCurve::new(vec![(20.0, 5.0), (10.0, 3.0)]).is_err());
        assert!(SolubilityCurve::new(vec![(20.0, f64::NAN)]).is_err());
        assert!(SolubilityCurve::new(vec![(20.0, 0.0)]).is_err());
    }

    #[test]
    fn a_margin_falls_below_zero_where_crystals_come() {
        assert_eq!(margin(2.0, 8.0), Some(0.75));
        assert!(margin(10.0, 8.0).unwrap() < 0.0);
        assert_eq!(margin(1.0, 0.0), None);
        // 25 g/L of borax decahydrate (47 % water) in 0.98 kg of water: 0.9682 kg of it was added.
        let grams = grams_per_100_g_water(25.0, 0.98, 11.8).unwrap();
        assert!((grams - 2.582).abs() < 0.001);
        assert_eq!(grams_per_100_g_water(25.0, 0.01, 11.8), None);
    }
}
