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

use std::collections::BTreeMap;

use super::contrast::Shape;
use super::figure::TimingFigure;
use super::gaussian::{Gaussian, Learned, Observation, Says};
use super::limits::TimingWarning;
use super::model::Model;
use super::product::{Key, Product, Term};
use super::records::{BookWeight, RecordWeight, Start};
use super::setup::Setup;
use crate::journal::Highlights;

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

    /// ln of a record's own time as a sum of figures: a figure of time and what lies between.
    fn of_record(&self, record: usize, time: usize) -> Option<Vec<f64>> {
        let product = self.products.get(record)?.as_ref()?;
        let mut sum = self.sum(product.terms());
        for (cell, onward) in sum.iter_mut().zip(&self.onward) {
            *cell = onward - *cell;
        }
        *sum.get_mut(time)? += 1.0;
        Some(sum)
    }

    /// Turns records into rows.
    fn take(&mut self, model: &Model<'_>, terms: &BTreeMap<Key, Term>) {
        let own_errors = &model.table.own;
        let starts = &model.own.starts;
        let reached = |index: usize| self.products.get(index).is_some_and(Option::is_some);
        let any_judged = starts
            .iter()
            .enumerate()
            .any(|(index, start)| reached(index) && (start.highlights.is_some() || start.gradient.is_some()));
        let mut rows: Vec<(Observation, Option<usize>)> = Vec::new();
        let mut taken = Vec::new();
        for (index, start) in starts.iter().enumerate() {
            let value = start.minutes.ln();
            let Some(of) = self.of_record(index, TIME) else {
                let why = format!("not used: nothing relates {} to what is wanted", start.setup.developer.id);
                taken.push(Some(why));
                continue;
            };
            let mut words: Vec<String> = Vec::new();
            let right = own_errors.judged_right / NINE_IN_TEN;
            let mut row =
                |says, error| rows.push((Observation { of: of.clone(), says, value, error }, Some(index)));
            match start.highlights {
                Some(Highlights::Right) => {
                    row(Says::About, right);
                    words.push("right".to_owned());
                }
                Some(Highlights::Flat) => {
                    row(Says::MoreThan, right);
                    words.push("flat: longer than this".to_owned());
                }
                Some(Highlights::Blocked) => {
                    row(Says::LessThan, right);
                    words.push("blocked: shorter than this".to_owned());
                }
                None if !any_judged => {
                    row(Says::About, own_errors.not_judged / NINE_IN_TEN);
                    words.push("not judged, taken as about right".to_owned());
                }
                None => {}
            }
            if let Some(gradient) = start.gradient {
                words.push(format!("gradient {gradient:.2}"));
            }
            if words.is_empty() {
                words.push("not used: not judged, and others were".to_owned());
            }
            taken.push(Some(words.join(", ")));
        }
        // Warmer is shorter and more dilute is longer.
        for key in terms.keys() {
            for sum in self.never_negative(key) {
                rows.push((Observation { of: sum, says: Says::MoreThan, value: 0.0, error: 0.0 }, None));
            }
        }
        if let Some(normal) = self.normal {
            let mut link = self.unit(TIME);
            if let Some(cell) = link.get_mut(normal) {
                *cell = -1.0;
            }
            let error = own_errors.own_normal / NINE_IN_TEN;
            rows.push((Observation { of: link, says: Says::About, value: 0.0, error }, None));
        }
        self.rows = rows;
        self.taken = taken;
    }

    /// Sums of figures that are above zero whatever the records say.
    fn never_negative(&self, key: &Key) -> Vec<Vec<f64>> {
        let Some(index) = self.keys.get(key) else { return Vec::new() };
        match key {
            // The figure is −k.
            Key::Temperature(_) => vec![self.unit(*index).iter().map(|cell| -cell).collect()],
            Key::Dilution(of) => {
                let bend = self.keys.get(&Key::Bend(of.clone()));
                let slope = |sign: f64| {
                    let mut sum = self.unit(*index);
                    if let Some(cell) = bend.and_then(|bend| sum.get_mut(*bend)) {
                        *cell = sign / std::f64::consts::LN_2;
                    }
                    sum
                };
                if bend.is_some() { vec![slope(1.0), slope(-1.0)] } else { vec![slope(0.0)] }
            }
            _ => Vec::new(),
        }
    }

    /// What the books know before any record.
    fn before(&mut self, model: &Model<'_>, terms: &BTreeMap<Key, Term>) -> Vec<(f64, f64)> {
        let mut figures = vec![(0.0, OPEN); self.size() - terms.len()];
        figures.extend(terms.values().map(|term| {
            let (down, up) = term.reach();
            (term.per_unit.central, f64::midpoint(down, up) / NINE_IN_TEN)
        }));
        // The time wanted: nothing is known of it, so it stands about where the records put it with the books' coefficients.
        let implied = |record: usize| {
            let of = self.of_record(record, TIME)?;
            let rest: f64 = figures.iter().zip(&of).map(|((mean, _), cell)| mean * cell).sum();
            Some(model.own.starts.get(record)?.minutes.ln() - rest)
        };
        let of_rows = |wanted: &dyn Fn(&Start) -> bool| {
            let records = model.own.starts.iter().enumerate().filter(|(_, start)| wanted(start));
            let values: Vec<f64> = records.filter_map(|(index, _)| implied(index)).collect();
            let count = u32::try_from(values.len()).ok().filter(|count| *count > 0)?;
            Some(values.iter().sum::<f64>() / f64::from(count))
        };
        let is_right = |start: &Start| start.highlights == Some(Highlights::Right);
        let sides = |start: &Start| start.highlights.is_some();
        let (centre, spread) = match (of_rows(&is_right), of_rows(&sides), of_rows(&|_| true)) {
            (Some(right), _, _) => (right, OPEN),
            (None, Some(side), _) => (side, model.table.own.one_sided / NINE_IN_TEN),
            (None, None, any) => (any.unwrap_or_default(), OPEN),
        };
        let came_out = |how: Highlights| {
            let starts = model.own.starts.iter().enumerate();
            starts.filter(move |(_, start)| start.highlights == Some(how))
        };
        let thin = came_out(Highlights::Flat);
        let longest_thin = thin.filter_map(|(index, _)| implied(index)).fold(f64::NEG_INFINITY, f64::max);
        let dense = came_out(Highlights::Blocked);
        let shortest_dense = dense.filter_map(|(index, _)| implied(index)).fold(f64::INFINITY, f64::min);
        if longest_thin > shortest_dense {
            self.warnings.push(TimingWarning::RecordsContradict);
        } else if spread < OPEN && (longest_thin.is_infinite() || shortest_dense.is_infinite()) {
            self.warnings.push(if longest_thin.is_finite() {
                TimingWarning::OnlyThin
            } else {
                TimingWarning::OnlyDense
            });
        }
        for time in figures.iter_mut().take(self.size() - terms.len()) {
            *time = (centre, spread);
        }
        if let Some((_, spread)) = self.normal.and_then(|normal| figures.get_mut(normal)) {
            *spread = OPEN;
        }
        figures
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

    /// The rows of measured gradients for a figure of the law; none where one of them is never reached.
    fn gradient_rows(&self, figure: f64, model: &Model<'_>) -> Option<Vec<(Observation, usize)>> {
        let Some(time) = self.normal else { return Some(Vec::new()) };
        let rule = &model.table.gradient;
        let mut rows = Vec::new();
        for (index, start) in model.own.starts.iter().enumerate() {
            let (Some(gradient), Some(of)) = (start.gradient, self.of_record(index, time)) else { continue };
            let at = |gradient: f64| self.shape.ln_time(figure, gradient, rule.normal);
            let here = at(gradient)?;
            let lower = (gradient - rule.reading_error).max(gradient * 0.5);
            let slope = here - at(lower)?;
            let error = slope.hypot(TIMING_ERROR);
            rows.push((
                Observation { of, says: Says::About, value: start.minutes.ln() - here, error },
                index,
            ));
        }
        Some(rows)
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

    /// Mean of a sum, and how far its range reaches below and above it; `more` adds what depends on the law of gradients.
    pub(super) fn of(&self, sum: &[f64], more: &dyn Fn(&Self, f64, &Gaussian) -> f64) -> (f64, f64, f64) {
        let skewed = |up: bool| -> Vec<f64> {
            sum.iter()
                .zip(&self.reach)
                .map(|(cell, (low, high))| {
                    let middle = f64::midpoint(*low, *high);
                    let side = if (*cell > 0.0) == up { high } else { low };
                    if middle > 0.0 { cell * side / middle } else { *cell }
                })
                .collect()
        };
        let (lower, upper) = (skewed(false), skewed(true));
        let (mut mean, mut square, mut down, mut up) = (0.0, 0.0, 0.0, 0.0);
        for Case { weight, figure, learned } in &self.cases {
            let here = learned.gaussian.of(sum).0 + more(self, *figure, &learned.gaussian);
            mean += weight * here;
            square += weight * here * here;
            down += weight * learned.gaussian.of(&lower).1;
            up += weight * learned.gaussian.of(&upper).1;
        }
        let between = (square - mean * mean).max(0.0);
        (mean, NINE_IN_TEN * (down + between).sqrt(), NINE_IN_TEN * (up + between).sqrt())
    }

    /// The time wanted as a sum.
    pub(super) fn time(&self) -> Vec<f64> {
        self.onward_from(TIME)
    }

    fn onward_from(&self, time: usize) -> Vec<f64> {
        self.unit(time).iter().zip(&self.onward).map(|(unit, onward)| unit + onward).collect()
    }

    /// What lies between a record judged and the time wanted, as a sum whose mean is the record's own time.
    pub(super) fn record(&self, index: usize) -> Option<Vec<f64>> {
        self.of_record(index, TIME)
    }

    /// The record's product.
    pub(super) fn product(&self, index: usize) -> Option<&Product> {
        self.products.get(index)?.as_ref()
    }

    /// How much of a coefficient's spread by the books is left.
    pub(super) fn left(&self, key: &Key) -> f64 {
        let (Some(index), Some(case)) = (self.keys.get(key), self.likeliest()) else { return 1.0 };
        let (low, high) = self.reach.get(*index).copied().unwrap_or_default();
        let before = f64::midpoint(low, high) / NINE_IN_TEN;
        if before <= 0.0 {
            return 1.0;
        }
        (case.learned.gaussian.of(&self.unit(*index)).1.sqrt() / before).min(1.0)
    }

    /// Terms together as records and books know them; the floor stays in so far as the books do.
    pub(super) fn judge(&self, terms: &[(&Key, &Term)]) -> (f64, f64, f64) {
        let known = || terms.iter().filter(|(key, _)| self.keys.contains_key(key)).copied();
        let (mean, down, up) = self.of(&self.sum(known()), &|_, _, _| 0.0);
        let others: Vec<(&Key, &Term)> =
            terms.iter().filter(|(key, _)| !self.keys.contains_key(key)).copied().collect();
        let (more, more_down, more_up) = super::product::by_books(&others);
        let floor = known().map(|(key, term)| (self.left(key) * term.floor_ln()).powi(2)).sum::<f64>().sqrt();
        (mean + more, down.hypot(more_down).hypot(floor), up.hypot(more_up).hypot(floor))
    }

    /// Which law of gradients holds, and whether own gradients tell it.
    pub(super) fn shape(&self) -> (&Shape, bool) {
        (&self.shape, self.normal.is_some())
    }

    /// The likeliest law of gradients, and what is known with it.
    pub(super) fn likeliest_law(&self) -> Option<(f64, &Gaussian)> {
        self.likeliest().map(|case| (case.figure, &case.learned.gaussian))
    }

    /// The time for the normal gradient as a sum; the time wanted without gradients.
    pub(super) fn normal_time(&self) -> Vec<f64> {
        self.onward_from(self.normal.unwrap_or(TIME))
    }

    /// How much each record weighed in a sum.
    pub(super) fn weights(&self, sum: &[f64], model: &Model<'_>) -> Vec<RecordWeight> {
        let mut weights = vec![0.0; self.shorts.len()];
        if let Some(case) = self.likeliest() {
            let gradients = self.gradient_rows(case.figure, model).unwrap_or_default();
            let rows = self.rows.iter().map(|(row, record)| (row, *record));
            let rows = rows.chain(gradients.iter().map(|(row, record)| (row, Some(*record))));
            for ((row, record), precision) in rows.zip(&case.learned.precision) {
                if let Some(cell) = record.and_then(|record| weights.get_mut(record)) {
                    *cell += (precision * case.learned.gaussian.between(sum, &row.of)).abs();
                }
            }
        }
        let whole: f64 = weights.iter().sum();
        let mut all = model.own.unused.clone();
        for ((record, taken), weight) in self.shorts.iter().zip(&self.taken).zip(weights) {
            all.push(RecordWeight {
                record: record.clone(),
                taken: taken.clone().unwrap_or_default(),
                weight: if whole > 0.0 { weight / whole } else { 0.0 },
            });
        }
        all
    }

    /// The record that weighs most in a sum, one that reaches; of equals the latest.
    pub(super) fn heaviest(&self, sum: &[f64], model: &Model<'_>) -> Option<usize> {
        let skip = model.own.unused.len();
        let weights = self.weights(sum, model);
        let mut best: Option<(usize, f64)> = None;
        for (index, weight) in weights.iter().skip(skip).enumerate() {
            let reaches = self.products.get(index).is_some_and(Option::is_some);
            if reaches && best.is_none_or(|(_, so_far)| weight.weight >= so_far * (1.0 - 1e-9)) {
                best = Some((index, weight.weight));
            }
        }
        best.map(|(index, _)| index)
    }

    /// What the books' figures were worth in the terms of a product.
    pub(super) fn books(&self, terms: &Product) -> Vec<BookWeight> {
        terms
            .terms()
            .filter(|(key, _)| self.keys.contains_key(key))
            .map(|(key, term)| BookWeight { name: key_name(key, term), share: self.left(key) })
            .collect()
    }
}

fn key_name(key: &Key, term: &Term) -> String {
    let first = term.words.split(',').next().unwrap_or_default();
    match key {
        Key::Bend(_) => "dilution, the step to 1+1".to_owned(),
        _ => first.to_owned(),
    }
}
