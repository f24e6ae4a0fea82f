//! What `show --json` prints.

use crate::formula::{Amount, Formula};
use crate::render::life::RulesBody;
use crate::render::origin::{OwnSubstance, own_substances_of};
use crate::render::predict::PredictBody;
use crate::render::seen::SeenOne;
use crate::vessel::Content;

/// `show --json`.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ShowBody {
    formula: String,
    /// `shipped`, or the personal folder or file.
    origin: String,
    own_substances: Vec<OwnSubstance>,
    title: String,
    kind: &'static str,
    summary: String,
    evidence: &'static str,
    source: Option<String>,
    doubt: Option<String>,
    parts: Vec<ShowPart>,
    /// What one would see, and why.
    seen: Vec<SeenOne>,
    predicted: PredictBody,
    /// What the rule of its class says where the formula states nothing.
    rules: Option<RulesBody>,
}

#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ShowPart {
    name: Option<String>,
    solvent: Option<String>,
    ingredients: Vec<ShowIngredient>,
}

#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ShowIngredient {
    substance: String,
    per_litre: f64,
    unit: &'static str,
    strength: Option<String>,
    grams_per_litre: Option<f64>,
    moles_per_litre: Option<f64>,
}

impl ShowBody {
    /// From a formula and what is judged of it.
    pub(crate) fn new(
        formula: &Formula,
        seen: Vec<SeenOne>,
        predicted: PredictBody,
        rules: RulesBody,
    ) -> Self {
        let parts = formula
            .parts
            .iter()
            .map(|part| ShowPart {
                name: part.name.clone(),
                solvent: part.solvent.as_ref().map(|form| form.id.clone()),
                ingredients: part
                    .ingredients
                    .iter()
                    .map(|ingredient| {
                        let (per_litre, unit, strength) = match ingredient.amount {
                            Amount::Grams(grams) => (grams, "g", None),
                            Amount::Millilitres(ml) => (ml, "ml", None),
                            Amount::PercentSolution { millilitres, strength } => {
                                (millilitres, "ml", Some(strength.to_string()))
                            }
                        };
                        let content = Content::from(ingredient);
                        ShowIngredient {
                            substance: ingredient.form.id.clone(),
                            per_litre,
                            unit,
                            strength,
                            grams_per_litre: content.grams_per_litre,
                            moles_per_litre: content.moles_per_litre(),
                        }
                    })
                    .collect(),
            })
            .collect();
        Self {
            formula: formula.id.clone(),
            origin: formula.origin_name(),
            own_substances: own_substances_of(formula),
            title: formula.title.clone(),
            kind: formula.kind.folder(),
            summary: formula.summary.clone(),
            evidence: formula.evidence.kind.word(),
            source: formula.evidence.source.clone(),
            doubt: formula.evidence.doubt.clone(),
            parts,
            seen,
            predicted,
            rules: Some(rules),
        }
    }
}
