//! What is known of a few figures together: a normal distribution, and what observations make of it.
//!
//! Observations are linear in the figures. One that says "about so much" is exact algebra; one that says only "more than so much"
//! (a time that came out thin, a coefficient that cannot be negative) is taken in by expectation propagation: it is replaced by the
//! observation of "about so much" that gives the same mean and variance, in turn for all of them until nothing moves. Everything is
//! computed in one order, so the same records give the same answer.

/// Most rounds over the one-sided observations.
const MOST_ROUNDS: usize = 200;
/// A change of precision, relative, below which nothing moves any more.
const AT_REST: f64 = 1e-10;

/// What an observation says of a sum of figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Says {
    /// It is about the value.
    About,
    /// It is more than the value.
    MoreThan,
    /// It is less than the value.
    LessThan,
}

/// An observation: the sum of figures times `of` against a value.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Observation {
    pub(super) of: Vec<f64>,
    pub(super) says: Says,
    pub(super) value: f64,
    /// Standard deviation of its error; zero only where it says more or less.
    pub(super) error: f64,
}

/// A normal distribution of several figures.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Gaussian {
    pub(super) mean: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

/// How much an observation weighs: its precision in the end, and the distribution.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Learned {
    pub(super) gaussian: Gaussian,
    /// Precision with which each observation came in, in their order.
    pub(super) precision: Vec<f64>,
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

impl Gaussian {
    /// Independent figures with their means and standard deviations.
    pub(super) fn independent(figures: &[(f64, f64)]) -> Self {
        let row = |at: usize, deviation: f64| {
            (0..figures.len()).map(|column| if column == at { deviation * deviation } else { 0.0 }).collect()
        };
        Self {
            mean: figures.iter().map(|(mean, _)| *mean).collect(),
            covariance: figures.iter().enumerate().map(|(at, (_, deviation))| row(at, *deviation)).collect(),
        }
    }

    /// Mean and variance of a sum.
    pub(super) fn of(&self, sum: &[f64]) -> (f64, f64) {
        (dot(&self.mean, sum), dot(&self.along(sum), sum).max(0.0))
    }

    /// Covariance of two sums.
    pub(super) fn between(&self, one: &[f64], other: &[f64]) -> f64 {
        dot(&self.along(one), other)
    }

    fn along(&self, sum: &[f64]) -> Vec<f64> {
        self.covariance.iter().map(|row| dot(row, sum)).collect()
    }

    /// Adds precision and precision times value along a sum (natural parameters).
    fn add(&mut self, of: &[f64], precision: f64, weighted: f64) {
        let along = self.along(of);
        let (mean, variance) = (dot(&self.mean, of), dot(&along, of));
        let whole = 1.0 + precision * variance;
        let step = (weighted - precision * mean) / whole;
        for (own, along) in self.mean.iter_mut().zip(&along) {
            *own += along * step;
        }
        let shrink = precision / whole;
        for (row, here) in self.covariance.iter_mut().zip(&along) {
            for (cell, there) in row.iter_mut().zip(&along) {
                *cell -= shrink * here * there;
            }
        }
    }

    /// Natural logarithm of how likely an observation of "about" was.
    fn log_likelihood(&self, observation: &Observation) -> f64 {
        let (mean, variance) = self.of(&observation.of);
        let variance = variance + observation.error * observation.error;
        -0.5 * ((observation.value - mean).powi(2) / variance + (std::f64::consts::TAU * variance).ln())
    }

    /// Takes in observations; the second value is the logarithm of how likely those of "about" were.
    pub(super) fn learn(mut self, observations: &[Observation]) -> (Learned, f64) {
        let mut likelihood = 0.0;
        let mut precision = vec![0.0; observations.len()];
        for (observation, precision) in observations.iter().zip(&mut precision) {
            if observation.says == Says::About {
                likelihood += self.log_likelihood(observation);
                *precision = 1.0 / (observation.error * observation.error);
                self.add(&observation.of, *precision, *precision * observation.value);
            }
        }
        let mut weighted = vec![0.0; observations.len()];
        for _ in 0..MOST_ROUNDS {
            let mut moved = 0.0_f64;
            let sites = precision.iter_mut().zip(&mut weighted);
            for (observation, (precision, weighted)) in observations.iter().zip(sites) {
                if observation.says == Says::About {
                    continue;
                }
                let (mean, variance) = self.of(&observation.of);
                // Without this observation's own part.
                let rest = 1.0 / variance - *precision;
                if rest <= 0.0 || !rest.is_finite() {
                    continue;
                }
                let (cavity, variance) = ((mean / variance - *weighted) / rest, 1.0 / rest);
                let (tilted, new_variance) = one_sided(observation, cavity, variance);
                let new_precision = (1.0 / new_variance - rest).max(0.0);
                let new_weighted = tilted / new_variance - rest * cavity;
                moved = moved.max((new_precision - *precision).abs() * variance);
                self.add(&observation.of, new_precision - *precision, new_weighted - *weighted);
                (*precision, *weighted) = (new_precision, new_weighted);
            }
            if moved < AT_REST {
                break;
            }
        }
        (Learned { gaussian: self, precision }, likelihood)
    }
}

/// Mean and variance of a normal figure after one learns that it lies beyond a value which is itself known to an error.
fn one_sided(observation: &Observation, mean: f64, variance: f64) -> (f64, f64) {
    let sign = if observation.says == Says::LessThan { -1.0 } else { 1.0 };
    let whole = variance + observation.error * observation.error;
    let at = sign * (mean - observation.value) / whole.sqrt();
    let ratio = density_over_probability(at);
    let new = mean + sign * variance * ratio / whole.sqrt();
    let shrink = variance * variance * ratio * (at + ratio) / whole;
    (new, (variance - shrink).max(variance * 1e-12))
}

/// φ(z)/Φ(z) of the standard normal distribution, without loss in the far tail.
fn density_over_probability(z: f64) -> f64 {
    let density = (-0.5 * z * z).exp() / std::f64::consts::TAU.sqrt();
    if z > -4.0 {
        // Φ(z) = ½ + φ(z) (z + z³/3 + z⁵/(3·5) + …), G. Marsaglia, Journal of Statistical Software 11 (2004) 4.
        let (mut term, mut sum, mut odd) = (z, z, 1.0);
        for _ in 0..400 {
            odd += 2.0;
            term *= z * z / odd;
            sum += term;
            if term.abs() <= 1e-17 * sum.abs() {
                break;
            }
        }
        return density / (0.5 + density * sum).clamp(f64::MIN_POSITIVE, 1.0);
    }
    // The tail by its continued fraction: φ/Φ(−x) = x + 1/(x + 2/(x + 3/(x + …))).
    let x = -z;
    let fraction = (1..=60_u32).rev().fold(0.0, |below, step| f64::from(step) / (x + below));
    x + fraction
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    fn of(value: f64, says: Says, error: f64) -> Observation {
        Observation { of: vec![1.0], says, value, error }
    }

    // Source: tables of the standard normal distribution: φ/Φ at 0 is √(2/π); Φ(−5) = 2.866516e-7, φ(5) = 1.4867195e-6;
    // Φ(1.6448536) = 0.95, φ = 0.1031356.
    #[test]
    fn the_normal_distribution_agrees_with_its_tables() {
        assert_abs_diff_eq!(
            density_over_probability(0.0),
            (2.0 / std::f64::consts::PI).sqrt(),
            epsilon = 1e-12
        );
        assert_abs_diff_eq!(density_over_probability(-5.0), 1.486_719_5e-6 / 2.866_516e-7, epsilon = 1e-5);
        assert_abs_diff_eq!(density_over_probability(1.644_853_6), 0.103_135_6 / 0.95, epsilon = 1e-6);
        let (near, far) = (density_over_probability(-3.999_999), density_over_probability(-4.000_001));
        assert_abs_diff_eq!(near, far, epsilon = 1e-5);
    }

    // Source: textbook algebra. Precision-weighted means; the mean of a half-normal distribution is √(2/π).
    #[test]
    fn two_observations_average_by_precision_and_a_side_gives_the_half_normal() {
        let (learned, _) = Gaussian::independent(&[(0.0, 1000.0)])
            .learn(&[of(1.0, Says::About, 1.0), of(4.0, Says::About, 2.0)]);
        let (mean, variance) = learned.gaussian.of(&[1.0]);
        assert_abs_diff_eq!(mean, (1.0 + 4.0 / 4.0) / 1.25, epsilon = 1e-5);
        assert_abs_diff_eq!(variance, 1.0 / 1.25, epsilon = 1e-5);
        let (learned, _) = Gaussian::independent(&[(0.0, 1.0)]).learn(&[of(0.0, Says::MoreThan, 0.0)]);
        let (mean, variance) = learned.gaussian.of(&[1.0]);
        let half = (2.0 / std::f64::consts::PI).sqrt();
        assert_abs_diff_eq!(mean, half, epsilon = 1e-9);
        assert_abs_diff_eq!(variance, 1.0 - half * half, epsilon = 1e-9);
    }

    // Between two sides with equal errors the middle is the mean, whichever comes first.
    #[test]
    fn a_bracket_has_its_middle_and_order_does_not_matter() {
        let sides = [of(1.0, Says::MoreThan, 0.05), of(2.0, Says::LessThan, 0.05)];
        for sides in [sides.to_vec(), sides.iter().rev().cloned().collect()] {
            let (learned, _) = Gaussian::independent(&[(1.5, 3.0)]).learn(&sides);
            let (mean, variance) = learned.gaussian.of(&[1.0]);
            assert_abs_diff_eq!(mean, 1.5, epsilon = 1e-6);
            // Not less than the uniform distribution between them, 1/12 and the errors of the sides; the method is somewhat wider.
            assert!((1.0 / 12.0..0.125).contains(&variance), "{variance}");
        }
    }
}
