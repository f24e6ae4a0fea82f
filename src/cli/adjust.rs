//! `soupcon adjust`: how much of an alkali or acid brings a formula to a pH.

use std::sync::Arc;

use clap::Args;

use super::arguments::{form, number, temperature_or};
use super::context::Context;
use super::error::CliError;
use super::judged::{join, recipe, refuse};
use super::predict::ph;
use crate::formula::{Amount, Formula, Ingredient, Part};
use crate::mixing;
use crate::predict::adjust::{Adjustment, Order, adjust};
use crate::predict::predict_part;
use crate::quantity::USUAL_C;
use crate::render::Block;
use crate::render::adjust::AdjustBody;
use crate::render::adjust::adjust_document;
use crate::render::json::{RefusedBody, document};
use crate::render::review::{RefusalJson, Reviewed};
use crate::render::safety::caution_words;
use crate::safety::{Acidity, Severity};
use crate::vessel::{Content, Vessel};

const EXAMPLES: &str = "\
Examples:
  soupcon adjust mq-borax-classic --ph 8.6 --using borax-decahydrate
  soupcon adjust metol-sulfite --match mq-borax-classic --using triethanolamine
  soupcon adjust mq-metaborate-studio \\
    --replace sodium-metaborate-tetrahydrate --using sodium-carbonate-anhydrous
  soupcon adjust mq-metaborate-studio \\
    --replace sodium-metaborate-tetrahydrate \\
    --using borax-decahydrate --using sodium-hydroxide
  soupcon adjust mq-borax-classic --replace borax-decahydrate \\
    --using borax-decahydrate --using boric-acid --capacity 0.05

The third puts carbonate in the place of metaborate at the same pH; in the fourth borax and caustic make the metaborate, which is exact; the fifth holds the same pH more firmly. The amounts are per litre as bottled. Of a formula in parts name the one to adjust: --part A.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct AdjustArguments {
    /// The formula: id, alias, path to a .toml file, or - for standard input
    formula: String,
    /// The pH wanted; without it and --match that of the formula unchanged, with --replace
    #[arg(long, value_name = "PH", allow_hyphen_values = true, conflicts_with = "matched")]
    ph: Option<String>,
    /// The formula whose pH is wanted
    #[arg(long = "match", id = "matched", value_name = "FORMULA")]
    matched: Option<String>,
    /// What to reach it with; twice for two substances that hold the buffer capacity too
    #[arg(long, value_name = "FORM", required = true)]
    using: Vec<String>,
    /// What to leave out first
    #[arg(long, value_name = "FORM")]
    replace: Option<String>,
    /// Buffer capacity wanted with two substances, mol/L per pH [default: that of the formula, or of --match]
    #[arg(long, value_name = "NUMBER")]
    capacity: Option<String>,
    /// The part to adjust
    #[arg(long, value_name = "NAME")]
    part: Option<String>,
    /// Temperature of the pH [default: 20C]
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    temp: Option<String>,
}

pub(super) fn run(arguments: &AdjustArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let found = context.formula(&arguments.formula)?;
    let formula = &found.formula;
    let part = part_of(formula, arguments.part.as_deref())?;
    let celsius = temperature_or("--temp", arguments.temp.as_deref(), USUAL_C)?.as_c();
    let using = arguments.using.iter().map(|name| form(context, name)).collect::<Result<Vec<_>, _>>()?;
    let replace = arguments.replace.as_deref().map(|name| form(context, name)).transpose()?;
    let equilibria = context.equilibria()?;
    let standing = recipe(formula, context)?;
    if let Some(never) = standing.objections.iter().find(|own| own.is_never()) {
        return refuse(context, ("adjustment", formula.id.as_str()), std::slice::from_ref(never), || {
            RefusedBody { parts: [], refusals: [RefusalJson::from(never)] }
        });
    }
    // Refuses what is not in water or ends at an end point.
    predict_part(&equilibria, part, celsius)?;
    let mut goal = None;
    let mut wanted = arguments.ph.as_deref().map(|text| ph("--ph", text)).transpose()?;
    let mut capacity = arguments.capacity.as_deref().map(capacity_of).transpose()?;
    if let Some(name) = &arguments.matched {
        let other = context.formula(name)?.formula;
        let [only] = other.parts.as_slice() else {
            let message = format!("`{}` has several parts, each with a pH of its own", other.id);
            let fix = format!("see `soupcon predict {}` and write --ph", other.id);
            return Err(CliError::argument("--match", message, fix));
        };
        let model = predict_part(&equilibria, only, celsius)?;
        wanted = Some(model.ph);
        capacity = capacity.or((using.len() > 1).then_some(model.buffer_capacity));
        goal = Some(other);
    }
    if wanted.is_none() && replace.is_none() {
        let fix = "write --ph 8.6, --match FORMULA, or --replace FORM to keep the pH with another alkali";
        return Err(CliError::argument("--ph", "no pH is asked for", fix));
    }
    let before = Vessel::of_part(part);
    let order = Order {
        list: before.clone(),
        what: part.name.as_ref().map_or_else(|| "the solution".to_owned(), |name| format!("part {name}")),
        using: using.iter().map(Arc::clone).collect(),
        replace,
        ph: wanted,
        capacity,
        celsius,
    };
    let adjustment = adjust(&equilibria, context.library.weights(), &order).map_err(|error| {
        CliError::Refused { code: error.code(), message: error.to_string(), fix: error.fix() }
    })?;
    let added = adjustment.added.iter().filter(|own| own.grams_per_litre > 0.0);
    let kept = before
        .iter()
        .filter(|own| adjustment.removed.as_ref().is_none_or(|(gone, _)| gone.id != own.form.id));
    let after = kept
        .cloned()
        .collect::<Vessel>()
        .with(added.map(|added| Content::grams(&added.form, added.grams_per_litre)));
    let safety = context.safety()?;
    // However good the prediction is, the pH is what is aimed at.
    let aimed = |vessel: &Vessel| {
        (*vessel == after).then(|| Acidity { is_rough: true, ..adjustment.after.ph.into() })
    };
    let ph = |vessel: &Vessel| mixing::acidity(&equilibria, vessel).or_else(|| aimed(vessel));
    let mut pouring = mixing::add(&safety, &order.what, &before, &after, &ph);
    // The formula as it would be, with its uses and the heat of its making.
    let adjusted = adjusted(formula, part, &adjustment);
    let mixed = recipe(&adjusted, context)?;
    join(&mut pouring.objections, mixed.objections);
    // What it meets in the baths before and after it, as it did not before.
    let standing = standing.review.between;
    let next = mixed.review.between.iter().map(|own| &own.caution);
    let next = next.filter(|caution| standing.iter().all(|own| own.caution.id != caution.id));
    let told = pouring.cautions.iter().chain(next);
    let warnings: Vec<(Severity, &str)> =
        told.map(|caution| (caution.severity, caution.text.as_str())).collect();
    let name = part.name.as_deref();
    let goal_words = goal.as_ref().map(|goal| format!("`{}`", goal.id));
    let goal_id = goal.as_ref().map(|goal| goal.id.as_str());
    let body = || AdjustBody::new(formula, name, goal_id, celsius, &adjustment);
    if !pouring.objections.is_empty() {
        let subject = ("adjustment", formula.id.as_str());
        return refuse(context, subject, &pouring.objections, || {
            let body = AdjustBody { using: Vec::new(), ..body() };
            Reviewed::in_words(body, &pouring.objections, warnings)
        });
    }
    context.answer(
        || {
            let mut answer = adjust_document(formula, name, goal_words.as_deref(), &adjustment, celsius);
            let said = warnings.iter().map(|(severity, text)| caution_words(*severity, text));
            answer.blocks.extend(said.map(Block::Caution));
            answer
        },
        || document(Reviewed::in_words(body(), &[], warnings.iter().copied())),
    )?;
    Ok(0)
}

/// The formula with one part adjusted.
fn adjusted(formula: &Formula, part: &Part, adjustment: &Adjustment) -> Formula {
    let mut own = formula.clone();
    let Some(part) = own.parts.iter_mut().find(|own| own.name == part.name) else { return own };
    if let Some((gone, _)) = &adjustment.removed {
        part.ingredients.retain(|line| line.form.id != gone.id);
    }
    for added in adjustment.added.iter().filter(|own| own.grams_per_litre > 0.0) {
        let same =
            |line: &&mut Ingredient| line.form.id == added.form.id && matches!(line.amount, Amount::Grams(_));
        match part.ingredients.iter_mut().find(same) {
            Some(line) => {
                let there = line.grams_per_litre().unwrap_or(0.0);
                line.amount = Amount::Grams(there + added.grams_per_litre);
            }
            None => part.ingredients.push(Ingredient::grams(&added.form, added.grams_per_litre)),
        }
    }
    own
}

/// The part that is meant.
fn part_of<'f>(formula: &'f Formula, name: Option<&str>) -> Result<&'f Part, CliError> {
    let names: Vec<&str> = formula.parts.iter().filter_map(|part| part.name.as_deref()).collect();
    match (name, formula.parts.as_slice()) {
        (None, [only]) => Ok(only),
        (Some(name), _) => formula.part(name).ok_or_else(|| {
            let fix = format!("its parts are {}", names.join(", "));
            CliError::argument("--part", format!("there is no part {name} in `{}`", formula.id), fix)
        }),
        (None, _) => {
            let message = format!("`{}` has several parts", formula.id);
            let fix = format!("name one: --part {}", names.join(", or --part "));
            Err(CliError::argument("--part", message, fix))
        }
    }
}

fn capacity_of(text: &str) -> Result<f64, CliError> {
    let fix = "write a number of mol/L per pH, such as 0.03";
    let value = number("--capacity", text, fix)?;
    if value > 0.0 && value < 10.0 {
        Ok(value)
    } else {
        Err(CliError::argument("--capacity", format!("{text} is not a buffer capacity"), fix))
    }
}
