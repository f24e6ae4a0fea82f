//! The answer: from a known time under known conditions to a time under others, with its range and derivation.

use super::TimingError;
use super::figure::Support;
use super::gaussian::Gaussian;
use super::limits::{self, TimingWarning};
use super::model::Model;
use super::own::Posterior;
use super::product::{Factor, Key, Product, by_books};
use super::records::{BookWeight, RecordWeight};
use super::relation::Route;
use super::setup::{Alternative, NegativeWish, Setup, TankFill, TimeQuestion};
use crate::quantity::rounding::{show_significant, to_step};
use crate::quantity::{Duration, Temperature};

/// Share of a figure's spread by the books below which it counts as known from own records.
const LEARNED: f64 = 0.7;
/// Share of it below which the records are told to have moved it.
const TOUCHED: f64 = 0.98;
/// Gradients that a film may have.
const LEAST_GRADIENT: f64 = 0.2;
const MOST_GRADIENT: f64 = 2.5;

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// The known time.
    pub known: Duration,
    /// The time to start from, unrounded.
    pub time: Duration,
    /// Low end of the range.
    pub low: Duration,
    /// High end of the range.
    pub high: Duration,
    /// The derivation; empty where nothing changes.
    pub factors: Vec<Factor>,
    /// The formulas passed between the two developers.
    pub by: Vec<String>,
    /// Other ways between the two developers.
    pub alternatives: Vec<Alternative>,
    /// What to mind.
    pub warnings: Vec<TimingWarning>,
    /// The record started from, in words.
    pub start: Option<String>,
    /// Conditions of the record started from.
    pub from: Option<Setup>,
    /// What each record weighed, in the order of their dates; empty without records.
    pub records: Vec<RecordWeight>,
    /// What the books' figures were worth beside the records.
    pub books: Vec<BookWeight>,
    /// Whether it is paper that is developed.
    pub is_paper: bool,
}

/// Time from which on a timer is set to the coarser step, s.
const COARSE_FROM_S: f64 = 600.0;

impl Estimate {
    /// The step to which a person sets a timer: 5 s below 10 min, else 15 s (common practice, no source).
    pub fn timer_step_s(&self) -> f64 {
        step_s(self.time)
    }

    /// The time as a person would set it; the known time itself where nothing changes.
    pub fn timer(&self) -> Duration {
        if self.factors.is_empty() {
            self.time
        } else {
            Duration::from_s(to_step(self.time.as_s(), self.timer_step_s()))
        }
    }

    /// The range to the steps of a timer, rounded outwards so that it still holds.
    pub fn timer_range(&self) -> Option<(Duration, Duration)> {
        if self.factors.is_empty() {
            return None;
        }
        let (down, up) = (step_s(self.low), step_s(self.high));
        let low = (self.low.as_s() / down).floor() * down;
        Some((Duration::from_s(low), Duration::from_s((self.high.as_s() / up).ceil() * up)))
    }

    /// The least certain factor, in a word.
    fn least_certain(&self) -> Option<&str> {
        let width = |factor: &Factor| (factor.high / factor.low).ln();
        let widest = self.factors.iter().max_by(|one, other| width(one).total_cmp(&width(other)))?;
        Some(widest.name.split(',').next().unwrap_or_default())
    }

    /// What to test first, and how to judge it.
    pub fn test_first(&self) -> String {
        let Some(what) = self.least_certain() else {
            return if self.is_paper {
                "Nothing changes against the known time.".to_owned()
            } else {
                "Nothing changes against the known time, so nothing needs a test.".to_owned()
            };
        };
        if self.is_paper {
            format!(
                "one print first: {what} has the widest range. Go by when the image appears: total over appearance stays the same (`soupcon factorial`)."
            )
        } else {
            format!(
                "three ordinary frames first: {what} has the widest range. Highlights flat: longer; blocked: less. Shadows empty: expose more."
            )
        }
    }
}

fn step_s(time: Duration) -> f64 {
    if time.as_s() < COARSE_FROM_S { 5.0 } else { 15.0 }
}

impl Model<'_> {
    /// Answers a question.
    ///
    /// # Errors
    /// Conditions under which no time can be told, or no relation between the developers.
    pub fn adjust(&self, question: &TimeQuestion) -> Result<Estimate, TimingError> {
        let TimeQuestion { known, from, to, wish, .. } = question;
        self.check(from, to, wish)?;
        let Route { mut product, by, alternatives, guessed } = self.product(from, to)?;
        let posterior = Posterior::new(self, to, Some(&product));
        let mut warnings = Vec::new();
        limits::disagreements(&product, &alternatives, &mut warnings);
        let before: f64 = match &posterior {
            Some(posterior) => posterior.judge(&product.terms().collect::<Vec<_>>()).0,
            None => product.ln().0,
        };
        self.add_wish(&mut product, to, wish, posterior.as_ref(), known.as_min().ln() + before)?;
        let terms: Vec<_> = product.terms().collect();
        let (ln, down, up) = match &posterior {
            Some(posterior) => posterior.judge(&terms),
            None => by_books(&terms),
        };
        let factors = match &posterior {
            Some(posterior) => {
                mark_own(product.factors(&|terms| posterior.judge(terms)), &product, posterior)
            }
            None => product.factors(&by_books),
        };
        let times = |ln: f64| Duration::from_s(known.as_s() * ln.exp());
        let (time, low, high) = if factors.is_empty() {
            (*known, *known, *known)
        } else {
            (times(ln), times(ln - down), times(ln + up))
        };
        if !guessed.is_empty() {
            let (from, to) = (from.developer.id.clone(), to.developer.id.clone());
            warnings.insert(0, TimingWarning::Guess { from, to, taken: guessed });
        }
        limits::collect(self, question, &product, time, &mut warnings);
        let is_paper = to.developer.is_for_paper(&to.working);
        let mut estimate = Estimate {
            known: *known,
            time,
            low,
            high,
            factors,
            by,
            alternatives,
            warnings,
            start: None,
            from: None,
            records: self.own.unused.clone(),
            books: Vec::new(),
            is_paper,
        };
        if estimate.timer().as_s() <= 0.0 {
            return Err(TimingError::TooShort { seconds: show_significant(time.as_s()) });
        }
        if let Some(mut posterior) = posterior {
            let sum = posterior.sum(product.terms());
            estimate.records = posterior.weights(&sum, self);
            estimate.books = posterior.books(&product);
            estimate.warnings.append(&mut posterior.warnings);
        }
        Ok(estimate)
    }

    /// Answers from all of the user's own records together.
    ///
    /// # Errors
    /// No record that reaches the conditions wanted, or conditions under which no time can be told.
    pub fn adjust_from_own(
        &self,
        to: &Setup,
        wish: &NegativeWish,
        tank: Option<TankFill>,
    ) -> Result<Estimate, TimingError> {
        let none = || TimingError::NoRecord { film: self.own.film.clone(), others: self.own.starts.len() };
        self.check(to, to, wish)?;
        let mut posterior = Posterior::new(self, to, None).ok_or_else(none)?;
        let time = posterior.time();
        let index = posterior.heaviest(&time, self).ok_or_else(none)?;
        let start = self.own.starts.get(index).ok_or_else(none)?;
        let mut product = posterior.product(index).cloned().ok_or_else(none)?;
        let route = self.product(&start.setup, to)?;
        let mut warnings = Vec::new();
        if !route.guessed.is_empty() {
            let (from, to) = (start.setup.developer.id.clone(), to.developer.id.clone());
            warnings.push(TimingWarning::Guess { from, to, taken: route.guessed });
        }
        let before = posterior.of(&time, &|_, _, _| 0.0).0;
        self.add_wish(&mut product, to, wish, Some(&posterior), before)?;
        let wished: Vec<_> =
            product.terms().filter(|(key, _)| matches!(key, Key::Contrast | Key::Push)).collect();
        let (ln, down, up) = posterior.of(&time, &|_, _, _| 0.0);
        let (more, more_down, more_up) = by_books(&wished);
        let (mut ln, mut down, mut up) = (ln + more, down.hypot(more_down), up.hypot(more_up));
        if let (Some(gradient), (shape, true)) = (wish.gradient, posterior.shape()) {
            // A gradient wanted is told by gradients measured, not by what was judged.
            let normal = self.table.gradient.normal;
            let law = |_: &Posterior, figure: f64, _: &Gaussian| {
                shape.ln_time_or_nearly(figure, gradient, normal).unwrap_or_default()
            };
            let pushed: Vec<_> = product.terms().filter(|(key, _)| matches!(key, Key::Push)).collect();
            let (push, push_down, push_up) = by_books(&pushed);
            let by_law = posterior.of(&posterior.normal_time(), &law);
            (ln, down, up) = (by_law.0 + push, by_law.1.hypot(push_down), by_law.2.hypot(push_up));
        }
        let known = Duration::from_min(start.minutes);
        let times = |ln: f64| Duration::from_min(ln.exp());
        let mut factors = mark_own(product.factors(&|terms| posterior.judge(terms)), &product, &posterior);
        factors.insert(0, together(&posterior, index, start.minutes).ok_or_else(none)?);
        let answer = times(ln);
        let question = TimeQuestion { known, from: start.setup.clone(), to: to.clone(), wish: *wish, tank };
        limits::collect(self, &question, &product, answer, &mut warnings);
        warnings.append(&mut posterior.warnings);
        let records = posterior.weights(&time, self);
        if records.iter().all(|record| record.taken.starts_with("not ")) {
            warnings.push(TimingWarning::NotJudged);
        }
        Ok(Estimate {
            known,
            time: answer,
            low: times(ln - down),
            high: times(ln + up),
            factors,
            by: route.by,
            alternatives: Vec::new(),
            warnings,
            start: Some(start.words.clone()),
            from: Some(start.setup.clone()),
            records,
            books: posterior.books(&product),
            is_paper: to.developer.is_for_paper(&to.working),
        })
    }

    /// Answers from the time on the wanted formula's own card, where there is one.
    ///
    /// # Errors
    /// No time on the card for these parts, or conditions under which no time can be told.
    pub fn adjust_from_card(
        &self,
        to: &Setup,
        wish: &NegativeWish,
        tank: Option<TankFill>,
    ) -> Result<Option<Estimate>, TimingError> {
        let Some(card) = to.developer.card_time(&to.working) else { return Ok(None) };
        let celsius = card.celsius.unwrap_or(self.table.usual_celsius(to));
        let from =
            Setup { working: card.working.clone(), temperature: Temperature::from_c(celsius), ..to.clone() };
        let (shortest, longest) = card.minutes;
        let half = (longest / shortest).ln() / 2.0;
        let known = Duration::from_min((shortest * longest).sqrt());
        let question = TimeQuestion { known, from: from.clone(), to: to.clone(), wish: *wish, tank };
        let mut answer = Self::new(self.table, self.lookup.source).adjust(&question)?;
        let ln = (answer.time.as_s() / known.as_s()).ln();
        let down = (ln - (answer.low.as_s() / known.as_s()).ln()).hypot(half);
        let up = ((answer.high.as_s() / known.as_s()).ln() - ln).hypot(half);
        let times = |ln: f64| Duration::from_s(known.as_s() * ln.exp());
        (answer.low, answer.high) = (times(ln - down), times(ln + up));
        answer.factors.insert(
            0,
            Factor {
                name: "card, its own times".to_owned(),
                short: "card".to_owned(),
                factor: 1.0,
                low: (-half).exp(),
                high: half.exp(),
                support: Support::Estimate,
                source: card.source.clone(),
                basis: format!(
                    "{} to {} for {}, films not distinguished",
                    Duration::from_min(shortest),
                    Duration::from_min(longest),
                    card.name
                ),
            },
        );
        answer.warnings.insert(0, TimingWarning::FromCard { formula: to.developer.id.clone() });
        answer.start = Some(format!(
            "the card of {}: {}, {} to {} at {}",
            to.developer.id,
            card.working,
            Duration::from_min(shortest),
            Duration::from_min(longest),
            from.temperature
        ));
        answer.from = Some(from);
        Ok(Some(answer))
    }

    /// Refuses what cannot be answered.
    fn check(&self, from: &Setup, to: &Setup, wish: &NegativeWish) -> Result<(), TimingError> {
        for setup in [from, to] {
            setup.developer.must_be_timed(&setup.working, self.table)?;
            self.table.agitation(&setup.agitation)?;
            self.check_dilution(setup)?;
            let (celsius, limits) = (setup.temperature.as_c(), &self.table.limits);
            if !(limits.coldest_celsius - 1e-9..=limits.hottest_celsius + 1e-9).contains(&celsius) {
                return Err(TimingError::Temperature {
                    celsius,
                    coldest: limits.coldest_celsius,
                    hottest: limits.hottest_celsius,
                });
            }
        }
        from.developer.must_be_of_the_kind_of(&to.developer)?;
        let most = self.table.gradient.most_steps;
        if !wish.contrast.is_finite() || wish.contrast.abs() > most {
            return Err(TimingError::ContrastSteps { steps: wish.contrast, most });
        }
        let most = self.table.push.most_stops;
        if !wish.push.is_finite() || wish.push.abs() > most {
            return Err(TimingError::PushStops { stops: wish.push, most });
        }
        for gradient in [wish.gradient, wish.known_gradient].into_iter().flatten() {
            if !(LEAST_GRADIENT..=MOST_GRADIENT).contains(&gradient) {
                return Err(TimingError::Gradient { gradient, least: LEAST_GRADIENT, most: MOST_GRADIENT });
            }
        }
        Ok(())
    }

    fn check_dilution(&self, setup: &Setup) -> Result<(), TimingError> {
        let developer = &setup.developer;
        let data = self.table.dilution_of(developer).and_then(|coefficient| coefficient.range);
        let named = developer.named_ratios();
        let known = [data, named].into_iter().flatten().map(|(_, high)| high).fold(1.0, f64::max);
        let ratio = setup.working.ratio();
        if ratio <= known * self.table.limits.farthest_dilution {
            return Ok(());
        }
        let (formula, dilution) = (developer.id.clone(), setup.working.to_string());
        Err(TimingError::Dilution { formula, dilution, ratio, known })
    }
}

/// What the records say of one time together, beside the one started from.
fn together(posterior: &Posterior, index: usize, minutes: f64) -> Option<Factor> {
    let (ln, down, up) = posterior.of(&posterior.record(index)?, &|_, _, _| 0.0);
    let off = ln - minutes.ln();
    Some(Factor {
        name: "your own judging, all records together against the one started from".to_owned(),
        short: "records".to_owned(),
        factor: off.exp(),
        low: (off - down).exp(),
        high: (off + up).exp(),
        support: Support::OwnRecord,
        source: None,
        basis: "how well your records know the time they were judged at".to_owned(),
    })
}

/// Marks what own records tell better than the books do.
fn mark_own(mut factors: Vec<Factor>, product: &Product, posterior: &Posterior) -> Vec<Factor> {
    let keys: Vec<&Key> =
        product.terms().map(|(key, _)| key).filter(|key| !matches!(key, Key::Bend(_))).collect();
    for (factor, key) in factors.iter_mut().zip(keys) {
        let left = posterior.left(key);
        if left < LEARNED {
            factor.support = Support::OwnRecord;
            factor.source = None;
            factor.basis = format!("mostly by your records; before them {}", factor.basis);
        } else if left < TOUCHED {
            factor.basis = format!("moved by your records; before them {}", factor.basis);
        }
    }
    factors
}
