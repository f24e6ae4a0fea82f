//! Bottles in words: what to do, what is in it, how many films, to which day.

use super::Shown;
use crate::bath::bottle::{GoodTo, Judgement, Out, State};
use crate::bath::{Basis, rules::Span};
use crate::formula::Kind;
use crate::journal::Date;
use crate::quantity::rounding::show_short;
use crate::quantity::{Duration, UNIT_CM2};
use crate::render::films::{span_words, volume_words};
use crate::render::{Column, Document};

/// Longest name of what is in a bottle in the table.
const LONGEST_NAME: usize = 21;

/// The whole answer as a document.
pub(crate) fn bottles_document(shown: &Shown) -> Document {
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
        .map(|own| vec![act(own, shown.on), own.bottle.name.clone(), name(own), films(own), good_to(own)])
        .collect();
    document.table(columns, rows);
    document.list(
        shown
            .bottles
            .iter()
            .map(|own| format!("{}: {}", own.bottle.name, sentences(&advice(own, shown))))
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
pub(super) fn summary(shown: &Shown) -> String {
    let count = |state: State| shown.bottles.iter().filter(|own| own.state == state).count();
    let words: Vec<String> = [(State::Out, "out"), (State::Nearly, "nearly"), (State::Good, "good")]
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
pub(super) fn act(own: &Judgement, on: Date) -> String {
    if own.state == State::Out {
        return "OUT".to_owned();
    }
    if own.kind.is_none() {
        return "CHECK".to_owned();
    }
    let past_look = own.good_to.is_some_and(|day| day.basis == Basis::Rule && on >= day.look_from);
    if past_look {
        return "LOOK".to_owned();
    }
    if let Some(films) = &own.films {
        let left = (films.left.low + 1e-6).floor();
        return if left >= 1.0 { plural_act(left) } else { "TEST".to_owned() };
    }
    if let Some(own) = own.replenisher.as_ref().filter(|own| own.due_ml >= 0.5) {
        return format!("+ {}", volume_words(own.due_ml));
    }
    if let Some(sheets) = &own.sheets {
        let left = (sheets.left.low + 1e-6).floor();
        return if left >= 1.0 { format!("{} SHEETS", show_short(left, 0)) } else { "TEST".to_owned() };
    }
    if let Some((_, litres)) = &own.makes {
        return format!("{} L", show_short((litres * 10.0).floor() / 10.0, 1));
    }
    if own.bottle.replenished_ml > 0.0 {
        return "IN USE".to_owned();
    }
    "CHECK".to_owned()
}

fn plural_act(films: f64) -> String {
    let number = show_short(films, 0);
    if number == "1" { "1 FILM".to_owned() } else { format!("{number} FILMS") }
}

/// A short name of what is in the bottle: the title to its first comma, the trade's letters for its agents, and its part or dilution.
pub(super) fn name(own: &Judgement) -> String {
    let Some(title) = &own.title else {
        return own.bottle.formula.clone().unwrap_or_else(|| crate::doubt::NOT_KNOWN.to_owned());
    };
    let head = title.split([',', '(']).next().unwrap_or_default().trim();
    let head = head
        .replace("Metol-hydroquinone", "MQ")
        .replace("Phenidone-hydroquinone", "PQ")
        .replace("Pyrocatechol", "Catechol")
        .replace(" developer", "")
        .replace(" bath", "");
    let mut words = String::new();
    for word in head.split_whitespace() {
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
    if let Some(part) = &own.bottle.part {
        words.push_str(&format!(" {part}"));
    }
    if let Some(dilution) = &own.bottle.dilution {
        words.push_str(&format!(" {}", crate::journal::dilution_text(dilution)));
    }
    words
}

/// `3 of 4 stated`, `9 of 10 to 20 rule`, `one-shot`.
pub(super) fn films(own: &Judgement) -> String {
    if own.is_one_shot {
        return "one-shot".to_owned();
    }
    if let Some(sheets) = &own.sheets {
        let through = show_short(own.bottle.paper_cm2 / UNIT_CM2, 1);
        return format!("{through} of {} sheets {}", floors(sheets.limit), sheets.basis.word());
    }
    let through = show_short(own.bottle.films, 2);
    match &own.films {
        Some(films) => format!("{through} of {} {}", floors(films.limit), films.basis.word()),
        None if own.bottle.replenished_ml > 0.0 => {
            format!("{through}, {} added", volume_words(own.bottle.replenished_ml))
        }
        None if is_for_paper(own) => "not counted".to_owned(),
        None => format!("{through} of not known"),
    }
}

/// Whole films of a limit, never rounded up.
fn floors(span: Span) -> String {
    let floor = |value: f64| ((value + 1e-6) * 2.0).floor() / 2.0;
    span_words(Span { low: floor(span.low), high: floor(span.high) }, 1)
}

/// `2027-04-22 full stated`, `look 2026-12-27 rule`, `not known`.
pub(super) fn good_to(own: &Judgement) -> String {
    match own.good_to {
        None if own.days.in_words.is_some() => "see below".to_owned(),
        None => crate::doubt::NOT_KNOWN.to_owned(),
        Some(GoodTo { out_by, basis: Basis::Stated, of, .. }) => format!("{out_by} {of}"),
        Some(GoodTo { look_from, basis, .. }) => format!("look {look_from} {}", basis.word()),
    }
}

/// The state of one bottle for whoever is about to use it: how old and how many films, and first of all whether it must go.
pub(crate) fn bottle_state(own: &Judgement) -> Vec<String> {
    let age = if own.age_days == 1 { "1 day".to_owned() } else { format!("{} days", own.age_days) };
    let mut words = Vec::new();
    match own.out {
        Some(Out::Films { limit }) => {
            let (name, limit) = (&own.bottle.name, show_short(limit, 1));
            words.push(format!(
                "OUT: {} through bottle {name}, {limit} are stated: take another",
                through(own)
            ));
        }
        Some(Out::Day { day }) => {
            words.push(format!("OUT: bottle {} was good to {day}, stated: take another", own.bottle.name));
        }
        Some(Out::Clearing { .. }) => {
            words.push(format!("OUT: bottle {} is spent by its clearing time", own.bottle.name));
        }
        None => {}
    }
    words.push(format!(
        "bottle {}: mixed {}, {age} old; {} through it; good to: {}",
        own.bottle.name,
        own.bottle.mixed_on,
        through(own),
        good_to(own)
    ));
    words
}

/// Sentences that end with a stop.
pub(super) fn sentences(words: &[String]) -> String {
    words.iter().map(|own| format!("{}.", crate::render::capital(own))).collect::<Vec<_>>().join(" ")
}

/// The next thing to do and what to know, a sentence each, without its stop.
pub(super) fn advice(own: &Judgement, shown: &Shown) -> Vec<String> {
    let mut words = Vec::new();
    match own.out {
        Some(Out::Films { limit }) => {
            words.push(format!("throw it out: {} through it, stated {}", through(own), show_short(limit, 1)));
        }
        Some(Out::Day { day }) => words.push(format!("throw it out: it was good to {day}, stated")),
        Some(Out::Clearing { fresh_s, tonight_s }) => words.push(format!(
            "throw it out: spent: clearing time has doubled, {} against {} fresh",
            seconds(tonight_s),
            seconds(fresh_s)
        )),
        None => {}
    }
    if own.kind.is_none() {
        words.push("what is in it is not in the library".to_owned());
        return words;
    }
    if own.state != State::Out {
        fixer(own, shown, &mut words);
        // What is due goes first; that it could be replenished goes after what it still does.
        let is_replenished = own.bottle.replenished_ml > 0.0;
        if is_replenished {
            replenisher(own, &mut words);
        }
        next_films(own, &mut words);
        if !is_replenished {
            replenisher(own, &mut words);
        }
    }
    if let (Some((bath, litres)), true) = (&own.makes, own.state != State::Out) {
        words.push(format!(
            "what is left makes {} L at {bath}",
            show_short((litres * 10.0).floor() / 10.0, 1)
        ));
    }
    if let (Some(sign), true) = (&own.sign, own.state != State::Out) {
        words.push(format!("out when {sign}"));
    }
    match own.good_to {
        Some(GoodTo { look_from, out_by, basis: Basis::Rule, of }) if own.state != State::Out => {
            if shown.on > out_by {
                words.push(format!(
                    "past the usual time for its class ({of}): test it; out by {out_by}, rule"
                ));
            } else {
                words.push(format!("look from {look_from} on; out by {out_by} ({of}, rule)"));
            }
        }
        None if own.days.in_words.is_some() => {
            words.extend(
                own.days
                    .in_words
                    .as_ref()
                    .map(|note| format!("its own file on keeping: {}", note.trim_end_matches('.'))),
            );
        }
        None if own.bottle.is_used() && own.sheets.is_some() && own.days.tray_hours.is_some() => {
            let hours = own.days.tray_hours.map(|range| span_words(range.span, 0)).unwrap_or_default();
            words.push(format!("in the tray {hours} hours, rule; how long it keeps once used is not known"));
        }
        None if own.bottle.is_used() => {
            words.push("how long it keeps once used is not known".to_owned());
        }
        _ => {}
    }
    half(own, &mut words);
    words
}

/// Silver, clearing test and paper of a fixer.
fn fixer(own: &Judgement, shown: &Shown, words: &mut Vec<String>) {
    if own.kind != Some(Kind::Fixer) {
        return;
    }
    match own.clearing {
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
    if let (Some(silver), None) = (own.silver, own.bottle.silver_g_per_litre) {
        words.push(format!("silver about {} g/L by the films through it, rule", span_words(silver, 1)));
    }
    if let Some(measured) = own.bottle.silver_g_per_litre {
        words.push(format!("silver {} g/L, measured", show_short(measured, 2)));
    }
    if own.bottle.paper_cm2 > 0.0 {
        words.push(format!(
            "paper counts by itself: {} sheets of 8 by 10 in through it, {} (lasting, ordinary) a litre by rule",
            show_short(own.bottle.paper_cm2 / UNIT_CM2, 1),
            span_words(shown.paper_sheets_per_litre, 0)
        ));
    }
}

/// How much replenisher is due for the films through it, and when to mix afresh.
fn replenisher(own: &Judgement, words: &mut Vec<String>) {
    let Some(with) = &own.replenisher else { return };
    let a_film = format!("{} a film, stated", volume_words(with.ml_per_film));
    if own.bottle.replenished_ml <= 0.0 {
        words.push(format!(
            "or replenish it: {} of {} for {} ({a_film})",
            volume_words(with.due_ml),
            with.with,
            count(own.bottle.films)
        ));
        return;
    }
    words.push(if with.due_ml >= 0.5 {
        format!(
            "pour in {} of {}: {} at {a_film}, {} poured in",
            volume_words(with.due_ml),
            with.with,
            count(own.bottle.films),
            volume_words(with.added_ml)
        )
    } else {
        format!("replenished with {} for {} ({a_film})", volume_words(with.added_ml), count(own.bottle.films))
    });
    if let Some(films) = with.films_until_anew {
        words.push(format!(
            "mix afresh after {} more, when as much has been poured in as it holds (common practice)",
            count(films)
        ));
    }
}

fn next_films(own: &Judgement, words: &mut Vec<String>) {
    if let Some(films) = &own.films {
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
    if let Some(sheets) = &own.sheets {
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
    if let Some(time) = own.next_time.filter(|time| time.high > 1.0) {
        words.push(format!("the next film takes {} times the time of the first (rule)", span_words(time, 2)));
    }
}

fn count(films: f64) -> String {
    let number = show_short((films + 1e-6).floor(), 0);
    if number == "1" { "1 film".to_owned() } else { format!("{number} films") }
}

/// Whether what is in it is made for paper.
fn is_for_paper(own: &Judgement) -> bool {
    own.kind.is_some_and(|kind| kind == Kind::Toner || kind == Kind::PaperDeveloper)
}

/// What went through a bottle: sheets of 8 by 10 in through what is for paper, else films.
fn through(own: &Judgement) -> String {
    let (number, one) = if is_for_paper(own) {
        (show_short(own.bottle.paper_cm2 / UNIT_CM2, 1), "sheet")
    } else {
        (show_short(own.bottle.films, 2), "film")
    };
    if number == "1" { format!("1 {one}") } else { format!("{number} {one}s") }
}

/// What changes once it is half full.
fn half(own: &Judgement, words: &mut Vec<String>) {
    let is_full = own.good_to.is_some_and(|day| day.of == "full");
    if let (Some(half), true) = (own.days.half, is_full && own.state != State::Out) {
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
pub(super) fn missing(shown: &Shown) -> Option<String> {
    let of = |kind: Kind| shown.bottles.iter().filter(move |own| own.kind == Some(kind));
    let mut words = Vec::new();
    for (kind, word) in
        [(Kind::Fixer, "fixer"), (Kind::StopBath, "stop bath"), (Kind::FilmDeveloper, "developer")]
    {
        if of(kind).next().is_some() && of(kind).all(|own| own.state == State::Out) {
            words.push(format!("there is no other {word}: mix one"));
        }
    }
    (!words.is_empty()).then(|| format!("Before the next evening: {}.", words.join("; ")))
}
