//! What `exchange --json` prints.

use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ExchangeBody {
    /// What there is an amount of.
    pub from: String,
    /// What replaces it.
    pub to: String,
    /// Grams of the first.
    pub amount_g: f64,
    /// Grams of the second that do the same.
    pub result_g: f64,
    /// Sodium hydroxide to add (negative: to leave out) for the exchange to be exact, g.
    pub sodium_hydroxide_g: f64,
    /// What to mind.
    pub note: Option<String>,
}
