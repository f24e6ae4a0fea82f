//! The user's own formula and chemicals in words.

use crate::formula::Formula;
use crate::substance::Form;

/// Facts about what is the user's own; none where all is shipped.
pub(in crate::render) fn facts(formula: &Formula) -> Vec<(String, String)> {
    let mut facts: Vec<(String, String)> =
        formula.origin_words().into_iter().map(|words| ("origin".to_owned(), words)).collect();
    facts.extend(substances(&forms_of(formula)));
    facts
}

/// The same of a batch, whose chemicals may be others than those of the formula.
pub(in crate::render) fn facts_of_batch<'a>(
    formula: &'a Formula,
    taken: impl Iterator<Item = &'a Form>,
) -> Vec<(String, String)> {
    let mut facts: Vec<(String, String)> =
        formula.origin_words().into_iter().map(|words| ("origin".to_owned(), words)).collect();
    facts.extend(substances(&with_solvents(formula, taken)));
    facts
}

fn substances(forms: &[&Form]) -> Vec<(String, String)> {
    forms.iter().filter_map(|form| Some((form.name.clone(), form.origin_words()?))).collect()
}

/// All forms of a formula, solvents too.
pub(super) fn forms_of(formula: &Formula) -> Vec<&Form> {
    with_solvents(formula, formula.ingredients().map(|ingredient| ingredient.form.as_ref()))
}

/// The forms taken and the solvents, each once.
pub(in crate::render) fn with_solvents<'a>(
    formula: &'a Formula,
    taken: impl Iterator<Item = &'a Form>,
) -> Vec<&'a Form> {
    let solvents = formula.parts.iter().filter_map(|part| part.solvent.as_deref());
    let mut forms: Vec<&Form> = Vec::new();
    for form in taken.chain(solvents) {
        if forms.iter().all(|own| own.id != form.id) {
            forms.push(form);
        }
    }
    forms
}
