//! The mixing sheet as a document: what a person holds at the bench.

use std::iter;

use super::batch::{name_words, remarks, take_words};
use super::card::{capacity_words, use_words};
use super::label::{heading, lines_in_full};
use super::made_first::{MadeFirst, made_first};
use super::predict::{exchange_lines, finish_line};
use super::safety::{caution_block, powder_line, severity_word, special_block, wear_words};
use super::{Block, CautionBlock, Document, StepBlock, WeighRow};
use crate::formula::{FinishedIn, Part};
use crate::label::labels;
use crate::quantity::rounding::{show_decimals, show_short, show_significant, show_step};
use crate::safety::PowderHazard;
use crate::scale::dose::{PIPETTE_BELOW_ML, measuring_step_ml};
use crate::scale::{Item, Unit};
use crate::sequence::{Action, Step};
use crate::sheet::{ExpectedPh, MixingSheet, SheetPart, SheetStep};

/// The sheet.
pub fn sheet_document(sheet: &MixingSheet) -> Document {
    let mut document = Document::new();
    document.title(title(sheet));
    header(&mut document, sheet);
    boxes(&mut document, sheet);
    before(&mut document, sheet);
    document.heading("If something gets on you or in the air");
    document.list(sheet.review.general.exposure.clone());
    make_first(&mut document, sheet);
    for (index, part) in sheet.parts.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| sheet.parts.get(before));
        part_steps(&mut document, part, before, sheet);
    }
    if !sheet.ph_changes.is_empty() {
        document.caution("NOTE", exchange_lines(&sheet.ph_changes));
    }
    use_section(&mut document, sheet);
    document.fine_print(|document| {
        label(document, sheet);
        afterwards(document, sheet);
    });
    document.fine_print(|document| {
        full_statements(document, &sheet.review.powders);
        document.paragraph(&sheet.review.general.closing);
    });
    document
}

fn title(sheet: &MixingSheet) -> String {
    let volumes: Vec<String> = sheet
        .parts
        .iter()
        .map(|part| match &part.batch.name {
            Some(name) => format!("{} of {name}", part.batch.volume),
            None => part.batch.volume.to_string(),
        })
        .collect();
    format!("{}: {}", sheet.formula.title, volumes.join(" and "))
}

fn header(document: &mut Document, sheet: &MixingSheet) {
    let formula = &sheet.formula;
    let mut facts =
        vec![("formula".to_owned(), formula.id.clone()), ("evidence".to_owned(), evidence_words(sheet))];
    if let Some(doubt) = &formula.evidence.doubt {
        facts.push(("doubt".to_owned(), doubt.clone()));
    }
    let taken = items(sheet).map(|item| item.form.as_ref());
    facts.extend(super::origin::facts_of_batch(formula, taken));
    if let Some(form) = &sheet.batch.limited_by {
        facts.push(("limited by".to_owned(), form.name.clone()));
    }
    facts.push(("balance".to_owned(), format!("shows {} g", show_short(sheet.batch.balance.step_g, 4))));
    document.fine_print(|document| document.facts(facts));
    document.blocks.push(Block::Blank("Mixed on, by:".to_owned()));
}

/// The evidence without the long citation, which stands at the end.
fn evidence_words(sheet: &MixingSheet) -> String {
    use crate::formula::EvidenceKind;
    match sheet.formula.evidence.kind {
        EvidenceKind::Published => "published (source at the end)".to_owned(),
        _ => sheet.formula.evidence.to_string(),
    }
}

fn boxes(document: &mut Document, sheet: &MixingSheet) {
    let too_small: Vec<String> = sheet.parts.iter().filter_map(|part| part.too_small.clone()).collect();
    if !too_small.is_empty() {
        document.caution("DO NOT MIX THIS BATCH", too_small);
    }
    document.blocks.extend(sheet.review.boxes.iter().map(|own| Block::Caution(special_block(own))));
    if !sheet.formula.cautions.is_empty() {
        document.caution("CAUTION", sheet.formula.cautions.clone());
    }
}

fn before(document: &mut Document, sheet: &MixingSheet) {
    document.heading("Before you begin");
    let mut facts = Vec::new();
    facts.push(("wear".to_owned(), wear_words(&sheet.review.general)));
    if let Some(air) = &sheet.review.general.ventilation {
        facts.push(("air".to_owned(), air.clone()));
    }
    facts.push(("have ready".to_owned(), ready_words(sheet)));
    facts.push((
        "powders".to_owned(),
        "One jar open at a time, its name on every paper. Tip in low, no dust. Wipe spills up wet, never sweep."
            .to_owned(),
    ));
    document.facts(facts);
    document.list(sheet.review.powders.iter().map(powder_line).collect());
    document.blocks.extend(sheet.review.dry.iter().map(|own| Block::Caution(caution_block(own))));
    let notes: Vec<String> = [sheet.formula.note.clone()].into_iter().flatten().collect();
    document.list(notes);
}

/// What must stand on the bench; common practice, no source.
fn ready_words(sheet: &MixingSheet) -> String {
    let largest = sheet.parts.iter().map(|part| part.batch.volume.as_ml()).fold(0.0, f64::max);
    let steps = || sheet.parts.iter().flat_map(|part| &part.steps);
    let mut ready =
        vec![format!("a vessel of {} mL or more", show_short((largest * 1.5 / 50.0).ceil() * 50.0, 0))];
    if steps().any(|step| step.step.action == Action::DissolveApart) {
        ready.push("a second one of heat-proof glass or plastic".to_owned());
    }
    ready.extend(["balance".to_owned(), "measuring cylinder".to_owned()]);
    let is_for_pipette = |step: &SheetStep| {
        step.step.unit == Some(Unit::Millilitre)
            && step.step.amount.is_some_and(|amount| amount < PIPETTE_BELOW_ML)
    };
    if steps().any(is_for_pipette) {
        ready.push("syringe or pipette".to_owned());
    }
    ready.extend(["thermometer".to_owned(), "stirrer".to_owned()]);
    let (bottled, open): (Vec<_>, Vec<_>) =
        sheet.parts.iter().partition(|part| part.ends_in == FinishedIn::Bottle);
    let names: Vec<&str> = bottled.iter().filter_map(|part| part.batch.name.as_deref()).collect();
    match (bottled.len(), names.as_slice()) {
        (0, _) => {}
        (_, [] | [_]) => ready.push("clean bottle".to_owned()),
        (_, names) => ready.push(format!("a clean bottle for each part ({})", names.join(", "))),
    }
    if !open.is_empty() {
        ready.push("an open tray: it is never bottled".to_owned());
    }
    let first = made_first(items(sheet), sheet.batch.balance);
    let solutions: Vec<&str> = first.iter().map(|own| own.name.as_str()).collect();
    if !solutions.is_empty() {
        ready.push(format!("a bottle for each percent solution ({})", solutions.join("; ")));
    }
    let own_solvents = sheet.formula.parts.iter().filter_map(|part| part.solvent.as_ref());
    let mut solvents: Vec<&str> = own_solvents.map(|form| form.name.as_str()).collect();
    solvents.extend(first.iter().map(|own| own.solvent.as_str()).filter(|solvent| *solvent != "water"));
    solvents.sort_unstable();
    solvents.dedup();
    ready.extend(solvents.into_iter().map(str::to_owned));
    format!("{}; full room light; nothing that is used for food", ready.join(", "))
}

fn items(sheet: &MixingSheet) -> impl Iterator<Item = &Item> {
    sheet.parts.iter().flat_map(|part| &part.batch.items)
}

/// The percent solutions that the batch takes, with tick boxes of their own.
fn make_first(document: &mut Document, sheet: &MixingSheet) {
    let first = made_first(items(sheet), sheet.batch.balance);
    if first.is_empty() {
        return;
    }
    document.heading("Make first, or have from last time");
    document.weighing(first.iter().flat_map(MadeFirst::rows).collect());
    document.list(first.iter().filter_map(MadeFirst::remark).collect());
}

fn part_steps(document: &mut Document, part: &SheetPart, before: Option<&SheetPart>, sheet: &MixingSheet) {
    let of = part.batch.name.as_ref().map_or_else(String::new, |name| format!(" part {name}"));
    let step_g = sheet.batch.balance.step_g;
    document.heading(format!("Weigh and measure{of}"));
    let rinse = before.and_then(|before| before.batch.name.as_ref()).map(|name| WeighRow {
        amount: String::new(),
        what: format!("rinse vessel, stirrer and all that touched part {name} with clean water"),
    });
    let weighings = part.batch.items.iter().enumerate().map(|(index, item)| WeighRow {
        amount: take_words(item, step_g),
        what: format!("{}{}", name_words(item), heaps(part, index, step_g)),
    });
    document.weighing(rinse.into_iter().chain(weighings).collect());
    document.list(part.batch.items.iter().flat_map(|item| remarks(item, sheet.batch.balance)).collect());
    document.heading(format!("Mix{of}"));
    let mut notes = Vec::new();
    if let Some(own) = recipe_part(sheet, part) {
        notes.extend(own.note.clone());
        notes.extend(
            own.mixing.note.as_ref().map(|note| format!("From the source, told for its own litre: {note}")),
        );
    }
    document.list(notes);
    for step in &part.steps {
        document.blocks.push(Block::Step(step_block(step, step_g)));
    }
    document.list(part.finish.iter().map(finish_line).collect());
    if let Some(substance) = &part.unmodelled {
        document.paragraph(format!("pH not known: {substance} is not modelled."));
    }
    if let Some(ph) = &part.ph {
        document.paragraph(ph_words(ph));
        document.blocks.push(Block::Blank("pH read (if you have a meter), at °C:".to_owned()));
    }
}

/// The part as the recipe has it.
fn recipe_part<'a>(sheet: &'a MixingSheet, part: &SheetPart) -> Option<&'a Part> {
    sheet.formula.parts.iter().find(|own| own.name == part.batch.name)
}

/// For what is weighed in two heaps: `, in two heaps: 2.0 g for the pinch, 38.0 g`.
fn heaps(part: &SheetPart, item: usize, step_g: f64) -> String {
    let weighed = |action: Action| {
        let mut own =
            part.steps.iter().filter(|step| step.step.action == action && step.step.item == Some(item));
        own.next().and_then(|step| step.step.weigh)
    };
    match (weighed(Action::Pinch), weighed(Action::Add)) {
        (Some(pinch), Some(rest)) => format!(
            ", in two heaps: {} g for the pinch, {} g",
            show_step(pinch, step_g),
            show_step(rest, step_g)
        ),
        _ => String::new(),
    }
}

fn step_block(step: &SheetStep, step_g: f64) -> StepBlock {
    let own = &step.step;
    let mut details = Vec::new();
    if !own.how.is_empty() {
        details.push(("how".to_owned(), own.how.clone()));
    }
    if !own.done.is_empty() {
        details.push(("done when".to_owned(), own.done.clone()));
    }
    if !own.why.is_empty() {
        details.push(("why".to_owned(), own.why.clone()));
    }
    let reading =
        step.after_c.filter(|_| !matches!(own.action, Action::Start | Action::Cool | Action::Operation(_)));
    StepBlock {
        number: step.number,
        cautions: step
            .cautions
            .iter()
            .map(|caution| CautionBlock {
                word: severity_word(caution.severity).to_owned(),
                lines: iter::once(&caution.text).chain(&caution.statement).cloned().collect(),
            })
            .collect(),
        amount: step_amount(own, step_g),
        action: own.instruction.clone(),
        details,
        reading: reading.map_or_else(String::new, |celsius| {
            format!("about {} °C", show_short(celsius.clamp(0.0, 100.0), 0))
        }),
    }
}

/// The amount that stands first on the line: grams of the step, water of the start; nothing for a pour or a wait.
fn step_amount(step: &Step, step_g: f64) -> String {
    match step.action {
        Action::Start => step
            .water_ml
            .map_or_else(String::new, |ml| format!("{} mL", show_step(ml, measuring_step_ml(ml)))),
        Action::Cool | Action::TopUp | Action::PourIn | Action::Operation(_) => String::new(),
        Action::Pinch | Action::Add | Action::DissolveApart => match (step.weigh, step.unit) {
            (Some(weigh), Some(Unit::Gram)) if weigh > 0.0 => format!("{} g", show_step(weigh, step_g)),
            (Some(weigh), Some(Unit::Millilitre)) if weigh > 0.0 => {
                format!("{} mL", show_step(weigh, measuring_step_ml(step.amount.unwrap_or(weigh))))
            }
            (None, _) if step.action == Action::Pinch => String::new(),
            _ => step.amount.map_or_else(String::new, |amount| {
                format!("{} {}", show_significant(amount), step.unit.unwrap_or(Unit::Gram).symbol())
            }),
        },
    }
}

fn ph_words(ph: &ExpectedPh) -> String {
    if ph.is_poorly_buffered {
        return format!(
            "Should read somewhere near pH {} at {} °C, but it is poorly buffered: do not trust this figure.",
            show_decimals(ph.ph, 1),
            show_short(crate::quantity::USUAL_C, 0)
        );
    }
    // No glass electrode reads beyond: below 0 it is off its scale, above 13 in strong sodium it reads low. Common practice, no source.
    if !(0.0..=13.0).contains(&ph.ph) {
        let side = if ph.ph < 7.0 { "below 0" } else { "above 13" };
        return format!("The pH is computed to be {side}: a meter will not show it.");
    }
    format!(
        "Should read about pH {} at {} °C (computed, within about {} either way).",
        show_decimals(ph.ph, 1),
        show_short(crate::quantity::USUAL_C, 0),
        show_decimals(ph.error.max(0.1), 1)
    )
}

fn use_section(document: &mut Document, sheet: &MixingSheet) {
    let formula = &sheet.formula;
    if formula.uses.is_empty() {
        return;
    }
    document.heading("Use");
    document.blocks.extend(sheet.review.at_use().iter().map(|own| Block::Caution(caution_block(own))));
    document.facts(formula.uses.iter().map(|own| (own.name.clone(), use_words(own))).collect());
    if formula.parts.len() > 1 && formula.uses.iter().all(|own| own.working_hours.is_none()) {
        let mixed = formula.uses.iter().any(|own| own.baths.iter().any(|bath| bath.shares.len() > 1));
        if mixed {
            document.paragraph("How long it keeps once the parts are mixed: not known; mix it just before use and throw it out after.");
        }
    }
    if !formula.partners.is_empty() {
        document.paragraph(format!(
            "Goes with {}; what must not follow what: `soupcon safety {} {}`.",
            formula.partners.join(", "),
            formula.id,
            formula.partners.join(" ")
        ));
    }
    if let Some(trust) = trust_test(sheet) {
        document.paragraph(trust);
    }
}

/// A test before film is risked; common practice, no source.
///
/// Only for developers with alkali in a single bath: others blacken a leader slowly or not at all.
fn trust_test(sheet: &MixingSheet) -> Option<String> {
    use crate::formula::Kind;
    use crate::substance::Role;
    let formula = &sheet.formula;
    let has =
        |test: &dyn Fn(&crate::substance::Form) -> bool| formula.ingredients().any(|own| test(&own.form));
    match formula.kind {
        Kind::FilmDeveloper => {
            let is_single = formula.uses.iter().all(|own| own.baths.len() == 1);
            let has_alkali = has(&|form| form.has_role(Role::Alkali) && !form.is_class("sulfite"));
            if !is_single || !has_alkali {
                return None;
            }
            let mut words =
                "Before film: a strip of leader in room light must turn black in the working solution within a few minutes."
                    .to_owned();
            if has(&|form| form.is_class("ascorbate")) {
                words.push_str(" An ascorbate developer dies without changing colour.");
            }
            Some(words)
        }
        Kind::Fixer => Some(
            "Before film: a strip of leader must clear in it; fix for twice that time, and throw the bath out when the time has doubled."
                .to_owned(),
        ),
        _ => None,
    }
}

/// The labels, in the same words as `soupcon label`.
fn label(document: &mut Document, sheet: &MixingSheet) {
    let Ok(labels) = labels(sheet, None, None) else { return };
    document.heading("For the bottle");
    for own in labels {
        document.caution(&heading(&own), lines_in_full(&own));
    }
}

fn afterwards(document: &mut Document, sheet: &MixingSheet) {
    document.heading("Capacity, waste, source");
    let mut facts = Vec::new();
    facts.push((
        "capacity".to_owned(),
        capacity_words(&sheet.formula).unwrap_or_else(|| "not known".to_owned()),
    ));
    for line in &sheet.review.general.waste {
        facts.push(("waste".to_owned(), line.text.clone()));
    }
    facts.push(("source".to_owned(), sheet.formula.evidence.to_string()));
    for part in &sheet.parts {
        let name = part.batch.name.as_ref().map_or_else(String::new, |name| format!("part {name}: "));
        if let Some(way) = recipe_part(sheet, part).and_then(|own| own.mixing.other_way.as_ref()) {
            facts.push((
                "another way".to_owned(),
                format!("{name}NOT followed here; for its own litre: {way}"),
            ));
        }
    }
    if let Some(lead) = &sheet.formula.evidence.lead {
        facts.push(("lead, not opened".to_owned(), lead.clone()));
    }
    facts.push(("order".to_owned(), order_sources(sheet)));
    document.facts(facts);
}

/// Where the reasons of the order come from, each once.
fn order_sources(sheet: &MixingSheet) -> String {
    let mut sources: Vec<&str> =
        sheet.parts.iter().flat_map(|part| &part.steps).map(|step| step.step.source).collect();
    sources.sort_unstable();
    sources.dedup();
    sources.join("; ")
}

fn full_statements(document: &mut Document, powders: &[PowderHazard]) {
    document.heading("Standard statements of the chemicals as weighed");
    document.facts(
        powders
            .iter()
            .map(|powder| {
                let statements = powder.with_codes();
                let words = if statements.is_empty() {
                    if powder.is_unknown {
                        crate::safety::NOT_KNOWN.to_owned()
                    } else {
                        "none: not classified, says its source".to_owned()
                    }
                } else {
                    statements.join(" ")
                };
                (powder.name.clone(), format!("{words} [{}, {}]", powder.status.word(), powder.source))
            })
            .collect(),
    );
}
