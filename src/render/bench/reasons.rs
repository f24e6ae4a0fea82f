//! The other side of the page: why, by step number; hazards once; waste; first aid in full; capacity in words; sources; the label to cut off.

use crate::bench::BenchSheet;
use crate::formula::{FinishedIn, Kind, Part};
use crate::label::Label;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::label::{heading, lines_in_full};
use crate::render::made_first::{MakeWords, made_first};
use crate::render::predict::{exchange_lines, finish_line};
use crate::render::safety::{caution_block, severity_word, special_block, wear_words};
use crate::render::scale::remarks;
use crate::render::show::{capacity_words, keeping_words, use_words};
use crate::render::{Block, Document};
use crate::safety::PowderHazard;
use crate::scale::Unit;
use crate::scale::dose::PIPETTE_BELOW_ML;
use crate::sequence::Action;
use crate::sheet::{MixingSheet, SheetPart, SheetStep};
use crate::substance::State;

/// The other side as a document.
pub fn reasons_document(sheet: &MixingSheet, bench: &BenchSheet, labels: &[Label]) -> Document {
    let mut document = Document::new();
    document.title(format!("Reasons: {}", sheet.formula.title));
    document.fine_print(|document| {
        header(document, sheet);
        before(document, sheet);
        make_first(document, sheet);
        for part in &sheet.parts {
            part_reasons(document, part, sheet);
        }
        if !sheet.ph_changes.is_empty() {
            document.caution("NOTE", exchange_lines(&sheet.ph_changes));
        }
        hazards(document, sheet, bench);
        use_section(document, sheet);
        afterwards(document, sheet);
        bottles(document, labels);
        document.paragraph(&sheet.review.general.closing);
    });
    document
}

fn header(document: &mut Document, sheet: &MixingSheet) {
    let formula = &sheet.formula;
    let mut facts = vec![("summary".to_owned(), formula.summary.clone())];
    facts.push(("evidence".to_owned(), evidence_words(sheet)));
    if let Some(doubt) = &formula.evidence.doubt {
        facts.push(("doubt".to_owned(), doubt.clone()));
    }
    if let Some(note) = &formula.note {
        facts.push(("note".to_owned(), note.clone()));
    }
    if let Some(form) = &sheet.batch.limited_by {
        facts.push(("limited by".to_owned(), form.name.clone()));
    }
    document.facts(facts);
}

/// The evidence without the long citation, which stands at the end.
fn evidence_words(sheet: &MixingSheet) -> String {
    use crate::formula::EvidenceKind;
    match sheet.formula.evidence.kind {
        EvidenceKind::Published => "published (source at the end)".to_owned(),
        _ => sheet.formula.evidence.to_string(),
    }
}

fn before(document: &mut Document, sheet: &MixingSheet) {
    document.heading("Before you begin");
    let mut facts = vec![("have ready".to_owned(), ready_words(sheet))];
    let is_powder = |item: &crate::scale::Item| item.unit == Unit::Gram && item.form.state == State::Solid;
    if sheet.parts.iter().flat_map(|part| &part.batch.items).any(is_powder) {
        facts.push((
            "powders".to_owned(),
            "Open one jar at a time. Write its name on the weighing paper. Tip powder in low; raise no dust. Wipe up spills with a wet cloth. Never sweep."
                .to_owned(),
        ));
    }
    document.facts(facts);
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
    let first = made_first(&sheet.batch);
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
    // What is sensitive to light says itself by which light it is mixed.
    let light = if sheet.formula.kind == Kind::Sensitizer { "" } else { " Work in full room light." };
    format!("{}.{light} Use nothing that is used for food.", ready.join(", "))
}

/// The percent solutions that the batch takes, with tick boxes of their own.
fn make_first(document: &mut Document, sheet: &MixingSheet) {
    let first = made_first(&sheet.batch);
    if first.is_empty() {
        return;
    }
    document.heading("Make first (unless in stock)");
    document.weighing(first.iter().flat_map(MakeWords::rows).collect());
    document.list(first.iter().filter_map(MakeWords::remark).collect());
}

/// What a step does, how, and why there; nothing where there is nothing to say that the bench side does not say.
fn why_fact(step: &SheetStep) -> Option<(String, String)> {
    let own = &step.step;
    let how = if own.how == "Stir." { "" } else { own.how.as_str() };
    if own.why.is_empty() && how.is_empty() {
        return None;
    }
    let mut words = format!("{}.", own.instruction.trim_end_matches('.'));
    if !how.is_empty() {
        words = format!("{words} {how}");
    }
    if !own.why.is_empty() {
        words = format!("{words} Why: {}.", own.why);
    }
    Some((step.number.to_string(), words))
}

/// Why each step stands where it does, what to mind about what is weighed, and how the part ends.
fn part_reasons(document: &mut Document, part: &SheetPart, sheet: &MixingSheet) {
    let of = part.batch.name.as_ref().map_or_else(String::new, |name| format!(" of part {name}"));
    document.heading(format!("Why, by step{of}"));
    document.facts(part.steps.iter().filter_map(why_fact).collect());
    let mut notes = Vec::new();
    for step in &part.steps {
        for caution in
            step.cautions.iter().filter(|caution| caution.severity == crate::safety::Severity::Note)
        {
            notes.push(format!("step {}: {}", step.number, caution.text));
        }
    }
    notes.extend(part.batch.items.iter().flat_map(|item| remarks(item, sheet.batch.balance)));
    if let Some(own) = recipe_part(sheet, part) {
        notes.extend(own.note.clone());
        notes.extend(own.mixing.note.as_ref().map(|note| format!("Source's note (for 1 L): {note}")));
        notes.extend(
            own.mixing
                .other_way
                .as_ref()
                .map(|way| format!("NOT followed here; source's method (for 1 L): {way}")),
        );
    }
    let used_c = sheet.formula.warm_use_c();
    notes.extend(part.finish.iter().map(|finish| match used_c {
        Some(used_c) => format!(
            "Finishes at about {} °C. It is used at {} °C.",
            show_short(finish.end_c, 0),
            show_short(used_c, 0)
        ),
        None => finish_line(finish),
    }));
    let is_warm = |end_c: f64| crate::bench::table::cooling_words(part.batch.volume.as_ml(), end_c).is_some();
    if used_c.is_none() && part.finish.as_ref().is_some_and(|finish| is_warm(finish.end_c)) {
        notes.push(format!(
            "Cooling time: of a glass vessel in plenty of water at {} °C, ± 40 % (estimated). Other conditions: `soupcon cool`.",
            show_short(crate::bench::table::BASIN_C, 0)
        ));
    }
    notes.extend(
        part.unmodelled
            .as_ref()
            .map(|substance| format!("pH not known: the model does not include {substance}.")),
    );
    if let Some(ph) = part.ph.as_ref().filter(|ph| !ph.certified.is_empty()) {
        let points: Vec<String> = ph
            .certified
            .iter()
            .map(|(celsius, ph)| format!("{} at {} °C", show_decimals(*ph, 3), show_short(*celsius, 0)))
            .collect();
        let source = sheet.formula.stated.source.as_deref().unwrap_or(crate::doubt::NOT_KNOWN);
        notes.push(format!("Certified pH: {}. Source: {source}.", points.join(", ")));
    }
    if part.ph.as_ref().is_some_and(|ph| ph.is_poorly_buffered) {
        notes.push("Poorly buffered: do not rely on a computed pH.".to_owned());
    }
    document.list(notes);
}

/// Each hazard once: boxes, cautions of the formula, the chemicals as weighed, first aid.
fn hazards(document: &mut Document, sheet: &MixingSheet, bench: &BenchSheet) {
    document.heading("Hazards");
    document.blocks.extend(sheet.review.boxes.iter().map(|own| Block::Caution(special_block(own))));
    let told: Vec<String> =
        sheet.formula.cautions.all().filter(|text| !bench.cautions.contains(text)).cloned().collect();
    if !told.is_empty() {
        document.caution("CAUTION", told);
    }
    document.blocks.extend(sheet.review.dry.iter().map(|own| Block::Caution(caution_block(own))));
    let statements = sheet.parts.iter().flat_map(|part| &part.steps).flat_map(|step| {
        step.cautions.iter().filter_map(move |caution| {
            let statement = caution.statement.as_ref()?;
            Some(format!("step {}, {}: {statement}", step.number, severity_word(caution.severity)))
        })
    });
    document.list(statements.collect());
    let mut facts = vec![("wear".to_owned(), wear_words(&sheet.review.general))];
    if let Some(air) = sheet.review.general.ventilation() {
        facts.push(("air".to_owned(), air));
    }
    document.facts(facts);
    full_statements(document, &sheet.review.powders);
    document.heading("First aid");
    document.list(sheet.review.general.exposure.clone());
}

fn recipe_part<'a>(sheet: &'a MixingSheet, part: &SheetPart) -> Option<&'a Part> {
    sheet.formula.parts.iter().find(|own| own.name == part.batch.name)
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
            document.paragraph("Life once mixed: not known. Mix just before use. Discard after use.");
        }
    }
    if !formula.partners.is_empty() {
        document.paragraph(format!(
            "Used with {}. For the washes between two baths name them in their order: `soupcon safety FIRST NEXT`.",
            formula.partners.join(", "),
        ));
    }
}

/// The labels, in the same words as `soupcon label`.
fn bottles(document: &mut Document, labels: &[Label]) {
    if labels.is_empty() {
        return;
    }
    document.heading("Bottle label");
    for own in labels {
        document.caution(&heading(own), lines_in_full(own));
    }
}

fn afterwards(document: &mut Document, sheet: &MixingSheet) {
    document.heading("Capacity, disposal, sources");
    let mut facts = Vec::new();
    facts.push((
        "capacity".to_owned(),
        capacity_words(&sheet.formula).unwrap_or_else(|| crate::doubt::NOT_KNOWN.to_owned()),
    ));
    for part in &sheet.formula.parts {
        if let Some(words) = keeping_words(&part.keeping) {
            let of = part.name.as_ref().map_or_else(String::new, |name| format!(" of {name}"));
            facts.push((format!("keeps{of}"), words));
        }
    }
    for line in &sheet.review.general.waste {
        facts.push(("disposal".to_owned(), line.text.clone()));
    }
    facts.push(("source".to_owned(), sheet.formula.evidence.to_string()));
    if let Some(lead) = &sheet.formula.evidence.lead {
        facts.push(("cited, not read".to_owned(), lead.clone()));
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
    document.facts(
        powders
            .iter()
            .map(|powder| {
                let statements = powder.with_codes();
                let words = if statements.is_empty() {
                    if powder.is_unknown {
                        crate::safety::NOT_KNOWN.to_owned()
                    } else {
                        "not classified as hazardous by its source".to_owned()
                    }
                } else {
                    statements.join(" ")
                };
                (powder.name.clone(), format!("{words} [{}, {}]", powder.status.word(), powder.source))
            })
            .collect(),
    );
}
