//! An evening without a file: films and a bottle, or the last evening of the journal.

use super::EveningData;
use super::timed;
use crate::bath::need::smallest_tank;
use crate::cli::bath::films;
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::evening::file::{BathSpec, Evening, TankSpec, Way};
use crate::evening::loads::{Load, TankRoom, loads};
use crate::evening::table::EveningTable;
use crate::formula::Kind;
use crate::journal::{Developed, Entry, dilution_text};
use crate::quantity::Volume;

/// The smallest evening; everything in it comes from the table and is told.
fn empty(table: &EveningTable) -> Result<Evening, CliError> {
    let text = "[[tanks]]\ntime = \"8min\"\nfilms = \"1films\"\n";
    let mut evening = Evening::parse(text, "", table).map_err(|findings| CliError::Findings { findings })?;
    evening.tanks.clear();
    Ok(evening)
}

/// Developments through a bottle, by day.
fn through<'k>(known: &'k EveningData, bottle: &str) -> Vec<&'k Developed> {
    let is_it = |name: &str| name == bottle || known.bottles.named(bottle).any(|own| own.name == name);
    let mut all: Vec<&Developed> = known
        .journal
        .entries
        .iter()
        .filter_map(|entry| match entry {
            Entry::Developed(own) if own.draws.first().is_some_and(|draw| is_it(&draw.bottle)) => Some(own),
            _ => None,
        })
        .collect();
    all.sort_by_key(|own| own.date);
    all
}

/// `4films D3`.
pub(super) fn of_bottle(
    typed: &str,
    bottle: &str,
    known: &EveningData,
    context: &mut Context<'_, '_>,
) -> Result<Evening, CliError> {
    let films = films("FILMS", typed)?;
    let bottle = bottle.trim();
    let mut evening = empty(&known.table)?;
    let standing = known.bottles.named(bottle).next();
    let all = through(known, bottle);
    let last = all.last().copied();
    if standing.is_none() && last.is_none() {
        let names: Vec<&str> = known.bottles.bottles.iter().map(|bottle| bottle.name.as_str()).collect();
        let fix = if names.is_empty() {
            "note it with `soupcon record add mixed FORMULA VOLUME --bottle NAME`".to_owned()
        } else {
            format!("those that stand are {}", names.join(", "))
        };
        return Err(CliError::argument("BOTTLE", format!("no bottle {bottle} stands in the journal"), fix));
    }
    let rooms: Vec<TankRoom> = context
        .settings
        .tanks()
        .iter()
        .map(|tank| TankRoom { name: tank.name.clone(), volume_ml: tank.volume.as_ml(), reels: tank.reels })
        .collect();
    let all = if rooms.is_empty() {
        let tank = smallest_tank(&films, std::iter::empty(), &known.rules).ok_or_else(|| {
            let fix = "write an evening file: soupcon new evening -o evening.toml";
            CliError::argument("FILMS", "what covers sheets differs from tank to tank", fix)
        })?;
        evening.assumed.push(
            "one tank of the usual volume for its reels: none stands under [tanks] in the configuration"
                .to_owned(),
        );
        vec![Load { room: TankRoom { name: "A".to_owned(), volume_ml: tank.volume_ml, reels: 0 }, films }]
    } else {
        loads(&films, &rooms).map_err(|left| {
            let fix = "fewer films, or more tanks under [tanks] in the configuration";
            CliError::Refused {
                code: "no-room",
                message: format!("{left} of them find no room in your tanks"),
                fix: fix.to_owned(),
            }
        })?
    };
    for load in all {
        let mut tank = TankSpec::named(load.room.name);
        tank.films = Some(load.films);
        tank.volume = Some(Volume::from_ml(load.room.volume_ml));
        tank.bottle = Some(bottle.to_owned());
        match last {
            Some(last) => as_then(&mut tank, last, context)?,
            None => tank.developer = standing.and_then(|standing| standing.formula.clone()),
        }
        // The time grows with what has gone through since.
        tank.times_s.clear();
        evening.tanks.push(tank);
    }
    if let Some(last) = last {
        timed::as_last(&mut evening, last, known, context)?;
        others(&mut evening, last, known, context);
    }
    usual_baths(&mut evening, known, context);
    Ok(evening)
}

/// The last evening of the journal.
pub(super) fn again(known: &EveningData, context: &mut Context<'_, '_>) -> Result<Evening, CliError> {
    let developed = || {
        known.journal.entries.iter().filter_map(|entry| match entry {
            Entry::Developed(own) => Some(own),
            _ => None,
        })
    };
    let Some(day) = developed().map(|own| own.date).max() else {
        let fix = "write an evening file: soupcon new evening -o evening.toml, and record it with --record";
        return Err(CliError::argument("again", "no development stands in the journal", fix));
    };
    let mut evening = empty(&known.table)?;
    let all: Vec<&Developed> = developed().filter(|own| own.date == day).collect();
    for (place, load) in all.iter().take(crate::evening::clock::MOST_TANKS).enumerate() {
        let letter = char::from(b'A' + u8::try_from(place % 26).unwrap_or(0)).to_string();
        let mut tank = TankSpec::named(letter);
        tank.films.clone_from(&load.films);
        tank.bottle = load.draws.first().map(|draw| whole_name(&draw.bottle, known));
        as_then(&mut tank, load, context)?;
        evening.tanks.push(tank);
        others(&mut evening, load, known, context);
    }
    evening.assumed.push(format!("tanks, films and times as on {day}"));
    usual_baths(&mut evening, known, context);
    Ok(evening)
}

/// The name of a bottle without its part.
fn whole_name(bottle: &str, known: &EveningData) -> String {
    let part = known.bottles.named(bottle).find_map(|own| own.part.clone());
    let whole = part.and_then(|part| Some(bottle.strip_suffix(part.as_str())?.trim_end().to_owned()));
    whole.unwrap_or_else(|| bottle.to_owned())
}

/// Developer, use, temperature, way and time of a development.
fn as_then(
    tank: &mut TankSpec,
    developed: &Developed,
    context: &mut Context<'_, '_>,
) -> Result<(), CliError> {
    tank.film.clone_from(&developed.film);
    tank.developer = Some(developed.formula.clone());
    tank.temperature = Some(developed.temperature);
    #[allow(
        clippy::cast_possible_truncation,
        reason = "a time of the journal is far below the largest whole number"
    )]
    tank.times_s.push((developed.minutes * 60.0).round() as i64);
    tank.way = match developed.agitation.as_str() {
        "rotary" => Way::Rotary,
        "tank-lift" => Way::Hangers,
        _ => Way::Tank,
    };
    match developed.agitation.as_str() {
        "stand" => tank.agitation = crate::evening::file::TankAgitation::Stand,
        "every-30s" => tank.agitation = crate::evening::file::TankAgitation::Each(5, 30),
        "tray" => tank.agitation = crate::evening::file::TankAgitation::Continuous,
        _ => {}
    }
    let formula = context.formula(&developed.formula)?.formula;
    tank.use_name = formula.use_called(&dilution_text(&developed.dilution)).map(|own| own.name.clone());
    if tank.volume.is_none() {
        let total: f64 = developed.dilution.parts().iter().sum();
        let share =
            developed.dilution.parts().first().copied().filter(|_| developed.dilution.parts().len() > 1);
        let drawn = developed.draws.first().and_then(|draw| draw.drawn_ml);
        tank.volume = drawn.map(|ml| Volume::from_ml(share.map_or(ml, |share| ml * total / share)));
    }
    Ok(())
}

fn key_of_kind(kind: Kind) -> Option<&'static str> {
    match kind {
        Kind::StopBath => Some("stop"),
        Kind::Fixer => Some("fixer"),
        Kind::WashingAid => Some("aid"),
        _ => None,
    }
}

/// The other bottles of a development, as far as they stand.
fn others(evening: &mut Evening, developed: &Developed, known: &EveningData, context: &Context<'_, '_>) {
    for draw in developed.draws.iter().skip(1) {
        let Some(bottle) = known.bottles.named(&draw.bottle).next() else { continue };
        put(evening, bottle, context);
    }
}

fn put(evening: &mut Evening, bottle: &crate::bath::Bottle, context: &Context<'_, '_>) {
    let Some(id) = bottle.formula.clone() else { return };
    let Ok(found) = context.library.formula(&id) else { return };
    let Some(key) = key_of_kind(found.formula.kind) else { return };
    let spec = BathSpec { formula: Some(id), bottle: Some(bottle.name.clone()) };
    evening.baths.entry(key.to_owned()).or_insert(spec);
}

/// A stop, fixer or aid of which one bottle stands is taken from it.
fn usual_baths(evening: &mut Evening, known: &EveningData, context: &Context<'_, '_>) {
    let mut one: std::collections::BTreeMap<&str, Vec<&crate::bath::Bottle>> =
        std::collections::BTreeMap::new();
    for bottle in &known.bottles.bottles {
        let Some(id) = &bottle.formula else { continue };
        let kind = context.library.formula(id).ok().map(|found| found.formula.kind);
        if let Some(key) = kind.and_then(key_of_kind) {
            one.entry(key).or_default().push(bottle);
        }
    }
    for (key, bottles) in one {
        if let ([bottle], false) = (bottles.as_slice(), evening.baths.contains_key(key)) {
            put(evening, bottle, context);
            evening.assumed.push(format!("{key} from bottle {}, the one that stands", bottle.name));
        }
    }
}
