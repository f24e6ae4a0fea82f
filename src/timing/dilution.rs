//! Dilution: working solutions of one or several parts, and the law by which their times go.
//!
//! Model: `t = t(stock) · r^p`, r the total volume over the volume of the stock (1+1 is 2, 1+3 is 4). p is below 1 for buffered
//! developers, since alkali is buffered, part of the work is diffusion, and less sulfite and bromide work the other way; it is above
//! 1 for pyro with carbonate. It belongs to a film and developer together. Solutions that hold the parts of a formula in different
//! proportions are two developers and are not compared.

use std::fmt;

use super::fit::{Line, Point, straight_line};
use crate::quantity::rounding::show_short;

/// How far two proportions may differ and still count as the same mixture.
const SAME_PROPORTION: f64 = 0.05;

/// A working solution: shares of the bottled parts in their order, and water.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    shares: Vec<f64>,
    water: f64,
}

impl Working {
    /// From shares of the parts and of water; none unless something is above zero and nothing below.
    pub fn new(shares: Vec<f64>, water: f64) -> Option<Self> {
        let sound = |value: f64| value.is_finite() && value >= 0.0;
        let ok = shares.iter().copied().all(sound) && sound(water) && shares.iter().sum::<f64>() > 0.0;
        ok.then_some(Self { shares, water })
    }

    /// A one-part stock as it is.
    pub fn stock() -> Self {
        Self { shares: vec![1.0], water: 0.0 }
    }

    /// Total volume over the volume of all parts: 1 undiluted, 4 for 1+3.
    pub fn ratio(&self) -> f64 {
        let stock: f64 = self.shares.iter().sum();
        (stock + self.water) / stock
    }

    /// Whether both are the same mixture at the same dilution.
    pub fn same_as(&self, other: &Self) -> bool {
        self.same_proportions(other) && (self.ratio() / other.ratio() - 1.0).abs() < 1e-9
    }

    /// Whether both hold the parts in the same proportion.
    pub fn same_proportions(&self, other: &Self) -> bool {
        let (own, others) = (self.shares.iter().sum::<f64>(), other.shares.iter().sum::<f64>());
        self.shares.len() == other.shares.len()
            && self.shares.iter().zip(&other.shares).all(|(one, two)| {
                let (one, two) = (one / own, two / others);
                (one - two).abs() <= SAME_PROPORTION * one.max(two)
            })
    }
}

impl fmt::Display for Working {
    /// As typed: `stock`, `1+3`, `1+1+8`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.shares.len() == 1 && self.water == 0.0 {
            return formatter.write_str("stock");
        }
        let mut figures: Vec<String> = self.shares.iter().map(|share| show_short(*share, 3)).collect();
        if self.water > 0.0 {
            figures.push(show_short(self.water, 3));
        }
        formatter.write_str(&figures.join("+"))
    }
}

/// The exponent p fitted to (r, time) pairs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExponentFit {
    /// p.
    pub exponent: f64,
    /// Time at r = 1.
    pub time_undiluted: f64,
    /// Root mean square of the residuals in ln t.
    pub rms: f64,
    /// Sum of squares of ln r about its mean.
    pub(super) spread: f64,
}

/// Fits p by least squares in ln t against ln r; none with fewer than two dilutions.
pub fn fit_exponent(table: &[(f64, f64)]) -> Option<ExponentFit> {
    let points: Vec<Point> =
        table.iter().map(|&(ratio, time)| Point { x: ratio.ln(), y: time.ln() }).collect();
    let Line { slope, intercept, rms, spread, .. } = straight_line(&points)?;
    Some(ExponentFit { exponent: slope, time_undiluted: intercept.exp(), rms, spread })
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn ratio_counts_all_parts_against_the_whole() {
        assert_abs_diff_eq!(Working::stock().ratio(), 1.0);
        assert_abs_diff_eq!(Working::new(vec![1.0], 3.0).unwrap().ratio(), 4.0);
        assert_abs_diff_eq!(Working::new(vec![1.0, 1.0], 8.0).unwrap().ratio(), 5.0);
        assert_eq!(Working::new(vec![0.0], 1.0), None);
        assert_eq!(Working::new(vec![1.0], f64::NAN), None);
    }

    #[test]
    fn other_proportions_are_told_from_other_dilutions() {
        let of = |shares: &[f64], water| Working::new(shares.to_vec(), water).unwrap();
        assert!(of(&[1.0, 19.0], 0.0).same_proportions(&of(&[2.0, 39.0], 39.0)));
        assert!(!of(&[1.0, 1.0], 8.0).same_proportions(&of(&[3.0, 1.0], 8.0)));
        assert_eq!(of(&[4.0, 30.0], 266.0).to_string(), "4+30+266");
    }

    // Source: Practical Photography, tank development: 4, 10 and 20 min at 1, 2 and 3 times the volume (65 °F).
    // Tolerance: half of the last printed place of the fit computed apart (p 1.45; residuals -2, +7, -4 %).
    #[test]
    fn pyro_soda_exponent_is_reproduced() {
        let fit = fit_exponent(&[(1.0, 4.0), (2.0, 10.0), (3.0, 20.0)]).unwrap();
        assert_abs_diff_eq!(fit.exponent, 1.45, epsilon = 0.005);
        assert_abs_diff_eq!(fit.rms, 0.048, epsilon = 0.005);
    }
}
