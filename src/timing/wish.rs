//! What another negative costs in time: steps of contrast, a gradient, use at another index.
//!
//! Steps count from the gradient that the known time gives, which is the normal one where nothing else is said. How the gradient grows
//! with time is the law of the developer's kind, with the range of its figure; own gradients say which law a film follows.

use super::TimingError;
use super::contrast::{Shape, gradient_ratio};
use super::figure::{Support, TimingFigure};
use super::gaussian::Gaussian;
use super::model::{Model, with_note};
use super::own::Posterior;
use super::product::{Floor, Key, Product, Term};
use super::rows::GradientRule;
use super::setup::{NegativeWish, Setup};
use crate::quantity::rounding::{show_decimals, show_short};

/// Where the floor of a change of contrast is whole, in ln t.
const WHOLE_FLOOR_CONTRAST: f64 = 0.2;
/// As which power of time a gradient near the normal one grows by the law with the table's figure.
const POWER_NEAR_NORMAL: f64 = 0.55;

/// From the gradient that a time gives to the one wanted.
struct Step<'s> {
    shape: &'s Shape,
    rule: &'s GradientRule,
    wish: &'s NegativeWish,
    /// ln of the time before, minutes.
    ln_minutes: f64,
}

impl Step<'_> {
    /// The gradient that the time before gives: as said, else by the law, else the normal one. `normal` is ln of the time for that.
    fn here(&self, figure: f64, normal: Option<f64>) -> f64 {
        let by_law = || self.shape.gradient_after(figure, self.ln_minutes - normal?, self.rule.normal);
        self.wish.known_gradient.or_else(by_law).unwrap_or(self.rule.normal)
    }

    /// The gradient wanted.
    fn wanted(&self, here: f64) -> f64 {
        let range = self.rule.subject_range - self.rule.flare;
        let ratio = gradient_ratio(range, self.rule.step, self.wish.contrast);
        self.wish.gradient.unwrap_or(here * ratio)
    }

    /// ln of the factor for a figure of the law.
    fn ln(&self, figure: f64, normal: Option<f64>) -> Option<f64> {
        let here = self.here(figure, normal);
        self.shape.ln_time_or_nearly(figure, self.wanted(here), here)
    }

    /// Refuses a gradient that is never reached.
    fn reach(&self, figure: f64, here: f64, is_own: bool) -> Result<f64, TimingError> {
        let wanted = self.wanted(here);
        let beyond = TimingError::GradientBeyondReach { infinity: figure, wanted, is_own };
        self.shape.ln_time(figure, wanted, here).ok_or(beyond)
    }

    /// By the user's own gradients.
    fn by_gradients(&self, posterior: &Posterior) -> Result<(TimingFigure, String), TimingError> {
        let nothing = vec![0.0; posterior.time().len()];
        let normal_time = posterior.normal_time();
        let normal_ln = |gaussian: &Gaussian| gaussian.of(&normal_time).0;
        let at = |_: &Posterior, figure: f64, gaussian: &Gaussian| {
            self.ln(figure, Some(normal_ln(gaussian))).unwrap_or(std::f64::consts::LN_2)
        };
        let (central, down, up) = posterior.of(&nothing, &at);
        let likeliest = posterior.likeliest_law();
        let (figure, normal) = likeliest.map_or((self.shape.figure.central, None), |(figure, gaussian)| {
            (figure, Some(normal_ln(gaussian)))
        });
        let here = self.here(figure, normal);
        self.reach(figure, here, true)?;
        let basis = format!(
            "gradient {here:.2} to {:.2} by your gradients ({} {})",
            self.wanted(here),
            self.shape.figure_words(),
            show_decimals(figure, 1)
        );
        let figure = TimingFigure {
            low: central - down,
            central,
            high: central + up,
            support: Support::OwnRecord,
            source: None,
            note: None,
        };
        Ok((figure, basis))
    }

    /// By the law of the developer's kind.
    fn by_books(&self) -> Result<(TimingFigure, String), TimingError> {
        let TimingFigure { low, central, high, .. } = self.shape.figure;
        let here = self.here(central, None);
        let middle = self.reach(central, here, false)?;
        let ends: Vec<f64> = [low, high].into_iter().filter_map(|figure| self.ln(figure, None)).collect();
        let basis = format!(
            "gradient {here:.2} to {:.2} by {} ({} {}; {} to {})",
            self.wanted(here),
            self.shape.name,
            self.shape.figure_words(),
            show_short(central, 2),
            show_short(low, 2),
            show_short(high, 2)
        );
        let figure = TimingFigure {
            low: ends.iter().copied().fold(middle, f64::min),
            central: middle,
            high: ends.iter().copied().fold(middle, f64::max),
            ..self.shape.figure.clone()
        };
        Ok((figure, with_note(&basis, self.shape.figure.note.as_deref())))
    }

    /// What is wanted, in words.
    fn words(&self) -> String {
        if let Some(wanted) = self.wish.gradient {
            return format!("contrast, gradient {wanted:.2}");
        }
        let steps = self.wish.contrast;
        let unit = if steps.abs() > 1.0 { "steps" } else { "step" };
        format!("contrast, {}{} {unit}", if steps > 0.0 { "+" } else { "" }, show_short(steps, 2))
    }
}

impl Model<'_> {
    /// Multiplies by what another contrast and another index cost. `ln_minutes` is ln of the time under the conditions wanted before.
    pub(super) fn add_wish(
        &self,
        product: &mut Product,
        to: &Setup,
        wish: &NegativeWish,
        posterior: Option<&Posterior>,
        ln_minutes: f64,
    ) -> Result<(), TimingError> {
        if wish.push != 0.0 {
            product.add(Key::Push, self.push(wish.push));
        }
        if wish.contrast == 0.0 && wish.gradient.is_none() {
            return Ok(());
        }
        let rule = &self.table.gradient;
        let shaped = posterior.filter(|posterior| posterior.shape().1);
        let shape =
            shaped.map(|posterior| posterior.shape().0).or_else(|| self.table.shape_of(&to.developer));
        let Some(shape) = shape else { return Ok(()) };
        let step = Step { shape, rule, wish, ln_minutes };
        let (per_unit, basis) = match shaped {
            Some(posterior) => step.by_gradients(posterior)?,
            None => step.by_books()?,
        };
        let share = (per_unit.central.abs() / WHOLE_FLOOR_CONTRAST).min(1.0);
        // A gradient named was read, and so was the one that the known time gives; near normal ln t goes as ln g over about 0.55.
        let read = std::f64::consts::SQRT_2 * rule.reading_error / (rule.normal * POWER_NEAR_NORMAL);
        let read = if wish.gradient.is_some() { read } else { 0.0 };
        let floor = self.table.scatter.floor.hypot(read);
        let term = Term {
            floor: shaped.is_none().then_some(Floor { ln: floor * share, whole_at: 1.0 }),
            per_unit,
            exponent: 1.0,
            spread: 0.0,
            data: None,
            basis,
            steps: Vec::new(),
            words: step.words(),
        };
        product.add(Key::Contrast, term);
        Ok(())
    }

    /// Use at another index.
    fn push(&self, stops: f64) -> Term {
        let push = &self.table.push.figure;
        let basis = format!("{} for a stop", show_decimals(push.central, 2));
        Term {
            per_unit: push.map(f64::ln),
            exponent: stops,
            spread: 0.0,
            floor: None,
            data: None,
            basis: with_note(&basis, push.note.as_deref()),
            steps: Vec::new(),
            words: format!("index, {}{} stops", if stops > 0.0 { "+" } else { "" }, show_short(stops, 2)),
        }
    }
}
