//! Formulas found by wish, in words.

use crate::library::Found;
use crate::render::Document;
use crate::wishes::{Because, Granted, Ranked};

/// Reasons told for each wish of a formula.
const MOST_REASONS: usize = 2;

/// What was found by wish, those that meet most first.
#[derive(Debug)]
pub struct Wished<'a> {
    /// The wishes, as printed.
    pub wishes: Vec<&'a str>,
    /// The formulas to tell.
    pub ranked: Vec<(&'a Found, Ranked<'a, 'a>)>,
    /// How many meet at least one wish.
    pub found: usize,
}

/// The answer as a document: those that meet all wishes, then those that meet fewer.
pub fn wished_document(wished: &Wished<'_>) -> Document {
    let mut list = Document::new();
    let asked = wished.wishes.len();
    list.paragraph(format!("Looked for: {}.", wished.wishes.join(", ")));
    for met in (1..=asked).rev() {
        let own: Vec<_> = wished.ranked.iter().filter(|(_, ranked)| ranked.met() == met).collect();
        if own.is_empty() {
            if met == asked && asked > 1 {
                list.paragraph(format!(
                    "No formula meets {}.",
                    if asked == 2 { "both".to_owned() } else { format!("all {}", number(asked)) }
                ));
            }
            continue;
        }
        list.heading(match (met == asked, asked) {
            (true, 1) => "best first".to_owned(),
            (true, 2) => "both, best first".to_owned(),
            (true, _) => format!("all {}, best first", number(asked)),
            (false, _) => format!("{} of {}", number(met), number(asked)),
        });
        list.facts(
            own.into_iter()
                .map(|(found, ranked)| (ranked.formula.id.clone(), words(found, ranked)))
                .collect(),
        );
    }
    if wished.found > wished.ranked.len() {
        list.paragraph(format!(
            "{} of {} told; --most {} tells all.",
            wished.ranked.len(),
            wished.found,
            wished.found
        ));
    }
    list
}

fn words(found: &Found, ranked: &Ranked<'_, '_>) -> String {
    let formula = &found.formula;
    let mut words = format!("{} ({})", formula.title, formula.trust_words());
    for granted in &ranked.granted {
        let name = &granted.wish.name;
        if granted.met {
            let reasons: Vec<&str> =
                speaking_for(granted).map(|own| own.why.as_str()).take(MOST_REASONS).collect();
            words.push_str(&format!(". {name}: {}", reasons.join("; ")));
        } else {
            let against = granted.because.iter().rev().find(|own| own.score < 0.0);
            let why = against.map_or(String::new(), |own| format!(" ({})", own.why));
            words.push_str(&format!(". Not {name}{why}"));
        }
    }
    words
}

fn speaking_for<'g>(granted: &'g Granted<'_>) -> impl Iterator<Item = &'g Because> {
    granted.because.iter().filter(|own| own.score > 0.0)
}

fn number(count: usize) -> String {
    match count {
        1 => "one".to_owned(),
        2 => "two".to_owned(),
        3 => "three".to_owned(),
        4 => "four".to_owned(),
        other => other.to_string(),
    }
}
