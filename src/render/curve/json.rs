//! `curve --json`.

use serde::Serialize;

use super::{JudgedStrips, StripJudgement, words};
use crate::curve::NineInTen;
use crate::curve::comparison::{CurveComparison, Toe};
use crate::curve::figures::{CurveFigure, FilmFigures, Speed};
use crate::curve::paper::PaperFigures;
use crate::curve::readings::Strip;
use crate::curve::series::TargetOutcome;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct CurveBody {
    /// The strips, in order; a series by rising time.
    pub curves: Vec<CurveEntry>,
    /// What gives the target of a series.
    pub target: Option<TargetBody>,
    /// Why no time of the series gives it.
    pub target_refused: Option<String>,
    /// The law of growth of a series' average gradient.
    pub growth: Option<GrowthBody>,
    /// Each further strip against the first.
    pub comparisons: Vec<ComparisonBody>,
    /// Commands that put strips of a known time into the journal.
    pub journal: Vec<String>,
    /// Standard deviation of one density.
    pub density_error: f64,
    /// How far off the light may be, nine in ten, stops.
    pub light_error_stops: f64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct CurveEntry {
    /// The file as given.
    pub name: String,
    pub minutes: Option<f64>,
    /// Base + fog, of paper its white.
    pub base_plus_fog: f64,
    /// Whether it was read; else it is the lowest reading.
    pub base_is_read: bool,
    /// Whether log H counts from an unknown exposure; speeds are then not told.
    pub is_relative: bool,
    /// Log exposure of each step of the tablet, the clearest first; with a tablet only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub log_h: Option<Vec<f64>>,
    /// The readings, averaged and levelled.
    pub points: Vec<PointBody>,
    /// What was levelled or assumed.
    pub notes: Vec<String>,
    /// Figures of film.
    #[serde(flatten)]
    pub film: Option<FilmBody>,
    /// Figures of paper.
    #[serde(flatten)]
    pub paper: Option<PaperBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PointBody {
    /// log10 of lux seconds.
    pub log_h: f64,
    pub density: f64,
}

/// Where a figure lies nine times in ten.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct LimitsBody {
    pub low: f64,
    pub high: f64,
}

impl From<NineInTen> for LimitsBody {
    fn from(limits: NineInTen) -> Self {
        Self { low: limits.low, high: limits.high }
    }
}

/// Figures of a film strip; what is off the strip is null.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct FilmBody {
    /// log H of the speed point m.
    pub log_h_m: f64,
    /// Density difference over 1.30 from m.
    pub density_difference: Option<f64>,
    /// The same over 1.30.
    pub gradient_iso: Option<f64>,
    /// 0.8/Hm; null where the light is not known.
    pub speed: Option<f64>,
    /// 0.8/Hm for an exposure of 1, where the light is not known.
    pub relative_speed: Option<f64>,
    /// Rounded logarithmic speed.
    pub degrees: Option<i32>,
    /// Nearest step of the conventional series.
    pub speed_label: Option<f64>,
    /// Whether it may be called an ISO speed: the criterion of contrast holds and the light is known.
    pub is_iso: bool,
    /// Fractional-gradient speed.
    pub delta_x_speed: Option<f64>,
    /// Over 1.50 from m.
    pub average_gradient: Option<f64>,
    /// Two-arc index.
    pub contrast_index: Option<f64>,
    /// Slope of the straight-line part.
    pub gamma: Option<f64>,
    /// The straight-line part.
    pub gamma_span: Option<GammaBody>,
    /// From m to the shoulder.
    pub useful_range: UsefulBody,
    /// Nine in ten.
    pub limits: FilmLimits,
}

/// The straight-line part.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct GammaBody {
    /// First log H.
    pub from_log_h: f64,
    /// Last log H.
    pub to_log_h: f64,
    /// Root mean square residual, density.
    pub residual: f64,
}

/// From m to the shoulder.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct UsefulBody {
    /// First log H.
    pub from_log_h: f64,
    /// Last log H.
    pub to_log_h: f64,
    /// Length.
    pub stops: f64,
    /// Whether the strip ends before a shoulder is seen.
    pub is_open: bool,
}

/// Limits of the figures.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct FilmLimits {
    pub log_h_m: LimitsBody,
    pub density_difference: Option<LimitsBody>,
    pub gradient_iso: Option<LimitsBody>,
    pub speed: Option<LimitsBody>,
    pub delta_x_speed: Option<LimitsBody>,
    pub average_gradient: Option<LimitsBody>,
    pub contrast_index: Option<LimitsBody>,
    /// Of `gamma`, for its span.
    pub gamma: Option<LimitsBody>,
}

/// Figures of a strip of paper.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PaperBody {
    /// From net 0.04 to 90 % of the net maximum.
    pub log_exposure_range: f64,
    /// 100 times that, rounded to 10.
    pub iso_range: f64,
    /// 1000/H at net 0.60; null where the light is not known.
    pub paper_speed: Option<f64>,
    /// log H at net 0.60.
    pub log_h_speed: f64,
    /// Greatest density.
    pub maximum_density: f64,
    /// Whether the strip reaches it.
    pub reaches_maximum: bool,
    /// Number of the grade whose band holds the range.
    pub grade: Option<String>,
    /// Nine in ten.
    pub paper_limits: PaperLimits,
}

/// Limits of the figures of paper.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct PaperLimits {
    pub log_exposure_range: LimitsBody,
    pub paper_speed: Option<LimitsBody>,
}

/// What gives the target.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct TargetBody {
    pub seconds: f64,
    /// Nine in ten, from.
    pub low_seconds: f64,
    /// Nine in ten, to.
    pub high_seconds: f64,
    /// Gradient aimed at.
    pub gradient: f64,
    /// log H over which it is taken.
    pub span: f64,
    /// log Hm there.
    pub log_h_m: f64,
    /// Speed there; null where the light is not known.
    pub speed: Option<f64>,
    /// Nine in ten.
    pub speed_limits: Option<LimitsBody>,
    /// Rounded logarithmic speed.
    pub degrees: Option<i32>,
    /// Nearest step of the conventional series.
    pub speed_label: Option<f64>,
    /// Density range of a normal subject there.
    pub density_range: Option<f64>,
}

/// The law of growth: gradient = infinity (1 − e^(−rate t)).
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct GrowthBody {
    /// Average gradient at infinite time.
    pub infinity: f64,
    /// 1/min.
    pub rate_per_minute: f64,
    /// Root mean square residual.
    pub residual: f64,
}

/// A strip against the first.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ComparisonBody {
    /// The strip.
    pub name: String,
    pub against: String,
    /// Speed above the first, stops.
    pub stops: f64,
    /// Nine in ten, for one exposure of both.
    pub stops_limits: LimitsBody,
    /// Ratio of the gradients m to n.
    pub contrast_ratio: Option<f64>,
    /// Nine in ten.
    pub contrast_limits: Option<LimitsBody>,
    /// Whether gradients are within 5 %.
    pub is_equal_contrast: Option<bool>,
    /// Ratio of the gradients from four to six stops above m, or three to five where a strip is shorter.
    pub highlights_ratio: Option<f64>,
    /// `same`, `longer` or `shorter`.
    pub toe: Option<&'static str>,
    /// Base + fog above that of the first.
    pub base_plus_fog: f64,
    pub words: Vec<String>,
    /// Densities above base + fog, each strip from its own m.
    pub aligned: Vec<AlignedBody>,
}

/// Densities side by side.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct AlignedBody {
    /// Stops above m.
    pub stops: f64,
    /// Of the first strip.
    pub first: Option<f64>,
    pub other: Option<f64>,
}

/// `curve speed`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SpeedBody {
    /// As typed.
    pub speed: f64,
    /// Rounded logarithmic speed.
    pub degrees: i32,
    /// Nearest step of the conventional series; null beyond it.
    pub speed_label: Option<f64>,
    /// log Hm of that speed.
    pub log_h_m: f64,
}

/// `curve density`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct DensityBody {
    /// The file as given.
    pub name: String,
    /// Densities, in the order asked.
    pub densities: Vec<DensityAt>,
}

/// An interpolated density.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct DensityAt {
    /// log H asked.
    pub log_h: f64,
    pub density: f64,
    /// Above base + fog, where that was read.
    pub net_density: Option<f64>,
}

fn limits(own: Option<CurveFigure>) -> Option<LimitsBody> {
    own.map(|own| own.limits.into())
}

fn degrees(speed: &Speed) -> Option<i32> {
    speed.named.map(|named| named.degrees)
}

fn label(speed: &Speed) -> Option<f64> {
    speed.named.and_then(|named| named.label)
}

fn entry(strip: &Strip) -> CurveEntry {
    CurveEntry {
        name: strip.name.clone(),
        minutes: strip.minutes,
        base_plus_fog: strip.base_fog,
        base_is_read: strip.base_is_read,
        is_relative: strip.is_relative,
        log_h: strip.tablet.map(|tablet| (1..=tablet.steps).map(|step| tablet.log_h(step)).collect()),
        points: strip
            .points
            .iter()
            .map(|point| PointBody { log_h: point.log_h, density: point.density })
            .collect(),
        notes: strip.notes.clone(),
        film: None,
        paper: None,
    }
}

fn film(film: &FilmFigures) -> CurveEntry {
    let value = |figure: Option<CurveFigure>| figure.map(|own| own.value);
    let is_known = !film.strip.is_relative;
    let known = |speed: f64| is_known.then_some(speed);
    let delta_x = film.delta_x_speed.filter(|_| is_known);
    let body = FilmBody {
        log_h_m: film.log_h_m.value,
        density_difference: value(film.density_difference),
        gradient_iso: value(film.gradient_iso),
        speed: known(film.speed.value),
        relative_speed: (!is_known).then_some(film.speed.value),
        degrees: degrees(&film.speed).filter(|_| is_known),
        speed_label: label(&film.speed).filter(|_| is_known),
        is_iso: film.is_iso,
        delta_x_speed: delta_x.map(|speed| speed.value),
        average_gradient: value(film.average_gradient),
        contrast_index: value(film.contrast_index),
        gamma: film.gamma.map(|gamma| gamma.value),
        gamma_span: film.gamma.map(|gamma| GammaBody {
            from_log_h: gamma.from,
            to_log_h: gamma.to,
            residual: gamma.residual,
        }),
        useful_range: UsefulBody {
            from_log_h: film.useful_range.from,
            to_log_h: film.useful_range.to,
            stops: film.useful_range.stops(),
            is_open: film.useful_range.is_open,
        },
        limits: FilmLimits {
            log_h_m: film.log_h_m.limits.into(),
            density_difference: limits(film.density_difference),
            gradient_iso: limits(film.gradient_iso),
            speed: is_known.then(|| film.speed.limits.into()),
            delta_x_speed: delta_x.map(|speed| speed.limits.into()),
            average_gradient: limits(film.average_gradient),
            contrast_index: limits(film.contrast_index),
            gamma: film.gamma.map(|gamma| gamma.limits.into()),
        },
    };
    CurveEntry { film: Some(body), ..entry(&film.strip) }
}

fn paper(paper: &PaperFigures) -> CurveEntry {
    let is_known = !paper.strip.is_relative;
    let body = PaperBody {
        log_exposure_range: paper.range,
        iso_range: paper.iso_range,
        paper_speed: is_known.then_some(paper.speed),
        log_h_speed: paper.log_h_speed,
        maximum_density: paper.maximum,
        reaches_maximum: paper.is_full,
        grade: paper.grade.clone(),
        paper_limits: PaperLimits {
            log_exposure_range: paper.range_limits.into(),
            paper_speed: is_known.then(|| paper.speed_limits.into()),
        },
    };
    CurveEntry { paper: Some(body), ..entry(&paper.strip) }
}

fn comparison(
    first: &FilmFigures,
    other: &FilmFigures,
    comparison: &CurveComparison,
    name: &str,
) -> ComparisonBody {
    ComparisonBody {
        name: other.strip.name.clone(),
        against: first.strip.name.clone(),
        stops: comparison.stops,
        stops_limits: comparison.stops_limits.into(),
        contrast_ratio: comparison.contrast,
        contrast_limits: comparison.contrast_limits.map(LimitsBody::from),
        is_equal_contrast: comparison.is_equal_contrast(),
        highlights_ratio: comparison.highlights,
        toe: comparison.toe.map(|toe| match toe {
            Toe::Same => "same",
            Toe::Longer => "longer",
            Toe::Shorter => "shorter",
        }),
        base_plus_fog: comparison.base_fog,
        words: words::verdict(first, other, comparison, ("A", name)),
        aligned: comparison
            .aligned
            .iter()
            .map(|row| AlignedBody { stops: row.stops, first: row.first, other: row.other })
            .collect(),
    }
}

impl CurveBody {
    pub(crate) fn new(judged: &JudgedStrips) -> Self {
        let mut body = Self {
            curves: Vec::new(),
            target: None,
            target_refused: None,
            growth: None,
            comparisons: Vec::new(),
            journal: words::journal_lines(judged)
                .into_iter()
                .map(|(one, two)| format!("{one} {two}"))
                .collect(),
            density_error: judged.errors.density,
            light_error_stops: judged.errors.light_stops,
        };
        match &judged.subject {
            StripJudgement::Films(films, comparisons) => {
                body.curves = films.iter().map(film).collect();
                if let Some((first, others)) = films.split_first() {
                    body.comparisons = others
                        .iter()
                        .zip(comparisons)
                        .enumerate()
                        .map(|(index, (other, own))| comparison(first, other, own, &super::letter(index + 1)))
                        .collect();
                }
            }
            StripJudgement::Papers(papers) => body.curves = papers.iter().map(paper).collect(),
            StripJudgement::Series(view) => {
                body.curves = view.series.strips.iter().map(|(_, own)| film(own)).collect();
                body.growth = view.growth.map(|growth| GrowthBody {
                    infinity: growth.law.infinity,
                    rate_per_minute: growth.law.rate_per_minute,
                    residual: growth.residual,
                });
                let is_known = view.series.strips.iter().all(|(_, own)| !own.strip.is_relative);
                match &view.outcome {
                    Some(TargetOutcome::Reached(own)) => {
                        body.target = Some(TargetBody {
                            seconds: own.minutes * 60.0,
                            low_seconds: own.limits.low * 60.0,
                            high_seconds: own.limits.high * 60.0,
                            gradient: own.target.gradient(),
                            span: own.target.span,
                            log_h_m: own.log_h_m,
                            speed: is_known.then_some(own.speed.value),
                            speed_limits: is_known.then(|| own.speed.limits.into()),
                            degrees: degrees(&own.speed).filter(|_| is_known),
                            speed_label: label(&own.speed).filter(|_| is_known),
                            density_range: own.range,
                        });
                    }
                    Some(TargetOutcome::Outside { target, between }) => {
                        body.target_refused = Some(words::outside_words(view, target, *between));
                    }
                    None => {}
                }
            }
        }
        body
    }
}
