//! `soupcon exchange`: grams of one form for another.

use clap::Args;

use super::arguments::{assay_fractions, form, mass};
use super::context::Context;
use super::error::CliError;
use crate::quantity::rounding::show_significant;
use crate::render::Document;
use crate::render::json::{ExchangeBody, document};
use crate::scale::exchange::exchange;

const EXAMPLES: &str = "\
Examples:
  soupcon exchange 67.5g sodium-carbonate-anhydrous --for sodium-carbonate-monohydrate
  soupcon exchange 2g borax-decahydrate --for borax-pentahydrate
  soupcon exchange 10g sodium-ascorbate --for ascorbic-acid";

/// Arguments of `exchange`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ExchangeArguments {
    /// How much the recipe asks
    amount: String,
    /// The form that the recipe names
    from: String,
    /// The form on the shelf
    #[arg(long = "for", value_name = "FORM")]
    to: String,
    /// How pure a product is, by mass
    #[arg(long, value_name = "FORM=PERCENT")]
    assay: Vec<String>,
}

pub(super) fn run(arguments: &ExchangeArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let amount = mass("AMOUNT", &arguments.amount)?;
    let (from, to) = (form(context, &arguments.from)?, form(context, &arguments.to)?);
    let assays = assay_fractions(context, &arguments.assay)?;
    let is_given = assays.iter().any(|(own, _)| own.id == to.id);
    let assay = |own: &crate::substance::Form| {
        assays
            .iter()
            .find(|(other, _)| other.id == own.id)
            .map_or_else(|| own.assay_fraction(), |(_, assay)| *assay)
    };
    let relations = context.relations()?;
    let exchanged = exchange(amount.as_g(), (&from, assay(&from)), (&to, assay(&to)), &relations)?;
    let hydroxide = exchanged.sodium_hydroxide_g();
    let note = exchanged.relation.as_ref().map(|relation| relation.note.clone());
    context.answer(
        || {
            let mut answer = Document::new();
            answer.paragraph(format!(
                "{} g of {} does the work of {} g of {}.",
                show_significant(exchanged.grams),
                to.name,
                show_significant(amount.as_g()),
                from.name
            ));
            let mut points: Vec<String> = note.iter().cloned().collect();
            if hydroxide != 0.0 {
                let word = if hydroxide > 0.0 { "more" } else { "less" };
                points.push(format!(
                    "exact only with {} g {word} sodium hydroxide, or its equal in alkali",
                    show_significant(hydroxide.abs())
                ));
            }
            if let Some((low, high)) = to.assay_typical.filter(|_| !is_given) {
                points.push(format!(
                    "counted as 100 % pure; {} is usually {low} to {high} %: give --assay",
                    to.name
                ));
            }
            answer.list(points);
            answer.caution("CAUTION", vec!["A weight only. How it is mixed: `soupcon sheet`.".to_owned()]);
            answer
        },
        || {
            document(ExchangeBody {
                from: from.id.clone(),
                to: to.id.clone(),
                amount_g: amount.as_g(),
                result_g: exchanged.grams,
                sodium_hydroxide_g: hydroxide,
                note: note.clone(),
            })
        },
    )?;
    Ok(0)
}
