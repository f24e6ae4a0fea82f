//! The rows of the clock: each a moment at which hands begin, on a watch that goes back to 0:00 at each developer.

use super::EveningView;
use crate::evening::clock::{ActKind, EveningPlan, Hands, Tank, TankAct, Watch};
use crate::evening::file::{DAY_S, Way};

/// Rows on one run of the watch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Group {
    /// The tanks that are in the developer at once.
    pub tanks: Vec<usize>,
    /// When the watch is at 0:00, seconds from the start of the evening.
    pub zero_s: i64,
    pub rows: Vec<Row>,
}

impl Group {
    /// Tanks that were begun on another run of the watch and have rows on this one.
    pub(super) fn others(&self) -> Vec<usize> {
        let mut all: Vec<usize> = self.rows.iter().map(|row| row.tank).collect();
        all.sort_unstable();
        all.dedup();
        all.retain(|own| !self.tanks.contains(own));
        all
    }
}

/// A moment at which hands begin.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    /// Place of the tank.
    pub tank: usize,
    /// Seconds from the start of the evening.
    pub at_s: i64,
    /// What to do: `out, STOP`.
    pub act: String,
    /// How: `in 8:15, keep moving`.
    pub detail: String,
    /// Later turnings in this bath, on this watch: minutes bare, else `m:ss`.
    pub turns: Vec<String>,
    /// The same, seconds from the start of the evening.
    pub turns_s: Vec<i64>,
}

/// Seconds as the watch shows them, with a sign before 0:00.
pub(super) fn watch(seconds: i64) -> String {
    if seconds < 0 { format!("−{}", Watch(-seconds)) } else { Watch(seconds).to_string() }
}

/// Time of the day with seconds.
pub(super) fn of_day(first_s: i64, after_s: i64) -> String {
    let own = (first_s + after_s).rem_euclid(DAY_S);
    format!("{}:{:02}:{:02}", own / 3600, own / 60 % 60, own % 60)
}

/// The same without seconds.
pub(super) fn of_day_minutes(first_s: i64, after_s: i64) -> String {
    let own = (first_s + after_s).rem_euclid(DAY_S);
    format!("{}:{:02}", own / 3600, own / 60 % 60)
}

/// From the first developer in to the last one out, s.
fn developing(tank: &Tank, plan: &EveningPlan, index: usize) -> Option<(i64, i64)> {
    let tank_plan = plan.tanks.get(index)?;
    let spans = || {
        tank.baths
            .iter()
            .zip(tank_plan.starts_s.iter().zip(&tank_plan.ends_s))
            .filter(|(bath, _)| bath.is_developer)
            .map(|(_, (start, end))| (*start, *end))
    };
    Some((spans().map(|span| span.0).min()?, spans().map(|span| span.1).max()?))
}

/// How sheets in trays are moved: the beats say it.
const BY_HEART: &str = "by heart";

/// The rows of a plan, run of the watch by run.
pub(super) fn groups(view: &EveningView, plan: &EveningPlan) -> Vec<Group> {
    let tanks = &view.tanks;
    let mut spans: Vec<(usize, i64, i64)> = tanks
        .iter()
        .enumerate()
        .filter_map(|(index, tank)| developing(tank, plan, index).map(|(start, end)| (index, start, end)))
        .collect();
    spans.sort_by_key(|spans| (spans.1, spans.0));
    let mut groups: Vec<Group> = Vec::new();
    let mut busy_until = i64::MIN;
    for (index, start, end) in spans {
        match groups.last_mut().filter(|_| start < busy_until) {
            Some(group) => group.tanks.push(index),
            None => groups.push(Group { tanks: vec![index], zero_s: start, rows: Vec::new() }),
        }
        busy_until = busy_until.max(end);
    }
    let zeros: Vec<i64> = groups.iter().map(|group| group.zero_s).collect();
    // What comes before the first developer is told on its watch, below 0:00.
    let place_of = |at: i64| zeros.iter().rposition(|zero| *zero <= at).unwrap_or(0);
    for act in plan.acts.iter().filter(|act| !matches!(act.kind, ActKind::Turn { .. })) {
        let place = place_of(act.start_s);
        let (Some(tank), Some(zero)) = (tanks.get(act.tank), zeros.get(place)) else { continue };
        let way = view.evening.tanks.get(act.tank).map(|own| own.way);
        let verb = match way {
            Some(Way::Hangers) => "lift",
            Some(Way::Trays) => BY_HEART,
            _ => "invert",
        };
        let rows = rows_of(act, tank, plan, (place, *zero, verb), &place_of, &zeros);
        for (place, row) in rows {
            if let Some(group) = groups.get_mut(place) {
                group.rows.push(row);
            }
        }
    }
    for group in &mut groups {
        group.rows.sort_by_key(|row| (row.at_s, row.tank));
    }
    groups
}

/// The row of an act, and one more for each later run of the watch in which its bath is turned.
fn rows_of(
    act: &TankAct,
    tank: &Tank,
    plan: &EveningPlan,
    (place, zero, verb): (usize, i64, &str),
    place_of: &impl Fn(i64) -> usize,
    zeros: &[i64],
) -> Vec<(usize, Row)> {
    let Some(tank_plan) = plan.tanks.get(act.tank) else { return Vec::new() };
    let row = |words: String, detail: String| Row {
        tank: act.tank,
        at_s: act.start_s,
        act: words,
        detail,
        turns: Vec::new(),
        turns_s: Vec::new(),
    };
    let into = match act.kind {
        ActKind::In => 0,
        ActKind::Change { out } => out + 1,
        ActKind::Turn { .. } => return Vec::new(),
        ActKind::Last if tank.hang_s == 0 => return vec![(place, row("out".to_owned(), String::new()))],
        ActKind::Last => {
            let films = tank.pieces;
            let from = Watch(tank_plan.end_s - tank.hang_s - zero);
            let words = format!("out, HANG {films}");
            return vec![(place, row(words, format!("{from} to {}", Watch(tank_plan.end_s - zero))))];
        }
    };
    let (Some(bath), Some(start)) = (tank.baths.get(into), tank_plan.starts_s.get(into)) else {
        return Vec::new();
    };
    let is_out =
        matches!(act.kind, ActKind::Change { out } if tank.baths.get(out).is_some_and(|own| own.is_in_tank));
    let at = watch(*start - zero);
    let name = step_words(bath);
    let words = match (bath.is_in_tank, is_out) {
        (false, _) => name,
        (true, true) if bath.is_hose => format!("out, {name} on"),
        (true, true) => format!("out, {name}"),
        (true, false) => format!("{name} in"),
    };
    let mut all = vec![(place, row(words, String::new()))];
    let (mut first_late, mut each_s) = (None, 10);
    for turn in plan.acts.iter().filter(|own| own.tank == act.tank) {
        let ActKind::Turn { bath: of, due_s } = turn.kind else { continue };
        if of != into {
            continue;
        }
        let Hands::Turned { every_s, .. } = bath.hands else { continue };
        let is_later = every_s.is_some_and(|every| due_s > *start && (due_s - start) % every.max(1) == 0);
        if !is_later {
            if turn.start_s > due_s {
                first_late = Some(turn.start_s);
            }
            continue;
        }
        each_s = turn.end_s - turn.start_s;
        let its_place = place_of(turn.start_s);
        let on_watch = turn.start_s - zeros.get(its_place).copied().unwrap_or(zero);
        let mark = if on_watch % 60 == 0 { (on_watch / 60).to_string() } else { watch(on_watch) };
        if all.last().is_none_or(|(last, _)| *last != its_place) {
            let words = format!("{}: {verb}", step_words(bath));
            all.push((its_place, Row { at_s: turn.start_s, ..row(words, format!("{each_s} s at")) }));
        }
        if let Some((_, last)) = all.last_mut() {
            last.turns.push(mark);
            last.turns_s.push(turn.start_s);
        }
    }
    if let Some((_, first)) = all.first_mut() {
        let tail = match bath.hands {
            _ if !bath.is_in_tank => format!("ready by {}", watch(*start + bath.seconds - zero)),
            // In a bath that lasts longer than its time the hands have gone to another tank.
            Hands::Continuous if tank_plan.ends_s.get(into).is_some_and(|end| end - start > bath.seconds) => {
                format!("move {} in all", Watch(bath.seconds))
            }
            Hands::Continuous if bath.seconds > 0 => "keep moving".to_owned(),
            Hands::Turned { .. } if first.turns.is_empty() => format!("{verb} at first"),
            Hands::Turned { .. } => format!("then {each_s} s at"),
            Hands::Poured if bath.is_hose => "runs by itself".to_owned(),
            Hands::Poured if bath.name.starts_with("wash") => "fresh water, stand".to_owned(),
            Hands::Motor => "motor on".to_owned(),
            _ => "stand".to_owned(),
        };
        let late = first_late.map_or_else(String::new, |at| format!("{verb} {}, ", watch(at - zero)));
        first.detail = match act.kind {
            _ if !bath.is_in_tank => tail,
            ActKind::In if bath.is_developer => {
                format!("rap, {verb}, {late}{tail}").replace(&format!("{verb}, {verb}"), verb)
            }
            ActKind::In => tail,
            _ if !is_out && bath.is_developer => format!("rap, {verb}, {late}{tail}"),
            _ if !is_out => tail,
            _ if bath.is_hose => format!("hose {at}, {tail}"),
            _ => format!("in {at}, {late}{tail}"),
        };
        if bath.hands == Hands::Motor {
            first.detail = first.detail.replace("rap, invert, ", "");
        }
        if verb == BY_HEART && bath.is_developer {
            first.detail = first.detail.replace("rap, ", "").replace(", keep moving", "");
        }
    }
    all
}

/// A bath as an act names it.
pub(super) fn step_words(bath: &crate::evening::TankBath) -> String {
    match bath.name.as_str() {
        "develop" => "DEVELOPER".to_owned(),
        "fix" => "FIXER".to_owned(),
        "mix" => "MIX the developer".to_owned(),
        other => match other.strip_prefix("develop ") {
            Some(rest) => format!("DEVELOPER {}", rest.to_uppercase()),
            None => other.to_uppercase(),
        },
    }
}
