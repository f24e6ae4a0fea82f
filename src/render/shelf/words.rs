//! Jars in words, and what a litre costs by their prices.

use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::{Column, Document};
use crate::shelf::{Cost, Left};

/// Grams: kilograms from one on.
pub(in crate::render) fn grams(value: f64) -> String {
    if value >= 1000.0 {
        return format!("{} kg", show_short(value / 1000.0, 2));
    }
    format!("{} g", show_short(value, if value < 10.0 { 2 } else { 1 }))
}

/// What is left in the jars.
pub(crate) fn shelf_document(left: &[Left]) -> Document {
    let mut document = Document::new();
    document.title("Shelf");
    let columns = vec![
        Column::left("jar"),
        Column::right("left"),
        Column::right("taken"),
        Column::right("was"),
        Column::left("counted"),
    ];
    let row = |jar_left: &Left| {
        let left = jar_left.left_g.map_or_else(
            || crate::doubt::NOT_KNOWN.to_owned(),
            |left| if left < 0.0 { "none".to_owned() } else { grams(left) },
        );
        let was = jar_left.jar.amount_g.map_or_else(|| crate::doubt::NOT_KNOWN.to_owned(), grams);
        let counted = jar_left.jar.counted.map_or_else(String::new, |day| day.to_string());
        vec![jar_left.jar.form.name.clone(), left, grams(jar_left.taken_g), was, counted]
    };
    document.table(columns, left.iter().map(row).collect());
    let short = left.iter().filter(|own| own.left_g.is_some_and(|left| left < 0.0));
    document.list(
        short
            .map(|jar_left| {
                format!(
                    "{}: the journal took {} more than was counted; count it again",
                    jar_left.jar.form.name,
                    grams(-jar_left.left_g.unwrap_or_default())
                )
            })
            .collect(),
    );
    document.paragraph(
        "After what the journal says was mixed since each jar was counted; the file itself is never changed.",
    );
    document
}

/// Cost of a litre of each part, for a card.
pub(crate) fn cost_words(cost: &Cost) -> Option<String> {
    if cost.priced == 0 {
        return None;
    }
    let sum = show_decimals(cost.sum, 2);
    Some(if cost.without.is_empty() {
        format!("{sum} for a litre, in your own currency")
    } else {
        format!("at least {sum} for a litre; no price of {}", cost.without.join(", "))
    })
}
