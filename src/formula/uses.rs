//! The ways of using a formula, and the words by which one is called.

use std::fmt;

use super::Part;
use crate::quantity::rounding::show_short;

/// One bath of a use: parts by volume of the bottled parts and of water.
#[derive(Debug, Clone, PartialEq)]
pub struct Bath {
    /// Part name (`stock` in a one-part formula) and its share; never water.
    pub shares: Vec<(String, f64)>,
    /// Share of water.
    pub water: f64,
}

impl Bath {
    /// Sum of all shares.
    pub fn total(&self) -> f64 {
        self.shares.iter().map(|(_, share)| share).sum::<f64>() + self.water
    }
}

impl fmt::Display for Bath {
    /// In words: `1 stock + 3 water`, `1 A + 1 B`, `undiluted`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let (true, [(name, _)]) = (self.water == 0.0, self.shares.as_slice()) {
            return if name == "stock" {
                formatter.write_str("undiluted")
            } else {
                write!(formatter, "{name} undiluted")
            };
        }
        for (index, (name, share)) in self.shares.iter().enumerate() {
            let plus = if index > 0 { " + " } else { "" };
            write!(formatter, "{plus}{} {name}", show_short(*share, 3))?;
        }
        if self.water > 0.0 {
            write!(formatter, " + {} water", show_short(self.water, 3))?;
        }
        Ok(())
    }
}

/// A way of using a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    /// Short name.
    pub name: String,
    /// One bath, or several one after the other.
    pub baths: Vec<Bath>,
    /// Whether film or print is washed between the baths.
    pub wash_between: bool,
    /// Shortest and longest time, minutes.
    pub minutes: Option<(f64, f64)>,
    /// Temperature of those minutes, °C.
    pub temperature_c: Option<f64>,
    /// How long the working solution keeps, hours.
    pub working_hours: Option<f64>,
    /// Where the times come from.
    pub source: Option<String>,
    /// What to know.
    pub note: Option<String>,
}

/// Letters without spaces, small: `1 A + 1 B` is called as `1a+1b` too.
fn squeezed(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).flat_map(char::to_lowercase).collect()
}

impl Use {
    /// The phrase that a card prints: its baths one after the other, and the wash between them.
    pub fn phrase(&self) -> String {
        self.in_order(Bath::to_string)
    }

    /// Its baths in words of one's own, in the order of use: `A undiluted, wash, then B undiluted`.
    pub fn in_order(&self, words: impl FnMut(&Bath) -> String) -> String {
        let between = if self.wash_between { ", wash, then " } else { ", then " };
        self.baths.iter().map(words).collect::<Vec<_>>().join(between)
    }

    /// Whether `text` is its name or the phrase of its baths.
    pub fn is_called(&self, text: &str) -> bool {
        let wanted = squeezed(text);
        squeezed(&self.name) == wanted || squeezed(&self.phrase()) == wanted
    }

    /// The figures of its one bath in the order of the formula's parts, water last: `1+3`, `stock`; none of several baths, nor of a
    /// bath that leaves a part out.
    pub fn figures(&self, parts: &[Part]) -> Option<String> {
        let [bath] = self.baths.as_slice() else { return None };
        if bath.shares.len() != parts.len() {
            return None;
        }
        if bath.water == 0.0 && parts.len() == 1 {
            return Some("stock".to_owned());
        }
        let share = |part: &Part| {
            let name = part.name.as_deref().unwrap_or("stock");
            bath.shares.iter().find(|(own, _)| own == name).map(|(_, share)| *share)
        };
        let mut figures = parts.iter().map(share).collect::<Option<Vec<f64>>>()?;
        figures.extend((bath.water > 0.0).then_some(bath.water));
        Some(figures.into_iter().map(|figure| show_short(figure, 3)).collect::<Vec<_>>().join("+"))
    }
}
