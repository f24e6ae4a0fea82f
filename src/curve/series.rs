//! A series of developing times: the time for a contrast, the speed there, and the law of growth.
//!
//! Every target is a density gained from m over a span of log H. It is interpolated over the logarithm of the time by the monotone
//! cubic of [`super::interpolation`], and so is log Hm. Outside of the times developed there is no answer.
//!
//! So one sum answers all targets: 0.80 over 1.30 (iso), an average gradient over 1.50, 1.05 over the subject less its flare and one
//! stop a step (N+1), any density over the whole (range).

use super::figures::{FilmFigures, Share, Speed};
use super::interpolation::Pchip;
use super::readings::NOISE;
use super::table::Sensitometry;
use super::{CurveError, NINE_IN_TEN, NineInTen};
use crate::timing::{GammaLaw, Measured};

/// What is wanted of a series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ContrastWish {
    /// The contrast of the standard.
    Iso,
    /// An average gradient.
    Gradient(f64),
    /// A normal density range from a subject so many stops shorter (above zero) or longer.
    Steps(f64),
    /// This density range from a normal subject.
    Range(f64),
}

/// The subject: log H of its range as the film sees it, after flare; and of one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Subject {
    /// log H after flare.
    pub range: f64,
    /// log H of one step of contrast.
    pub step: f64,
}

/// A density gained over a span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// What was asked.
    pub wish: ContrastWish,
    /// log H from m.
    pub span: f64,
    /// Density gained over it.
    pub difference: f64,
}

impl Target {
    /// The target of a wish; none where no subject or contrast is so.
    pub fn of(wish: ContrastWish, subject: Subject, table: &Sensitometry) -> Option<Self> {
        let (span, difference) = match wish {
            ContrastWish::Iso => (table.film.span, table.film.difference),
            ContrastWish::Gradient(gradient) => (table.film.average_span, gradient * table.film.average_span),
            ContrastWish::Steps(steps) => (subject.range - steps * subject.step, table.normal.density_range),
            ContrastWish::Range(range) => (subject.range, range),
        };
        let is_sound = (0.3..=4.0).contains(&span) && (0.02..=6.0).contains(&difference);
        is_sound.then_some(Self { wish, span, difference })
    }

    /// Density gained over log H.
    pub fn gradient(&self) -> f64 {
        self.difference / self.span
    }
}

/// Strips of one film by rising time.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Minutes and figures.
    pub strips: Vec<(f64, FilmFigures)>,
}

/// The law of growth of the average gradient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GradientGrowth {
    /// Fitted to the strips.
    pub law: GammaLaw,
    /// Root mean square of what it leaves.
    pub residual: f64,
}

/// What gives a target.
#[derive(Debug, Clone, PartialEq)]
pub struct SeriesAnswer {
    /// As it was asked.
    pub target: Target,
    /// Time, min.
    pub minutes: f64,
    /// Nine in ten.
    pub limits: NineInTen,
    /// log Hm there.
    pub log_h_m: f64,
    /// At that time.
    pub speed: Speed,
    /// Density range there of a normal subject.
    pub range: Option<f64>,
}

/// The target over the times.
#[derive(Debug, Clone, PartialEq)]
pub struct TargetCourse {
    /// Gradient over ln t.
    pub gradient: Pchip,
    /// log Hm over ln t.
    pub log_h_m: Pchip,
}

/// What came of a target.
#[derive(Debug, Clone, PartialEq)]
pub enum TargetOutcome {
    /// Within the times developed.
    Reached(Box<SeriesAnswer>),
    /// It lies outside of the times developed.
    Outside {
        /// As it was asked.
        target: Target,
        /// What the shortest and the longest time give, as the target counts.
        between: (f64, f64),
    },
}

impl Series {
    /// By rising time.
    ///
    /// # Errors
    /// Two strips of one time.
    pub fn new(mut strips: Vec<(f64, FilmFigures)>) -> Result<Self, CurveError> {
        strips.sort_by(|one, other| one.0.total_cmp(&other.0));
        for pair in strips.windows(2) {
            if let [one, other] = pair
                && one.0 >= other.0
            {
                return Err(CurveError::SameTime {
                    one: one.1.strip.name.clone(),
                    other: other.1.strip.name.clone(),
                });
            }
        }
        Ok(Self { strips })
    }

    /// What each strip gains over a span, with the shares of its readings.
    fn rises(&self, span: f64, table: &Sensitometry) -> Result<Vec<(f64, Vec<Share>)>, CurveError> {
        let mut rises: Vec<(f64, Vec<Share>)> = Vec::new();
        for (_, figures) in &self.strips {
            rises.push(figures.shares(span, table).ok_or_else(|| CurveError::TooShort {
                strip: figures.strip.name.clone(),
                what: format!("{span:.2} log H from m"),
            })?);
        }
        for (pair, strips) in rises.windows(2).zip(self.strips.windows(2)) {
            if let ([one, other], [early, late]) = (pair, strips)
                && other.0 < one.0
            {
                // Two readings of noise may hide a small gain; more is a mistake.
                let fall = one.0 - other.0;
                if fall > 2.0 * NOISE {
                    return Err(CurveError::SeriesFalls {
                        earlier: early.1.strip.name.clone(),
                        later: late.1.strip.name.clone(),
                        fall,
                    });
                }
            }
        }
        Ok(rises)
    }

    fn over_time(&self, values: &[f64]) -> Option<Pchip> {
        let times = self.strips.iter().map(|(minutes, _)| minutes.ln());
        Pchip::new(&times.zip(values.iter().copied()).collect::<Vec<_>>())
    }

    /// How the gradient over a span, and log Hm, go with the time.
    ///
    /// # Errors
    /// A strip is too short, or the contrast falls.
    pub fn course(&self, span: f64, table: &Sensitometry) -> Result<Option<TargetCourse>, CurveError> {
        let rises = self.rises(span, table)?;
        let gradients: Vec<f64> = rises.iter().map(|rise| rise.0 / span).collect();
        let points: Vec<f64> = self.strips.iter().map(|(_, own)| own.log_h_m.value).collect();
        Ok(self
            .over_time(&gradients)
            .zip(self.over_time(&points))
            .map(|(gradient, log_h_m)| TargetCourse { gradient, log_h_m }))
    }

    /// The time for a target.
    ///
    /// # Errors
    /// A strip is too short, or the contrast falls.
    pub fn answer(
        &self,
        target: Target,
        subject: Subject,
        table: &Sensitometry,
    ) -> Result<TargetOutcome, CurveError> {
        let rises = self.rises(target.span, table)?;
        let values: Vec<f64> = rises.iter().map(|rise| rise.0).collect();
        let points: Vec<f64> = self.strips.iter().map(|(_, own)| own.log_h_m.value).collect();
        let solve = |values: &[f64], points: &[f64]| {
            let log_time = self.over_time(values)?.first_at(target.difference)?;
            Some((log_time, self.over_time(points)?.at(log_time)?))
        };
        let Some((log_time, log_h_m)) = solve(&values, &points) else {
            let ends =
                (values.first().copied().unwrap_or_default(), values.last().copied().unwrap_or_default());
            return Ok(TargetOutcome::Outside { target, between: ends });
        };
        // The share of each reading goes through both interpolations at once, since it moves both.
        let (mut of_time, mut of_point) = (0.0, 0.0);
        for (strip, (_, shares)) in rises.iter().enumerate() {
            for (move_m, move_rise) in shares {
                let at = |sign: f64| {
                    let (mut values, mut points) = (values.clone(), points.clone());
                    if let (Some(value), Some(point)) = (values.get_mut(strip), points.get_mut(strip)) {
                        *value += sign * move_rise;
                        *point += sign * move_m;
                    }
                    solve(&values, &points)
                };
                let (up, down) = (at(1.0), at(-1.0));
                let centre = (log_time, log_h_m);
                // Where one side leaves the series, the other counts twice.
                let (from, to, halves) = match (up, down) {
                    (Some(up), Some(down)) => (down, up, 2.0),
                    (Some(up), None) => (centre, up, 1.0),
                    (None, Some(down)) => (down, centre, 1.0),
                    (None, None) => continue,
                };
                of_time += ((to.0 - from.0) / halves).powi(2);
                of_point += ((to.1 - from.1) / halves).powi(2);
            }
        }
        let errors = self.strips.first().map(|(_, own)| own.errors());
        let light = errors.map_or(0.0, super::Errors::log_h);
        let speed_of = |log_h: f64| table.film.numerator / 10_f64.powf(log_h);
        let value = speed_of(log_h_m);
        let spread = NINE_IN_TEN * of_time.sqrt();
        let range = self.rises(subject.range, table).ok().and_then(|rises| {
            self.over_time(&rises.iter().map(|rise| rise.0).collect::<Vec<_>>())?.at(log_time)
        });
        Ok(TargetOutcome::Reached(Box::new(SeriesAnswer {
            target,
            minutes: log_time.exp(),
            limits: NineInTen { low: (log_time - spread).exp(), high: (log_time + spread).exp() },
            log_h_m,
            speed: Speed {
                value,
                limits: NineInTen::about(log_h_m, of_point.sqrt().hypot(light)).map(speed_of),
                named: table.named(value),
            },
            range,
        })))
    }

    /// The law of growth of the average gradient.
    pub fn growth(&self) -> Option<GradientGrowth> {
        let points: Vec<Measured> = self
            .strips
            .iter()
            .filter_map(|(minutes, own)| {
                Some(Measured { minutes: *minutes, gradient: own.average_gradient?.value })
            })
            .collect();
        GammaLaw::fit(&points).map(|(law, residual)| GradientGrowth { law, residual })
    }
}
