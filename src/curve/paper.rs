//! Paper: log exposure range, ISO range and speed, from reflection densities.

use super::interpolation::Pchip;
use super::readings::{Strip, level};
use super::table::Sensitometry;
use super::{CurveError, Errors, NineInTen};
use crate::quantity::rounding::to_step;

/// The last reading stands on the maximum where the one before it is so near.
const FLAT: f64 = 0.02;

/// What a strip of paper says: its range, speed and grade.
#[derive(Debug, Clone, PartialEq)]
pub struct PaperFigures {
    /// The readings that all else is computed from.
    pub strip: Strip,
    /// The curve through its readings.
    pub curve: Pchip,
    /// Greatest density read.
    pub maximum: f64,
    /// Whether the strip reaches the greatest density, as far as its last two readings tell.
    pub is_full: bool,
    /// log H of the least useful density.
    pub log_h_t: f64,
    /// log H of the greatest useful density.
    pub log_h_s: f64,
    /// log exposure range.
    pub range: f64,
    /// Nine in ten.
    pub range_limits: NineInTen,
    /// 100 times the range, rounded.
    pub iso_range: f64,
    /// The same where the share is taken of the maximum above zero and not above base.
    pub range_absolute: Option<f64>,
    /// log H of the speed density.
    pub log_h_speed: f64,
    /// Speed; of no meaning where the strip is relative.
    pub speed: f64,
    /// Nine in ten.
    pub speed_limits: NineInTen,
    /// Number of the grade whose band holds the range.
    pub grade: Option<String>,
}

struct Core {
    t: f64,
    s: f64,
    speed: f64,
}

fn core(curve: &Pchip, base: f64, maximum: f64, table: &Sensitometry) -> Option<Core> {
    let paper = &table.paper;
    Some(Core {
        t: curve.first_at(base + paper.toe)?,
        s: curve.first_at(base + paper.share_of_maximum * (maximum - base))?,
        speed: curve.first_at(base + paper.speed_density)?,
    })
}

/// Works out a strip of paper.
///
/// # Errors
/// A density that is needed is not on the strip.
pub fn paper(strip: &Strip, errors: Errors, table: &Sensitometry) -> Result<PaperFigures, CurveError> {
    let points: Vec<(f64, f64)> = strip.points.iter().map(|point| (point.log_h, point.density)).collect();
    let densities = points.iter().map(|point| point.1);
    let (low, high) = (densities.clone().fold(f64::INFINITY, f64::min), densities.fold(0.0, f64::max));
    let off = || CurveError::OffTheStrip {
        strip: strip.name.clone(),
        what: format!(
            "the densities {:.2} and {:.2} (base {:.2})",
            strip.base_fog + table.paper.toe,
            strip.base_fog + table.paper.speed_density,
            strip.base_fog
        ),
        low,
        high,
        fix: "print the tablet so that its darkest steps leave the paper white and its clearest make it black",
    };
    let curve = Pchip::new(&points).ok_or_else(off)?;
    let figures = core(&curve, strip.base_fog, high, table).ok_or_else(off)?;
    let work = |points: &[super::readings::StripPoint], base: f64| {
        let curve = Pchip::new(&points.iter().map(|point| (point.log_h, point.density)).collect::<Vec<_>>())?;
        core(&curve, base, points.last()?.density, table)
    };
    let (mut of_range, mut of_speed) = (0.0, 0.0);
    for index in 0..=strip.points.len() {
        let at = |by: f64| {
            let mut points = strip.points.clone();
            let base =
                if index == points.len() { strip.base_fog + by / 3.0_f64.sqrt() } else { strip.base_fog };
            if let Some(point) = points.get_mut(index) {
                point.density += by / f64::from(point.readings).sqrt();
            }
            level(&mut points);
            work(&points, base)
        };
        if let (Some(up), Some(down)) = (at(errors.density), at(-errors.density)) {
            of_range += (((up.s - up.t) - (down.s - down.t)) / 2.0).powi(2);
            of_speed += ((up.speed - down.speed) / 2.0).powi(2);
        }
    }
    let range = figures.s - figures.t;
    let speed_of = |log_h: f64| table.paper.numerator / 10_f64.powf(log_h);
    let is_full = match strip.points.as_slice() {
        [.., before, last] => last.density - before.density <= FLAT + 1e-9,
        _ => false,
    };
    Ok(PaperFigures {
        strip: strip.clone(),
        maximum: high,
        is_full,
        log_h_t: figures.t,
        log_h_s: figures.s,
        range,
        range_limits: NineInTen::about(range, of_range.sqrt()),
        iso_range: to_step(100.0 * range, table.paper.range_step),
        range_absolute: curve.first_at(table.paper.share_of_maximum * high).map(|s| s - figures.t),
        log_h_speed: figures.speed,
        speed: speed_of(figures.speed),
        speed_limits: NineInTen::about(figures.speed, of_speed.sqrt().hypot(errors.log_h())).map(speed_of),
        grade: table.grade_for(range).map(|grade| grade.name.clone()),
        curve,
    })
}
