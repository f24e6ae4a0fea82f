//! Where a formula and its chemicals come from: nobody takes a page for the shipped formula when it is the user's own.

use serde::Serialize;

use crate::formula::Formula;
use crate::substance::Form;

/// Facts about what is the user's own; none where all is shipped.
pub(super) fn facts(formula: &Formula) -> Vec<(String, String)> {
    let mut facts: Vec<(String, String)> =
        formula.origin_words().into_iter().map(|words| ("origin".to_owned(), words)).collect();
    facts.extend(substances(&forms_of(formula)));
    facts
}

/// The same of a batch, whose chemicals may be others than those of the formula.
pub(super) fn facts_of_batch<'a>(
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
    with_solvents(formula, formula.ingredients().map(|own| own.form.as_ref()))
}

/// The forms taken and the solvents, each once.
pub(super) fn with_solvents<'a>(
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

/// A chemical of the user's own.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct OwnSubstance {
    /// Id of the form.
    pub substance: String,
    /// The folder that it comes from, as the user named it.
    pub origin: String,
}

/// Those of some forms that are the user's own.
pub(super) fn own_substances(forms: &[&Form]) -> Vec<OwnSubstance> {
    let own =
        |form: &&Form| Some(OwnSubstance { substance: form.id.clone(), origin: form.parent.origin.clone()? });
    forms.iter().filter_map(own).collect()
}

/// Those of a formula that are the user's own.
pub fn own_substances_of(formula: &Formula) -> Vec<OwnSubstance> {
    own_substances(&forms_of(formula))
}
