//! How warm each developer stands, and what serves several of them.

use super::degrees_of;
use super::used::Used;
use crate::evening::file::{Evening, table_name};
use crate::evening::needs::BathNeed;
use crate::evening::table::EveningTable;
use crate::quantity::rounding::show_short;

/// Temperatures nearer than this are one, °C: no darkroom thermometer tells them apart.
pub(super) const SAME_C: f64 = 0.25;

/// The temperature of each tank's developer, °C: as its tank or formula tells it, else the usual one.
pub(super) struct Warmth {
    each: Vec<f64>,
    usual: f64,
}

impl Warmth {
    pub(super) fn of(evening: &Evening, developers: &[Option<Used>], table: &EveningTable) -> Self {
        let usual = table.temperature.developer;
        let each = evening.tanks.iter().zip(developers);
        Self {
            each: each.map(|(tank, own)| degrees_of(tank, own.as_ref()).unwrap_or(usual)).collect(),
            usual,
        }
    }

    pub(super) fn of_tank(&self, index: usize) -> f64 {
        self.each.get(index).copied().unwrap_or(self.usual)
    }

    /// Coldest and warmest of these tanks.
    fn span(&self, tanks: &[usize]) -> (f64, f64) {
        let all = tanks.iter().map(|index| self.of_tank(*index));
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), own| (low.min(own), high.max(own)))
    }

    /// What the wash must be near to: the coldest and the warmest developer of all.
    pub(super) fn farthest_from(&self, celsius: f64) -> f64 {
        self.each.iter().map(|own| (own - celsius).abs()).fold(0.0, f64::max)
    }

    /// Of every developer, each once, as the check list names them.
    pub(super) fn distinct(&self) -> Vec<f64> {
        let mut all: Vec<f64> = Vec::new();
        for own in &self.each {
            if all.iter().all(|other| (other - own).abs() >= SAME_C) {
                all.push(*own);
            }
        }
        all
    }

    /// To how many degrees a bath is brought: its developer's, or the middle of those that it serves.
    pub(super) fn target(&self, need: &BathNeed) -> f64 {
        let (low, high) = self.span(&need.serves);
        if table_name(&need.step) == "develop" { self.of_tank(need.tank) } else { f64::midpoint(low, high) }
    }

    /// How far a bath may be from the developers that it follows, °C; none of a developer itself.
    fn within(need: &BathNeed, table: &EveningTable) -> Option<f64> {
        match table_name(&need.step) {
            "develop" => None,
            "fix" => Some(table.temperature.fixer_within),
            "stop" | "presoak" | "rinse" => Some(table.temperature.stop_within),
            _ => Some(table.temperature.wash_within),
        }
    }

    /// Whether no one temperature is near to every developer that a bath follows.
    fn is_apart(&self, need: &BathNeed, table: &EveningTable) -> bool {
        let (low, high) = self.span(&need.serves);
        Self::within(need, table).is_some_and(|within| high - within > low + within)
    }

    /// How warm a bath may be, in figures: near to every developer that it follows.
    pub(super) fn figures(&self, need: &BathNeed, table: &EveningTable) -> String {
        let Some(within) = Self::within(need, table) else {
            return format!("{:.1}", self.of_tank(need.tank));
        };
        let (low, high) = self.span(&need.serves);
        let words = |from: f64, to: f64| format!("{}-{}", show_short(from, 1), show_short(to, 1));
        if self.is_apart(need, table) {
            format!("{}, {}", words(low - within, low + within), words(high - within, high + within))
        } else {
            words(high - within, low + within)
        }
    }

    /// That the developers differ, and what cannot be near to all of them.
    pub(super) fn note(&self, evening: &Evening, needs: &[BathNeed], table: &EveningTable) -> Option<String> {
        let distinct = self.distinct();
        if distinct.len() < 2 {
            return None;
        }
        let of = |celsius: f64| {
            let names =
                evening.tanks.iter().zip(&self.each).filter(|(_, own)| (**own - celsius).abs() < SAME_C);
            let names: Vec<&str> = names.map(|(tank, _)| tank.name.as_str()).collect();
            format!("{} at {} °C", names.join(", "), show_short(celsius, 1))
        };
        let tanks: Vec<String> = distinct.into_iter().map(of).collect();
        let apart = needs.iter().filter(|need| self.is_apart(need, table));
        let mut apart: Vec<&str> = apart.map(|own| own.bath.as_str()).collect();
        apart.dedup();
        let more = if apart.is_empty() {
            "what serves all of them stays near to each".to_owned()
        } else {
            format!("temper anew between them: {}", apart.join(", "))
        };
        Some(format!("the developers differ: {}; {more}", tanks.join("; ")))
    }
}
