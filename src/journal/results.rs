//! What came of a development: judged at once, or days later by the number of the roll.

use std::collections::HashMap;

use super::{Developed, Entry, Highlights, Journal, Shadows};

/// A development with everything that was said of its negatives, then and later.
#[derive(Debug, Clone, PartialEq)]
pub struct DevelopedResult<'a> {
    /// What was done.
    pub developed: &'a Developed,
    /// The shadows: the latest word on them.
    pub shadows: Option<Shadows>,
    /// The highlights: the latest word on them; a verdict counts as one.
    pub highlights: Option<Highlights>,
    /// The average gradient, the latest measured.
    pub gradient: Option<f64>,
    /// The speed measured, arithmetic.
    pub speed: Option<f64>,
}

impl Journal {
    /// Every development in the order of the file, with what was later judged or measured of its rolls.
    ///
    /// A judgement belongs to the last development with that roll that stands before it in the file, else to the first one after it.
    pub fn results(&self) -> Vec<DevelopedResult<'_>> {
        let mut results: Vec<DevelopedResult<'_>> = Vec::new();
        let mut of_roll: HashMap<&str, usize> = HashMap::new();
        let mut waiting: Vec<&Entry> = Vec::new();
        for entry in &self.entries {
            match entry {
                Entry::Developed(developed) => {
                    for roll in &developed.rolls {
                        of_roll.insert(roll, results.len());
                    }
                    results.push(DevelopedResult {
                        developed,
                        shadows: developed.shadows,
                        highlights: developed.highlights_at_once(),
                        gradient: developed.gradient,
                        speed: None,
                    });
                }
                // What finds its roll is told there.
                Entry::Judged(_) | Entry::Curve(_) if !tell(entry, &of_roll, &mut results) => {
                    waiting.push(entry);
                }
                _ => {}
            }
        }
        if !waiting.is_empty() {
            let mut first_of_roll: HashMap<&str, usize> = HashMap::new();
            for (index, result) in results.iter().enumerate() {
                for roll in &result.developed.rolls {
                    first_of_roll.entry(roll).or_insert(index);
                }
            }
            for entry in waiting {
                tell(entry, &first_of_roll, &mut results);
            }
        }
        results
    }

    /// The last development of a roll.
    pub fn roll(&self, roll: &str) -> Option<&Developed> {
        self.entries.iter().rev().find_map(|entry| match entry {
            Entry::Developed(developed) if developed.rolls.iter().any(|known| known == roll) => {
                Some(developed)
            }
            _ => None,
        })
    }
}

/// Adds what an entry says to the development of its roll; false where that is not known.
fn tell(entry: &Entry, of_roll: &HashMap<&str, usize>, results: &mut [DevelopedResult<'_>]) -> bool {
    let roll = match entry {
        Entry::Judged(judged) => Some(judged.roll.as_str()),
        Entry::Curve(curve) => curve.roll.as_deref(),
        _ => None,
    };
    let Some(result) = roll.and_then(|roll| of_roll.get(roll)).and_then(|&index| results.get_mut(index))
    else {
        return false;
    };
    match entry {
        Entry::Judged(judged) => {
            result.shadows = judged.shadows.or(result.shadows);
            result.highlights = judged.highlights.or(result.highlights);
        }
        Entry::Curve(curve) => {
            result.gradient = Some(curve.gradient);
            result.speed = curve.speed.or(result.speed);
        }
        _ => {}
    }
    true
}
