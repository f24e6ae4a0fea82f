//! An evening in words and as JSON: what to have ready, the clock, what to write down after.

use serde::Serialize;

use super::{Align, Column, Document};
use crate::evening::clock::{Act, ActKind, Hands, Plan, Tank, Watch};
use crate::evening::file::{DAY_S, Evening};
use crate::evening::needs::Need;
use crate::evening::table::Table;
use crate::quantity::rounding::show_short;

/// Why an evening is not planned.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct EveningRefusal {
    /// What kind of refusal.
    pub kind: &'static str,
    /// Stable short name.
    pub code: &'static str,
    /// What is wrong.
    pub text: String,
    /// What to do.
    pub fix: String,
}

/// A bath with where it comes from, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct NeedView {
    /// The bath.
    pub need: Need,
    /// From where, and of what.
    pub from: String,
    /// Its temperature.
    pub celsius: String,
}

/// All that is told of an evening.
#[derive(Debug, Clone, PartialEq)]
pub struct EveningView {
    /// The evening as read.
    pub evening: Evening,
    /// Its tanks.
    pub tanks: Vec<Tank>,
    /// The plan; none where it is refused.
    pub plan: Option<Plan>,
    /// What a calm plan would take, s, beside a tight one.
    pub calm_end_s: Option<i64>,
    /// Baths in the order of use.
    pub needs: Vec<NeedView>,
    /// Refusals.
    pub refusals: Vec<EveningRefusal>,
    /// What must be known between baths.
    pub between: Vec<(String, String)>,
    /// Further lines: the wash, what was assumed.
    pub notes: Vec<String>,
    /// Lines to record it.
    pub journal: Vec<String>,
    /// Whether soft times were stretched.
    pub is_tight: bool,
    /// Figures of the trade.
    pub table: Table,
}

/// What `evening --json` prints.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct EveningBody {
    /// `calm` or `tight`.
    plan: &'static str,
    /// First developer in, seconds of the day.
    start_of_day_s: Option<i64>,
    tanks: Vec<TankBody>,
    /// The last film hangs, seconds from the first developer in.
    end_s: Option<i64>,
    /// Time of the hands in all, s.
    hands_s: Option<i64>,
    needs: Vec<NeedBody>,
    late: Vec<LateBody>,
    refusals: Vec<EveningRefusal>,
    cautions: Vec<CautionBody>,
    notes: Vec<String>,
    record: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TankBody {
    name: String,
    steps: Vec<StepBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StepBody {
    name: String,
    start_s: i64,
    end_s: i64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct NeedBody {
    bath: &'static str,
    volume_ml: Option<f64>,
    /// How often it is poured afresh.
    times: usize,
    each_ml: Option<f64>,
    formula: Option<String>,
    bottle: Option<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct LateBody {
    tank: String,
    due_s: i64,
    late_s: i64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct CautionBody {
    severity: String,
    text: String,
}

impl EveningBody {
    /// The fields.
    pub fn new(view: &EveningView) -> Self {
        let steps = |index: usize, tank: &Tank| {
            let all = view.plan.as_ref().map_or_else(Vec::new, |plan| plan.steps(index, tank));
            all.into_iter()
                .map(|own| StepBody { name: own.name, start_s: own.start_s, end_s: own.end_s })
                .collect()
        };
        let name = |index: usize| view.tanks.get(index).map_or_else(String::new, |tank| tank.name.clone());
        Self {
            plan: if view.is_tight { "tight" } else { "calm" },
            start_of_day_s: view.evening.first_of_day_s(),
            tanks: view
                .tanks
                .iter()
                .enumerate()
                .map(|(index, tank)| TankBody { name: tank.name.clone(), steps: steps(index, tank) })
                .collect(),
            end_s: view.plan.as_ref().map(|plan| plan.end_s),
            hands_s: view.plan.as_ref().map(Plan::hands_s),
            needs: view
                .needs
                .iter()
                .map(|NeedView { need, .. }| NeedBody {
                    bath: need.bath,
                    volume_ml: need.volume_ml,
                    times: need.fresh.0,
                    each_ml: need.fresh.1,
                    formula: need.formula.clone(),
                    bottle: need.bottle.clone(),
                })
                .collect(),
            late: view
                .plan
                .iter()
                .flat_map(Plan::late)
                .map(|(tank, due_s, late_s)| LateBody { tank: name(tank), due_s, late_s })
                .collect(),
            refusals: view.refusals.clone(),
            cautions: view
                .between
                .iter()
                .map(|(severity, text)| CautionBody { severity: severity.clone(), text: text.clone() })
                .collect(),
            notes: view.notes.clone(),
            record: view.journal.clone(),
        }
    }
}

/// Time of the day with seconds.
fn of_day(first_s: i64, after_s: i64) -> String {
    let own = (first_s + after_s).rem_euclid(DAY_S);
    format!("{}:{:02}:{:02}", own / 3600, own / 60 % 60, own % 60)
}

/// The same without seconds, so many minutes earlier or later.
fn of_day_minutes(first_s: i64, after_s: i64) -> String {
    let own = (first_s + after_s).rem_euclid(DAY_S);
    format!("{}:{:02}", own / 3600, own / 60 % 60)
}

/// An act in words; none for a turning that a row above tells.
fn act_words(act: &Act, tank: &Tank, plan: &Plan) -> Option<String> {
    let own = plan.tanks.get(act.tank)?;
    let into = |place: usize| -> Option<String> {
        let bath = tank.baths.get(place)?;
        let name = match bath.name.as_str() {
            "develop" => "DEVELOPER".to_owned(),
            "fix" => "FIXER".to_owned(),
            "wash" if bath.is_hose => "WASH on".to_owned(),
            other => other.to_uppercase(),
        };
        let start = own.starts_s.get(place)?;
        let at = if place == 0 { "in".to_owned() } else { Watch(*start).to_string() };
        let again = turns(act.tank, place, bath.hands, *start, plan);
        Some(format!("{name} {at}{again}"))
    };
    match act.kind {
        ActKind::In => into(0),
        ActKind::Turn { .. } => None,
        ActKind::Change { out } => Some(format!("out, {}", into(out + 1)?)),
        ActKind::Last if tank.hang_s == 0 => Some("out".to_owned()),
        ActKind::Last => Some(format!("out, HANG to {}", Watch(own.end_s))),
    }
}

/// The later turnings of a bath, as they are planned: full minutes bare, else with their seconds.
fn turns(index: usize, place: usize, hands: Hands, start_s: i64, plan: &Plan) -> String {
    let Hands::Turned { every_s: Some(every_s), .. } = hands else { return String::new() };
    let all: Vec<String> = plan
        .acts
        .iter()
        .filter(|act| act.tank == index)
        .filter(|act| {
            matches!(act.kind, ActKind::Turn { bath, due_s }
                if bath == place && due_s > start_s && (due_s - start_s) % every_s == 0)
        })
        .map(|act| {
            if act.start_s % 60 == 0 {
                (act.start_s / 60).to_string()
            } else {
                Watch(act.start_s).to_string()
            }
        })
        .collect();
    if all.is_empty() { String::new() } else { format!("; {}", all.join(" ")) }
}

fn millilitres(ml: f64) -> String {
    show_short(ml, 0)
}

/// An evening as a document.
pub fn evening_document(view: &EveningView) -> Document {
    let mut document = Document::new();
    let first = view.evening.first_of_day_s();
    document.title(
        first.map_or_else(|| "Evening".to_owned(), |own| format!("Evening, {}", of_day_minutes(own, 0))),
    );
    for refusal in &view.refusals {
        document.caution("REFUSED", vec![refusal.text.clone(), format!("Instead: {}.", refusal.fix)]);
    }
    let films: u32 = view.evening.tanks.iter().map(crate::evening::file::TankSpec::pieces).sum();
    let names: Vec<&str> = view.tanks.iter().map(|tank| tank.name.as_str()).collect();
    let plan = view.plan.as_ref().filter(|_| view.refusals.is_empty());
    let mut head = format!(
        "{films} {}, {} {}, one person.",
        if films == 1 { "film" } else { "films" },
        if names.len() == 1 { "tank" } else { "tanks" },
        names.join(", ")
    );
    if let Some(plan) = plan {
        let end = Watch(plan.end_s);
        head += &match first {
            Some(first) => format!(" All hung {} ({end} on the watch).", of_day(first, plan.end_s)),
            None => format!(" All hung at {end} on the watch."),
        };
    }
    document.paragraph(head);
    first_part(view, &mut document);
    for (word, text) in &view.between {
        document.caution(&word.to_uppercase(), vec![text.clone()]);
    }
    if let Some(plan) = plan {
        clock_part(view, plan, first, &mut document);
    }
    document.heading("Never");
    document.list(vec![
        "fixer before developer, not a splash".to_owned(),
        "washing aid straight after fixer: rinse first".to_owned(),
        "wetting agent in a tank before development".to_owned(),
    ]);
    if plan.is_some() {
        document.heading("After, once for each tank");
        document.list(view.journal.clone());
    }
    document
}

/// Volumes, bottles, temperatures: before the first developer.
fn first_part(view: &EveningView, document: &mut Document) {
    document.heading("First, in room light");
    let rows = view.needs.iter().map(|NeedView { need, from, celsius }| {
        let amount = match need.fresh {
            (1, Some(ml)) => millilitres(ml),
            (times, Some(ml)) => format!("{times} × {}", millilitres(ml)),
            (_, None) => need.volume_ml.map_or_else(|| "?".to_owned(), millilitres),
        };
        vec![amount, need.bath.to_owned(), from.clone(), celsius.clone()]
    });
    document.table(
        vec![Column::right("mL"), Column::left("bath"), Column::left("from"), Column::right("°C")],
        rows.collect(),
    );
    let table = &view.table;
    let films: u32 = view.evening.tanks.iter().map(crate::evening::file::TankSpec::pieces).sum();
    let mut points = Vec::new();
    if let Some(first) = view.evening.first_of_day_s() {
        let load = i64::from(films) * table.hands.load_a_film;
        points.push(format!(
            "mix by {}, temper bottles from {}, load {films} in the dark from {} (up to {} min); usual practice",
            of_day_minutes(first, -table.lead.mix * 60),
            of_day_minutes(first, -table.lead.temper * 60 - load.max(1200) + 1200),
            of_day_minutes(first, -load),
            load / 60
        ));
    }
    points.push("a water bath that ends at the target, never warmer while films are loaded: `soupcon cool`; shake, then read; the last reading after loading, before the pour".to_owned());
    if view.evening.time_s("fix") > 0 {
        let fix = view.evening.time_s("fix");
        let (two, three) = (table.clearing.times, table.clearing.times_iodide_rich);
        points.push(format!(
            "fixer clears a leader of tonight's film in ____ × {two} = ____ (× {three} for iodide-rich film); {} or less: go, and never under {}. The plan holds up to {}; longer: that tank fixes on, and only its own later rows move",
            Watch(fix),
            Watch(table.clearing.least),
            Watch(fix / two)
        ));
    }
    points.extend(view.notes.iter().cloned());
    document.list(points);
}

fn clock_part(view: &EveningView, plan: &Plan, first: Option<i64>, document: &mut Document) {
    document.heading(if view.is_tight { "Clock, tight" } else { "Clock" });
    let hands = &view.table.hands;
    document.paragraph(format!(
        "Watch to 0:00 when the first developer begins to go in. A time runs from the start of pouring in to the start of pouring out; pouring out {} s. Invert {} s at first, rap the tank, then {} s at each time given (a bare number is a full minute); stop and rinse: keep moving.",
        view.evening.pour_s, hands.first_turning, hands.each_turning
    ));
    let is_wide = view.tanks.len() <= 2;
    let mut columns = vec![Column { title: "watch".to_owned(), align: Align::Right }];
    columns.extend(first.map(|_| Column::left("clock")));
    if is_wide {
        columns.extend(view.tanks.iter().map(|tank| Column::left(&tank.name)));
    } else {
        columns.extend([Column::left("tank"), Column::left("act")]);
    }
    let mut rows = Vec::new();
    for act in &plan.acts {
        let Some(tank) = view.tanks.get(act.tank) else { continue };
        let Some(words) = act_words(act, tank, plan) else { continue };
        let mut row = vec![Watch(act.start_s).to_string()];
        row.extend(first.map(|first| of_day(first, act.start_s)));
        if is_wide {
            row.extend(
                (0..view.tanks.len()).map(|own| if own == act.tank { words.clone() } else { String::new() }),
            );
        } else {
            row.extend([tank.name.clone(), words]);
        }
        rows.push(row);
    }
    document.table(columns, rows);
    let mut points = Vec::new();
    let late = plan.late();
    if let Some(most) = late.iter().map(|own| own.2).max() {
        let list: Vec<String> = late
            .iter()
            .map(|(tank, due, by)| {
                let name = view.tanks.get(*tank).map_or("", |own| own.name.as_str());
                format!("{name} {} by {by} s", Watch(*due))
            })
            .collect();
        points.push(format!("late, {most} s at most: {}", list.join(", ")));
    }
    if let Some(calm) = view.calm_end_s.filter(|calm| *calm > plan.end_s) {
        points.push(format!("calm it would end at {}", Watch(calm)));
    }
    points.push(format!("hands {} in all; the hose runs by itself", Watch(plan.hands_s())));
    points.push(
        "late: developer out comes first; a tank waits in its stop or wash, never in the developer"
            .to_owned(),
    );
    if let Some(first) = first {
        let dry = plan.end_s + view.table.lead.dry * 60;
        points.push(format!("dry at the earliest {}", of_day_minutes(first, dry)));
    }
    document.list(points);
}
