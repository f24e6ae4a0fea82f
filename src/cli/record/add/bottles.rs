//! Entries about bottles: mixed, replenished, counted, discarded.

use super::{journal_so_far, known_bottles, names, one_bottle, standing};
use crate::cli::arguments::{ratio, volume};
use crate::cli::conditions::{developer, timing_error};
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::cli::record::arguments::{
    CountArguments, DiscardedArguments, MixedArguments, ReplenishedArguments,
};
use crate::journal::{Count, Discarded, Entry, Filled, Mixed, Replenished, Taken};
use crate::quantity::MixRatio;
use crate::scale;
use crate::scale::Unit;
use crate::timing::{TimingTable, Working};

pub(super) fn mixed(arguments: &MixedArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    let typed = names("--bottle", &arguments.bottle)?;
    let in_library = context.formula(&arguments.batch.formula)?;
    let relations = context.relations()?;
    let request = arguments.batch.request(&in_library.formula, &relations, context)?;
    let batch = scale::scale(&in_library.formula, &request, &relations)?;
    let taken = batch.parts.iter().flat_map(|part| &part.items).map(|item| Taken {
        form: item.form.id.clone(),
        amount: item.amount,
        is_ml: item.unit == Unit::Millilitre,
    });
    let taken: Vec<Taken> = taken.collect();
    let bottles = u32::try_from(typed.len().max(1)).map_or(1.0, f64::from);
    let each = |total_ml: f64| Some(total_ml / bottles);
    let (volume_ml, dilution) = match &batch.working {
        Some((volume, ratio)) => (Some(volume.as_ml()), Some(ratio.clone())),
        None => (batch.parts.first().map(|part| part.volume.as_ml()), None),
    };
    let mut filled = Vec::new();
    for name in &typed {
        if dilution.is_some() || batch.parts.len() < 2 {
            filled.push(Filled { bottle: name.clone(), part: None, volume_ml: volume_ml.and_then(each) });
            continue;
        }
        filled.extend(batch.parts.iter().enumerate().map(|(index, part)| {
            let part_name = part.name.clone().unwrap_or_else(|| (index + 1).to_string());
            Filled {
                bottle: format!("{name} {part_name}"),
                part: Some(part_name),
                volume_ml: each(part.volume.as_ml()),
            }
        }));
    }
    let journal = journal_so_far(&arguments.common, context)?;
    for bottle in &filled {
        if let [(_, before), ..] = standing(&journal, &bottle.bottle).as_slice() {
            let what = before.formula.as_deref().unwrap_or("something else");
            context.warn(&format!(
                "bottle {} was filled on {} with {what} and not discarded in the journal; a new life begins, the old one ends",
                bottle.bottle, before.date
            ));
        }
    }
    Ok(Entry::Mixed(Mixed {
        date: arguments.common.date()?,
        formula: Some(in_library.formula.id.clone()),
        volume_ml,
        dilution,
        filled,
        taken,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

/// The dilution as typed, or the usual one of the formula.
pub(super) fn dilution_of(
    context: &mut Context<'_, '_>,
    table: &TimingTable,
    formula: &str,
    typed: Option<&str>,
) -> Result<(String, MixRatio), CliError> {
    let developer = developer(context, table, formula, &mut Vec::new())?;
    let typed = typed.map(|text| ratio("--dilution", text)).transpose()?;
    let dilution = match (developer.working(typed.as_ref()), typed) {
        (Ok(working), _) => ratio("--dilution", &working.to_string())?,
        // Two baths and the like have no one dilution; what happened may be noted all the same.
        (Err(_), Some(typed)) if developer.must_be_timed(&Working::stock(), table).is_err() => typed,
        (Err(error), _) => return Err(timing_error("--dilution", &error)),
    };
    Ok((developer.id.clone(), dilution))
}

pub(super) fn replenished(
    arguments: &ReplenishedArguments,
    context: &mut Context<'_, '_>,
) -> Result<Entry, CliError> {
    let formula = arguments
        .formula
        .as_ref()
        .map(|name| Ok::<_, CliError>(context.formula(name)?.formula.id))
        .transpose()?;
    let from = match &arguments.from {
        Some(name) => Some(one_bottle(name, &arguments.common, context)?),
        None => None,
    };
    Ok(Entry::Replenished(Replenished {
        date: arguments.common.date()?,
        bottle: one_bottle(&arguments.bottle, &arguments.common, context)?,
        formula,
        volume_ml: Some(volume("VOLUME", &arguments.volume)?.as_ml()),
        from,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

pub(super) fn count(arguments: &CountArguments, context: &mut Context<'_, '_>) -> Result<Entry, CliError> {
    Ok(Entry::Count(Count {
        date: arguments.common.date()?,
        bottle: one_bottle(&arguments.bottle, &arguments.common, context)?,
        films: arguments.films,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}

pub(super) fn discarded(
    arguments: &DiscardedArguments,
    context: &mut Context<'_, '_>,
) -> Result<Entry, CliError> {
    let journal = journal_so_far(&arguments.common, context)?;
    Ok(Entry::Discarded(Discarded {
        date: arguments.common.date()?,
        bottles: known_bottles("--bottle", &arguments.bottle, &journal, context)?,
        formula: None,
        volume_ml: None,
        by: arguments.common.by.clone(),
        note: arguments.common.note.clone(),
    }))
}
