//! The rule of a class in JSON.

use crate::bath::life::{Basis, Life, Range};
use crate::bath::rules::{ClassRules, Span};
use crate::bath::stock::per_film;
use crate::bath::{days, fixer_class};
use crate::formula::Formula;
use serde::Serialize;

/// What the class says, in JSON.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct RulesBody {
    /// The class in words; null where no rule is known.
    class: Option<String>,
    source: Option<String>,
    /// Always `rule`.
    basis: &'static str,
    is_one_shot: bool,
    /// Least and safe.
    stock_ml_per_film: Option<[f64; 2]>,
    films_per_litre: Option<[f64; 2]>,
    /// What the two ends of it are.
    films_per_litre_ends: Option<[&'static str; 2]>,
    /// Minutes at 20 °C for a first test, where no use states a time.
    start_minutes: Option<[f64; 2]>,
    growth_percent: Option<[f64; 2]>,
    /// Sheets of 8 by 10 in: of a fixer lasting and ordinary.
    paper_sheets_per_litre: Option<[f64; 2]>,
    clearing_s: Option<[f64; 2]>,
    keeping: Vec<KeepingBody>,
    /// Working solution for one film at each dilution that the formula names.
    working_per_film: Vec<PerFilmBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct PerFilmBody {
    /// `1 stock + 1 water`.
    bath: String,
    ml: f64,
    /// What the class goes with at least, with more time.
    least_ml: Option<f64>,
    /// `stated` or `rule`.
    basis: &'static str,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct KeepingBody {
    part: Option<String>,
    full_bottle_days: Option<[f64; 2]>,
    half_bottle_days: Option<[f64; 2]>,
    tank_days: Option<[f64; 2]>,
    tray_hours: Option<[f64; 2]>,
}

impl RulesBody {
    /// From a formula: what it states itself is left out.
    pub fn new(formula: &Formula, rules: &ClassRules) -> Self {
        let life = Life::of(formula, rules);
        let pair = |span: Span| [span.low, span.high];
        let by_rule = |range: Option<Range>| {
            range.filter(|range| range.basis == Basis::Rule).map(|range| pair(range.span))
        };
        let is_stated = formula.capacity.stock_ml_per_roll.is_some();
        let capacity =
            life.capacity.as_ref().filter(|capacity| capacity.films_per_litre.basis == Basis::Rule);
        let fixer = fixer_class(formula, rules);
        let keeping = formula.parts.iter().map(|part| {
            let kept_days = days(formula, part, false, rules);
            KeepingBody {
                part: part.name.clone(),
                full_bottle_days: by_rule(kept_days.full),
                half_bottle_days: by_rule(kept_days.half),
                tank_days: by_rule(kept_days.tank),
                tray_hours: by_rule(kept_days.tray_hours),
            }
        });
        let working_per_film = per_film(formula, rules)
            .into_iter()
            .map(|per_film| PerFilmBody {
                bath: per_film.bath,
                ml: per_film.ml,
                least_ml: per_film.least_ml,
                basis: per_film.basis.word(),
            })
            .collect();
        Self {
            working_per_film,
            keeping: keeping.collect(),
            source: life.rule_source.map(str::to_owned),
            basis: Basis::Rule.word(),
            is_one_shot: life.is_one_shot,
            stock_ml_per_film: life.stock.rule_ml.filter(|_| !is_stated).map(pair),
            films_per_litre: capacity.map(|capacity| pair(capacity.films_per_litre.span)),
            films_per_litre_ends: capacity.and_then(|capacity| capacity.ends).map(|(low, high)| [low, high]),
            start_minutes: life.start_minutes.map(pair),
            growth_percent: life.growth.filter(|_| !life.is_one_shot).map(|growth| pair(growth.percent)),
            paper_sheets_per_litre: fixer
                .map(|_| pair(rules.fixers.paper_sheets_per_litre))
                .or_else(|| by_rule(life.sheets_per_litre)),
            clearing_s: fixer.and_then(|fixer| fixer.clearing_s).map(pair),
            class: life.class,
        }
    }
}
