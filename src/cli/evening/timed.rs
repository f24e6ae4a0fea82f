//! Developing times that are not given: from a known time, from one's own records, from the card; longer in a used bath.

use std::sync::Arc;

use super::used::Baths;
use super::{EveningData, Used};
use crate::bath::Life;
use crate::cli::arguments::{ratio, temperature};
use crate::cli::conditions::{
    Shelf, agitation, developer, refuse_untimed, timing_error, timing_table, usual_agitation, working,
};
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::diagnostic::Finding;
use crate::evening::clock::Watch;
use crate::evening::file::{Evening, TankAgitation, TankSpec, Way, table_name};
use crate::formula::Formula;
use crate::journal::{Developed, Highlights};
use crate::quantity::rounding::show_short;
use crate::quantity::{Duration, Temperature};
use crate::timing::{Estimate, Model, NegativeWish, Record, Setup, TimeQuestion, TimingError, TimingTable};

/// Steps to which a person sets a timer, s: below ten minutes and from there on. Common practice, no source.
const STEPS_S: (f64, f64) = (5.0, 15.0);

/// A time as a person sets it, s.
fn rounded(seconds: f64) -> i64 {
    let step = if seconds < 600.0 { STEPS_S.0 } else { STEPS_S.1 };
    #[allow(clippy::cast_possible_truncation, reason = "a developing time")]
    let whole = ((seconds / step).round() * step) as i64;
    whole
}

/// How a tank is moved, by the name of the table of times.
pub(super) fn agitation_name(tank: &TankSpec) -> &'static str {
    match (tank.way, tank.agitation) {
        (Way::Rotary, _) => "rotary",
        (Way::Hangers, _) => "tank-lift",
        (Way::Trays, _) | (_, TankAgitation::Continuous) => "tray",
        (_, TankAgitation::Stand) => "stand",
        (_, TankAgitation::Each(_, ..=45)) => "every-30s",
        (_, TankAgitation::Usual | TankAgitation::Each(..)) => "inversion",
    }
}

/// By how much longer a film takes in a bottle that has had films, low and high; `more` films go through it before this evening's tank.
fn growth(bottle: &str, formula: &Formula, more: f64, known: &EveningData) -> Option<(f64, f64)> {
    let life = Life::of(formula, &known.rules);
    if life.is_one_shot {
        return None;
    }
    let named_bottle = known.bottles.named(bottle).next()?;
    if named_bottle.replenished_ml > 0.0 {
        return None;
    }
    let span = life.growth?.factor(named_bottle.films + more, named_bottle.litres()?);
    Some((span.low, span.high))
}

/// Films that earlier tanks of the evening take through the same bottle, by the trade's count.
fn before(evening: &Evening, index: usize) -> f64 {
    let bottle = evening.tanks.get(index).and_then(|own| own.bottle.as_ref());
    let earlier = evening.tanks.iter().take(index).filter(|tank| tank.bottle.as_ref() == bottle);
    earlier.map(|earlier| earlier.films.as_ref().map_or(1.0, crate::quantity::Films::trade)).sum()
}

/// The times of an evening that follows a bottle's last record: that time, longer by what has gone through since.
pub(super) fn as_last(
    evening: &mut Evening,
    last: &Developed,
    known: &EveningData,
    context: &mut Context<'_, '_>,
) -> Result<(), CliError> {
    let formula = context.formula(&last.formula)?.formula;
    let result = known
        .journal
        .results()
        .into_iter()
        .find(|result| std::ptr::eq(result.developed, last))
        .and_then(|result| result.highlights);
    // A time that came out wrong is no time to repeat: all records of the film tell a better one.
    let is_wrong = result.is_some_and(|result| result != Highlights::Right);
    let of_last = last.films.as_ref().map_or(1.0, crate::quantity::Films::trade);
    let is_diluted = last.dilution.parts().len() > 1;
    for index in 0..evening.tanks.len() {
        let more = before(evening, index);
        let Some(tank) = evening.tanks.get_mut(index) else { continue };
        let mut seconds = last.minutes * 60.0;
        let mut told = format!("as recorded on {}", last.date);
        if is_wrong && let Some(film) = &last.film {
            let better = of_own(film, tank, last, known, context)?;
            if let Some(better) = better {
                seconds = better.time.as_s();
                told = format!("from your records of {film}");
            }
        }
        let bottle = tank.bottle.clone().unwrap_or_default();
        let grown = growth(&bottle, &formula, more, known).zip(growth(&bottle, &formula, -of_last, known));
        if let (false, Some((now, then))) = (is_diluted, grown) {
            let factor = ((now.0 * now.1) / (then.0 * then.1)).sqrt();
            if factor > 1.001 {
                seconds *= factor;
                told += &format!(", × {} for the films through it (rule)", show_short(factor, 2));
            }
        }
        let time = if told.contains(',') || is_wrong { rounded(seconds) } else { rounded_to_second(seconds) };
        tank.times_s = vec![time];
        evening.assumed.push(format!("{} {} {told}", tank.name, Watch(time)));
    }
    Ok(())
}

fn rounded_to_second(seconds: f64) -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "a developing time")]
    let whole = seconds.round() as i64;
    whole
}

fn of_own(
    film: &str,
    tank: &TankSpec,
    last: &Developed,
    known: &EveningData,
    context: &mut Context<'_, '_>,
) -> Result<Option<Estimate>, CliError> {
    let table = timing_table(&context.library)?;
    let mut named = Vec::new();
    let own = developer(context, &table, &last.formula, &mut named)?;
    let Ok(working) = own.working(Some(&last.dilution)) else { return Ok(None) };
    let to = Setup {
        developer: own,
        working,
        temperature: last.temperature,
        agitation: agitation_name(tank).to_owned(),
    };
    let records: Vec<Record> = known.journal.results().iter().filter_map(Record::of).collect();
    let shelf = Shelf { library: &context.library, table: &table, named: &named };
    let model = Model::new(&table, &shelf).with_own(film, &records);
    Ok(model.adjust_from_own(&to, &NegativeWish::default(), None).ok())
}

/// Fills in the developing time of a tank that has none.
pub(super) fn work_out(
    evening: &mut Evening,
    index: usize,
    baths: &Baths,
    known: &EveningData,
    notes: &mut Vec<String>,
    context: &mut Context<'_, '_>,
) -> Result<(), CliError> {
    let Some(tank) = evening.tanks.get(index) else { return Ok(()) };
    let has_own = tank.steps.iter().flatten().filter(|(name, _)| table_name(name) == "develop");
    let mut has_own = has_own.peekable();
    let all_given = has_own.peek().is_some() && has_own.all(|(_, seconds)| seconds.is_some());
    if !tank.times_s.is_empty() || all_given {
        if all_given && tank.times_s.is_empty() {
            let times_s: Vec<i64> = tank
                .steps
                .iter()
                .flatten()
                .filter(|(name, _)| table_name(name) == "develop")
                .filter_map(|(_, seconds)| *seconds)
                .collect();
            if let Some(tank) = evening.tanks.get_mut(index) {
                tank.times_s = times_s;
            }
        }
        return Ok(());
    }
    let used = baths.developers.get(index).and_then(Option::as_ref);
    let none = |tank: &TankSpec, why: &str| {
        let message = format!("tank {} has no developing time{why}", tank.name);
        let fix = "give it one, such as time = \"8min\", a known one, known = { time = \"9min\" }, or the film of your records";
        let line = Some(tank.line).filter(|line| *line > 0);
        CliError::Findings { findings: vec![Finding::error("evening", "the evening", line, message, fix)] }
    };
    let Some(used) = used else { return Err(none(tank, ", and its developer is not named")) };
    let table = timing_table(&context.library)?;
    let mut named = Vec::new();
    let to = setup_of(tank, used, &table, &mut named, context)?;
    let (answer, from) = answer(tank, &to, (known, &table), &mut named, context)?.ok_or_else(|| {
        none(tank, &format!(", the card of {} has none and no record of its film stands", used.formula.id))
    })?;
    let more = before(evening, index);
    let Some(tank) = evening.tanks.get_mut(index) else { return Ok(()) };
    let mut seconds = answer.time.as_s();
    let mut words = format!("{}: {from}", tank.name);
    let bottle = tank.bottle.clone().unwrap_or_default();
    if let (true, Some((low, high))) = (used.is_undiluted(), growth(&bottle, &used.formula, more, known)) {
        let factor = (low * high).sqrt();
        if factor > 1.001 {
            seconds *= factor;
            words += &format!(", × {} for the films through {bottle} (rule)", show_short(factor, 2));
        }
    }
    let time = rounded(seconds);
    let range = |duration: Duration| Watch(rounded(duration.as_s() * seconds / answer.time.as_s()));
    words += &format!(", {} ({} to {}); test it", Watch(time), range(answer.low), range(answer.high));
    tank.times_s = vec![time];
    // What it was worked out for is what is planned.
    tank.temperature.get_or_insert(to.temperature);
    notes.push(format!("time worked out, {words}"));
    Ok(())
}

/// The conditions of a tank.
fn setup_of(
    tank: &TankSpec,
    used: &Used,
    table: &TimingTable,
    named: &mut Vec<Formula>,
    context: &mut Context<'_, '_>,
) -> Result<Setup, CliError> {
    let name = tank.developer.clone().unwrap_or_else(|| used.formula.id.clone());
    let tank_developer = developer(context, table, &name, named)?;
    refuse_untimed(&tank_developer, table)?;
    let typed = used.dilution();
    // Several ways of use, and none named: the first.
    let working = match (&typed, used.is_undiluted()) {
        (Some(typed), _) => tank_developer
            .working(Some(&ratio("use", typed)?))
            .map_err(|error| timing_error("use", &error))?,
        (None, true) => match tank_developer.undiluted() {
            Some(working) => working,
            None => working("use", &tank_developer, None)?,
        },
        (None, false) => working("use", &tank_developer, None)?,
    };
    let celsius =
        tank.temperature.map_or_else(|| table.usual_celsius_of(&tank_developer, &working), Temperature::as_c);
    Ok(Setup {
        temperature: Temperature::from_c(celsius),
        agitation: agitation("agitation", table, agitation_name(tank))?,
        working,
        developer: tank_developer,
    })
}

/// The time, and from what in words; none where nothing is known.
fn answer(
    tank: &TankSpec,
    to: &Setup,
    (known, table): (&EveningData, &TimingTable),
    named: &mut Vec<Formula>,
    context: &mut Context<'_, '_>,
) -> Result<Option<(Estimate, String)>, CliError> {
    let wish = NegativeWish::default();
    if let Some(known_time) = &tank.known {
        let from = match &known_time.developer {
            Some(name) => developer(context, table, name, named)?,
            None => Arc::clone(&to.developer),
        };
        refuse_untimed(&from, table)?;
        let from_working = match (&known_time.dilution, &known_time.developer) {
            (None, None) => to.working.clone(),
            (typed, _) => working("known.dilution", &from, typed.as_deref())?,
        };
        let usual = usual_agitation(&from, &from_working);
        let setup = Setup {
            temperature: match &known_time.temperature {
                Some(text) => temperature("known.temp", text)?,
                None => Temperature::from_c(table.usual_celsius_of(&from, &from_working)),
            },
            agitation: agitation("known.agitation", table, known_time.agitation.as_deref().unwrap_or(usual))?,
            working: from_working,
            developer: from,
        };
        let shelf = Shelf { library: &context.library, table, named };
        #[allow(clippy::cast_precision_loss, reason = "a developing time")]
        let time = Duration::from_s(known_time.seconds as f64);
        let question = TimeQuestion { known: time, from: setup, to: to.clone(), wish, tank: None };
        let answer =
            Model::new(table, &shelf).adjust(&question).map_err(|error| timing_error("known", &error))?;
        return Ok(Some((answer, format!("from the known {}", Watch(known_time.seconds)))));
    }
    let shelf = Shelf { library: &context.library, table, named };
    if let Some(film) = &tank.film {
        let records: Vec<Record> = known.journal.results().iter().filter_map(Record::of).collect();
        let model = Model::new(table, &shelf).with_own(film, &records);
        match model.adjust_from_own(to, &wish, None) {
            Ok(answer) => return Ok(Some((answer, format!("from your records of {film}")))),
            Err(TimingError::NoRecord { .. }) => {}
            Err(error) => return Err(timing_error("film", &error)),
        }
    }
    let card = Model::new(table, &shelf).adjust_from_card(to, &wish, None);
    let card = card.map_err(|error| timing_error("developer", &error))?;
    Ok(card.map(|answer| (answer, format!("from the card of {}, films not distinguished", to.developer.id))))
}
