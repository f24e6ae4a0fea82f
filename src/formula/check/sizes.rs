//! Limits on how long and how many the entries of a file may be.

use super::{Collector, MOST_BATHS};
use crate::formula::file::{FormulaFile, PartFile};
use crate::packed::Placed;

/// Most parts, baths of a use, and ingredients of a part: beyond any published formula, and few enough to be judged in a moment.
const MOST_PARTS: usize = 26;

const MOST_INGREDIENTS: usize = 60;

/// Most ways of use, aliases, cautions and the like.
const MOST_OTHERS: usize = 40;

/// Longest title, in letters, and longest other text.
const LONGEST_TITLE: usize = 200;

const LONGEST_TEXT: usize = 2000;

/// Code of the refusal of a file that holds too much.
pub(super) const TOO_MUCH: &str = "too-much";

/// Refuses what is more or longer than anybody writes down for a bath.
pub(super) fn sizes(shape: &FormulaFile, text: &str, collector: &mut Collector<'_>) {
    // Lines are looked for only where something is told: there may be very many.
    let mut at_most = |most: usize, count: usize, offset: Option<usize>, what: &str, fix: &str| {
        if count > most && !collector.is_full() {
            let message = format!("{count} {what}, where {most} are the most that this program looks at");
            let line = offset.map(|offset| collector.lines.line(offset));
            collector.wrong(TOO_MUCH, line, message, fix);
        }
    };
    at_most(MOST_PARTS, shape.parts.len(), None, "parts", "write several formulas");
    let fix = "write several formulas, or parts";
    let lists = shape.ingredients.iter().chain(shape.parts.iter().map(|part| &part.get_ref().ingredients));
    for list in lists {
        let offset = list.first().map(Placed::start);
        at_most(MOST_INGREDIENTS, list.len(), offset, "ingredients in one part", fix);
    }
    for listed_use in &shape.uses {
        let (offset, count) = (Some(listed_use.start()), listed_use.get_ref().baths.len());
        at_most(MOST_BATHS, count, offset, "baths in one use", "write several uses");
    }
    let in_parts = |of: fn(&PartFile) -> usize| shape.parts.iter().map(|part| of(part.get_ref())).sum();
    let others = [
        ("cautions of parts", in_parts(|part| part.cautions.len() + part.waste_cautions.len())),
        ("ways of use", shape.uses.len()),
        ("aliases", shape.aliases.len()),
        ("cautions", shape.cautions.len()),
        ("mixing_cautions", shape.mixing_cautions.len()),
        ("waste_cautions", shape.waste_cautions.len()),
        ("choosing_cautions", shape.choosing_cautions.len()),
        ("published figures in [[check]]", shape.check.len()),
        ("partners", shape.partners.len()),
        ("formulas that it replenishes", shape.replenishes.len()),
    ];
    for (what, count) in others {
        at_most(MOST_OTHERS, count, None, what, "keep those that matter");
    }
    let title = shape.title.get_ref().chars().count();
    let fix = "put the rest into the summary";
    at_most(LONGEST_TITLE, title, Some(shape.title.start()), "letters in the title", fix);
    // No text on a short line is long.
    let begins_block = |quote: char, three: &str| {
        text.match_indices(quote).any(|(at, _)| text.get(at..).is_some_and(|rest| rest.starts_with(three)))
    };
    let may_be_long = text.len() > LONGEST_TEXT
        && (text.lines().any(|line| line.len() > LONGEST_TEXT)
            || begins_block('"', "\"\"\"")
            || begins_block('\'', "'''"));
    if may_be_long && let Ok(table) = text.parse::<toml::Table>() {
        let mut longest = 0;
        for (key, value) in table.iter().filter(|(key, _)| key.as_str() != "own") {
            longest = longest.max(longest_text(value));
            if longest > LONGEST_TEXT {
                at_most(
                    LONGEST_TEXT,
                    longest,
                    text.find(key.as_str()),
                    "letters in one text",
                    "say it shorter",
                );
                break;
            }
        }
    }
}

/// Letters of the longest text in a value.
fn longest_text(value: &toml::Value) -> usize {
    match value {
        toml::Value::String(text) => text.chars().count(),
        toml::Value::Array(list) => list.iter().map(longest_text).max().unwrap_or(0),
        toml::Value::Table(table) => table.values().map(longest_text).max().unwrap_or(0),
        _ => 0,
    }
}
