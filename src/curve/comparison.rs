//! Two strips side by side: speed, contrast, toe and highlights, each exposed for its own speed.

use super::figures::FilmFigures;
use super::{NineInTen, STOP};

/// Gradients within this share of each other are equal.
pub(crate) const EQUAL_CONTRAST: f64 = 0.05;
/// Stops from the speed point of the table and the highlights.
const STOPS: [f64; 8] = [-1.0, 0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
/// Highlights: between these; the second where a strip ends before the first.
const HIGHLIGHTS: [(f64, f64); 2] = [(4.0, 6.0), (3.0, 5.0)];
/// The toe: at these stops.
const TOE: [f64; 2] = [-1.0, -0.5];
/// Densities within this are the same.
const SAME_DENSITY: f64 = 0.02;

/// Densities above base + fog of two strips at a distance from each one's own speed point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Aligned {
    /// Stops from the speed point.
    pub stops: f64,
    /// Of the first strip.
    pub first: Option<f64>,
    pub other: Option<f64>,
}

/// How the toe of the other differs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Toe {
    /// Not to be told apart.
    Same,
    /// More density in it for the same speed point.
    Longer,
    /// Less.
    Shorter,
}

/// The other strip against the first.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct CurveComparison {
    /// Speed of the other in stops above the first.
    pub stops: f64,
    /// Nine in ten, for one exposure of both.
    pub stops_limits: NineInTen,
    /// Gradient of the ISO triangle over that of the first; none where a strip is too short.
    pub contrast: Option<f64>,
    /// Nine in ten.
    pub contrast_limits: Option<NineInTen>,
    /// The same between four and six stops above the speed point, or three and five where a strip is shorter.
    pub highlights: Option<f64>,
    pub toe: Option<Toe>,
    /// Base + fog of the other less that of the first.
    pub base_fog: f64,
    /// Side by side.
    pub aligned: Vec<Aligned>,
}

impl CurveComparison {
    /// Whether both have the contrast that makes speeds comparable.
    pub(crate) fn is_equal_contrast(&self) -> Option<bool> {
        self.contrast.map(|ratio| (ratio - 1.0).abs() <= EQUAL_CONTRAST)
    }
}

/// Standard deviation of log Hm without the error of the light, which both share.
fn reading_deviation(film: &FilmFigures) -> f64 {
    let half = (film.log_h_m.limits.high - film.log_h_m.limits.low) / 2.0 / super::NINE_IN_TEN;
    (half * half - film.errors().log_h().powi(2)).max(0.0).sqrt()
}

/// Puts `other` beside `first`.
pub(crate) fn compare(first: &FilmFigures, other: &FilmFigures) -> CurveComparison {
    let stops = (first.log_h_m.value - other.log_h_m.value) / STOP;
    let deviation = reading_deviation(first).hypot(reading_deviation(other)) / STOP;
    let pair = first.gradient_iso.zip(other.gradient_iso);
    let contrast = pair.map(|(one, two)| two.value / one.value);
    let contrast_limits = pair.map(|(one, two)| {
        let share = |own: super::figures::CurveFigure| (own.limits.high - own.limits.low) / 2.0 / own.value;
        let both = share(one).hypot(share(two));
        let ratio = two.value / one.value;
        NineInTen { low: ratio * (1.0 - both), high: ratio * (1.0 + both) }
    });
    let highlights = HIGHLIGHTS.iter().find_map(|(from, to)| {
        let rise = |film: &FilmFigures| Some(film.net_at_stops(*to)? - film.net_at_stops(*from)?);
        rise(first).zip(rise(other)).filter(|(one, _)| *one > 0.0).map(|(one, two)| two / one)
    });
    CurveComparison {
        stops,
        stops_limits: NineInTen::about(stops, deviation),
        contrast,
        contrast_limits,
        highlights,
        toe: toe(first, other),
        base_fog: other.strip.base_fog - first.strip.base_fog,
        aligned: STOPS
            .iter()
            .map(|&stops| Aligned {
                stops,
                first: first.net_at_stops(stops),
                other: other.net_at_stops(stops),
            })
            .collect(),
    }
}

/// The toe below and just above the speed point, where the strips have it.
fn toe(first: &FilmFigures, other: &FilmFigures) -> Option<Toe> {
    let differences: Vec<f64> = TOE
        .iter()
        .filter_map(|&stops| Some(other.net_at_stops(stops)? - first.net_at_stops(stops)?))
        .collect();
    let largest = differences.iter().copied().max_by(|one, other| one.abs().total_cmp(&other.abs()))?;
    Some(if largest.abs() < SAME_DENSITY {
        Toe::Same
    } else if largest > 0.0 {
        Toe::Longer
    } else {
        Toe::Shorter
    })
}
