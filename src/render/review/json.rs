//! What is refused and what is warned of, in the JSON of every command that answers about a solution.

use crate::mixing::{Objection, ObjectionKind};
use crate::safety::{BathHazards, Caution, Severity};
use crate::sheet::{MixingSheet, StepCaution};
use serde::Serialize;

/// Why something must not be mixed, or not so.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct RefusalJson {
    /// `never`, or `not-this-way`.
    pub kind: &'static str,
    /// Stable short name.
    pub code: String,
    /// Why, with where.
    pub text: String,
    /// What to do.
    pub fix: String,
}

/// Something to know before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct CautionJson {
    /// `note`, `warning` or `danger`.
    pub severity: &'static str,
    pub text: String,
}

/// A solution as it is classified.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ClassifiedJson {
    /// `Danger` or `Warning`; null without.
    pub signal_word: Option<&'static str>,
    /// Codes of the statements.
    pub codes: Vec<String>,
}

/// A document with what is refused and warned of.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct Reviewed<B> {
    /// The document itself.
    #[serde(flatten)]
    pub body: B,
    /// Why something must not be mixed, or not so; the gravest first.
    pub refusals: Vec<RefusalJson>,
    /// What to know before, the gravest first.
    pub cautions: Vec<CautionJson>,
}

impl<B> Reviewed<B> {
    /// A document with what is said of the solutions in it.
    pub(crate) fn new<'c>(
        body: B,
        objections: &[Objection],
        cautions: impl IntoIterator<Item = &'c Caution>,
    ) -> Self {
        Self {
            body,
            refusals: objections.iter().map(RefusalJson::from).collect(),
            cautions: cautions.into_iter().map(CautionJson::from).collect(),
        }
    }

    /// The same with cautions in words.
    pub(crate) fn in_words<'c>(
        body: B,
        objections: &[Objection],
        cautions: impl IntoIterator<Item = (Severity, &'c str)>,
    ) -> Self {
        let own = |(severity, text): (Severity, &str)| CautionJson {
            severity: severity.word(),
            text: text.to_owned(),
        };
        Self { cautions: cautions.into_iter().map(own).collect(), ..Self::new(body, objections, []) }
    }

    /// A document about a batch.
    pub(crate) fn of_sheet(body: B, sheet: &MixingSheet) -> Self {
        let mut reviewed = Self::new(body, &sheet.objections, sheet.review.cautions());
        // What the steps alone say: heat, and what the finished solution does.
        for caution in sheet.parts.iter().flat_map(|part| &part.steps).flat_map(|step| &step.cautions) {
            let own = CautionJson::from(caution);
            if !reviewed.cautions.iter().any(|known| own.text.starts_with(&known.text)) {
                reviewed.cautions.push(own);
            }
        }
        reviewed.cautions.extend(
            sheet
                .review
                .own
                .iter()
                .map(|text| CautionJson { severity: Severity::Warning.word(), text: text.clone() }),
        );
        reviewed
    }
}

impl RefusalJson {
    /// Understood, and the answer is no.
    pub(crate) fn not_this_way(code: &str, text: String, fix: String) -> Self {
        Self { kind: ObjectionKind::NotThisWay.word(), code: code.to_owned(), text, fix }
    }
}

impl From<&Objection> for RefusalJson {
    fn from(objection: &Objection) -> Self {
        Self {
            kind: objection.kind.word(),
            code: objection.code.to_owned(),
            text: objection.to_string(),
            fix: objection.fix.clone(),
        }
    }
}

impl From<&Caution> for CautionJson {
    fn from(caution: &Caution) -> Self {
        Self { severity: caution.severity.word(), text: caution.text.clone() }
    }
}

impl From<&StepCaution> for CautionJson {
    fn from(caution: &StepCaution) -> Self {
        let statement = caution.statement.as_ref().map_or_else(String::new, |own| format!(" {own}"));
        Self { severity: caution.severity.word(), text: format!("{}{statement}", caution.text) }
    }
}

impl From<&BathHazards> for ClassifiedJson {
    fn from(bath: &BathHazards) -> Self {
        Self {
            signal_word: bath.signal.map(crate::substance::Signal::word),
            codes: bath.statements.iter().map(|statement| statement.code.clone()).collect(),
        }
    }
}
