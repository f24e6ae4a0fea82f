//! Bottles in words: what to do, what is in it, how many films, to which day.

use super::ShownBottles;
use crate::bath::bottle::{BottleJudgement, BottleState, GoodTo, Out};
use crate::bath::{Basis, rules::Span};
use crate::formula::Kind;
use crate::journal::Date;
use crate::quantity::rounding::show_short;
use crate::quantity::{Duration, UNIT_CM2};
use crate::render::bottle_name::bottle_name;
use crate::render::films::{span_words, volume_words};
use crate::render::{Column, Document};

/// Longest name of what is in a bottle in the table.
const LONGEST_NAME: usize = 21;

/// The whole answer as a document.
pub(crate) fn bottles_document(shown: &ShownBottles) -> Document {
    let mut document = Document::new();
    document.title(format!("Bottles on {}", date_words(shown.on)));
    if shown.bottles.is_empty() {
        document.paragraph("No bottle stands in the journal. `soupcon record add mixed FORMULA VOLUME --bottle NAME` begins a life.");
        return document;
    }
    document.paragraph(summary(shown));
    let columns = vec![
        Column::left("do"),
        Column::left("bottle"),
        Column::left("what"),
        Column::left("films"),
        Column::left("good to"),
    ];
    let rows = shown
        .bottles
        .iter()
        .map(|bottle| {
            vec![
                act(bottle, shown.on),
                bottle.bottle.name.clone(),
                name(bottle),
                films(bottle),
                good_to(bottle),
            ]
        })
        .collect();
    document.table(columns, rows);
    document.list(
        shown
            .bottles
            .iter()
            .map(|bottle| format!("{}: {}", bottle.bottle.name, sentences(&advice(bottle, shown))))
            .collect(),
    );
    if let Some(words) = missing(shown) {
        document.paragraph(words);
    }
    document.paragraph(
        "rule: by the class of composition; no figure for this formula. Local rules decide where it goes.",
    );
    document
}

/// `1 out · 1 nearly · 4 good`.
pub(super) fn summary(shown: &ShownBottles) -> String {
    let count = |state: BottleState| shown.bottles.iter().filter(|bottle| bottle.state == state).count();
    let words: Vec<String> =
        [(BottleState::Out, "out"), (BottleState::Nearly, "nearly"), (BottleState::Good, "good")]
            .into_iter()
            .map(|(state, word)| (count(state), word))
            .filter(|(number, _)| *number > 0)
            .map(|(number, word)| format!("{number} {word}"))
            .collect();
    words.join(" · ")
}

/// Day of the week and the date: `Thursday 26 November 2026`.
pub(super) fn date_words(date: Date) -> String {
    // 1 January 1970 was a Thursday.
    let day = match (date.days_since_1970() + 4).rem_euclid(7) {
        0 => "Sunday",
        1 => "Monday",
        2 => "Tuesday",
        3 => "Wednesday",
        4 => "Thursday",
        5 => "Friday",
        _ => "Saturday",
    };
    format!("{day} {date}")
}

/// What to do, the first word or two in capitals.
pub(super) fn act(judgement: &BottleJudgement, on: Date) -> String {
    if judgement.state == BottleState::Out {
        return "OUT".to_owned();
    }
    if judgement.kind.is_none() {
        return "CHECK".to_owned();
    }
    let past_look = judgement.good_to.is_some_and(|day| day.basis == Basis::Rule && on >= day.look_from);
    if past_look {
        return "LOOK".to_owned();
    }
    if let Some(films) = &judgement.films {
        let left = (films.left.low + 1e-6).floor();
        return if left >= 1.0 { plural_act(left) } else { "TEST".to_owned() };
    }
    if let Some(replenisher) = judgement.replenisher.as_ref().filter(|replenisher| replenisher.due_ml >= 0.5)
    {
        return format!("+ {}", volume_words(replenisher.due_ml));
    }
    if let Some(sheets) = &judgement.sheets {
        let left = (sheets.left.low + 1e-6).floor();
        return if left >= 1.0 { format!("{} SHEETS", show_short(left, 0)) } else { "TEST".to_owned() };
    }
    if let Some((_, litres)) = &judgement.makes {
        return format!("{} L", show_short((litres * 10.0).floor() / 10.0, 1));
    }
    if judgement.bottle.replenished_ml > 0.0 {
        return "IN USE".to_owned();
    }
    "CHECK".to_owned()
}

fn plural_act(films: f64) -> String {
    let number = show_short(films, 0);
    if number == "1" { "1 FILM".to_owned() } else { format!("{number} FILMS") }
}

/// A short name of what is in the bottle: the title to its first comma, the trade's letters for its agents, and its part or dilution.
pub(super) fn name(judgement: &BottleJudgement) -> String {
    let Some(title) = &judgement.title else { return whole_name(judgement) };
    let mut words = String::new();
    for word in bottle_name(title).split_whitespace() {
        let longer = words.chars().count() + word.chars().count() + 1;
        if !words.is_empty() && longer > LONGEST_NAME {
            break;
        }
        if !words.is_empty() {
            words.push(' ');
        }
        words.push_str(word);
    }
    for dangling in [" with", " for", " of", " and"] {
        if let Some(whole) = words.strip_suffix(dangling) {
            words.truncate(whole.len());
        }
    }
    with_part(words, judgement)
}

/// The same with all its words, where there is room for two lines.
pub(super) fn whole_name(judgement: &BottleJudgement) -> String {
    match &judgement.title {
        Some(title) => with_part(bottle_name(title), judgement),
        None => judgement.bottle.formula.clone().unwrap_or_else(|| crate::doubt::NOT_KNOWN.to_owned()),
    }
}

/// A name with the part or the dilution in the bottle.
fn with_part(mut words: String, judgement: &BottleJudgement) -> String {
    if let Some(part) = &judgement.bottle.part {
        words.push_str(&format!(" {part}"));
    }
    if let Some(dilution) = &judgement.bottle.dilution {
        words.push_str(&format!(" {}", crate::journal::dilution_text(dilution)));
    }
    words
}

/// `3 of 4 stated`, `9 of 10 to 20 rule`, `one-shot`.
pub(super) fn films(judgement: &BottleJudgement) -> String {
    if judgement.is_one_shot {
        return "one-shot".to_owned();
    }
    if let Some(sheets) = &judgement.sheets {
        let through = show_short(judgement.bottle.paper_cm2 / UNIT_CM2, 1);
        return format!("{through} of {} sheets {}", floors(sheets.limit), sheets.basis.word());
    }
    let through = show_short(judgement.bottle.films, 2);
    match &judgement.films {
        Some(films) => format!("{through} of {} {}", floors(films.limit), films.basis.word()),
        None if judgement.bottle.replenished_ml > 0.0 => {
            format!("{through}, {} added", volume_words(judgement.bottle.replenished_ml))
        }
        None if is_for_paper(judgement) => "not counted".to_owned(),
        None => format!("{through} of not known"),
    }
}

/// Whole films of a limit, never rounded up.
fn floors(span: Span) -> String {
    let floor = |value: f64| ((value + 1e-6) * 2.0).floor() / 2.0;
    span_words(Span { low: floor(span.low), high: floor(span.high) }, 1)
}

/// `2027-04-22 full stated`, `look 2026-12-27 rule`, `not known`.
pub(super) fn good_to(judgement: &BottleJudgement) -> String {
    match judgement.good_to {
        None if judgement.days.in_words.is_some() => "see below".to_owned(),
        None => crate::doubt::NOT_KNOWN.to_owned(),
        Some(GoodTo { out_by, basis: Basis::Stated, of, .. }) => format!("{out_by} {of}"),
        Some(GoodTo { look_from, basis, .. }) => format!("look {look_from} {}", basis.word()),
    }
}

/// The state of one bottle for whoever is about to use it: how old and how many films, and first of all whether it must go.
pub(crate) fn bottle_state(judgement: &BottleJudgement) -> Vec<String> {
    let age =
        if judgement.age_days == 1 { "1 day".to_owned() } else { format!("{} days", judgement.age_days) };
    let mut words = Vec::new();
    match judgement.out {
        Some(Out::Films { limit }) => {
            let (name, limit) = (&judgement.bottle.name, show_short(limit, 1));
            words.push(format!(
                "OUT: {} through bottle {name}, {limit} are stated: take another",
                through(judgement)
            ));
        }
        Some(Out::Day { day }) => {
            words.push(format!(
                "OUT: bottle {} was good to {day}, stated: take another",
                judgement.bottle.name
            ));
        }
        Some(Out::Clearing { .. }) => {
            words.push(format!("OUT: bottle {} is spent by its clearing time", judgement.bottle.name));
        }
        None => {}
    }
    words.push(format!(
        "bottle {}: mixed {}, {age} old; {} through it; good to: {}",
        judgement.bottle.name,
        judgement.bottle.mixed_on,
        through(judgement),
        good_to(judgement)
    ));
    words
}

/// Sentences that end with a stop.
pub(super) fn sentences(words: &[String]) -> String {
    words.iter().map(|own| format!("{}.", crate::render::capital(own))).collect::<Vec<_>>().join(" ")
}

/// The next thing to do and what to know, a sentence each, without its stop.
pub(super) fn advice(judgement: &BottleJudgement, shown: &ShownBottles) -> Vec<String> {
    let mut words = Vec::new();
    match judgement.out {
        Some(Out::Films { limit }) => {
            words.push(format!(
                "throw it out: {} through it, stated {}",
                through(judgement),
                show_short(limit, 1)
            ));
        }
        Some(Out::Day { day }) => words.push(format!("throw it out: it was good to {day}, stated")),
        Some(Out::Clearing { fresh_s, tonight_s }) => words.push(format!(
            "throw it out: spent: clearing time has doubled, {} against {} fresh",
            seconds(tonight_s),
            seconds(fresh_s)
        )),
        None => {}
    }
    if judgement.kind.is_none() {
        words.push("what is in it is not in the library".to_owned());
        return words;
    }
    if judgement.state != BottleState::Out {
        fixer(judgement, shown, &mut words);
        // What is due goes first; that it could be replenished goes after what it still does.
        let is_replenished = judgement.bottle.replenished_ml > 0.0;
        if is_replenished {
            replenisher(judgement, &mut words);
        }
        next_films(judgement, &mut words);
        if !is_replenished {
            replenisher(judgement, &mut words);
        }
    }
    if let (Some((bath, litres)), true) = (&judgement.makes, judgement.state != BottleState::Out) {
        words.push(format!(
            "what is left makes {} L at {bath}",
            show_short((litres * 10.0).floor() / 10.0, 1)
        ));
    }
    if let (Some(sign), true) = (&judgement.sign, judgement.state != BottleState::Out) {
        words.push(format!("out when {sign}"));
    }
    match judgement.good_to {
        Some(GoodTo { look_from, out_by, basis: Basis::Rule, of }) if judgement.state != BottleState::Out => {
            if shown.on > out_by {
                words.push(format!(
                    "past the usual time for its class ({of}): test it; out by {out_by}, rule"
                ));
            } else {
                words.push(format!("look from {look_from} on; out by {out_by} ({of}, rule)"));
            }
        }
        None if judgement.days.in_words.is_some() => {
            words.extend(
                judgement
                    .days
                    .in_words
                    .as_ref()
                    .map(|note| format!("its own file on keeping: {}", note.trim_end_matches('.'))),
            );
        }
        None if judgement.bottle.is_used()
            && judgement.sheets.is_some()
            && judgement.days.tray_hours.is_some() =>
        {
            let hours = judgement.days.tray_hours.map(|range| span_words(range.span, 0)).unwrap_or_default();
            words.push(format!("in the tray {hours} hours, rule; how long it keeps once used is not known"));
        }
        None if judgement.bottle.is_used() => {
            words.push("how long it keeps once used is not known".to_owned());
        }
        _ => {}
    }
    half(judgement, &mut words);
    words
}

/// Silver, clearing test and paper of a fixer.
fn fixer(judgement: &BottleJudgement, shown: &ShownBottles, words: &mut Vec<String>) {
    if judgement.kind != Some(Kind::Fixer) {
        return;
    }
    match judgement.clearing {
        Some(clearing) => {
            words.push(format!(
                "it cleared in {}: fix {} ({}: {})",
                seconds(clearing.tonight_s),
                seconds(clearing.fix_s.low),
                shown.iodide_note,
                seconds(clearing.fix_s.high)
            ));
            if clearing.fresh_s.is_none() {
                words.push(
                    "its fresh clearing time was not measured, so whether it has doubled is not known".to_owned(),
                );
            }
        }
        None => words.push(
            "clearing test first, before the count: fix twice the clearing time; out when it is twice the fresh one".to_owned(),
        ),
    }
    if let (Some(silver), None) = (judgement.silver, judgement.bottle.silver_g_per_litre) {
        words.push(format!("silver about {} g/L by the films through it, rule", span_words(silver, 1)));
    }
    if let Some(measured) = judgement.bottle.silver_g_per_litre {
        words.push(format!("silver {} g/L, measured", show_short(measured, 2)));
    }
    if judgement.bottle.paper_cm2 > 0.0 {
        words.push(format!(
            "paper counts by itself: {} sheets of 8 by 10 in through it, {} (lasting, ordinary) a litre by rule",
            show_short(judgement.bottle.paper_cm2 / UNIT_CM2, 1),
            span_words(shown.paper_sheets_per_litre, 0)
        ));
    }
}

/// How much replenisher is due for the films through it, and when to mix afresh.
fn replenisher(judgement: &BottleJudgement, words: &mut Vec<String>) {
    let Some(with) = &judgement.replenisher else { return };
    let a_film = format!("{} a film, stated", volume_words(with.ml_per_film));
    if judgement.bottle.replenished_ml <= 0.0 {
        words.push(format!(
            "or replenish it: {} of {} for {} ({a_film})",
            volume_words(with.due_ml),
            with.with,
            count(judgement.bottle.films)
        ));
        return;
    }
    words.push(if with.due_ml >= 0.5 {
        format!(
            "pour in {} of {}: {} at {a_film}, {} poured in",
            volume_words(with.due_ml),
            with.with,
            count(judgement.bottle.films),
            volume_words(with.added_ml)
        )
    } else {
        format!(
            "replenished with {} for {} ({a_film})",
            volume_words(with.added_ml),
            count(judgement.bottle.films)
        )
    });
    if let Some(films) = with.films_until_anew {
        words.push(format!(
            "mix afresh after {} more, when as much has been poured in as it holds (common practice)",
            count(films)
        ));
    }
}

fn next_films(judgement: &BottleJudgement, words: &mut Vec<String>) {
    if let Some(films) = &judgement.films {
        let left = |value: f64| show_short((value + 1e-6).floor(), 0);
        match (films.basis, films.ends) {
            (Basis::Stated, _) => {
                words.push(format!(
                    "{} left of {}, then out (stated)",
                    count(films.left.high),
                    floors(films.limit)
                ));
            }
            (_, Some((low, high))) => words.push(format!(
                "{low}: {} left of {}; {high}: {} of {} (rule)",
                left(films.left.low),
                left(films.limit.low),
                left(films.left.high),
                left(films.limit.high)
            )),
            (_, None) if films.left.high < 1.0 => {
                words.push("past the usual count for its class: test, or mix afresh (rule)".to_owned());
            }
            (_, None) => {
                words.push(format!("{} to {} left (rule)", left(films.left.low), count(films.left.high)));
            }
        }
    }
    if let Some(sheets) = &judgement.sheets {
        let left = |value: f64| show_short((value + 1e-6).floor(), 0);
        words.push(if sheets.left.high < 1.0 {
            "past the usual count for its class: test a strip, or mix afresh (rule)".to_owned()
        } else if sheets.basis == Basis::Stated {
            format!("{} sheets of 8 by 10 in left (stated)", left(sheets.left.high))
        } else {
            format!(
                "{} to {} sheets of 8 by 10 in left (rule)",
                left(sheets.left.low),
                left(sheets.left.high)
            )
        });
    }
    if let Some(time) = judgement.next_time.filter(|time| time.high > 1.0) {
        words.push(format!("the next film takes {} times the time of the first (rule)", span_words(time, 2)));
    }
}

fn count(films: f64) -> String {
    let number = show_short((films + 1e-6).floor(), 0);
    if number == "1" { "1 film".to_owned() } else { format!("{number} films") }
}

/// Whether what is in it is made for paper.
fn is_for_paper(judgement: &BottleJudgement) -> bool {
    judgement.kind.is_some_and(|kind| kind == Kind::Toner || kind == Kind::PaperDeveloper)
}

/// What went through a bottle: sheets of 8 by 10 in through what is for paper, else films.
fn through(judgement: &BottleJudgement) -> String {
    let (number, one) = if is_for_paper(judgement) {
        (show_short(judgement.bottle.paper_cm2 / UNIT_CM2, 1), "sheet")
    } else {
        (show_short(judgement.bottle.films, 2), "film")
    };
    if number == "1" { format!("1 {one}") } else { format!("{number} {one}s") }
}

/// What changes once it is half full.
fn half(judgement: &BottleJudgement, words: &mut Vec<String>) {
    let is_full = judgement.good_to.is_some_and(|day| day.of == "full");
    if let (Some(half), true) = (judgement.days.half, is_full && judgement.state != BottleState::Out) {
        words.push(format!("once half full: {} days, {}", span_words(half.span, 0), half.basis.word()));
    }
}

/// Seconds as a watch shows them: `45 s`, `3:20`.
pub(super) fn seconds(value: f64) -> String {
    if value < 60.0 {
        return format!("{} s", show_short(value, 0));
    }
    Duration::from_s(value).to_string().trim_end_matches(" min").to_owned()
}

/// What is missing altogether where the only one is out.
pub(super) fn missing(shown: &ShownBottles) -> Option<String> {
    let of = |kind: Kind| shown.bottles.iter().filter(move |bottle| bottle.kind == Some(kind));
    let mut words = Vec::new();
    for (kind, word) in
        [(Kind::Fixer, "fixer"), (Kind::StopBath, "stop bath"), (Kind::FilmDeveloper, "developer")]
    {
        if of(kind).next().is_some() && of(kind).all(|own| own.state == BottleState::Out) {
            words.push(format!("there is no other {word}: mix one"));
        }
    }
    (!words.is_empty()).then(|| format!("Before the next evening: {}.", words.join("; ")))
}
