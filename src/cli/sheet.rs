//! `soupcon sheet`: the numbered mixing sheet.

use std::sync::Arc;

use clap::Args;

use super::arguments::{BatchArguments, PaperArguments, warn_of_unused};
use super::bath::class_rules;
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use super::judged::{mixing_sheet, refuse};
use super::label::complete;
use crate::bench::adapter::material;
use crate::bench::{BenchSheet, bench_sheet};
use crate::label::{Label, labels};
use crate::lettering::Paper;
use crate::render::Document;
use crate::render::bench::{BenchFacts, bench_document, bench_text, reasons_document, sheet_html};
use crate::render::json::document;
use crate::render::life::bench_rules;
use crate::render::review::Reviewed;
use crate::render::sheet::SheetBody;
use crate::sheet::MixingSheet;
use crate::substance::Form;

const EXAMPLES: &str = "\
Examples:
  soupcon sheet mq-borax-classic 500ml
  soupcon sheet mq-borax-classic 1L --balance 0.01g
  soupcon sheet acid-hardening-alum-boric-fixer 2L --format markdown -o fixer.md
  soupcon sheet mq-borax-classic 1L --format html --paper letter -o sheet.html
  soupcon sheet mq-borax-classic --limit metol=3.2g";

/// A side of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Side {
    /// What the hand needs.
    Bench,
    /// Why, hazards and waste in full, sources, the label to cut off.
    Reasons,
    /// One after the other.
    Both,
}

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct SheetArguments {
    #[command(flatten)]
    batch: BatchArguments,
    /// Which side of the page: bench (what the hand needs), reasons, or both [default: bench as text, both as Markdown and HTML]
    #[arg(long, value_enum, hide_possible_values = true, help_heading = "Output")]
    side: Option<Side>,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &SheetArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    let in_library = context.formula(&arguments.batch.formula)?;
    let relations = context.relations()?;
    if let Some(need) = arguments.batch.need(&in_library.formula, context)? {
        context.warn(&crate::render::films::need_words(&need));
    }
    let request = arguments.batch.request(&in_library.formula, &relations, context)?;
    let sheet = mixing_sheet(&in_library.formula, &request, &relations, context)?;
    let words = context.bench_words()?;
    let missing = arguments.batch.missing(&in_library.formula, &request, &relations);
    let names: Vec<String> = missing.iter().map(|form| form.name.clone()).collect();
    let by_rule = bench_rules(&in_library.formula, &class_rules(context)?);
    let bench = bench_sheet(&material(&sheet, by_rule), &words, &names);
    if !sheet.objections.is_empty() {
        let subject = ("sheet", in_library.formula.id.as_str());
        return refuse(context, subject, &sheet.objections, || body(&sheet, &bench, paper, &missing));
    }
    warn_of_unused(&request, &sheet.batch, context);
    for too_small in sheet.parts.iter().filter_map(|part| part.too_small.as_ref()) {
        context.warn(too_small);
    }
    let mut bottles = labels(&sheet, None, None).unwrap_or_default();
    complete(&mut bottles, &in_library.formula, &class_rules(context)?, &words);
    let text = printed(arguments.side, (&sheet, &bench, &missing, &bottles), paper, context);
    arguments.output.write(&text, context)?;
    // A jar that is not there is a batch that cannot be mixed; the page says so, and is still printed.
    Ok(u8::from(!missing.is_empty()))
}

/// The JSON of a sheet, with what the review says.
fn body(
    sheet: &MixingSheet,
    bench: &BenchSheet,
    paper: Paper,
    missing: &[Arc<Form>],
) -> impl serde::Serialize {
    let missing: Vec<&Form> = missing.iter().map(|form| &**form).collect();
    Reviewed::of_sheet(SheetBody::new(sheet, BenchFacts::new(sheet, bench, paper, &missing)), sheet)
}

/// The sides that are wanted, in the wanted format: as text the bench side, else both.
fn printed(
    side: Option<Side>,
    (sheet, bench, missing, bottles): (&MixingSheet, &BenchSheet, &[Arc<Form>], &[Label]),
    paper: Paper,
    context: &Context<'_, '_>,
) -> String {
    let style = context.text_style();
    let side = side.unwrap_or(if style.is_some() { Side::Bench } else { Side::Both });
    let Some((style, ascii)) = style else {
        let (has_bench, has_reasons) = (side != Side::Reasons, side != Side::Bench);
        let reasons = has_reasons.then(|| reasons_document(sheet, bench, bottles));
        let both = || {
            let mut all = if has_bench { bench_document(bench) } else { Document::new() };
            all.blocks.extend(reasons.iter().flat_map(|reason| reason.blocks.clone()));
            all
        };
        let json = || document(body(sheet, bench, paper, missing));
        let html = || sheet_html(has_bench.then_some(bench), reasons.as_ref(), paper);
        return context.rendered_with(both, html, json);
    };
    let mut text = String::new();
    if side != Side::Reasons {
        text.push_str(&bench_text(bench, style, ascii).text);
    }
    if side == Side::Both {
        text.push('\n');
    }
    if side != Side::Bench {
        text.push_str(&context.rendered_on(paper, || reasons_document(sheet, bench, bottles), String::new));
    }
    text
}
