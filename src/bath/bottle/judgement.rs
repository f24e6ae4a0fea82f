//! What is said of a bottle on a day: films left, good to, what is due.

use super::Bottle;
use crate::bath::fixer::{Clearing, silver_g_per_litre};
use crate::bath::life::{Basis, Days, Life, Range, days};
use crate::bath::rules::{ClassRules, Span};
use crate::formula::{Formula, Kind};
use crate::journal::Date;
use crate::quantity::UNIT_CM2;

/// From so much of its filling on a bottle counts as half full.
pub(super) const HALF: f64 = 0.5;

/// Days before a stated date that count as nearly out.
const NEARLY_DAYS: i64 = 7;

/// A film more or less than this is none.
const LITTLE: f64 = 1e-6;

/// How urgent a bottle is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum BottleState {
    /// It must be thrown out.
    Out,
    /// One film, or a few days.
    Nearly,
    /// In use.
    Good,
}

/// Why a bottle must go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Out {
    /// The stated number of films is through.
    Films {
        /// Films it is good for.
        limit: f64,
    },
    /// The stated day has passed.
    Day { day: Date },
    /// The clearing time has doubled.
    Clearing { fresh_s: f64, tonight_s: f64 },
}

/// The films a bottle does.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FilmsLeft {
    /// What it does from full, low and high.
    pub limit: Span,
    /// What is left, low and high; not below zero.
    pub left: Span,
    pub basis: Basis,
    /// What the ends mean.
    pub ends: Option<(&'static str, &'static str)>,
}

/// To which day a bottle is good.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct GoodTo {
    /// From this day on it is to be looked at; the last good day where it is stated.
    pub look_from: Date,
    /// By this day it is to be thrown out.
    pub out_by: Date,
    pub basis: Basis,
    /// What state of the bottle it is told for: `full`, `half full`, `used`.
    pub of: &'static str,
}

/// What a bottle is replenished with.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Replenisher {
    /// Id of the formula that is poured in.
    pub with: String,
    /// For a film, mL.
    pub ml_per_film: f64,
    /// For the films through it less what was poured in, mL; not below zero.
    pub due_ml: f64,
    /// What has been poured in, mL.
    pub added_ml: f64,
    /// Films until as much has been poured in as the bottle was filled with: then it is mixed afresh (common practice).
    pub films_until_anew: Option<f64>,
}

impl Replenisher {
    fn of(bottle: &Bottle, formula: &Formula) -> Option<Self> {
        let replenishment = formula.replenishment.as_ref()?;
        let ml_per_film = replenishment.ml_per_roll.filter(|ml| *ml > 0.0)?;
        let asked = bottle.films * ml_per_film;
        Some(Self {
            with: replenishment.with.clone(),
            ml_per_film,
            due_ml: (asked - bottle.replenished_ml).max(0.0),
            added_ml: bottle.replenished_ml,
            films_until_anew: bottle
                .filled_ml
                .map(|filled| ((filled - bottle.replenished_ml.max(asked)) / ml_per_film).max(0.0)),
        })
    }
}

/// What is known of a bottle on a day.
#[derive(Debug, Clone)]
pub(crate) struct BottleJudgement {
    pub bottle: Bottle,
    /// Title of the formula.
    pub title: Option<String>,
    pub kind: Option<Kind>,
    /// The class in words.
    pub class: Option<String>,
    pub state: BottleState,
    /// Why it must go.
    pub out: Option<Out>,
    /// Whether it is used once.
    pub is_one_shot: bool,
    pub films: Option<FilmsLeft>,
    /// Sheets of paper of 8 by 10 in, of what is made for paper.
    pub sheets: Option<FilmsLeft>,
    /// Replenisher, where the formula says how much.
    pub replenisher: Option<Replenisher>,
    /// Day.
    pub good_to: Option<GoodTo>,
    /// How long it keeps in every state.
    pub days: Days,
    /// Time of the next film against the first.
    pub next_time: Option<Span>,
    /// Silver from the films counted, g/L.
    pub silver: Option<Span>,
    /// The last clearing test.
    pub clearing: Option<Clearing>,
    /// Working solution that what is left makes: parts of it, total, litres, for a concentrate or a part.
    pub makes: Option<(String, f64)>,
    pub age_days: i64,
    /// Sign by which it is known to be spent.
    pub sign: Option<String>,
}

/// Judges a bottle on a day.
pub(crate) fn judge(
    bottle: &Bottle,
    formula: Option<&Formula>,
    on: Date,
    rules: &ClassRules,
) -> BottleJudgement {
    let age_days = on.days_since_1970() - bottle.mixed_on.days_since_1970();
    let mut judgement = BottleJudgement {
        bottle: bottle.clone(),
        title: formula.map(|formula| formula.title.clone()),
        kind: formula.map(|formula| formula.kind),
        class: None,
        state: BottleState::Good,
        out: None,
        is_one_shot: false,
        films: None,
        sheets: None,
        replenisher: None,
        good_to: None,
        days: Days::default(),
        next_time: None,
        silver: None,
        clearing: None,
        makes: None,
        age_days,
        sign: None,
    };
    let Some(formula) = formula else { return judgement };
    let life = Life::of(formula, rules);
    let part = match &bottle.part {
        Some(name) => formula.part(name),
        None => formula.parts.first(),
    };
    // A bottle of a developer's working dilution has its own, short, rule.
    let is_diluted = bottle.dilution.as_ref().is_some_and(|ratio| ratio.parts().len() > 1);
    if let Some(part) = part {
        judgement.days = days(formula, part, is_diluted, rules);
        judgement.class = crate::bath::life::part_class(formula, part, rules).or_else(|| life.class.clone());
    }
    judgement.is_one_shot = life.is_one_shot || bottle.part.is_some() && formula.kind.is_developer();
    judgement.sign = (formula.kind == Kind::StopBath).then(|| life.rule_note.map(str::to_owned)).flatten();
    judgement.films = films_left(bottle, &life, judgement.is_one_shot);
    judgement.sheets = sheets_left(bottle, &life);
    let is_replenished = bottle.replenished_ml > 0.0 || !is_diluted && bottle.films > 0.0;
    judgement.replenisher = Replenisher::of(bottle, formula).filter(|_| is_replenished);
    judgement.good_to = good_to(bottle, &judgement.days);
    judgement.next_time = if judgement.is_one_shot { None } else { bottle.next_time(&life) };
    if formula.kind == Kind::Fixer {
        judgement.silver = bottle
            .litres()
            .filter(|_| bottle.area_cm2 > 0.0)
            .map(|litres| silver_g_per_litre(bottle.area_cm2 / UNIT_CM2, litres, rules));
        if let Some(&(_, tonight, _)) = bottle.clearings.last() {
            // The fresh time is one measured before any film was through.
            let fresh =
                bottle.clearings.iter().find(|(_, _, films)| *films <= LITTLE).map(|(_, own, _)| *own);
            judgement.clearing = Some(Clearing::new(fresh, tonight, rules));
        }
    }
    judgement.makes = makes(bottle, formula);
    judgement.out = out(&judgement, on);
    judgement.state = state(&judgement, on);
    judgement
}

fn films_left(bottle: &Bottle, life: &Life<'_>, is_one_shot: bool) -> Option<FilmsLeft> {
    if is_one_shot || bottle.replenished_ml > 0.0 {
        return None;
    }
    let capacity = life.capacity.as_ref()?;
    let litres = bottle.litres()?;
    let Range { span, basis } = capacity.films_per_litre;
    let limit = Span { low: span.low * litres, high: span.high * litres };
    let left = |limit: f64| (limit - bottle.films).max(0.0);
    Some(FilmsLeft {
        limit,
        left: Span { low: left(limit.low), high: left(limit.high) },
        basis,
        ends: capacity.ends,
    })
}

/// Sheets of paper that a bath for paper does, by area.
fn sheets_left(bottle: &Bottle, life: &Life<'_>) -> Option<FilmsLeft> {
    let Range { span, basis } = life.sheets_per_litre?;
    let litres = bottle.litres()?;
    let limit = Span { low: span.low * litres, high: span.high * litres };
    let left = |limit: f64| (limit - bottle.paper_cm2 / UNIT_CM2).max(0.0);
    Some(FilmsLeft { limit, left: Span { low: left(limit.low), high: left(limit.high) }, basis, ends: None })
}

/// The day: a used bath goes by the tank, a half-full bottle by its own figure, and never by that of unused stock.
fn good_to(bottle: &Bottle, days: &Days) -> Option<GoodTo> {
    let full_by = days.full.and_then(|range| bottle.mixed_on.plus_days(range.span.high));
    // Never later than a full bottle would be good.
    let capped = |day: Date| full_by.map_or(day, |full| day.min(full));
    let counted = |since: Date, range: Range, of| {
        let look_from = capped(since.plus_days(range.span.low)?);
        Some(GoodTo { look_from, out_by: capped(since.plus_days(range.span.high)?), basis: range.basis, of })
    };
    if let Some(used) = bottle.first_used {
        return counted(used, days.tank?, "used");
    }
    if let (Some(since), Some(half)) = (bottle.half_since, days.half) {
        return counted(since, half, "half full");
    }
    let full = days.full?;
    let out_by = bottle.mixed_on.plus_days(full.span.high)?;
    // A rule of one figure is looked at from the day on which a half-full bottle would be.
    let look = match (full.basis, days.half) {
        (Basis::Rule, Some(half)) if full.span.low >= full.span.high => half.span.low,
        _ => full.span.low,
    };
    Some(GoodTo {
        look_from: bottle.mixed_on.plus_days(look)?.min(out_by),
        out_by,
        basis: full.basis,
        of: "full",
    })
}

/// What is left of a concentrate or a part makes so many litres of the first use.
fn makes(bottle: &Bottle, formula: &Formula) -> Option<(String, f64)> {
    if bottle.dilution.is_some() {
        return None;
    }
    let left = bottle.left_ml?;
    let name = bottle.part.as_deref().unwrap_or("stock");
    let bath = formula.uses.iter().find_map(|listed_use| match listed_use.baths.as_slice() {
        [bath] if bath.shares.len() > 1 || bath.water > 0.0 => Some(bath),
        _ => None,
    })?;
    // Where it may be used undiluted that is the first use.
    if formula.uses.first().is_some_and(|listed_use| {
        listed_use.baths.iter().all(|bath| bath.water <= 0.0 && bath.shares.len() == 1)
    }) {
        return None;
    }
    let share = bath.shares.iter().find(|(own, _)| own == name)?.1;
    (share > 0.0).then(|| (bath.to_string(), left * bath.total() / share / 1000.0))
}

/// Only what is measured or stated throws a bottle out.
fn out(judgement: &BottleJudgement, on: Date) -> Option<Out> {
    if let Some(Clearing { fresh_s: Some(fresh_s), tonight_s, is_spent: true, .. }) = judgement.clearing {
        return Some(Out::Clearing { fresh_s, tonight_s });
    }
    for films in [&judgement.films, &judgement.sheets].into_iter().flatten() {
        if films.basis == Basis::Stated && films.left.high <= LITTLE {
            return Some(Out::Films { limit: films.limit.high });
        }
    }
    let stated = judgement.good_to.filter(|good_to| good_to.basis == Basis::Stated);
    stated.filter(|stated| on > stated.out_by).map(|stated| Out::Day { day: stated.out_by })
}

fn state(judgement: &BottleJudgement, on: Date) -> BottleState {
    if judgement.out.is_some() {
        return BottleState::Out;
    }
    let few = judgement.films.as_ref().is_some_and(|films| films.left.low < 2.0 - LITTLE);
    let soon = judgement
        .good_to
        .is_some_and(|good_to| good_to.look_from.days_since_1970() - on.days_since_1970() <= NEARLY_DAYS);
    if few || soon { BottleState::Nearly } else { BottleState::Good }
}
