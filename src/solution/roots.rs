//! A root in a bracket and a small linear system: numerics that know no chemistry.

/// How many steps a search may take; bisection alone needs fewer than 60 for any bracket of `f64` used here.
const MOST_STEPS: u32 = 200;

/// Finds x in `[low, high]` where a continuous function changes sign, to within `tolerance` in x.
///
/// Inverse quadratic interpolation with bisection as its safeguard (T. R. Chandrupatla, Adv. Eng. Softw. 28 (1997) 145), so it never
/// takes many more steps than bisection. `None` if the signs at the ends agree, a value is not finite, or `function` gives up.
pub(super) fn bracketed_root(
    mut function: impl FnMut(f64) -> Option<f64>,
    low: f64,
    high: f64,
    tolerance: f64,
) -> Option<f64> {
    let (mut a, mut b) = (high, low);
    let (mut at_a, mut at_b) = (function(a)?, function(b)?);
    let mut share = 0.5;
    if at_a == 0.0 {
        return Some(a);
    }
    if at_b == 0.0 {
        return Some(b);
    }
    if !at_a.is_finite() || !at_b.is_finite() || at_a.signum() == at_b.signum() {
        return None;
    }
    for _ in 0..MOST_STEPS {
        let x = a + share * (b - a);
        let at_x = function(x)?;
        if !at_x.is_finite() {
            return None;
        }
        let (c, at_c) = if at_x.signum() == at_a.signum() {
            (a, at_a)
        } else {
            let dropped = (b, at_b);
            (b, at_b) = (a, at_a);
            dropped
        };
        (a, at_a) = (x, at_x);
        let (best, at_best) = if at_a.abs() < at_b.abs() { (a, at_a) } else { (b, at_b) };
        let width = (b - a).abs();
        if at_best == 0.0 || width <= tolerance {
            return Some(best);
        }
        let xi = (a - b) / (c - b);
        let phi = (at_a - at_b) / (at_c - at_b);
        share = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            at_a / (at_b - at_a) * at_c / (at_b - at_c)
                + (c - a) / (b - a) * at_a / (at_c - at_a) * at_b / (at_c - at_b)
        } else {
            0.5
        };
        let least = (0.5 * tolerance / width).min(0.5);
        share = share.clamp(least, 1.0 - least);
    }
    None
}

/// Solves a symmetric positive definite system by elimination without pivoting; each row carries its right-hand side at its end.
///
/// `None` if a pivot is not above zero, which a positive definite matrix never has.
pub(super) fn solve_positive_definite(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let size = rows.len();
    for step in 0..size {
        let (done, rest) = rows.split_at_mut(step + 1);
        let pivot_row = done.last()?;
        let pivot = *pivot_row.get(step)?;
        if pivot <= 0.0 || !pivot.is_finite() {
            return None;
        }
        for row in rest {
            let factor = *row.get(step)? / pivot;
            for (entry, above) in row.iter_mut().zip(pivot_row) {
                *entry -= factor * above;
            }
        }
    }
    // Unknowns from the last to the first; `solved` is in that order.
    let mut solved: Vec<f64> = Vec::with_capacity(size);
    for (step, row) in rows.iter().enumerate().rev() {
        let right = *row.get(size)?;
        let known: f64 = row.iter().take(size).rev().zip(&solved).map(|(a, x)| a * x).sum();
        solved.push((right - known) / *row.get(step)?);
    }
    solved.reverse();
    Some(solved)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_root_is_found_where_interpolation_alone_would_crawl() {
        let root = bracketed_root(|x| Some(x.powi(9) - 1e-9), -1.0, 4.0, 1e-12).unwrap();
        assert!((root - 0.1).abs() < 1e-10);
        let root = bracketed_root(|x| Some((x - 3.0).exp() - 1.0), -50.0, 50.0, 1e-12).unwrap();
        assert!((root - 3.0).abs() < 1e-10);
    }

    #[test]
    fn equal_signs_and_non_finite_values_give_none() {
        assert!(bracketed_root(|x| Some(x * x + 1.0), -1.0, 1.0, 1e-9).is_none());
        assert!(bracketed_root(|_| Some(f64::NAN), -1.0, 1.0, 1e-9).is_none());
        assert!(bracketed_root(|_| None, -1.0, 1.0, 1e-9).is_none());
    }

    #[test]
    fn a_small_system_is_solved_and_a_singular_one_is_refused() {
        let rows = vec![vec![4.0, 1.0, 1.0, 9.0], vec![1.0, 3.0, 0.0, 7.0], vec![1.0, 0.0, 2.0, 7.0]];
        let x = solve_positive_definite(rows).unwrap();
        for (found, expected) in x.iter().zip([1.0, 2.0, 3.0]) {
            assert!((found - expected).abs() < 1e-12);
        }
        assert!(solve_positive_definite(vec![vec![1.0, 1.0, 1.0], vec![1.0, 1.0, 1.0]]).is_none());
    }
}
