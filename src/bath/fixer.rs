//! Silver, clearing and acid: the sums behind fixers and stop baths.

use super::rules::{ClassRules, Span, StopRule};
use crate::quantity::UNIT_CM2;

/// Silver that one film of 516.128 cm² gives the fixer, mg: coating in g/m² times the share that dissolves.
///
/// Source: balance, coating (g/m²) · area (m²) · share; coatings: German x-ray handbook, page 340.
pub fn silver_mg_per_film(coating_g_per_m2: f64, dissolved_share: f64) -> f64 {
    coating_g_per_m2 * UNIT_CM2 / 10.0 * dissolved_share
}

/// Films through a litre of fixer until it holds so much silver.
pub fn films_per_litre(limit_g_per_litre: f64, silver_mg_per_film: f64) -> f64 {
    limit_g_per_litre * 1000.0 / silver_mg_per_film
}

/// Silver that so many films bring into so many litres, g/L, low and high.
pub fn silver_g_per_litre(films: f64, litres: f64, rules: &ClassRules) -> Span {
    let own = &rules.fixers;
    let of = |coating: f64| films * silver_mg_per_film(coating, own.dissolved_share) / 1000.0 / litres;
    Span { low: of(own.coating_g_per_m2.low), high: of(own.coating_g_per_m2.high) }
}

/// What a clearing test says of the bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clearing {
    /// Clearing time of the fresh bath, s.
    pub fresh_s: Option<f64>,
    /// Clearing time tonight, s.
    pub tonight_s: f64,
    /// How long to fix, s, and for films rich in iodide.
    pub fix_s: Span,
    /// Whether it has doubled.
    pub is_spent: bool,
}

impl Clearing {
    /// From tonight's clearing time and that of the fresh bath.
    ///
    /// Source: fix for twice the clearing time, and throw the bath out when that is twice the fresh one's: US Navy training manual
    /// NAVEDTRA 14209, chapter 9.
    pub fn new(fresh_s: Option<f64>, tonight_s: f64, rules: &ClassRules) -> Self {
        let fixer_rules = &rules.fixers;
        Self {
            fresh_s,
            tonight_s,
            fix_s: Span {
                low: tonight_s * fixer_rules.clearing_times.low,
                high: tonight_s * fixer_rules.clearing_times.high,
            },
            is_spent: fresh_s.is_some_and(|fresh| tonight_s >= fixer_rules.spent_times * fresh),
        }
    }
}

/// Films through a litre of an acetic acid stop bath until it is spent.
///
/// Source: acid balance: the acid neutralised at the pH at which it is spent, over what each film carries in.
pub fn stop_films_per_litre(
    acid_mol_per_litre: f64,
    carry_over_ml: f64,
    taken_mol: f64,
    rule: &StopRule,
) -> f64 {
    let left = 1.0 / (1.0 + 10f64.powf(rule.spent_ph - rule.pka));
    acid_mol_per_litre * (1.0 - left) / (carry_over_ml / 1000.0 * taken_mol)
}
