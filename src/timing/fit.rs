//! A straight line by least squares.

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Point {
    pub(super) x: f64,
    pub(super) y: f64,
}

/// The line `y = intercept + slope · x` with its residuals.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    pub(super) slope: f64,
    pub(super) intercept: f64,
    /// Root mean square of the residuals.
    pub(super) rms: f64,
    /// Residuals, y less the line.
    pub(super) residuals: Vec<f64>,
    /// Sum of squares of x about its mean.
    pub(super) spread: f64,
}

/// Fits a line; none with fewer than two different x.
pub(super) fn straight_line(points: &[Point]) -> Option<Line> {
    let count = f64::from(u32::try_from(points.len()).ok()?);
    if points.len() < 2 {
        return None;
    }
    let mean = |value: fn(&Point) -> f64| points.iter().map(value).sum::<f64>() / count;
    let (mean_x, mean_y) = (mean(|point| point.x), mean(|point| point.y));
    let spread: f64 = points.iter().map(|point| (point.x - mean_x).powi(2)).sum();
    let scale = points.iter().map(|point| point.x.abs()).fold(0.0, f64::max);
    if !spread.is_finite() || spread <= (scale * 1e-9).powi(2) {
        return None;
    }
    let slope = points.iter().map(|point| (point.x - mean_x) * (point.y - mean_y)).sum::<f64>() / spread;
    let intercept = mean_y - slope * mean_x;
    let residuals: Vec<f64> = points.iter().map(|point| point.y - intercept - slope * point.x).collect();
    Some(Line {
        slope,
        intercept,
        rms: (residuals.iter().map(|residual| residual.powi(2)).sum::<f64>() / count).sqrt(),
        residuals,
        spread,
    })
}
