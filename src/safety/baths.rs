//! The baths of a formula, one after another as they are used.

use crate::formula::Formula;
use crate::vessel::{Content, Vessel};

/// A bath as it is used, one of a sequence.
#[derive(Debug, Clone, PartialEq)]
pub struct BathSummary {
    /// Its name in the sequence.
    pub name: String,
    /// What it holds at working strength; nothing at all for plain water, which counts as a wash.
    pub contents: Vessel,
}

impl BathSummary {
    /// A wash in plain water.
    pub fn wash() -> Self {
        Self { name: "wash".to_owned(), contents: Vessel::default() }
    }

    /// Whether it is plain water.
    pub fn is_wash(&self) -> bool {
        self.contents.iter().all(Content::is_water)
    }
}

/// The baths of a formula at working strength, in the order of use: those of the use named, else of its first one; the parts
/// themselves where the formula gives no use.
pub fn baths_of(formula: &Formula, use_name: Option<&str>) -> Vec<BathSummary> {
    let use_of = match use_name {
        Some(name) => formula.uses.iter().find(|own| own.name.eq_ignore_ascii_case(name)),
        None => formula.uses.first(),
    };
    if let Some(use_of) = use_of {
        let several = use_of.baths.len() > 1;
        return use_of
            .baths
            .iter()
            .map(|bath| BathSummary {
                name: if several { format!("{} ({bath})", formula.id) } else { formula.id.clone() },
                contents: Vessel::of_bath(formula, bath),
            })
            .collect();
    }
    formula
        .parts
        .iter()
        .map(|part| BathSummary {
            name: part
                .name
                .as_ref()
                .map_or_else(|| formula.id.clone(), |name| format!("{} {name}", formula.id)),
            contents: Vessel::of_part(part),
        })
        .collect()
}
