//! The user's own chemicals in JSON.

use super::words::forms_of;
use crate::formula::Formula;
use crate::substance::Form;
use serde::Serialize;

/// A chemical of the user's own.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct OwnSubstance {
    /// Id of the form.
    pub substance: String,
    /// The folder that it comes from, as the user named it.
    pub origin: String,
}

/// Those of some forms that are the user's own.
pub(in crate::render) fn own_substances(forms: &[&Form]) -> Vec<OwnSubstance> {
    let own =
        |form: &&Form| Some(OwnSubstance { substance: form.id.clone(), origin: form.parent.origin.clone()? });
    forms.iter().filter_map(own).collect()
}

/// Those of a formula that are the user's own.
pub(crate) fn own_substances_of(formula: &Formula) -> Vec<OwnSubstance> {
    own_substances(&forms_of(formula))
}
