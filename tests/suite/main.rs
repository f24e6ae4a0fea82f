//! Every test that is not beside its code, in one executable: one link, and `cargo test NAME` finds a test wherever it stands.
//!
//! A module is named after its subject. `cargo test --test suite browser:: -- --ignored` prints pages in a browser; `bench`, `speed`
//! and the long runs of `fuzz` are reports and ignored as well.

#![allow(clippy::restriction, reason = "a panic is how a test fails, and reports print")]

mod another_door;
mod architecture;
mod bath_limits;
mod bench;
mod bench_page;
mod bench_sentences;
mod browser;
mod card_answers;
mod cli;
mod cli_machine;
mod cli_safety;
mod common;
mod compare;
mod composition;
mod cool;
mod curve;
mod evening;
mod evening_films;
mod evening_ways;
mod examples;
mod exposure;
mod films;
mod fuzz;
mod hazard_words;
#[cfg(unix)]
mod hostile;
mod journal;
mod labels;
mod laws;
mod limits;
mod markup;
mod mixing;
mod mixtures;
mod own;
mod papers;
mod predict;
mod properties;
mod published;
mod readme;
mod reference;
mod refused;
mod replenish;
mod safety;
mod sequence;
mod solution;
mod speed;
mod step_words;
mod substances_used;
#[cfg(unix)]
mod terminal;
mod timing;
mod timing_commands;
mod timing_learns;
mod told;
mod weights;
mod wishes;
mod wishes_words;
mod words;
#[cfg(unix)]
mod writing;
