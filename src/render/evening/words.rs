//! An evening as a document: what to have ready, the clock, what to write down after.

use super::rows::{Group, groups, of_day, of_day_minutes, step_words, watch};
use super::{EveningView, NeedView, handling};
use crate::evening::clock::{ActKind, EveningPlan, Watch};
use crate::evening::file::{TankSpec, Way};
use crate::quantity::rounding::show_short;
use crate::render::{Column, Document};

/// Widest line of a command, in characters.
const COMMAND_WIDTH: usize = 76;

pub(super) fn millilitres(ml: f64) -> String {
    show_short(ml, 0)
}

/// Films and tanks in words: `4 films 135-36, tanks A and B`.
pub(super) fn head(view: &EveningView) -> String {
    let specs = &view.evening.tanks;
    let pieces: u32 = specs.iter().map(TankSpec::pieces).sum();
    let is_sheets = specs.iter().all(|spec| spec.way == Way::Trays);
    let word = match (is_sheets, pieces) {
        (true, 1) => "sheet",
        (true, _) => "sheets",
        (false, 1) => "film",
        (false, _) => "films",
    };
    let names: Vec<&str> = view.tanks.iter().map(|tank| tank.name.as_str()).collect();
    let tanks = match names.as_slice() {
        [one] => format!("tank {one}"),
        [before @ .., last] => format!("tanks {} and {last}", before.join(", ")),
        [] => String::new(),
    };
    format!("{pieces} {word}, {tanks}, one person")
}

/// How much is poured: `2 × 600`.
pub(super) fn amount(need: &NeedView) -> String {
    match need.need.fresh {
        (1, Some(ml)) => millilitres(ml),
        (times, Some(ml)) => format!("{times} × {}", millilitres(ml)),
        (0, None) => "hose".to_owned(),
        (_, None) => need.need.volume_ml.map_or_else(|| "?".to_owned(), millilitres),
    }
}

/// The moments before and after: when, and what.
pub(super) fn moments(view: &EveningView) -> Vec<(String, String)> {
    let lead = &view.table.lead;
    let specs = &view.evening.tanks;
    let pieces: u32 = specs.iter().map(TankSpec::pieces).sum();
    let load_s = (i64::from(pieces) * view.table.hands.load_a_film + 299) / 300 * 300;
    let begin_s = view
        .plan
        .as_ref()
        .and_then(|plan| plan.tanks.iter().filter_map(|tank| tank.starts_s.first()).min().copied());
    let begin_s = begin_s.unwrap_or(0).min(0);
    #[allow(clippy::cast_possible_truncation, reason = "minutes of a water bath")]
    let temper_s =
        view.temper_minutes.map_or(lead.temper * 60 - 1200, |own| (own * 1.4 / 5.0).ceil() as i64 * 300);
    let load_at = begin_s - load_s;
    let temper_at = load_at - temper_s.max(300);
    let mix_at = temper_at.min(-lead.mix * 60 - load_s + 1200);
    let is_mixed = view.needs.iter().any(|need| need.source == "mix");
    let at = |seconds: i64| match view.evening.first_of_day_s() {
        Some(first) => of_day_minutes(first, seconds),
        None if seconds < 0 => format!("−{} min", -seconds / 60),
        None => format!("{} min", seconds / 60),
    };
    let mut all = Vec::new();
    if is_mixed {
        all.push((at(mix_at), "mix what is to be mixed".to_owned()));
    }
    all.push((at(temper_at), "temper the bottles".to_owned()));
    let word = if specs.iter().all(|spec| spec.way == Way::Trays) { "sheets" } else { "films" };
    all.push((
        at(load_at),
        format!("dark: load {pieces} {}", if pieces == 1 { word.trim_end_matches('s') } else { word }),
    ));
    let first = view.tanks.first().map_or("", |own| own.name.as_str());
    all.push((at(0), format!("{first}: developer in")));
    if let Some(plan) = &view.plan {
        all.push((at(plan.end_s), "all hung; rinse up".to_owned()));
        all.push((at(plan.end_s + lead.dry * 60), "dry at the earliest".to_owned()));
    }
    all
}

/// What must not follow what.
pub(super) fn never(view: &EveningView) -> Vec<String> {
    let mut all = vec!["fixer before developer, not a splash".to_owned()];
    if view.evening.has("aid") {
        all.push("washing aid straight after fixer: rinse first".to_owned());
    }
    if view.evening.has("wetting") {
        all.push("wetting agent in a tank before development".to_owned());
    }
    all
}

/// What to do when it is late.
pub(super) fn when_late(view: &EveningView) -> String {
    let wash = if view.evening.has("wash") { "wash (to 60 min)" } else { "last bath" };
    format!(
        "Developer OUT comes first, to the second. Not ready for the next developer: its watch begins when it goes in. A tank waits in its {wash}, never in the developer. Clears slowly: fix on, only that tank's later rows move."
    )
}

/// That the rows of tanks begun before stand on a watch as well: `, for A too`; empty where none do.
pub(super) fn others_too(view: &EveningView, group: &Group) -> String {
    let others = group.others();
    let names: Vec<&str> =
        others.iter().filter_map(|own| Some(view.tanks.get(*own)?.name.as_str())).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => format!(", for {one} too"),
        [before @ .., last] => format!(", for {} and {last} too", before.join(", ")),
    }
}

/// What is turned late, bath by bath, each with how often and by how much at most; none where nothing is.
pub(super) fn turned_late(view: &EveningView, plan: &EveningPlan) -> Option<String> {
    let mut all: Vec<(usize, usize, usize, i64)> = Vec::new();
    for act in &plan.acts {
        let ActKind::Turn { bath, due_s } = act.kind else { continue };
        let by = act.start_s - due_s;
        if by <= 0 {
            continue;
        }
        match all.iter_mut().find(|own| (own.0, own.1) == (act.tank, bath)) {
            Some(own) => (own.2, own.3) = (own.2 + 1, own.3.max(by)),
            None => all.push((act.tank, bath, 1, by)),
        }
    }
    all.sort_unstable();
    let most = all.iter().map(|own| own.3).max()?;
    let mut words: Vec<String> = Vec::new();
    let mut last = None;
    for (tank, bath, times, by) in all {
        let Some(own) = view.tanks.get(tank) else { continue };
        let bath = own.baths.get(bath).map_or_else(String::new, step_words);
        let name = if last == Some(tank) { String::new() } else { format!("{} ", own.name) };
        last = Some(tank);
        words.push(format!("{name}{bath} {times} × to {by} s"));
    }
    Some(format!("turned late, {most} s at most: {}", words.join(", ")))
}

/// The clearing test in words, where there is a fixer.
pub(super) fn clearing(view: &EveningView) -> Option<(i64, i64, i64, i64)> {
    let fix = view
        .evening
        .tanks
        .iter()
        .filter(|tank| tank.steps.is_none())
        .map(|tank| view.evening.time_in_s(tank, "fix"))
        .chain(view.evening.has("fix").then(|| view.evening.time_s("fix")))
        .filter(|own| *own > 0)
        .min()?;
    let own = &view.table.clearing;
    Some((fix, own.times, own.times_iodide_rich, own.least))
}

pub(crate) fn evening_document(view: &EveningView) -> Document {
    let mut document = Document::new();
    let first = view.evening.first_of_day_s();
    document.title(
        first.map_or_else(|| "Evening".to_owned(), |own| format!("Evening, {}", of_day_minutes(own, 0))),
    );
    for refusal in &view.refusals {
        document.caution("REFUSED", vec![refusal.text.clone(), format!("Instead: {}.", refusal.fix)]);
    }
    let plan = view.plan.as_ref().filter(|_| view.refusals.is_empty());
    let mut line = format!("{}.", head(view));
    if let Some(plan) = plan {
        let end = Watch(plan.end_s);
        line += &match first {
            Some(first) => {
                format!(" All hung {} ({end} after the first developer).", of_day(first, plan.end_s))
            }
            None => format!(" All hung {end} after the first developer."),
        };
    }
    document.paragraph(line);
    first_part(view, &mut document);
    for (word, text) in &view.between {
        document.caution(&word.to_uppercase(), vec![text.clone()]);
    }
    if let Some(plan) = plan {
        clock_part(view, plan, first, &mut document);
        dark_part(view, &mut document);
    }
    document.heading("Never");
    document.list(never(view));
    if plan.is_some() && !view.journal.is_empty() {
        match &view.recorded_in {
            Some(path) => document.heading(format!("Recorded in {path}")),
            None => document.heading("After, once for each tank"),
        }
        for line in &view.journal {
            document.command(command_lines(line));
        }
    }
    document
}

/// A command cut between its options, so that each line ends in a stroke and all are pasted as one.
pub(super) fn command_lines(command: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for piece in options(command) {
        if !line.is_empty() && line.chars().count() + 1 + piece.chars().count() > COMMAND_WIDTH {
            lines.push(format!("{line} \\"));
            line = format!("  {piece}");
        } else if line.is_empty() {
            line = piece;
        } else {
            line = format!("{line} {piece}");
        }
    }
    lines.push(line);
    lines
}

/// The command cut before each option that stands outside quotes.
fn options(command: &str) -> Vec<String> {
    let mut all: Vec<String> = vec![String::new()];
    let (mut is_quoted, mut is_taken) = (false, false);
    let mut rest = command;
    while let Some(letter) = rest.chars().next() {
        // Outside quotes a stroke takes the next letter as it is.
        is_quoted ^= letter == '\'' && !is_taken;
        is_taken = letter == '\\' && !is_quoted && !is_taken;
        if !is_quoted && rest.starts_with(" --") {
            all.push(String::new());
        } else if let Some(last) = all.last_mut() {
            last.push(letter);
        }
        rest = rest.get(letter.len_utf8()..).unwrap_or_default();
    }
    all
}

/// Volumes, bottles, temperatures: before the first developer.
fn first_part(view: &EveningView, document: &mut Document) {
    document.heading("First, in room light");
    for text in &view.missing {
        document.caution("MISSING", vec![text.clone()]);
    }
    let rows = view.needs.iter().map(|need_view| {
        let from =
            [need_view.source.as_str(), need_view.stock.as_str()].into_iter().filter(|own| !own.is_empty());
        let from: Vec<&str> = from.collect();
        let bath = if need_view.made.is_empty() {
            need_view.need.bath.clone()
        } else {
            format!("{}: {}", need_view.need.bath, need_view.made)
        };
        vec![amount(need_view), bath, from.join(", "), need_view.celsius.clone()]
    });
    document.table(
        vec![Column::right("mL"), Column::left("bath"), Column::left("from"), Column::right("°C")],
        rows.collect(),
    );
    let times: Vec<String> = moments(view).into_iter().map(|(at, what)| format!("{at} {what}")).collect();
    let mut facts = vec![("times".to_owned(), times.join(" · "))];
    facts.extend(view.ready.iter().cloned());
    document.facts(facts);
    let mut points = Vec::new();
    if let Some((fix, two, three, least)) = clearing(view) {
        points.push(format!(
            "fixer clears a leader of tonight's film in ____ × {two} = ____ (× {three} for iodide-rich film); {} or less: go, and never under {}. The plan holds up to {}; longer: that tank fixes on, and only its own later rows move",
            Watch(fix),
            Watch(least),
            Watch(fix / two)
        ));
    }
    points.extend(view.notes.iter().cloned());
    document.list(points);
}

/// The bare words of a row, on one line.
fn row_words(row: &super::rows::Row) -> String {
    let mut words = row.act.clone();
    let detail = row.detail.strip_prefix("rap, invert, then 10 s at").unwrap_or(&row.detail).trim();
    let short = detail.trim_end_matches("keep moving").trim_end_matches("then 10 s at").trim();
    let short = short.trim_end_matches(',').trim_start_matches("in ").trim();
    if !short.is_empty() {
        words += &format!(" {short}");
    }
    if !row.turns.is_empty() {
        words += &format!("; {}", row.turns.join(" "));
    }
    words
}

fn clock_part(view: &EveningView, plan: &EveningPlan, first: Option<i64>, document: &mut Document) {
    document.heading(if view.is_tight { "Clock, tight" } else { "Clock" });
    document.paragraph(handling::sentences(view).join(" "));
    for group in groups(view, plan) {
        let names: Vec<&str> =
            group.tanks.iter().filter_map(|tank| Some(view.tanks.get(*tank)?.name.as_str())).collect();
        let first_name = names.first().copied().unwrap_or_default();
        let at = first.map_or_else(
            || format!(" ({} after the first)", Watch(group.zero_s)),
            |first| format!(" ({})", of_day(first, group.zero_s)),
        );
        let contents = group.tanks.iter().filter_map(|tank| view.contents.get(*tank));
        let contents: Vec<&str> = contents.map(String::as_str).collect();
        document.paragraph(format!(
            "Watch to 0:00 when the developer of {first_name} begins to go in{at}{}: {}.",
            others_too(view, &group),
            contents.join("; ")
        ));
        table(view, &group, first, document);
    }
    let mut points = Vec::new();
    points.extend(turned_late(view, plan));
    if let Some(calm) = view.calm_end_s.filter(|calm| *calm > plan.end_s) {
        points.push(format!("calm it would end at {}", Watch(calm)));
    }
    points.push(format!("hands {} in all; the hose runs by itself", Watch(plan.hands_s())));
    points.push(format!("late? {}", when_late(view)));
    document.list(points);
}

/// One run of the watch: a column for each of two tanks that are in the developer at once, else one column.
fn table(view: &EveningView, group: &Group, first: Option<i64>, document: &mut Document) {
    let pair = match group.tanks.as_slice() {
        [one, two] => Some([*one, *two]),
        _ => None,
    };
    let is_pair = pair.is_some_and(|pair| group.rows.iter().all(|row| pair.contains(&row.tank)));
    let name = |index: usize| view.tanks.get(index).map_or("", |own| own.name.as_str());
    let mut columns = vec![Column::right("watch")];
    columns.extend(first.map(|_| Column::right("clock")));
    match pair.filter(|_| is_pair) {
        Some(pair) => columns.extend(pair.map(|pair| Column::left(name(pair)))),
        None => columns.extend([Column::left("tank"), Column::left("act")]),
    }
    let rows = group.rows.iter().map(|row| {
        let mut cells = vec![watch(row.at_s - group.zero_s)];
        cells.extend(first.map(|first| of_day(first, row.at_s)));
        match pair.filter(|_| is_pair) {
            Some(pair) => {
                cells.extend(pair.map(|pair| if pair == row.tank { row_words(row) } else { String::new() }));
            }
            None => cells.extend([name(row.tank).to_owned(), row_words(row)]),
        }
        cells
    });
    document.table(columns, rows.collect());
}

/// What is said by heart.
fn dark_part(view: &EveningView, document: &mut Document) {
    for (tank, beats) in &view.beats {
        let name = view.tanks.get(*tank).map_or("", |own| own.name.as_str());
        document.heading(format!("{name}: trays in total darkness, by heart"));
        document.list(card(view, *tank));
        let rows = beats.iter().map(|beat| vec![Watch(beat.at_s).to_string(), beat.act.clone()]);
        document.table(vec![Column::right("m:ss"), Column::left("beat")], rows.collect());
    }
}

/// What to learn before the light goes out, for sheets in trays.
pub(super) fn card(view: &EveningView, tank: usize) -> Vec<String> {
    let Some(spec) = view.evening.tanks.get(tank) else { return Vec::new() };
    let sheet_s = spec.sheet_s(&view.table);
    let sheets = spec.pieces();
    vec![
        "trays left to right in the order of the baths, fixer last and lowest; find each by its edge".to_owned(),
        format!("one hand is dry and takes the sheets, the other stays in the bath; a sheet each {sheet_s} s, in the order in which they went in"),
        format!("{sheets} {}: a round is the lowest to the top, {sheets} times; only whole rounds, so that sheet 1 stays first; it lies crosswise to be felt", if sheets == 1 { "sheet" } else { "sheets" }),
        "wet them first, one by one, in water of the same temperature: dry sheets stick to each other".to_owned(),
        "counted aloud, or by a clock that ticks or speaks; no light at all until all have been 2 min in the fixer".to_owned(),
    ]
}
