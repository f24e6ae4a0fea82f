//! Records and measured gradients as rows of one system.

use super::{NINE_IN_TEN, OPEN, Posterior, TIME, TIMING_ERROR};
use crate::journal::Highlights;
use crate::timing::gaussian::{Observation, Says};
use crate::timing::limits::TimingWarning;
use crate::timing::model::Model;
use crate::timing::product::{Key, Term};
use crate::timing::records::Start;
use std::collections::BTreeMap;

impl Posterior {
    /// ln of a record's own time as a sum of figures: a figure of time and what lies between.
    pub(in crate::timing) fn of_record(&self, record: usize, time: usize) -> Option<Vec<f64>> {
        let product = self.products.get(record)?.as_ref()?;
        let mut sum = self.sum(product.terms());
        for (cell, onward) in sum.iter_mut().zip(&self.onward) {
            *cell = onward - *cell;
        }
        *sum.get_mut(time)? += 1.0;
        Some(sum)
    }

    /// Turns records into rows.
    pub(in crate::timing) fn take(&mut self, model: &Model<'_>, terms: &BTreeMap<Key, Term>) {
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
    pub(in crate::timing) fn before(
        &mut self,
        model: &Model<'_>,
        terms: &BTreeMap<Key, Term>,
    ) -> Vec<(f64, f64)> {
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

    /// The rows of measured gradients for a figure of the law; none where one of them is never reached.
    pub(in crate::timing) fn gradient_rows(
        &self,
        figure: f64,
        model: &Model<'_>,
    ) -> Option<Vec<(Observation, usize)>> {
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
}
