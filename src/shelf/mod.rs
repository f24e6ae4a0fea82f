//! Jars: what is left of them, what is missing for a plan, in the sizes that are bought, and what it costs.
//!
//! A jar is as the user's file says; what the journal says was mixed after its count is taken off, and the file is never rewritten. Money
//! is a plain number in the user's own currency. Liquids are kept in grams by their density.

use std::sync::Arc;

use crate::journal::{Date, Entry, Journal};
use crate::scale::{Batch, Unit};
use crate::substance::Form;

/// A jar as its line in the file says.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Jar {
    pub form: Arc<Form>,
    /// How much, g; none where only its being there is said.
    pub amount_g: Option<f64>,
    /// The day at whose end it was counted; none where all of the journal came after it.
    pub counted: Option<Date>,
    /// Price of one size.
    pub price: Option<f64>,
    /// The size in which it is bought, g.
    pub size_g: Option<f64>,
}

impl Jar {
    /// Price of a gram, where price and size are known.
    pub(crate) fn price_per_g(&self) -> Option<f64> {
        Some(self.price? / self.size_g.filter(|size| *size > 0.0)?)
    }
}

/// Grams of a form in an amount; none for millilitres of a liquid whose density is not known.
pub(crate) fn grams(form: &Form, amount: f64, is_ml: bool) -> Option<f64> {
    if is_ml { Some(amount * form.density_g_per_ml?) } else { Some(amount) }
}

/// A jar with what became of it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Left {
    pub jar: Jar,
    /// What the journal says was taken since it was counted, g.
    pub taken_g: f64,
    /// How many batches took of it.
    pub batches: usize,
    /// What is left, g; below zero where more was taken than was there. None where the jar's amount is not known.
    pub left_g: Option<f64>,
}

pub(crate) fn left(jars: &[Jar], journal: &Journal) -> Vec<Left> {
    jars.iter()
        .map(|jar| {
            let (mut taken_g, mut batches) = (0.0, 0);
            for entry in &journal.entries {
                let Entry::Mixed(mixed) = entry else { continue };
                if jar.counted.is_some_and(|counted| mixed.date <= counted) {
                    continue;
                }
                for taken in mixed.taken.iter().filter(|taken| taken.form == jar.form.id) {
                    taken_g += grams(&jar.form, taken.amount, taken.is_ml).unwrap_or(0.0);
                    batches += 1;
                }
            }
            Left { jar: jar.clone(), taken_g, batches, left_g: jar.amount_g.map(|amount| amount - taken_g) }
        })
        .collect()
}

/// A form that a plan needs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ShoppingLine {
    pub form: Arc<Form>,
    /// Needed for all, g; none where its density is not known.
    pub needed_g: Option<f64>,
    /// On the shelf, g; none where the jar is there and its amount is not known.
    pub left_g: Option<f64>,
    /// Whether a jar of it stands there.
    pub has_jar: bool,
    pub missing_g: f64,
    /// Packs to buy and the size of one, g.
    pub packs: Option<(f64, f64)>,
    pub cost: Option<f64>,
}

/// What the batches need together, and what of it must be bought.
pub(crate) fn shopping(batches: &[Batch], shelf: &[Left]) -> Vec<ShoppingLine> {
    let mut wanted: Vec<ShoppingLine> = Vec::new();
    for item in batches.iter().flat_map(|batch| &batch.parts).flat_map(|part| &part.items) {
        let needed = grams(&item.form, item.amount, item.unit == Unit::Millilitre).or(item.grams);
        match wanted.iter_mut().find(|own| own.form.id == item.form.id) {
            Some(own) => own.needed_g = own.needed_g.zip(needed).map(|(one, other)| one + other),
            None => wanted.push(ShoppingLine {
                form: Arc::clone(&item.form),
                needed_g: needed,
                left_g: Some(0.0),
                has_jar: false,
                missing_g: 0.0,
                packs: None,
                cost: None,
            }),
        }
    }
    for line in &mut wanted {
        let jars: Vec<&Left> = shelf.iter().filter(|left| left.jar.form.id == line.form.id).collect();
        line.has_jar = !jars.is_empty();
        line.left_g = jars.iter().map(|left| left.left_g.map(|grams| grams.max(0.0))).sum();
        // A jar without an amount is taken to be enough; that is said.
        let (Some(needed), Some(left)) = (line.needed_g, line.left_g) else { continue };
        line.missing_g = (needed - left).max(0.0);
        if line.missing_g <= needed * 1e-9 {
            line.missing_g = 0.0;
            continue;
        }
        if let Some(jar) = jars.iter().map(|left| &left.jar).find(|jar| jar.size_g.is_some())
            && let Some(size) = jar.size_g.filter(|size| *size > 0.0)
        {
            let packs = (line.missing_g / size - 1e-9).ceil();
            line.packs = Some((packs, size));
            line.cost = jar.price.map(|price| packs * price);
        }
    }
    wanted
}

/// What a batch costs.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Cost {
    /// What those with a price cost together.
    pub sum: f64,
    /// Those without a price.
    pub without: Vec<String>,
    /// How many have one.
    pub priced: usize,
}

/// What a batch costs by the prices of the jars.
pub(crate) fn cost(batch: &Batch, jars: &[Jar]) -> Cost {
    let mut cost = Cost::default();
    for item in batch.parts.iter().flat_map(|part| &part.items) {
        let mut of_form = jars.iter().filter(|jar| jar.form.id == item.form.id);
        let price = of_form.find_map(Jar::price_per_g);
        let needed = grams(&item.form, item.amount, item.unit == Unit::Millilitre).or(item.grams);
        match price.zip(needed) {
            Some((price, needed)) => {
                cost.sum += price * needed;
                cost.priced += 1;
            }
            None if cost.without.contains(&item.form.name) => {}
            None => cost.without.push(item.form.name.clone()),
        }
    }
    cost
}
