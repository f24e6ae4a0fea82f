//! A file's own `[[check]]` tables: published figures that the program must reproduce.

use super::{Judge, Linter};
use crate::composition::{Component, Composition};
use crate::formula::{CheckQuantity, Chemicals as _, Formula, SelfCheck};
use crate::predict::predict_part;
use crate::quantity::USUAL_C;
use crate::quantity::rounding::show_significant;

/// What the program gives for a check.
#[derive(Debug, Clone, PartialEq)]
enum Outcome {
    /// A figure to compare.
    Figure(f64),
    /// No figure, for want of a prediction.
    NotPredicted,
    /// The check itself is wrong, or the figure cannot be known.
    Impossible(String),
}

/// How many checks can be looked at, and how many cannot.
pub(super) fn count(formula: &Formula, with_ph: bool) -> (usize, usize) {
    let needs_ph = formula.checks.iter().filter(|check| check.quantity == CheckQuantity::Ph).count();
    let all = formula.checks.len();
    if with_ph { (all, 0) } else { (all - needs_ph, needs_ph) }
}

pub(super) fn judge(judge: &mut Judge<'_>) {
    let (formula, linter) = (judge.formula, judge.linter);
    for check in &formula.checks {
        if !(check.tolerance.is_finite() && check.tolerance > 0.0 && check.expected.is_finite()) {
            let message = "a check needs an expected figure and a tolerance above zero";
            let fix = "write tolerance as half of the last printed place, or wider with tolerance_note";
            judge.warn("check", Some(check.line), message, fix);
            continue;
        }
        match outcome(check, formula, linter) {
            Outcome::NotPredicted => {}
            Outcome::Impossible(message) => {
                let fix = "name a substance, a form and a part of this formula";
                judge.warn("check", Some(check.line), message, fix);
            }
            Outcome::Figure(figure) if (figure - check.expected).abs() <= check.tolerance => {}
            Outcome::Figure(figure) => {
                let message = format!(
                    "{} comes to {}, but {} publishes {} (tolerance {})",
                    what(check),
                    show_significant(figure),
                    check.source,
                    show_significant(check.expected),
                    show_significant(check.tolerance)
                );
                let fix = "look the amount, the form and the unit up in the source";
                judge.warn("check-failed", Some(check.line), message, fix);
            }
        }
    }
}

fn what(check: &SelfCheck) -> String {
    let substance = check.substance.as_deref().unwrap_or("the solution");
    match check.quantity {
        CheckQuantity::Molarity => format!("the molarity of {substance}"),
        CheckQuantity::GramsPerLitre => format!("{substance} in g/L"),
        CheckQuantity::Ph => "the pH".to_owned(),
        CheckQuantity::Equivalent => {
            format!("{substance} told as {} in g/L", check.equivalent_of.as_deref().unwrap_or("another form"))
        }
    }
}

fn outcome(check: &SelfCheck, formula: &Formula, linter: &Linter<'_>) -> Outcome {
    let parts: Vec<_> = match &check.part {
        None => formula.parts.iter().collect(),
        Some(name) => match formula.part(name) {
            Some(part) => vec![part],
            None => {
                return Outcome::Impossible(format!(
                    "the check names a part `{name}` that the formula does not have"
                ));
            }
        },
    };
    if check.quantity == CheckQuantity::Ph {
        let ([part], Some(tables)) = (parts.as_slice(), &linter.tables) else {
            return if parts.len() > 1 && linter.tables.is_some() {
                Outcome::Impossible("the check does not say of which part the pH is".to_owned())
            } else {
                Outcome::NotPredicted
            };
        };
        let celsius = check.celsius.unwrap_or(USUAL_C);
        return predict_part(tables.equilibria, part, celsius)
            .map_or(Outcome::NotPredicted, |prediction| Outcome::Figure(prediction.ph));
    }
    let compositions: Vec<Composition> =
        parts.iter().map(|part| linter.composer.part(part, formula.kind)).collect();
    let Some(name) = &check.substance else {
        return Outcome::Impossible("the check names no substance".to_owned());
    };
    let holding: Vec<&Component> =
        compositions.iter().filter_map(|composition| holds(composition, name)).collect();
    let component = match holding.as_slice() {
        [only] => *only,
        [] => {
            return Outcome::Impossible(format!(
                "the check names `{name}`, which the formula does not contain"
            ));
        }
        _ => {
            return Outcome::Impossible(format!(
                "`{name}` is in several parts, and the check names none of them"
            ));
        }
    };
    let unknown = || Outcome::Impossible(format!("the amount of `{name}` cannot be known"));
    let told_in = |id: &str| match linter.library.form(id) {
        Ok(form) => component.grams_in(&form),
        Err(_) => component.grams_per_litre,
    };
    match check.quantity {
        CheckQuantity::Molarity => component.moles_per_litre.map_or_else(unknown, Outcome::Figure),
        CheckQuantity::GramsPerLitre => told_in(name).map_or_else(unknown, Outcome::Figure),
        CheckQuantity::Equivalent => {
            let Some(other) = &check.equivalent_of else {
                return Outcome::Impossible("the check names no form in equivalent_of".to_owned());
            };
            match linter.library.form(other) {
                Ok(form) => component.grams_in(&form).map_or_else(
                    || Outcome::Impossible(format!("`{other}` is no form of `{name}`")),
                    Outcome::Figure,
                ),
                Err(error) => Outcome::Impossible(error.to_string()),
            }
        }
        CheckQuantity::Ph => Outcome::NotPredicted,
    }
}

/// The component that a check names by its chemical or by a form.
fn holds<'c>(composition: &'c Composition, name: &str) -> Option<&'c Component> {
    composition.components.iter().find(|own| {
        own.parent.id == name || own.named.iter().any(|form| form.id == name) || own.basis.id == name
    })
}
