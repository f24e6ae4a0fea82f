//! The answer of `safety`: formulas used one after another, in short and in full.

use super::words::{
    bath_words, caution_block, general, objection_block, powder_facts, refusal_block, special_block,
    wear_words,
};
use crate::bench::{BenchSheet, Minded};
use crate::formula::Formula;
use crate::mixing::{Review, SequenceReview};
use crate::render::show::use_words;
use crate::render::{CautionBlock, Column, Document, capital};
use crate::safety::{BetweenCaution, Caution, Filling, GasRelease, Severity, SpecialBox};
use crate::substance::Signal;

/// What is said of baths that have nothing against each other.
const QUIET_ORDER: &str = "Nothing is known against this order. Rinse or drain between baths all the same.";

/// What can hurt in a sequence: only what there is, and how to read the rest.
///
/// `formulas` are the same in their order, for where they come from; `before_opening` is what must be read before a jar is opened; `benches` are
/// their sheets, for what those say to mind and never to do.
pub(crate) fn sequence_in_short(
    sequence: &SequenceReview,
    formulas: &[&Formula],
    before_opening: &[String],
    benches: &[BenchSheet],
) -> Document {
    let mut document = head(sequence, formulas, before_opening);
    let grave = |caution: &&Caution| caution.severity >= Severity::Warning;
    let mut between: Vec<_> = sequence.between.iter().filter(|own| grave(&&own.caution)).collect();
    between.sort_by_key(|own| std::cmp::Reverse(own.caution.severity));
    for own in between {
        document.blocks.push(crate::render::Block::Caution(between_block(own, sequence)));
    }
    // What harms only the film is a line, and still what was asked.
    let notes = sequence.between.iter().filter(|own| !grave(&&own.caution));
    document.list(notes.map(|notes| format!("{}: {}", place(notes), notes.caution.text)).collect());
    for (id, review) in &sequence.formulas {
        let vessels = review.parts.iter().chain(&review.baths);
        let cautions = review.dry.iter().chain(vessels.flat_map(|vessel| vessel.outcome.iter().flatten()));
        let mut told: Vec<&str> = Vec::new();
        for caution in cautions.filter(grave) {
            if !told.contains(&caution.id.as_str()) {
                told.push(&caution.id);
                document.blocks.push(crate::render::Block::Caution(caution_block(caution)));
            }
        }
        let mut lines = benches.iter().find(|bench| bench.id == *id).map_or_else(Vec::new, minded);
        lines.extend(review.own.iter().cloned());
        if !lines.is_empty() {
            document.heading(format!("{id}: mind"));
            document.list(lines);
        }
    }
    if sequence.baths.len() > 1 && sequence.between.is_empty() {
        document.paragraph(QUIET_ORDER);
    }
    let mut facts = vec![("wear".to_owned(), wear_words(&sequence.general))];
    facts.extend(sequence.general.ventilation().map(|air| ("air".to_owned(), air)));
    let gas = GasRelease::label_lines(&sequence.general.gases, false);
    if !gas.is_empty() {
        facts.push(("gas".to_owned(), gas.join(" ")));
    }
    let mut weighed: Vec<&str> = Vec::new();
    for powder in sequence.formulas.iter().flat_map(|(_, review)| &review.powders) {
        if powder.signal == Some(Signal::Danger) && !weighed.contains(&powder.name.as_str()) {
            weighed.push(&powder.name);
        }
    }
    if !weighed.is_empty() {
        facts.push(("danger as weighed".to_owned(), weighed.join(", ")));
    }
    // The bottles, which are stronger, before the baths made of them.
    for (id, review) in &sequence.formulas {
        let is_bath = |vessel: &crate::mixing::VesselReview| {
            let is_it = |own: &crate::mixing::SequenceBath| own.hazards.as_ref() == Some(&vessel.bath);
            sequence.baths.iter().any(is_it)
        };
        let strong = review.parts.iter().filter(|part| part.bath.signal.is_some() && !is_bath(part));
        facts.extend(strong.map(|own| (format!("{id}, bottle {}", own.name), own.bath.summary())));
    }
    for bath in &sequence.baths {
        let classed = bath.hazards.as_ref().filter(|hazards| hazards.signal.is_some());
        facts.extend(classed.map(|own| (bath.bath.name.clone(), own.summary())));
    }
    document.facts(facts);
    document.paragraph(
        "With --full: every statement, what must not stand beside it, first aid, waste. Local rules and licensed practice decide.",
    );
    document
}

/// What a sheet says to mind, what has no room on it too, and never to do.
fn minded(bench: &BenchSheet) -> Vec<String> {
    let mind: Vec<String> = bench.mind.iter().chain(&bench.mind_more).map(Minded::words).collect();
    let never = (!bench.never.is_empty()).then(|| format!("Never {}.", bench.never));
    let mind = (!mind.is_empty()).then(|| capital(&format!("{}.", mind.join(" · "))));
    mind.into_iter().chain(never).collect()
}

/// The whole sequence as a document.
///
/// `formulas` are the same in their order, for the times of their uses; `before_opening` is what must be read before a jar is opened.
pub(crate) fn sequence_document(
    sequence: &SequenceReview,
    formulas: &[&Formula],
    before_opening: &[String],
) -> Document {
    let mut document = head(sequence, formulas, before_opening);
    between(&mut document, sequence);
    times(&mut document, formulas);
    for (id, review) in &sequence.formulas {
        formula(&mut document, id, review);
    }
    general(&mut document, &sequence.general);
    document
}

/// The title, what is refused, the boxes, and what must be read before a jar is opened.
fn head(sequence: &SequenceReview, formulas: &[&Formula], before_opening: &[String]) -> Document {
    let mut document = Document::new();
    let named: Vec<&str> = sequence.formulas.iter().map(|(id, _)| id.as_str()).collect();
    document.title(format!("Safety: {}", named.join(", ")));
    let mut own: Vec<(String, String)> = Vec::new();
    for formula in formulas {
        let facts = crate::render::origin::facts(formula);
        let named = facts.into_iter().map(|(label, words)| {
            if label == "origin" { (formula.id.clone(), words) } else { (label, words) }
        });
        own.extend(named);
    }
    own.dedup();
    document.facts(own);
    for (id, objection) in sequence.objections() {
        document.paragraph(format!("{id}:"));
        document.blocks.push(crate::render::Block::Caution(objection_block(objection)));
    }
    let mut boxes: Vec<&SpecialBox> = Vec::new();
    for special in sequence.formulas.iter().flat_map(|(_, review)| &review.boxes) {
        if !boxes.iter().any(|special_box| special_box.id == special.id) {
            boxes.push(special);
            document.blocks.push(crate::render::Block::Caution(special_block(special)));
        }
    }
    if !before_opening.is_empty() {
        document.heading("Before a jar is opened");
        document.list(before_opening.to_vec());
    }
    document
}

/// A caution between two baths, with which they are.
fn between_block(caution: &BetweenCaution, sequence: &SequenceReview) -> CautionBlock {
    let mut block = caution_block(&caution.caution);
    let name = |index: usize| sequence.baths.get(index).map_or("", |bath| bath.bath.name.as_str());
    block
        .lines
        .insert(0, format!("{}: {} and {}.", place(caution), name(caution.earlier), name(caution.later)));
    block
}

/// Which baths: `1 to 2`, or that they only share a sink.
fn place(caution: &BetweenCaution) -> String {
    let (earlier, later) = (caution.earlier + 1, caution.later + 1);
    if caution.is_next {
        format!("{earlier} to {later}")
    } else {
        format!("{earlier} and {later}, not neighbours, but in one sink or waste bottle")
    }
}

/// The baths in order, and what stands between them.
fn between(document: &mut Document, sequence: &SequenceReview) {
    document.heading("The baths in order");
    let rows = sequence
        .baths
        .iter()
        .enumerate()
        .map(|(index, own)| {
            let never =
                if own.never_beside.is_empty() { "-".to_owned() } else { own.never_beside.join("; ") };
            let never = if own.bath.is_wash() { "-".to_owned() } else { never };
            vec![(index + 1).to_string(), own.bath.name.clone(), never]
        })
        .collect();
    let columns =
        vec![Column::right(""), Column::left("bath"), Column::left("never before or after, without a wash")];
    document.table(columns, rows);
    if sequence.baths.len() < 2 {
        return;
    }
    document.heading("Between the baths");
    for own in &sequence.between {
        document.blocks.push(crate::render::Block::Caution(between_block(own, sequence)));
    }
    if sequence.between.is_empty() {
        document.paragraph(QUIET_ORDER);
    }
}

/// How long in which bath, where a formula gives it.
fn times(document: &mut Document, formulas: &[&Formula]) {
    let rows = formulas
        .iter()
        .map(|formula| {
            let known: Vec<String> = formula
                .uses
                .iter()
                .filter(|listed_use| listed_use.minutes.is_some())
                .map(|listed_use| format!("{}: {}", listed_use.name, use_words(listed_use)))
                .collect();
            let words = if known.is_empty() { crate::doubt::NOT_KNOWN.to_owned() } else { known.join("; ") };
            (formula.id.clone(), words)
        })
        .collect();
    document.heading("Times in the baths");
    document.facts(rows);
}

/// Weighing, mixing, and the solutions of one formula.
fn formula(document: &mut Document, id: &str, review: &Review) {
    if !review.own.is_empty() {
        document.heading(format!("{id}: mind"));
        document.list(review.own.clone());
    }
    document.heading(format!("{id}: while weighing"));
    document.facts(powder_facts(&review.powders));
    for caution in &review.dry {
        document.blocks.push(crate::render::Block::Caution(caution_block(caution)));
    }
    for vessel in review.parts.iter().chain(&review.baths) {
        let blocks: Vec<CautionBlock> = match &vessel.outcome {
            Ok(cautions) => cautions.iter().map(caution_block).collect(),
            Err(refusal) => vec![refusal_block(refusal)],
        };
        if !blocks.is_empty() {
            let what = match vessel.filling {
                Filling::FromChemicals => "while mixing",
                Filling::FromParts => "pouring together for",
            };
            document.heading(format!("{id}: {what} {}", vessel.name));
            document.blocks.extend(blocks.into_iter().map(crate::render::Block::Caution));
        }
    }
    document.heading(format!("{id}: the solutions"));
    let mut facts: Vec<(String, String)> = Vec::new();
    for vessel in review.parts.iter().chain(&review.baths) {
        let words = bath_words(&vessel.bath);
        match facts.iter_mut().find(|(_, own)| *own == words) {
            Some((names, _)) => *names = format!("{names}; {}", vessel.name),
            None => facts.push((vessel.name.clone(), words)),
        }
    }
    document.facts(facts);
}
