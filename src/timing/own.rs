//! The user's own records of one film: one posterior of everything they and the books say.
//!
//! Model: ln t = a + Σ xᵢ cᵢ, a the time that is right under the conditions of one of the records, cᵢ the coefficients of
//! temperature, dilution, agitation and developer that lie between those conditions and a record's (or the ones wanted), each with
//! the mean and the spread of the books before. A record judged right is a row with its error; one that came out flat (thin) says only "longer than", one that
//! came out blocked (dense) "shorter than". Gradients are rows of the law by which a gradient grows: they tell the time g for the
//! normal gradient and, by how likely each is, the law's own figure. Coefficients of temperature and of dilution cannot be negative,
//! which is a row too, so that warmer is always shorter. Where times judged right scatter more than judging explains, the error is
//! as large as they show. Everything follows from the records in their order of date: the same records, the same answer.
//!
//! Slopes are kept above zero by one more one-sided row (expectation propagation). The time is told from one record's conditions, so
//! that what is learned does not depend on the question and warmer is always shorter. Rejected: the nearest record with a slope of
//! its own (4 % where 2 % is to be had, longer at 23 than at 22 °C), own figures in place of the books' (two records a degree apart
//! beat every table).

mod rows;
mod told;

use super::contrast::Shape;
use super::figure::TimingFigure;
use super::gaussian::{Gaussian, Learned, Observation, Says};
use super::limits::TimingWarning;
use super::model::Model;
use super::product::{Key, Product, Term};
use super::setup::Setup;
use crate::journal::Highlights;
use std::collections::BTreeMap;

/// Nine in ten of a normal distribution, in standard deviations.
pub(super) const NINE_IN_TEN: f64 = 1.644_853_627;

/// Standard deviation of the time wanted before any record judged right, in ln t: as good as nothing.
const OPEN: f64 = 1.0;

/// Points at which the figure of the law of gradients is tried.
const POINTS: i32 = 40;

/// How many judgements the error as judged is worth against the scatter that the records show.
const JUDGED_AS_GOOD_AS: f64 = 4.0;

/// Scatter against judging from which on it is told.
const TOLD_SCATTER: f64 = 1.5;

/// Other error of a time at which a gradient was measured, in ln t.
const TIMING_ERROR: f64 = 0.02;

/// A way in which the law of gradients may go, and what is then known of the rest.
struct Case {
    weight: f64,
    figure: f64,
    learned: Learned,
}

/// What records and books say together, for one set of conditions wanted.
pub(super) struct Posterior {
    /// Where each coefficient stands among the figures.
    keys: BTreeMap<Key, usize>,
    /// How far each figure may be lower and higher by the books, nine in ten.
    reach: Vec<(f64, f64)>,
    cases: Vec<Case>,
    shape: Shape,
    /// Where the time for the normal gradient stands among the figures.
    normal: Option<usize>,
    /// The rows and their records, in order.
    rows: Vec<(Observation, Option<usize>)>,
    taken: Vec<Option<String>>,
    products: Vec<Option<Product>>,
    /// From the record whose time the first figure is to the conditions wanted, as a sum.
    onward: Vec<f64>,
    shorts: Vec<String>,
    pub(super) warnings: Vec<TimingWarning>,
    /// By how much the times judged right scatter more than judging explains.
    pub(super) scatter: f64,
}

/// Index among the figures of the time that is right under the conditions of one record.
const TIME: usize = 0;

impl Posterior {
    /// Learns from all records that reach the conditions wanted; none where none does. `asked` holds further terms to know of.
    pub(super) fn new(model: &Model<'_>, to: &Setup, asked: Option<&Product>) -> Option<Self> {
        let starts = &model.own.starts;
        let products: Vec<Option<Product>> = starts
            .iter()
            .map(|start| model.product(&start.setup, to).ok().map(|found| found.product))
            .collect();
        if products.iter().all(Option::is_none) {
            return None;
        }
        let shape = model.table.shape_of(&to.developer)?.clone();
        let has_gradient = starts
            .iter()
            .zip(&products)
            .any(|(start, product)| product.is_some() && start.gradient.is_some());
        let normal = has_gradient.then_some(1);
        let first_key = 1 + usize::from(has_gradient);
        let mut terms: BTreeMap<Key, Term> = BTreeMap::new();
        for (key, term) in products.iter().flatten().chain(asked).flat_map(Product::terms) {
            if !matches!(key, Key::Contrast | Key::Push) {
                terms.entry(key.clone()).or_insert_with(|| term.clone());
            }
        }
        let keys: BTreeMap<Key, usize> =
            terms.keys().enumerate().map(|(index, key)| (key.clone(), first_key + index)).collect();
        let mut reach = vec![(0.0, 0.0); first_key];
        reach.extend(terms.values().map(Term::reach));
        let shorts = starts.iter().map(|start| start.short.clone()).collect();
        let mut posterior = Self {
            keys,
            reach,
            cases: Vec::new(),
            shape,
            normal,
            rows: Vec::new(),
            taken: vec![None; starts.len()],
            products,
            onward: Vec::new(),
            shorts,
            warnings: Vec::new(),
            scatter: 1.0,
        };
        // All times are told from the conditions of one record, so that what is learned does not depend on the question.
        let from = posterior.products.iter().rev().flatten().next().cloned().unwrap_or_default();
        posterior.onward = posterior.sum(from.terms());
        posterior.take(model, &terms);
        let before = posterior.before(model, &terms);
        posterior.solve(&before, model);
        posterior.judge_scatter(&before, model);
        Some(posterior)
    }

    fn size(&self) -> usize {
        self.reach.len()
    }

    /// A sum with one figure.
    fn unit(&self, index: usize) -> Vec<f64> {
        (0..self.size()).map(|at| if at == index { 1.0 } else { 0.0 }).collect()
    }

    /// The coefficients of a product as a sum of figures.
    pub(super) fn sum<'t>(&self, terms: impl Iterator<Item = (&'t Key, &'t Term)>) -> Vec<f64> {
        let mut sum = vec![0.0; self.size()];
        for (key, term) in terms {
            if let Some(cell) = self.keys.get(key).and_then(|index| sum.get_mut(*index)) {
                *cell += term.exponent;
            }
        }
        sum
    }

    /// Learns, with the law of gradients tried at several figures where there are gradients.
    fn solve(&mut self, before: &[(f64, f64)], model: &Model<'_>) {
        let TimingFigure { low, central, high, .. } = self.shape.figure;
        let points: Vec<(f64, f64)> = if self.normal.is_some() {
            let at = |step: i32| {
                let deviations = 3.5 * (f64::from(2 * step) / f64::from(POINTS) - 1.0);
                let scale = if deviations < 0.0 { (central / low).ln() } else { (high / central).ln() };
                (central * (deviations * scale / NINE_IN_TEN).exp(), -0.5 * deviations * deviations)
            };
            (0..=POINTS).map(at).collect()
        } else {
            vec![(central, 0.0)]
        };
        let mut cases: Vec<Case> = Vec::new();
        for (figure, likely) in points {
            let Some(gradients) = self.gradient_rows(figure, model) else { continue };
            let rows: Vec<Observation> = self
                .rows
                .iter()
                .map(|(row, _)| row.clone())
                .chain(gradients.into_iter().map(|(row, _)| row))
                .collect();
            let (learned, likelihood) = Gaussian::independent(before).learn(&rows);
            cases.push(Case { weight: likely + likelihood, figure, learned });
        }
        let best = cases.iter().map(|case| case.weight).fold(f64::NEG_INFINITY, f64::max);
        for case in &mut cases {
            case.weight = (case.weight - best).exp();
        }
        let whole: f64 = cases.iter().map(|case| case.weight).sum();
        cases.retain_mut(|case| {
            case.weight /= whole;
            case.weight > 1e-9
        });
        self.cases = cases;
    }

    /// Makes the error as large as times judged right show it to be, and tells gradients that no law fits.
    fn judge_scatter(&mut self, before: &[(f64, f64)], model: &Model<'_>) {
        let Some(case) = self.likeliest() else { return };
        let (mut squares, mut count) = (0.0, 0.0);
        for (row, record) in &self.rows {
            let is_right = record
                .and_then(|index| model.own.starts.get(index))
                .is_some_and(|start| start.highlights == Some(Highlights::Right));
            if is_right && row.says == Says::About {
                let (mean, _) = case.learned.gaussian.of(&row.of);
                squares += ((row.value - mean) / row.error).powi(2);
                count += 1.0;
            }
        }
        let figure = case.figure;
        let mut misfit = 0.0_f64;
        for (row, _) in self.gradient_rows(figure, model).unwrap_or_default() {
            let (mean, _) = case.learned.gaussian.of(&row.of);
            misfit = misfit.max(((row.value - mean) / row.error).abs());
        }
        if misfit > 2.5 {
            self.warnings.push(TimingWarning::GradientsDoNotFit);
        }
        if count < 2.0 {
            return;
        }
        let shown = (JUDGED_AS_GOOD_AS + squares) / (JUDGED_AS_GOOD_AS + count - 1.0);
        if shown <= 1.0 {
            return;
        }
        self.scatter = shown.sqrt();
        for (row, record) in &mut self.rows {
            if record.is_some() {
                row.error *= self.scatter;
            }
        }
        if self.scatter > TOLD_SCATTER {
            let percent = 100.0 * model.table.own.judged_right * self.scatter;
            self.warnings.push(TimingWarning::RecordsScatter { percent });
        }
        self.solve(before, model);
    }

    fn likeliest(&self) -> Option<&Case> {
        self.cases.iter().max_by(|one, other| one.weight.total_cmp(&other.weight))
    }
}
