//! What `substance --json` prints.

use crate::substance::Form;
use serde::Serialize;

/// `substance` without a name.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SubstancesBody {
    pub substances: Vec<SubstanceName>,
}

/// A form's id and name.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SubstanceName {
    pub id: String,
    pub name: String,
}

/// `substance NAME`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SubstanceBody {
    pub id: String,
    pub name: String,
    pub systematic_name: Option<String>,
    pub cas: Option<String>,
    pub chemical_formula: Option<String>,
    /// g/mol, water of crystallisation included.
    pub molar_mass: Option<f64>,
    /// Id of the parent where it has several forms or another name.
    pub parent: Option<String>,
    /// Molecules of water of crystallisation.
    pub crystal_water: f64,
    pub roles: Vec<&'static str>,
    /// Classes for the rules of combination.
    pub classes: Vec<String>,
    /// % by mass of the chemical in the product.
    pub assay_percent: Option<f64>,
    /// g/mL.
    pub density_g_per_ml: Option<f64>,
    /// g per 100 g of water at 20 °C.
    pub solubility_20c_g_per_100_g: Option<f64>,
    /// Heat of solution, kJ/mol; positive cools.
    pub heat_of_solution_kj_per_mol: Option<f64>,
    pub acid_constants: Vec<AcidConstantBody>,
    pub signal_word: Option<&'static str>,
    /// `harmonised`, `typical`, `not classified` or `unknown`.
    pub hazard_status: &'static str,
    pub hazards: Vec<HazardBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct AcidConstantBody {
    pub step: String,
    /// pKa at 25 °C and zero ionic strength.
    pub pka: f64,
    pub source: String,
}

/// A hazard statement.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct HazardBody {
    pub code: String,
    pub text: String,
}

impl SubstanceBody {
    /// From a form; `hazards` are its statements with their texts.
    pub(crate) fn new(form: &Form, solubility_20c: Option<f64>, hazards: Vec<HazardBody>) -> Self {
        let parent = &form.parent;
        Self {
            id: form.id.clone(),
            name: form.name.clone(),
            systematic_name: form.systematic.clone(),
            cas: form.cas.clone(),
            chemical_formula: form.chemical_formula.clone(),
            molar_mass: form.molar_mass_g_per_mol,
            parent: (parent.id != form.id || parent.form_count > 1).then(|| parent.id.clone()),
            crystal_water: form.crystal_water,
            roles: parent.roles.iter().map(|role| role.word()).collect(),
            classes: parent.classes.iter().flatten().map(ToString::to_string).collect(),
            assay_percent: form.assay_percent,
            density_g_per_ml: form.density_g_per_ml,
            solubility_20c_g_per_100_g: solubility_20c,
            heat_of_solution_kj_per_mol: form.heat_of_solution.as_ref().map(|heat| heat.kj_per_mol),
            acid_constants: form
                .acid_constants
                .iter()
                .map(|constant| AcidConstantBody {
                    step: constant.step.clone(),
                    pka: constant.pka,
                    source: constant.source.clone(),
                })
                .collect(),
            signal_word: form.hazards.signal.map(crate::substance::Signal::word),
            hazard_status: form.hazards.status.word(),
            hazards,
        }
    }
}
