//! `soupcon factorial`: total time from the time of appearance, for tray workers.

use std::collections::BTreeSet;

use clap::Args;

use super::conditions::{duration, timing_error, timing_table};
use super::context::Context;
use super::error::CliError;
use crate::quantity::Duration;
use crate::quantity::rounding::show_short;
use crate::render::factorial::{FactorialBody, factorial_document};
use crate::render::json::document;
use crate::timing::{Factorial, TimingTable, factorial_factors, factorial_mixture};

const EXAMPLES: &str = "\
Examples:
  soupcon factorial 45s --agent pyro
  soupcon factorial 20s --agent metol --agent hydroquinone     used together
  soupcon factorial 30s --agent pyro=4 --agent metol=2         a mixture by parts";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct FactorialArguments {
    /// Time from pouring on until the image appears: 45s, 1:10
    appeared: String,
    /// Developing agent; several used together are given each, with parts for a mixture
    #[arg(long, value_name = "AGENT[=PARTS]", required = true)]
    agent: Vec<String>,
}

pub(super) fn run(arguments: &FactorialArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let table = timing_table(&context.library)?;
    let appeared = duration("APPEARED", &arguments.appeared)?;
    let agents: Vec<(String, Option<f64>)> =
        arguments.agent.iter().map(|text| agent(&table, text)).collect::<Result<_, _>>()?;
    let lookup = |names: BTreeSet<String>| {
        factorial_factors(&table, &names).map_err(|error| timing_error("--agent", &error))
    };
    let with_parts = agents.iter().filter(|(_, parts)| parts.is_some()).count();
    if with_parts == 0 {
        let found = lookup(agents.into_iter().map(|(name, _)| name).collect())?;
        let body = || FactorialBody::new(appeared, std::slice::from_ref(&found), None);
        context.answer(|| factorial_document(appeared, &found), || document(body()))?;
        return Ok(0);
    }
    if with_parts < agents.len() {
        let fix = "give parts for each agent of a mixture: pyro=4 metol=2";
        return Err(CliError::argument("--agent", "some agents have parts and some have none", fix));
    }
    let mut known_factors: Vec<Factorial<'_>> = Vec::new();
    let mut members: Vec<(f64, f64)> = Vec::new();
    for (name, parts) in &agents {
        let looked_up = lookup(BTreeSet::from([name.clone()]))?;
        // The first source of each: the one from which the rule of mixtures comes.
        let factor = looked_up.rows.first().map_or(0.0, |row| row.figure.central);
        members.push((factor, parts.unwrap_or_default()));
        known_factors.push(looked_up);
    }
    let mean = factorial_mixture(&members).unwrap_or_default();
    context.answer(
        || mixture_document(appeared, &agents, &members, mean),
        || document(FactorialBody::new(appeared, &known_factors, Some(mean))),
    )?;
    Ok(0)
}

/// The mixture, with the factors it is the mean of.
fn mixture_document(
    appeared: Duration,
    agents: &[(String, Option<f64>)],
    members: &[(f64, f64)],
    mean: f64,
) -> crate::render::Document {
    let mut document = crate::render::Document::new();
    let total = Duration::from_s(appeared.as_s() * mean);
    document.title(format!("Mixture: image after {appeared}, develop {total} in all"));
    let facts = agents.iter().zip(members).map(|((name, _), (factor, parts))| {
        (name.clone(), format!("factor {}, {} parts", show_short(*factor, 2), show_short(*parts, 2)))
    });
    document.facts(facts.collect());
    document.paragraph(format!(
        "The factor of a mixture is the mean of its agents' weighted by parts: {}. The sources give other factors for each agent too; see each by itself.",
        show_short(mean, 2)
    ));
    document
}

/// `pyro` or `pyro=4`.
fn agent(table: &TimingTable, text: &str) -> Result<(String, Option<f64>), CliError> {
    let (name, parts) = match text.split_once('=') {
        Some((name, parts)) => (name, Some(parts)),
        None => (text, None),
    };
    let parts = parts
        .map(|parts| {
            let value = parts.trim().parse::<f64>().ok().filter(|value| (1e-3..=1e6).contains(value));
            value.ok_or_else(|| {
                CliError::argument("--agent", format!("`{parts}` is no number of parts"), "write pyro=4")
            })
        })
        .transpose()?;
    let known = table.agent_named(name).ok_or_else(|| {
        let known: BTreeSet<&str> =
            table.factorial.iter().flat_map(|row| &row.agents).map(String::as_str).collect();
        let fix = format!("choose one of {}", known.into_iter().collect::<Vec<_>>().join(", "));
        let message = format!("`{}` is not a developing agent known here", name.trim());
        CliError::argument("--agent", message, fix)
    })?;
    Ok((known.to_owned(), parts))
}
