//! The figures of a film strip: speed, contrast, useful range, with their limits.
//!
//! Limits are of the first order: each density (and base + fog, read as the mean of three) is moved by its standard deviation up and
//! down, the strip is levelled and worked out again, half the difference is that reading's share, and shares add in squares. The
//! error of the exposure moves log H as a whole and so touches speeds alone.
//!
//! Shares are added and no lots drawn: it is the same each time and takes 44 readings instead of a thousand; a test draws a thousand
//! strips and finds the same width within a quarter. Gamma is a gradient over 0.45 log H (three steps of 0.15), since between
//! neighbours densities rounded to 0.01 jump by a tenth; the longest run within 5 % of the largest, then least squares. The shoulder
//! is where the gradient falls below 4/5 of gamma: a judgement.

use super::interpolation::Pchip;
use super::readings::{Strip, StripPoint, level};
use super::table::{Named, Sensitometry};
use super::{CurveError, Errors, NineInTen, STOP};

/// Base + fog is read three times.
const READINGS_OF_BASE: f64 = 3.0;
/// log H over which a local gradient is taken; shorter steps show the rounding of densities.
pub const GRADIENT_SPAN: f64 = 0.44;
/// Gradients within this share of the largest belong to the straight line.
const STRAIGHT: f64 = 0.95;
/// Where the gradient falls below this share of gamma the shoulder begins; a judgement.
pub const SHOULDER: f64 = 0.8;

/// A figure with its limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurveFigure {
    /// What it reads.
    pub value: f64,
    /// Nine in ten.
    pub limits: NineInTen,
}

/// The straight-line part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gamma {
    /// Its slope by least squares.
    pub value: f64,
    /// Nine in ten, for this span.
    pub limits: NineInTen,
    /// First log H.
    pub from: f64,
    /// Last log H.
    pub to: f64,
    /// Root mean square of what the line leaves, density.
    pub residual: f64,
}

/// Density over log H across [`GRADIENT_SPAN`] or the next reading beyond it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LocalGradient {
    /// Middle, log H.
    pub log_h: f64,
    /// Density over log H.
    pub gradient: f64,
    /// First and last reading, log H.
    pub between: (f64, f64),
}

/// From m to the shoulder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UsefulRange {
    /// First log H: the speed point.
    pub from: f64,
    /// Last log H.
    pub to: f64,
    /// Whether the strip ends before a shoulder is seen.
    pub is_open: bool,
}

impl UsefulRange {
    /// Its width: one stop is [`STOP`] in log H.
    pub fn stops(self) -> f64 {
        (self.to - self.from) / STOP
    }
}

/// Speeds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Speed {
    /// Arithmetic speed.
    pub value: f64,
    /// Nine in ten.
    pub limits: NineInTen,
    /// Degrees and label.
    pub named: Option<Named>,
}

/// All figures of a film strip.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmFigures {
    /// The readings that all else is computed from.
    pub strip: Strip,
    /// The curve through its readings.
    pub curve: Pchip,
    /// log H of the speed point m.
    pub log_h_m: CurveFigure,
    /// Density difference from m to n; none where n is off the strip.
    pub density_difference: Option<CurveFigure>,
    /// The same over log H: the gradient of the ISO triangle.
    pub gradient_iso: Option<CurveFigure>,
    /// Speed by the fixed density; its unit is that of an unknown exposure where the strip is relative.
    pub speed: Speed,
    /// Whether it may be called an ISO speed.
    pub is_iso: bool,
    /// Fractional-gradient speed.
    pub delta_x_speed: Option<Speed>,
    /// Average gradient over 1.50.
    pub average_gradient: Option<CurveFigure>,
    /// Two-arc index.
    pub contrast_index: Option<CurveFigure>,
    /// The straight line.
    pub gamma: Option<Gamma>,
    /// Along the strip.
    pub gradients: Vec<LocalGradient>,
    /// From the speed point to the shoulder.
    pub useful_range: UsefulRange,
    /// What each reading moves: shares of log Hm and of a difference from m over a span.
    deviation: Errors,
}

/// What is worked out again for every moved reading.
struct Core {
    log_h_m: f64,
    difference: Option<f64>,
    average: Option<f64>,
    index: Option<f64>,
    delta_x: Option<f64>,
}

/// Works out a strip.
///
/// # Errors
/// The speed point is not on the strip.
pub fn film(strip: &Strip, errors: Errors, table: &Sensitometry) -> Result<FilmFigures, CurveError> {
    let level_m = strip.base_fog + table.film.net_density;
    let off = || {
        let ends = (strip.points.first(), strip.points.last());
        let (low, high) = (ends.0.map_or(0.0, |own| own.density), ends.1.map_or(0.0, |own| own.density));
        CurveError::OffTheStrip {
            strip: strip.name.clone(),
            what: format!(
                "the speed point, density {level_m:.2} (base + fog {:.2} and {:.2})",
                strip.base_fog, table.film.net_density
            ),
            low,
            high,
            fix: if low > level_m {
                "expose the tablet less, so that its darkest steps leave the film clear"
            } else {
                "expose the tablet more, so that steps rise above the toe"
            },
        }
    };
    let curve = through(&strip.points).ok_or_else(off)?;
    let core = core(&curve, strip.base_fog, table, None).ok_or_else(off)?;
    let spread = Spread::of(strip, errors, table, &core);
    let log_deviation = spread.log_h_m.hypot(errors.log_h());
    let figure =
        |value: f64, deviation: f64| CurveFigure { value, limits: NineInTen::about(value, deviation) };
    let from_log = |log_hm: f64, deviation: f64| {
        let of = |log_h: f64| table.film.numerator / 10_f64.powf(log_h);
        let value = of(log_hm);
        Speed { value, limits: NineInTen::about(log_hm, deviation).map(of), named: table.named(value) }
    };
    let difference = core.difference.map(|value| figure(value, spread.difference));
    let gradients = gradients(&strip.points);
    let gamma = gamma(strip, &gradients, errors);
    let useful_range = useful_range(core.log_h_m, &curve, gamma.as_ref(), &gradients);
    let is_iso = !strip.is_relative
        && core.difference.is_some_and(|difference| {
            (difference - table.film.difference).abs() <= table.film.tolerance + 1e-9
        });
    Ok(FilmFigures {
        strip: strip.clone(),
        log_h_m: figure(core.log_h_m, log_deviation),
        density_difference: difference,
        gradient_iso: difference.map(|difference| CurveFigure {
            value: difference.value / table.film.span,
            limits: difference.limits.map(|limit| limit / table.film.span),
        }),
        speed: from_log(core.log_h_m, log_deviation),
        is_iso,
        // The shift is towards less exposure, and 0 where the standard's contrast is met.
        delta_x_speed: core.delta_x.map(|log_h| from_log(log_h, spread.delta_x.hypot(errors.log_h()))),
        average_gradient: core.average.map(|value| figure(value, spread.average)),
        contrast_index: core.index.map(|value| figure(value, spread.index)),
        gamma,
        gradients,
        useful_range,
        curve,
        deviation: errors,
    })
}

/// What one reading moves: log Hm and the density over a span from m.
pub(super) type Share = (f64, f64);

impl FilmFigures {
    /// Density above base + fog at a distance from the speed point, in stops; none off the strip.
    pub fn net_at_stops(&self, stops: f64) -> Option<f64> {
        Some(self.curve.at(self.log_h_m.value + stops * STOP)? - self.strip.base_fog)
    }

    /// Density gained over a distance from the speed point.
    pub fn rise(&self, span: f64) -> Option<f64> {
        let m = self.log_h_m.value;
        Some(self.curve.at(m + span)? - self.curve.at(m)?)
    }

    /// The density gained over a span and the share of every reading in log Hm and in it.
    pub(super) fn shares(&self, span: f64, table: &Sensitometry) -> Option<(f64, Vec<Share>)> {
        let level_m = table.film.net_density;
        let measure = |points: &[StripPoint], base: f64| {
            let curve = through(points)?;
            let m = curve.first_at(base + level_m)?;
            Some((m, curve.at(m + span)? - curve.at(m)?))
        };
        let (_, value) = measure(&self.strip.points, self.strip.base_fog)?;
        let shares = moved(&self.strip, self.deviation)
            .into_iter()
            .filter_map(|(up, down)| {
                let (up, down) = (measure(&up.0, up.1)?, measure(&down.0, down.1)?);
                Some(((up.0 - down.0) / 2.0, (up.1 - down.1) / 2.0))
            })
            .collect();
        Some((value, shares))
    }

    /// How well the light and the densities were known.
    pub fn errors(&self) -> Errors {
        self.deviation
    }
}

fn through(points: &[StripPoint]) -> Option<Pchip> {
    Pchip::new(&points.iter().map(|point| (point.log_h, point.density)).collect::<Vec<_>>())
}

fn core(curve: &Pchip, base: f64, table: &Sensitometry, near: Option<f64>) -> Option<Core> {
    let film = &table.film;
    let m = curve.first_at(base + film.net_density)?;
    let rise = |span: f64| Some(curve.at(m + span)? - curve.at(m)?);
    let difference = rise(film.span);
    let at_standard = table.delta_x.of(film.difference);
    Some(Core {
        log_h_m: m,
        difference,
        average: rise(film.average_span).map(|own| own / film.average_span),
        index: two_arc(curve, base, table, near),
        // S · 10^(dX − dX at the standard's contrast) is S of an exposure so much smaller.
        delta_x: difference.map(|difference| m - (table.delta_x.of(difference) - at_standard)),
    })
}

/// Two arcs about a centre on base + fog meet the curve on one ray; its slope. None where the outer one is off the strip.
fn two_arc(curve: &Pchip, base: f64, table: &Sensitometry, near: Option<f64>) -> Option<f64> {
    let (inner, outer) = (table.two_arc.inner, table.two_arc.outer);
    // How far the curve lies above the outer point of the ray whose inner point is on the curve.
    let above = |angle: f64| {
        let centre = curve.first_at(base + inner * angle.sin())? - inner * angle.cos();
        Some(curve.at(centre + outer * angle.cos())? - base - outer * angle.sin())
    };
    // Steeper rays end lower against the curve, so the sign changes once.
    let (from, to) =
        near.map_or((1.0, 80.0), |index| (index.atan().to_degrees() - 6.0, index.atan().to_degrees() + 6.0));
    let step = 1.0;
    let mut low: Option<f64> = None;
    let mut degrees = f64::max(from, 1.0);
    while degrees <= to {
        let angle = degrees.to_radians();
        match above(angle) {
            Some(rest) if rest >= 0.0 => low = Some(angle),
            Some(_) => {
                let (mut low, mut high) = (low?, angle);
                for _ in 0..40 {
                    let middle = f64::midpoint(low, high);
                    if above(middle)? >= 0.0 { low = middle } else { high = middle }
                }
                return Some(f64::midpoint(low, high).tan());
            }
            None => {}
        }
        degrees += step;
    }
    None
}

type Moved = (Vec<StripPoint>, f64);

/// The strip with each reading, and base + fog, moved up and down.
fn moved(strip: &Strip, errors: Errors) -> Vec<(Moved, Moved)> {
    let with = |index: usize, by: f64| {
        let mut points = strip.points.clone();
        if let Some(point) = points.get_mut(index) {
            point.density += by;
        }
        level(&mut points);
        (points, strip.base_fog)
    };
    let mut all: Vec<(Moved, Moved)> = strip
        .points
        .iter()
        .enumerate()
        .map(|(index, point)| {
            let by = errors.density / f64::from(point.readings).sqrt();
            (with(index, by), with(index, -by))
        })
        .collect();
    let by = errors.density / READINGS_OF_BASE.sqrt();
    all.push(((strip.points.clone(), strip.base_fog + by), (strip.points.clone(), strip.base_fog - by)));
    all
}

#[derive(Default)]
struct Spread {
    log_h_m: f64,
    difference: f64,
    average: f64,
    index: f64,
    delta_x: f64,
}

impl Spread {
    fn of(strip: &Strip, errors: Errors, table: &Sensitometry, core_of_strip: &Core) -> Self {
        let mut squares = Self::default();
        if errors.density <= 0.0 {
            return squares;
        }
        let work = |(points, base): &Moved| core(&through(points)?, *base, table, core_of_strip.index);
        for (up, down) in moved(strip, errors) {
            let (Some(up), Some(down)) = (work(&up), work(&down)) else { continue };
            let half = |up: Option<f64>, down: Option<f64>| {
                up.zip(down).map_or(0.0, |(up, down)| ((up - down) / 2.0).powi(2))
            };
            squares.log_h_m += half(Some(up.log_h_m), Some(down.log_h_m));
            squares.difference += half(up.difference, down.difference);
            squares.average += half(up.average, down.average);
            squares.index += half(up.index, down.index);
            squares.delta_x += half(up.delta_x, down.delta_x);
        }
        Self {
            log_h_m: squares.log_h_m.sqrt(),
            difference: squares.difference.sqrt(),
            average: squares.average.sqrt(),
            index: squares.index.sqrt(),
            delta_x: squares.delta_x.sqrt(),
        }
    }
}

/// Gradients over [`GRADIENT_SPAN`], from every reading to the first so far away.
fn gradients(points: &[StripPoint]) -> Vec<LocalGradient> {
    let mut gradients = Vec::new();
    for (index, start) in points.iter().enumerate() {
        let end = points.iter().skip(index + 1).find(|point| point.log_h - start.log_h >= GRADIENT_SPAN);
        let Some(end) = end else { break };
        gradients.push(LocalGradient {
            log_h: f64::midpoint(start.log_h, end.log_h),
            gradient: (end.density - start.density) / (end.log_h - start.log_h),
            between: (start.log_h, end.log_h),
        });
    }
    gradients
}

/// A line through the longest run of local gradients near the largest.
fn gamma(strip: &Strip, gradients: &[LocalGradient], errors: Errors) -> Option<Gamma> {
    let largest = gradients.iter().map(|gradient| gradient.gradient).fold(0.0, f64::max);
    let mut longest: &[LocalGradient] = &[];
    for run in gradients.split(|gradients| gradients.gradient < STRAIGHT * largest) {
        if run.len() > longest.len() {
            longest = run;
        }
    }
    let (from, to) = (longest.first()?.between.0, longest.last()?.between.1);
    let on_line: Vec<&StripPoint> =
        strip.points.iter().filter(|point| (from..=to).contains(&point.log_h)).collect();
    let weight: f64 = on_line.iter().map(|own| f64::from(own.readings)).sum();
    let mean = |of: &dyn Fn(&StripPoint) -> f64| {
        on_line.iter().map(|own| f64::from(own.readings) * of(own)).sum::<f64>() / weight
    };
    let (x, y) = (mean(&|own| own.log_h), mean(&|own| own.density));
    let squares = weight * mean(&|own| (own.log_h - x).powi(2));
    let value = weight * mean(&|own| (own.log_h - x) * (own.density - y)) / squares;
    let residual = mean(&|own| (own.density - y - value * (own.log_h - x)).powi(2)).sqrt();
    (value.is_finite() && value > 0.0).then(|| Gamma {
        value,
        limits: NineInTen::about(value, errors.density / squares.sqrt()),
        from,
        to,
        residual,
    })
}

/// From the speed point to where the gradient falls below a share of gamma.
fn useful_range(
    log_h_m: f64,
    curve: &Pchip,
    gamma: Option<&Gamma>,
    gradients: &[LocalGradient],
) -> UsefulRange {
    let shoulder = gamma.and_then(|gamma| {
        let limit = SHOULDER * gamma.value;
        let pair = gradients
            .windows(2)
            .find(|pair| matches!(pair, [one, other] if one.log_h > gamma.from && one.gradient >= limit && other.gradient < limit))?;
        match pair {
            [one, other] => {
                let share = (one.gradient - limit) / (one.gradient - other.gradient);
                Some(one.log_h + share * (other.log_h - one.log_h))
            }
            _ => None,
        }
    });
    let to = shoulder.unwrap_or(curve.span().1);
    UsefulRange { from: log_h_m, to: to.max(log_h_m), is_open: shoulder.is_none() }
}
