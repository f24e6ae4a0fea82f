//! `bottles --json`.

use serde::Serialize;

use super::ShownBottles;
use super::words::{advice, sentences};
use crate::bath::bottle::{BottleJudgement, BottleState};
use crate::bath::{Basis, rules::Span};

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct BottlesBody {
    /// The day it is told for.
    date: String,
    bottles: Vec<BottleBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BottleBody {
    name: String,
    formula: Option<String>,
    part: Option<String>,
    dilution: Option<String>,
    kind: Option<&'static str>,
    /// Class of composition, where a rule exists.
    class: Option<String>,
    mixed_on: String,
    age_days: i64,
    /// Filled.
    volume_ml: Option<f64>,
    /// In it still, as far as the journal knows.
    left_ml: Option<f64>,
    /// Through it, by the trade's count.
    films: f64,
    area_cm2: f64,
    /// Paper through it; never added to film.
    paper_cm2: f64,
    replenished_ml: f64,
    is_one_shot: bool,
    /// Films it still does; of a rule the upper end, of a fixer the ordinary figure.
    films_left: Option<f64>,
    /// The lower end, of a fixer the lasting figure.
    films_left_low: Option<f64>,
    /// `stated`, `rule` or `not known`.
    films_basis: &'static str,
    /// Sheets of 8 by 10 in that it still does, of what is made for paper; by rule the upper end.
    sheets_left: Option<f64>,
    sheets_left_low: Option<f64>,
    /// Replenisher for a film, as the formula states it, where it is replenished or could be.
    replenisher: Option<String>,
    replenisher_ml_per_film: Option<f64>,
    /// For the films through it, less what was poured in.
    replenisher_due_ml: Option<f64>,
    /// The last good day that is stated; by rule the earlier of its two days.
    good_to: Option<String>,
    /// `stated`, `rule` or `not known`.
    good_to_basis: &'static str,
    /// `full`, `half full` or `used`.
    good_to_of: Option<&'static str>,
    /// By rule: look from this day on.
    look_from: Option<String>,
    /// By rule: out by this day.
    out_by: Option<String>,
    /// Time of the next film over that of the first, by rule.
    next_time_low: Option<f64>,
    next_time_high: Option<f64>,
    clearing_s: Option<f64>,
    clearing_fresh_s: Option<f64>,
    /// Twice the clearing time.
    fix_s: Option<f64>,
    silver_g_per_litre_low: Option<f64>,
    silver_g_per_litre_high: Option<f64>,
    /// `out`, `nearly` or `good`.
    state: &'static str,
    advice: String,
}

impl BottlesBody {
    pub(crate) fn new(shown: &ShownBottles) -> Self {
        Self {
            date: shown.on.to_string(),
            bottles: shown.bottles.iter().map(|bottle| BottleBody::new(bottle, shown)).collect(),
        }
    }
}

impl BottleBody {
    fn new(judgement: &BottleJudgement, shown: &ShownBottles) -> Self {
        let bottle = &judgement.bottle;
        let rule_day = judgement.good_to.filter(|day| day.basis == Basis::Rule);
        let low = |span: Option<Span>| span.map(|span| span.low);
        let high = |span: Option<Span>| span.map(|span| span.high);
        Self {
            name: bottle.name.clone(),
            formula: bottle.formula.clone(),
            part: bottle.part.clone(),
            dilution: bottle.dilution.as_ref().map(crate::journal::dilution_text),
            kind: judgement.kind.map(crate::formula::Kind::folder),
            class: judgement.class.clone(),
            mixed_on: bottle.mixed_on.to_string(),
            age_days: judgement.age_days,
            volume_ml: bottle.filled_ml,
            left_ml: bottle.left_ml,
            films: bottle.films,
            area_cm2: bottle.area_cm2,
            paper_cm2: bottle.paper_cm2,
            replenished_ml: bottle.replenished_ml,
            is_one_shot: judgement.is_one_shot,
            films_left: judgement.films.as_ref().map(|films| films.left.high),
            films_left_low: judgement.films.as_ref().map(|films| films.left.low),
            films_basis: judgement.films.as_ref().map_or(Basis::NotKnown, |films| films.basis).word(),
            sheets_left: judgement.sheets.as_ref().map(|sheets| sheets.left.high),
            sheets_left_low: judgement.sheets.as_ref().map(|sheets| sheets.left.low),
            replenisher: judgement.replenisher.as_ref().map(|with| with.with.clone()),
            replenisher_ml_per_film: judgement.replenisher.as_ref().map(|with| with.ml_per_film),
            replenisher_due_ml: judgement.replenisher.as_ref().map(|with| with.due_ml),
            good_to: judgement
                .good_to
                .map(|day| if day.basis == Basis::Rule { day.look_from } else { day.out_by }.to_string()),
            good_to_basis: judgement.good_to.map_or(Basis::NotKnown, |day| day.basis).word(),
            good_to_of: judgement.good_to.map(|day| day.of),
            look_from: rule_day.map(|day| day.look_from.to_string()),
            out_by: rule_day.map(|day| day.out_by.to_string()),
            next_time_low: low(judgement.next_time),
            next_time_high: high(judgement.next_time),
            clearing_s: judgement.clearing.map(|test| test.tonight_s),
            clearing_fresh_s: judgement.clearing.and_then(|test| test.fresh_s),
            fix_s: judgement.clearing.map(|test| test.fix_s.low),
            silver_g_per_litre_low: low(judgement.silver),
            silver_g_per_litre_high: high(judgement.silver),
            state: match judgement.state {
                BottleState::Out => "out",
                BottleState::Nearly => "nearly",
                BottleState::Good => "good",
            },
            advice: sentences(&advice(judgement, shown)),
        }
    }
}
