//! One chemical form for another, mole for mole of what does the work.
//!
//! Forms of one parent: m₂ = m₁ · (a₁/M₁) · (M₂/a₂), M molar mass in g/mol with its water of crystallisation, a assay as a fraction.
//! Between parents only where a row of `tables/exchanges.toml` says how many moles replace how many.

use serde::Deserialize;
use thiserror::Error;

use crate::diagnostic::{Finding, TableSource, read_table};
use crate::substance::Form;
use crate::substance::molar::SODIUM_HYDROXIDE_G_PER_MOL;

/// A row of `tables/exchanges.toml`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Relation {
    /// Parent id of what the recipe names.
    pub from: String,
    /// Parent id of what replaces it.
    pub to: String,
    /// Moles of `to` for one mole of `from`.
    pub moles: f64,
    /// Whether a chemical on the shelf may stand in without being asked for.
    pub automatic: bool,
    /// Moles of hydroxide to add (or leave out, negative) per mole of `from`.
    #[serde(default)]
    pub hydroxide_moles: f64,
    /// Why it works and what to mind.
    pub note: String,
    /// Key of `tables/sources.toml`.
    pub source: String,
}

/// All relations between parents.
#[derive(Debug, Clone, Default)]
pub struct Relations(Vec<Relation>);

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RelationsFile {
    #[serde(rename = "format")]
    _format: u32,
    exchanges: Vec<Relation>,
}

impl Relations {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        read_table::<RelationsFile>(source, file).map(|table| Self(table.exchanges))
    }

    /// The relation from one parent to another.
    pub fn between(&self, from: &str, to: &str) -> Option<&Relation> {
        self.0.iter().find(|relation| relation.from == from && relation.to == to)
    }

    /// In the order of the table.
    pub fn rows(&self) -> &[Relation] {
        &self.0
    }
}

/// What an exchange comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Exchanged {
    /// Grams of the new form.
    pub grams: f64,
    /// Moles of the old parent that were in it.
    pub moles: f64,
    /// The relation used between two parents; none for forms of one parent.
    pub relation: Option<Relation>,
}

impl Exchanged {
    /// Grams of sodium hydroxide to add (or leave out, negative) for the exchange to be exact; zero mostly.
    pub fn sodium_hydroxide_g(&self) -> f64 {
        self.relation
            .as_ref()
            .map_or(0.0, |relation| relation.hydroxide_moles * self.moles * SODIUM_HYDROXIDE_G_PER_MOL)
    }
}

/// Why a form cannot replace another.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ExchangeError {
    /// Two different chemicals without a known exact relation.
    #[error("{to} does not replace {from} mole for mole")]
    NotRelated {
        /// What the recipe names.
        from: String,
        /// What was offered.
        to: String,
    },
    /// No fixed composition.
    #[error("{form} has no fixed composition, so no exchange can be computed")]
    NoMolarMass {
        /// Its name, as printed.
        form: String,
    },
    /// A volume of a liquid whose density is not known.
    #[error("the density of {form} is not known, so its millilitres cannot be turned into grams")]
    NoDensity {
        /// Its name, as printed.
        form: String,
    },
}

/// Grams of `to` that do the work of `grams` of `from`; `assay_from` and `assay_to` are fractions by mass.
///
/// # Errors
/// Unrelated chemicals, or one without a fixed composition.
pub fn exchange(
    grams: f64,
    (from, assay_from): (&Form, f64),
    (to, assay_to): (&Form, f64),
    relations: &Relations,
) -> Result<Exchanged, ExchangeError> {
    if from.id == to.id {
        // The same form at another assay needs no molar mass.
        let moles = from.moles_in(grams, assay_from).unwrap_or_default();
        return Ok(Exchanged { grams: grams * assay_from / assay_to, moles, relation: None });
    }
    let relation = if from.parent.id == to.parent.id {
        None
    } else {
        let found = relations.between(&from.parent.id, &to.parent.id);
        Some(
            found
                .ok_or_else(|| ExchangeError::NotRelated { from: from.id.clone(), to: to.id.clone() })?
                .clone(),
        )
    };
    let no_molar_mass = |form: &Form| ExchangeError::NoMolarMass { form: form.id.clone() };
    let moles = from.moles_in(grams, assay_from).ok_or_else(|| no_molar_mass(from))?;
    let each = to.molar_mass_g_per_mol.ok_or_else(|| no_molar_mass(to))?;
    let ratio = relation.as_ref().map_or(1.0, |relation| relation.moles);
    Ok(Exchanged { grams: moles * ratio * each / assay_to, moles, relation })
}
