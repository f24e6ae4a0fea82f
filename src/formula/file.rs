//! The shape of a formula file on disk; [`super::Formula`] is what it becomes.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::{CheckQuantity, DoubtAbout, EvidenceKind, Kind};
use crate::packed::Placed;
use crate::quantity::Figure;

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[cfg_attr(test, schemars(title = "formula", extend(
    "oneOf" = [{ "required": ["ingredients"] }, { "required": ["parts"] }],
    "if" = { "properties": { "evidence": { "const": "published" } }, "required": ["evidence"] },
    "then" = { "required": ["source"] }
)))]
#[serde(deny_unknown_fields)]
pub(super) struct FormulaFile {
    /// Version of the format: 1.
    #[cfg_attr(test, schemars(with = "u32", extend("const" = 1)))]
    pub(super) format: Placed<u32>,
    /// Name by composition, such as "Metol-sulfite developer, 100 g sulfite".
    #[cfg_attr(test, schemars(with = "String", length(min = 1)))]
    pub(super) title: Placed<String>,
    /// What it makes; also the folder that its file lies in.
    pub(super) kind: Kind,
    /// One or two sentences to choose by.
    pub(super) summary: String,
    /// How sure the composition is. `published` needs `source`.
    #[cfg_attr(test, schemars(with = "EvidenceKind"))]
    pub(super) evidence: Placed<EvidenceKind>,
    /// The document that was read: author, title, year, page.
    pub(super) source: Option<String>,
    /// A work that was named but not opened.
    pub(super) lead: Option<String>,
    /// What is unsure, in plain words.
    pub(super) doubt: Option<String>,
    /// What the doubt is about, for lists and the head of a page.
    #[serde(default)]
    pub(super) doubt_about: Vec<DoubtAbout>,
    /// Other names by which it is found.
    #[cfg_attr(test, schemars(with = "Vec<String>", inner(length(min = 1, max = 80))))]
    #[serde(default)]
    pub(super) aliases: Vec<Placed<String>>,
    /// Id of the formula that it varies.
    pub(super) variant_of: Option<String>,
    /// Ids of the developers that it replenishes.
    #[serde(default)]
    pub(super) replenishes: Vec<String>,
    /// Ids of baths that are used together with it.
    #[serde(default)]
    pub(super) partners: Vec<String>,
    /// What must be known of this formula in particular; the hazards of its chemicals are added by the program.
    #[serde(default)]
    pub(super) cautions: Vec<String>,
    /// What must be known while it is mixed, and no longer of the finished bottle.
    #[serde(default)]
    pub(super) mixing_cautions: Vec<String>,
    /// How the used bath and its washes are collected.
    #[serde(default)]
    pub(super) waste_cautions: Vec<String>,
    /// What to know when choosing it: a safer formula, what the source does otherwise.
    #[serde(default)]
    pub(super) choosing_cautions: Vec<String>,
    /// Ids of combinations by which it works, known and meant, for `check`.
    #[serde(default)]
    pub(super) principle: Vec<String>,
    /// What a user must know, in few words.
    pub(super) note: Option<String>,
    /// Id of the solvent where it is not water.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) solvent: Option<Placed<String>>,
    /// Figures that the source states, for comparison.
    pub(super) stated: Option<StatedFile>,
    /// How the source mixes a formula in one part.
    #[cfg_attr(test, schemars(with = "Option<MixingFile>"))]
    pub(super) mixing: Option<Placed<MixingFile>>,
    /// What is in a formula in one part.
    #[cfg_attr(test, schemars(with = "Option<Vec<IngredientFile>>", length(min = 1)))]
    pub(super) ingredients: Option<Vec<Placed<IngredientFile>>>,
    /// The parts of a formula in several, each with ingredients of its own.
    #[cfg_attr(test, schemars(with = "Vec<PartFile>", length(min = 1)))]
    #[serde(default)]
    pub(super) parts: Vec<Placed<PartFile>>,
    /// How it is used.
    #[cfg_attr(test, schemars(with = "Vec<UseFile>"))]
    #[serde(rename = "use", default)]
    pub(super) uses: Vec<Placed<UseFile>>,
    /// How much it develops or fixes.
    pub(super) capacity: Option<CapacityFile>,
    /// How long it keeps.
    pub(super) keeping: Option<KeepingFile>,
    /// What keeps it alive.
    pub(super) replenishment: Option<ReplenishmentFile>,
    /// Published figures that the program must reproduce.
    #[cfg_attr(test, schemars(with = "Vec<CheckFile>"))]
    #[serde(default)]
    pub(super) check: Vec<Placed<CheckFile>>,
    /// Yours: anything; never read.
    #[cfg_attr(test, schemars(with = "Option<serde_json::Map<String, serde_json::Value>>"))]
    #[serde(rename = "own")]
    pub(super) _own: Option<toml::Table>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct StatedFile {
    /// pH of the solution as bottled, or its lowest and highest.
    pub(super) ph: Option<OneOrTwo>,
    /// Of a pH standard: its certified figures, temperature in °C and pH, coolest first.
    #[serde(default)]
    pub(super) certified_ph: Vec<[Figure; 2]>,
    /// Developing time against that of the classic metol-hydroquinone borax developer.
    pub(super) relative_time: Option<OneOrTwo>,
    /// Where they stand, if not in the formula's own source.
    pub(super) source: Option<String>,
    /// What to know of them.
    pub(super) note: Option<String>,
}

/// A single figure or a low and a high.
#[derive(Debug, Clone, Copy, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(untagged, expecting = "the figure is neither one number nor two in brackets")]
pub(super) enum OneOrTwo {
    One(Figure),
    Two([Figure; 2]),
}

#[derive(Debug, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct MixingFile {
    /// Water to start with, mL per litre.
    #[cfg_attr(test, schemars(range(min = 0, max = 1000)))]
    pub(super) water: Option<f64>,
    /// Its temperature, °C.
    #[cfg_attr(test, schemars(range(min = 0, max = 100)))]
    pub(super) temperature: Option<f64>,
    /// Substances in the order of the source. The program works out its own order and compares.
    #[serde(default)]
    pub(super) order: Vec<String>,
    /// Where this stands, if not in the formula's own source.
    pub(super) source: Option<String>,
    /// Why the order of the source differs from the usual rules.
    pub(super) order_note: Option<String>,
    /// A particular of the mixing, for the steps as they are.
    pub(super) note: Option<String>,
    /// Another way of mixing that the source gives and the steps do not follow.
    pub(super) other_way: Option<String>,
    /// What must be done besides dissolving; each becomes a numbered step.
    #[cfg_attr(test, schemars(with = "Vec<OperationFile>"))]
    #[serde(default)]
    pub(super) operations: Vec<Placed<OperationFile>>,
    /// What the finished bath looks like; clear where nothing is said.
    pub(super) appearance: Option<super::Appearance>,
    /// Where it goes when it is mixed; a bottle where nothing is said.
    pub(super) finish: Option<super::FinishedIn>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct OperationFile {
    /// The ingredient after whose step it comes, or "start" or "end".
    pub(super) after: String,
    /// What to do.
    #[serde(rename = "do")]
    pub(super) kind: super::OperationKind,
    /// The sign that it is done, or how long in words.
    pub(super) until: Option<String>,
    /// How long, minutes.
    #[cfg_attr(test, schemars(extend("exclusiveMinimum" = 0)))]
    pub(super) minutes: Option<f64>,
    /// To what temperature, °C.
    #[cfg_attr(test, schemars(range(min = 0, max = 100)))]
    pub(super) temperature: Option<f64>,
    /// What to mind, in few words.
    pub(super) how: Option<String>,
    /// Where it stands, if not in the formula's own source.
    pub(super) source: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[cfg_attr(test, schemars(extend(
    "oneOf" = [{ "required": ["grams"] }, { "required": ["millilitres"] }, { "required": ["amount", "per"] }],
    "dependentRequired" = { "strength": ["millilitres"] }
)))]
#[serde(deny_unknown_fields)]
pub(super) struct IngredientFile {
    /// Id of the form that is weighed, hydrate and all: `sodium-carbonate-anhydrous`.
    #[cfg_attr(test, schemars(with = "String"))]
    pub(super) substance: Placed<String>,
    /// Grams per litre of this part as bottled.
    #[cfg_attr(test, schemars(with = "Option<f64>", extend("exclusiveMinimum" = 0)))]
    pub(super) grams: Option<Placed<f64>>,
    /// Millilitres per litre of this part as bottled: of the product, or of the solution of `strength`.
    #[cfg_attr(test, schemars(with = "Option<f64>", extend("exclusiveMinimum" = 0)))]
    pub(super) millilitres: Option<Placed<f64>>,
    /// A percent solution with its basis: "10 % w/v", "28 % w/w" or "50 % v/v".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) strength: Option<Placed<String>>,
    /// The amount of an old source, with its unit: "20 grain". Needs `per`.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) amount: Option<Placed<String>>,
    /// The volume that `amount` is for: "10 imp-floz".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) per: Option<Placed<String>>,
    /// A short remark, such as "distilled".
    pub(super) note: Option<String>,
    /// The end point where not all of it is added.
    pub(super) until: Option<String>,
    /// Water in which it is dissolved apart, mL per litre.
    #[cfg_attr(test, schemars(extend("exclusiveMinimum" = 0), range(max = 1000)))]
    pub(super) apart_ml: Option<f64>,
    /// Whether the source leaves it to the user.
    #[serde(default)]
    pub(super) optional: bool,
    /// Write false where no other form and no other chemical may stand in, for the reason in `note`.
    #[serde(default = "may_be_exchanged")]
    pub(super) exchange: bool,
}

fn may_be_exchanged() -> bool {
    true
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct PartFile {
    /// A, B, C.
    #[cfg_attr(test, schemars(with = "String", length(min = 1, max = 24)))]
    pub(super) name: Placed<String>,
    /// Id of the solvent where it is not water.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) solvent: Option<Placed<String>>,
    /// A short remark.
    pub(super) note: Option<String>,
    /// How the source mixes it.
    #[cfg_attr(test, schemars(with = "Option<MixingFile>"))]
    pub(super) mixing: Option<Placed<MixingFile>>,
    #[cfg_attr(test, schemars(with = "Vec<IngredientFile>", length(min = 1)))]
    pub(super) ingredients: Vec<Placed<IngredientFile>>,
    /// How long it keeps.
    pub(super) keeping: Option<KeepingFile>,
    /// What must be known of this part and not of the others.
    #[serde(default)]
    pub(super) cautions: Vec<String>,
    /// How it and its washes are collected.
    #[serde(default)]
    pub(super) waste_cautions: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct UseFile {
    /// A short name of this way of use.
    pub(super) name: String,
    /// One entry a bath, in order, with parts by volume: { stock = 1, water = 1 }, or { A = 1, B = 1, water = 2 }.
    pub(super) baths: Vec<BTreeMap<String, f64>>,
    /// Whether film or print is washed between the baths.
    #[serde(default)]
    pub(super) wash_between: bool,
    /// Shortest and longest time, minutes.
    pub(super) minutes: Option<[Figure; 2]>,
    /// At this temperature, °C.
    pub(super) temperature: Option<Figure>,
    /// How long the mixed bath keeps, hours.
    pub(super) working_hours: Option<Figure>,
    /// Where this stands, if not in the formula's own source.
    pub(super) source: Option<String>,
    /// What to know of this use.
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct CapacityFile {
    /// Film or paper per litre, cm²; a roll is 516 cm².
    pub(super) area_cm2_per_litre: Option<Figure>,
    /// Least stock for a roll of 516 cm², mL.
    pub(super) stock_ml_per_roll: Option<Figure>,
    /// Where this stands, if not in the formula's own source.
    pub(super) source: Option<String>,
    /// What to know of it.
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct KeepingFile {
    /// In a full, closed bottle, days.
    pub(super) full_bottle_days: Option<Figure>,
    /// In a half full bottle, days.
    pub(super) half_bottle_days: Option<Figure>,
    pub(super) tray_hours: Option<Figure>,
    /// In a tank under a lid, days.
    pub(super) tank_days: Option<Figure>,
    /// Where this stands, if not in the formula's own source.
    pub(super) source: Option<String>,
    /// What to know of it.
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct ReplenishmentFile {
    /// Id of the replenisher.
    pub(super) with: String,
    /// How much for a roll of 516 cm², mL.
    pub(super) ml_per_roll: Option<Figure>,
    /// Where this stands, if not in the formula's own source.
    pub(super) source: Option<String>,
    /// What to know of it.
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct CheckFile {
    /// What is compared.
    pub(super) quantity: CheckQuantity,
    pub(super) substance: Option<String>,
    pub(super) part: Option<String>,
    /// With `equivalent`: the other form.
    pub(super) equivalent_of: Option<String>,
    /// The published figure.
    pub(super) expected: Figure,
    /// How far off it may be.
    pub(super) tolerance: Figure,
    /// Why so far.
    pub(super) tolerance_note: Option<String>,
    /// At this temperature, °C.
    pub(super) celsius: Option<Figure>,
    /// Who published it.
    pub(super) source: String,
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_schema_is_current() {
        crate::schema::tests::assert_file_schema::<super::FormulaFile>("formula");
    }
}
