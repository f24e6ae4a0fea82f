//! Whether a formula can be mixed at all: what the mixing sheet refuses is told before anybody weighs.

use super::{Judge, Tables};
use crate::diagnostic::Severity;
use crate::quantity::Volume;
use crate::safety::Caution;
use crate::safety::Severity::Danger;
use crate::scale::{Request, scale};
use crate::sheet::{MixingSheet, assemble};

/// The volume for which it is tried, mL; the refusals do not depend on it.
const TRIED_ML: f64 = 1000.0;

/// What the sheet of a litre refuses. Heat alone is a warning, and nothing is said of it where the formula's own cautions show that
/// somebody knew: more water or a slower hand may do.
pub(super) fn judge(judge: &mut Judge<'_>, tables: &Tables<'_>) {
    let request = Request::volume(Volume::from_ml(TRIED_ML));
    // What cannot be scaled has its own finding.
    let Ok(batch) = scale(judge.formula, &request, tables.relations) else { return };
    let sheet = assemble(judge.formula, &batch, tables.safety, tables.equilibria);
    dangers(judge, &sheet);
    for objection in &sheet.objections {
        let severity = match objection.code {
            "too-hot" if !judge.formula.cautions.is_empty() => continue,
            "too-hot" => Severity::Warning,
            _ => Severity::Error,
        };
        let message = format!("there is no sheet for it: {objection}");
        judge.findings.push(judge.source.finding(severity, objection.code, None, message, &objection.fix));
    }
}

/// Dangers that come up while it is mixed or used, and of which its file shows no knowledge: neither does it work by them nor do its own
/// cautions speak of what meets there. What one substance does with water alone is told on every sheet, and is no finding.
fn dangers(judge: &mut Judge<'_>, sheet: &MixingSheet) {
    let formula = judge.formula;
    let names_of = |id: &String| -> Vec<String> {
        let forms = formula.ingredients().map(|own| &own.form);
        let solvents = formula.parts.iter().filter_map(|part| part.solvent.as_ref());
        let form = forms.chain(solvents).find(|form| form.id == *id);
        form.map_or_else(Vec::new, |form| {
            let parent = &form.parent;
            let long = [&form.name, &parent.name].into_iter().chain(&parent.synonyms).chain(&form.synonyms);
            long.flat_map(|name| name.split([' ', ',', '(', ')', '-']))
                .filter(|word| word.len() > 3 && !COMMON_WORDS.contains(word))
                .map(str::to_lowercase)
                .collect()
        })
    };
    let own: String = formula.cautions.join(" ").to_lowercase();
    let beside: Vec<&str> = sheet.review.dry.iter().map(|caution| caution.id.as_str()).collect();
    for caution in sheet.review.cautions() {
        // Powders side by side on the bench are no fault of a recipe, unless one vessel takes them all.
        let is_beside = beside.contains(&caution.id.as_str()) && !meet_in_one(sheet, caution);
        let is_known = caution.is_principle
            || is_beside
            || formula.principle.contains(&caution.id)
            || caution.groups.len() < 2
            || caution
                .groups
                .iter()
                .all(|group| group.iter().flat_map(names_of).any(|name| own.contains(&name)));
        if caution.severity != Danger || is_known {
            continue;
        }
        let message = format!("danger: {}", caution.text);
        let fix = format!(
            "change the recipe; if it works by this and somebody knows, write principle = [\"{}\"] or a caution that names what meets",
            caution.id
        );
        judge.findings.push(judge.source.finding(
            Severity::Warning,
            "dangerous-combination",
            None,
            message,
            fix,
        ));
    }
}

/// Whether one part takes something of each group of a caution.
fn meet_in_one(sheet: &MixingSheet, caution: &Caution) -> bool {
    sheet.review.parts.iter().any(|part| {
        let has = |id: &String| part.contents.iter().any(|content| content.form.id == *id);
        caution.groups.iter().all(|group| group.iter().any(has))
    })
}

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
