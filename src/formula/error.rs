//! Why a form is not found by its name.

use crate::diagnostic::Finding;
use thiserror::Error;

/// Why a name does not lead to a form.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum FormError {
    /// No such form.
    #[error("no substance is called `{name}`")]
    Unknown {
        /// What was asked.
        name: String,
        /// Near misses.
        near: Vec<String>,
    },
    /// The parent was named where the form matters.
    #[error("`{name}` is {}", if forms.len() > 1 { "sold in several forms that weigh differently" } else { "the chemical, and its one form has a name of its own" })]
    BareParent {
        /// What was asked.
        name: String,
        /// Its forms with what each weighs against the first: `sodium-carbonate-monohydrate (1.170)`.
        forms: Vec<String>,
    },
    /// Its file is broken.
    #[error("the file of `{name}` cannot be used: {}", findings.first().map_or_else(String::new, ToString::to_string))]
    Broken {
        /// What was asked.
        name: String,
        /// What is wrong in it.
        findings: Vec<Finding>,
    },
}

impl FormError {
    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::Unknown { near, .. } if near.is_empty() => {
                "`soupcon substance` lists all substances; your own go into a folder `substances`".to_owned()
            }
            Self::Unknown { near, .. } => format!("did you mean {}?", near.join(" or ")),
            Self::BareParent { forms, .. } if forms.len() < 2 => {
                let only = forms.first().and_then(|form| form.split(' ').next());
                only.map_or_else(String::new, |form| format!("name the form: {form}"))
            }
            Self::BareParent { forms, .. } => {
                format!(
                    "name the form on the jar (grams that replace 1 g of the first): {}",
                    forms.join(", ")
                )
            }
            Self::Broken { findings, .. } => {
                findings.first().map_or_else(String::new, |finding| finding.fix.clone())
            }
        }
    }
}
