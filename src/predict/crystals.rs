//! What crystallises in the bottle, and below which temperature, in the words of sheet and label.

use super::margin::{Margin, SolubilityVerdict, margins, margins_in};
use crate::quantity::STORAGE_C;
use crate::quantity::rounding::show_short;
use crate::solution::Equilibria;
use crate::substance::chemical_formula::AtomicWeights;
use crate::vessel::Content;

/// Warmer than this a cupboard is not, °C: what crystallises above it does so in every bottle. Common practice, no source.
const CUPBOARD_C: f64 = 20.0;

/// What crystallises first when a solution gets cold.
#[derive(Debug, Clone, PartialEq)]
pub struct Crystals {
    /// Name of the chemical.
    pub name: String,
    /// Below about this its crystals come, °C.
    pub below_c: f64,
}

impl Crystals {
    /// What comes first from a solution kept at 18 °C or in a colder room; none where nothing is near saturation, or the data do not say.
    pub fn of(equilibria: &Equilibria, weights: &AtomicWeights, list: &[Content]) -> Option<Self> {
        let is_near = |margin: &Margin| {
            matches!(margin.verdict(), SolubilityVerdict::Crystals | SolubilityVerdict::Close)
        };
        // A prediction only takes back what it knows to have turned into something else.
        if !margins(equilibria, weights, list, None, STORAGE_C).iter().any(is_near) {
            return None;
        }
        let near = margins_in(equilibria, weights, list, STORAGE_C).into_iter().filter_map(|margin| {
            let is_near = is_near(&margin);
            let below_c = margin.saturated_at_c.filter(|_| is_near)?;
            Some(Self { name: margin.form.parent.name.clone(), below_c })
        });
        near.max_by(|one, other| one.below_c.total_cmp(&other.below_c))
    }

    /// Whether they come in any room.
    pub fn is_certain(&self) -> bool {
        self.below_c > CUPBOARD_C
    }

    /// `below 28 °C potassium alum crystallises: warm and stir until clear` or `not below 13 °C: sodium sulfite crystallises`.
    pub fn words(&self) -> String {
        let below = show_short(self.below_c.round(), 0);
        if self.is_certain() {
            format!("below {below} °C {} crystallises: warm and stir until clear", self.name)
        } else {
            format!("not below {below} °C: {} crystallises", self.name)
        }
    }
}
