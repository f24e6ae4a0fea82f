//! What `label --json` prints.

use super::words::{face, rule_dates, rule_words};
use super::{is_short, left_out, stands};
use crate::label::sheets::LabelSheets;
use crate::label::{BottleStrength, Label};
use crate::render::show::named_use;
use serde::Serialize;

/// `label --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct LabelBody {
    formula: String,
    /// `shipped`, or the personal folder or file.
    origin: String,
    labels: Vec<LabelJson>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct LabelJson {
    title: String,
    own_substances: Vec<crate::render::origin::OwnSubstance>,
    part: Option<String>,
    volume_ml: f64,
    strength: &'static str,
    uses: Vec<String>,
    mixed: Option<String>,
    good_until: Option<String>,
    full_bottle_days: Option<f64>,
    half_bottle_days: Option<f64>,
    /// How long it keeps by the rule of its class, where the formula does not say.
    keeping_by_rule: Option<String>,
    /// By that rule: the day from which to look at a full bottle, and the day by which it is out; null where it is not dated.
    look_from: Option<String>,
    out_by: Option<String>,
    /// Gloves of another kind than thin nitrile, where the acid in it asks for them.
    gloves: Option<&'static str>,
    /// The gravest in a few words, as on a short label.
    in_short: Vec<String>,
    signal_word: Option<&'static str>,
    statements: Vec<StatementJson>,
    pictograms: Vec<&'static str>,
    ph: Option<f64>,
    not_computed: Vec<String>,
    hazard_not_known: Vec<String>,
    never_beside: Vec<String>,
    /// What gas can come off it, and what to do then.
    gas: Vec<String>,
    /// Below which something crystallises in the bottle; null where nothing does, or the data do not say.
    crystallises_below_c: Option<f64>,
    /// What the formula itself warns of.
    cautions: Vec<String>,
    is_legal_label: bool,
    sheets: Vec<SheetJson>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StatementJson {
    code: String,
    text: String,
    because: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct SheetJson {
    size: String,
    paper: &'static str,
    labels_per_sheet: u32,
    has_room: bool,
    type_pt: Option<f64>,
    /// Whether it has room only in the short form.
    is_short: bool,
    /// Background for which there is no room.
    left_out: Vec<&'static str>,
    why_not: Option<String>,
}

impl LabelBody {
    /// A formula that must not be mixed has no label, and the document says so by its empty list.
    pub fn refused(formula: &crate::formula::Formula) -> Self {
        Self { formula: formula.id.clone(), origin: formula.origin_name(), labels: Vec::new() }
    }

    /// Labels for other programs.
    pub fn new(labels: &[Label], sheets: &LabelSheets) -> Self {
        Self {
            formula: labels.first().map(|label| label.formula.clone()).unwrap_or_default(),
            origin: labels.first().map(|label| label.origin.clone()).unwrap_or_default(),
            labels: labels.iter().map(|label| label_json(label, sheets)).collect(),
        }
    }
}

fn label_json(label: &Label, sheets: &LabelSheets) -> LabelJson {
    let statements = label.hazards.statements.iter().map(|statement| StatementJson {
        code: statement.code.clone(),
        text: statement.text.clone(),
        because: statement.because.clone(),
    });
    let face = face(label);
    let rooms = sheets.sheets.iter().map(|sheet| {
        let verdict = stands(label, &face, sheet, sheets);
        SheetJson {
            size: sheet.size.clone(),
            paper: sheet.paper.word(),
            labels_per_sheet: sheet.count(),
            has_room: verdict.is_ok(),
            type_pt: verdict.as_ref().ok().map(|layout| layout.type_pt),
            is_short: verdict.as_ref().is_ok_and(|layout| is_short(&face, layout)),
            left_out: verdict.as_ref().map(|layout| left_out(&face, layout)).unwrap_or_default(),
            why_not: verdict.err(),
        }
    });
    LabelJson {
        title: label.title.clone(),
        own_substances: label
            .own_substances
            .iter()
            .map(|(substance, origin)| crate::render::origin::OwnSubstance {
                substance: substance.clone(),
                origin: origin.clone(),
            })
            .collect(),
        part: label.part.clone(),
        volume_ml: label.volume.as_ml(),
        strength: match label.strength {
            BottleStrength::Working => "working",
            BottleStrength::Stock => "stock",
            BottleStrength::Part => "part",
            BottleStrength::NotKnown => "not-known",
        },
        uses: label.uses.iter().map(named_use).collect(),
        mixed: label.mixed.map(|date| date.to_string()),
        good_until: label.good_until.map(|date| date.to_string()),
        full_bottle_days: label.keeping.full_bottle_days,
        half_bottle_days: label.keeping.half_bottle_days,
        keeping_by_rule: rule_words(label),
        look_from: rule_dates(label).map(|(look, _)| look.to_string()),
        out_by: rule_dates(label).map(|(_, out)| out.to_string()),
        gloves: label.gloves,
        in_short: label.gravest.clone(),
        signal_word: label.hazards.signal.map(crate::substance::Signal::word),
        statements: statements.collect(),
        pictograms: label.pictograms.iter().map(|pictogram| pictogram.name()).collect(),
        ph: label.hazards.ph,
        not_computed: label.hazards.not_computed.iter().map(ToString::to_string).collect(),
        hazard_not_known: label.hazards.unknown.clone(),
        never_beside: label.never_beside.clone(),
        gas: label.gas.clone(),
        crystallises_below_c: label.crystals.as_ref().map(|crystals| crystals.below_c),
        cautions: label.cautions.all().cloned().collect(),
        is_legal_label: false,
        sheets: rooms.collect(),
    }
}
