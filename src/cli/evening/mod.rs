//! `soupcon evening`: films, tanks and baths on one clock.

mod loaded;
mod ready;
mod recorded;
mod timed;
mod used;
mod warmth;
mod washed;

use clap::Args;

use super::arguments::{PaperArguments, temperature};
use super::bath::class_rules;
use super::conditions::JournalArguments;
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use super::record::today;
use crate::bath::{Bottles, ClassRules};
use crate::evening::beats::beats;
use crate::evening::clock::Watch;
use crate::evening::file::{Evening, TankSpec, Way, time_of_day};
use crate::evening::needs::{key_of, needs};
use crate::evening::table::EveningTable;
use crate::evening::{EveningPlan, Unplannable, calm, tight};
use crate::journal::Journal;
use crate::mixing::baths_of;
use crate::quantity::rounding::show_short;
use crate::render::evening::{EveningBody, EveningRefusal, EveningView, evening_document, evening_html};
use crate::render::json::document;
use crate::safety::BathSummary;
use used::{Baths, Used};
use warmth::Warmth;
use washed::Changes;

const EXAMPLES: &str = "\
Examples:
  soupcon evening 4films D3                        tanks from the configuration, film and time from the bottle's last record
  soupcon evening again --record                   the last evening of your journal once more, and written down
  soupcon new evening -o evening.toml
  soupcon evening evening.toml --start 19:45 --tight
  soupcon evening evening.toml --format html -o evening.html      two pages: the clock, and what comes before it

Calm: nothing late, times as given, only the last wash waits. Tight: soft times stretch within usual limits, a turning may be 20 s late.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct EveningArguments {
    /// The file of the evening, or - for standard input; or films, such as 4films; or `again`
    #[arg(value_name = "FILE|FILMS|again")]
    what: String,
    /// The bottle of developer for the films
    bottle: Option<String>,
    /// When the first developer goes in: 19:30 [default: the file's]
    #[arg(long, value_name = "TIME")]
    start: Option<String>,
    /// Let soft times stretch, and turnings come a little late, for an earlier end
    #[arg(long)]
    tight: bool,
    /// How warm the bottles stand now [default: the file's]
    #[arg(long, value_name = "TEMPERATURE")]
    bottles_at: Option<String>,
    /// Write the tanks into your journal, when all is done
    #[arg(long)]
    record: bool,
    #[command(flatten)]
    journal: JournalArguments,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

pub(super) fn run(arguments: &EveningArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper = arguments.paper.paper(context)?;
    let mut view = view(arguments, context)?;
    if arguments.record && view.refusals.is_empty() {
        view.recorded_in = Some(recorded::write(&view.journal, context)?);
    }
    let text = context.rendered_with(
        || evening_document(&view),
        || evening_html(&view, paper),
        || document(EveningBody::new(&view)),
    );
    arguments.output.write(&text, context)?;
    Ok(u8::from(!view.refusals.is_empty() || !view.missing.is_empty()))
}

fn table(context: &Context<'_, '_>) -> Result<EveningTable, CliError> {
    EveningTable::parse(context.library.packed("evening.toml"))
        .map_err(|finding| CliError::Findings { findings: vec![finding] })
}

/// What is known besides the evening itself.
struct EveningData {
    table: EveningTable,
    rules: ClassRules,
    journal: Journal,
    bottles: Bottles,
}

impl EveningData {
    fn read(arguments: &EveningArguments, context: &mut Context<'_, '_>) -> Result<Self, CliError> {
        let is_wanted = arguments.bottle.is_some() || arguments.what == "again" || arguments.record;
        // A file is planned without a journal too: nothing is then known of bottles.
        let journal = match arguments.journal.path(context) {
            Ok(path) if path.exists() || is_wanted || arguments.journal.typed().is_some() => {
                arguments.journal.read(context)?
            }
            Err(error) if is_wanted => return Err(error),
            _ => Journal::default(),
        };
        let bottles = Bottles::standing(&journal, today()?);
        Ok(Self { table: table(context)?, rules: class_rules(context)?, journal, bottles })
    }
}

fn read(
    arguments: &EveningArguments,
    known: &EveningData,
    context: &mut Context<'_, '_>,
) -> Result<(Evening, String), CliError> {
    let what = arguments.what.as_str();
    let (mut evening, named) = match &arguments.bottle {
        Some(bottle) => {
            (loaded::of_bottle(what, bottle, known, context)?, format!("soupcon evening {what} {bottle}"))
        }
        None if what == "again" => (loaded::again(known, context)?, "soupcon evening again".to_owned()),
        None => {
            let path = std::path::Path::new(what);
            let text = if what == "-" {
                context.standard_input("the evening")?
            } else if !path.exists() && what.parse::<crate::quantity::Films>().is_ok() {
                let fix = format!("name it: soupcon evening {what} D3");
                return Err(CliError::argument("BOTTLE", "the bottle of developer is not named", fix));
            } else {
                crate::library::read_file(path)?
            };
            let evening = Evening::parse(&text, what, &known.table)
                .map_err(|findings| CliError::Findings { findings })?;
            (
                evening,
                format!(
                    "soupcon evening {}",
                    path.file_name().map_or("-".into(), |own| own.to_string_lossy())
                ),
            )
        }
    };
    if let Some(text) = &arguments.start {
        let start = time_of_day(text).ok_or_else(|| {
            CliError::argument("--start", format!("`{text}` is no time of the day"), "write it as 19:30")
        })?;
        evening.start_of_day_s = Some(start);
    }
    if let Some(text) = &arguments.bottles_at {
        evening.bottles_at = Some(temperature("--bottles-at", text)?);
    }
    Ok((evening, named))
}

fn view(arguments: &EveningArguments, context: &mut Context<'_, '_>) -> Result<EveningView, CliError> {
    let known = EveningData::read(arguments, context)?;
    let (mut evening, named) = read(arguments, &known, context)?;
    context.check_folders()?;
    let baths = Baths::of(&evening, &known, context)?;
    let mut notes = Vec::new();
    for index in 0..evening.tanks.len() {
        timed::work_out(&mut evening, index, &baths, &known, &mut notes, context)?;
    }
    used::settle(&mut evening, &baths, &known, &mut notes);
    let mut refusals = used::refusals(&evening, &baths, &known);
    let warmth = Warmth::of(&evening, &baths.developers, &known.table);
    let changes = Changes::of(&evening, &warmth, &known.table, context, &mut notes)?;
    refusals.extend(changes.refusals(&evening));
    let tanks = evening.tanks(&known.table, |spec| changes.of_tank(&evening, spec));
    let (plan, calm_end_s) = planned(arguments, &evening, &tanks, &known.table, &mut refusals)?;
    let between = between(&evening, &baths, context)?;
    let mut missing = Vec::new();
    let all = needs(&evening, &tanks);
    notes.extend(warmth.note(&evening, &all, &known.table));
    let needs = ready::needs(all, &evening, &baths, (&warmth, &known), &mut missing, &mut notes);
    let ready = ready::facts(&evening, &needs, (&baths, &warmth, &known), context)?;
    notes.extend(used::notes(&evening, &baths, &known));
    if !evening.assumed.is_empty() {
        notes.push(format!("not given: {}", evening.assumed.join(", ")));
    }
    let in_dark = |(index, spec): (usize, &TankSpec)| {
        let (tank, own) = (tanks.get(index)?, plan.as_ref()?.tanks.get(index)?);
        Some((index, beats(tank, own, spec.pieces(), spec.sheet_s(&known.table))))
    };
    let in_trays = evening.tanks.iter().enumerate().filter(|(_, spec)| spec.way == Way::Trays);
    let beats = in_trays.filter_map(in_dark).collect();
    let contents = evening
        .tanks
        .iter()
        .zip(&baths.developers)
        .enumerate()
        .map(|(index, (tank, own))| contents(tank, own.as_ref(), warmth.of_tank(index)))
        .collect();
    let journal = recorded::lines(&evening, &baths, &warmth, &arguments.journal);
    Ok(EveningView {
        named,
        contents,
        degrees: warmth.distinct(),
        temper_minutes: ready.temper_minutes,
        ready: ready.facts,
        missing,
        beats,
        recorded_in: None,
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
        table: known.table,
    })
}

/// A plan as wished, and when a calm one ends, the first developer at 0:00; a refusal is told, a wrong request an error.
fn planned(
    arguments: &EveningArguments,
    evening: &Evening,
    tanks: &[crate::evening::Tank],
    table: &EveningTable,
    refusals: &mut Vec<EveningRefusal>,
) -> Result<(Option<EveningPlan>, Option<i64>), CliError> {
    let lead_s = tanks.first().map_or(0, |tank| {
        let before = tank.baths.iter().take_while(|bath| !bath.is_developer);
        before.map(|bath| bath.seconds + bath.out_s(evening.pour_s)).sum::<i64>()
    });
    let calm_plan = calm::plan(tanks, evening.pour_s);
    let calm_end_s = calm_plan.as_ref().ok().map(|calm_plan| calm_plan.end_s - lead_s);
    let plan = if arguments.tight { tight::plan(tanks, evening.pour_s, table.hands.late) } else { calm_plan };
    match plan {
        Ok(plan) => Ok((Some(plan.moved(-lead_s)), calm_end_s)),
        Err(error @ (Unplannable::TooShort { .. } | Unplannable::TooMany(_) | Unplannable::Nothing)) => {
            Err(CliError::Refused {
                code: error.code(),
                message: error.to_string(),
                fix: error.fix().to_owned(),
            })
        }
        Err(error) => {
            refusals.push(EveningRefusal {
                kind: "evening",
                code: error.code(),
                text: error.to_string(),
                fix: error.fix().to_owned(),
            });
            Ok((None, calm_end_s))
        }
    }
}

/// The temperature of a tank's developer, °C, where it or its formula tells one.
fn degrees_of(tank: &TankSpec, developer: Option<&Used>) -> Option<f64> {
    tank.temperature
        .map(crate::quantity::Temperature::as_c)
        .or_else(|| developer.and_then(|developer| developer.use_of()?.temperature_c))
}

/// What is in a tank, in words.
fn contents(tank: &TankSpec, developer: Option<&Used>, degrees: f64) -> String {
    let times: Vec<String> = tank.times_s.iter().map(|own| Watch(*own).to_string()).collect();
    let mut words: Vec<String> = tank.films.iter().map(crate::quantity::Films::words).collect();
    words.extend(tank.film.clone());
    words.extend(developer.map(|own| {
        let how = own.use_of().filter(|own| own.baths.len() == 1).and_then(|own| own.baths.first());
        how.map_or_else(|| own.formula.id.clone(), |how| format!("{} {how}", own.formula.id))
    }));
    words.push(format!("{} at {} °C", times.join(" + "), show_short(degrees, 2)));
    words.extend(tank.volume.map(|volume| format!("{} mL", show_short(volume.as_ml(), 0))));
    match tank.way {
        Way::Tank => {}
        Way::Rotary => words.push("rotary: no hands between pours".to_owned()),
        Way::Hangers => words.push("hangers: lift, drain to one corner, next time to the other".to_owned()),
        Way::Trays => words.push("trays, in total darkness".to_owned()),
    }
    words.join(" · ")
}

/// Cautions between the baths of each tank, each once.
fn between(
    evening: &Evening,
    baths: &Baths,
    context: &Context<'_, '_>,
) -> Result<Vec<(String, String)>, CliError> {
    let data = context.safety()?;
    let of = |used: &Used| baths_of(&used.formula, used.use_name.as_deref());
    let mut told: Vec<(String, String)> = Vec::new();
    for (spec, developer) in evening.tanks.iter().zip(&baths.developers) {
        let Some(developer) = developer else { continue };
        let mut sequence = of(developer);
        let usual = ["stop", "fix", "rinse", "aid", "wash", "wetting"].map(str::to_owned);
        let steps: Vec<String> = match &spec.steps {
            Some(steps) => steps.iter().map(|(name, _)| name.clone()).collect(),
            None => usual.into_iter().filter(|step| evening.time_in_s(spec, step) > 0).collect(),
        };
        for step in steps {
            if step.starts_with("develop") || step == "mix" || step == "presoak" {
                continue;
            }
            match baths.named(key_of(&step)) {
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
