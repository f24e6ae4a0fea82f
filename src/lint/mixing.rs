//! Whether a formula can be mixed at all: what the mixing sheet refuses is told before anybody weighs.

use super::{Judge, Tables};
use crate::diagnostic;
use crate::formula::Formula;
use crate::quantity::Volume;
use crate::safety::Caution;
use crate::safety::Severity::{Danger, Warning};
use crate::scale::{Request, scale};
use crate::sheet::{MixingSheet, assemble};
use crate::suggestion;

/// The volume for which it is tried, mL; the refusals do not depend on it.
const TRIED_ML: f64 = 1000.0;

/// What the sheet of a litre refuses, heat included: no caution of the formula's own makes a vessel safe that boils.
pub(super) fn judge(judge: &mut Judge<'_>, tables: &Tables<'_>) {
    let request = Request::volume(Volume::from_ml(TRIED_ML));
    // What cannot be scaled has its own finding.
    let Ok(batch) = scale(judge.formula, &request, tables.relations) else { return };
    let mut sheet = assemble(judge.formula, &batch, tables.safety, tables.equilibria);
    sheet.refuse_impossible_percents(judge.linter.library.weights());
    unknown_principles(judge, tables);
    dangers(judge, &sheet);
    for objection in &sheet.objections {
        let message = format!("there is no sheet for it: {objection}");
        let finding = judge.source.finding(
            diagnostic::FindingSeverity::Error,
            objection.code,
            None,
            message,
            &objection.fix,
        );
        judge.findings.push(finding);
    }
}

/// A principle that no rule bears excuses nothing: it is a slip of the finger, or of another version.
fn unknown_principles(judge: &mut Judge<'_>, tables: &Tables<'_>) {
    let ids: Vec<&str> = tables.safety.combinations().ids().collect();
    for named in judge.formula.principle.iter().filter(|own| !ids.contains(&own.as_str())) {
        let fix = match suggestion::nearest(named, ids.iter().copied()) {
            Some(near) => format!("write {near}, or remove it"),
            None => "write the id that `soupcon check` names with a danger, or remove it".to_owned(),
        };
        let message = format!("principle: no rule is called `{named}`");
        judge.findings.push(judge.source.finding(
            diagnostic::FindingSeverity::Warning,
            "unknown-principle",
            None,
            message,
            fix,
        ));
    }
}

/// What meets in one vessel, or comes up in use, and can harm. Where the file shows no knowledge of it, a danger is an error and a warning
/// an advice; where it does (the formula works by it, or its own cautions name what meets) it is noted, so that a silent check never means
/// that nothing is there. What one substance does with water alone is told on every sheet, and is no finding.
fn dangers(judge: &mut Judge<'_>, sheet: &MixingSheet) {
    let formula = judge.formula;
    let denies = |text: &String| DENIALS.iter().any(|words| text.contains(words));
    let cautions = formula.cautions.all().map(|text| text.to_lowercase()).filter(|text| !denies(text));
    let own_cautions = cautions.collect::<Vec<_>>().join(" ");
    let beside: Vec<&str> = sheet.review.dry.iter().map(|caution| caution.id.as_str()).collect();
    let in_vessels: Vec<&str> = sheet
        .review
        .parts
        .iter()
        .chain(&sheet.review.baths)
        .flat_map(|vessel| vessel.outcome.iter().flatten())
        .map(|caution| caution.id.as_str())
        .collect();
    for caution in sheet.review.cautions() {
        // Powders side by side on the bench are no fault of a recipe, unless one vessel takes them all.
        let is_beside = beside.contains(&caution.id.as_str()) && !meet_in_one(sheet, caution);
        let is_in_one = in_vessels.contains(&caution.id.as_str()) || meet_in_one(sheet, caution);
        let is_grave = caution.severity == Danger || caution.severity == Warning && is_in_one;
        // What one substance does with water is told on every sheet; of one of the user's own nobody has looked at it yet.
        let is_of_own = caution.severity == Danger
            && caution.id != "acid-water"
            && caution.about.iter().any(|id| is_own(formula, id));
        if !is_grave || is_beside || caution.groups.len() < 2 && !is_of_own {
            continue;
        }
        // That some formula works by it is no excuse for another that does not say so.
        let is_principle = formula.principle.contains(&caution.id);
        // A wash that the file asks for answers what would be carried over; the waste is told on every sheet.
        let is_washed = {
            let mut own = sheet.review.between.iter().filter(|own| own.caution.id == caution.id).peekable();
            let mut of_several = formula.uses.iter().filter(|use_of| use_of.baths.len() > 1);
            own.peek().is_some()
                && !is_in_one
                && own.all(|own| !own.is_next)
                && of_several.all(|use_of| use_of.wash_between)
        };
        let is_named =
            caution.groups.iter().all(|group| group.iter().any(|id| is_named_in(&own_cautions, formula, id)));
        let (severity, code, message, fix) = if is_principle {
            let message = format!("it works by `{}`: {}", caution.id, caution.text);
            (diagnostic::FindingSeverity::Note, "principle", message, String::new())
        } else if is_washed {
            let message = format!("a wash stands between the baths of its use: {}", caution.text);
            (diagnostic::FindingSeverity::Note, "known-danger", message, String::new())
        } else if is_named {
            let message = format!("its own cautions speak of it: {}", caution.text);
            (diagnostic::FindingSeverity::Note, "known-danger", message, String::new())
        } else {
            let severity = if caution.severity == Danger {
                diagnostic::FindingSeverity::Error
            } else {
                diagnostic::FindingSeverity::Advice
            };
            let message = format!("{}: {}", caution.severity.word(), caution.text);
            let fix = format!(
                "change the formula; if it works by this and somebody knows, write principle = [\"{}\"] or a caution that names what meets",
                caution.id
            );
            (severity, "dangerous-combination", message, fix)
        };
        judge.findings.push(judge.source.finding(severity, code, None, message, fix));
    }
}

/// Whether a text speaks of a form of a formula, by any of its names.
fn is_named_in(text: &str, formula: &Formula, id: &str) -> bool {
    let forms = formula.ingredients().map(|ingredient| &ingredient.form);
    let solvents = formula.parts.iter().filter_map(|part| part.solvent.as_ref());
    let form = forms.chain(solvents).find(|form| form.id == id);
    form.is_some_and(|form| {
        let parent = &form.parent;
        let long = [&form.name, &parent.name].into_iter().chain(&parent.synonyms).chain(&form.synonyms);
        long.flat_map(|name| name.split([' ', ',', '(', ')', '-']))
            .filter(|word| word.len() > 3 && !COMMON_WORDS.contains(word))
            .any(|word| text.contains(&word.to_lowercase()))
    })
}

/// Whether an ingredient of that id is the user's own.
fn is_own(formula: &Formula, id: &str) -> bool {
    formula.ingredients().any(|own| own.form.id == id && own.form.parent.origin.is_some())
}

/// Whether one part takes something of each group of a caution.
fn meet_in_one(sheet: &MixingSheet, caution: &Caution) -> bool {
    sheet.review.parts.iter().any(|part| {
        let has = |id: &String| part.contents.iter().any(|content| content.form.id == *id);
        caution.groups.iter().all(|group| group.iter().any(has))
    })
}

/// A caution with such words calls a danger none, and so answers none.
const DENIALS: [&str; 10] = [
    "harmless",
    "no danger",
    "not dangerous",
    "without danger",
    "no risk",
    "no hazard",
    "is safe",
    "are safe",
    "nothing happens",
    "rarely a problem",
];

/// Words of chemical names that name nothing by themselves.
const COMMON_WORDS: [&str; 12] = [
    "sodium",
    "potassium",
    "acid",
    "anhydrous",
    "crystals",
    "concentrated",
    "solution",
    "powder",
    "water",
    "glacial",
    "salt",
    "monohydrate",
];
