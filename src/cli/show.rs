//! `soupcon show`: the card of a formula.

use super::arguments::PaperArguments;
use super::bath::class_rules;
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use super::jars::cost_of_a_litre;
use super::judged::{blocks, recipe};
use crate::bench::adapter::material;
use crate::bench::{BenchSheet, bench_sheet};
use crate::composition::Composer;
use crate::formula::Formula;
use crate::predict::contradiction;
use crate::predict::report::Question;
use crate::qualities::{JudgedQuality, Qualities};
use crate::render::Block;
use crate::render::json::document;
use crate::render::life::{RulesBody, bench_rules, does_words, keeps_words, rule_facts};
use crate::render::papers::card::{CardPage, SeenRow, card_html};
use crate::render::predict::PredictBody;
use crate::render::predict::{contradiction_words, prediction_facts};
use crate::render::review::Reviewed;
use crate::render::safety::powder_line;
use crate::render::seen::{SeenOne, seen_facts, seen_word};
use crate::render::shelf::cost_words;
use crate::render::show::ShowBody;
use crate::render::show::{CardExtras, card_document};
use clap::Args;

const EXAMPLES: &str = "\
Examples:
  soupcon show mq-borax-classic
  soupcon show ./my-developer.toml
  soupcon show mq-borax-classic --format html --paper letter -o card.html";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ShowArguments {
    /// The formula: id, alias, path to a .toml file, or - for standard input
    formula: String,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &ShowArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    let found = context.formula(&arguments.formula)?;
    let formula = &found.formula;
    let sheet = recipe(formula, context)?;
    let hazards = sheet.review.powders.iter().map(powder_line).collect();
    let equilibria = context.equilibria_of(formula)?;
    let report = context.report(&equilibria, formula, &Question::brief())?;
    let mut prediction = prediction_facts(&report);
    if let Some(stated) = contradiction(&equilibria, formula) {
        prediction.push(("beware".to_owned(), contradiction_words(&stated)));
    }
    let qualities = Qualities::shipped(&context.library);
    let judged = qualities.judge(formula, &Composer::new(&context.library));
    let extras = CardExtras { hazards, prediction, seen: seen_facts(&judged) };
    let rules = class_rules(context)?;
    let cost = cost_of_a_litre(formula, context)?.as_ref().and_then(cost_words);
    let page = if context.is_page() {
        let bench =
            bench_sheet(&material(&sheet, bench_rules(formula, &rules)), &context.bench_words()?, &[]);
        let mut facts = extras.prediction.clone();
        facts.extend(rule_facts(formula, &rules));
        facts.extend(extras.seen.iter().cloned());
        facts.extend(cost.iter().map(|words| ("cost".to_owned(), words.clone())));
        let seen = seen_rows(formula, &bench, &qualities, &Composer::new(&context.library));
        Some((bench, facts, seen))
    } else {
        None
    };
    let html = || {
        let Some((bench, facts, seen)) = &page else { return String::new() };
        let objections =
            sheet.objections.iter().map(|objection| format!("{objection}; {}", objection.fix)).collect();
        let card = CardPage {
            formula,
            sheet: &sheet,
            bench,
            objections,
            seen: seen.clone(),
            keeps: keeps_words(formula, &rules),
            does: does_words(formula, &rules),
            facts: facts.clone(),
        };
        card_html(&card, paper)
    };
    let text = context.rendered_with(
        || {
            let mut card = card_document(formula, &extras);
            let mut facts = rule_facts(formula, &rules);
            facts.extend(cost.iter().map(|words| ("cost".to_owned(), words.clone())));
            card.facts(facts);
            card.blocks.splice(1..1, blocks(&sheet.objections).into_iter().map(Block::Caution));
            card
        },
        html,
        || {
            let predicted = PredictBody::new(formula, &report, None);
            let body =
                ShowBody::new(formula, SeenOne::all(&judged), predicted, RulesBody::new(formula, &rules));
            document(Reviewed::of_sheet(body, &sheet))
        },
    );
    arguments.output.write(&text, context)?;
    Ok(u8::from(!sheet.objections.is_empty()))
}

/// Uses that have a column of what one would see: those that the bench page names.
fn seen_rows(
    formula: &Formula,
    bench: &BenchSheet,
    qualities: &Qualities,
    composer: &Composer<'_>,
) -> Vec<SeenRow> {
    let is_named = |name: &str| bench.uses.iter().any(|cell| cell.name == name);
    let each: Vec<Formula> = formula
        .uses
        .iter()
        .filter(|listed_use| is_named(&listed_use.name))
        .map(|listed_use| Formula { uses: vec![listed_use.clone()], ..formula.clone() })
        .collect();
    let judged: Vec<Vec<_>> = each.iter().map(|own| qualities.judge(own, composer)).collect();
    // How long it keeps has a cell of its own.
    let wanted = qualities.of_kind(formula.kind).filter(|own| own.key != "keeping");
    wanted
        .map(|quality| {
            let own = |all: &Vec<JudgedQuality<'_>>| {
                seen_word(all.iter().find(|own| own.quality.key == quality.key))
            };
            let is_known = judged.iter().flatten().any(|own| own.quality.key == quality.key);
            SeenRow { name: quality.name.clone(), words: judged.iter().map(own).collect(), is_known }
        })
        .collect()
}
