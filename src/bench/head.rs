//! The head of the page: name, evidence, what to wear, to mind, never to do, and what to read before a jar is opened.

use super::Minded;
use super::material::{Material, MaterialPowder};
use super::words::{BenchWords, GasRow};
use crate::formula::Cautions;
use crate::safety::Air;
use crate::substance::{Class, Form, Signal, State};

/// Most letters of MIND that are meant to stand on the page: two lines of a terminal.
const MIND_LETTERS: usize = 140;

/// A short name and what the title says besides: `MQ borax developer` and `100 g sulfite`.
pub fn short_name(title: &str) -> (String, Option<String>) {
    let (name, rest) = match title.split_once(", ") {
        Some((name, rest)) => (name, Some(rest.trim().to_owned())),
        None => (title, None),
    };
    let mut name = name.trim().to_owned();
    for (long, short) in [
        ("Metol-hydroquinone", "MQ"),
        ("metol-hydroquinone", "MQ"),
        ("Phenidone-hydroquinone", "PQ"),
        ("phenidone-hydroquinone", "PQ"),
    ] {
        name = name.replace(long, short);
    }
    (name, rest)
}

/// The longest name that stands beside the batch in a line, letters.
const NAME_LETTERS: usize = 38;

/// The name at the head of the page: where [`short_name`] has no line for it, what it is made with goes to the remark.
pub(super) fn page_name(title: &str) -> (String, Option<String>) {
    let (name, remark) = short_name(title);
    if name.chars().count() <= NAME_LETTERS {
        return (name, remark);
    }
    let Some((head, rest)) = [" with ", " of "].iter().find_map(|word| {
        let at = name.find(word).filter(|at| *at >= 8)?;
        Some(name.split_at(at))
    }) else {
        return (name, remark);
    };
    let told = [Some(rest.trim().to_owned()), remark].into_iter().flatten().collect::<Vec<_>>().join(", ");
    (head.to_owned(), Some(told))
}

/// Formula and chemicals that are the user's own, with where they come from.
pub(super) fn origin(material: &Material<'_>) -> Vec<String> {
    let items = material.parts.iter().flat_map(|part| &part.items).map(|item| &*item.form);
    let solvents = material.parts.iter().filter_map(|part| part.solvent.as_deref());
    let mut lines: Vec<String> = material.formula.origin_words().into_iter().collect();
    for line in items.chain(solvents).filter_map(Form::origin_words) {
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}

/// What must be told before anything else.
pub(super) fn stop(material: &Material<'_>, missing: &[String]) -> Vec<String> {
    let mut stop: Vec<String> = material
        .parts
        .iter()
        .filter_map(|part| part.too_small.as_ref())
        .map(|text| format!("DO NOT MIX THIS BATCH: {text}"))
        .collect();
    if !missing.is_empty() {
        stop.push(format!("NOT ON THE SHELF: {}. Do not begin.", missing.join(", ")));
    }
    stop
}

/// What the formula itself warns of, and what must not stand side by side; advice to take another formula, to collect
/// the waste, and what the source does are for the other side.
pub(super) fn cautions(material: &Material<'_>, own: &Cautions) -> Vec<String> {
    let own = own.at_the_bench().cloned();
    let dry = material.dry.iter().filter(|mark| mark.is_grave).map(|mark| mark.text.clone());
    let mut all: Vec<String> = Vec::new();
    for text in own.chain(dry) {
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}

/// `nitrile gloves, goggles, dust mask; window open`.
pub(super) fn wear(material: &Material<'_>, words: &BenchWords) -> String {
    let air = words.air();
    let air = match material.air {
        Air::None => return material.wear.clone(),
        Air::Open => &air.open,
        Air::Gas => &air.gas,
        Air::Closed => &air.closed,
    };
    format!("{}; {air}", material.wear)
}

/// The name of a chemical where its hydrate or strength does not matter.
fn plain_name(form: &Form) -> &str {
    let parent = &form.parent.name;
    if parent.chars().count() <= form.bench_name.chars().count() { parent } else { &form.bench_name }
}

/// What each chemical does, grouped by phrase, worst first; what has no room and is no danger goes to the other side.
pub(super) fn mind(material: &Material<'_>, words: &BenchWords) -> (Vec<Minded>, Vec<Minded>) {
    let mut groups: Vec<(usize, bool, Minded)> = Vec::new();
    for (rank, row) in words.mind().iter().enumerate() {
        let of_row = |powder: &&MaterialPowder| {
            powder.codes.iter().any(|code| row.has(code))
                || row.classes.iter().any(|class| powder.form.is_class_named(class))
        };
        let mut names: Vec<String> = Vec::new();
        let mut is_danger = false;
        // What is told before a jar is opened is not told again.
        if row.opening.is_none() {
            for powder in material.powders.iter().filter(of_row) {
                is_danger |= powder.signal == Some(Signal::Danger);
                let name = plain_name(&powder.form).to_owned();
                if !names.contains(&name) {
                    names.push(name);
                }
            }
        }
        if !names.is_empty() {
            groups.push((rank, is_danger, Minded { phrase: row.phrase.clone(), names }));
        }
    }
    let bath: Vec<Minded> = bath(material, words);
    let unknown: Vec<String> = material
        .powders
        .iter()
        .filter(|powder| powder.is_unknown)
        .map(|powder| plain_name(&powder.form).to_owned())
        .collect();
    if !unknown.is_empty() {
        groups.push((usize::MAX, false, Minded { phrase: "hazard not known".to_owned(), names: unknown }));
    }
    let length = |minded: &Minded| minded.words().chars().count() + 3;
    let mut letters: usize = bath.iter().map(length).sum();
    let mut named: Vec<String> = Vec::new();
    let mut kept = vec![false; groups.len()];
    // First every danger by its worst word, then each chemical that has no word yet, then what else there is room for.
    for pass in 0..3 {
        for ((rank, is_danger, group), kept) in groups.iter().zip(&mut kept) {
            // What nobody knows gives way to what is known.
            let is_new = *rank < usize::MAX && group.names.iter().any(|name| !named.contains(name));
            let wanted = match pass {
                0 => *is_danger && is_new,
                1 => is_new,
                _ => true,
            };
            if *kept || !wanted || pass > 0 && letters + length(group) > MIND_LETTERS {
                continue;
            }
            *kept = true;
            letters += length(group);
            named.extend(group.names.iter().cloned());
        }
    }
    let (mut told, mut more) = (bath, Vec::new());
    for ((_, _, group), kept) in groups.into_iter().zip(kept) {
        if kept { told.push(group) } else { more.push(group) }
    }
    (said_together(told), more)
}

/// What is said of the very same chemicals is said in one breath: `cancer, harms genes: potassium dichromate`.
fn said_together(groups: Vec<Minded>) -> Vec<Minded> {
    let mut told: Vec<Minded> = Vec::new();
    for group in groups {
        match told.iter_mut().find(|own| !own.names.is_empty() && own.names == group.names) {
            Some(own) => own.phrase = format!("{}, {}", own.phrase, group.phrase),
            None => told.push(group),
        }
    }
    told
}

/// What the finished baths do that none of their chemicals is said to do.
fn bath(material: &Material<'_>, words: &BenchWords) -> Vec<Minded> {
    let mut told = Vec::new();
    for part in &material.parts {
        // What is milder than damage to eyes is told of the chemicals, not of the bath.
        let grave = words.mind().iter().position(|row| row.id == "fire").unwrap_or(usize::MAX);
        for row in words.mind().iter().take(grave) {
            let is_in_bath = part.bath_codes.iter().any(|code| row.has(code));
            let is_in_powder =
                material.powders.iter().any(|powder| powder.codes.iter().any(|code| row.has(code)));
            let minded = Minded { phrase: row.bath.clone(), names: Vec::new() };
            if is_in_bath && !is_in_powder && !told.contains(&minded) {
                told.push(minded);
            }
        }
    }
    told
}

/// Most letters of NEVER: a line of a terminal.
const NEVER_LETTERS: usize = 72;

/// What must never go into it: the gravest, and what of the others stands on the same line.
pub(super) fn never(material: &Material<'_>, words: &BenchWords) -> String {
    let items = material.parts.iter().flat_map(|part| &part.items).map(|item| &*item.form);
    let solvents = material.parts.iter().filter_map(|part| part.solvent.as_deref());
    let forms: Vec<&Form> = items.chain(solvents).collect();
    let mut line = String::new();
    for phrase in words.never(&forms) {
        let phrase = beyond_what_is_weighed(phrase, &forms);
        if line.is_empty() {
            line = phrase;
        } else if line.chars().count() + phrase.chars().count() + 3 <= NEVER_LETTERS {
            line.push_str(" · ");
            line.push_str(&phrase);
        }
    }
    line
}

/// `more acid into it` where a step weighs an acid: what a step tells to do, no line forbids.
fn beyond_what_is_weighed(phrase: &str, forms: &[&Form]) -> String {
    let is_named = |form: &Form, named: &str| match named {
        "hydrochloric acid" => form.parent.id == "hydrochloric-acid",
        "strong acid" => form.is_class(&Class::StrongAcid),
        _ => form.parent.name.ends_with(" acid"),
    };
    let has = |named: &str| forms.iter().any(|form| is_named(form, named));
    let named = ["hydrochloric acid", "strong acid", "acid"].into_iter().find(|named| phrase.contains(named));
    match named.filter(|named| phrase.ends_with(" into it") && has(named)) {
        Some(named) => phrase.replacen(named, &format!("more {named}"), 1),
        None => phrase.to_owned(),
    }
}

/// What must be read before a jar is opened: special boxes, then poisons that no box names.
pub(super) fn opening(material: &Material<'_>, words: &BenchWords) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for own in &material.boxes {
        let line = words.opening(&own.id, &own.title).to_owned();
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    let boxed = lines.join(" ").to_lowercase();
    let mut groups: Vec<((String, bool), Vec<String>)> = Vec::new();
    for powder in &material.powders {
        let rows = powder.codes.iter().filter_map(|code| words.mind_row(code));
        let Some((_, row)) = rows.filter(|(_, row)| row.opening.is_some()).min_by_key(|(rank, _)| *rank)
        else {
            continue;
        };
        let word = (row.opening.clone().unwrap_or_default(), powder.form.state == State::Solid);
        let name = plain_name(&powder.form).to_owned();
        match groups.iter_mut().find(|(own, _)| *own == word) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => groups.push((word, vec![name])),
        }
    }
    let rank = |word: &str| words.mind().iter().position(|row| row.opening.as_deref() == Some(word));
    groups.sort_by_key(|((word, _), _)| rank(word));
    let is_boxed = |names: &[String]| {
        names.iter().all(|name| {
            let last = name.rsplit(' ').next().unwrap_or(name).to_lowercase();
            boxed.contains("poison") && (boxed.contains(&last) || last.contains("dichromate"))
        })
    };
    lines.extend(groups.into_iter().filter(|(_, names)| !is_boxed(names)).map(
        |((word, is_solid), names)| {
            // A dust mask holds back no vapour.
            let what = if is_solid {
                "Mask and gloves on; raise no dust."
            } else {
                "Gloves on; moving air, no mask helps."
            };
            format!("{word}: {}. {what}", names.join(", "))
        },
    ));
    lines
}

/// The lines of gases that can come off, by the cautions.
pub(super) fn gases(material: &Material<'_>, words: &BenchWords) -> Vec<GasRow> {
    words.gases(&material.gases)
}
