//! What is missing for a plan, and what it costs, in words.

use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::shelf::grams;
use crate::render::{Column, Document};
use crate::shelf::ShoppingLine;

/// What is missing.
pub(crate) fn shopping_document(wanted: &[ShoppingLine], plan: &[String]) -> Document {
    let mut document = Document::new();
    document.title(format!("Shopping for {}", plan.join(", ")));
    let missing: Vec<&ShoppingLine> = wanted.iter().filter(|own| own.missing_g > 0.0).collect();
    if missing.is_empty() {
        document.paragraph("Nothing is missing.");
    }
    let columns = vec![
        Column::left("buy"),
        Column::right("packs"),
        Column::right("missing"),
        Column::right("needed"),
        Column::right("left"),
        Column::right("cost"),
    ];
    let row = |line: &&ShoppingLine| {
        let packs = line.packs.map_or_else(
            || "size not known".to_owned(),
            |(packs, size)| format!("{} x {}", show_short(packs, 0), grams(size)),
        );
        vec![
            line.form.name.clone(),
            packs,
            grams(line.missing_g),
            line.needed_g.map_or_else(String::new, grams),
            line.left_g.map_or_else(|| crate::doubt::NOT_KNOWN.to_owned(), grams),
            line.cost.map_or_else(|| crate::doubt::NOT_KNOWN.to_owned(), |cost| show_decimals(cost, 2)),
        ]
    };
    document.table(columns, missing.iter().map(row).collect());
    if let Some(sum) = total(wanted) {
        let open = missing.iter().filter(|own| own.cost.is_none()).count();
        let words = match open {
            0 => format!("Together {}, in your own currency.", show_decimals(sum, 2)),
            _ => format!("Those with a price: {}; {open} without one.", show_decimals(sum, 2)),
        };
        document.paragraph(words);
    }
    let unsure: Vec<String> = wanted
        .iter()
        .filter(|own| own.has_jar && own.left_g.is_none())
        .map(|own| format!("{}: how much is in the jar is not known; taken to be enough", own.form.name))
        .chain(wanted.iter().filter(|own| own.needed_g.is_none()).map(|own| {
            format!("{}: its density is not known, so how much is needed in grams is not", own.form.name)
        }))
        .collect();
    document.list(unsure);
    document
}

/// What all that has a price costs.
pub(super) fn total(wanted: &[ShoppingLine]) -> Option<f64> {
    let costs: Vec<f64> = wanted.iter().filter_map(|own| own.cost).collect();
    (!costs.is_empty()).then(|| costs.iter().sum())
}
