//! Contrast: how a gradient grows with time, and what another contrast costs in time.
//!
//! Model: the gradient grows at a rate proportional to what is still to come, `dg/dt = k (G − g)` (described by C. E. K. Mees,
//! Jahrbuch für Photographie 25 (1911), pages 167 and 170), so `g = G (1 − e^(−k t))`: G the gradient at infinite time, k the
//! rate in 1/min. Neglected: an induction time, which two gradients cannot tell. G is badly determined by times in the usual range, the
//! times inside that range are not; so G is never printed with more than two figures.

use super::figure::TimingFigure;
use super::rows::Scope;

/// A gradient measured after a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// In the developer, as timed.
    pub minutes: f64,
    /// Average gradient, density over log H.
    pub gradient: f64,
}

/// The law of one film in one bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GammaLaw {
    /// Gradient at infinite time.
    pub infinity: f64,
    /// Rate, 1/min.
    pub rate_per_minute: f64,
}

impl GammaLaw {
    /// Gradient after a time.
    pub fn gradient_at(&self, minutes: f64) -> f64 {
        -self.infinity * (-self.rate_per_minute * minutes).exp_m1()
    }

    /// Time for a gradient: `t = −ln(1 − g/G)/k`; none when it is never reached.
    pub fn minutes_for(&self, gradient: f64) -> Option<f64> {
        let rest = 1.0 - gradient / self.infinity;
        (gradient >= 0.0 && rest > 0.0).then(|| -rest.ln() / self.rate_per_minute)
    }

    /// From two times. For times t and 2t: `G = g₁²/(2 g₁ − g₂)`, `k = ln(g₁/(g₂ − g₁))/t`; else k solves
    /// `g₁/g₂ = (1 − e^(−k t₁))/(1 − e^(−k t₂))`. None unless the gradient grows, and less than in proportion to the time.
    pub fn from_two(first: Measured, second: Measured) -> Option<Self> {
        let (early, late) = if first.minutes < second.minutes { (first, second) } else { (second, first) };
        let ratio = early.gradient / late.gradient;
        let sound = early.minutes > 0.0 && early.gradient > 0.0 && early.minutes < late.minutes;
        if !sound || !(early.minutes / late.minutes..1.0).contains(&ratio) {
            return None;
        }
        let excess = |rate: f64| (-rate * early.minutes).exp_m1() / (-rate * late.minutes).exp_m1() - ratio;
        // The quotient rises from t₁/t₂ at k = 0 to 1.
        let (mut low, mut high) = (1e-9 / late.minutes, 1.0 / late.minutes);
        while excess(high) < 0.0 {
            high *= 2.0;
            if high * early.minutes > 700.0 {
                return None;
            }
        }
        for _ in 0..200 {
            let middle = f64::midpoint(low, high);
            if excess(middle) < 0.0 { low = middle } else { high = middle }
        }
        let rate = f64::midpoint(low, high);
        let infinity = early.gradient / -(-rate * early.minutes).exp_m1();
        (infinity.is_finite() && rate * late.minutes > 1e-6)
            .then_some(Self { infinity, rate_per_minute: rate })
    }

    /// Least squares in the gradient; the second value is the root mean square residual. None with fewer than two
    /// times, or where the gradient does not bend towards an end, so that G cannot be told.
    pub fn fit(points: &[Measured]) -> Option<(Self, f64)> {
        let longest = points.iter().map(|point| point.minutes).fold(0.0, f64::max);
        let sound = points
            .iter()
            .all(|point| point.minutes > 0.0 && point.gradient > 0.0 && point.gradient.is_finite());
        let several = points.iter().any(|point| (point.minutes - longest).abs() > 1e-9 * longest);
        if !sound || !several || !longest.is_finite() {
            return None;
        }
        // For a given k the best G is linear; only k is searched, on a logarithmic scale.
        let best = |exponent: f64| {
            let rate = exponent.exp() / longest;
            let share = |point: &Measured| -(-rate * point.minutes).exp_m1();
            let weight: f64 = points.iter().map(|point| share(point).powi(2)).sum();
            let infinity = points.iter().map(|point| point.gradient * share(point)).sum::<f64>() / weight;
            let squares: f64 =
                points.iter().map(|point| (point.gradient - infinity * share(point)).powi(2)).sum();
            (squares, infinity, rate)
        };
        let (lowest, highest, steps) = (1e-3_f64.ln(), 1e3_f64.ln(), 400);
        let width = (highest - lowest) / f64::from(steps);
        let (at, _) = (0..=steps)
            .map(|step| lowest + width * f64::from(step))
            .map(|exponent| (exponent, best(exponent).0))
            .min_by(|one, other| one.1.total_cmp(&other.1))?;
        if at <= lowest + width || at >= highest - width {
            return None;
        }
        let (mut low, mut high) = (at - width, at + width);
        for _ in 0..200 {
            let third = (high - low) / 3.0;
            if best(low + third).0 <= best(high - third).0 { high -= third } else { low += third }
        }
        let (squares, infinity, rate_per_minute) = best(f64::midpoint(low, high));
        let count = f64::from(u32::try_from(points.len()).ok()?);
        Some((Self { infinity, rate_per_minute }, (squares / count).sqrt()))
    }
}

/// How far above a gradient never reached the law that counts in its place ends.
const NEARLY_AT_THE_END: f64 = 1.02;

/// How a gradient grows with time in a kind of developer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Law {
    /// `g = G (1 − e^(−k t))`; the figure is G.
    GrowsToAnEnd,
    /// g goes as t to a power; the figure is the power.
    Power,
}

/// A law with what is known of its figure.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shape {
    pub(super) name: String,
    pub(super) law: Law,
    pub(super) figure: TimingFigure,
    pub(super) scope: Option<Scope>,
}

impl Shape {
    /// What the figure is called.
    pub(super) fn figure_words(&self) -> &'static str {
        match self.law {
            Law::GrowsToAnEnd => "ends near",
            Law::Power => "power",
        }
    }

    /// ln of the time for a gradient over that for another, with the law's figure; none where it is never reached.
    pub(super) fn ln_time(&self, figure: f64, gradient: f64, against: f64) -> Option<f64> {
        match self.law {
            Law::GrowsToAnEnd => {
                let share = |gradient: f64| {
                    let rest = 1.0 - gradient / figure;
                    (gradient > 0.0 && rest > 0.0).then(|| -rest.ln())
                };
                Some((share(gradient)? / share(against)?).ln())
            }
            Law::Power => (gradient > 0.0 && against > 0.0).then(|| (gradient / against).ln() / figure),
        }
    }

    /// The same; a law that never gets there counts as one that nearly ends there.
    pub(super) fn ln_time_or_nearly(&self, figure: f64, gradient: f64, against: f64) -> Option<f64> {
        self.ln_time(figure, gradient, against)
            .or_else(|| self.ln_time(gradient * NEARLY_AT_THE_END, gradient, against))
    }

    /// The gradient reached after a time, ln of which is given over that for another gradient.
    pub(super) fn gradient_after(&self, figure: f64, ln_time: f64, against: f64) -> Option<f64> {
        match self.law {
            Law::GrowsToAnEnd => {
                let rest = 1.0 - against / figure;
                (rest > 0.0).then(|| figure * (1.0 - (rest.ln() * ln_time.exp()).exp()))
            }
            Law::Power => Some(against * (ln_time * figure).exp()),
        }
    }
}

/// By what a gradient is multiplied for steps of contrast: `R/(R − n s)`, R the subject's range after flare, s one step.
pub fn gradient_ratio(range: f64, step: f64, steps: f64) -> f64 {
    range / (range - steps * step)
}
