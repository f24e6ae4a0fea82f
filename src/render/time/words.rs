//! A time to start from in words: time, range and what to test, then the derivation.

use crate::quantity::Duration;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::{Column, Document};
use crate::timing::{Alternative, BookWeight, Estimate, Factor, RecordWeight, Setup};

/// Conditions in words: `mq-borax-classic 1+1, 20 °C, inversion`.
pub(crate) fn setup_words(setup: &Setup) -> String {
    let dilution = setup.working.to_string();
    let dilution = if dilution == "stock" { "undiluted".to_owned() } else { dilution };
    format!("{} {dilution}, {}, {}", setup.developer.id, setup.temperature, setup.agitation)
}

/// How much of an answer is printed.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct TimeForm {
    /// Only the answer: time, range, what to test.
    pub brief: bool,
    /// With a title, for a page.
    pub titled: bool,
}

/// The answer to a question of time: time, range and what to test in three lines, then the derivation.
pub(crate) fn time_document(answer: &Estimate, to: &Setup, form: TimeForm) -> Document {
    let mut document = Document::new();
    if form.titled {
        document.title(format!("{}: start with {}", to.developer.id, answer.timer()));
    }
    let range = match answer.timer_range() {
        Some((low, high)) => format!("{} to {}", clock(low), clock(high)),
        None => "exactly the known time".to_owned(),
    };
    let lines = vec![
        vec![answer.timer().to_string(), wanted_words(answer, to)],
        vec![String::new(), range],
        vec!["TEST".to_owned(), answer.test_first()],
    ];
    document.table(vec![Column::left(""), Column::left("")], lines);
    if form.brief {
        return document;
    }
    document.heading("Why");
    let columns = vec![Column::left(""), Column::left(""), Column::left(""), Column::left("")];
    document.table(columns, why_rows(answer));
    if !answer.warnings.is_empty() {
        document.heading("Mind");
        document.list(answer.warnings.iter().map(ToString::to_string).collect());
    }
    if !answer.records.is_empty() {
        document.heading("Your records");
        let records = answer.records.iter().map(record_words);
        document.list(records.chain(answer.books.iter().map(book_words)).collect());
    }
    let told = answer.factors.iter().filter(|factor| !factor.basis.is_empty() || factor.source.is_some());
    let told: Vec<String> = told.map(basis_words).collect();
    if !told.is_empty() {
        document.heading("From");
        document.list(told);
    }
    if !answer.alternatives.is_empty() {
        document.heading("Other ways between the developers");
        document.list(answer.alternatives.iter().map(alternative_words).collect());
    }
    document
}

/// The conditions wanted, and first of all in what they differ from a record started from.
fn wanted_words(answer: &Estimate, to: &Setup) -> String {
    let dilution = dilution_words(to);
    let words = format!("{} {dilution} at {}, {}", to.developer.id, to.temperature, to.agitation);
    let Some(from) = answer.from.as_ref().filter(|_| answer.start.is_some()) else { return words };
    let mut differ: Vec<String> = Vec::new();
    if from.developer.id != to.developer.id {
        differ.push(from.developer.id.clone());
    }
    if from.developer.id != to.developer.id || !from.working.same_as(&to.working) {
        differ.push(dilution_words(from));
    }
    if from.temperature.to_string() != to.temperature.to_string() {
        differ.push(from.temperature.to_string());
    }
    if from.agitation != to.agitation {
        differ.push(from.agitation.clone());
    }
    if differ.is_empty() { words } else { format!("{words} (known: {})", differ.join(", ")) }
}

fn dilution_words(setup: &Setup) -> String {
    let dilution = setup.working.to_string();
    if dilution == "stock" { "undiluted".to_owned() } else { dilution }
}

/// The known time, each factor, and what they make together.
fn why_rows(answer: &Estimate) -> Vec<Vec<String>> {
    let show = |value: f64| show_decimals(value, 2);
    let span = |low: f64, high: f64| format!("({} to {})", show(low), show(high));
    let mut rows = Vec::new();
    let known = match (&answer.start, &answer.from) {
        (Some(start), _) => start.clone(),
        (None, Some(from)) => {
            format!("{}, {}, {}: yours", dilution_words(from), from.temperature, from.agitation)
        }
        (None, None) => String::new(),
    };
    rows.push(vec!["known".to_owned(), clock(answer.known), String::new(), known]);
    for factor in &answer.factors {
        let basis = factor.basis.split(": ").next().unwrap_or_default();
        let basis = basis.split(". ").next().unwrap_or_default().trim_end_matches('.');
        let basis = if basis.is_empty() {
            factor.support.to_string()
        } else {
            format!("{basis}; {}", factor.support)
        };
        rows.push(vec![
            factor.short.clone(),
            format!("\u{d7} {}", show(factor.factor)),
            span(factor.low, factor.high),
            basis,
        ]);
    }
    if answer.factors.len() > 1 {
        rows.push(vec![String::new(), "------".to_owned(), String::new(), String::new()]);
    }
    if !answer.factors.is_empty() {
        let against = |time: Duration| time.as_s() / answer.known.as_s();
        rows.push(vec![
            "combined".to_owned(),
            format!("\u{d7} {}", show(against(answer.time))),
            span(against(answer.low), against(answer.high)),
            format!("to the nearest {} s", show_short(answer.timer_step_s(), 0)),
        ]);
    }
    rows
}

/// What a record was worth.
fn record_words(record: &RecordWeight) -> String {
    if record.taken.starts_with("not used") {
        return format!("{}: {}", record.record, record.taken);
    }
    let percent = show_short(100.0 * record.weight, 0);
    format!("{}: {}; weighs {percent} %", record.record, record.taken)
}

/// What a figure of the books was worth.
fn book_words(book: &BookWeight) -> String {
    if book.share > 0.98 {
        return format!("{}: the books alone, your records do not tell", book.name);
    }
    let percent = show_short(100.0 * book.share, 0);
    format!("{}: {percent} % of the books' range is left after your records", book.name)
}

/// Where a factor comes from.
fn basis_words(factor: &Factor) -> String {
    let name = factor.name.split(',').next().unwrap_or_default();
    let basis = if factor.basis.is_empty() { String::new() } else { format!(": {}", factor.basis) };
    let source = factor.source.as_ref().map_or_else(String::new, |source| format!(" [{source}]"));
    format!("{name}{basis}{source}")
}

fn alternative_words(other: &Alternative) -> String {
    let show = |value: f64| show_decimals(value, 2);
    format!("{}: {} ({} to {})", other.by, show(other.factor), show(other.low), show(other.high))
}

/// `8:15`.
pub(in crate::render) fn clock(time: Duration) -> String {
    let whole = (time.as_s() + 0.5).floor();
    let minutes = (whole / 60.0).floor();
    format!("{minutes:.0}:{:02.0}", whole - minutes * 60.0)
}
