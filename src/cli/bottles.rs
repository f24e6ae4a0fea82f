//! `soupcon bottles`: what stands, what is still good, and what to do next.

use std::collections::BTreeMap;

use clap::Args;

use super::arguments::{PaperArguments, date};
use super::bath::class_rules;
use super::conditions::JournalArguments;
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use super::record::today;
use crate::bath::Bottles;
use crate::bath::bottle::{BottleJudgement, BottleState, judge};
use crate::formula::Formula;
use crate::render::bottles::{BottlesBody, ShownBottles, bottles_document, bottles_html};
use crate::render::json::document;

const EXAMPLES: &str = "\
Examples:
  soupcon bottles
  soupcon bottles D3 --date 2026-12-24
  soupcon bottles --format html -o bottles.html       for the shelf's door

What the journal says of each bottle (`soupcon record add mixed … --bottle NAME`). Ends with 1 where something must be discarded; a rule
alone never says so.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct BottlesArguments {
    /// Only this bottle, or the parts of that name
    name: Option<String>,
    /// The day [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    date: Option<String>,
    #[command(flatten)]
    journal: JournalArguments,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &BottlesArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    let on = match &arguments.date {
        Some(text) => date("--date", text)?,
        None => today()?,
    };
    // A long journal is many small pieces; the end of the run gives them back at once.
    let journal = std::mem::ManuallyDrop::new(arguments.journal.read(context)?);
    let standing = Bottles::standing(&journal, on);
    let wanted: Vec<_> = match arguments.name.as_deref().map(str::trim) {
        Some(name) => standing.named(name).collect(),
        None => standing.bottles.iter().collect(),
    };
    if let (Some(name), true) = (&arguments.name, wanted.is_empty()) {
        let known: Vec<&str> = standing.bottles.iter().map(|bottle| bottle.name.as_str()).collect();
        let fix = if known.is_empty() {
            "no bottle stands in the journal; `soupcon record add mixed FORMULA VOLUME --bottle NAME` begins a life"
                .to_owned()
        } else {
            format!("those that stand are {}", known.join(", "))
        };
        return Err(CliError::argument("NAME", format!("no bottle {} stands on {on}", name.trim()), fix));
    }
    let rules = class_rules(context)?;
    let mut formulas: BTreeMap<String, Option<Formula>> = BTreeMap::new();
    for id in wanted.iter().filter_map(|own| own.formula.as_ref()) {
        // A formula that is gone leaves its bottle, with less to say of it.
        formulas
            .entry(id.clone())
            .or_insert_with(|| context.library.formula(id).ok().map(|found| found.formula));
    }
    let mut bottles: Vec<BottleJudgement> = wanted
        .into_iter()
        .map(|own| {
            let formula = own.formula.as_ref().and_then(|id| formulas.get(id)?.as_ref());
            judge(own, formula, on, &rules)
        })
        .collect();
    bottles.sort_by_key(|bottles| {
        (bottles.state, bottles.good_to.is_none(), bottles.good_to.map(|day| day.look_from))
    });
    let is_out = bottles.iter().any(|bottle| bottle.state == BottleState::Out);
    let shown = ShownBottles {
        on,
        bottles,
        iodide_note: rules.fixers.iodide_note.clone(),
        paper_sheets_per_litre: rules.fixers.paper_sheets_per_litre,
    };
    let text = context.rendered_with(
        || bottles_document(&shown),
        || bottles_html(&shown, paper),
        || document(BottlesBody::new(&shown)),
    );
    arguments.output.write(&text, context)?;
    Ok(u8::from(is_out))
}
