//! What to mind about a line to weigh.

use super::size::advised_batch;
use crate::quantity::{Strength, rounding};

/// What to mind about an item.
#[derive(Debug, Clone, PartialEq)]
pub enum Advice {
    /// The balance cannot weigh it within tolerance, and no percent solution serves: it does not keep in one, or not in this solvent, or too much
    /// of it would be needed.
    TooSmall {
        /// How far off what is weighed may be, the rounding to a step included, percent.
        uncertainty_percent: f64,
        /// Balance resolution that would do, g.
        finer_step_g: f64,
        /// Volume of this part from which the balance does, or a percent solution serves, mL.
        least_batch_ml: f64,
    },
    /// More than the balance carries.
    Portions {
        /// How many times the most that the balance carries.
        full: u32,
        /// Grams in each of those.
        full_g: f64,
        /// Grams left for a last weighing; 0 where the others hold it all.
        rest_g: f64,
    },
    /// The product was counted with this assay, which was given for it.
    AssayGiven {
        /// % by mass.
        percent: f64,
    },
    /// The product's assay usually lies in this range and none was given.
    AssayTypical {
        /// Lowest usual assay, %.
        low_percent: f64,
        /// Highest usual assay, %.
        high_percent: f64,
    },
    /// The exchange is exact only with alkali added (positive) or left out (negative).
    Hydroxide {
        /// Grams of sodium hydroxide for the batch.
        grams: f64,
        /// What the relation says.
        note: String,
    },
    /// What the relation between two chemicals says.
    Relation {
        /// Why it works and what to mind, from the table.
        note: String,
    },
    /// A percent solution that the recipe itself asks for.
    MakePercentSolution {
        /// Of the solution, not of the bath.
        strength: Strength,
    },
}

impl std::fmt::Display for Advice {
    /// As a sentence for the bench.
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        use rounding::{show_short, show_significant};
        match self {
            Self::TooSmall { uncertainty_percent, finer_step_g, least_batch_ml } => {
                let off = if *uncertainty_percent > 100.0 {
                    "more than 100 % out".to_owned()
                } else {
                    format!("± {} %", show_short(*uncertainty_percent, 0))
                };
                let larger = advised_batch(*least_batch_ml)
                    .map_or_else(String::new, |least| format!(", or mix at least {least}"));
                write!(
                    formatter,
                    "too little for this balance ({off}). Use one that reads to {} g{larger}",
                    show_short(*finer_step_g, 4),
                )
            }
            Self::Portions { full, full_g, rest_g } => {
                let (times, each) = (if *full == 1 { "" } else { "s" }, show_short(*full_g, 6));
                write!(formatter, "more than the balance carries: weigh {full} portion{times} of {each} g")?;
                if *rest_g > 0.0 {
                    write!(formatter, " and one of {} g", show_short(*rest_g, 6))?;
                }
                Ok(())
            }
            Self::AssayGiven { percent } => {
                write!(formatter, "taken as {} % pure, as given", rounding::show_short(*percent, 2))
            }
            Self::AssayTypical { low_percent, high_percent } => write!(
                formatter,
                "taken as 100 % pure; usually {} to {} %. Read the jar, then add --assay",
                show_short(*low_percent, 1),
                show_short(*high_percent, 1)
            ),
            Self::Hydroxide { grams, note } if *grams > 0.0 => write!(
                formatter,
                "{note}: the exchange is exact only with {} g more sodium hydroxide in this batch",
                show_significant(*grams)
            ),
            Self::Hydroxide { grams, note } => write!(
                formatter,
                "{note}: the exchange is exact only with {} g less sodium hydroxide (or its equal in alkali) in this batch",
                show_significant(-grams)
            ),
            Self::Relation { note } => formatter.write_str(note),
            Self::MakePercentSolution { strength } => write!(formatter, "of a {strength} solution"),
        }
    }
}
