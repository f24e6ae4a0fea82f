//! What `sheet --json` prints.

use crate::render::origin::{own_substances, with_solvents};
use crate::render::review::{CautionJson, ClassifiedJson};
use crate::render::scale::ItemBody;
use crate::render::substance::HazardBody;
use crate::safety::GasRelease;
use serde::Serialize;

/// The hazards on the label of a bottle.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SheetLabelBody {
    /// A, B …; null in a one-part formula.
    pub part: Option<String>,
    /// `Danger` or `Warning`.
    pub signal_word: Option<&'static str>,
    pub statements: Vec<HazardBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SheetBody {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file.
    pub origin: String,
    /// Chemicals of the user's own.
    pub own_substances: Vec<crate::render::origin::OwnSubstance>,
    pub title: String,
    pub evidence: &'static str,
    /// What must be known, in the order of the sheet.
    pub safety: Vec<String>,
    /// Percent solutions to make before anything else; none where the batch is refused.
    pub made_first: Vec<crate::render::made_first::MadeFirstBody>,
    /// The parts; none where the batch is refused.
    pub parts: Vec<SheetPartBody>,
    /// The baths at working strength where they differ from a part as bottled.
    pub baths: Vec<WorkingBathBody>,
    /// What is not known or doubted.
    pub doubt: Option<String>,
    /// What exchanges on the shelf do to the pH.
    pub ph_changes: Vec<crate::render::predict::PhChangeBody>,
    /// Room that the bench side takes.
    pub bench: crate::render::bench::BenchCount,
    /// What is not on the shelf, where one is given.
    pub missing: Vec<crate::render::bench::MissingBody>,
    /// What must be read before a jar is opened.
    pub before_opening: Vec<String>,
    /// What the labels of its bottles say of hazards; what is never bottled has none.
    pub labels: Vec<SheetLabelBody>,
}

/// A bath at working strength.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct WorkingBathBody {
    /// The use and what is poured together.
    pub name: String,
    /// Its hazards.
    pub bath: ClassifiedJson,
    /// Baths that must not come before or after it without a wash.
    pub never_beside: Vec<String>,
    /// What gas can come off it, and what to do then.
    pub gas: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SheetPartBody {
    /// A, B …
    pub name: Option<String>,
    /// Volume as bottled.
    pub volume_ml: f64,
    /// Room that its bench side takes.
    pub bench: crate::render::bench::BenchCount,
    /// Water to start with; zero where the solvent is another.
    pub start_water_ml: f64,
    /// Its temperature; of the solvent where that is another.
    pub start_water_c: Option<f64>,
    /// The solvent where it is not water.
    pub solvent: Option<String>,
    /// pH that the finished solution should read at 20 °C.
    pub expected_ph: Option<f64>,
    pub expected_ph_error: Option<f64>,
    /// How warm it ends when mixed as planned, made up with water at 20 °C.
    pub ends_at_c: Option<f64>,
    /// Below which something crystallises in the bottle; null where nothing does, or the data do not say.
    pub crystallises_below_c: Option<f64>,
    /// What it takes to end at the temperatures of use.
    pub endings: Vec<EndingBody>,
    /// The hazards of the solution as bottled.
    pub bath: ClassifiedJson,
    /// Baths that must not come before or after it without a wash.
    pub never_beside: Vec<String>,
    /// What gas can come off it, and what to do then.
    pub gas: Vec<String>,
    /// What to weigh.
    pub items: Vec<ItemBody>,
    pub steps: Vec<StepBody>,
}

/// What it takes for a part to end at a temperature.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct EndingBody {
    /// Wanted.
    pub target_c: f64,
    /// Of the water to make up with, all else as planned; null where no tap gives it.
    pub top_up_water_c: Option<f64>,
    /// Of the water to start with, made up with water at 20 °C; null where no water does it.
    pub start_water_c: Option<f64>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct StepBody {
    /// Number within the part.
    pub number: usize,
    /// `start`, `pinch`, `add`, `dissolve-apart`, `pour-in`, `cool`, `top-up`, or an operation.
    pub action: &'static str,
    /// What is done besides dissolving: `heat`, `boil`, `cool`, `stand`, `strain`, `filter`, `swell`.
    pub operation: Option<&'static str>,
    /// Id of the form.
    pub substance: Option<String>,
    /// How much, unrounded.
    pub amount: Option<f64>,
    /// `g` or `ml`.
    pub unit: Option<&'static str>,
    /// Rounded to the balance or measure.
    pub weigh: Option<f64>,
    /// Grams of the form that enter the vessel with this step.
    pub carries_g: Option<f64>,
    pub water_ml: Option<f64>,
    /// Temperature of that water, or to wait for.
    pub target_c: Option<f64>,
    /// What to do.
    pub instruction: String,
    /// The sign that it is done.
    pub done_when: String,
    /// Why at this place.
    pub why: String,
    /// Source of the reason.
    pub source: &'static str,
    /// What must be known before it.
    pub cautions: Vec<CautionJson>,
    /// Temperature after it, where it can be told.
    pub temperature_after_c: Option<f64>,
}

impl SheetBody {
    pub(crate) fn new(sheet: &crate::sheet::MixingSheet, facts: crate::render::bench::BenchFacts) -> Self {
        Self {
            formula: sheet.formula.id.clone(),
            origin: sheet.formula.origin_name(),
            own_substances: own_substances(&with_solvents(
                &sheet.formula,
                sheet.parts.iter().flat_map(|part| &part.batch.items).map(|item| item.form.as_ref()),
            )),
            title: sheet.formula.title.clone(),
            evidence: sheet.formula.evidence.kind.word(),
            safety: safety_lines(sheet),
            baths: sheet
                .review
                .baths
                .iter()
                .map(|bath| WorkingBathBody {
                    name: bath.name.clone(),
                    bath: (&bath.bath).into(),
                    never_beside: bath.never_beside.clone(),
                    gas: GasRelease::label_lines(&bath.gases, false),
                })
                .collect(),
            made_first: if sheet.objections.is_empty() {
                crate::render::made_first::MadeFirstBody::of(&sheet.batch)
            } else {
                Vec::new()
            },
            parts: sheet
                .parts
                .iter()
                .filter(|_| sheet.objections.is_empty())
                .zip(&sheet.formula.parts)
                .zip(&facts.parts)
                .map(|((part, source), bench)| part_body(part, source, *bench))
                .collect(),
            bench: facts.whole,
            missing: facts.missing,
            before_opening: facts.before_opening,
            labels: labels_of(sheet),
            doubt: sheet.formula.evidence.doubt.clone(),
            ph_changes: sheet.ph_changes.iter().map(Into::into).collect(),
        }
    }
}

/// What the labels of the bottles say of hazards.
fn labels_of(sheet: &crate::sheet::MixingSheet) -> Vec<SheetLabelBody> {
    if !sheet.objections.is_empty() {
        return Vec::new();
    }
    let labels = crate::label::labels(sheet, None, None).unwrap_or_default();
    let body = |label: &crate::label::Label| SheetLabelBody {
        part: label.part.clone(),
        signal_word: label.hazards.signal.map(crate::substance::Signal::word),
        statements: label
            .hazards
            .statements
            .iter()
            .map(|statement| HazardBody { code: statement.code.clone(), text: statement.text.clone() })
            .collect(),
    };
    labels.iter().map(body).collect()
}

/// Everything about safety as lines, in the order of the printed sheet.
fn safety_lines(sheet: &crate::sheet::MixingSheet) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(sheet.parts.iter().filter_map(|part| part.too_small.clone()));
    for special in &sheet.review.boxes {
        let safer = special.safer.as_ref().map_or_else(String::new, |safer| format!(" Safer: {safer}."));
        lines.push(format!("{}: {}{safer} Waste: {}", special.title, special.text, special.waste));
    }
    lines.extend(sheet.formula.cautions.all().cloned());
    lines.push(format!("Wear {}.", crate::safety::worn_words(&sheet.review.general.wear)));
    lines.extend(sheet.review.general.ventilation());
    for powder in &sheet.review.powders {
        let plain = powder.plain.join(" ");
        lines.push(
            format!("{}: {plain} {}", powder.name, powder.with_codes().join(" ")).trim_end().to_owned(),
        );
    }
    for caution in sheet.review.dry.iter().chain(&sheet.review.at_use()) {
        lines.push(format!("{}: {}", caution.severity.word(), caution.text));
    }
    for part in &sheet.parts {
        let name = part.batch.name.as_ref().map_or_else(String::new, |name| format!(" {name}"));
        lines.push(format!("The bath{name}: {}", part.bath.summary()));
        if !part.never_beside.is_empty() {
            lines.push(format!(
                "Never before or after it without a good wash: {}.",
                part.never_beside.join("; ")
            ));
        }
    }
    lines.extend(sheet.review.general.waste.iter().map(|line| line.text.clone()));
    lines.extend(sheet.review.general.exposure.iter().cloned());
    lines.push(sheet.review.general.closing.clone());
    lines
}

fn part_body(
    part: &crate::sheet::SheetPart,
    source: &crate::formula::Part,
    bench: crate::render::bench::BenchCount,
) -> SheetPartBody {
    let in_water = source.solvent.is_none();
    SheetPartBody {
        name: part.batch.name.clone(),
        volume_ml: part.batch.volume.as_ml(),
        bench,
        start_water_ml: if in_water { part.plan.start.millilitres } else { 0.0 },
        start_water_c: part.plan.start.celsius,
        solvent: source.solvent.as_ref().map(|form| form.id.clone()),
        expected_ph: part.ph.as_ref().map(|ph| ph.ph),
        expected_ph_error: part.ph.as_ref().map(|ph| ph.error),
        ends_at_c: part.finish.as_ref().map(|finish| finish.end_c),
        crystallises_below_c: part.crystals.as_ref().map(|crystals| crystals.below_c),
        endings: part
            .finish
            .iter()
            .flat_map(|finish| &finish.endings)
            .map(|ending| EndingBody {
                target_c: ending.target_c,
                top_up_water_c: ending.top_up_c,
                start_water_c: ending.start_c,
            })
            .collect(),
        bath: (&part.bath).into(),
        never_beside: part.never_beside.clone(),
        gas: part.gas.clone(),
        items: part.batch.items.iter().map(ItemBody::new).collect(),
        steps: part
            .steps
            .iter()
            .map(|step| {
                let planned = &step.step;
                StepBody {
                    number: step.number,
                    action: planned.action.word(),
                    operation: planned.action.operation(),
                    substance: planned.form.as_ref().map(|form| form.id.clone()),
                    amount: planned.amount,
                    unit: planned.unit.map(crate::scale::Unit::json),
                    weigh: planned.weigh,
                    carries_g: planned.carries_g,
                    water_ml: planned.water_ml,
                    target_c: planned.celsius,
                    instruction: planned.instruction.clone(),
                    done_when: planned.done.clone(),
                    why: planned.why.clone(),
                    source: planned.source,
                    cautions: step.cautions.iter().map(CautionJson::from).collect(),
                    temperature_after_c: step.after_c,
                }
            })
            .collect(),
    }
}
