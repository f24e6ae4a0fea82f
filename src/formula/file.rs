//! The shape of a formula file on disk; [`super::Formula`] is what it becomes.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::{CheckQuantity, EvidenceKind, Kind};
use crate::quantity::Figure;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FormulaFile {
    pub(super) format: Spanned<u32>,
    pub(super) title: String,
    pub(super) kind: Kind,
    pub(super) summary: String,
    pub(super) evidence: Spanned<EvidenceKind>,
    pub(super) source: Option<String>,
    pub(super) lead: Option<String>,
    pub(super) doubt: Option<String>,
    #[serde(default)]
    pub(super) aliases: Vec<String>,
    pub(super) variant_of: Option<String>,
    #[serde(default)]
    pub(super) replenishes: Vec<String>,
    #[serde(default)]
    pub(super) partners: Vec<String>,
    #[serde(default)]
    pub(super) cautions: Vec<String>,
    pub(super) note: Option<String>,
    pub(super) solvent: Option<Spanned<String>>,
    pub(super) stated: Option<StatedFile>,
    pub(super) mixing: Option<Spanned<MixingFile>>,
    pub(super) ingredients: Option<Vec<Spanned<IngredientFile>>>,
    #[serde(default)]
    pub(super) parts: Vec<Spanned<PartFile>>,
    #[serde(rename = "use", default)]
    pub(super) uses: Vec<Spanned<UseFile>>,
    pub(super) capacity: Option<CapacityFile>,
    pub(super) keeping: Option<KeepingFile>,
    pub(super) replenishment: Option<ReplenishmentFile>,
    #[serde(default)]
    pub(super) check: Vec<Spanned<CheckFile>>,
    #[serde(rename = "own")]
    pub(super) _own: Option<toml::Table>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StatedFile {
    pub(super) ph: Option<OneOrTwo>,
    pub(super) relative_time: Option<OneOrTwo>,
    pub(super) source: Option<String>,
    pub(super) note: Option<String>,
}

/// A single figure or a low and a high.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(untagged, expecting = "the figure is neither one number nor two in brackets")]
pub(super) enum OneOrTwo {
    One(Figure),
    Two([Figure; 2]),
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MixingFile {
    pub(super) water: Option<f64>,
    pub(super) temperature: Option<f64>,
    #[serde(default)]
    pub(super) order: Vec<String>,
    pub(super) source: Option<String>,
    pub(super) order_note: Option<String>,
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct IngredientFile {
    pub(super) substance: Spanned<String>,
    pub(super) grams: Option<Spanned<f64>>,
    pub(super) millilitres: Option<Spanned<f64>>,
    pub(super) strength: Option<Spanned<String>>,
    pub(super) amount: Option<Spanned<String>>,
    pub(super) per: Option<Spanned<String>>,
    pub(super) note: Option<String>,
    pub(super) until: Option<String>,
    pub(super) apart_ml: Option<f64>,
    #[serde(default)]
    pub(super) optional: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PartFile {
    pub(super) name: Spanned<String>,
    pub(super) solvent: Option<Spanned<String>>,
    pub(super) note: Option<String>,
    pub(super) mixing: Option<Spanned<MixingFile>>,
    pub(super) ingredients: Vec<Spanned<IngredientFile>>,
    pub(super) keeping: Option<KeepingFile>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct UseFile {
    pub(super) name: String,
    pub(super) baths: Vec<BTreeMap<String, f64>>,
    pub(super) minutes: Option<[Figure; 2]>,
    pub(super) temperature: Option<Figure>,
    pub(super) working_hours: Option<Figure>,
    pub(super) source: Option<String>,
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CapacityFile {
    pub(super) area_cm2_per_litre: Option<Figure>,
    pub(super) stock_ml_per_roll: Option<Figure>,
    pub(super) source: Option<String>,
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct KeepingFile {
    pub(super) full_bottle_days: Option<Figure>,
    pub(super) half_bottle_days: Option<Figure>,
    pub(super) tray_hours: Option<Figure>,
    pub(super) tank_days: Option<Figure>,
    pub(super) source: Option<String>,
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ReplenishmentFile {
    pub(super) with: String,
    pub(super) ml_per_roll: Option<Figure>,
    pub(super) source: Option<String>,
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CheckFile {
    pub(super) quantity: CheckQuantity,
    pub(super) substance: Option<String>,
    pub(super) part: Option<String>,
    pub(super) equivalent_of: Option<String>,
    pub(super) expected: Figure,
    pub(super) tolerance: Figure,
    pub(super) tolerance_note: Option<String>,
    pub(super) celsius: Option<Figure>,
    pub(super) source: String,
}
