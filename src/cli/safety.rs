//! `soupcon safety`: what can hurt in a formula, and in several used one after another.

use super::context::Context;
use super::error::CliError;
use super::judged::{blocks, recipe};
use crate::bench::adapter::material;
use crate::bench::{BenchSheet, bench_head};
use crate::formula::MOST_BATHS;
use crate::library::FoundFormula;
use crate::mixing::{self, Objection, SequenceMember, acidity};
use crate::render::Block;
use crate::render::json::document;
use crate::render::review::Reviewed;
use crate::render::safety::SafetyBody;
use crate::render::safety::{sequence_document, sequence_in_short};
use crate::sheet::MixingSheet;
use clap::Args;

const EXAMPLES: &str = "\
Examples:
  soupcon safety mq-borax-classic
  soupcon safety mq-borax-classic --full
  soupcon safety mq-borax-classic acetic-acid-stop-bath plain-thiosulfate-fixer
  soupcon safety acetic-acid-stop-bath wash sulfide-sepia-bleach-redevelop-toner

The word `wash` means a wash in running water. A formula with several baths counts as all of them, in the order of its first use.";

/// The word for a wash.
const WASH: &str = "wash";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct SafetyArguments {
    /// Formulas in the order of use: id, alias, path to a .toml file, or `wash`
    #[arg(required = true, value_name = "FORMULA")]
    formulas: Vec<String>,
    /// Print all there is: every statement, what must not stand beside it, first aid, waste
    #[arg(long, help_heading = "Output")]
    full: bool,
}

pub(super) fn run(arguments: &SafetyArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.check_folders()?;
    if arguments.formulas.len() > MOST_BATHS {
        let count = arguments.formulas.len();
        let message = format!("{count} baths, where {MOST_BATHS} are the most that are looked at at once");
        return Err(CliError::argument("FORMULA", message, "ask for a part of the sequence at a time"));
    }
    let in_library = arguments
        .formulas
        .iter()
        .map(|name| if name == WASH { Ok(None) } else { context.formula(name).map(Some) })
        .collect::<Result<Vec<Option<FoundFormula>>, CliError>>()?;
    if in_library.iter().all(Option::is_none) {
        return Err(CliError::argument(
            "FORMULA",
            "a wash alone is not a sequence of baths",
            "name a formula, such as mq-borax-classic",
        ));
    }
    // What the sheet of a litre says is what is said here.
    let sheets = in_library
        .iter()
        .map(|found| found.as_ref().map(|found| recipe(&found.formula, context)).transpose())
        .collect::<Result<Vec<Option<MixingSheet>>, CliError>>()?;
    let words = context.bench_words()?;
    let benches: Vec<BenchSheet> = sheets
        .iter()
        .flatten()
        .map(|sheet| bench_head(&material(sheet, String::new()), &words, &[]))
        .collect();
    let stages: Vec<SequenceMember<'_>> = sheets
        .iter()
        .map(|sheet| {
            sheet
                .as_ref()
                .map_or(SequenceMember::Wash, |sheet| SequenceMember::Baths(&sheet.formula, &sheet.review))
        })
        .collect();
    let data = context.safety()?;
    let formulas = || in_library.iter().flatten().map(|found| &found.formula);
    let ingredients = formulas().flat_map(crate::formula::Formula::ingredients).map(|own| &own.form);
    let solvents = formulas().flat_map(|formula| &formula.parts).filter_map(|part| part.solvent.as_ref());
    let parents = ingredients.chain(solvents).map(|form| form.parent.id.as_str()).collect();
    let equilibria = context.equilibria_for(&parents)?;
    let sequence = mixing::sequence(&data, &stages, &|vessel| acidity(&equilibria, vessel));
    let mut objections: Vec<Objection> = sequence.objections().map(|(_, own)| own.clone()).collect();
    let not_so = sheets.iter().flatten().flat_map(|sheet| &sheet.objections).filter(|own| !own.is_never());
    for objection in not_so {
        if !objections.contains(objection) {
            objections.push(objection.clone());
        }
    }
    let cautions = sequence.formulas.iter().flat_map(|(_, review)| review.cautions());
    let cautions = cautions.chain(sequence.between.iter().map(|own| &own.caution)).collect::<Vec<_>>();
    context.answer(
        || {
            let named = formulas().collect::<Vec<_>>();
            let opened = benches.iter().flat_map(|bench| &bench.opening).fold(
                Vec::new(),
                |mut all: Vec<String>, line| {
                    if !all.contains(line) {
                        all.push(line.clone());
                    }
                    all
                },
            );
            let mut answer = if arguments.full {
                sequence_document(&sequence, &named, &opened)
            } else {
                sequence_in_short(&sequence, &named, &opened, &benches)
            };
            let rest =
                objections.iter().filter(|objection| !objection.is_never()).cloned().collect::<Vec<_>>();
            answer.blocks.splice(1..1, blocks(&rest).into_iter().map(Block::Caution));
            answer
        },
        || {
            document(Reviewed::new(
                SafetyBody::new(&sequence, &formulas().zip(&benches).collect::<Vec<_>>(), &data),
                &objections,
                cautions,
            ))
        },
    )?;
    Ok(u8::from(!objections.is_empty()))
}
