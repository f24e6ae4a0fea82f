//! The one rounding of the program: to a step (a balance's resolution, a cylinder's mark), half away from zero.
//!
//! Rust's own formatter rounds the exact binary value half to even (`{:.0}` of 2.5 is 2) and may print `-0`;
//! a person at the bench expects neither, so every figure is rounded here first and formatted after.

/// Relative nudge that lets decimal halves which binary cannot hold (2.675) round up as written.
const NUDGE: f64 = 1e-12;

/// Rounds to the nearest multiple of `step` (above zero), half away from zero; never gives a negative zero.
pub fn to_step(value: f64, step: f64) -> f64 {
    if !(step.is_finite() && step > 0.0 && value.is_finite()) {
        return value;
    }
    let ratio = value.abs() / step;
    let rounded = (ratio * (1.0 + NUDGE) + 0.5).floor();
    // Dividing by the reciprocal keeps 0.1 steps as clean decimals (3 / 10, not 3 × 0.1).
    let inverse = 1.0 / step;
    let magnitude =
        if (inverse - inverse.round()).abs() < 1e-9 { rounded / inverse.round() } else { rounded * step };
    if magnitude == 0.0 { 0.0 } else { magnitude.copysign(value) }
}

/// What two sums may differ by and still be called the same: the noise of the last digits, as a share.
const NOISE: f64 = 1e-9;

/// Whether a figure is more than another (above zero), by more than the noise of the last digits.
pub fn exceeds(value: f64, limit: f64) -> bool {
    value > limit * (1.0 + NOISE)
}

/// Down to a multiple of a step (above zero); what is a multiple but for the last digits stays.
pub fn down_to_step(value: f64, step: f64) -> f64 {
    to_step((value / step + NOISE).floor() * step, step)
}

/// Up to a multiple of a step (above zero); what is a multiple but for the last digits stays.
pub fn up_to_step(value: f64, step: f64) -> f64 {
    to_step((value / step - NOISE).ceil() * step, step)
}

/// How many decimals a step needs: 0.1 needs one, 0.01 two, 5 none.
pub fn decimals_of(step: f64) -> usize {
    (0..6_i32)
        .find(|&decimals| {
            let scaled = step * 10_f64.powi(decimals);
            (scaled - scaled.round()).abs() < 1e-6
        })
        .and_then(|decimals| usize::try_from(decimals).ok())
        .unwrap_or(6)
}

/// Formats a value rounded to a step, with the decimals the step has.
pub fn show_step(value: f64, step: f64) -> String {
    format!("{:.*}", decimals_of(step), to_step(value, step))
}

/// Formats with a number of decimals, half away from zero.
pub fn show_decimals(value: f64, decimals: usize) -> String {
    let step = 10_f64.powi(-i32::try_from(decimals).unwrap_or(6));
    format!("{:.decimals$}", to_step(value, step))
}

/// Formats with up to `decimals` decimals, trailing zeros removed: `2`, `0.25`, `67.5`.
pub fn show_short(value: f64, decimals: usize) -> String {
    let full = show_decimals(value, decimals);
    if !full.contains('.') {
        return full;
    }
    full.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Formats a small or large positive amount so that at least three significant figures remain: `0.0213`, `1.25`, `67.5`.
pub fn show_significant(value: f64) -> String {
    let magnitude = value.abs();
    let decimals = if magnitude == 0.0 || magnitude >= 100.0 {
        1
    } else if magnitude >= 1.0 {
        2
    } else if magnitude >= 0.1 {
        3
    } else if magnitude >= 0.01 {
        4
    } else {
        6
    };
    show_short(value, decimals)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_round_away_from_zero_as_a_person_expects() {
        for (value, decimals, expected) in [
            (0.5, 0, "1"),
            (2.5, 0, "3"),
            (0.25, 1, "0.3"),
            (0.35, 1, "0.4"),
            (2.675, 2, "2.68"),
            (1.005, 2, "1.01"),
            (-0.04, 1, "0.0"),
            (7.000_000_000_000_001, 1, "7.0"),
            (-2.5, 0, "-3"),
        ] {
            assert_eq!(show_decimals(value, decimals), expected, "{value} to {decimals} decimals");
        }
    }

    #[test]
    fn steps_that_are_no_power_of_ten() {
        assert_eq!(show_step(33.7, 5.0), "35");
        assert_eq!(show_step(12.26, 0.5), "12.5");
        assert_eq!(show_step(0.126, 0.05), "0.15");
        assert_eq!(show_step(0.3, 0.1), "0.3");
    }

    #[test]
    fn short_form_drops_trailing_zeros_only() {
        assert_eq!(show_short(2.0, 2), "2");
        assert_eq!(show_short(100.0, 0), "100");
        assert_eq!(show_short(0.250, 3), "0.25");
    }

    #[test]
    fn down_and_up_to_a_step_leave_what_is_a_step_but_for_the_last_digits() {
        // Three steps of 0.1 are 0.30000000000000004 in binary.
        for (value, step, down, up) in
            [(0.1 + 0.2, 0.1, 0.3, 0.3), (0.7, 0.1, 0.7, 0.7), (12.3, 5.0, 10.0, 15.0), (0.04, 0.1, 0.0, 0.1)]
        {
            assert!((down_to_step(value, step) - down).abs() < 1e-12, "{value} down to {step}");
            assert!((up_to_step(value, step) - up).abs() < 1e-12, "{value} up to {step}");
        }
        assert!(!exceeds(0.1 + 0.2, 0.3) && !exceeds(0.3, 0.1 + 0.2) && exceeds(0.3001, 0.3));
    }
}
