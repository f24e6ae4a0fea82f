//! The constants a prediction rests on, read from `formulas/tables/equilibria.toml`.
//!
//! A constant is that of the formation of a species from its components, H⁺ and water, molal, at zero ionic strength:
//! `log K(T) = log K₂₅ + ΔH/(R ln 10) (1/298.15 − 1/T) + ΔCp/(R ln 10) (298.15/T − 1 + ln(T/298.15))`
//! (ΔH in J/mol, `ΔCp` in J/(mol K), T in K). Both are constant terms; the form is used from 0 to 60 °C only.
//!
//! Every figure in the file names its source there; this module holds none.

use std::collections::{BTreeMap, BTreeSet};

use super::activity::ActivityModel;
use super::excerpt;
use super::file::{ComponentEntry, EquilibriaFile, ModelEntry, SpeciesEntry};
use super::prediction::{Addition, Modelling, SolutionError};
use super::species::{EquilibriaError, Species};
use crate::packed::Packed;

/// What solutions are counted in.
#[derive(Debug, Clone)]
pub(super) struct Component {
    pub(super) name: String,
    pub(super) charge: f64,
    /// Apparent volume at infinite dilution, cm³/mol; 0 where not known.
    pub(super) volume_cm3: f64,
    /// Share that may carry a proton too many as sold; 0 where nothing is said.
    pub(super) acid_impurity: f64,
    /// Doubt of the pH from its poorly known activity, per mol/L of it.
    pub(super) activity_doubt: f64,
    /// Components with which it forms complexes that are not in the table, by position.
    pub(super) complexes_missing_with: Vec<usize>,
}

/// What one mole of a chemical brings into solution.
#[derive(Debug, Clone, PartialEq)]
pub struct SubstanceRow {
    id: String,
    standing: Modelling,
    components: Vec<(String, f64)>,
    protons: f64,
    note: Option<String>,
    dissolved_state_kj: f64,
}

impl SubstanceRow {
    /// A row for a chemical that is not in the table, such as a user's own: components by name in mol per mol, and for an unknown one the
    /// most protons that its unknown part may take up or give off. A heat of solution is taken to end in those components.
    ///
    /// That the names exist is checked when it is predicted; [`Equilibria::has_component`] tells before.
    pub fn declared(
        id: &str,
        standing: Modelling,
        components: Vec<(String, f64)>,
        protons: f64,
        note: Option<String>,
    ) -> Self {
        Self { id: id.to_owned(), standing, components, protons, note, dissolved_state_kj: 0.0 }
    }

    /// Parent id, for example `sodium-carbonate`.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// How much is known of it.
    pub fn standing(&self) -> Modelling {
        self.standing
    }

    /// Components by name, mol per mol of formula unit.
    pub fn components(&self) -> &[(String, f64)] {
        &self.components
    }

    /// For an unknown: the most protons a mole of its unknown part may take up or give off.
    pub fn protons(&self) -> f64 {
        self.protons
    }

    /// What is left out of the model, in words.
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }

    /// Enthalpy (kJ/mol, 25 °C) of the species in which a published heat of solution ends, counted from components, H⁺ and water.
    ///
    /// 55.8 for sodium hydroxide (its heat of solution ends in OH⁻), 0 for sodium carbonate (it ends in CO₃²⁻).
    pub fn dissolved_state_kj(&self) -> f64 {
        self.dissolved_state_kj
    }

    /// The addition of `moles` (mol per litre of solution) of it, with `water_moles` of crystal water in a mole.
    pub fn addition(&self, moles: f64, water_moles: f64) -> Addition {
        Addition {
            substance: self.id.clone(),
            moles,
            components: self.components.clone(),
            water_moles,
            standing: self.standing,
            protons: self.protons,
        }
    }
}

/// Components, species, constants and interaction coefficients: everything a prediction needs besides the recipe.
#[derive(Debug, Clone)]
pub struct Equilibria {
    pub(super) components: Vec<Component>,
    component_index: BTreeMap<String, usize>,
    /// H⁺, OH⁻, then all others; a component is a species too.
    pub(super) species: Vec<Species>,
    pub(super) activity: ActivityModel,
    substances: BTreeMap<String, SubstanceRow>,
    sources: BTreeMap<String, String>,
    /// cm³/mol of the growth of an apparent volume with ionic strength.
    pub(super) volume_slope_cm3: f64,
}

/// Name of the proton.
const HYDROGEN_NAME: &str = "H+";
/// Position of OH⁻ among the species.
pub(super) const HYDROXIDE: usize = 1;

impl Equilibria {
    /// Reads the table of equilibria.
    ///
    /// # Errors
    /// Says what is wrong with the text: syntax, an unknown key, a source that is not listed, a name nothing has, a charge that does
    /// not add up, or a figure that cannot be used.
    ///
    /// # Examples
    /// ```
    /// use soupcon::solution::Equilibria;
    ///
    /// let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));
    /// let equilibria = Equilibria::parse(text)?;
    /// assert!(equilibria.substance("borax").is_some());
    /// assert!(equilibria.substance("unobtainium").is_none());
    /// assert!(Equilibria::parse("format = 2").is_err());
    /// # Ok::<(), soupcon::solution::EquilibriaError>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, EquilibriaError> {
        Self::of_file(toml::from_str(text)?)
    }

    /// Reads the table as it was packed.
    ///
    /// # Errors
    /// As [`Equilibria::parse`].
    pub fn read(table: Packed<'_>) -> Result<Self, EquilibriaError> {
        Self::of_file(table.read()?)
    }

    /// Reads of it only what some chemicals (parent ids) need: the same predictions for them in a fraction of the time.
    ///
    /// # Errors
    /// As [`Equilibria::parse`].
    pub fn read_for(table: Packed<'_>, parents: &BTreeSet<&str>) -> Result<Self, EquilibriaError> {
        Self::of_file(excerpt::read(table, parents)?)
    }

    fn of_file(file: EquilibriaFile) -> Result<Self, EquilibriaError> {
        if file.format != 1 {
            return Err(EquilibriaError::Format { given: file.format });
        }
        check_sources(&file)?;
        let mut component_index = BTreeMap::new();
        for (index, component) in file.components.iter().enumerate() {
            if component_index.insert(component.name.clone(), index).is_some() {
                return Err(EquilibriaError::Duplicate { name: component.name.clone() });
            }
        }
        let components: Vec<Component> = file
            .components
            .iter()
            .map(|entry| component(entry, &component_index))
            .collect::<Result<_, _>>()?;
        let species = species(&file, &components, &component_index)?;
        let activity = ActivityModel::new(&file.model, &file.interactions, &species)?;
        let substances = substances(&file, &component_index, &species)?;
        Ok(Self {
            components,
            component_index,
            species,
            activity,
            substances,
            volume_slope_cm3: file.model.volume_slope_cm3,
            sources: file.sources,
        })
    }

    /// What a chemical brings, by its parent id (`sodium-carbonate`, not `sodium-carbonate-decahydrate`).
    pub fn substance(&self, id: &str) -> Option<&SubstanceRow> {
        self.substances.get(id)
    }

    /// All chemicals of the table, by id.
    pub fn substances(&self) -> impl Iterator<Item = &SubstanceRow> {
        self.substances.values()
    }

    /// Keys and citations of the sources of all figures.
    pub fn sources(&self) -> impl Iterator<Item = (&str, &str)> {
        self.sources.iter().map(|(key, citation)| (key.as_str(), citation.as_str()))
    }

    /// Whether there is a component of this name, so that a substance may be declared with it.
    pub fn has_component(&self, name: &str) -> bool {
        self.component_index.contains_key(name)
    }

    /// Names of all components, in the order of the table.
    pub fn component_names(&self) -> impl Iterator<Item = &str> {
        self.components.iter().map(|component| component.name.as_str())
    }

    /// Whether the volume that a component takes up in water is known; else it counts as nothing.
    pub fn knows_volume(&self, name: &str) -> bool {
        let component = self.component_index(name).and_then(|index| self.components.get(index));
        component.is_some_and(|component| component.volume_cm3.abs() > 0.0)
    }

    pub(super) fn component_index(&self, name: &str) -> Option<usize> {
        self.component_index.get(name).copied()
    }

    /// The same table with one constant moved by `delta_log_k`, to see what a doubtful constant changes.
    ///
    /// A species' name moves its own log K (the constant of forming it). A component's name makes every pK of its family higher by
    /// `delta_log_k`: log K of each of its species moves by that times the protons it takes up.
    /// `"OH-"` moves the constant of water.
    ///
    /// # Errors
    /// [`SolutionError::NoSuchConstant`] if neither a species nor a component with species has the name, or the shift is not finite.
    ///
    /// # Examples
    /// ```
    /// use soupcon::solution::Equilibria;
    ///
    /// let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));
    /// let equilibria = Equilibria::parse(text)?;
    /// let weaker_acid = equilibria.with_shift("hydroquinone", 0.2)?;
    /// assert!(equilibria.with_shift("hydroquinon", 0.2).is_err());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn with_shift(&self, name: &str, delta_log_k: f64) -> Result<Self, SolutionError> {
        let mut shifted = self.clone();
        let component = self.component_index(name);
        let mut is_known = false;
        for species in &mut shifted.species {
            let has_constant = species.is_component().is_none() && species.name != HYDROGEN_NAME;
            let is_named = species.name == name && has_constant;
            let in_family = component.is_some_and(|index| species.of.iter().any(|&(part, _)| part == index));
            if is_named {
                species.log_k25 += delta_log_k;
                is_known = true;
            } else if in_family && species.hydrogen.abs() > 0.0 {
                species.log_k25 += delta_log_k * species.hydrogen;
                is_known = true;
            }
        }
        if is_known && delta_log_k.is_finite() {
            Ok(shifted)
        } else {
            Err(SolutionError::NoSuchConstant { name: name.to_owned() })
        }
    }
}

/// Charge written at the end of a name: `Na+` 1, `SO3^2-` −2, `B(OH)3` 0.
fn charge_in_name(name: &str) -> f64 {
    let (body, sign) = match (name.strip_suffix('+'), name.strip_suffix('-')) {
        (Some(body), _) => (body, 1.0),
        (None, Some(body)) => (body, -1.0),
        (None, None) => return 0.0,
    };
    let size = body.rsplit_once('^').and_then(|(_, digits)| digits.parse::<u8>().ok()).map_or(1.0, f64::from);
    sign * size
}

fn usable(item: &str, figure: f64) -> Result<f64, EquilibriaError> {
    if figure.is_finite() {
        Ok(figure)
    } else {
        Err(EquilibriaError::BadFigure { item: item.to_owned(), figure })
    }
}

fn not_negative(item: &str, figure: f64) -> Result<f64, EquilibriaError> {
    if figure >= 0.0 {
        usable(item, figure)
    } else {
        Err(EquilibriaError::BadFigure { item: item.to_owned(), figure })
    }
}

fn check_sources(file: &EquilibriaFile) -> Result<(), EquilibriaError> {
    let ModelEntry { debye_huckel_a_source, debye_huckel_b_source, .. } = &file.model;
    let model = [
        debye_huckel_a_source,
        debye_huckel_b_source,
        &file.model.hydrogen_anion_source,
        &file.model.defaults_source,
    ];
    let model = model.into_iter().map(|key| ("the activity model", key));
    let water = std::iter::once(("OH-", &file.water.source));
    let interactions = file.interactions.iter().map(|pair| (pair.anion.as_str(), &pair.source));
    let components = file.components.iter().flat_map(|component| {
        [&component.volume_source, &component.acid_impurity_source]
            .into_iter()
            .flatten()
            .map(|key| (component.name.as_str(), key))
    });
    let species = file
        .components
        .iter()
        .flat_map(|component| &component.species)
        .map(|species| (species.name.as_str(), &species.source));
    for (item, key) in model.chain(water).chain(interactions).chain(components).chain(species) {
        if !file.sources.contains_key(key) {
            return Err(EquilibriaError::UnlistedSource { item: item.to_owned(), source_key: key.clone() });
        }
    }
    Ok(())
}

fn component(entry: &ComponentEntry, index: &BTreeMap<String, usize>) -> Result<Component, EquilibriaError> {
    let position = |name: &String| {
        let found = index.get(name).copied();
        found.ok_or_else(|| EquilibriaError::UnknownName { item: entry.name.clone(), name: name.clone() })
    };
    Ok(Component {
        name: entry.name.clone(),
        charge: charge_in_name(&entry.name),
        volume_cm3: usable(&entry.name, entry.volume_cm3.unwrap_or(0.0))?,
        acid_impurity: not_negative(&entry.name, entry.acid_impurity.unwrap_or(0.0))?,
        activity_doubt: not_negative(&entry.name, entry.activity_doubt)?,
        complexes_missing_with: entry
            .complexes_missing_with
            .iter()
            .map(position)
            .collect::<Result<_, _>>()?,
    })
}

fn species(
    file: &EquilibriaFile,
    components: &[Component],
    index: &BTreeMap<String, usize>,
) -> Result<Vec<Species>, EquilibriaError> {
    let plain = |name: &str, of: Vec<(usize, f64)>, hydrogen: f64| Species {
        name: name.to_owned(),
        charge: charge_in_name(name),
        of,
        hydrogen,
        water: 0.0,
        log_k25: 0.0,
        enthalpy_kj: 0.0,
        heat_capacity_j: 0.0,
        uncertainty: 0.0,
    };
    let hydroxide = Species {
        water: 1.0,
        log_k25: usable("OH-", file.water.log_k)?,
        enthalpy_kj: usable("OH-", file.water.enthalpy_kj)?,
        heat_capacity_j: usable("OH-", file.water.heat_capacity_j)?,
        uncertainty: not_negative("OH-", file.water.uncertainty)?,
        ..plain("OH-", Vec::new(), -1.0)
    };
    let mut all = vec![plain(HYDROGEN_NAME, Vec::new(), 1.0), hydroxide];
    for (position, (component, entry)) in components.iter().zip(&file.components).enumerate() {
        all.push(plain(&component.name, vec![(position, 1.0)], 0.0));
        for species in &entry.species {
            all.push(formed(species, position, components, index)?);
        }
    }
    let mut seen = BTreeSet::new();
    for species in &all {
        if !seen.insert(species.name.as_str()) {
            return Err(EquilibriaError::Duplicate { name: species.name.clone() });
        }
    }
    Ok(all)
}

fn formed(
    entry: &SpeciesEntry,
    position: usize,
    components: &[Component],
    index: &BTreeMap<String, usize>,
) -> Result<Species, EquilibriaError> {
    let item = entry.name.as_str();
    let mut of = vec![(position, usable(item, entry.count)?)];
    for (name, &count) in &entry.with {
        let part = index
            .get(name)
            .ok_or_else(|| EquilibriaError::UnknownName { item: item.to_owned(), name: name.clone() })?;
        of.push((*part, usable(item, count)?));
    }
    if let Some(&(_, count)) = of.iter().find(|&&(_, count)| count < 1.0) {
        return Err(EquilibriaError::BadFigure { item: item.to_owned(), figure: count });
    }
    let stated = charge_in_name(item);
    let computed = entry.hydrogen
        + of.iter().filter_map(|&(part, count)| Some(components.get(part)?.charge * count)).sum::<f64>();
    if (stated - computed).abs() > 1e-9 {
        return Err(EquilibriaError::ChargeMismatch { name: entry.name.clone(), stated, computed });
    }
    Ok(Species {
        name: entry.name.clone(),
        charge: stated,
        of,
        hydrogen: usable(item, entry.hydrogen)?,
        water: usable(item, entry.water)?,
        log_k25: usable(item, entry.log_k)?,
        enthalpy_kj: usable(item, entry.enthalpy_kj)?,
        heat_capacity_j: usable(item, entry.heat_capacity_j)?,
        uncertainty: not_negative(item, entry.uncertainty)?,
    })
}

fn substances(
    file: &EquilibriaFile,
    index: &BTreeMap<String, usize>,
    species: &[Species],
) -> Result<BTreeMap<String, SubstanceRow>, EquilibriaError> {
    let enthalpies: BTreeMap<&str, f64> =
        species.iter().map(|species| (species.name.as_str(), species.enthalpy_kj)).collect();
    let mut rows = BTreeMap::new();
    for entry in &file.substances {
        let unknown =
            |name: &String| EquilibriaError::UnknownName { item: entry.id.clone(), name: name.clone() };
        for (name, &count) in &entry.components {
            index.get(name).ok_or_else(|| unknown(name))?;
            not_negative(&entry.id, count)?;
        }
        let mut dissolved_state_kj = 0.0;
        for (name, &count) in &entry.dissolves_as {
            let enthalpy = enthalpies.get(name.as_str()).ok_or_else(|| unknown(name))?;
            dissolved_state_kj += enthalpy * not_negative(&entry.id, count)?;
        }
        let row = SubstanceRow {
            id: entry.id.clone(),
            standing: entry.standing,
            components: entry.components.clone().into_iter().collect(),
            protons: not_negative(&entry.id, entry.protons.unwrap_or(0.0))?,
            note: entry.note.clone(),
            dissolved_state_kj,
        };
        if rows.insert(entry.id.clone(), row).is_some() {
            return Err(EquilibriaError::Duplicate { name: entry.id.clone() });
        }
    }
    Ok(rows)
}

#[cfg(test)]
mod tests;
