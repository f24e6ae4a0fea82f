//! Jars and shopping in words and JSON.

use serde::Serialize;

use super::{Column, Document};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::shelf::{Cost, Left, Wanted};

/// Grams: kilograms from one on.
fn grams(value: f64) -> String {
    if value >= 1000.0 {
        return format!("{} kg", show_short(value / 1000.0, 2));
    }
    format!("{} g", show_short(value, if value < 10.0 { 2 } else { 1 }))
}

/// What is left in the jars.
pub fn shelf_document(left: &[Left]) -> Document {
    let mut document = Document::new();
    document.title("Shelf");
    let columns = vec![
        Column::left("jar"),
        Column::right("left"),
        Column::right("taken"),
        Column::right("was"),
        Column::left("counted"),
    ];
    let row = |own: &Left| {
        let left = own.left_g.map_or_else(
            || "not known".to_owned(),
            |left| if left < 0.0 { "none".to_owned() } else { grams(left) },
        );
        let was = own.jar.amount_g.map_or_else(|| "not known".to_owned(), grams);
        let counted = own.jar.counted.map_or_else(String::new, |day| day.to_string());
        vec![own.jar.form.name.clone(), left, grams(own.taken_g), was, counted]
    };
    document.table(columns, left.iter().map(row).collect());
    let short = left.iter().filter(|own| own.left_g.is_some_and(|left| left < 0.0));
    document.list(
        short
            .map(|own| {
                format!(
                    "{}: the journal took {} more than was counted; count it again",
                    own.jar.form.name,
                    grams(-own.left_g.unwrap_or_default())
                )
            })
            .collect(),
    );
    document.paragraph(
        "After what the journal says was mixed since each jar was counted; the file itself is never changed.",
    );
    document
}

/// What is missing.
pub fn shopping_document(wanted: &[Wanted], plan: &[String]) -> Document {
    let mut document = Document::new();
    document.title(format!("Shopping for {}", plan.join(", ")));
    let missing: Vec<&Wanted> = wanted.iter().filter(|own| own.missing_g > 0.0).collect();
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
    let row = |own: &&Wanted| {
        let packs = own.packs.map_or_else(
            || "size not known".to_owned(),
            |(packs, size)| format!("{} x {}", show_short(packs, 0), grams(size)),
        );
        vec![
            own.form.name.clone(),
            packs,
            grams(own.missing_g),
            own.needed_g.map_or_else(String::new, grams),
            own.left_g.map_or_else(|| "not known".to_owned(), grams),
            own.cost.map_or_else(|| "not known".to_owned(), |cost| show_decimals(cost, 2)),
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
fn total(wanted: &[Wanted]) -> Option<f64> {
    let costs: Vec<f64> = wanted.iter().filter_map(|own| own.cost).collect();
    (!costs.is_empty()).then(|| costs.iter().sum())
}

/// Cost of a litre of each part, for a card.
pub fn cost_words(cost: &Cost) -> Option<String> {
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

/// `shelf`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ShelfBody {
    jars: Vec<JarBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct JarBody {
    substance: String,
    amount_g: Option<f64>,
    counted: Option<String>,
    taken_g: f64,
    batches: usize,
    /// Below zero where more was taken than was counted.
    left_g: Option<f64>,
    price_per_g: Option<f64>,
}

impl ShelfBody {
    /// From the jars.
    pub fn new(left: &[Left]) -> Self {
        let jars = left.iter().map(|own| JarBody {
            substance: own.jar.form.id.clone(),
            amount_g: own.jar.amount_g,
            counted: own.jar.counted.map(|day| day.to_string()),
            taken_g: own.taken_g,
            batches: own.batches,
            left_g: own.left_g,
            price_per_g: own.jar.price_per_g(),
        });
        Self { jars: jars.collect() }
    }
}

/// `shopping`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ShoppingBody {
    wanted: Vec<WantedBody>,
    /// Sum of what has a price.
    cost: Option<f64>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct WantedBody {
    substance: String,
    needed_g: Option<f64>,
    left_g: Option<f64>,
    missing_g: f64,
    packs: Option<f64>,
    pack_g: Option<f64>,
    cost: Option<f64>,
}

impl ShoppingBody {
    /// From what is wanted.
    pub fn new(wanted: &[Wanted]) -> Self {
        let each = wanted.iter().map(|own| WantedBody {
            substance: own.form.id.clone(),
            needed_g: own.needed_g,
            left_g: own.left_g,
            missing_g: own.missing_g,
            packs: own.packs.map(|(packs, _)| packs),
            pack_g: own.packs.map(|(_, size)| size),
            cost: own.cost,
        });
        Self { wanted: each.collect(), cost: total(wanted) }
    }
}
