//! What the posterior tells: times, laws, and what each record and book weighs in it.

use super::{Case, NINE_IN_TEN, Posterior, TIME};
use crate::timing::contrast::Shape;
use crate::timing::gaussian::Gaussian;
use crate::timing::model::Model;
use crate::timing::product::{Key, Product, Term};
use crate::timing::records::{BookWeight, RecordWeight};

impl Posterior {
    /// Mean of a sum, and how far its range reaches below and above it; `more` adds what depends on the law of gradients.
    pub(in crate::timing) fn of(
        &self,
        sum: &[f64],
        more: &dyn Fn(&Self, f64, &Gaussian) -> f64,
    ) -> (f64, f64, f64) {
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
    pub(in crate::timing) fn time(&self) -> Vec<f64> {
        self.onward_from(TIME)
    }

    fn onward_from(&self, time: usize) -> Vec<f64> {
        self.unit(time).iter().zip(&self.onward).map(|(unit, onward)| unit + onward).collect()
    }

    /// What lies between a record judged and the time wanted, as a sum whose mean is the record's own time.
    pub(in crate::timing) fn record(&self, index: usize) -> Option<Vec<f64>> {
        self.of_record(index, TIME)
    }

    /// The record's product.
    pub(in crate::timing) fn product(&self, index: usize) -> Option<&Product> {
        self.products.get(index)?.as_ref()
    }

    /// How much of a coefficient's spread by the books is left.
    pub(in crate::timing) fn left(&self, key: &Key) -> f64 {
        let (Some(index), Some(case)) = (self.keys.get(key), self.likeliest()) else { return 1.0 };
        let (low, high) = self.reach.get(*index).copied().unwrap_or_default();
        let before = f64::midpoint(low, high) / NINE_IN_TEN;
        if before <= 0.0 {
            return 1.0;
        }
        (case.learned.gaussian.of(&self.unit(*index)).1.sqrt() / before).min(1.0)
    }

    /// Terms together as records and books know them; the floor stays in so far as the books do.
    pub(in crate::timing) fn judge(&self, terms: &[(&Key, &Term)]) -> (f64, f64, f64) {
        let known = || terms.iter().filter(|(key, _)| self.keys.contains_key(key)).copied();
        let (mean, down, up) = self.of(&self.sum(known()), &|_, _, _| 0.0);
        let others: Vec<(&Key, &Term)> =
            terms.iter().filter(|(key, _)| !self.keys.contains_key(key)).copied().collect();
        let (more, more_down, more_up) = crate::timing::product::by_books(&others);
        let floor = known().map(|(key, term)| (self.left(key) * term.floor_ln()).powi(2)).sum::<f64>().sqrt();
        (mean + more, down.hypot(more_down).hypot(floor), up.hypot(more_up).hypot(floor))
    }

    /// Which law of gradients holds, and whether own gradients tell it.
    pub(in crate::timing) fn shape(&self) -> (&Shape, bool) {
        (&self.shape, self.normal.is_some())
    }

    /// The likeliest law of gradients, and what is known with it.
    pub(in crate::timing) fn likeliest_law(&self) -> Option<(f64, &Gaussian)> {
        self.likeliest().map(|case| (case.figure, &case.learned.gaussian))
    }

    /// The time for the normal gradient as a sum; the time wanted without gradients.
    pub(in crate::timing) fn normal_time(&self) -> Vec<f64> {
        self.onward_from(self.normal.unwrap_or(TIME))
    }

    /// How much each record weighed in a sum.
    pub(in crate::timing) fn weights(&self, sum: &[f64], model: &Model<'_>) -> Vec<RecordWeight> {
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
    pub(in crate::timing) fn heaviest(&self, sum: &[f64], model: &Model<'_>) -> Option<usize> {
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
    pub(in crate::timing) fn books(&self, terms: &Product) -> Vec<BookWeight> {
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
