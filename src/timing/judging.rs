//! Judging a negative: shadows tell exposure, highlights tell development (common practice, no source). Only highlights move a
//! time; shadows advise exposure, in stops.

use super::rows::Composition;

/// A class of developers by the film speed they give.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SpeedClass {
    pub(super) name: String,
    pub(super) composition: Composition,
    /// Lowest and highest, stops against a metol-hydroquinone borax developer.
    pub(super) stops: (f64, f64),
}

impl SpeedClass {
    /// How speed may differ from that in another class: lowest and highest, stops.
    pub(super) fn against(&self, known: &Self) -> (f64, f64) {
        (self.stops.0 - known.stops.1, self.stops.1 - known.stops.0)
    }
}

/// The foot of a characteristic curve.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Foot {
    /// Step in log exposure.
    pub(super) step: f64,
    /// Net density aimed at for the threshold.
    pub(super) aim: f64,
    /// Density above base and fog, step by step.
    pub(super) net_density: Vec<f64>,
    pub(super) slight_stops: f64,
    pub(super) clear_stops: f64,
}

impl Foot {
    /// Stops of exposure to add (below zero: to take away) for a shadow that came out with a net density where the threshold was
    /// meant; none where the foot is too flat to tell (below 0.03) or beyond its end.
    pub(super) fn stops(&self, net_density: f64) -> Option<f64> {
        const FLAT: f64 = 0.03;
        if net_density < FLAT {
            return None;
        }
        let wanted = self.log_exposure(self.aim)?;
        Some((wanted - self.log_exposure(net_density)?) / std::f64::consts::LOG10_2)
    }

    fn log_exposure(&self, density: f64) -> Option<f64> {
        let pairs = self.net_density.iter().zip(self.net_density.iter().skip(1));
        let mut at = 0.0;
        for (low, high) in pairs {
            if *low < density && density <= *high {
                return Some(at + self.step * (density - low) / (high - low));
            }
            at += self.step;
        }
        None
    }
}
