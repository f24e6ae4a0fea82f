//! `soupcon exchange`: grams of one form for another.

use clap::Args;

use super::arguments::{assays, form, mass};
use super::context::Context;
use super::error::CliError;
use super::settings::SettingOrigin;
use crate::quantity::rounding::show_significant;
use crate::render::Document;
use crate::render::exchange::ExchangeBody;
use crate::render::json::document;
use crate::scale::Advice;
use crate::scale::exchange::exchange;

const EXAMPLES: &str = "\
Examples:
  soupcon exchange 67.5g sodium-carbonate-anhydrous --for sodium-carbonate-monohydrate
  soupcon exchange 2g borax-decahydrate --for borax-pentahydrate
  soupcon exchange 10g sodium-ascorbate --for ascorbic-acid";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ExchangeArguments {
    /// How much the formula asks
    amount: String,
    /// The form that the formula names
    from: String,
    /// The form on your shelf
    #[arg(long = "for", value_name = "FORM")]
    to: String,
    /// Purity of a chemical, by mass
    #[arg(long, value_name = "FORM=PERCENT")]
    assay: Vec<String>,
}

pub(super) fn run(arguments: &ExchangeArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let amount = mass("AMOUNT", &arguments.amount)?;
    let (from, to) = (form(context, &arguments.from)?, form(context, &arguments.to)?);
    let assays = assays(context, &arguments.assay)?;
    let given = assays.iter().find(|(own, _)| own.id == to.id).map(|(_, assay)| assay.value);
    // What the environment or the configuration says is of the user's own jar; the recipe's product is described by an option only.
    let is_of_recipe =
        |setting_origin: &SettingOrigin| from.id != to.id && matches!(setting_origin, SettingOrigin::Flag(_));
    let of_recipe = assays.iter().find(|(own, assay)| own.id == from.id && is_of_recipe(&assay.origin));
    let from_assay = of_recipe.map_or_else(|| from.assay_fraction(), |(_, assay)| assay.value);
    let to_assay = given.unwrap_or_else(|| to.assay_fraction());
    let relations = context.relations()?;
    let exchanged = exchange(amount.as_g(), (&from, from_assay), (&to, to_assay), &relations)?;
    let hydroxide = exchanged.sodium_hydroxide_g();
    let note = exchanged.relation.as_ref().map(|relation| relation.note.clone());
    context.answer(
        || {
            let mut answer = Document::new();
            answer.paragraph(format!(
                "Use {} g of {} in place of {} g of {}.",
                show_significant(exchanged.grams),
                to.name,
                show_significant(amount.as_g()),
                from.name
            ));
            let mut points: Vec<String> = note.iter().cloned().collect();
            if hydroxide != 0.0 {
                let word = if hydroxide > 0.0 { "more" } else { "less" };
                points.push(format!(
                    "exact only with {} g {word} sodium hydroxide, or equivalent alkali",
                    show_significant(hydroxide.abs())
                ));
            }
            if let Some((low_percent, high_percent)) = to.assay_typical.filter(|_| given.is_none()) {
                points.push(format!("{}: {}", to.name, Advice::AssayTypical { low_percent, high_percent }));
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
