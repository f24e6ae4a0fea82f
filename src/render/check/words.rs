//! What a check found, in words.

use crate::diagnostic::FindingSeverity;
use crate::lint::LintReport;
use crate::render::Document;

/// The findings as a document: place, what is wrong, how to mend it, and a line that sums up.
pub(crate) fn findings_document(report: &LintReport) -> Document {
    let mut document = Document::new();
    document.list(
        report
            .findings
            .iter()
            .map(|finding| {
                let place = finding
                    .line
                    .map_or_else(|| finding.file.clone(), |line| format!("{}:{line}", finding.file));
                let fix = if finding.fix.is_empty() {
                    String::new()
                } else {
                    format!(" Fix: {}", sentence(&finding.fix))
                };
                format!(
                    "{place}: {}: {}{fix} [{}]",
                    finding.severity.word(),
                    sentence(&finding.message),
                    finding.code
                )
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
fn summary(report: &LintReport) -> String {
    let count = |number: usize, one: &str, many: &str| {
        if number == 1 { format!("1 {one}") } else { format!("{number} {many}") }
    };
    let to_mend = report.at_least(FindingSeverity::Advice).count();
    let notes = report.findings.len() - to_mend;
    let noted = count(notes, "note", "notes");
    let count_words = match (to_mend, notes) {
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
        "{count_words} in {} and {}{compared}{left}.",
        count(report.formulas, "formula", "formulas"),
        count(report.substances, "substance", "substances")
    )
}
