//! The shape of a substance file on disk; [`super::Substance`] is what it becomes.

use serde::Deserialize;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SubstanceFile {
    pub(super) format: u32,
    pub(super) name: String,
    #[serde(default)]
    pub(super) synonyms: Vec<String>,
    #[serde(default)]
    pub(super) roles: Vec<super::Role>,
    pub(super) classes: Option<Vec<String>>,
    pub(super) note: Option<String>,
    pub(super) keeps_in_solution: Option<KeepsFile>,
    #[serde(default)]
    pub(super) forms: Vec<toml::Spanned<FormFile>>,
    #[serde(rename = "own")]
    pub(super) _own: Option<toml::Table>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct KeepsFile {
    pub(super) solvent: String,
    pub(super) percent: Vec<f64>,
    pub(super) source: String,
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FormFile {
    pub(super) id: String,
    pub(super) name: String,
    pub(super) systematic: Option<String>,
    #[serde(default)]
    pub(super) synonyms: Vec<String>,
    pub(super) cas: Option<String>,
    pub(super) formula: Option<String>,
    pub(super) crystal_water: Option<f64>,
    #[serde(default)]
    pub(super) state: super::State,
    pub(super) assay_percent: Option<f64>,
    pub(super) assay_source: Option<String>,
    pub(super) assay_typical: Option<[f64; 2]>,
    pub(super) density_g_per_ml: Option<f64>,
    pub(super) density_source: Option<String>,
    pub(super) handling: Option<String>,
    #[serde(default)]
    pub(super) solubility: Vec<SolubilityFile>,
    #[serde(default)]
    pub(super) acid_constants: Vec<AcidConstantFile>,
    pub(super) heat_of_solution: Option<HeatFile>,
    pub(super) hazards: Option<HazardsFile>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SolubilityFile {
    #[serde(default)]
    pub(super) primary: bool,
    pub(super) basis: super::SolubilityBasis,
    pub(super) points: Vec<[f64; 2]>,
    pub(super) source: String,
    pub(super) remark: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AcidConstantFile {
    pub(super) step: String,
    pub(super) pka: f64,
    pub(super) enthalpy_kj_per_mol: Option<f64>,
    pub(super) source: String,
    pub(super) remark: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HeatFile {
    pub(super) kj_per_mol: f64,
    pub(super) method: Option<String>,
    pub(super) source: String,
    pub(super) remark: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HazardsFile {
    pub(super) status: super::HazardStatus,
    pub(super) signal: Option<super::Signal>,
    #[serde(default)]
    pub(super) statements: Vec<String>,
    #[serde(default)]
    pub(super) supplementary: Vec<String>,
    pub(super) annex_vi_index: Option<String>,
    #[serde(default)]
    pub(super) read_in_source: bool,
    pub(super) source: String,
    pub(super) remark: Option<String>,
}
