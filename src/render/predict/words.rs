//! What a solution will do, in words: pH, doubts, what moves it, the working baths.

use super::bottle::storage_blocks;
use super::measured::comparison_blocks;
use super::mixing::mixing_blocks;
use super::values::{
    SAYS_NOTHING, buffering_words, capacity_words, celsius_words, change_words, few, means, ph_words,
};
use crate::formula::Formula;
use crate::predict::PredictError;
use crate::predict::contradiction::StatedPh;
use crate::predict::exchanged::PhChange;
use crate::predict::margin::SolubilityVerdict;
use crate::predict::measured::ReadingComparison;
use crate::predict::report::{Doubt, Predicted, Report, Solution, WorkingBath};
use crate::predict::sensitivity::{Cause, Sensitivity};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::show::range_words;
use crate::render::{Column, Document, capital};
use crate::solution::{Buffering, Prediction};

/// Changes of pH smaller than this are not listed.
const LEAST_LISTED: f64 = 0.01;

/// Most lines of the table of what moves it.
const MOST_LINES: usize = 8;

/// Species of which there is less, mol/L, are not listed.
const LEAST_SPECIES: f64 = 1e-4;

/// Species listed.
const MOST_SPECIES: usize = 7;

/// What a formula will do.
pub(crate) fn predict_document(
    formula: &Formula,
    report: &Report,
    comparison: Option<&ReadingComparison>,
) -> Document {
    let mut document = Document::new();
    document.title(format!("{}: what it will do", formula.title));
    document.facts(crate::render::origin::facts(formula));
    let is_single = report.parts.len() == 1;
    for part in &report.parts {
        solution_blocks(&mut document, part, report, is_single);
    }
    bath_blocks(&mut document, report);
    if let Some(comparison) = comparison {
        comparison_blocks(&mut document, comparison, report.question.celsius);
    }
    for part in &report.parts {
        storage_blocks(&mut document, part, report.question.storage_c);
    }
    if report.parts.iter().any(|part| !part.margins.is_empty()) {
        document.list(vec![
            "Each chemical alone in the water that is left. Salts that share sodium or potassium dissolve less beside each other than these figures say. The data lack that."
                .to_owned(),
        ]);
    }
    for part in &report.parts {
        mixing_blocks(&mut document, part);
    }
    document.paragraph(
        "Computed for fresh solutions of pure salts out of contact with air. Trust a meter in the finished bath.",
    );
    document
}

fn of_words(part: &Solution) -> String {
    let name = part.name.as_ref().map_or_else(String::new, |name| format!("Part {name}"));
    match (&part.dilution, name.is_empty()) {
        (Some(dilution), _) => dilution.clone(),
        (None, true) => String::new(),
        (None, false) => format!("{name}, as bottled"),
    }
}

fn solution_blocks(document: &mut Document, part: &Solution, report: &Report, with_table: bool) {
    let of = of_words(part);
    let at = celsius_words(report.question.celsius);
    document.heading(if of.is_empty() { format!("At {at}") } else { format!("{of}, at {at}") });
    match &part.outcome {
        Ok(predicted) => {
            document.facts(prediction_lines(&predicted.prediction));
            doubt_blocks(document, &predicted.doubts);
            if with_table {
                sensitivity_blocks(document, &predicted.sensitivities);
            }
        }
        Err(error) => refusal(document, error),
    }
}

fn refusal(document: &mut Document, error: &PredictError) {
    document.caution(
        "NO PH",
        vec![format!("{}.", capital(&error.to_string())), format!("{}.", capital(&error.fix()))],
    );
}

fn prediction_lines(prediction: &Prediction) -> Vec<(String, String)> {
    let mut facts = vec![
        ("pH".to_owned(), ph_words(prediction)),
        ("buffering".to_owned(), format!("{}; {}", buffering_words(prediction), means(prediction.buffering))),
        ("ionic strength".to_owned(), format!("{} mol/kg", show_short(prediction.ionic_strength, 2))),
    ];
    let species: Vec<String> = prediction
        .species
        .iter()
        .filter(|species_row| species_row.moles_per_litre >= LEAST_SPECIES)
        .take(MOST_SPECIES)
        .map(|species_row| format!("{} {}", species_row.name, few(species_row.moles_per_litre, 3)))
        .collect();
    if !species.is_empty() {
        facts.push(("mainly, mol/L".to_owned(), species.join(", ")));
    }
    facts
}

fn doubt_blocks(document: &mut Document, doubts: &[Doubt]) {
    if doubts.is_empty() {
        return;
    }
    document.paragraph("Outside the model, wholly or in part:");
    document.list(
        doubts
            .iter()
            .map(|doubt| match doubt.ph_shift {
                Some(shift) if shift >= SAYS_NOTHING => {
                    format!(
                        "{} (may shift the pH by more than {})",
                        doubt.words,
                        show_decimals(SAYS_NOTHING, 0)
                    )
                }
                Some(shift) if shift >= 0.05 => {
                    format!("{} (may shift the pH by up to {})", doubt.words, show_decimals(shift, 1))
                }
                Some(_) => format!("{} (shifts the pH by less than 0.05)", doubt.words),
                None => doubt.words.clone(),
            })
            .collect(),
    );
}

fn sensitivity_blocks(document: &mut Document, sensitivities: &[Sensitivity]) {
    let rows: Vec<Vec<String>> = sensitivities
        .iter()
        .filter(|sensitivity| sensitivity.change.abs() >= LEAST_LISTED && !sensitivity.is_mirror)
        .take(MOST_LINES)
        .map(|sensitivity| {
            vec![
                sensitivity.words.clone(),
                show_decimals(sensitivity.ph, 1),
                change_words(sensitivity.change),
            ]
        })
        .collect();
    document.heading("What shifts the pH");
    if rows.is_empty() {
        document.paragraph("No usual error shifts it by 0.01.");
        return;
    }
    let harmless: Vec<&str> = sensitivities
        .iter()
        .filter(|sensitivity| sensitivity.change.abs() < LEAST_LISTED && sensitivity.cause == Cause::Constant)
        .map(|sensitivity| sensitivity.words.as_str())
        .collect();
    document.table(vec![Column::left("if"), Column::right("pH"), Column::right("change")], rows);
    if !harmless.is_empty() {
        document.paragraph(format!("Less than 0.01: {}.", harmless.join("; ")));
    }
}

fn bath_blocks(document: &mut Document, report: &Report) {
    if report.baths.is_empty() {
        return;
    }
    document.heading(format!("Working baths, at {}", celsius_words(report.question.celsius)));
    let rows = report
        .baths
        .iter()
        .map(|bath| {
            let (ph, capacity) = match &bath.outcome {
                Ok(predicted) => (
                    ph_words(&predicted.prediction),
                    capacity_words(predicted.prediction.buffer_capacity)
                        .trim_end_matches(" mol/L per pH")
                        .to_owned(),
                ),
                Err(_) => (crate::doubt::NOT_KNOWN.to_owned(), String::new()),
            };
            vec![bath.mixture.clone(), bath.used_as.clone().unwrap_or_default(), ph, capacity]
        })
        .collect();
    document.table(
        vec![Column::left("mixture"), Column::left("use"), Column::left("pH"), Column::right("mol/L per pH")],
        rows,
    );
    let mut reasons: Vec<String> =
        report.baths.iter().filter_map(|bath| Some(bath.outcome.as_ref().err()?.to_string())).collect();
    reasons.dedup();
    document.list(reasons);
    // The mixture of several parts is what develops: its slips are told, not those of the bottles.
    let mixed =
        report.baths.iter().find_map(|bath| bath.outcome.as_ref().ok().map(|outcome| (bath, outcome)));
    if let Some((bath, predicted)) = mixed.filter(|_| report.parts.len() != 1) {
        mixed_blocks(document, bath, predicted);
    }
}

fn mixed_blocks(document: &mut Document, bath: &WorkingBath, predicted: &Predicted) {
    document.heading(bath.mixture.clone());
    document.facts(prediction_lines(&predicted.prediction));
    doubt_blocks(document, &predicted.doubts);
    sensitivity_blocks(document, &predicted.sensitivities);
}

/// Prediction lines of the card.
pub(crate) fn prediction_facts(report: &Report) -> Vec<(String, String)> {
    let at = celsius_words(report.question.celsius);
    let words = |outcome: &Result<Predicted, PredictError>| match outcome {
        Ok(own) if own.prediction.buffering == Buffering::Poor => ph_words(&own.prediction),
        Ok(own) => format!("{}; {}", ph_words(&own.prediction), buffering_words(&own.prediction)),
        Err(error) => format!("not known: {error}"),
    };
    let mut facts: Vec<(String, String)> = report
        .parts
        .iter()
        .map(|part| {
            let of = part.name.as_ref().map_or_else(String::new, |name| format!(" of {name}"));
            (format!("pH{of} at {at}"), words(&part.outcome))
        })
        .collect();
    facts.extend(report.baths.iter().map(|bath| (format!("pH of {}", bath.mixture), words(&bath.outcome))));
    for part in &report.parts {
        for margin in &part.margins {
            if margin.verdict() == SolubilityVerdict::Crystals {
                let below = margin.saturated_at_c.map_or_else(
                    || format!("at {}", celsius_words(margin.at_c)),
                    |celsius| format!("below about {}", celsius_words(celsius.round())),
                );
                facts.push(("crystals".to_owned(), format!("{} crystallises {below}", margin.form.name)));
            }
        }
    }
    facts
}

/// Lines on what exchanges on the shelf do to the pH.
pub(crate) fn exchange_lines(changes: &[PhChange]) -> Vec<String> {
    changes
        .iter()
        .map(|change| {
            let part = change.part.as_ref().map_or_else(String::new, |name| format!("Part {name}: "));
            let words: Vec<String> =
                change.exchanges.iter().map(|(recipe, taken)| format!("{taken} for {recipe}")).collect();
            format!(
                "{part}{} takes the predicted pH from {} to {} ({}).",
                words.join(", "),
                show_decimals(change.before, 1),
                show_decimals(change.after, 1),
                change_words(change.after - change.before)
            )
        })
        .collect()
}

/// A stated pH that the prediction contradicts, as a sentence.
pub(crate) fn contradiction_words(stated: &StatedPh) -> String {
    let (low, high) = stated.stated;
    let range = range_words(low, high);
    let of = if stated.solution.is_empty() { String::new() } else { format!(" of {}", stated.solution) };
    format!(
        "pH {range} is stated; computed{of} at {}: {} ± {}",
        celsius_words(stated.celsius),
        show_decimals(stated.predicted, 1),
        show_decimals(stated.error.max(0.1), 1)
    )
}
