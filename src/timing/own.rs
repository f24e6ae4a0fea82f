//! The user's own records of one film: where to start from, and what they say of developers, temperature, dilution and contrast.
//!
//! Two records judged right in two formulas give a relation between these, at the very conditions of the records. Records judged
//! right in one formula at two or more temperatures (all else equal) give a temperature coefficient, at two or more dilutions an
//! exponent, both by least squares. Gradients after two or more times give the law of contrast. Each names the records it used.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::TimingError;
use super::contrast::{GammaLaw, Measured};
use super::dilution::fit_exponent;
use super::figure::{Figure, Support};
use super::limits::Warning;
use super::model::{Model, Setup};
use super::product::Product;
use super::relation::Lookup;
use super::table::{Coefficient, Relation, Side, Table};
use super::temperature::fit_exponential;
use crate::journal::{Developed, Verdict};
use crate::quantity::Duration;
use crate::quantity::rounding::show_decimals;

/// Most records of one film that are looked at, the latest ones.
const MOST_RECORDS: usize = 60;
/// Most relations kept between two formulas.
const MOST_RELATIONS: usize = 3;
/// Smallest span of temperatures that tells a coefficient, °C.
const LEAST_SPAN_DEGREES: f64 = 1.0;
/// Smallest ratio of dilutions that tells an exponent.
const LEAST_RATIO: f64 = 1.2;

/// A record to start from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Start {
    pub(super) setup: Setup,
    pub(super) minutes: f64,
    pub(super) words: String,
    pub(super) is_right: bool,
    verdict: Option<Verdict>,
    gradient: Option<f64>,
    record: Developed,
}

impl Start {
    /// Tells that the record started from was not judged right.
    pub(super) fn warn(&self, warnings: &mut Vec<Warning>) {
        match self.verdict {
            Some(Verdict::Right) => {}
            Some(Verdict::Thin) => warnings.push(Warning::StartWasThin),
            Some(Verdict::Dense) => warnings.push(Warning::StartWasDense),
            None => warnings.push(Warning::StartNotJudged),
        }
    }
}

/// The law of contrast from own gradients.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnGamma {
    setup: Setup,
    /// The law.
    pub law: GammaLaw,
    /// The law if one gradient had been read a little higher or lower.
    variants: Vec<GammaLaw>,
    /// Lowest and highest gradient measured.
    pub measured: (f64, f64),
    /// The records used.
    pub records: String,
}

/// What the user's own records of one film say.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Own {
    pub(super) film: String,
    pub(super) starts: Vec<Start>,
    pub(super) relations: Vec<Relation>,
    pub(super) temperature: BTreeMap<String, Rc<Coefficient>>,
    pub(super) dilution: BTreeMap<String, Rc<Coefficient>>,
    gammas: BTreeMap<String, OwnGamma>,
}

/// Whether two names of a film are the same: case and spaces aside.
pub fn same_film(one: &str, other: &str) -> bool {
    let plain = |text: &str| text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
    plain(one) == plain(other)
}

impl Own {
    /// Looks through the records of a film.
    pub(super) fn new(film: &str, records: &[Developed], table: &Table, lookup: &Lookup<'_>) -> Self {
        let mut of_film: Vec<&Developed> = records
            .iter()
            .filter(|record| record.film.as_deref().is_some_and(|own| same_film(own, film)))
            .collect();
        of_film.sort_by_key(|record| record.date);
        let skipped = of_film.len().saturating_sub(MOST_RECORDS);
        let starts: Vec<Start> =
            of_film.iter().skip(skipped).filter_map(|record| start(record, table, lookup)).collect();
        let right: Vec<&Start> = starts.iter().filter(|start| start.is_right).collect();
        Self {
            film: film.to_owned(),
            relations: relations(&right, table.judged_right),
            temperature: temperature(&right, table.judged_right),
            dilution: dilution(&right, table.judged_right),
            gammas: gammas(&starts, table.contrast.reading_error),
            starts,
        }
    }

    /// How many records of the film can be used.
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// The laws of contrast by formula.
    pub fn gammas(&self) -> impl Iterator<Item = (&str, &OwnGamma)> {
        self.gammas.iter().map(|(formula, gamma)| (formula.as_str(), gamma))
    }

    /// The user's own temperature coefficient in a formula: k in 1/°C.
    pub fn temperature_coefficient(&self, formula: &str) -> Option<&Coefficient> {
        self.temperature.get(formula).map(Rc::as_ref)
    }

    /// The user's own dilution exponent in a formula.
    pub fn dilution_exponent(&self, formula: &str) -> Option<&Coefficient> {
        self.dilution.get(formula).map(Rc::as_ref)
    }

    /// ln of the factor that multiplies the gradient reached after `minutes` by `ratio`, from own gradients; none without any.
    pub(super) fn contrast(
        &self,
        model: &Model<'_>,
        to: &Setup,
        minutes: f64,
        ratio: f64,
    ) -> Result<Option<(Figure, String)>, TimingError> {
        let Some(gamma) = self.gammas.get(&to.developer.id) else { return Ok(None) };
        let mut product = Product::default();
        if model.convert(&mut product, &gamma.setup, to).is_err() {
            return Ok(None);
        }
        // What these minutes would be under the conditions of the records; G is taken as the same under both.
        let worth = minutes / product.ln().0.exp();
        let ln = |law: &GammaLaw| {
            let wanted = law.gradient_at(worth) * ratio;
            law.minutes_for(wanted).filter(|_| wanted > 0.0).map(|needed| (needed / worth).ln())
        };
        let reached = gamma.law.gradient_at(worth);
        if reached <= 0.0 {
            return Ok(None);
        }
        let beyond =
            TimingError::GradientBeyondReach { infinity: gamma.law.infinity, wanted: reached * ratio };
        let central = ln(&gamma.law).ok_or(beyond)?;
        let (mut down, mut up) = (0.0, 0.0);
        for variant in &gamma.variants {
            // A law that never gets there counts as one that takes twice as long.
            let off = ln(variant).unwrap_or(central + std::f64::consts::LN_2) - central;
            if off < 0.0 { down += off * off } else { up += off * off }
        }
        let wanted = reached * ratio;
        let (lowest, highest) = gamma.measured;
        let outside = if (lowest..=highest).contains(&wanted) {
            String::new()
        } else {
            format!("; {wanted:.2} lies outside the gradients measured, {lowest:.2} to {highest:.2}")
        };
        let basis = format!(
            "gradient {reached:.2} to {wanted:.2} by your gradients (infinity about {}, rate {} per min){outside}; {}",
            show_decimals(gamma.law.infinity, 1),
            show_decimals(gamma.law.rate_per_minute, 3),
            gamma.records
        );
        let figure = Figure {
            low: central - f64::sqrt(down),
            central,
            high: central + f64::sqrt(up),
            support: Support::OwnRecord,
            source: None,
            note: None,
        };
        Ok(Some((figure, basis)))
    }
}

/// A record as conditions to start from; none if its formula is gone or its conditions are not timed.
fn start(record: &Developed, table: &Table, lookup: &Lookup<'_>) -> Option<Start> {
    let developer = lookup.developer(&record.formula)?;
    let working = developer.working(Some(&record.dilution)).ok()?;
    developer.must_be_timed(&working, table).ok()?;
    let agitation = table.agitation(&record.agitation).ok()?.0.name.clone();
    let setup = Setup { developer, working, temperature: record.temperature, agitation };
    Some(Start {
        words: format!(
            "your record of {}: {}, {} {}, {}, {}, {}",
            record.date,
            record.film.as_deref().unwrap_or_default(),
            record.formula,
            setup.working,
            record.temperature,
            setup.agitation,
            Duration::from_min(record.minutes)
        ),
        setup,
        minutes: record.minutes,
        is_right: record.verdict == Some(Verdict::Right),
        verdict: record.verdict,
        gradient: record.gradient,
        record: record.clone(),
    })
}

/// `your records of 2026-01-02 (8:00 min) and 2026-02-03 (9:30 min)`.
fn names(of: &[&Start]) -> String {
    let each: Vec<String> = of
        .iter()
        .map(|start| format!("{} ({})", start.record.date, Duration::from_min(start.minutes)))
        .collect();
    format!("your records of {}", each.join(" and "))
}

/// Relations between formulas, at most [`MOST_RELATIONS`] a pair: those taken at the nearest temperatures, the latest of equals.
fn relations(right: &[&Start], judged_right: f64) -> Vec<Relation> {
    let mut by_pair: BTreeMap<(String, String), Vec<(f64, Relation)>> = BTreeMap::new();
    for one in right {
        for other in right {
            if one.record.formula >= other.record.formula {
                continue;
            }
            let ratio = other.minutes / one.minutes;
            // Two times known equally well; their errors add in quadrature.
            let reach = judged_right * std::f64::consts::SQRT_2;
            let figure = Figure {
                low: ratio * (-reach).exp(),
                central: ratio,
                high: ratio * reach.exp(),
                support: Support::OwnRecord,
                source: None,
                note: Some(names(&[one, other])),
            };
            let apart = (one.record.temperature.as_c() - other.record.temperature.as_c()).abs();
            let pair = (one.record.formula.clone(), other.record.formula.clone());
            let relation = Relation { from: side(one), to: side(other), figure };
            by_pair.entry(pair).or_default().push((apart, relation));
        }
    }
    let mut all = Vec::new();
    for mut pairs in by_pair.into_values() {
        // Records come in order of their dates: reversed and sorted stably, the latest of equals is first.
        pairs.reverse();
        pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
        all.extend(pairs.into_iter().take(MOST_RELATIONS).map(|(_, relation)| relation));
    }
    all
}

fn side(start: &Start) -> Side {
    Side {
        formula: start.record.formula.clone(),
        dilution: start.record.dilution.clone(),
        celsius: start.record.temperature.as_c(),
        agitation: Some(start.setup.agitation.clone()),
    }
}

/// Groups of records equal in everything that `key` names.
fn groups<'s>(
    starts: &[&'s Start],
    key: impl Fn(&Start) -> String,
) -> BTreeMap<(String, String), Vec<&'s Start>> {
    let mut groups: BTreeMap<(String, String), Vec<&'s Start>> = BTreeMap::new();
    for start in starts {
        groups.entry((start.record.formula.clone(), key(start))).or_default().push(start);
    }
    groups
}

/// Keeps, for each formula, what the most records tell.
fn keep_best<T>(best: &mut BTreeMap<String, (usize, T)>, formula: &str, count: usize, value: T) {
    if best.get(formula).is_none_or(|(so_far, _)| count > *so_far) {
        best.insert(formula.to_owned(), (count, value));
    }
}

fn without_counts<T>(best: BTreeMap<String, (usize, T)>) -> BTreeMap<String, T> {
    best.into_iter().map(|(formula, (_, value))| (formula, value)).collect()
}

/// Temperature coefficients from records that differ in nothing but temperature.
fn temperature(right: &[&Start], judged_right: f64) -> BTreeMap<String, Rc<Coefficient>> {
    let mut best = BTreeMap::new();
    for ((formula, _), group) in
        groups(right, |start| format!("{} {}", start.setup.working, start.setup.agitation))
    {
        let points: Vec<(f64, f64)> =
            group.iter().map(|start| (start.record.temperature.as_c(), start.minutes)).collect();
        let Some(range) = span(&points).filter(|(low, high)| high - low >= LEAST_SPAN_DEGREES) else {
            continue;
        };
        let Some(fit) = fit_exponential(&points).filter(|fit| fit.ln_per_degree > 0.0) else { continue };
        let reach = scatter(judged_right, fit.rms, points.len()) / fit.spread.sqrt();
        let figure = own_figure(fit.ln_per_degree, reach);
        let coefficient = Coefficient::own(names(&group), figure, Some(range));
        keep_best(&mut best, &formula, group.len(), Rc::new(coefficient));
    }
    without_counts(best)
}

/// Dilution exponents from records that differ in nothing but dilution.
fn dilution(right: &[&Start], judged_right: f64) -> BTreeMap<String, Rc<Coefficient>> {
    let mut best = BTreeMap::new();
    let key = |start: &Start| format!("{:.1} {}", start.record.temperature.as_c(), start.setup.agitation);
    for ((formula, _), group) in groups(right, key) {
        let points: Vec<(f64, f64)> =
            group.iter().map(|start| (start.setup.working.ratio(), start.minutes)).collect();
        let Some(range) = span(&points).filter(|(low, high)| high / low >= LEAST_RATIO) else { continue };
        let Some(fit) = fit_exponent(&points) else { continue };
        let reach = scatter(judged_right, fit.rms, points.len()) / fit.spread.sqrt();
        let figure = own_figure(fit.exponent, reach);
        let coefficient = Coefficient::own(names(&group), figure, Some(range));
        keep_best(&mut best, &formula, group.len(), Rc::new(coefficient));
    }
    without_counts(best)
}

/// Smallest and largest abscissa.
fn span(points: &[(f64, f64)]) -> Option<(f64, f64)> {
    points.iter().map(|(x, _)| *x).fold(None, |span, x| match span {
        None => Some((x, x)),
        Some((low, high)) => Some((f64::min(low, x), f64::max(high, x))),
    })
}

/// How well each time is known: as judged by eye, or as the fit shows if that is worse.
fn scatter(judged_right: f64, rms: f64, count: usize) -> f64 {
    let count = f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    let shown = if count > 2.0 { rms * (count / (count - 2.0)).sqrt() } else { 0.0 };
    judged_right.max(shown)
}

fn own_figure(central: f64, reach: f64) -> Figure {
    Figure {
        low: central - reach,
        central,
        high: central + reach,
        support: Support::OwnRecord,
        source: None,
        note: None,
    }
}

/// Laws of contrast from records with gradients that differ in nothing but time.
fn gammas(starts: &[Start], reading_error: f64) -> BTreeMap<String, OwnGamma> {
    let with_gradient: Vec<&Start> = starts.iter().filter(|start| start.gradient.is_some()).collect();
    let key = |start: &Start| {
        format!("{} {:.1} {}", start.setup.working, start.record.temperature.as_c(), start.setup.agitation)
    };
    let mut best = BTreeMap::new();
    for ((formula, _), group) in groups(&with_gradient, key) {
        let points: Vec<Measured> = group
            .iter()
            .filter_map(|start| Some(Measured { minutes: start.minutes, gradient: start.gradient? }))
            .collect();
        let Some(law) = law(&points) else { continue };
        let mut variants = Vec::new();
        for index in 0..points.len() {
            for error in [reading_error, -reading_error] {
                let mut moved = points.clone();
                if let Some(point) = moved.get_mut(index) {
                    point.gradient += error;
                }
                variants.extend(self::law(&moved));
            }
        }
        let gradients: Vec<(f64, f64)> = points.iter().map(|point| (point.gradient, point.minutes)).collect();
        let (Some(measured), Some(first)) = (span(&gradients), group.first()) else { continue };
        let gamma = OwnGamma { setup: first.setup.clone(), law, variants, measured, records: names(&group) };
        keep_best(&mut best, &formula, group.len(), gamma);
    }
    without_counts(best)
}

/// Two points by the law of two times, more by least squares.
fn law(points: &[Measured]) -> Option<GammaLaw> {
    match points {
        [first, second] => GammaLaw::from_two(*first, *second),
        _ => GammaLaw::fit(points).map(|(law, _)| law),
    }
}
