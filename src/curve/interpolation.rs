//! A monotone piecewise cubic through the readings: no overshoot at the toe, as a spline has.
//!
//! Method: F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17, 238 (1980), with the weighted harmonic mean of Fritsch and
//! J. Butland, SIAM J. Sci. Stat. Comput. 5, 300 (1984), and the three-point end slopes in common use.

/// Bisections of a root; more than the bits of a number.
const BISECTIONS: usize = 60;

/// A curve through points; each piece lies between its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Pchip {
    x: Vec<f64>,
    y: Vec<f64>,
    slopes: Vec<f64>,
}

impl Pchip {
    /// Through points whose x rise strictly. None with fewer than two points, or where x does not rise.
    pub fn new(points: &[(f64, f64)]) -> Option<Self> {
        let rises = points.windows(2).all(|pair| matches!(pair, [(a, _), (b, _)] if a < b));
        if points.len() < 2 || !rises || points.iter().any(|(x, y)| !x.is_finite() || !y.is_finite()) {
            return None;
        }
        let (x, y): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
        let slopes = slopes(points);
        Some(Self { x, y, slopes })
    }

    /// The slopes at the points.
    pub fn slopes(&self) -> &[f64] {
        &self.slopes
    }

    /// The first and the last x.
    pub fn span(&self) -> (f64, f64) {
        (self.x.first().copied().unwrap_or_default(), self.x.last().copied().unwrap_or_default())
    }

    /// The value at x; none outside of the points.
    pub fn at(&self, x: f64) -> Option<f64> {
        let (first, last) = self.span();
        if !(first..=last).contains(&x) {
            return None;
        }
        let piece = self.x.partition_point(|&own| own <= x).clamp(1, self.x.len() - 1) - 1;
        self.in_piece(piece, x)
    }

    /// Hermite's cubic in one piece.
    fn in_piece(&self, piece: usize, x: f64) -> Option<f64> {
        let next = piece + 1;
        let (left, right) = (*self.x.get(piece)?, *self.x.get(next)?);
        let (below, above) = (*self.y.get(piece)?, *self.y.get(next)?);
        let (start, end) = (*self.slopes.get(piece)?, *self.slopes.get(next)?);
        let width = right - left;
        let t = (x - left) / width;
        let (t2, t3) = (t * t, t * t * t);
        Some(
            (2.0 * t3 - 3.0 * t2 + 1.0) * below
                + (t3 - 2.0 * t2 + t) * width * start
                + (3.0 * t2 - 2.0 * t3) * above
                + (t3 - t2) * width * end,
        )
    }

    /// Where a rising curve first reaches a level, by bisection inside the piece that brackets it; none where no piece does.
    pub fn first_at(&self, level: f64) -> Option<f64> {
        if self.y.first() == Some(&level) {
            return self.x.first().copied();
        }
        let piece = self.y.windows(2).position(|pair| matches!(pair, [a, b] if *a < level && level <= *b))?;
        let (mut low, mut high) = (*self.x.get(piece)?, *self.x.get(piece + 1)?);
        for _ in 0..BISECTIONS {
            let middle = f64::midpoint(low, high);
            if self.in_piece(piece, middle)? < level { low = middle } else { high = middle }
        }
        Some(f64::midpoint(low, high))
    }
}

fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    // Width and secant of every piece.
    let pieces: Vec<(f64, f64)> = points
        .windows(2)
        .filter_map(|pair| match pair {
            [(x0, y0), (x1, y1)] => Some((x1 - x0, (y1 - y0) / (x1 - x0))),
            _ => None,
        })
        .collect();
    let ends = |one: Option<&(f64, f64)>, other: Option<&(f64, f64)>| match (one, other) {
        (Some(one), Some(other)) => end_slope(*one, *other),
        (Some((_, secant)), None) => *secant,
        _ => 0.0,
    };
    let mut slopes = vec![ends(pieces.first(), pieces.get(1))];
    slopes.extend(pieces.windows(2).map(|pair| match pair {
        [one, other] => inner_slope(*one, *other),
        _ => 0.0,
    }));
    slopes.push(ends(pieces.last(), pieces.iter().rev().nth(1)));
    slopes
}

/// Between two pieces: 0 at a turn, else their harmonic mean weighted by width.
fn inner_slope((h0, d0): (f64, f64), (h1, d1): (f64, f64)) -> f64 {
    if d0 * d1 <= 0.0 {
        return 0.0;
    }
    let (w1, w2) = (2.0 * h1 + h0, h1 + 2.0 * h0);
    (w1 + w2) / (w1 / d0 + w2 / d1)
}

/// At an end: of the parabola through three points, kept in the piece's direction and below three times its slope.
fn end_slope((h0, d0): (f64, f64), (h1, d1): (f64, f64)) -> f64 {
    let slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
    if slope * d0 <= 0.0 {
        0.0
    } else if d0 * d1 < 0.0 && slope.abs() > 3.0 * d0.abs() {
        3.0 * d0
    } else {
        slope
    }
}
