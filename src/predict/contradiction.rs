//! Whether the pH that a formula states can be what it gives: for the judgement of formulas.

use super::{predict_part, predict_vessel};
use crate::formula::{CheckQuantity, Formula};
use crate::quantity::USUAL_C;
use crate::solution::Equilibria;
use crate::vessel::Vessel;

/// How far a stated figure may be off by itself: 0.05 of the last place, 0.1 of an electrode in strong salt; recalled, no document opened.
const STATED_DOUBT: f64 = 0.15;

/// A stated pH and the nearest that any of the formula's solutions is predicted to have.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedPh {
    /// Lowest and highest pH stated.
    pub stated: (f64, f64),
    /// The solution nearest to it: `part A`, `1 stock + 1 water`, or empty for a one-part formula as bottled.
    pub solution: String,
    /// Its predicted pH.
    pub predicted: f64,
    /// Expected error, either way.
    pub error: f64,
    /// °C.
    pub celsius: f64,
}

impl StatedPh {
    /// How far the prediction lies outside the stated range; 0 inside.
    pub fn gap(&self) -> f64 {
        let (low, high) = self.stated;
        (low - self.predicted).max(self.predicted - high).max(0.0)
    }

    /// Whether the prediction contradicts the statement: it lies outside by more than both may be off.
    pub fn is_contradicted(&self) -> bool {
        self.gap() > self.error + STATED_DOUBT
    }
}

/// The stated pH beside the nearest prediction of the parts as bottled and of the working baths.
///
/// None where no pH is stated or nothing can be predicted.
pub fn stated(equilibria: &Equilibria, formula: &Formula) -> Option<StatedPh> {
    let range = formula.stated.ph?;
    let celsius = formula
        .checks
        .iter()
        .find(|check| check.quantity == CheckQuantity::Ph)
        .and_then(|check| check.celsius)
        .unwrap_or(USUAL_C);
    let parts = formula.parts.iter().map(|part| {
        let name = part.name.as_ref().map_or_else(String::new, |name| format!("part {name}"));
        (name, predict_part(equilibria, part, celsius))
    });
    // Of a one-part formula the stock is meant; its dilutions count only where it is a concentrate that cannot be predicted.
    let baths = formula.uses.iter().flat_map(|listed_use| &listed_use.baths).map(|bath| {
        (
            bath.to_string(),
            predict_vessel(equilibria, &Vessel::of_bath(formula, bath), "the working bath", celsius),
        )
    });
    // One after another, so that nothing is predicted that is not needed.
    let mut all = parts
        .chain(baths)
        .filter_map(|(solution, prediction)| {
            let prediction = prediction.ok()?;
            Some(StatedPh {
                stated: range,
                solution,
                predicted: prediction.ph,
                error: prediction.ph_error,
                celsius,
            })
        })
        .peekable();
    if formula.parts.len() == 1
        && let Some(first) = all.next_if(|first| first.solution.is_empty())
    {
        return Some(first);
    }
    all.min_by(|one, two| one.gap().total_cmp(&two.gap()))
}

/// The stated pH where the prediction contradicts it and the file's `[stated]` carries no note: a note shows that somebody looked.
pub fn contradiction(equilibria: &Equilibria, formula: &Formula) -> Option<StatedPh> {
    if formula.stated.note.is_some() {
        return None;
    }
    stated(equilibria, formula).filter(StatedPh::is_contradicted)
}
