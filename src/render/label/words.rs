//! The words of a label: name, how strong it is, hazards, how long it keeps.

use crate::bench::words::BenchWords;
use crate::formula::{Bath, Use};
use crate::label::layout::{Face, LabelLine, Telling, Until};
use crate::label::{BottleStrength, Label};
use crate::quantity::rounding::show_short;
use crate::render::bottle_name::label_name;
use crate::render::capital;
use crate::render::show::{days_words, keeping_figures, named_use, use_in_short};
use crate::safety::NotComputed;

/// Most letters of a part's name that a ring holds.
const RING_LETTERS: usize = 2;
/// What is said of every bottle, and that nobody vouches for it.
const FOOT: &str = "keep from children; no drink; no legal label";
/// First aid for what burns skin or eyes; in full on the sheet.
const FIRST_AID: &str = "running water 15 min; doctor.";
/// From such a pH on a solution eats glass stoppers and metal caps; common practice, no source.
const CAUSTIC_PH: f64 = 12.0;
/// Most boxes for films on a label: more is not struck.
const MOST_BOXES: f64 = 20.0;
/// Said on the label where an acid drives out a gas, so that the bath of strong acid need not be named again.
const NO_ACID: &str = "Never pour acid into it.";

const NEVER_NEXT: &str = "Never next to it unwashed:";
/// Both in one.
const NO_ACID_AND_NEXT: &str = "Never pour acid into it; never next to it unwashed:";
/// Background that gives way first.
const KEEPING_NOTE: &str = "what is noted on its keeping";
const NOT_COMPUTED: &str = "Not computed:";

/// How much is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Length {
    /// On a card: every use, and why something is not computed.
    Card,
    /// Each matter on a line of its own, with lines to write on.
    Long,
    /// Without lines to write on.
    Plain,
    /// Run together.
    Brief,
    /// Without what is noted on keeping and waste.
    Least,
}

/// The words of a label on a sheet of labels; a second label in its short form.
pub(super) fn face(label: &Label) -> Face {
    if label.is_second {
        return of(label, vec![second(label)]);
    }
    let lengths = [Length::Long, Length::Plain, Length::Brief, Length::Least];
    let mut tellings: Vec<Telling> = lengths.into_iter().map(|length| telling(label, length)).collect();
    if is_harmless(label) {
        tellings.push(only_short(label));
    }
    of(label, tellings)
}

/// The words of a card.
pub(super) fn card_face(label: &Label) -> Face {
    of(label, vec![telling(label, Length::Card)])
}

fn of(label: &Label, tellings: Vec<Telling>) -> Face {
    let mixed = label.mixed.map_or_else(String::new, |date| date.to_string());
    let name = if label.called_by_contents { capital(&contents(label)) } else { label_name(&label.title) };
    // A part that is called by a word stands before the name: a ring holds no more than a letter or two.
    let (ring, title) = match label.part.clone() {
        Some(part) if part.chars().count() > RING_LETTERS => (None, format!("{part}: {name}")),
        ring => (ring, name),
    };
    Face {
        title,
        ring,
        tellings,
        signal: label.hazards.signal.map(crate::substance::Signal::word),
        pictograms: label.pictograms.len(),
        mixed: LabelLine::led("mixed", mixed),
        foot: label.formula.clone(),
    }
}

/// Most letters of what is in a bottle.
const CONTENTS_LETTERS: usize = 34;

/// `sodium sulfide`: what a bottle of several holds, as far as there is room.
fn contents(label: &Label) -> String {
    let mut told = String::new();
    for content in &label.contents {
        let longer = if told.is_empty() { content.clone() } else { format!("{told}, {content}") };
        if !told.is_empty() && longer.chars().count() > CONTENTS_LETTERS {
            told.push_str(" …");
            break;
        }
        told = longer;
    }
    told
}

/// Of one of several bottles, beneath its name: what it is for, or what it holds.
fn formula_of(label: &Label) -> Option<String> {
    let words = if label.called_by_contents {
        format!("for {}", label_name(&label.title))
    } else {
        format!("holds {}", contents(label))
    };
    (!label.parts.is_empty()).then_some(words)
}

/// No hazard by the rules: no signal word that a short form would leave without its pictogram.
fn is_harmless(label: &Label) -> bool {
    label.hazards.signal.is_none() && !label.is_classified() && label.hazards.unknown.is_empty()
}

fn telling(label: &Label, length: Length) -> Telling {
    let mut left_out = Vec::new();
    if leaves_out_keeping_note(label, length) {
        left_out.push(KEEPING_NOTE);
    }
    if length == Length::Least && !label.cautions.waste.is_empty() {
        left_out.push("how to collect it as waste");
    }
    let (is_long, is_brief) = (length <= Length::Long, length >= Length::Brief);
    let mut told = hazards(label, length);
    if is_brief {
        told.extend(label.own_in_short.iter().map(|own| LabelLine::plain(*own)));
    }
    let films = label.films.filter(|films| is_long && (1.0..=MOST_BOXES).contains(&films.floor()));
    let written = if label.films.is_some() { "in use since" } else { "first opened" };
    Telling {
        is_short: false,
        uses: uses(label, length),
        detail: detail(label, length),
        hazards: told,
        is_run_together: is_brief,
        good_to: good_to(label),
        basis: basis(label, length),
        beside: (format!("{}, by", label.volume), true),
        write_in: if is_long { vec![written.to_owned()] } else { Vec::new() },
        tally: films.map_or(0, whole),
        foot: FOOT,
        left_out,
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 20")]
fn whole(films: f64) -> usize {
    films.floor() as usize
}

/// The only label of a bottle without a hazard by the rules: how it is diluted and each caution, in few words.
fn only_short(label: &Label) -> Telling {
    let hazards = hazards(label, Length::Plain);
    let open = label.hazards.not_computed.iter().filter_map(|own| own.advice);
    let mut told: Vec<LabelLine> = Vec::new();
    if label.gravest.is_empty() {
        told.extend(hazards.first().cloned());
    } else {
        told.extend(label.gravest.iter().map(|own| LabelLine::plain(format!("{}.", capital(own)))));
    }
    told.extend(open.map(|advice| LabelLine::plain(format!("{}.", capital(advice)))));
    // Of acid the few words above say it.
    let is_told =
        |line: &LabelLine| line.lead == NOT_COMPUTED || line.lead == NO_ACID && !label.gravest.is_empty();
    let rest = hazards.into_iter().skip(1).filter(|hazard| !is_told(hazard));
    told.extend(rest);
    // What is all there is to know of its keeping stays.
    let note = label.keeping.note.clone();
    let leaves_out = leaves_out_keeping_note(label, Length::Least);
    let left_out = if leaves_out { vec![KEEPING_NOTE] } else { Vec::new() };
    let only_note = note.filter(|_| !leaves_out).map(|note| note.trim_end_matches('.').to_owned());
    Telling {
        is_short: true,
        uses: vec![LabelLine::led(&strength(label), "")],
        detail: formula_of(label).unwrap_or_default(),
        hazards: told,
        is_run_together: true,
        good_to: good_to(label),
        basis: [Some(mixed_words(label)), only_note].into_iter().flatten().collect::<Vec<_>>().join("; "),
        beside: ("see card".to_owned(), false),
        left_out,
        ..Telling::default()
    }
}

/// A second label: the gravest.
fn second(label: &Label) -> Telling {
    let words = if label.gravest.is_empty() {
        let texts: Vec<&str> =
            label.hazards.statements.iter().map(|statement| statement.text.as_str()).collect();
        if texts.is_empty() { "keep it out of eyes".to_owned() } else { texts.join(" ") }
    } else {
        label.gravest.join("; ")
    };
    Telling {
        is_short: true,
        hazards: vec![LabelLine::plain(words)],
        good_to: good_to(label).into_iter().take(1).collect(),
        basis: mixed_words(label),
        beside: ("see card".to_owned(), false),
        ..Telling::default()
    }
}

/// `mixed 2026-11-26, 500 mL`.
fn mixed_words(label: &Label) -> String {
    let mixed = label.mixed.map_or_else(|| "__________".to_owned(), |date| date.to_string());
    format!("mixed {mixed}, {}", label.volume)
}

/// The gravest hazards of a bottle in the few words of the bench page, the gravest first; empty where that has none for them.
pub fn gravest(label: &Label, words: &BenchWords) -> Vec<String> {
    let mut ranked: Vec<(usize, String)> = Vec::new();
    let mut no_acid = false;
    for statement in &label.hazards.statements {
        if ["EUH031", "EUH032"].contains(&statement.code.as_str()) {
            no_acid = true;
        } else if statement.code == "EUH208" {
            ranked.push((usize::MAX, format!("skin allergy: {}", statement.because.join(", "))));
        } else if let Some((rank, row)) = words.mind_row(&statement.code) {
            if !ranked.iter().any(|(_, told)| *told == row.phrase) {
                ranked.push((rank, row.phrase.clone()));
            }
        } else {
            let mut letters = statement.text.trim_end_matches('.').chars();
            let first = letters.next().map(|first| first.to_lowercase().to_string()).unwrap_or_default();
            ranked.push((usize::MAX, first + letters.as_str()));
        }
    }
    ranked.sort_by_key(|(rank, _)| *rank);
    let told = ranked.into_iter().map(|(_, phrase)| phrase);
    told.chain(no_acid.then(|| "no acid into it".to_owned())).collect()
}

/// The time of its only use.
fn time(label: &Label) -> Option<String> {
    let [own] = label.uses.as_slice() else { return None };
    let words = use_in_short(&Use { working_hours: None, ..own.clone() });
    words.split_once("; ").map(|(_, time)| time.to_owned())
}

/// Of one of several bottles: for how long it is used, what it is for or holds.
fn detail(label: &Label, length: Length) -> String {
    let Some(of) = formula_of(label) else { return String::new() };
    match time(label).filter(|_| length > Length::Card) {
        // Two facts on one line, as short as they are.
        Some(time) => format!("{time}; {}", of.strip_prefix("holds ").unwrap_or(&of)),
        None => of,
    }
}

/// How strong it is, and the time of its use where it has one and it does not stand below; on a card each use.
fn uses(label: &Label, length: Length) -> Vec<LabelLine> {
    let lead = strength(label);
    let is_below = length == Length::Card || !label.parts.is_empty();
    let way = match time(label).filter(|_| !is_below) {
        Some(time) => LabelLine::led(&format!("{lead},"), time),
        None => LabelLine::led(&lead, ""),
    };
    let mut lines = vec![way];
    if length == Length::Card {
        let all = label.uses.iter().map(|listed_use| LabelLine::plain(named_use(listed_use)));
        lines.extend(all);
        lines.extend(label.own.iter().map(|words| LabelLine::plain(capital(words))));
    } else if !label.own_in_short.is_empty() && length < Length::Brief {
        lines.push(LabelLine::plain(label.own_in_short.join(" ")));
    }
    lines
}

/// `Ready to use`; `25 A + 15 B + 960 water`; `stock: undiluted, 1 + 1 or 1 + 3`.
fn strength(label: &Label) -> String {
    let mut ways: Vec<String> = Vec::new();
    let several = label.uses.len() > 1;
    for listed_use in &label.uses {
        let one = |bath: &Bath| match (bath.shares.as_slice(), several) {
            ([(name, share)], true) if name == "stock" && bath.water > 0.0 => {
                format!("{} + {}", show_short(*share, 3), show_short(bath.water, 3))
            }
            _ => bath.to_string(),
        };
        let way = listed_use.in_order(one);
        if !ways.contains(&way) {
            ways.push(way);
        }
    }
    let way = match ways.as_slice() {
        [] => return "As mixed".to_owned(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    };
    match label.strength {
        BottleStrength::Working => "Ready to use".to_owned(),
        BottleStrength::Stock if several => format!("Stock: {way}"),
        _ => way,
    }
}

fn hazards(label: &Label, length: Length) -> Vec<LabelLine> {
    let bath = &label.hazards;
    let has =
        |codes: &[&str]| bath.statements.iter().any(|statement| codes.contains(&statement.code.as_str()));
    let mut lines = Vec::new();
    let statements: Vec<String> = bath
        .statements
        .iter()
        .map(|statement| {
            // The standard text names the substance.
            if statement.code == "EUH208" {
                let what = format!("Contains {}.", statement.because.join(", "));
                // Of the bath itself it is said already.
                if has(&["H317"]) { what } else { format!("{what} May produce an allergic reaction.") }
            } else {
                statement.text.clone()
            }
        })
        .collect();
    if !statements.is_empty() {
        lines.push(LabelLine::plain(statements.join(" ")));
    } else if label.unvouched.is_empty() {
        // Of the others it is said below that their hazards are not known.
        let so_far =
            if bath.unknown.is_empty() && bath.not_computed.is_empty() { "" } else { " as far as known" };
        // Where the formula itself warns, nobody is to stop reading here.
        let but = if label.cautions.always.is_empty() { "" } else { " Mind what follows." };
        lines.push(LabelLine::plain(format!(
            "No hazard by the mixture rules{so_far}. Keep it out of eyes.{but}"
        )));
    }
    if has(&["H314", "H318"]) {
        lines.push(LabelLine::led("Eyes, skin:", FIRST_AID));
    }
    if let Some(gloves) = label.gloves {
        lines.push(LabelLine::led("Wear", format!("{gloves}.")));
    }
    if !bath.not_computed.is_empty() {
        let open: Vec<String> = if length == Length::Card {
            bath.not_computed.iter().map(ToString::to_string).collect()
        } else {
            bath.not_computed.iter().map(open_in_short).collect()
        };
        lines.push(LabelLine::led(NOT_COMPUTED, format!("{}.", open.join("; "))));
    }
    if !bath.unknown.is_empty() {
        lines.push(LabelLine::led(
            "Hazard not known, treat as harmful:",
            format!("{}.", bath.unknown.join(", ")),
        ));
    }
    lines.extend(label.gas.iter().map(LabelLine::plain));
    let no_acid = has(&["EUH031", "EUH032"]);
    let baths = never_beside(label, no_acid);
    let is_one = no_acid && length >= Length::Brief && !baths.is_empty();
    if no_acid && !is_one {
        lines.push(LabelLine::led(NO_ACID, ""));
    }
    if bath.ph.is_some_and(|ph| ph >= CAUSTIC_PH) {
        lines.push(LabelLine::plain("Plastic bottle, plastic cap."));
    }
    if let Some(crystals) = &label.crystals {
        lines.push(LabelLine::plain(format!("{}.", capital(&crystals.words()))));
    }
    if !baths.is_empty() {
        let lead = if is_one { NO_ACID_AND_NEXT } else { NEVER_NEXT };
        lines.push(LabelLine::led(lead, format!("{}.", baths.join(", "))));
    }
    let cautions = cautions(label, length);
    if !cautions.is_empty() {
        lines.push(LabelLine::plain(cautions.join(" ")));
    }
    lines
}

/// What is not computed, in one or two words with what to do: `metal (use plastic or glass)`.
fn open_in_short(not_computed: &NotComputed) -> String {
    let what = match not_computed.what.as_str() {
        "poisoning by vapour or spray" => "vapour or spray",
        "the whole effect on water life" => "water life",
        "corrosion of metal" => "metal",
        other => other,
    };
    not_computed.advice.map_or_else(|| what.to_owned(), |advice| format!("{what} ({advice})"))
}

/// `household bleach`, `strong stop bath`: baths in as few words as they are known by, each once.
fn never_beside(label: &Label, no_acid: bool) -> Vec<String> {
    let bare = |text: &str| -> String {
        let plain = text.split_once(" (").map_or(text, |(bath, _)| bath).trim();
        let plain = plain.trim_start_matches("an ").trim_start_matches("a ");
        let plain = plain.strip_prefix("bath with ").unwrap_or(plain);
        let is_plain = |bath: &&str| !bath.ends_with("acid") && !bath.ends_with("stop");
        plain.strip_suffix(" bath").filter(is_plain).unwrap_or(plain).to_owned()
    };
    let mut baths: Vec<String> = Vec::new();
    for neighbour in &label.never_beside {
        if no_acid && neighbour == "a bath with sulfuric or hydrochloric acid" {
            continue;
        }
        // What harms only together stays together.
        let shortened = neighbour.replace(" and a ", " and ");
        if shortened.contains(" and ") {
            baths.push(shortened.split(" and ").map(bare).collect::<Vec<_>>().join(" with "));
        } else if shortened.contains(", ") && !shortened.contains('(') {
            baths.extend(shortened.replace(" or ", ", ").split(", ").map(bare));
        } else {
            baths.push(bare(&shortened));
        }
    }
    let mut told: Vec<String> = Vec::new();
    for bath in &baths {
        let is_narrower = |other: &String| {
            bath != other
                && bath.strip_prefix(other.as_str()).is_some_and(|rest| rest.starts_with(" without "))
        };
        if !told.contains(bath) && !baths.iter().any(is_narrower) {
            told.push(bath.clone());
        }
    }
    told
}

/// What the formula warns of; at the last without what becomes of it. What holds while it is mixed is over when there is a bottle, and what
/// speaks for another formula is for whoever chooses, not for whoever takes the bottle.
fn cautions(label: &Label, length: Length) -> Vec<String> {
    let own = &label.cautions;
    let waste = own.waste.iter().filter(|_| length < Length::Least);
    own.always.iter().chain(waste).cloned().collect()
}

/// The day in large letters: stated, or two days by rule; without a day of mixing the span.
fn good_to(label: &Label) -> Vec<Until> {
    if let Some(days) = label.keeping.full_bottle_days {
        return vec![label.good_until.map_or_else(
            || Until::new("keeps", days_words(days), ""),
            |date| Until::new("good to", date.to_string(), ""),
        )];
    }
    if let Some(rule) = label.by_rule {
        let (look, out) = rule.full_days;
        return match rule_dates(label) {
            Some((from, to)) if from == to => vec![Until::new("out by", to.to_string(), "")],
            Some((from, to)) => vec![
                Until::new("look from", from.to_string(), "on"),
                Until::new("out by", to.to_string(), ""),
            ],
            None if look >= out => vec![Until::new("out after", days_words(out), "")],
            None => vec![
                Until::new("look after", days_words(look), ""),
                Until::new("out after", days_words(out), ""),
            ],
        };
    }
    // `One day only` says it in words, below.
    if label.keeping.note.is_some() || keeping_figures(&label.keeping).is_some() {
        Vec::new()
    } else {
        vec![Until::new("good to:", crate::doubt::NOT_KNOWN, "")]
    }
}

/// By rule, from when on to look at a full bottle and by when it is out.
pub(super) fn rule_dates(label: &Label) -> Option<(crate::journal::Date, crate::journal::Date)> {
    let (look, out) = label.by_rule?.full_days;
    let mixed = label.mixed?;
    Some((mixed.plus_days(look)?, mixed.plus_days(out)?))
}

/// How long it keeps by rule, in words; the days only where no date says them.
pub(super) fn rule_words(label: &Label) -> Option<String> {
    let rule = label.by_rule?;
    let (look, out) = rule.full_days;
    let span = match (label.mixed, look >= out) {
        (Some(_), _) => String::new(),
        (None, true) => format!(" {} days", show_short(out, 0)),
        (None, false) => format!(" {} to {} days", show_short(look, 0), show_short(out, 0)),
    };
    let half = rule.half_days.filter(|half| *half < out).map_or_else(String::new, |days| {
        match label.mixed.and_then(|date| date.plus_days(days)) {
            Some(date) => format!("; half full {date}"),
            None => format!("; half full {}", days_words(days)),
        }
    });
    Some(format!("by rule, full bottle{span}, unused{half}"))
}

/// Never a note that is all there is to know: its place would be taken by `not known`.
fn leaves_out_keeping_note(label: &Label, length: Length) -> bool {
    length >= Length::Least
        && label.keeping.note.is_some()
        && (keeping_figures(&label.keeping).is_some() || label.by_rule.is_some())
}

/// By what the day is told, and of what bottle.
fn basis(label: &Label, length: Length) -> String {
    let keeping = &label.keeping;
    let note = keeping.note.as_deref().filter(|_| !leaves_out_keeping_note(label, length));
    let note = note.map(|note| note.trim_end_matches('.').to_owned());
    let mut words: Vec<String> = rule_words(label).into_iter().collect();
    // The date above says the span, and where there is none it stands there itself.
    if keeping.full_bottle_days.is_some() {
        words.push("stated, full bottle, unused".to_owned());
    }
    if let Some(days) = keeping.half_bottle_days {
        words.push(match label.mixed.and_then(|date| date.plus_days(days)) {
            Some(date) => format!("half full {date}"),
            None => format!("half full {}", days_words(days)),
        });
    }
    let open = crate::formula::Keeping { full_bottle_days: None, half_bottle_days: None, ..keeping.clone() };
    words.extend(keeping_figures(&open));
    let note = note.map(|note| if words.is_empty() { note } else { uncapital(&note) });
    words.into_iter().chain(note).collect::<Vec<_>>().join("; ")
}

/// A sentence that goes on after a semicolon; the name of a part or an abbreviation stays as it is.
fn uncapital(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if first.is_uppercase() && second.is_lowercase() => {
            first.to_lowercase().chain(text.chars().skip(1)).collect()
        }
        _ => text.to_owned(),
    }
}
