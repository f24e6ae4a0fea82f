//! What `dilute --json` prints.

use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct DiluteBody {
    /// Stock; null where it is refused.
    pub stock_ml: Option<f64>,
    /// Water; null where it is refused.
    pub water_ml: Option<f64>,
    /// Whether the formula names such a use; null without a formula.
    pub is_use: Option<bool>,
    /// Each part of a formula in several parts.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<DilutePart>,
    /// What to mind.
    pub warnings: Vec<String>,
    /// Whether the stock is enough for the films, where films were named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stock: Option<crate::render::films::StockBody>,
    /// Of the formula that was named: `shipped`, or the personal folder or file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub origin: Option<String>,
}

/// One part of a working solution.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct DilutePart {
    /// A, B …
    pub name: String,
    /// mL.
    pub volume_ml: f64,
}
