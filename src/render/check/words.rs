//! What a check found, in words.

use crate::diagnostic::FindingSeverity;
use crate::lint::Report;
use crate::render::Document;

/// The findings as a document: place, what is wrong, how to mend it, and a line that sums up.
pub(crate) fn findings_document(report: &Report) -> Document {
    let mut document = Document::new();
    document.list(
        report
            .findings
            .iter()
            .map(|own| {
                let place = own.line.map_or_else(|| own.file.clone(), |line| format!("{}:{line}", own.file));
                let fix =
                    if own.fix.is_empty() { String::new() } else { format!(" Fix: {}", sentence(&own.fix)) };
                format!("{place}: {}: {}{fix} [{}]", own.severity.word(), sentence(&own.message), own.code)
            })
            .collect(),
    );
    document.paragraph(summary(report));
    document
}

/// Ends a text as a sentence ends.
fn sentence(text: &str) -> String {
    if text.ends_with(['.', '?', '!']) { text.to_owned() } else { format!("{text}.") }
}

/// `Nothing found in 210 formulas and 122 substances; 9 published figures agree, 4 need a prediction.`
fn summary(report: &Report) -> String {
    let count = |number: usize, one: &str, many: &str| {
        if number == 1 { format!("1 {one}") } else { format!("{number} {many}") }
    };
    let found = report.at_least(FindingSeverity::Advice).count();
    let notes = report.findings.len() - found;
    let noted = count(notes, "note", "notes");
    let found = match (found, notes) {
        (0, 0) => "Nothing found".to_owned(),
        (0, _) => format!("Nothing to change, and {noted},"),
        (number, 0) => count(number, "finding", "findings"),
        (number, _) => format!("{} and {noted}", count(number, "finding", "findings")),
    };
    let compared = match report.checks {
        0 => String::new(),
        number => {
            format!("; {} of the files compared", count(number, "published figure", "published figures"))
        }
    };
    let left = match report.unchecked {
        0 => String::new(),
        number => format!("; {number} left aside, for want of a prediction"),
    };
    format!(
        "{found} in {} and {}{compared}{left}.",
        count(report.formulas, "formula", "formulas"),
        count(report.substances, "substance", "substances")
    )
}
