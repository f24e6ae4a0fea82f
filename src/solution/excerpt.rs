//! The rows of the table of equilibria that some chemicals need, so that a sheet does not read what it does not use.
//!
//! A test holds, over the whole shipped library, a prediction from the excerpt against that from the whole table, to the last figure.

use std::collections::BTreeSet;

use serde::de::value::Error;

use super::file::{ComponentEntry, EquilibriaFile};
use crate::packed::Packed;

/// Always kept: sodium, whose interaction figures stand in for potassium and ammonium; both as what a titration adds.
const ALWAYS: [&str; 2] = ["Na+", "Cl-"];
/// Species that the model brings without a row.
const BUILT_IN: [&str; 2] = ["H+", "OH-"];

/// Reads only the rows that concern these substances (parent ids).
pub(super) fn read(table: Packed<'_>, parents: &BTreeSet<&str>) -> Result<EquilibriaFile, Error> {
    let whole: EquilibriaFile<Packed<'_>, Packed<'_>, Packed<'_>> = table.read()?;
    let named = |row: &Packed<'_>, key: &str, names: &BTreeSet<&str>| {
        row.get(key).and_then(Packed::text).is_some_and(|name| names.contains(name))
    };
    let rows: Vec<Packed<'_>> =
        whole.substances.into_iter().filter(|row| named(row, "id", parents)).collect();
    let brought = rows.iter().filter_map(|row| row.get("components")).flat_map(Packed::entries);
    let kept: BTreeSet<&str> = ALWAYS.into_iter().chain(brought.map(|(name, _)| name)).collect();
    let all: BTreeSet<&str> =
        whole.components.iter().filter_map(|row| row.get("name").and_then(Packed::text)).collect();
    let is_dropped = |name: &str| all.contains(name) && !kept.contains(name);
    let mut components: Vec<ComponentEntry> = whole
        .components
        .iter()
        .filter(|row| named(row, "name", &kept))
        .map(|row| row.read())
        .collect::<Result<_, _>>()?;
    for component in &mut components {
        component.complexes_missing_with.retain(|name| !is_dropped(name));
        component.species.retain(|species| !species.with.keys().any(|name| is_dropped(name)));
    }
    let of_components = components.iter().flat_map(|component| {
        std::iter::once(component.name.as_str())
            .chain(component.species.iter().map(|species| species.name.as_str()))
    });
    let species: BTreeSet<&str> = BUILT_IN.into_iter().chain(of_components).collect();
    let interactions = whole
        .interactions
        .iter()
        .filter(|pair| named(pair, "cation", &species) && named(pair, "anion", &species))
        .map(|pair| pair.read())
        .collect::<Result<_, _>>()?;
    Ok(EquilibriaFile {
        format: whole.format,
        substances: rows.iter().map(|row| row.read()).collect::<Result<_, _>>()?,
        interactions,
        sources: whole.sources,
        model: whole.model,
        water: whole.water,
        components,
    })
}
