//! Why a batch cannot be worked out, and what to do.

use super::exchange::ExchangeError;
use crate::quantity::rounding;
use thiserror::Error;

/// Why a batch cannot be worked out.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ScaleError {
    /// Neither a volume nor a limit.
    #[error("no volume is given")]
    NoVolume,
    /// The limited chemical is not in the formula.
    #[error("{form} is not in this formula, so it cannot limit the batch")]
    LimitNotUsed {
        /// Id of the one that was to limit the batch.
        form: String,
        /// Ids of those that could.
        contains: Vec<String>,
    },
    /// Not enough of a chemical.
    #[error("{form}: this batch needs {needs} g; you have {has} g, enough for {}", enough_for(*.largest_ml))]
    NotEnough {
        /// Its name, as printed.
        form: String,
        /// Grams needed.
        needs: String,
        /// Grams there.
        has: String,
        /// Largest batch, mL, rounded down.
        largest_ml: f64,
    },
    /// The ratio does not fit the parts.
    #[error("this formula has {parts}; {ratio} does not fit it")]
    RatioDoesNotFit {
        /// The ratio in words.
        ratio: String,
        /// The parts in words.
        parts: String,
    },
    /// An exchange that the formula forbids.
    #[error("{form} may not be exchanged for {other} in this formula: {note}")]
    NotExchanged {
        /// The recipe's form.
        form: String,
        /// The form on your shelf.
        other: String,
        /// Why, as the formula says.
        note: String,
    },
    /// An exchange that cannot be computed.
    #[error(transparent)]
    Exchange(#[from] ExchangeError),
    /// A batch that nobody can measure.
    #[error("a batch of {millilitres} mL is too small to mix")]
    TooSmall {
        /// Millilitres that come out.
        millilitres: String,
    },
    /// A batch beyond any tank.
    #[error("a batch of {litres} L is beyond what this program mixes safely (200 L)")]
    TooLarge {
        /// Litres asked.
        litres: String,
    },
}

/// A batch of whole millilitres, in words.
fn enough_for(largest_ml: f64) -> String {
    if largest_ml < 1.0 { "less than 1 mL".to_owned() } else { format!("{largest_ml} mL") }
}

impl ScaleError {
    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::NoVolume => "give one, such as 500ml or 1L, or the limit: --limit metol=3.2g".to_owned(),
            Self::LimitNotUsed { contains, .. } => format!("it contains {}", contains.join(", ")),
            Self::NotEnough { largest_ml, .. } if *largest_ml < 1.0 => "get more of it".to_owned(),
            Self::NotEnough { largest_ml, .. } => {
                format!("mix {} mL or less, or leave the volume out", rounding::show_decimals(*largest_ml, 0))
            }
            Self::RatioDoesNotFit { .. } => {
                "write one figure for each part in its order and, last, one for water: 1+3, or 1+1+8 for A, B and water"
                    .to_owned()
            }
            Self::Exchange(_) | Self::NotExchanged { .. } => "use the form that the formula names".to_owned(),
            Self::TooSmall { .. } => {
                "mix more of it; where a chemical limits the batch, more of that is needed".to_owned()
            }
            Self::TooLarge { .. } => "mix several smaller batches".to_owned(),
        }
    }
}
