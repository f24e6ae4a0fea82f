//! A formula as a card in words: composition, source, use, keeping, hazards.

use super::figures::{amount_words, capacity_words, keeping_words, moles_words, range_words, use_words};
use crate::formula::{Formula, Ingredient, Part};
use crate::quantity::rounding::show_short;
use crate::render::{Column, Document};

/// What the card adds to the formula itself.
#[derive(Debug, Clone, Default)]
pub(crate) struct CardExtras {
    /// Hazard lines, substance by substance.
    pub hazards: Vec<String>,
    /// Prediction lines.
    pub prediction: Vec<(String, String)>,
    /// What one would see.
    pub seen: Vec<(String, String)>,
}

pub(crate) fn card_document(formula: &Formula, extras: &CardExtras) -> Document {
    let mut document = Document::new();
    document.title(&formula.title);
    document.paragraph(&formula.summary);
    if !extras.seen.is_empty() {
        document.heading("What you would see");
        document.facts(extras.seen.clone());
    }
    for part in &formula.parts {
        let heading =
            part.name.as_ref().map_or_else(|| "Composition".to_owned(), |name| format!("Part {name}"));
        document.heading(format!("{heading}, per litre as bottled"));
        composition_table(&mut document, part);
    }
    if !formula.uses.is_empty() {
        document.heading("Use");
        document.facts(
            formula.uses.iter().map(|listed_use| (listed_use.name.clone(), use_words(listed_use))).collect(),
        );
    }
    let cautions: Vec<String> = formula.cautions.all().cloned().collect();
    if !cautions.is_empty() {
        document.caution("CAUTION", cautions);
    }
    document.fine_print(|document| {
        document.heading("Where it comes from");
        document.facts(header_facts(formula));
        document_figures(document, formula);
        if !extras.prediction.is_empty() {
            document.heading("Predicted");
            document.facts(extras.prediction.clone());
        }
        if !extras.hazards.is_empty() {
            document.heading("Hazards of the chemicals");
            document.list(extras.hazards.clone());
        }
    });
    document
}

/// All evidence of a formula for its card on paper, the weightiest first.
pub(in crate::render) fn evidence_facts(formula: &Formula) -> Vec<(String, String)> {
    let first = ["evidence", "source", "doubt", "note"];
    let (mut facts, rest): (Vec<_>, Vec<_>) = header_facts(formula)
        .into_iter()
        .filter(|(label, _)| !["id", "kind"].contains(&label.as_str()))
        .partition(|(label, _)| first.contains(&label.as_str()));
    facts.extend(part_notes(formula));
    facts.extend(figures(formula));
    facts.extend(rest);
    facts
}

/// What is noted of parts and chemicals, each part in one fact.
fn part_notes(formula: &Formula) -> Vec<(String, String)> {
    let of = |part: &Part| {
        let notes = composition_notes(part);
        let label =
            part.name.as_ref().map_or_else(|| "composition".to_owned(), |name| format!("part {name}"));
        (!notes.is_empty()).then(|| (label, notes.join("; ")))
    };
    formula.parts.iter().filter_map(of).collect()
}

/// All chemicals in mol/L on one line.
pub(in crate::render) fn moles_line(formula: &Formula) -> Option<String> {
    let words: Vec<String> = formula
        .ingredients()
        .map(|ingredient| format!("{} {}", ingredient.form.bench_name, molarity_words(ingredient)))
        .collect();
    (!words.is_empty()).then(|| words.join(" · "))
}

fn header_facts(formula: &Formula) -> Vec<(String, String)> {
    let mut facts = vec![
        ("id".to_owned(), formula.id.clone()),
        ("kind".to_owned(), formula.kind.words()),
        ("evidence".to_owned(), formula.trust_words()),
    ];
    facts.extend(formula.evidence.source.iter().map(|source| ("source".to_owned(), source.clone())));
    facts.extend(crate::render::origin::facts(formula));
    let mut push = |label: &str, value: &Option<String>| {
        if let Some(value) = value {
            facts.push((label.to_owned(), value.clone()));
        }
    };
    push("lead, not opened", &formula.evidence.lead);
    push("doubt", &formula.evidence.doubt);
    push("variant of", &formula.variant_of);
    push("note", &formula.note);
    if !formula.aliases.is_empty() {
        facts.push(("also called".to_owned(), formula.aliases.join(", ")));
    }
    if !formula.replenishes.is_empty() {
        facts.push(("replenishes".to_owned(), formula.replenishes.join(", ")));
    }
    if !formula.partners.is_empty() {
        facts.push(("used with".to_owned(), formula.partners.join(", ")));
    }
    facts
}

fn composition_table(document: &mut Document, part: &Part) {
    let columns = vec![
        Column::left("substance"),
        Column::right("per litre"),
        Column::right("mol/L"),
        Column::left("role"),
    ];
    let rows = part
        .ingredients
        .iter()
        .map(|ingredient| {
            let mut name = ingredient.form.name.clone();
            if ingredient.optional {
                name.push_str(" (optional)");
            }
            let role = ingredient.form.parent.roles.first().map_or("", |role| role.word());
            vec![name, amount_words(ingredient), molarity_words(ingredient), role.to_owned()]
        })
        .collect();
    document.table(columns, rows);
    let solvent = part.solvent.iter().map(|own| format!("made up with {}, not with water", own.name));
    let mut notes: Vec<String> = solvent.collect();
    notes.extend(composition_notes(part));
    for ingredient in &part.ingredients {
        if let Some(until) = &ingredient.until {
            notes.push(format!("{}: only until {until}", ingredient.form.name));
        }
    }
    document.list(notes);
}

/// What the source says of a part and its chemicals besides their amounts.
fn composition_notes(part: &Part) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(part.note.clone());
    for ingredient in &part.ingredients {
        if let Some(historical) = &ingredient.historical {
            notes.push(format!("{}: {historical} in the source", ingredient.form.name));
        }
        if let Some(note) = &ingredient.note {
            notes.push(format!("{}: {note}", ingredient.form.name));
        }
    }
    notes
}

/// mol/L of the form.
fn molarity_words(ingredient: &Ingredient) -> String {
    let moles = crate::vessel::Content::from(ingredient).moles_per_litre();
    moles.map_or_else(|| crate::doubt::NOT_KNOWN.to_owned(), moles_words)
}

fn document_figures(document: &mut Document, formula: &Formula) {
    let facts = figures(formula);
    if facts.is_empty() {
        return;
    }
    document.heading("Keeping and figures");
    document.facts(facts);
}

/// Keeping, capacity and what else the source gives figures of.
fn figures(formula: &Formula) -> Vec<(String, String)> {
    let mut facts = Vec::new();
    for part in &formula.parts {
        if let Some(words) = keeping_words(&part.keeping) {
            let label =
                part.name.as_ref().map_or_else(|| "keeping".to_owned(), |name| format!("keeping of {name}"));
            facts.push((label, words));
        }
    }
    if let Some(words) = capacity_words(formula) {
        facts.push(("capacity".to_owned(), words));
    }
    if let Some(replenishment) = &formula.replenishment {
        let mut words = format!("with {}", replenishment.with);
        if let Some(ml) = replenishment.ml_per_roll {
            words.push_str(&format!(", {} mL per film of 516 cm²", show_short(ml, 1)));
        }
        if let Some(note) = &replenishment.note {
            words.push_str(&format!("; {note}"));
        }
        if let Some(source) = &replenishment.source {
            words.push_str(&format!(" [{source}]"));
        }
        facts.push(("replenish".to_owned(), words));
    }
    if let Some((low, high)) = formula.stated.ph {
        let source = formula.stated.source.as_ref().map_or_else(String::new, |source| format!(" [{source}]"));
        let note = formula.stated.note.as_ref().map_or_else(String::new, |note| format!(". {note}"));
        facts.push(("stated pH".to_owned(), format!("{}{source}{note}", range_words(low, high))));
    }
    for part in &formula.parts {
        let mixing = &part.mixing;
        if mixing.order.is_empty() {
            continue;
        }
        let label = part
            .name
            .as_ref()
            .map_or_else(|| "published order".to_owned(), |name| format!("published order of {name}"));
        let note = mixing.order_note.as_ref().map_or_else(String::new, |note| format!(" ({note})"));
        facts.push((label, format!("{}{note}", mixing.order.join(", "))));
    }
    facts
}
