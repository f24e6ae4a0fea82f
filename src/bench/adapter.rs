//! The one place where the bench page reads a mixing sheet.

use std::sync::Arc;

use super::material::{
    Act, Finish, Mark, Material, MaterialBox, MaterialPart, MaterialPh, MaterialPowder, MaterialStep,
    RuleWords,
};
use crate::formula::{FinishedIn, Part};
use crate::predict::crystals::Crystals;
use crate::safety::{Caution, Release, Severity, worn_words};
use crate::sequence::{Action, Step};
use crate::sheet::{MixingSheet, SheetPart, SheetStep};
use crate::substance::Form;

/// Of what must not be closed in.
const NOT_KEPT: &str = "not at all: no bottle";

/// The sheet as the page takes it, with the words that say how long it keeps and how much it treats.
pub fn material(sheet: &MixingSheet, by_rule: impl Into<RuleWords>) -> Material<'_> {
    let RuleWords { keeps, treats, spent } = by_rule.into();
    let solvents = sheet.formula.parts.iter().map(|part| part.solvent.clone());
    let general = &sheet.review.general;
    let given_off = general.gases.iter().filter(|gas| gas.release != Release::WithAcid);
    let gases: Vec<String> = given_off.map(|given_off| given_off.id.clone()).collect();
    // What must not be closed in has no bottle to keep in, whatever the file or a rule of its class says.
    let is_open = |(part, source): (&SheetPart, &Part)| {
        part.ends_in == FinishedIn::Tray && source.mixing.finish == FinishedIn::Bottle
    };
    let mut parts = sheet.parts.iter().zip(&sheet.formula.parts);
    let keeps = if parts.any(is_open) { NOT_KEPT.to_owned() } else { keeps };
    Material {
        formula: &sheet.formula,
        batch: &sheet.batch,
        parts: sheet.parts.iter().zip(solvents).map(|(part, solvent)| material_part(part, solvent)).collect(),
        powders: powders(sheet),
        boxes: sheet
            .review
            .boxes
            .iter()
            .map(|special_box| MaterialBox {
                id: special_box.id.clone(),
                title: special_box.title.clone(),
                about: special_box.about.clone(),
            })
            .collect(),
        wear: worn_words(&general.wear),
        air: general.air,
        gases,
        keeps,
        treats,
        spent,
        dry: sheet.review.dry.iter().map(mark_of).collect(),
        at_use: sheet.review.at_use().iter().map(mark_of).collect(),
    }
}

fn mark_of(caution: &Caution) -> Mark {
    Mark {
        id: caution.id.clone(),
        is_grave: caution.severity >= Severity::Warning,
        text: caution.text.clone(),
    }
}

fn powders(sheet: &MixingSheet) -> Vec<MaterialPowder> {
    let solvents = sheet.formula.parts.iter().filter_map(|part| part.solvent.as_ref());
    let items = sheet.parts.iter().flat_map(|part| &part.batch.items).map(|item| &item.form);
    let forms: Vec<&Arc<Form>> = items.chain(solvents).collect();
    let powder_wear = sheet.review.powders.iter().filter_map(|powder| {
        let form = forms.iter().find(|form| form.id == powder.id)?;
        Some(MaterialPowder {
            form: Arc::clone(form),
            codes: powder.statements.iter().map(|(code, _)| code.clone()).collect(),
            signal: powder.signal,
            is_unknown: powder.is_unknown,
        })
    });
    powder_wear.collect()
}

fn material_part(part: &SheetPart, solvent: Option<Arc<Form>>) -> MaterialPart {
    MaterialPart {
        name: part.batch.name.clone(),
        volume_ml: part.batch.volume.as_ml(),
        solvent,
        items: part.batch.items.clone(),
        steps: part.steps.iter().map(|step| material_step(step, &part.steps)).collect(),
        ph: part.ph.as_ref().map(|ph| MaterialPh {
            ph: ph.ph,
            error: ph.error,
            is_poorly_buffered: ph.is_poorly_buffered,
            certified: ph.certified.clone(),
        }),
        crystals: part.crystals.as_ref().map(Crystals::words),
        end_c: part.finish.as_ref().map(|finish| finish.end_c),
        finish: match part.ends_in {
            FinishedIn::Bottle => Finish::Bottle,
            FinishedIn::Tray => Finish::Tray,
            FinishedIn::UseAtOnce => Finish::AtOnce,
        },
        too_small: part.too_small.clone(),
        bath_codes: part.bath.statements.iter().map(|statement| statement.code.clone()).collect(),
        bath_signal: part.bath.signal,
    }
}

fn material_step(step: &SheetStep, all: &[SheetStep]) -> MaterialStep {
    let planned = &step.step;
    MaterialStep {
        number: step.number,
        act: act(planned, all),
        item: planned.item,
        form: planned.form.clone(),
        water_ml: planned.water_ml,
        celsius: planned.celsius,
        instruction: planned.instruction.clone(),
        how: planned.how.clone(),
        done: planned.done.clone(),
        why: planned.why.clone(),
        marks: step
            .cautions
            .iter()
            .map(|caution| Mark {
                id: caution.id.clone(),
                is_grave: caution.severity >= Severity::Warning,
                text: caution.text.clone(),
            })
            .collect(),
        after_c: step.after_c,
    }
}

fn act(step: &Step, all: &[SheetStep]) -> Act {
    let has_pinch = |item: Option<usize>| {
        all.iter().any(|other| other.step.action == Action::Pinch && other.step.item == item)
    };
    match step.action {
        Action::Start => Act::Start,
        Action::Pinch => Act::Pinch,
        Action::Add if step.item.is_some() && has_pinch(step.item) => Act::Rest,
        Action::Add => Act::Add,
        Action::DissolveApart => Act::Apart,
        Action::PourIn => Act::Pour,
        Action::Cool => Act::Wait,
        Action::Operation(_) => Act::Operation,
        Action::TopUp => Act::MakeUp,
    }
}
