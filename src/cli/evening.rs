//! `soupcon evening`: films, tanks and baths on one clock.

use std::path::PathBuf;

use clap::Args;

use super::context::Context;
use super::error::CliError;
use crate::evening::file::{BathSpec, Evening, TankSpec, time_of_day};
use crate::evening::needs::{Need, needs};
use crate::evening::table::Table;
use crate::evening::washing::{FillAndDump, HALF_TIME_MIN, running_fraction, too_short};
use crate::evening::{Unplannable, calm, tight};
use crate::formula::Formula;
use crate::mixing::baths_of;
use crate::quantity::rounding::show_short;
use crate::render::evening::{EveningBody, EveningRefusal, EveningView, NeedView, evening_document};
use crate::render::json::document;
use crate::safety::BathSummary;

const EXAMPLES: &str = "\
Examples:
  soupcon new evening -o evening.toml
  soupcon evening evening.toml
  soupcon evening evening.toml --start 19:45 --tight

Calm: nothing late, times as given, only the last wash waits. Tight: soft times stretch within usual limits, a turning may be 20 s late.";

/// Arguments of `evening`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct EveningArguments {
    /// The file of the evening, or - for standard input
    file: PathBuf,
    /// When the first developer goes in: 19:30 [default: the file's]
    #[arg(long, value_name = "TIME")]
    start: Option<String>,
    /// Let soft times stretch, and turnings come a little late, for an earlier end
    #[arg(long)]
    tight: bool,
}

pub(super) fn run(arguments: &EveningArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let view = view(arguments, context)?;
    context.answer(|| evening_document(&view), || document(EveningBody::new(&view)))?;
    Ok(u8::from(!view.refusals.is_empty()))
}

fn table(context: &Context<'_, '_>) -> Result<Table, CliError> {
    let text = context.library.table("evening.toml").unwrap_or_default();
    Table::parse(text).map_err(|finding| CliError::Findings { findings: vec![finding] })
}

fn read(
    arguments: &EveningArguments,
    table: &Table,
    context: &mut Context<'_, '_>,
) -> Result<Evening, CliError> {
    let name = arguments.file.to_string_lossy().into_owned();
    let text = if name == "-" {
        context.standard_input("the evening")?
    } else {
        crate::library::read_file(&arguments.file)?
    };
    let mut evening =
        Evening::parse(&text, &name, table).map_err(|findings| CliError::Findings { findings })?;
    if let Some(text) = &arguments.start {
        let start = time_of_day(text).ok_or_else(|| {
            CliError::argument("--start", format!("`{text}` is no time of the day"), "write it as 19:30")
        })?;
        evening.start_of_day_s = Some(start);
    }
    Ok(evening)
}

/// A formula as it is used.
struct Used {
    formula: Formula,
    use_name: Option<String>,
}

fn used(
    name: Option<&String>,
    use_name: Option<&String>,
    context: &mut Context<'_, '_>,
) -> Result<Option<Used>, CliError> {
    let Some(name) = name else { return Ok(None) };
    let formula = context.formula(name)?.formula;
    if let Some(wanted) = use_name
        && !formula.uses.iter().any(|own| own.name.eq_ignore_ascii_case(wanted))
    {
        let known: Vec<&str> = formula.uses.iter().map(|own| own.name.as_str()).collect();
        let fix = if known.is_empty() {
            "leave `use` out: the formula names none".to_owned()
        } else {
            format!("write one of: {}", known.join(", "))
        };
        let message = format!("{} has no use `{wanted}`", formula.id);
        return Err(CliError::Refused { code: "unknown-use", message, fix });
    }
    Ok(Some(Used { formula, use_name: use_name.cloned() }))
}

impl Used {
    fn use_of(&self) -> Option<&crate::formula::Use> {
        match &self.use_name {
            Some(name) => self.formula.uses.iter().find(|own| own.name.eq_ignore_ascii_case(name)),
            None => self.formula.uses.first(),
        }
    }

    /// Stock and water of so much of the bath.
    fn mixture(&self, ml: f64) -> Option<String> {
        let [bath] = self.use_of()?.baths.as_slice() else { return None };
        if bath.water == 0.0 && bath.shares.len() == 1 {
            return Some("undiluted".to_owned());
        }
        let share = |part: f64| show_short(ml * part / bath.total(), 1);
        let mut words: Vec<String> =
            bath.shares.iter().map(|(name, part)| format!("{} {name}", share(*part))).collect();
        if bath.water > 0.0 {
            words.push(format!("{} water", share(bath.water)));
        }
        Some(words.join(" + "))
    }

    /// The dilution as `record` wants it; none where it was undiluted or there are several baths.
    fn dilution(&self) -> Option<String> {
        let [bath] = self.use_of()?.baths.as_slice() else { return None };
        if bath.water == 0.0 && bath.shares.len() == 1 {
            return None;
        }
        let mut parts: Vec<String> = bath.shares.iter().map(|(_, own)| show_short(*own, 3)).collect();
        parts.push(show_short(bath.water, 3));
        if bath.water == 0.0 {
            parts.pop();
        }
        Some(parts.join("+"))
    }
}

fn view(arguments: &EveningArguments, context: &mut Context<'_, '_>) -> Result<EveningView, CliError> {
    let table = table(context)?;
    let evening = read(arguments, &table, context)?;
    context.check_folders()?;
    let mut developers = Vec::new();
    for tank in &evening.tanks {
        developers.push(used(tank.developer.as_ref(), tank.use_name.as_ref(), context)?);
    }
    let mut baths = Vec::new();
    for key in ["stop", "fixer", "aid", "wetting"] {
        let named = evening.baths.get(key).and_then(|own: &BathSpec| own.formula.clone());
        baths.push((key, used(named.as_ref(), None, context)?));
    }
    let degrees = developers
        .iter()
        .flatten()
        .find_map(|own| own.use_of().and_then(|own| own.temperature_c))
        .unwrap_or(table.temperature.developer);
    let mut notes = Vec::new();
    let changes = changes(&evening, degrees, &table, context, &mut notes)?;
    let mut refusals: Vec<EveningRefusal> = wash_refusal(&evening, changes.as_deref()).into_iter().collect();
    let tanks = evening.tanks(&table, changes.as_deref());
    let calm_plan = calm::plan(&tanks, evening.pour_s);
    let calm_end_s = calm_plan.as_ref().ok().map(|own| own.end_s);
    let plan =
        if arguments.tight { tight::plan(&tanks, evening.pour_s, table.hands.late) } else { calm_plan };
    let plan = match plan {
        Ok(plan) => Some(plan),
        Err(error @ (Unplannable::TooShort { .. } | Unplannable::TooMany(_) | Unplannable::Nothing)) => {
            return Err(CliError::Refused {
                code: error.code(),
                message: error.to_string(),
                fix: error.fix().to_owned(),
            });
        }
        Err(error) => {
            refusals.push(EveningRefusal {
                kind: "evening",
                code: error.code(),
                text: error.to_string(),
                fix: error.fix().to_owned(),
            });
            None
        }
    };
    let between = between(&evening, &developers, &baths, context)?;
    let needs = needs(&evening, changes.as_ref().map(Vec::len))
        .into_iter()
        .map(|need| need_view(need, &developers, &baths, degrees, &table))
        .collect();
    notes.extend(fixing(&evening, &baths));
    if !evening.assumed.is_empty() {
        notes.push(format!("not in the file: {}", evening.assumed.join(", ")));
    }
    let journal = evening
        .tanks
        .iter()
        .zip(&developers)
        .map(|(tank, developer)| record_line(tank, developer.as_ref(), degrees))
        .collect();
    Ok(EveningView {
        evening,
        tanks,
        plan,
        calm_end_s,
        needs,
        refusals,
        between,
        notes,
        journal,
        is_tight: arguments.tight,
        table,
    })
}

/// The fills of a wash in the tank, s, where the tap is too far from the developer; none for a hose.
fn changes(
    evening: &Evening,
    degrees: f64,
    table: &Table,
    context: &Context<'_, '_>,
    notes: &mut Vec<String>,
) -> Result<Option<Vec<i64>>, CliError> {
    let wash = evening.time_s("wash");
    if wash == 0 {
        notes.push("no wash in this plan: the films are washed before they dry".to_owned());
        return Ok(None);
    }
    let Some(cold) = context.settings.cold_tap(None)?.map(|own| own.value.as_c()) else {
        notes.push("wash by hose, down the core where there is one; the tap's temperature is not known (cold_tap in the configuration): within 3 °C of the developer".to_owned());
        return Ok(None);
    };
    if (degrees - cold).abs() <= table.temperature.wash_within {
        notes.push(format!(
            "wash by hose from the tap at {} °C, down the core where there is one",
            show_short(cold, 1)
        ));
        return Ok(None);
    }
    // After an aid three changes of 1, 2, 2 parts, from eight minutes on of 2, 3, 3; without one six of 1 to 5.
    let parts: &[i64] = match (evening.time_s("aid") > 0, wash) {
        (true, ..480) => &[1, 2, 2],
        (true, _) => &[2, 3, 3],
        (false, _) => &[1, 2, 3, 4, 5, 5],
    };
    let sum: i64 = parts.iter().sum();
    let mut fills: Vec<i64> = parts.iter().map(|part| wash * part / sum).collect();
    let rest = wash - fills.iter().sum::<i64>();
    if let Some(last) = fills.last_mut() {
        *last += rest;
    }
    let words: Vec<String> = fills.iter().map(|own| crate::evening::clock::Watch(*own).to_string()).collect();
    notes.push(format!(
        "the tap gives {} °C, more than {} °C off: wash in the tank with tempered water, fill and dump, {}",
        show_short(cold, 1),
        show_short(table.temperature.wash_within, 1),
        words.join(", ")
    ));
    Ok(Some(fills))
}

/// A wash that is too short by the fast part alone.
fn wash_refusal(evening: &Evening, changes: Option<&[i64]>) -> Option<EveningRefusal> {
    let wash = evening.time_s("wash");
    if wash == 0 || evening.time_s("fix") == 0 {
        return None;
    }
    let has_aid = evening.time_s("aid") > 0;
    #[allow(clippy::cast_precision_loss, reason = "times of an evening")]
    let minutes = |seconds: i64| seconds as f64 / 60.0;
    let fraction = match changes {
        None => running_fraction(minutes(wash), HALF_TIME_MIN),
        Some(changes) => {
            let list: Vec<f64> = changes.iter().map(|own| minutes(*own)).collect();
            let least =
                evening.tanks.iter().filter_map(|own| Some((own.volume?.as_ml(), f64::from(own.pieces()))));
            let of = |(ml, films): (f64, f64)| FillAndDump {
                fill_ml: ml,
                held_ml: 6.0 + 4.0 * films,
                layer_ml: 1.29 * films,
                half_time_min: HALF_TIME_MIN,
            };
            let one = || of((290.0, 1.0)).layer_fraction(&list);
            least.map(|own| of(own).layer_fraction(&list)).reduce(f64::max).unwrap_or_else(one)
        }
    };
    let text = too_short(fraction, has_aid)?;
    let fix = if has_aid {
        "wash 5 min or longer"
    } else {
        "wash 8 min or longer, better 20, or use a washing aid"
    };
    Some(EveningRefusal {
        kind: "wash",
        code: "wash-too-short",
        text: format!("the wash of {} is {text}", crate::evening::clock::Watch(wash)),
        fix: fix.to_owned(),
    })
}

/// Where the fixer's own text asks for longer than the plan fixes.
fn fixing(evening: &Evening, baths: &[(&str, Option<Used>)]) -> Option<String> {
    let fixer = baths.iter().find(|own| own.0 == "fixer")?.1.as_ref()?;
    let (least, _) = fixer.use_of()?.minutes?;
    let fix = evening.time_s("fix");
    #[allow(clippy::cast_precision_loss, reason = "times of an evening")]
    let is_short = fix > 0 && (fix as f64) < least * 60.0;
    is_short.then(|| {
        format!(
            "{} asks for {} min by its own text, the plan fixes {}: only the clearing test allows that",
            fixer.formula.id,
            show_short(least, 1),
            crate::evening::clock::Watch(fix)
        )
    })
}

/// Cautions between the baths of each tank, each once.
fn between(
    evening: &Evening,
    developers: &[Option<Used>],
    baths: &[(&str, Option<Used>)],
    context: &Context<'_, '_>,
) -> Result<Vec<(String, String)>, CliError> {
    let data = context.safety()?;
    let of = |used: &Used| baths_of(&used.formula, used.use_name.as_deref());
    let named = |key: &str| baths.iter().find(|own| own.0 == key).and_then(|own| own.1.as_ref());
    let mut told: Vec<(String, String)> = Vec::new();
    for developer in developers.iter().flatten() {
        let mut sequence = of(developer);
        for step in ["stop", "fix", "rinse", "aid", "wash", "wetting"] {
            if evening.time_s(step) == 0 {
                continue;
            }
            match named(if step == "fix" { "fixer" } else { step }) {
                Some(used) => sequence.extend(of(used)),
                // Water, or a bath that nobody named: nothing is known to meet.
                None => sequence.push(BathSummary::wash()),
            }
        }
        let list: Vec<&BathSummary> = sequence.iter().collect();
        for found in data.between(&list) {
            let line = (found.caution.severity.word().to_owned(), found.caution.text.clone());
            if !told.contains(&line) {
                told.push(line);
            }
        }
    }
    Ok(told)
}

fn need_view(
    need: Need,
    developers: &[Option<Used>],
    baths: &[(&str, Option<Used>)],
    degrees: f64,
    table: &Table,
) -> NeedView {
    let within = |off: f64| format!("{}-{}", show_short(degrees - off, 1), show_short(degrees + off, 1));
    let celsius = match need.bath {
        "developer" => format!("{degrees:.1}"),
        "stop" | "presoak" | "rinse" => within(table.temperature.stop_within),
        "fixer" => within(table.temperature.fixer_within),
        _ => within(table.temperature.wash_within),
    };
    let key = match need.bath {
        "washing aid" => "aid",
        other => other,
    };
    let used = if need.bath == "developer" {
        developers
            .iter()
            .flatten()
            .find(|own| Some(&own.formula.id) == need.formula.as_ref() && own.use_name == need.use_name)
            .or_else(|| {
                developers
                    .iter()
                    .flatten()
                    .find(|own| own.use_name == need.use_name && need.formula.is_some())
            })
    } else {
        baths.iter().find(|own| own.0 == key).and_then(|own| own.1.as_ref())
    };
    let made = used.map(|own| {
        let mixture = need.fresh.1.and_then(|ml| own.mixture(ml)).filter(|_| need.bath == "developer");
        mixture.map_or_else(|| own.formula.id.clone(), |mixture| format!("{}, {mixture}", own.formula.id))
    });
    let bottle = need.bottle.as_ref().map(|own| format!("{own}: look whether it is enough"));
    let from = match (bottle, made) {
        (Some(bottle), Some(made)) => format!("{bottle}; {made}"),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => match need.bath {
            "rinse" | "presoak" | "wash" => "water".to_owned(),
            "wetting" => "any wetting agent, in distilled or boiled water".to_owned(),
            other => format!("any {other}; its life is not known"),
        },
    };
    NeedView { need, from, celsius }
}

/// A word as the shell takes it.
fn quoted(word: &str) -> String {
    let is_plain = !word.is_empty()
        && word
            .chars()
            .all(|own| own.is_ascii_alphanumeric() || matches!(own, '-' | '_' | '.' | ',' | '+' | ':'));
    if is_plain { word.to_owned() } else { format!("'{}'", word.replace('\'', "'\\''")) }
}

/// The line that records a tank.
fn record_line(tank: &TankSpec, developer: Option<&Used>, degrees: f64) -> String {
    let mut line = format!(
        "soupcon record add developed {}:{:02} --temp {}C",
        tank.time_s / 60,
        tank.time_s % 60,
        show_short(degrees, 1)
    );
    let mut add = |option: &str, value: Option<String>| {
        if let Some(value) = value {
            line += &format!(" --{option} {}", quoted(&value));
        }
    };
    add("formula", developer.map(|own| own.formula.id.clone()));
    add("dilution", developer.and_then(Used::dilution));
    add("bottle", tank.bottle.clone());
    add("film", tank.film.clone());
    add("films", tank.films.as_ref().map(ToString::to_string));
    add("rolls", (!tank.rolls.is_empty()).then(|| tank.rolls.join(",")));
    add("tank", tank.volume.map(|own| format!("{}ml", show_short(own.as_ml(), 1))));
    line
}
