//! Formulas found by nearness or by what the shelf allows.

use serde::Serialize;

use super::Document;
use super::json::ListedFormula;
use crate::can_make::{CanMake, Needs};
use crate::library::{Found, Header};
use crate::nearest::Near;
use crate::quantity::rounding::show_decimals;

/// The nearest formulas, nearest first.
pub fn near_document(name: &str, ranked: &[(&Found, Near<'_>)]) -> Document {
    let mut list = Document::new();
    list.paragraph(format!(
        "Nearest in composition to {name}; 0 is the same bath, 1 an agent doubled or halved:"
    ));
    let facts = ranked
        .iter()
        .map(|(found, near)| {
            let formula = &found.formula;
            let differences = match difference_words(near) {
                empty if empty.is_empty() => String::new(),
                words => format!(". {words} ({})", near.strength.words()),
            };
            (
                format!("{}  {}", show_decimals(near.distance, 2), formula.id),
                format!(
                    "{} ({}; {}{}){differences}",
                    formula.title,
                    formula.kind.words(),
                    formula.trust_words(),
                    own_mark(formula)
                ),
            )
        })
        .collect();
    list.facts(facts);
    list
}

/// `; own, from FOLDER` after a formula that is not shipped.
fn own_mark(formula: &crate::formula::Formula) -> String {
    match formula.origin {
        crate::formula::Origin::Shipped => String::new(),
        _ => format!("; own, from {}", formula.origin_name()),
    }
}

/// `More bromide; less hydroquinone, metol`.
fn difference_words(near: &Near<'_>) -> String {
    let named = |more: bool| -> Vec<String> {
        near.differences
            .iter()
            .filter(|own| (own.amount > 0.0) == more)
            .map(|own| own.species.replace('-', " "))
            .collect()
    };
    let (more, less) = (named(true), named(false));
    match (more.is_empty(), less.is_empty()) {
        (true, true) => String::new(),
        (false, true) => format!("More {}", more.join(", ")),
        (true, false) => format!("Less {}", less.join(", ")),
        (false, false) => format!("More {}; less {}", more.join(", "), less.join(", ")),
    }
}

/// What can be mixed now, and what lacks one chemical.
pub fn make_document(sorted: &CanMake<'_>) -> Document {
    let mut list = Document::new();
    list.heading(format!("can be mixed now: {}", sorted.now.len()));
    list.facts(sorted.now.iter().map(|needs| (needs.formula.id.clone(), now_words(needs))).collect());
    list.heading(format!("one chemical away: {}", sorted.one_away.len()));
    list.facts(
        sorted
            .one_away
            .iter()
            .map(|needs| {
                let lacks: Vec<&str> = needs.missing.iter().map(|form| form.name.as_str()).collect();
                (needs.formula.id.clone(), format!("lacks {}", lacks.join(", ")))
            })
            .collect(),
    );
    list
}

fn now_words(needs: &Needs<'_>) -> String {
    let mut words = vec![needs.formula.title.clone()];
    words.extend(needs.largest_ml.map(|ml| format!("enough for {} mL", show_decimals(ml, 0))));
    words.extend(needs.substitutes.iter().map(ToString::to_string));
    words.join("; ")
}

/// `list --near`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct NearBody {
    formulas: Vec<NearFormula>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct NearFormula {
    #[serde(flatten)]
    listed: ListedFormula,
    /// `as bottled` or `as used`: at which strength the two are that near.
    strength: &'static str,
    /// What makes the distance, largest first.
    differences: Vec<NearDifference>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct NearDifference {
    species: String,
    /// Positive where this formula has more.
    amount: f64,
}

impl NearBody {
    /// Of the nearest formulas, nearest first.
    pub fn new(ranked: &[(&Found, Near<'_>)]) -> Self {
        let formulas = ranked
            .iter()
            .map(|(found, near)| NearFormula {
                listed: ListedFormula {
                    distance: Some(near.distance),
                    ..ListedFormula::new(&Header::of(found))
                },
                strength: near.strength.words(),
                differences: near
                    .differences
                    .iter()
                    .map(|own| NearDifference { species: own.species.clone(), amount: own.amount })
                    .collect(),
            })
            .collect();
        Self { formulas }
    }
}

/// `list --can-make`: those that can be mixed now first.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct MakeBody {
    formulas: Vec<MakeFormula>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct MakeFormula {
    #[serde(flatten)]
    listed: ListedFormula,
    /// Whether nothing is missing.
    can_make: bool,
    /// Ids of the forms that are missing; one at most.
    missing: Vec<String>,
    /// Forms from the shelf in place of the recipe's.
    substitutes: Vec<MakeSubstitute>,
    /// How far the amounts on the shelf reach, where they were given.
    largest_ml: Option<f64>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct MakeSubstitute {
    recipe: String,
    shelf: String,
    /// Grams from the shelf for one gram of the recipe's.
    factor: f64,
}

impl MakeBody {
    /// Of sorted formulas; `found` tells where each came from.
    pub fn new(sorted: &CanMake<'_>, found: &[Found]) -> Self {
        let formulas = sorted
            .now
            .iter()
            .chain(&sorted.one_away)
            .filter_map(|needs| {
                let own = found.iter().find(|own| own.formula.id == needs.formula.id)?;
                Some(MakeFormula {
                    listed: ListedFormula::new(&Header::of(own)),
                    can_make: needs.missing.is_empty(),
                    missing: needs.missing.iter().map(|form| form.id.clone()).collect(),
                    substitutes: needs
                        .substitutes
                        .iter()
                        .map(|own| MakeSubstitute {
                            recipe: own.recipe.id.clone(),
                            shelf: own.shelf.id.clone(),
                            factor: own.factor,
                        })
                        .collect(),
                    largest_ml: needs.largest_ml,
                })
            })
            .collect();
        Self { formulas }
    }
}
