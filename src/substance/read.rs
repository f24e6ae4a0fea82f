//! From the shape of a file to forms, solubilities and heats.

use super::chemical_formula::{AtomicWeights, ChemicalFormula};
use super::file;
use super::hazards::Hazards;
use super::{
    AcidConstant, BENCH_NAME_LETTERS, DeclaredSolution, DeclaredStanding, Form, HeatOfSolution,
    KeepsInSolution, MeasuredSolubility, Parent,
};
use crate::diagnostic::Finding;
use std::sync::Arc;

/// Checks the `[solution]` table; that its component names exist is for those who know the equilibria.
pub(super) fn declared(
    shape: file::DeclaredFile,
    (file, line): (&str, usize),
    findings: &mut Vec<Finding>,
) -> DeclaredSolution {
    let mut wrong = |message: String, fix: &str| {
        findings.push(Finding::error("solution", file, Some(line), message, fix));
    };
    let most = 20.0;
    for (name, count) in &shape.components {
        if !(*count > 0.0 && *count <= most) {
            let message =
                format!("[solution] brings {count} of `{name}`, which is no number of units in a formula");
            wrong(message, "write how many of it one formula unit holds, such as { \"Na+\" = 2 }");
        }
    }
    if shape.standing == DeclaredStanding::Modelled && shape.components.is_empty() {
        let fix =
            "name its components, such as components = { \"Na+\" = 1 }, or write standing = \"unknown\"";
        wrong("[solution] says modelled but names no components".to_owned(), fix);
    }
    if shape.standing == DeclaredStanding::Inert && !shape.components.is_empty() {
        let fix = "write standing = \"modelled\", or leave the components out";
        wrong("[solution] says inert but names components".to_owned(), fix);
    }
    if shape.protons.is_some() && shape.standing != DeclaredStanding::Unknown {
        let fix = "leave `protons` out: it says how much the unknown part may matter";
        wrong("[solution] gives `protons` although nothing is unknown".to_owned(), fix);
    }
    if shape.protons.is_some_and(|protons| !(0.0..=most).contains(&protons)) {
        let fix = "write the most protons that a formula unit may take up or give off";
        wrong("[solution] has `protons` out of range".to_owned(), fix);
    }
    DeclaredSolution {
        standing: shape.standing,
        components: shape.components.into_iter().collect(),
        protons: shape.protons.unwrap_or(0.0),
        note: shape.note,
    }
}

/// Checks one form and gives it its molar mass.
pub(super) fn form_from_file(
    shape: file::FormFile,
    parent: &Arc<Parent>,
    weights: &AtomicWeights,
    (file, line): (&str, usize),
) -> Result<Form, Vec<Finding>> {
    let mut findings = Vec::new();
    let mut wrong = |code: &'static str, message: String, fix: &str| {
        findings.push(Finding::error(code, file, Some(line), message, fix));
    };
    if shape.id != parent.id && !shape.id.strip_prefix(&parent.id).is_some_and(|rest| rest.starts_with('-')) {
        let message =
            format!("the form `{}` does not begin with the name of its file, `{}`", shape.id, parent.id);
        wrong("form-id", message, "name the form <file name>-<form>, or put it into a file of its own");
    }
    for (name, value, low, high) in [
        ("assay_percent", shape.assay_percent, 0.1, 100.0),
        ("density_g_per_ml", shape.density_g_per_ml, 0.1, 25.0),
        ("crystal_water", shape.crystal_water, 0.0, 25.0),
    ] {
        if value.is_some_and(|value| !(low..=high).contains(&value)) {
            wrong(
                "out-of-range",
                format!("`{name}` of `{}` is out of range", shape.id),
                "give a plausible figure",
            );
        }
    }
    let figures = shape
        .acid_constants
        .iter()
        .flat_map(|acid_constant| [Some(acid_constant.pka), acid_constant.enthalpy_kj_per_mol]);
    let heat = shape.heat_of_solution.as_ref().map(|heat_of_solution| heat_of_solution.kj_per_mol);
    let usual = shape.assay_typical.into_iter().flatten().map(Some);
    if figures.chain([heat]).chain(usual).flatten().any(|value| value.is_nan() || value.abs() > 1e4) {
        let message = format!("an acid constant, a heat or a usual assay of `{}` is out of range", shape.id);
        wrong("out-of-range", message, "give a plausible figure");
    }
    let letters = shape.bench_name.as_ref().map_or(1, |own| own.trim().chars().count());
    if !(1..=BENCH_NAME_LETTERS).contains(&letters) {
        let message = format!("`bench_name` of `{}` has {letters} letters", shape.id);
        let fix = "write at most 24 letters, with the hydrate or strength, such as \"sodium carbonate 1H2O\"";
        wrong("bench-name", message, fix);
    }
    let mut molar_mass_g_per_mol = None;
    let mut crystal_water = shape.crystal_water.unwrap_or(0.0);
    if let Some(formula) = &shape.formula {
        match ChemicalFormula::parse(formula).and_then(|parsed| Ok((parsed.molar_mass(weights)?, parsed))) {
            Ok((mass, parsed)) => {
                molar_mass_g_per_mol = Some(mass);
                if shape.crystal_water.is_some_and(|stated| (stated - parsed.crystal_water()).abs() > 1e-9) {
                    let message =
                        format!("crystal_water of `{}` differs from its formula {formula}", shape.id);
                    wrong("crystal-water", message, "make the two agree");
                }
                crystal_water = parsed.crystal_water();
            }
            Err(error) => wrong("chemical-formula", error.to_string(), "write it like Na2CO3.10H2O"),
        }
    }
    for curve in &shape.solubility {
        let rising = curve.points.windows(2).all(|pair| matches!(pair, [low, high] if low[0] < high[0]));
        let sane = curve.points.iter().flatten().all(|value| value.abs() <= 1e6);
        if curve.points.is_empty() || !rising || !sane {
            let message =
                format!("a solubility curve of `{}` is empty or not in rising temperature", shape.id);
            wrong("solubility", message, "write points = [[20, 26.4], …] from cold to warm");
        }
    }
    if shape.solubility.iter().filter(|curve| curve.primary).count() > 1 {
        wrong(
            "solubility",
            format!("`{}` has two primary solubility curves", shape.id),
            "mark one primary = true",
        );
    }
    if !findings.is_empty() {
        return Err(findings);
    }
    Ok(Form {
        id: shape.id,
        bench_name: shape.bench_name.unwrap_or_else(|| shape.name.clone()),
        name: shape.name,
        systematic: shape.systematic,
        synonyms: shape.synonyms,
        cas: shape.cas,
        chemical_formula: shape.formula,
        molar_mass_g_per_mol,
        crystal_water,
        state: shape.state,
        assay_percent: shape.assay_percent,
        assay_source: shape.assay_source,
        assay_typical: shape.assay_typical.map(|[low, high]| (low, high)),
        density_g_per_ml: shape.density_g_per_ml,
        density_source: shape.density_source,
        handling: shape.handling,
        solubility: shape.solubility.into_iter().map(curve_from_file).collect(),
        acid_constants: shape.acid_constants.into_iter().map(AcidConstant::from).collect(),
        heat_of_solution: shape.heat_of_solution.map(HeatOfSolution::from),
        hazards: shape.hazards.map_or_else(Hazards::not_known, Hazards::from),
        judged: Arc::default(),
        parent: Arc::clone(parent),
    })
}

fn curve_from_file(curve: file::SolubilityFile) -> MeasuredSolubility {
    MeasuredSolubility {
        primary: curve.primary,
        basis: curve.basis,
        points: curve.points.into_iter().map(|[celsius, grams]| (celsius, grams)).collect(),
        source: curve.source,
        remark: curve.remark,
    }
}

impl From<file::KeepsFile> for KeepsInSolution {
    fn from(shape: file::KeepsFile) -> Self {
        let file::KeepsFile { solvent, percent, source, note } = shape;
        Self { solvent, percent, source, note }
    }
}

impl From<file::AcidConstantFile> for AcidConstant {
    fn from(shape: file::AcidConstantFile) -> Self {
        let file::AcidConstantFile { step, pka, enthalpy_kj_per_mol, source, remark } = shape;
        Self { step, pka, enthalpy_kj_per_mol, source, remark }
    }
}

impl From<file::HeatFile> for HeatOfSolution {
    fn from(shape: file::HeatFile) -> Self {
        let file::HeatFile { kj_per_mol, method, source, remark } = shape;
        Self { kj_per_mol, method, source, remark }
    }
}
