//! Papers of one view each on one grid (`html/grid.rs`): the wall chart and the card.

pub(crate) mod card;
pub(crate) mod chart;

const STYLE: &str = include_str!("papers.css");

/// Lines that a text takes where a line holds so many letters; a little too many where words are long.
fn lines(text: &str, letters: usize) -> usize {
    super::bench::lines(text, letters)
}

/// A count as a length's factor.
fn count(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}
