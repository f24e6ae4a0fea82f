//! Formulas found by nearness or by what the shelf allows, in words.

use crate::can_make::{CanMake, Needs};
use crate::library::FoundFormula;
use crate::nearest::Near;
use crate::quantity::rounding::show_decimals;
use crate::render::Document;

/// The nearest formulas, nearest first.
pub(crate) fn near_document(name: &str, ranked: &[(&FoundFormula, Near<'_>)]) -> Document {
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
            .filter(|difference| (difference.amount > 0.0) == more)
            .map(|difference| difference.species.replace('-', " "))
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
pub(crate) fn make_document(sorted: &CanMake<'_>) -> Document {
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
