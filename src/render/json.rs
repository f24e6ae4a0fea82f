//! What `--json` prints: one document a command, unrounded numbers, units in the names, `schema_version` first.
//!
//! These structs are a promise to programs that read them: fields are added, never renamed; a breaking change raises
//! [`SCHEMA_VERSION`].

use serde::Serialize;

use super::json_review::{CautionJson, ClassifiedJson};
use super::origin::{own_substances, with_solvents};
use crate::formula::Formula;
use crate::library::{Header, Origin};
use crate::safety::GasRelease;
use crate::scale::{Advice, Batch, Item};
use crate::substance::Form;

/// Version of all JSON documents.
pub const SCHEMA_VERSION: u32 = 1;

/// Writes a value as one document with a line end.
pub fn to_json<T: Serialize>(value: &T) -> String {
    // The structs here hold no maps with odd keys and no non-finite numbers, so this cannot fail; an empty object says so if it did.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_else(|_| "{}".to_owned());
    // C1 controls and direction marks are legal in JSON but not on a terminal.
    if text.chars().any(|character| character != '\n' && crate::diagnostic::is_hostile(character)) {
        text = text
            .chars()
            .map(|character| {
                if character != '\n' && crate::diagnostic::is_hostile(character) {
                    format!("\\u{:04x}", u32::from(character))
                } else {
                    character.to_string()
                }
            })
            .collect();
    }
    text.push('\n');
    text
}

/// A document: version first, then the command's own fields.
#[derive(Debug, Serialize)]
pub struct Versioned<T: Serialize> {
    /// [`SCHEMA_VERSION`].
    pub schema_version: u32,
    /// The command's fields.
    #[serde(flatten)]
    pub body: T,
}

/// Puts the version before a command's fields and writes the document.
pub fn document<T: Serialize>(body: T) -> String {
    to_json(&Versioned { schema_version: SCHEMA_VERSION, body })
}

/// An error on standard error.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ErrorDocument {
    /// The error.
    pub error: ErrorBody,
}

/// What is wrong and what to do.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ErrorBody {
    /// Stable short name.
    pub code: String,
    /// What is wrong and where.
    pub message: String,
    /// What to do.
    pub fix: String,
}

/// `list`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ListBody {
    /// The formulas.
    pub formulas: Vec<ListedFormula>,
}

/// One formula of a list.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ListedFormula {
    /// Id.
    pub id: String,
    /// Name by composition.
    pub title: String,
    /// Kind.
    pub kind: &'static str,
    /// `published`, `common-practice` or `memory`.
    pub evidence: &'static str,
    /// `shipped` or the personal folder.
    pub origin: String,
    /// Distance from what was asked, with `--near`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance: Option<f64>,
}

impl ListedFormula {
    /// A formula without a distance.
    pub fn new(header: &Header) -> Self {
        Self {
            id: header.id.clone(),
            title: header.title.clone(),
            kind: header.kind.folder(),
            evidence: header.evidence.word(),
            origin: match &header.origin {
                Origin::Shipped => "shipped".to_owned(),
                Origin::Folder(folder) => folder.display().to_string(),
                Origin::File => "a file".to_owned(),
            },
            distance: None,
        }
    }
}

/// `scale`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ScaleBody {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file.
    pub origin: String,
    /// Chemicals of the user's own.
    pub own_substances: Vec<super::origin::OwnSubstance>,
    /// The limiting substance, where the volume came from one.
    pub limited_by: Option<String>,
    /// Percent solutions to make before anything else.
    pub made_first: Vec<super::made_first::MadeFirstBody>,
    /// The parts.
    pub parts: Vec<ScalePart>,
    /// What exchanges on the shelf do to the pH.
    pub ph_changes: Vec<super::json_predict::PhChangeBody>,
    /// What the films asked for, where films were named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub films: Option<super::films::FilmsBody>,
}

/// One part of a batch.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ScalePart {
    /// A, B …
    pub name: Option<String>,
    /// Volume as bottled, mL.
    pub volume_ml: f64,
    /// What to weigh or measure.
    pub items: Vec<ItemBody>,
}

/// One line to weigh or measure.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ItemBody {
    /// Id of the form to take.
    pub substance: String,
    /// Its name.
    pub name: String,
    /// Per litre of the part.
    pub per_litre: f64,
    /// `g` or `ml`.
    pub unit: &'static str,
    /// For the batch, unrounded.
    pub amount: f64,
    /// Rounded to the balance or the measure; with a dose, the grams that it carries.
    pub weigh: f64,
    /// (weigh − amount) / amount.
    pub rounding_error_percent: f64,
    /// Grams of the form that enter the vessel, where known.
    pub mass_g: Option<f64>,
    /// A percent solution in place of weighing.
    pub dose: Option<DoseBody>,
    /// The percent solution that the recipe itself measures, such as `10 % w/v`.
    pub solution: Option<String>,
    /// The form that the recipe names.
    pub instead_of: Option<String>,
    /// What to mind.
    pub advice: Vec<String>,
}

/// A dose of a percent solution.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct DoseBody {
    /// % w/v.
    pub strength_percent: f64,
    /// mL to take.
    pub millilitres: f64,
    /// Solvent.
    pub solvent: String,
}

impl ItemBody {
    /// From a line of a batch.
    pub fn new(item: &Item) -> Self {
        Self {
            substance: item.form.id.clone(),
            name: item.form.name.clone(),
            per_litre: item.per_litre,
            unit: item.unit.json(),
            amount: item.amount,
            weigh: item.weigh,
            rounding_error_percent: item.rounding_error_percent,
            mass_g: item.grams,
            dose: item.dose.as_ref().map(|dose| DoseBody {
                strength_percent: dose.strength_percent,
                millilitres: dose.millilitres,
                solvent: dose.solvent.clone(),
            }),
            solution: item.solution.map(|strength| strength.to_string()),
            instead_of: item.instead_of.as_ref().map(|instead| instead.form.id.clone()),
            advice: item.advice.iter().map(Advice::to_string).collect(),
        }
    }
}

impl ScaleBody {
    /// From a batch and what its exchanges do to the pH.
    pub fn new(formula: &Formula, batch: &Batch, changes: &[crate::predict::exchanged::PhChange]) -> Self {
        Self {
            formula: formula.id.clone(),
            origin: formula.origin_name(),
            own_substances: own_substances(&with_solvents(
                formula,
                batch.parts.iter().flat_map(|part| &part.items).map(|item| item.form.as_ref()),
            )),
            limited_by: batch.limited_by.as_ref().map(|form| form.id.clone()),
            made_first: super::made_first::MadeFirstBody::of(batch),
            parts: batch
                .parts
                .iter()
                .map(|part| ScalePart {
                    name: part.name.clone(),
                    volume_ml: part.volume.as_ml(),
                    items: part.items.iter().map(ItemBody::new).collect(),
                })
                .collect(),
            ph_changes: changes.iter().map(Into::into).collect(),
            films: None,
        }
    }
}

/// `substance` without a name.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SubstancesBody {
    /// Every form.
    pub substances: Vec<SubstanceName>,
}

/// A form's id and name.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SubstanceName {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
}

/// `substance NAME`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SubstanceBody {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Systematic name.
    pub systematic_name: Option<String>,
    /// CAS number.
    pub cas: Option<String>,
    /// Chemical formula.
    pub chemical_formula: Option<String>,
    /// g/mol, water of crystallisation included.
    pub molar_mass: Option<f64>,
    /// Id of the parent where it has several forms or another name.
    pub parent: Option<String>,
    /// Molecules of water of crystallisation.
    pub crystal_water: f64,
    /// Roles.
    pub roles: Vec<&'static str>,
    /// Classes for the rules of combination.
    pub classes: Vec<String>,
    /// % by mass of the chemical in the product.
    pub assay_percent: Option<f64>,
    /// g/mL.
    pub density_g_per_ml: Option<f64>,
    /// g per 100 g of water at 20 °C.
    pub solubility_20c_g_per_100_g: Option<f64>,
    /// Heat of solution, kJ/mol; positive cools.
    pub heat_of_solution_kj_per_mol: Option<f64>,
    /// Acid constants.
    pub acid_constants: Vec<AcidConstantBody>,
    /// Signal word.
    pub signal_word: Option<&'static str>,
    /// `harmonised`, `typical`, `not classified` or `unknown`.
    pub hazard_status: &'static str,
    /// Hazard statements.
    pub hazards: Vec<HazardBody>,
}

/// An acid constant.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct AcidConstantBody {
    /// The acid.
    pub step: String,
    /// pKa at 25 °C and zero ionic strength.
    pub pka: f64,
    /// Source.
    pub source: String,
}

/// The hazards on the label of a bottle.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SheetLabelBody {
    /// A, B …; null in a one-part formula.
    pub part: Option<String>,
    /// `Danger` or `Warning`.
    pub signal_word: Option<&'static str>,
    /// Its statements.
    pub statements: Vec<HazardBody>,
}

/// A hazard statement.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct HazardBody {
    /// Code.
    pub code: String,
    /// Standard text.
    pub text: String,
}

impl SubstanceBody {
    /// From a form; `hazards` are its statements with their texts.
    pub fn new(form: &Form, solubility_20c: Option<f64>, hazards: Vec<HazardBody>) -> Self {
        let parent = &form.parent;
        Self {
            id: form.id.clone(),
            name: form.name.clone(),
            systematic_name: form.systematic.clone(),
            cas: form.cas.clone(),
            chemical_formula: form.chemical_formula.clone(),
            molar_mass: form.molar_mass_g_per_mol,
            parent: (parent.id != form.id || parent.form_count > 1).then(|| parent.id.clone()),
            crystal_water: form.crystal_water,
            roles: parent.roles.iter().map(|role| role.word()).collect(),
            classes: parent.classes.iter().flatten().map(ToString::to_string).collect(),
            assay_percent: form.assay_percent,
            density_g_per_ml: form.density_g_per_ml,
            solubility_20c_g_per_100_g: solubility_20c,
            heat_of_solution_kj_per_mol: form.heat_of_solution.as_ref().map(|heat| heat.kj_per_mol),
            acid_constants: form
                .acid_constants
                .iter()
                .map(|constant| AcidConstantBody {
                    step: constant.step.clone(),
                    pka: constant.pka,
                    source: constant.source.clone(),
                })
                .collect(),
            signal_word: form.hazards.signal.map(crate::substance::Signal::word),
            hazard_status: form.hazards.status.word(),
            hazards,
        }
    }
}

/// `exchange`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ExchangeBody {
    /// What there is an amount of.
    pub from: String,
    /// What replaces it.
    pub to: String,
    /// Grams of the first.
    pub amount_g: f64,
    /// Grams of the second that do the same.
    pub result_g: f64,
    /// Sodium hydroxide to add (negative: to leave out) for the exchange to be exact, g.
    pub sodium_hydroxide_g: f64,
    /// What to mind.
    pub note: Option<String>,
}

/// `percent`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct PercentBody {
    /// The form.
    pub substance: String,
    /// Strength with its basis.
    pub strength: String,
    /// Grams of pure substance.
    pub solute_g: f64,
    /// Grams of the product to weigh.
    pub weigh_g: Option<f64>,
    /// Millilitres of the product, where it is a liquid.
    pub measure_ml: Option<f64>,
    /// Volume to make up to; of w/w only about what comes out, see `make_up_to_g`.
    pub make_up_to_ml: Option<f64>,
    /// Mass to make up to; null where the basis is not w/w.
    pub make_up_to_g: Option<f64>,
    /// Water to begin with; null where the basis is w/w or it is refused.
    pub start_water_ml: Option<f64>,
    /// How warm that water is.
    pub start_water_c: Option<f64>,
    /// How it goes in.
    pub how: Option<String>,
    /// What the thermometer reads then, taken at once and without loss of heat; null where that is not known.
    pub temperature_after_c: Option<f64>,
    /// What to put on.
    pub wear: Vec<String>,
    /// About air, where it matters.
    pub ventilation: Option<String>,
}

/// `dilute`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct DiluteBody {
    /// Stock; null where it is refused.
    pub stock_ml: Option<f64>,
    /// Water; null where it is refused.
    pub water_ml: Option<f64>,
    /// Whether the formula names such a use; null without a formula.
    pub is_use: Option<bool>,
    /// Each part of a formula in several parts.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<DilutePart>,
    /// What to mind.
    pub warnings: Vec<String>,
    /// Whether the stock is enough for the films, where films were named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stock: Option<super::films::StockBody>,
    /// Of the formula that was named: `shipped`, or the personal folder or file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub origin: Option<String>,
}

/// One part of a working solution.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct DilutePart {
    /// A, B …
    pub name: String,
    /// mL.
    pub volume_ml: f64,
}

/// `water`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct WaterBody {
    /// Hot water at its temperature.
    pub hot_ml: f64,
    /// Cold water at its temperature.
    pub cold_ml: f64,
}

/// `sheet`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SheetBody {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file.
    pub origin: String,
    /// Chemicals of the user's own.
    pub own_substances: Vec<super::origin::OwnSubstance>,
    /// Its name.
    pub title: String,
    /// Evidence.
    pub evidence: &'static str,
    /// What must be known, in the order of the sheet.
    pub safety: Vec<String>,
    /// Percent solutions to make before anything else; none where the batch is refused.
    pub made_first: Vec<super::made_first::MadeFirstBody>,
    /// The parts; none where the batch is refused.
    pub parts: Vec<SheetPartBody>,
    /// The baths at working strength where they differ from a part as bottled.
    pub baths: Vec<WorkingBathBody>,
    /// What is not known or doubted.
    pub doubt: Option<String>,
    /// What exchanges on the shelf do to the pH.
    pub ph_changes: Vec<super::json_predict::PhChangeBody>,
    /// Room that the bench side takes.
    pub bench: super::bench::BenchCount,
    /// What is not on the shelf, where one is given.
    pub missing: Vec<super::bench::MissingBody>,
    /// What must be read before a jar is opened.
    pub before_opening: Vec<String>,
    /// What the labels of its bottles say of hazards; what is never bottled has none.
    pub labels: Vec<SheetLabelBody>,
}

/// A bath at working strength.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct WorkingBathBody {
    /// The use and what is poured together.
    pub name: String,
    /// Its hazards.
    pub bath: ClassifiedJson,
    /// Baths that must not come before or after it without a wash.
    pub never_beside: Vec<String>,
    /// What gas can come off it, and what to do then.
    pub gas: Vec<String>,
}

/// One part of a sheet.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct SheetPartBody {
    /// A, B …
    pub name: Option<String>,
    /// Volume as bottled.
    pub volume_ml: f64,
    /// Room that its bench side takes.
    pub bench: super::bench::BenchCount,
    /// Water to start with; zero where the solvent is another.
    pub start_water_ml: f64,
    /// Its temperature; of the solvent where that is another.
    pub start_water_c: Option<f64>,
    /// The solvent where it is not water.
    pub solvent: Option<String>,
    /// pH that the finished solution should read at 20 °C.
    pub expected_ph: Option<f64>,
    /// Its expected error.
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
    /// The steps.
    pub steps: Vec<StepBody>,
}

/// What it takes for a part to end at a temperature.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct EndingBody {
    /// Wanted.
    pub target_c: f64,
    /// Of the water to make up with, all else as planned; null where no tap gives it.
    pub top_up_water_c: Option<f64>,
    /// Of the water to start with, made up with water at 20 °C; null where no water does it.
    pub start_water_c: Option<f64>,
}

/// A step.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct StepBody {
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
    /// Water of this step.
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
    /// From a sheet.
    pub fn new(sheet: &crate::sheet::MixingSheet, facts: super::bench::BenchFacts) -> Self {
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
                .map(|own| WorkingBathBody {
                    name: own.name.clone(),
                    bath: (&own.bath).into(),
                    never_beside: own.never_beside.clone(),
                    gas: GasRelease::label_lines(&own.gases, false),
                })
                .collect(),
            made_first: if sheet.objections.is_empty() {
                super::made_first::MadeFirstBody::of(&sheet.batch)
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
            .map(|own| HazardBody { code: own.code.clone(), text: own.text.clone() })
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
    bench: super::bench::BenchCount,
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
        crystallises_below_c: part.crystals.as_ref().map(|own| own.below_c),
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
                let own = &step.step;
                StepBody {
                    number: step.number,
                    action: own.action.word(),
                    operation: own.action.operation(),
                    substance: own.form.as_ref().map(|form| form.id.clone()),
                    amount: own.amount,
                    unit: own.unit.map(crate::scale::Unit::json),
                    weigh: own.weigh,
                    carries_g: own.carries_g,
                    water_ml: own.water_ml,
                    target_c: own.celsius,
                    instruction: own.instruction.clone(),
                    done_when: own.done.clone(),
                    why: own.why.clone(),
                    source: own.source,
                    cautions: step.cautions.iter().map(CautionJson::from).collect(),
                    temperature_after_c: step.after_c,
                }
            })
            .collect(),
    }
}
