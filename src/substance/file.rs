//! The shape of a substance file on disk; [`super::Substance`] is what it becomes.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::packed::Placed;

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct SubstanceFile {
    /// Version of the format: 1.
    #[cfg_attr(test, schemars(with = "u32", extend("const" = 1)))]
    pub(super) format: Placed<u32>,
    /// Plain trade name of the parent, which stands for all its forms.
    #[cfg_attr(test, schemars(length(min = 1)))]
    pub(super) name: String,
    /// Other names by which the parent is found, lower case.
    #[serde(default)]
    pub(super) synonyms: Vec<String>,
    /// What it does in a bath.
    #[serde(default)]
    pub(super) roles: Vec<super::Role>,
    /// Classes for the rules of combination; an empty list means that none applies, a missing one that nobody looked.
    pub(super) classes: Option<Vec<String>>,
    /// Traps worth telling.
    pub(super) note: Option<String>,
    /// Only where a percent solution of it keeps.
    #[cfg_attr(test, schemars(with = "Option<KeepsFile>"))]
    pub(super) keeps_in_solution: Option<Placed<KeepsFile>>,
    /// The form in whose grams the dissolved chemical is judged for hazards; else the first that is no solution.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) judged_as: Option<Placed<String>>,
    /// What a mole of it brings into solution, for a substance of your own; the shipped ones stand in a table.
    #[cfg_attr(test, schemars(with = "Option<DeclaredFile>"))]
    pub(super) solution: Option<Placed<DeclaredFile>>,
    /// The hydrates and strengths in which it is sold.
    #[cfg_attr(test, schemars(with = "Vec<FormFile>", length(min = 1)))]
    #[serde(default)]
    pub(super) forms: Vec<Placed<FormFile>>,
    /// Yours: anything; never read.
    #[cfg_attr(test, schemars(with = "Option<serde_json::Map<String, serde_json::Value>>"))]
    #[serde(rename = "own")]
    pub(super) _own: Option<toml::Table>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct KeepsFile {
    /// Id of the solvent, or water.
    pub(super) solvent: String,
    /// Usual strengths, % w/v.
    #[cfg_attr(test, schemars(length(min = 1), inner(range(min = 0, max = 100))))]
    pub(super) percent: Vec<f64>,
    /// Who says so: a key of the table of sources, or words.
    pub(super) source: String,
    /// How to make it, if not simply by dissolving.
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct DeclaredFile {
    /// Whether the components say all (modelled), it takes no part (inert), or something is not known (unknown).
    pub(super) standing: super::DeclaredStanding,
    /// Components by name, mol per mol of formula unit, such as "Na+" = 2.
    #[serde(default)]
    pub(super) components: BTreeMap<String, f64>,
    /// For an unknown: the most protons a mole may take up or give off.
    pub(super) protons: Option<f64>,
    /// What is left out, in words.
    pub(super) note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct FormFile {
    /// The name of the file, alone or with `-` and the form behind it.
    #[cfg_attr(test, schemars(length(min = 1)))]
    pub(super) id: String,
    /// As printed on a sheet.
    #[cfg_attr(test, schemars(length(min = 1)))]
    pub(super) name: String,
    /// Short name for the bench page, at most 24 letters; unlike any other, with the hydrate or strength where there are several.
    #[cfg_attr(test, schemars(length(min = 1, max = 24)))]
    pub(super) bench_name: Option<String>,
    pub(super) systematic: Option<String>,
    /// Other names of this form only, lower case.
    #[serde(default)]
    pub(super) synonyms: Vec<String>,
    pub(super) cas: Option<String>,
    /// Chemical formula with its water, such as "Na2CO3.H2O"; absent without a fixed composition.
    pub(super) formula: Option<String>,
    /// Molecules of water of crystallisation.
    #[cfg_attr(test, schemars(range(min = 0)))]
    pub(super) crystal_water: Option<f64>,
    /// How it is handled.
    #[serde(default)]
    pub(super) state: super::State,
    /// % by mass of the chemical, for products that are not nearly pure.
    #[cfg_attr(test, schemars(extend("exclusiveMinimum" = 0), range(max = 100)))]
    pub(super) assay_percent: Option<f64>,
    pub(super) assay_source: Option<String>,
    /// Lowest and highest usual assay, %; told to the user, never applied unasked.
    pub(super) assay_typical: Option<[f64; 2]>,
    /// Density, g/mL.
    #[cfg_attr(test, schemars(extend("exclusiveMinimum" = 0), range(max = 25)))]
    pub(super) density_g_per_ml: Option<f64>,
    pub(super) density_source: Option<String>,
    /// How to handle it, in few words.
    pub(super) handling: Option<String>,
    /// Curves of solubility in water.
    #[serde(default)]
    pub(super) solubility: Vec<SolubilityFile>,
    /// Acid constants at 25 °C and zero ionic strength.
    #[serde(default)]
    pub(super) acid_constants: Vec<AcidConstantFile>,
    pub(super) heat_of_solution: Option<HeatFile>,
    /// Hazards as weighed; without them the program says that they are not known.
    pub(super) hazards: Option<HazardsFile>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct SolubilityFile {
    /// Whether this is the curve to use; the others are cross-checks.
    #[serde(default)]
    pub(super) primary: bool,
    /// What the grams count.
    pub(super) basis: super::SolubilityBasis,
    /// [°C, g in 100 g of water], rising temperature.
    #[cfg_attr(test, schemars(length(min = 1)))]
    pub(super) points: Vec<[f64; 2]>,
    /// Who measured it.
    pub(super) source: String,
    /// What to know of the figures.
    pub(super) remark: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct AcidConstantFile {
    /// The acid that loses the proton, such as "HCO3-".
    pub(super) step: String,
    /// pKa at 25 °C and zero ionic strength.
    pub(super) pka: f64,
    /// Enthalpy of the step, kJ/mol.
    pub(super) enthalpy_kj_per_mol: Option<f64>,
    /// Who measured it.
    pub(super) source: String,
    /// What to know of it.
    pub(super) remark: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct HeatFile {
    /// kJ/mol; positive cools the water.
    pub(super) kj_per_mol: f64,
    /// How it was found.
    pub(super) method: Option<String>,
    /// Who found it.
    pub(super) source: String,
    /// What to know of it.
    pub(super) remark: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct HazardsFile {
    /// How sure the statements are.
    pub(super) status: super::HazardStatus,
    /// Signal word of the label.
    pub(super) signal: Option<super::Signal>,
    /// Hazard statements by code, such as "H319".
    #[serde(default)]
    pub(super) statements: Vec<String>,
    /// Supplementary statements by code, such as "EUH031".
    #[serde(default)]
    pub(super) supplementary: Vec<String>,
    /// Index number of a harmonised classification.
    pub(super) annex_vi_index: Option<String>,
    /// Whether the codes were seen in the document named.
    #[serde(default)]
    pub(super) read_in_source: bool,
    /// Where the statements stand.
    pub(super) source: String,
    /// What to know of them.
    pub(super) remark: Option<String>,
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_schema_is_current() {
        crate::schema::tests::assert_file_schema::<super::SubstanceFile>("substance");
    }
}
