//! Local exposure: burning in `t · (2^s - 1)` more, holding back `t · (1 - 2^-s)` within the base exposure. Derived.

use super::{ExposureError, Stops};
use crate::quantity::Duration;

/// A place that gets more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Burn {
    /// The base exposure, s.
    pub base_s: f64,
    /// How much more the place gets.
    pub stops: Stops,
    /// The extra time through the base's filter, s.
    pub extra_base_s: f64,
    /// The extra time through the filter it is given with, s.
    pub extra_s: f64,
}

/// Places that get less.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Dodge {
    /// The base exposure, s.
    pub base_s: f64,
    /// How much less each place gets, below zero.
    pub stops: Vec<Stops>,
    /// How long each is held back, s.
    pub each_s: Vec<f64>,
    /// All together, s.
    pub held_back_s: f64,
}

/// Burns in, through another filter where its factors are told: extra times `F2/F1`.
///
/// # Errors
/// Stops below zero.
pub(crate) fn burn(base: Duration, stops: Stops, filters: Option<(f64, f64)>) -> Result<Burn, ExposureError> {
    if stops.get() < 0.0 {
        return Err(ExposureError::WrongWay { what: "burning", stops: stops.to_string() });
    }
    let base_s = base.as_s();
    let extra_base_s = base_s * (stops.factor() - 1.0);
    let extra_s = extra_base_s * filters.map_or(1.0, |(from, to)| to / from);
    Ok(Burn { base_s, stops, extra_base_s, extra_s })
}

/// The stops of an extra time: `log2(1 + x/t)`.
pub(crate) fn burn_of_extra(base: Duration, extra: Duration, filters: Option<(f64, f64)>) -> Burn {
    let (base_s, extra_s) = (base.as_s(), extra.as_s());
    let extra_base_s = extra_s / filters.map_or(1.0, |(from, to)| to / from);
    Burn { base_s, stops: Stops::from_ratio(1.0 + extra_base_s / base_s), extra_base_s, extra_s }
}

/// Dodges; several places that overlap are held back one after the other within the base exposure. A sign may be left out.
///
/// # Errors
/// More held back than there is.
pub(crate) fn dodge(base: Duration, stops: &[Stops]) -> Result<Dodge, ExposureError> {
    let base_s = base.as_s();
    let less: Vec<Stops> = stops.iter().map(|own| own.size().reversed()).collect();
    let each_s: Vec<f64> = less.iter().map(|own| base_s * (1.0 - own.factor())).collect();
    let held_back_s: f64 = each_s.iter().sum();
    if held_back_s >= base_s {
        return Err(ExposureError::NoneLeft { held_back_s, base_s });
    }
    Ok(Dodge { base_s, stops: less, each_s, held_back_s })
}

/// The stops of a time held back: `log2(1 - x/t)`.
///
/// # Errors
/// All of the base held back.
pub(crate) fn dodge_of_held_back(base: Duration, held_back: Duration) -> Result<Dodge, ExposureError> {
    let (base_s, held_back_s) = (base.as_s(), held_back.as_s());
    if held_back_s >= base_s {
        return Err(ExposureError::NoneLeft { held_back_s, base_s });
    }
    let stops = Stops::from_ratio(1.0 - held_back_s / base_s);
    Ok(Dodge { base_s, stops: vec![stops], each_s: vec![held_back_s], held_back_s })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn seconds_and_stops_are_each_others_inverse(base in 1.0_f64..300.0, stops in 0.01_f64..3.0) {
            let base = Duration::from_s(base);
            let more = burn(base, Stops::new(stops), Some((1.0, 1.6))).unwrap();
            let again = burn_of_extra(base, Duration::from_s(more.extra_s), Some((1.0, 1.6)));
            prop_assert!((again.stops.get() - stops).abs() < 1e-9);
            let less = dodge(base, &[Stops::new(-stops)]).unwrap();
            let again = dodge_of_held_back(base, Duration::from_s(less.held_back_s)).unwrap();
            prop_assert!((again.stops[0].get() + stops).abs() < 1e-9);
            // What a place keeps, burnt in by as much, is the base again.
            let kept = Duration::from_s(base.as_s() - less.held_back_s);
            let back = burn(kept, Stops::new(stops), None).unwrap();
            prop_assert!((back.extra_s - less.held_back_s).abs() < 1e-9);
        }
    }

    #[test]
    fn nothing_is_held_back_that_is_not_there() {
        let base = Duration::from_s(20.0);
        assert!(dodge(base, &[Stops::new(-1.0), Stops::new(-1.0)]).is_err());
        assert!(burn(base, Stops::new(-0.5), None).is_err());
    }
}
