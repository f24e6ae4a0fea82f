//! What is told of what hurts: one source of words for every command, and words that agree with the figures beside them, over the whole
//! library.

mod bottling;
mod gear;
mod making;

use crate::common::shipped::sheets;
use crate::common::{in_process, own_formula};
use serde_json::Value;
use soupcon::formula::FinishedIn;
use soupcon::library::Library;
use soupcon::predict::crystals::Crystals;
use soupcon::safety::{Air, worn_words};
use soupcon::sequence::Action;
use soupcon::substance::{Class, State};
use std::fmt::Write as _;

/// What does not hold, in a list.
fn assert_none(wrong: &[String]) {
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Words of a page as one line.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words after a name at the beginning of a line, with the lines set in below it.
fn told(page: &str, name: &str) -> String {
    let mut lines = page.lines().skip_while(|line| !line.starts_with(name));
    let first = lines.next().unwrap_or_default().trim_start_matches(name).to_owned();
    let more = lines.take_while(|line| line.starts_with("     ")).map(str::to_owned);
    flat(&[first].into_iter().chain(more).collect::<Vec<_>>().join(" "))
}

/// A formula of one chemical.
fn one_chemical(substance: &str, amount: &str) -> String {
    let mut text =
        "format = 1\ntitle = \"T\"\nkind = \"test-solution\"\nsummary = \"s\"\nevidence = \"memory\"\n"
            .to_owned();
    write!(text, "\n[[ingredients]]\nsubstance = \"{substance}\"\n{amount}\n").unwrap();
    text
}
