//! What one would see, in words: before the grams, on the card and side by side.

use crate::compare::Comparison;
use crate::qualities::{JudgedQuality, QualityRule};
use crate::render::{Column, Document};

/// What speaks for and against each quality, on the card of one formula.
pub(crate) fn seen_facts(judged: &[JudgedQuality<'_>]) -> Vec<(String, String)> {
    judged
        .iter()
        .map(|own| {
            let reasons: Vec<String> = own.reasons.iter().map(|rule| reason(own, rule)).collect();
            (own.quality.name.clone(), reasons.join("; "))
        })
        .collect()
}

fn reason(judged: &JudgedQuality<'_>, rule: &QualityRule) -> String {
    let word = if rule.score > 0.0 {
        format!("{}: ", judged.quality.more)
    } else if rule.score < 0.0 {
        format!("{}: ", judged.quality.less)
    } else {
        String::new()
    };
    format!("{word}{} [{}]", rule.why, rule.source)
}

/// The longest reason that stands for a word of its own, letters.
const REASON_LETTERS: usize = 28;

/// What is seen of one quality in a word or two: `finer`, or what the one reason there is says of it; where rules speak for and against it
/// alike, it is not known.
pub(crate) fn seen_word(judged: Option<&JudgedQuality<'_>>) -> String {
    let Some(quality) = judged else { return crate::doubt::NOT_KNOWN.to_owned() };
    if quality.score >= quality.quality.step {
        return quality.quality.more.clone();
    }
    if quality.score <= -quality.quality.step {
        return quality.quality.less.clone();
    }
    match quality.reasons.as_slice() {
        [only] => verdict(&only.why),
        _ => None,
    }
    .unwrap_or_else(|| crate::doubt::NOT_KNOWN.to_owned())
}

/// What a reason comes to: `metol-hydroquinone: the yardstick, within a third of a stop` is `the yardstick`. None where it is told in a
/// sentence.
fn verdict(why: &str) -> Option<String> {
    let is_short = |text: &str| text.chars().count() <= REASON_LETTERS;
    if is_short(why) {
        return Some(why.to_owned());
    }
    let words = why.split_once(": ").map_or(why, |(_, words)| words);
    let words = words.split_once(", ").map_or(words, |(first, _)| first);
    is_short(words).then(|| if words == "as usual" { "average".to_owned() } else { words.to_owned() })
}

/// What one would see of each formula against the first.
pub(crate) fn compared_seen(document: &mut Document, comparison: &Comparison<'_>) {
    if comparison.seen.is_empty() {
        return;
    }
    document.heading("what you would see, against 1");
    let mut columns = vec![Column::left("quality")];
    columns.extend((2..=comparison.formulas.len()).map(|number| Column::left(&number.to_string())));
    let rows = comparison
        .seen
        .iter()
        .map(|own| {
            let mut cells = vec![own.quality.name.clone()];
            cells.extend(own.standings.iter().map(|standing| standing.words(&own.quality).to_owned()));
            cells
        })
        .collect();
    document.table(columns, rows);
    document.paragraph("By rules from composition, for the first use of each; the film and the hand decide more than half of it.");
}

/// Why it would look so, quality by quality.
pub(crate) fn compared_reasons(document: &mut Document, comparison: &Comparison<'_>) {
    if comparison.seen.is_empty() {
        return;
    }
    document.heading("why it would look so");
    for seen_row in &comparison.seen {
        let mut points = Vec::new();
        for (place, reasons) in seen_row.reasons.iter().enumerate() {
            for rule in reasons {
                points.push(format!("{}: {} [{}]", place + 1, rule.why, rule.source));
            }
        }
        if !points.is_empty() {
            document.paragraph(format!("{}:", seen_row.quality.name));
            document.list(points);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sources of the words: reasons of the table, and the drawing of the card (`the yardstick`).
    #[test]
    fn one_reason_is_told_by_its_verdict() {
        for (why, words) in [
            ("metol-hydroquinone: the yardstick, within a third of a stop", Some("the yardstick")),
            ("borate is a mild alkali: moderate contrast", Some("moderate contrast")),
            ("hydroquinone with a mild alkali: as usual", Some("average")),
            ("a sentence that goes on and on for longer than a cell", None),
        ] {
            assert_eq!(verdict(why).as_deref(), words, "{why}");
        }
    }
}
