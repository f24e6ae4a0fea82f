//! Predictions as documents: what a solution will do, how to bring it to a pH, how strong a stock can be.

use crate::formula::Formula;
use crate::predict::adjust::{Adjustment, Part, Way};
use crate::predict::concentrate::{Answer, Concentrate, Reach};
use crate::predict::contradiction::Stated;
use crate::predict::exchanged::PhChange;
use crate::predict::heating::Finish;
use crate::predict::margin::{Becomes, Limit, Margin, Verdict};
use crate::predict::measured::{Comparison, Explanation};
use crate::predict::report::{Doubt, Heating, Predicted, Report, Solution, WorkingBath};
use crate::predict::sensitivity::{Cause, Sensitivity};
use crate::predict::{PredictError, has_open_doubt, unmodelled};
use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::render::show::range_words;
use crate::render::{Column, Document, capital};
use crate::solution::{Buffering, Prediction};

/// A pH whose error is larger says nothing.
const SAYS_NOTHING: f64 = 2.0;
/// Changes of pH smaller than this are not listed.
const LEAST_LISTED: f64 = 0.01;
/// Most lines of the table of what moves it.
const MOST_LINES: usize = 8;
/// Species of which there is less, mol/L, are not listed.
const LEAST_SPECIES: f64 = 1e-4;
/// Species listed.
const MOST_SPECIES: usize = 7;

/// `8.4, give or take 0.3`.
pub fn ph_words(prediction: &Prediction) -> String {
    if prediction.buffering == Buffering::Poor {
        let ph = show_decimals(prediction.ph, 1);
        return match unmodelled(prediction) {
            Some(substance) => format!("not known: {substance} is not modelled (computed without it {ph})"),
            None => format!("{ph}, poorly buffered: do not trust this figure"),
        };
    }
    let error = prediction.ph_error.max(0.1);
    if error >= SAYS_NOTHING {
        return format!(
            "not known to within {} (computed {})",
            show_decimals(error, 0),
            show_decimals(prediction.ph, 1)
        );
    }
    let rest = if has_open_doubt(prediction) { " without what is not modelled" } else { "" };
    format!("{}, give or take {}{rest}", show_decimals(prediction.ph, 1), show_decimals(error, 1))
}

/// How firmly a solution holds its pH, with the number.
pub fn buffering_words(prediction: &Prediction) -> String {
    let number = capacity_words(prediction.buffer_capacity);
    match prediction.buffering {
        Buffering::Poor => format!("poorly buffered ({number})"),
        Buffering::Fair => format!("fairly buffered ({number})"),
        Buffering::Firm => format!("firmly buffered ({number})"),
    }
}

/// `0.03 mol/L per pH`.
fn capacity_words(capacity: f64) -> String {
    if capacity < 1e-4 {
        return "less than 0.0001 mol/L per pH".to_owned();
    }
    format!("{} mol/L per pH", few(capacity, 2))
}

/// Plain words of what a buffer capacity means at the bench.
fn means(buffering: Buffering) -> &'static str {
    match buffering {
        Buffering::Poor => {
            "traces of acid or alkali, in the salts, the water or the air, decide where it stands"
        }
        Buffering::Fair => "1 mmol of stray acid or alkali in a litre moves it by less than 0.2",
        Buffering::Firm => "even 5 mmol of stray acid or alkali in a litre move it by less than 0.2",
    }
}

/// A figure with so many significant digits: `0.0087`, `0.79`, `12`.
fn few(value: f64, digits: i32) -> String {
    if value <= 0.0 || !value.is_finite() {
        return show_short(value, 0);
    }
    #[allow(clippy::cast_possible_truncation, reason = "a power of ten of a finite figure")]
    let power = value.log10().floor() as i32;
    let decimals = usize::try_from((digits - 1 - power).clamp(0, 12)).unwrap_or(0);
    show_short(value, decimals)
}

/// A temperature in whole or half degrees: `20 °C`.
fn celsius_words(celsius: f64) -> String {
    format!("{} °C", show_short(celsius, 1))
}

/// `+0.12`, `-0.3`.
fn change_words(change: f64) -> String {
    let text = show_decimals(change, 2);
    if change > 0.0 && !text.starts_with('-') { format!("+{text}") } else { text }
}

/// What a formula will do.
pub fn predict_document(formula: &Formula, report: &Report, comparison: Option<&Comparison>) -> Document {
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
            "Each substance alone in the water that is left. Salts that share sodium or potassium dissolve less beside each other than these figures say; that is not in the data."
                .to_owned(),
        ]);
    }
    for part in &report.parts {
        mixing_blocks(&mut document, part);
    }
    document.paragraph(
        "Computed for fresh solutions of pure salts, closed to the air. A meter in the finished bath decides.",
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
        .filter(|own| own.moles_per_litre >= LEAST_SPECIES)
        .take(MOST_SPECIES)
        .map(|own| format!("{} {}", own.name, few(own.moles_per_litre, 3)))
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
    document.paragraph("Not or only partly modelled:");
    document.list(
        doubts
            .iter()
            .map(|doubt| match doubt.ph_shift {
                Some(shift) if shift >= SAYS_NOTHING => {
                    format!(
                        "{} (may move the pH by more than {})",
                        doubt.words,
                        show_decimals(SAYS_NOTHING, 0)
                    )
                }
                Some(shift) if shift >= 0.05 => {
                    format!("{} (may move the pH by up to {})", doubt.words, show_decimals(shift, 1))
                }
                Some(_) => format!("{} (moves the pH by less than 0.05)", doubt.words),
                None => doubt.words.clone(),
            })
            .collect(),
    );
}

fn sensitivity_blocks(document: &mut Document, sensitivities: &[Sensitivity]) {
    let rows: Vec<Vec<String>> = sensitivities
        .iter()
        .filter(|own| own.change.abs() >= LEAST_LISTED && !own.is_mirror)
        .take(MOST_LINES)
        .map(|own| vec![own.words.clone(), show_decimals(own.ph, 1), change_words(own.change)])
        .collect();
    document.heading("What moves it");
    if rows.is_empty() {
        document.paragraph("None of the usual slips moves it by 0.01.");
        return;
    }
    let harmless: Vec<&str> = sensitivities
        .iter()
        .filter(|own| own.change.abs() < LEAST_LISTED && own.cause == Cause::Constant)
        .map(|own| own.words.as_str())
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
                Err(_) => ("not predicted".to_owned(), String::new()),
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
    let mixed = report.baths.iter().find_map(|bath| bath.outcome.as_ref().ok().map(|own| (bath, own)));
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

fn comparison_blocks(document: &mut Document, comparison: &Comparison, celsius: f64) {
    document.heading(format!(
        "Measured: {} at {}",
        reading_words(comparison.measured),
        celsius_words(celsius)
    ));
    let side = if comparison.difference > 0.0 { "above" } else { "below" };
    let difference = show_decimals(comparison.difference.abs(), 1);
    if comparison.agrees {
        document.paragraph(format!(
            "{difference} {side} the prediction, within its error: reading and computation agree."
        ));
    } else {
        document.paragraph(format!("{difference} {side} the prediction, more than its error."));
    }
    if comparison.is_poorly_buffered {
        document.paragraph(
            "So poorly buffered a solution stands anywhere: the reading says little of how it was mixed.",
        );
    }
    if let Some(moles) = comparison.alkali_moles_per_litre.filter(|moles| moles.abs() >= 5e-5) {
        let what = if moles > 0.0 { "strong alkali" } else { "strong acid" };
        document.paragraph(format!(
            "{} mmol of {what} in a litre would make that difference.",
            few(moles.abs() * 1000.0, 2)
        ));
    }
    if !comparison.agrees {
        if comparison.explanations.is_empty() {
            document
                .paragraph("None of the usual slips moves it that way: check the electrode and the weights.");
        } else {
            document.paragraph("What moves it that way, likeliest first:");
            document.list(comparison.explanations.iter().map(explanation_words).collect());
        }
    }
    document.paragraph("Of the meter:");
    document.list(comparison.electrode.iter().map(|line| (*line).to_owned()).collect());
}

/// A reading with the decimals it has, one at the least: `8.0`, `8.35`.
fn reading_words(ph: f64) -> String {
    let short = show_short(ph, 2);
    if short.contains('.') { short } else { show_decimals(ph, 1) }
}

fn explanation_words(explanation: &Explanation) -> String {
    let own = &explanation.sensitivity;
    let share = match explanation.share {
        share if share < 0.6 => "part of it",
        share if share <= 1.6 => "about all of it",
        share if share <= 4.0 => "more than all of it: a smaller slip of this kind would do",
        _ => "far more than the difference",
    };
    format!("{} ({}): {share}", own.words, change_words(own.change))
}

fn storage_blocks(document: &mut Document, part: &Solution, storage_c: f64) {
    if part.margins.is_empty() {
        return;
    }
    let of = part.name.as_ref().map_or_else(String::new, |name| format!(", part {name}"));
    document.heading(format!("In the bottle at {}{of}", celsius_words(storage_c)));
    let rows = part
        .margins
        .iter()
        .map(|margin| {
            vec![
                margin.form.name.clone(),
                margin.grams_per_litre.map_or_else(|| "not known".to_owned(), grams_words),
                limit_words(&margin.limit),
                verdict_words(margin),
            ]
        })
        .collect();
    document.table(
        vec![
            Column::left("substance"),
            Column::right("in it"),
            Column::right("dissolves"),
            Column::left("so"),
        ],
        rows,
    );
    for margin in &part.margins {
        crystal_caution(document, margin);
    }
}

/// `5 g/L`.
fn grams_words(grams: f64) -> String {
    format!("{} g/L", show_significant(grams))
}

fn limit_words(limit: &Limit) -> String {
    let grams = |grams: f64| format!("{} g/L", show_decimals(grams, 0));
    let small = |own: f64| if own < 20.0 { grams_words(own) } else { grams(own) };
    match limit {
        Limit::Known { grams_per_litre } => small(*grams_per_litre),
        Limit::AtLeast { grams_per_litre, at_c } | Limit::AtMost { grams_per_litre, at_c } => {
            format!("not known; {} at {}", small(*grams_per_litre), celsius_words(*at_c))
        }
        Limit::Changed { becomes: Becomes::Salt, .. } => "as its salt: not known".to_owned(),
        Limit::Changed { becomes: Becomes::Base, .. } => "as its base: not known".to_owned(),
        Limit::NotKnown => "not known".to_owned(),
    }
}

fn verdict_words(margin: &Margin) -> String {
    match margin.verdict() {
        Verdict::Crystals => "crystals will come".to_owned(),
        Verdict::Close => "close to saturation".to_owned(),
        Verdict::Dissolved => "stays dissolved".to_owned(),
        Verdict::NotKnown => "not known".to_owned(),
    }
}

fn crystal_caution(document: &mut Document, margin: &Margin) {
    let name = &margin.form.name;
    let below = margin
        .saturated_at_c
        .map_or_else(String::new, |celsius| format!(" below about {}", celsius_words(celsius.round())));
    match margin.verdict() {
        Verdict::Crystals => document.caution(
            "CAUTION",
            vec![format!(
                "{name} crystallises{below}. Keep it warmer, make it weaker, or warm and stir the bottle until it is clear before each use: what has settled is missing from the solution."
            )],
        ),
        Verdict::Close if !below.is_empty() => document.caution(
            "NOTE",
            vec![format!("{name} crystallises{below}: not into a cold room or a refrigerator.")],
        ),
        _ => {}
    }
}

fn mixing_blocks(document: &mut Document, part: &Solution) {
    let of = part.name.as_ref().map_or_else(String::new, |name| format!(" of part {name}"));
    if part.heating.is_empty() && part.no_heating.is_none() {
        return;
    }
    document.heading(format!("While a litre{of} is mixed"));
    if let Some(reason) = &part.no_heating {
        document.paragraph(format!("Temperatures are not told: {reason}."));
        return;
    }
    if let Some((millilitres, celsius)) = part.start {
        document.paragraph(format!(
            "From {} mL of water at {}, each taken at once, no heat lost:",
            show_short(millilitres, 0),
            celsius_words(celsius)
        ));
    }
    let rows = part
        .heating
        .iter()
        .map(|own| {
            let apart = if own.is_apart { ", dissolved apart" } else { "" };
            vec![format!("{}{apart}", own.form.name), heat_words(own)]
        })
        .collect();
    document.table(vec![Column::left("after"), Column::left("reads")], rows);
    for own in &part.undissolved {
        document.caution(
            "NOTE",
            vec![format!(
                "{} does not dissolve whole in the water of its step: {} g in 100 g of it, of which {} dissolve at {}. The rest goes when the volume is made up.",
                own.form.name,
                show_decimals(own.grams_per_100_g, 0),
                show_decimals(own.limit_g_per_100_g, 0),
                celsius_words(own.celsius.round())
            )],
        );
    }
}

fn heat_words(own: &Heating) -> String {
    match own.after_c {
        None => "not known: a heat of solution is not in the data".to_owned(),
        Some(celsius) if celsius >= 100.0 => "it would boil and spit: never at once".to_owned(),
        Some(celsius) if celsius <= 0.0 => "near freezing: it stops dissolving before that".to_owned(),
        Some(celsius) if own.needs_portions => {
            format!("about {} if taken at once: in portions, in ice water", celsius_words(celsius.round()))
        }
        Some(celsius) => format!("about {}", celsius_words(celsius.round())),
    }
}

/// Prediction lines of the card.
pub fn prediction_facts(report: &Report) -> Vec<(String, String)> {
    let at = celsius_words(report.question.celsius);
    let words = |outcome: &Result<Predicted, PredictError>| match outcome {
        Ok(own) if own.prediction.buffering == Buffering::Poor => ph_words(&own.prediction),
        Ok(own) => format!("{}; {}", ph_words(&own.prediction), buffering_words(&own.prediction)),
        Err(error) => format!("not predicted: {error}"),
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
            if margin.verdict() == Verdict::Crystals {
                let below = margin.saturated_at_c.map_or_else(
                    || format!("at {}", celsius_words(margin.at_c)),
                    |celsius| format!("below about {}", celsius_words(celsius.round())),
                );
                facts.push(("crystals".to_owned(), format!("{} comes out {below}", margin.form.name)));
            }
        }
    }
    facts
}

/// Lines on what exchanges on the shelf do to the pH.
pub fn exchange_lines(changes: &[PhChange]) -> Vec<String> {
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

/// One line on how warm a bath ends, and what it takes to end as wanted.
pub fn finish_line(finish: &Finish) -> String {
    let whole = |celsius: f64| format!("{} °C", show_short(celsius, 0));
    let ends = format!("Finishes at about {}", whole(finish.end_c));
    if let Some(near) = finish.endings.iter().find(|ending| finish.is_near(ending.target_c)) {
        return if whole(finish.end_c) == whole(near.target_c) {
            format!("{ends}, ready for use.")
        } else {
            format!("{ends}, near enough to the {} of use.", whole(near.target_c))
        };
    }
    let by_water: Vec<String> = finish
        .endings
        .iter()
        .filter_map(|ending| {
            Some(format!("at {} with make-up water at {}", whole(ending.target_c), whole(ending.top_up_c?)))
        })
        .collect();
    if !by_water.is_empty() {
        return format!("{ends}, or {}.", by_water.join(", "));
    }
    // Nothing is ever told to be warmed: some baths give off gas when they are.
    let first_c = finish.endings.first().map_or(20.0, |ending| ending.target_c);
    if finish.end_c > first_c {
        format!("{ends}. Cool it to {} before use.", whole(first_c))
    } else {
        format!("{ends}. Let it stand in the room until it reads {}.", whole(first_c))
    }
}

/// How a solution is brought to a pH.
pub fn adjust_document(
    formula: &Formula,
    of: Option<&str>,
    goal: Option<&str>,
    adjustment: &Adjustment,
    celsius: f64,
) -> Document {
    let mut document = Document::new();
    let of = of.map_or_else(String::new, |part| format!(", part {part}"));
    document.title(format!(
        "{}{of}: to pH {} at {}",
        formula.title,
        show_decimals(adjustment.target_ph, 1),
        celsius_words(celsius)
    ));
    document.facts(crate::render::origin::facts(formula));
    if let Some(goal) = goal {
        document.paragraph(format!("The pH of {goal}, predicted with the same model."));
    }
    if adjustment.way == Way::AlreadyThere {
        document.paragraph("It is there already: nothing needs to be added.");
    }
    let mut rows = Vec::new();
    if let Some((form, grams)) = &adjustment.removed {
        rows.push(vec!["leave out".to_owned(), grams_words(*grams), form.name.clone()]);
    }
    if adjustment.way != Way::AlreadyThere {
        rows.extend(
            adjustment
                .added
                .iter()
                .map(|part| vec!["add".to_owned(), amount_words(part), part.form.name.clone()]),
        );
    }
    document.table(vec![Column::left(""), Column::right("per litre"), Column::left("substance")], rows);
    let line =
        |prediction: &Prediction| vec![ph_words(prediction), capacity_words(prediction.buffer_capacity)];
    let row = |label: &str, prediction: &Prediction| {
        let mut cells = vec![label.to_owned()];
        cells.extend(line(prediction));
        cells
    };
    document.table(
        vec![Column::left(""), Column::left("pH"), Column::left("buffer capacity")],
        vec![row("before", &adjustment.before), row("after", &adjustment.after)],
    );
    document.list(adjust_notes(adjustment));
    document.caution(
        "CAUTION",
        vec!["Weights only, in no order. How it is mixed and what it can do: `soupcon sheet`.".to_owned()],
    );
    document
}

/// Grams, and millilitres of a liquid.
fn amount_words(part: &Part) -> String {
    let grams = format!("{} g", show_significant(part.grams_per_litre));
    match part.millilitres_per_litre() {
        Some(millilitres) => format!("{} mL ({grams})", show_significant(millilitres)),
        None => grams,
    }
}

fn adjust_notes(adjustment: &Adjustment) -> Vec<String> {
    let mut notes = Vec::new();
    let ratio = adjustment.after.buffer_capacity / adjustment.before.buffer_capacity;
    match adjustment.way {
        Way::Exact => notes.push(
            "exact: it brings the same as what is left out, component for component, so it is the same solution whatever the constants are".to_owned(),
        ),
        Way::AlreadyThere => {}
        Way::Ph | Way::PhAndCapacity => {
            if ratio < 0.8 {
                notes.push(format!("it holds its pH only {} times as firmly as before", show_short(ratio, 1)));
            } else if ratio > 1.25 {
                notes.push(format!("it holds its pH {} times as firmly as before", show_short(ratio, 1)));
            }
            notes.push("equal pH is not equal developer: carbonate, borate and amines differ in what else they do".to_owned());
            notes.push("add nine tenths of it, read the meter, then the rest by the meter".to_owned());
        }
    }
    if adjustment.after.buffering == Buffering::Poor {
        notes.push("poorly buffered: do not trust this figure".to_owned());
    }
    for part in &adjustment.added {
        if let Some(limit) = part.dissolves_g_per_l.filter(|limit| part.grams_per_litre > 0.85 * limit) {
            notes.push(format!(
                "{} comes near what stays dissolved at 18 °C ({} g/L)",
                part.form.name,
                show_short(limit, 0)
            ));
        }
    }
    notes
}

/// How strong a stock can be.
pub fn concentrate_document(formula: &Formula, parts: &[Concentrate], asked: Option<f64>) -> Document {
    let mut document = Document::new();
    document.title(match asked {
        Some(times) => format!("{}: a stock of {} times the strength", formula.title, show_short(times, 2)),
        None => format!("{}: how strong a stock can be", formula.title),
    });
    document.facts(crate::render::origin::facts(formula));
    for part in parts {
        let of = part.name.as_ref().map_or_else(String::new, |name| format!("Part {name}, in"));
        let place = if of.is_empty() { "In".to_owned() } else { of };
        document.heading(format!("{place} the cupboard at {}", celsius_words(part.celsius)));
        document.paragraph(ceiling_words(part));
        if let Some((about, form)) = &part.about {
            document.paragraph(beside_words(*about, &form.name));
        }
        if let Some(times) = asked {
            document.paragraph(answer_words(part, times));
        }
        let times = asked.unwrap_or(1.0);
        let rows = part
            .reaches
            .iter()
            .map(|reach| {
                vec![
                    reach.form.name.clone(),
                    reach
                        .grams_per_litre
                        .map_or_else(|| "not known".to_owned(), |grams| grams_words(grams * times)),
                    limit_words(&reach.limit),
                    reach_words(reach),
                ]
            })
            .collect();
        let in_it = if asked.is_some() { "in the stock" } else { "in it now" };
        document.table(
            vec![
                Column::left("substance"),
                Column::right(in_it),
                Column::right("dissolves"),
                Column::right("up to"),
            ],
            rows,
        );
    }
    document.list(vec![
        "Each substance alone in the water that is left. Salts that share sodium or potassium dissolve less beside each other: where the ion product tells how much less, it stands above.".to_owned(),
        "Mix 100 mL of it first and leave it a night in the coldest place it will stand.".to_owned(),
    ]);
    document
}

fn times_words(times: f64) -> String {
    let decimals = usize::from(times < 10.0);
    // Down, so that the figure printed does dissolve.
    let step = if times < 10.0 { 10.0 } else { 1.0 };
    format!("{}×", show_short((times * step).floor() / step, decimals))
}

fn ceiling_words(part: &Concentrate) -> String {
    let open: Vec<&str> = part.not_known_at(part.ceiling()).map(|reach| reach.form.name.as_str()).collect();
    let limit = strongest_words(part);
    if part.ceiling() < 1.0 || open.is_empty() {
        return limit;
    }
    format!("{limit} It may be less: how much dissolves is not known of {}.", open.join(", "))
}

/// What salts of one ion leave of it.
fn beside_words(about: f64, salt: &str) -> String {
    let from = if about < 1.0 {
        "in the solution as it is".to_owned()
    } else {
        format!("from about {} on", times_words(about))
    };
    format!(
        "Beside the other salts of its ion {salt} can crystallise {from} (ion product; activities left out)."
    )
}

fn strongest_words(part: &Concentrate) -> String {
    match &part.most {
        Some((most, form)) if *most < part.no_water_above => {
            if *most < 1.0 {
                format!("It is too strong as it is: {} crystallises.", form.name)
            } else {
                format!("At most {}: then {} crystallises.", times_words(*most), form.name)
            }
        }
        _ => format!(
            "No figure sets a limit; above {} there would be no water left.",
            times_words(part.no_water_above)
        ),
    }
}

/// Whether a part can be made so strong.
pub fn answer_words(part: &Concentrate, times: f64) -> String {
    let asked = format!("{}×", show_short(times, 2));
    match part.answer(times) {
        Answer::Yes => {
            let close: Vec<&str> = part.close_at(times).map(|reach| reach.form.name.as_str()).collect();
            if close.is_empty() {
                format!("{asked}: the data allow it.")
            } else {
                format!("{asked}: the data allow it, but {} is close to saturation.", close.join(", "))
            }
        }
        Answer::No => match &part.most {
            Some((most, form)) if *most < part.no_water_above => {
                format!("{asked}: no, {} would crystallise.", form.name)
            }
            _ => format!("{asked}: no, there would be no water to dissolve it in."),
        },
        Answer::NotKnown => {
            let mut names: Vec<&str> =
                part.not_known_at(times).map(|reach| reach.form.name.as_str()).collect();
            let beside = part.about.as_ref().filter(|(about, _)| times > *about);
            names.extend(beside.map(|(_, salt)| salt.name.as_str()));
            format!("{asked}: not known for {}; nothing known forbids it.", names.join(", "))
        }
    }
}

fn reach_words(reach: &Reach) -> String {
    match (reach.dissolves_to, reach.fails_above) {
        (Some(to), Some(above)) if (above - to).abs() < 1e-6 => times_words(to),
        (Some(to), Some(above)) => format!("{} to {}", times_words(to), times_words(above)),
        (Some(to), None) => format!("{} surely", times_words(to)),
        (None, Some(above)) => format!("less than {}", times_words(above)),
        (None, None) => "not known".to_owned(),
    }
}

/// A stated pH that the prediction contradicts, as a sentence.
pub fn contradiction_words(stated: &Stated) -> String {
    let (low, high) = stated.stated;
    let range = range_words(low, high);
    let of = if stated.solution.is_empty() { String::new() } else { format!(" of {}", stated.solution) };
    format!(
        "pH {range} is stated; computed{of} at {}: {}, give or take {}",
        celsius_words(stated.celsius),
        show_decimals(stated.predicted, 1),
        show_decimals(stated.error.max(0.1), 1)
    )
}
