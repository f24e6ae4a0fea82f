//! The answer: from a known time under known conditions to a time under others, with its range and derivation.
//!
//! ln t = ln t₀ + Σ ln factors; see [`super::product`] for how ranges combine. Identical conditions give exactly the known time.

use std::rc::Rc;

use super::TimingError;
use super::contrast::gradient_ratio;
use super::developer::Developer;
use super::dilution::Working;
use super::figure::{Figure, Support};
use super::limits::{self, Warning};
use super::own::Own;
use super::product::{Factor, Key, Product, Term};
use super::relation::{self, Lookup, Way};
use super::table::{Coefficient, Table};
use super::temperature::TypedCoefficient;
use crate::quantity::rounding::{show_decimals, show_short, to_step};
use crate::quantity::{Duration, Temperature};

/// A formula near another by composition.
#[derive(Debug, Clone, PartialEq)]
pub struct Neighbour {
    /// Id.
    pub id: String,
    /// Distance; smaller is nearer.
    pub distance: f64,
}

/// Where developers are looked up, and which are near by composition; the caller has the library and the composition.
pub trait Developers {
    /// The developer with that id, as the library gives it.
    fn developer(&self, id: &str) -> Option<Developer>;

    /// Developers near one by composition, nearest first; none where that is not known.
    fn nearest(&self, _developer: &Developer) -> Vec<Neighbour> {
        Vec::new()
    }
}

/// Conditions of development.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// The developer.
    pub developer: Rc<Developer>,
    /// The working solution.
    pub working: Working,
    /// Temperature of the bath.
    pub temperature: Temperature,
    /// Way of agitation, a name of the table.
    pub agitation: String,
}

/// Films and tank, to see whether the stock is enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tank {
    /// Rolls of 516 cm² each.
    pub rolls: f64,
    /// Volume of working solution, mL.
    pub volume_ml: f64,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// The time that works.
    pub known: Duration,
    /// Under these conditions.
    pub from: Setup,
    /// The conditions wanted.
    pub to: Setup,
    /// Steps of contrast more (or, below zero, less).
    pub contrast: f64,
    /// Films and tank.
    pub tank: Option<Tank>,
}

/// Another way between the two developers.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// The formulas it passes.
    pub by: String,
    /// Its whole factor.
    pub factor: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

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
    pub warnings: Vec<Warning>,
    /// The record started from, in words.
    pub start: Option<String>,
    variance: f64,
}

impl Estimate {
    /// The step to which a person sets a timer: 5 s below 5 min, else 15 s.
    pub fn timer_step_s(&self) -> f64 {
        if self.time.as_s() < 300.0 { 5.0 } else { 15.0 }
    }

    /// The time as a person would set it; the known time itself where nothing changes.
    pub fn timer(&self) -> Duration {
        if self.factors.is_empty() {
            self.time
        } else {
            Duration::from_s(to_step(self.time.as_s(), self.timer_step_s()))
        }
    }

    /// The range to the same step, rounded outwards so that it still holds.
    pub fn timer_range(&self) -> Option<(Duration, Duration)> {
        if self.factors.is_empty() {
            return None;
        }
        let step = self.timer_step_s();
        let low = (self.low.as_s() / step).floor() * step;
        Some((Duration::from_s(low), Duration::from_s((self.high.as_s() / step).ceil() * step)))
    }

    /// One sentence on what to test first.
    pub fn test_first(&self) -> String {
        let widest = self.factors.iter().max_by(|one, other| {
            let width = |factor: &Factor| (factor.high / factor.low).ln();
            width(one).total_cmp(&width(other))
        });
        let Some(widest) = widest else {
            return "Nothing changes against the known time, so nothing needs a test.".to_owned();
        };
        let what = widest.name.split(',').next().unwrap_or_default();
        format!(
            "Develop a short end of the same film for {} before a whole roll: the least certain factor is {what}; go longer if it comes out thin, shorter if dense, and record it.",
            self.timer()
        )
    }
}

/// The table, the developers, the user's own data and coefficient: all that answers are made from.
#[allow(missing_debug_implementations, reason = "holds the caller's look-up")]
pub struct Model<'a> {
    pub(super) table: &'a Table,
    pub(super) lookup: Lookup<'a>,
    pub(super) own: Own,
    given: Option<Rc<Coefficient>>,
}

impl<'a> Model<'a> {
    /// A model with the table's factors only.
    pub fn new(table: &'a Table, developers: &'a dyn Developers) -> Self {
        Self { table, lookup: Lookup::new(developers), own: Own::default(), given: None }
    }

    /// With a temperature coefficient that the user gives; it takes the place of all others.
    #[must_use]
    pub fn with_coefficient(mut self, coefficient: TypedCoefficient) -> Self {
        let figure = Figure::given(coefficient.ln_per_degree());
        self.given = Some(Rc::new(Coefficient::own("your coefficient".to_owned(), figure, None)));
        self
    }

    /// With the user's own records of a film; what they show takes the place of the books.
    #[must_use]
    pub fn with_own(mut self, film: &str, records: &[crate::journal::Developed]) -> Self {
        self.own = Own::new(film, records, self.table, &self.lookup);
        self
    }

    /// The user's own data in use.
    pub fn own(&self) -> &Own {
        &self.own
    }

    /// Answers a question.
    ///
    /// # Errors
    /// Conditions under which no time can be told, or no relation between the developers.
    pub fn adjust(&self, question: &Question) -> Result<Estimate, TimingError> {
        let Question { known, from, to, .. } = question;
        self.check(question)?;
        let mut warnings = Vec::new();
        let (mut ways, mut guessed) = (Vec::new(), Vec::new());
        if from.developer == to.developer {
            let mut product = Product::default();
            self.convert(&mut product, from, to)?;
            ways.push(Way::direct(product, &from.developer.id));
        } else {
            ways = relation::ways(self, from, to);
            if ways.is_empty() {
                let guess = relation::guess(self, from, to).ok_or_else(|| self.no_relation(from, to))?;
                ways.push(guess.way);
                guessed = guess.taken;
            }
        }
        let mut ways = ways.into_iter();
        let mut way = ways.next().ok_or_else(|| self.no_relation(from, to))?;
        let alternatives: Vec<Alternative> = ways.take(3).map(|way| way.as_alternative()).collect();
        limits::disagreements(&way, &alternatives, &mut warnings);
        self.add_contrast(&mut way.product, question)?;
        let (ln, down, up) = way.product.ln();
        let variance = way.product.variance();
        let times = |ln: f64| Duration::from_s(known.as_s() * ln.exp());
        let factors = way.product.factors();
        let (time, low, high) = if factors.is_empty() {
            (*known, *known, *known)
        } else {
            (times(ln), times(ln - down), times(ln + up))
        };
        if !guessed.is_empty() {
            let (from, to) = (from.developer.id.clone(), to.developer.id.clone());
            warnings.insert(0, Warning::Guess { from, to, taken: guessed });
        }
        limits::collect(self, question, &way.product, time, &mut warnings);
        Ok(Estimate {
            known: *known,
            time,
            low,
            high,
            factors,
            by: way.formulas,
            alternatives,
            warnings,
            start: None,
            variance,
        })
    }

    /// Answers from the nearest of the user's own records: the one that leaves the least uncertainty, the latest of equals.
    ///
    /// # Errors
    /// No record that reaches the conditions wanted, or conditions under which no time can be told.
    pub fn adjust_from_own(
        &self,
        to: &Setup,
        contrast: f64,
        tank: Option<Tank>,
    ) -> Result<Estimate, TimingError> {
        let mut best: Option<(bool, Estimate)> = None;
        let mut last_error = None;
        for start in &self.own.starts {
            let question = Question {
                known: Duration::from_min(start.minutes),
                from: start.setup.clone(),
                to: to.clone(),
                contrast,
                tank,
            };
            match self.adjust(&question) {
                Ok(mut estimate) => {
                    estimate.start = Some(start.words.clone());
                    start.warn(&mut estimate.warnings);
                    let better = best.as_ref().is_none_or(|(is_right, so_far)| {
                        (start.is_right && !is_right)
                            || (start.is_right == *is_right && estimate.variance <= so_far.variance)
                    });
                    if better {
                        best = Some((start.is_right, estimate));
                    }
                }
                Err(TimingError::NoRelation { .. }) => {}
                Err(error) => last_error = Some(error),
            }
        }
        match (best, last_error) {
            (Some((_, estimate)), _) => Ok(estimate),
            (None, Some(error)) => Err(error),
            (None, None) => {
                Err(TimingError::NoRecord { film: self.own.film.clone(), others: self.own.starts.len() })
            }
        }
    }

    fn no_relation(&self, from: &Setup, to: &Setup) -> TimingError {
        let near = relation::nearest_relatives(self, from, to).into_iter();
        let words = |(id, near): (String, Neighbour)| {
            format!(
                "the nearest to {id} that has one is {} (distance {})",
                near.id,
                show_short(near.distance, 1)
            )
        };
        TimingError::NoRelation {
            from: from.developer.id.clone(),
            to: to.developer.id.clone(),
            near: near.map(words).collect(),
        }
    }

    /// Refuses what cannot be answered.
    fn check(&self, question: &Question) -> Result<(), TimingError> {
        let Question { from, to, contrast, .. } = question;
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
        let most = self.table.contrast.most_steps;
        if !contrast.is_finite() || contrast.abs() > most {
            return Err(TimingError::ContrastSteps { steps: *contrast, most });
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

    /// Multiplies by what a change of dilution, temperature and agitation in one developer costs.
    pub(super) fn convert(&self, product: &mut Product, from: &Setup, to: &Setup) -> Result<(), TimingError> {
        let developer = &from.developer;
        if !from.working.same_proportions(&to.working) {
            return Err(TimingError::OtherProportions {
                formula: developer.id.clone(),
                one: from.working.to_string(),
                other: to.working.to_string(),
            });
        }
        let own =
            |known: &std::collections::BTreeMap<String, Rc<Coefficient>>| known.get(&developer.id).cloned();
        let temperature = self.given.clone().or_else(|| own(&self.own.temperature));
        let (start, end) = (from.temperature.as_c(), to.temperature.as_c());
        if let Some(coefficient) = temperature.or_else(|| self.table.temperature_of(developer))
            && (end - start).abs() > 1e-9
        {
            let words = format!("temperature, {} to {}", from.temperature, to.temperature);
            let term = self.temperature_term(&coefficient, start, end, words);
            product.add(Key::Temperature(coefficient.name.clone()), term);
        }
        let (start, end) = (from.working.ratio(), to.working.ratio());
        if let Some(coefficient) = own(&self.own.dilution).or_else(|| self.table.dilution_of(developer))
            && (end / start).ln().abs() > 1e-9
        {
            let words = format!("dilution, {} to {}", from.working, to.working);
            let term = dilution_term(&coefficient, (start, end), words);
            product.add(Key::Dilution(coefficient.name.clone()), term);
        }
        if from.agitation != to.agitation {
            let words = format!("agitation, {} to {}", from.agitation, to.agitation);
            for (name, exponent) in [(&from.agitation, -1.0), (&to.agitation, 1.0)] {
                let (found, figure) = self.table.agitation(name)?;
                if figure.low < figure.high {
                    product.add(
                        Key::Agitation(found.name.clone()),
                        agitation_term(&found.words, figure, exponent, &words),
                    );
                }
            }
        }
        Ok(())
    }

    fn temperature_term(&self, coefficient: &Coefficient, start: f64, end: f64, words: String) -> Term {
        let ten = coefficient.figure.map(|k| (10.0 * k).exp());
        let range = if ten.low < ten.high {
            format!(" ({} to {})", show_decimals(ten.low, 2), show_decimals(ten.high, 2))
        } else {
            String::new()
        };
        let scatter = coefficient.is_from_books().then_some(self.table.scatter);
        let wider =
            if scatter.is_some() { ", the range widened by the scatter of published tables" } else { "" };
        let central = show_decimals(ten.central, 2);
        let basis = format!("factor {central} for 10 °C{range}{wider}: {}", coefficient.name);
        Term {
            // Warmer is shorter.
            per_unit: coefficient.figure.map(|k| -k),
            exponent: end - start,
            scatter,
            data: coefficient.range,
            basis: with_note(&basis, coefficient.figure.note.as_deref()),
            steps: vec![(start, end)],
            words,
        }
    }

    /// Multiplies by what more or less contrast costs: by the user's own gradients where they tell, else by the rule of thumb.
    fn add_contrast(&self, product: &mut Product, question: &Question) -> Result<(), TimingError> {
        let steps = question.contrast;
        if steps == 0.0 {
            return Ok(());
        }
        let rule = &self.table.contrast;
        let unit = if steps.abs() > 1.0 { "steps" } else { "step" };
        let words =
            format!("contrast, {}{} {unit}", if steps > 0.0 { "+" } else { "" }, show_short(steps, 2));
        let range = rule.subject_range - rule.flare;
        let ratio = gradient_ratio(range, rule.step, steps);
        let minutes = question.known.as_min() * product.ln().0.exp();
        let term = match self.own.contrast(self, &question.to, minutes, ratio)? {
            Some((per_unit, basis)) => {
                Term { per_unit, exponent: 1.0, scatter: None, data: None, basis, steps: Vec::new(), words }
            }
            None => Term {
                per_unit: rule.figure.map(f64::ln),
                exponent: steps,
                scatter: None,
                data: None,
                basis: with_note("rule of thumb for each step", rule.figure.note.as_deref()),
                steps: Vec::new(),
                words,
            },
        };
        product.add(Key::Contrast, term);
        Ok(())
    }
}

impl Way {
    fn as_alternative(&self) -> Alternative {
        let (ln, down, up) = self.product.ln();
        Alternative {
            by: self.formulas.join(" - "),
            factor: ln.exp(),
            low: (ln - down).exp(),
            high: (ln + up).exp(),
        }
    }
}

fn dilution_term(coefficient: &Coefficient, ratios: (f64, f64), words: String) -> Term {
    let (start, end) = ratios;
    let Figure { low, central, high, .. } = coefficient.figure;
    let show = |value: f64| show_short(value, 2);
    let range = if low < high { format!(" ({} to {})", show(low), show(high)) } else { String::new() };
    let basis = format!("exponent {}{range}: {}", show(central), coefficient.name);
    Term {
        per_unit: coefficient.figure.clone(),
        exponent: (end / start).ln(),
        scatter: None,
        data: coefficient.range,
        basis: with_note(&basis, coefficient.figure.note.as_deref()),
        steps: vec![(start, end)],
        words,
    }
}

fn agitation_term(of: &str, figure: &Figure, exponent: f64, words: &str) -> Term {
    let basis = format!("{of}: {} times intermittent inversion", show_short(figure.central, 2));
    Term {
        per_unit: figure.map(f64::ln),
        exponent,
        scatter: None,
        data: None,
        basis: with_note(&basis, figure.note.as_deref()),
        steps: Vec::new(),
        words: words.to_owned(),
    }
}

fn with_note(basis: &str, note: Option<&str>) -> String {
    note.map_or_else(|| basis.to_owned(), |note| format!("{basis}. {note}"))
}

/// Whether a figure rests on nothing that was read or measured.
pub(super) fn is_unread(support: Support) -> bool {
    matches!(support, Support::Memory | Support::Estimate | Support::Guess)
}
