//! `soupcon label`: labels for the bottles of a batch.

use clap::Args;

use super::arguments::{PaperArguments, date, volume};
use super::bath::class_rules;
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use super::judged::{mixing_sheet, refuse};
use crate::bath::{ClassRules, days};
use crate::bench::words::BenchWords;
use crate::formula::Formula;
use crate::label::sheets::{LabelSheet, LabelSheets};
use crate::label::{Label, LabelError, labels};
use crate::mixing::Objection;
use crate::render::json::document;
use crate::render::label::{
    LabelBody, Placing, TooSmall, gravest, label_cards_html, label_document, label_sheet_html, left_out_notes,
};
use crate::render::life::label_rule;
use crate::render::review::Reviewed;
use crate::scale::Request;

const EXAMPLES: &str = "\
Examples:
  soupcon label mq-borax-classic 1L
  soupcon label mq-borax-classic 1L --mixed 2026-11-25 --format html -o label.html
  soupcon label pyro-soda-tank 500ml --part A --sheet 99.1x67.7 --start 3 --format html -o label.html
  soupcon label mq-borax-classic 1L --sheet 99.1x67.7 --outline --format html -o trial.html

Without --sheet, HTML is a card to cut out, large enough for any label. VOLUME is what the bottle holds.
This is an in-house help, not a legal label.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct LabelArguments {
    /// The formula: id, alias, path to a .toml file, or - for standard input
    formula: String,
    /// How much is in the bottle, of each part: 500ml, 1L
    volume: String,
    /// Only this part
    #[arg(long, value_name = "NAME")]
    part: Option<String>,
    /// When it was mixed; without it a line to write on
    #[arg(long, value_name = "YYYY-MM-DD")]
    mixed: Option<String>,
    /// A sheet of labels, by the size of one: 99.1x67.7, 63.5x38.1
    #[arg(long, value_name = "SIZE", help_heading = "Sheet of labels")]
    sheet: Option<String>,
    /// A short second label for a small size: name, part, signal word, date; never the only one of a bottle
    #[arg(long, help_heading = "Sheet of labels")]
    short: bool,
    /// The first label to print on, counted row by row
    #[arg(
        long,
        value_name = "NUMBER",
        default_value_t = 1,
        requires = "sheet",
        help_heading = "Sheet of labels"
    )]
    start: u32,
    /// Move everything to the right and down, for a printer that is a little off: 0.5mm,-1mm
    #[arg(
        long,
        value_name = "RIGHT,DOWN",
        requires = "sheet",
        allow_hyphen_values = true,
        help_heading = "Sheet of labels"
    )]
    shift: Option<String>,
    /// Draw the edges of all labels and a measure, for a trial on plain paper
    #[arg(long, requires = "sheet", help_heading = "Sheet of labels")]
    outline: bool,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &LabelArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    let in_library = context.formula(&arguments.formula)?;
    let volume = volume("VOLUME", &arguments.volume)?;
    let mixed = arguments.mixed.as_deref().map(|text| date("--mixed", text)).transpose()?;
    let sheets = label_sheets(context)?;
    let chosen = match &arguments.sheet {
        Some(size) => Some(sheet(size, &sheets)?),
        None => None,
    };
    let placing = placing(arguments, chosen)?;
    let mixing = mixing_sheet(&in_library.formula, &Request::volume(volume), &context.relations()?, context)?;
    let reviewed = |body: LabelBody| Reviewed::of_sheet(body, &mixing);
    if mixing.objections.iter().any(Objection::is_never) {
        let subject = ("label", in_library.formula.id.as_str());
        return refuse(context, subject, &mixing.objections, || {
            reviewed(LabelBody::refused(&in_library.formula))
        });
    }
    let mut labels = labels(&mixing, arguments.part.as_deref(), mixed).map_err(|error| match error {
        LabelError::NoBottle => {
            CliError::Refused { code: "no-bottle", message: error.to_string(), fix: error.fix() }
        }
        other => CliError::argument("--part", &other, other.fix()),
    })?;
    let (rules, words) = (class_rules(context)?, context.bench_words()?);
    complete(&mut labels, &in_library.formula, &rules, &words);
    for label in &mut labels {
        label.is_second = arguments.short;
    }
    if arguments.short {
        context.hint("a short label is a second one: the bottle wears the full label too");
    }
    let mut own_html = label_cards_html(&labels, &sheets, paper);
    if let Some(chosen) = chosen {
        own_html = label_sheet_html(&labels, chosen, &sheets, &placing)
            .map_err(|problem| too_small(chosen, &problem))?;
        for note in left_out_notes(&labels, chosen, &sheets) {
            context.warn(&note);
        }
    }
    for objection in &mixing.objections {
        context.warn(&format!("{objection}; {}", objection.fix));
    }
    let text = context.rendered_with(
        || label_document(&labels, chosen, &sheets),
        || own_html,
        || document(reviewed(LabelBody::new(&labels, &sheets))),
    );
    arguments.output.write(&text, context)?;
    Ok(u8::from(!mixing.objections.is_empty()))
}

fn label_sheets(context: &Context<'_, '_>) -> Result<LabelSheets, CliError> {
    LabelSheets::parse(context.library.packed("label-sheets.toml"), "tables/label-sheets.toml")
        .map_err(|finding| CliError::Findings { findings: vec![finding] })
}

fn sheet<'t>(size: &str, sheets: &'t LabelSheets) -> Result<&'t LabelSheet, CliError> {
    sheets.get(size).ok_or_else(|| {
        let known: Vec<&str> = sheets.sheets.iter().map(|sheet| sheet.size.as_str()).collect();
        let message = format!("no sheet of labels of the size `{size}` is known");
        CliError::argument("--sheet", message, format!("sizes in mm are {}", known.join(", ")))
    })
}

fn placing(arguments: &LabelArguments, sheet: Option<&LabelSheet>) -> Result<Placing, CliError> {
    let count = sheet.map_or(1, LabelSheet::count);
    if arguments.start == 0 || arguments.start > count {
        let message = format!("a sheet has the labels 1 to {count}, not {}", arguments.start);
        return Err(CliError::argument("--start", message, "count row by row from the top left"));
    }
    let shift_mm = match &arguments.shift {
        Some(text) => shift(text).ok_or_else(|| {
            let message = format!("`{text}` is not two lengths of at most 20 mm");
            CliError::argument("--shift", message, "write right and down as 0.5mm,-1mm")
        })?,
        None => (0.0, 0.0),
    };
    Ok(Placing { first: arguments.start - 1, shift_mm, outline: arguments.outline })
}

/// `0.5mm,-1mm`.
fn shift(text: &str) -> Option<(f64, f64)> {
    let (right, down) = text.split_once(',')?;
    let length = |text: &str| {
        let millimetres: f64 = text.trim().strip_suffix("mm")?.trim_end().parse().ok()?;
        (millimetres.abs() <= 20.0).then_some(millimetres)
    };
    Some((length(right)?, length(down)?))
}

fn too_small(sheet: &LabelSheet, problem: &TooSmall) -> CliError {
    CliError::Refused {
        code: "label-too-small",
        message: format!("a label of {} mm is {}", sheet.size, problem.message),
        fix: problem.fix(),
    }
}

/// What the sheet does not say of a bottle: how long it keeps by the rule of its class, and the gravest in a few words.
pub(super) fn complete(labels: &mut [Label], formula: &Formula, rules: &ClassRules, words: &BenchWords) {
    for label in labels {
        let part = formula.parts.iter().find(|part| part.name == label.part);
        label.by_rule = part.and_then(|part| label_rule(&days(formula, part, false, rules)));
        label.gravest = gravest(label, words);
    }
}

#[cfg(test)]
mod tests {
    use super::shift;

    #[test]
    fn a_shift_is_two_lengths_with_their_unit() {
        assert_eq!(shift("0.5mm,-1mm"), Some((0.5, -1.0)));
        for bad in ["0.5,-1", "1mm", "nanmm,1mm", "infmm,0mm", "1mm,1cm", "50mm,0mm", ""] {
            assert_eq!(shift(bad), None, "{bad}");
        }
    }
}
