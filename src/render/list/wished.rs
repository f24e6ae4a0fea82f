//! Formulas found by wish, in words.

use crate::formula::Kind;
use crate::library::FoundFormula;
use crate::render::Document;
use crate::wishes::{Because, Granted, Ranked};

/// Reasons told for each wish of a formula.
const MOST_REASONS: usize = 2;

/// What was found by wish, those that meet most first.
#[derive(Debug)]
pub(crate) struct Wished<'a> {
    /// The wishes, as printed.
    pub wishes: Vec<String>,
    /// The kinds in which they were looked for.
    pub kinds: Vec<Kind>,
    /// The formulas to tell.
    pub ranked: Vec<(&'a FoundFormula, Ranked<'a, 'a>)>,
    /// How many meet at least one wish and are called by all words.
    pub found: usize,
    /// How many meet at least one wish, whatever they are called.
    pub met: usize,
    /// Words by which all that are told are called.
    pub words: Vec<String>,
    /// Words that none of them is called by.
    pub left_out: Vec<LeftOut>,
    /// Denials of nothing known.
    pub not_understood: Vec<String>,
}

/// A word that was left out.
#[derive(Debug)]
pub(crate) struct LeftOut {
    /// As typed.
    pub word: String,
    /// What it may be a slip of the finger for.
    pub near: Option<String>,
}

/// The answer as a document: those that meet all wishes, then those that meet fewer.
pub(crate) fn wished_document(wished: &Wished<'_>) -> Document {
    let mut list = Document::new();
    let asked = wished.wishes.len();
    list.paragraph(format!("Looked for: {}.", wished.wishes.join(", ")));
    notes(&mut list, wished);
    if wished.found == 0 {
        let kinds: Vec<String> = wished.kinds.iter().map(|kind| kind.words()).collect();
        let which = if asked == 1 { "meets it" } else { "meets any of these" };
        list.paragraph(format!(
            "No formula {which}; looked for in: {}. `soupcon list` without arguments shows all.",
            kinds.join(", ")
        ));
        return list;
    }
    for met in (1..=asked).rev() {
        let own: Vec<_> = wished.ranked.iter().filter(|(_, ranked)| ranked.met() == met).collect();
        let (together, apart): (Vec<_>, Vec<_>) = own.into_iter().partition(|(_, own)| own.apart.is_none());
        if together.is_empty() && met == asked && asked > 1 {
            let all = if asked == 2 { "both".to_owned() } else { format!("all {}", number(asked)) };
            let of_one_use = if apart.is_empty() { "" } else { " in one use" };
            list.paragraph(format!("No formula meets {all}{of_one_use}."));
        }
        let heading = match (met == asked, asked) {
            (true, 1) => "best first".to_owned(),
            (true, 2) => "both, best first".to_owned(),
            (true, _) => format!("all {}, best first", number(asked)),
            (false, _) => format!("{} of {}", number(met), number(asked)),
        };
        for (heading, own) in
            [(heading.clone(), together), (format!("{heading}, but each in another use"), apart)]
        {
            if !own.is_empty() {
                list.heading(heading);
            }
            for (found, ranked) in own {
                let formula = &found.formula;
                list.paragraph(format!("{}: {} ({})", formula.id, formula.title, formula.trust_words()));
                list.list(reasons(ranked));
            }
        }
    }
    if wished.found > wished.ranked.len() {
        list.paragraph(format!(
            "{} of {} listed; --most {} lists all.",
            wished.ranked.len(),
            wished.found,
            wished.found
        ));
    }
    list
}

/// What became of the other words.
fn notes(list: &mut Document, wished: &Wished<'_>) {
    let meet = match wished.wishes.as_slice() {
        [only] => format!("{} meet {only}", wished.met),
        _ => format!("{} meet at least one of these", wished.met),
    };
    if !wished.words.is_empty() {
        let words: Vec<String> = wished.words.iter().map(|word| format!("`{word}`")).collect();
        list.paragraph(format!(
            "{meet}; only the {} called by {} are listed.",
            wished.found,
            words.join(" and ")
        ));
    }
    for own in &wished.left_out {
        let near = own.near.as_ref().map_or(String::new(), |near| format!("; did you mean {near}?"));
        let end = if near.is_empty() { "." } else { "" };
        list.paragraph(format!("{meet}; none is called by the word `{}`: left out{near}{end}", own.word));
    }
    for own in &wished.not_understood {
        list.paragraph(format!("`{own}` is not understood: no such wish and no such chemical; left out."));
    }
}

/// Wish by wish, a line each.
fn reasons(ranked: &Ranked<'_, '_>) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some((first, weaker)) = &ranked.apart {
        lines.push(format!("each in another use: {first} / {weaker}"));
    }
    for granted in &ranked.granted {
        let name = granted.wanted.name();
        if granted.met {
            let reasons: Vec<&str> =
                speaking_for(granted).map(|own| own.why.as_str()).take(MOST_REASONS).collect();
            lines.push(format!("{name}: {}", reasons.join("; ")));
        } else {
            let against = granted.because.iter().rev().find(|own| own.score < 0.0);
            let why = against.map_or(String::new(), |own| format!(" ({})", own.why));
            lines.push(format!("{}{why}", denied(granted)));
        }
        lines.extend(granted.caveats.iter().map(|caveat| format!("mind: {}", caveat.why)));
    }
    lines
}

/// `Not sharper`; of what was not wished, what it is after all.
fn denied(granted: &Granted<'_>) -> String {
    if granted.wanted.not {
        format!("{} after all", granted.wanted.wish.name)
    } else {
        format!("not {}", granted.wanted.wish.name)
    }
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
