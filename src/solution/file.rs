//! The shape of `equilibria.toml` on disk, and nothing else: [`super::equilibria`] checks it and turns it into [`super::Equilibria`].

use std::collections::BTreeMap;

use serde::Deserialize;

use super::prediction::Modelling;

/// The whole file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EquilibriaFile<S = SubstanceEntry, I = InteractionEntry, C = ComponentEntry> {
    /// Version of this layout; 1 is the only one.
    pub(super) format: u32,
    /// What a mole of each chemical brings.
    pub(super) substances: Vec<S>,
    /// Interaction coefficients that differ from the defaults.
    pub(super) interactions: Vec<I>,
    /// Key of a source and its citation.
    pub(super) sources: BTreeMap<String, String>,
    /// Parameters of the activity model and its defaults.
    pub(super) model: ModelEntry,
    /// The dissociation of water.
    pub(super) water: WaterEntry,
    /// What solutions are counted in, with what each can become.
    pub(super) components: Vec<C>,
}

/// One chemical by parent id.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SubstanceEntry {
    pub(super) id: String,
    pub(super) standing: Modelling,
    #[serde(default)]
    pub(super) components: BTreeMap<String, f64>,
    #[serde(default)]
    pub(super) dissolves_as: BTreeMap<String, f64>,
    pub(super) protons: Option<f64>,
    pub(super) note: Option<String>,
}

/// One pair of ions.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct InteractionEntry {
    pub(super) cation: String,
    pub(super) anion: String,
    /// kg/mol.
    pub(super) epsilon: f64,
    pub(super) source: String,
}

/// The activity model.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ModelEntry {
    pub(super) debye_huckel_a: [f64; 3],
    pub(super) debye_huckel_a_source: String,
    pub(super) debye_huckel_b: f64,
    pub(super) debye_huckel_b_source: String,
    pub(super) alkali_like_sodium: Vec<String>,
    pub(super) alkali_anion_slope: f64,
    pub(super) hydrogen_anion_epsilon: f64,
    pub(super) hydrogen_anion_source: String,
    pub(super) other_cation_epsilon: f64,
    pub(super) water_activity_slope: f64,
    pub(super) volume_slope_cm3: f64,
    pub(super) defaults_source: String,
}

/// The dissociation of water.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WaterEntry {
    pub(super) log_k: f64,
    pub(super) enthalpy_kj: f64,
    pub(super) heat_capacity_j: f64,
    pub(super) uncertainty: f64,
    pub(super) source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ComponentEntry {
    pub(super) name: String,
    /// Apparent volume at infinite dilution, cm³/mol.
    pub(super) volume_cm3: Option<f64>,
    pub(super) volume_source: Option<String>,
    /// Share of it that may arrive with a proton too many, as sold.
    pub(super) acid_impurity: Option<f64>,
    pub(super) acid_impurity_source: Option<String>,
    /// Doubt of log γ in a solution of it, per mol/kg of it, where its interaction coefficients are poorly known.
    #[serde(default)]
    pub(super) activity_doubt: f64,
    /// Components with which it forms complexes that are not in the table.
    #[serde(default)]
    pub(super) complexes_missing_with: Vec<String>,
    #[serde(default)]
    pub(super) species: Vec<SpeciesEntry>,
}

/// One species formed from a component.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SpeciesEntry {
    pub(super) name: String,
    #[serde(default = "one")]
    pub(super) count: f64,
    #[serde(default)]
    pub(super) with: BTreeMap<String, f64>,
    #[serde(default)]
    pub(super) hydrogen: f64,
    #[serde(default)]
    pub(super) water: f64,
    pub(super) log_k: f64,
    #[serde(default)]
    pub(super) enthalpy_kj: f64,
    #[serde(default)]
    pub(super) heat_capacity_j: f64,
    pub(super) uncertainty: f64,
    pub(super) source: String,
}

fn one() -> f64 {
    1.0
}
