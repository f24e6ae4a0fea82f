//! What a chemical brings to a bath: the table `tables/composition.toml`.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::diagnostic::{Finding, TableSource, read_table};
use crate::library::Library;
use crate::substance::Role;

const FILE: &str = "composition.toml";

/// A working ion or molecule that several chemicals bring: sulfite, bromide, borate.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Species {
    pub name: String,
    /// What it does.
    pub role: Role,
    /// mol/L below which it hardly matters.
    pub threshold: f64,
    /// Its weight in nearness, where it differs from its role's.
    pub weight: Option<f64>,
    /// Species that it adds up.
    #[serde(default)]
    pub sum_of: Vec<String>,
    /// How many of it a formula unit of each chemical (parent id) brings.
    #[serde(default)]
    pub chemicals: BTreeMap<String, f64>,
    /// Whether its chemicals are alike but not the same.
    #[serde(default)]
    pub tell_apart: bool,
    /// What the number counts.
    pub note: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ChemistryFile {
    #[serde(rename = "format")]
    _format: u32,
    basis: BTreeMap<String, String>,
    species: Vec<Species>,
}

/// The form in which each chemical's grams are told, and the species that chemicals bring.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Chemistry {
    basis: BTreeMap<String, String>,
    species: Vec<Species>,
}

impl Chemistry {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        let table = read_table::<ChemistryFile>(source, file)?;
        Ok(Self { basis: table.basis, species: table.species })
    }

    /// The shipped table; a test proves it readable.
    pub fn shipped(library: &Library) -> Self {
        Self::parse(library.packed(FILE), FILE).unwrap_or_default()
    }

    /// The form id in which a chemical's grams are told, where it is not the first of its file.
    pub fn basis(&self, parent: &str) -> Option<&str> {
        self.basis.get(parent).map(String::as_str)
    }

    pub fn species(&self) -> &[Species] {
        &self.species
    }

    pub fn named(&self, name: &str) -> Option<&Species> {
        self.species.iter().find(|species| species.name == name)
    }

    /// The species that a chemical brings.
    pub fn brought_by<'a>(&'a self, parent: &'a str) -> impl Iterator<Item = (&'a Species, f64)> {
        self.species.iter().filter_map(move |species| Some((species, *species.chemicals.get(parent)?)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_table_names_only_chemicals_and_forms_that_exist() {
        let library = Library::shipped();
        let chemistry = Chemistry::parse(library.table(FILE).unwrap(), FILE).unwrap();
        for (parent, form) in &chemistry.basis {
            let substance = library.substance(parent).unwrap().unwrap_or_else(|| panic!("{parent}"));
            assert!(substance.form(form).is_some(), "{form}");
        }
        for species in chemistry.species() {
            assert!(species.threshold > 0.0, "{}", species.name);
            assert!(species.chemicals.is_empty() != species.sum_of.is_empty(), "{}", species.name);
            assert!(species.sum_of.iter().all(|own| chemistry.named(own).is_some()), "{}", species.name);
            for parent in species.chemicals.keys() {
                assert!(library.substance(parent).unwrap().is_some(), "{parent}");
            }
        }
    }

    #[test]
    fn the_basis_is_the_form_that_most_formulas_name() {
        let library = Library::shipped();
        let chemistry = Chemistry::shipped(&library);
        let mut counts: BTreeMap<String, BTreeMap<String, u32>> = BTreeMap::new();
        for found in library.formulas().unwrap().0 {
            for ingredient in found.formula.ingredients() {
                let of_parent = counts.entry(ingredient.form.parent.id.clone()).or_default();
                *of_parent.entry(ingredient.form.id.clone()).or_default() += 1;
            }
        }
        for (parent, forms) in &counts {
            let first = library.substance(parent).unwrap().unwrap().forms[0].id.clone();
            let basis = chemistry.basis(parent).map_or(first, str::to_owned);
            let most = forms.values().max().unwrap();
            assert!(forms.get(&basis) == Some(most), "{parent}: {basis} is not the commonest of {forms:?}");
        }
    }
}
