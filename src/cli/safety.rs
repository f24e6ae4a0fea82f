//! `soupcon safety`: what can hurt in a formula, and in several used one after another.

use clap::Args;
use serde::Serialize;

use super::context::Context;
use super::error::CliError;
use super::judged::{blocks, recipe};
use crate::bench::adapter::material;
use crate::bench::{BenchSheet, bench_sheet};
use crate::formula::{Formula, MOST_BATHS};
use crate::library::Found;
use crate::mixing::{self, Objection, SequenceReview, Stage, VesselReview, acidity};
use crate::render::Block;
use crate::render::json::document;
use crate::render::review::Reviewed;
use crate::render::safety::{sequence_document, sequence_in_short};
use crate::safety::{BathHazards, Caution, GasRelease, PowderHazard, Refusal, SafetyData, SpecialBox, Wear};
use crate::sheet::MixingSheet;

const EXAMPLES: &str = "\
Examples:
  soupcon safety mq-borax-classic
  soupcon safety mq-borax-classic --full
  soupcon safety mq-borax-classic acetic-acid-stop-bath plain-thiosulfate-fixer
  soupcon safety acetic-acid-stop-bath wash sulfide-sepia-bleach-redevelop-toner

The word `wash` means a wash in running water. A formula with several baths counts as all of them, in the order of its first use.";

/// The word for a wash.
const WASH: &str = "wash";

/// Arguments of `safety`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct SafetyArguments {
    /// Formulas in the order of use: id, alias, path to a .toml file, or `wash`
    #[arg(required = true, value_name = "FORMULA")]
    formulas: Vec<String>,
    /// Print all there is: every statement, what must not stand beside it, first aid, waste
    #[arg(long, help_heading = "Output")]
    full: bool,
}

pub(super) fn run(arguments: &SafetyArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.check_folders()?;
    if arguments.formulas.len() > MOST_BATHS {
        let count = arguments.formulas.len();
        let message = format!("{count} baths, where {MOST_BATHS} are the most that are looked at at once");
        return Err(CliError::argument("FORMULA", message, "ask for a part of the sequence at a time"));
    }
    let found = arguments
        .formulas
        .iter()
        .map(|name| if name == WASH { Ok(None) } else { context.formula(name).map(Some) })
        .collect::<Result<Vec<Option<Found>>, CliError>>()?;
    if found.iter().all(Option::is_none) {
        return Err(CliError::argument(
            "FORMULA",
            "a wash alone is not a sequence of baths",
            "name a formula, such as mq-borax-classic",
        ));
    }
    // What the sheet of a litre says is what is said here.
    let sheets = found
        .iter()
        .map(|found| found.as_ref().map(|found| recipe(&found.formula, context)).transpose())
        .collect::<Result<Vec<Option<MixingSheet>>, CliError>>()?;
    let words = context.bench_words()?;
    let benches: Vec<BenchSheet> = sheets
        .iter()
        .flatten()
        .map(|sheet| bench_sheet(&material(sheet, String::new()), &words, &[]))
        .collect();
    let stages: Vec<Stage<'_>> = sheets
        .iter()
        .map(|sheet| sheet.as_ref().map_or(Stage::Wash, |sheet| Stage::Baths(&sheet.formula, &sheet.review)))
        .collect();
    let data = context.safety()?;
    let formulas = || found.iter().flatten().map(|found| &found.formula);
    let ingredients = formulas().flat_map(crate::formula::Formula::ingredients).map(|own| &own.form);
    let solvents = formulas().flat_map(|formula| &formula.parts).filter_map(|part| part.solvent.as_ref());
    let parents = ingredients.chain(solvents).map(|form| form.parent.id.as_str()).collect();
    let equilibria = context.equilibria_for(&parents)?;
    let sequence = mixing::sequence(&data, &stages, &|vessel| acidity(&equilibria, vessel));
    let mut objections: Vec<Objection> = sequence.objections().map(|(_, own)| own.clone()).collect();
    let not_so = sheets.iter().flatten().flat_map(|sheet| &sheet.objections).filter(|own| !own.is_never());
    for objection in not_so {
        if !objections.contains(objection) {
            objections.push(objection.clone());
        }
    }
    let cautions = sequence.formulas.iter().flat_map(|(_, review)| review.cautions());
    let cautions = cautions.chain(sequence.between.iter().map(|own| &own.caution)).collect::<Vec<_>>();
    context.answer(
        || {
            let named = formulas().collect::<Vec<_>>();
            let opened =
                benches.iter().flat_map(|own| &own.opening).fold(Vec::new(), |mut all: Vec<String>, line| {
                    if !all.contains(line) {
                        all.push(line.clone());
                    }
                    all
                });
            let mut answer = if arguments.full {
                sequence_document(&sequence, &named, &opened)
            } else {
                sequence_in_short(&sequence, &named, &opened, &benches)
            };
            let rest = objections.iter().filter(|own| !own.is_never()).cloned().collect::<Vec<_>>();
            answer.blocks.splice(1..1, blocks(&rest).into_iter().map(Block::Caution));
            answer
        },
        || {
            document(Reviewed::new(
                SafetyBody::new(&sequence, &formulas().zip(&benches).collect::<Vec<_>>(), &data),
                &objections,
                cautions,
            ))
        },
    )?;
    Ok(u8::from(!objections.is_empty()))
}

/// `safety --json`.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct SafetyBody<'a> {
    baths: Vec<SequenceBathBody<'a>>,
    between: Vec<BetweenBody<'a>>,
    formulas: Vec<FormulaBody<'a>>,
    wear: Vec<&'static str>,
    ventilation: Option<String>,
    waste: Vec<&'a str>,
    exposure: &'a [String],
    closing: &'a str,
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct SequenceBathBody<'a> {
    name: &'a str,
    is_wash: bool,
    hazards: Option<BathBody<'a>>,
    never_beside: &'a [String],
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BetweenBody<'a> {
    earlier: usize,
    later: usize,
    is_next: bool,
    #[serde(flatten)]
    caution: CautionBody<'a>,
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct FormulaBody<'a> {
    formula: &'a str,
    /// `shipped`, or the personal folder or file.
    origin: String,
    /// What must be read before a jar is opened.
    before_opening: &'a [String],
    boxes: Vec<BoxBody<'a>>,
    own_cautions: &'a [String],
    substances: Vec<PowderBody<'a>>,
    dry: Vec<CautionBody<'a>>,
    vessels: Vec<VesselBody<'a>>,
}

/// A caution in JSON.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct CautionBody<'a> {
    id: &'a str,
    severity: &'static str,
    text: &'a str,
    product: &'a str,
    statement: Option<&'a str>,
    about: &'a [String],
    source: &'a str,
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BoxBody<'a> {
    id: &'a str,
    title: &'a str,
    text: &'a str,
    safer: Option<&'a str>,
    safer_formula: Option<&'a str>,
    waste: &'a str,
    about: &'a [String],
    source: &'a str,
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct PowderBody<'a> {
    substance: &'a str,
    name: &'a str,
    hazard_status: &'static str,
    is_unknown: bool,
    signal_word: Option<&'static str>,
    plain: &'a [String],
    statements: Vec<StatementBody<'a>>,
    wear: Vec<&'static str>,
    source: &'a str,
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StatementBody<'a> {
    code: &'a str,
    text: &'a str,
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct VesselBody<'a> {
    name: &'a str,
    cautions: Vec<CautionBody<'a>>,
    refusal: Option<RefusalBody<'a>>,
    bath: BathBody<'a>,
    /// What gas can come off it, and what to do then.
    gas: Vec<String>,
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct RefusalBody<'a> {
    id: &'a str,
    message: &'a str,
    fix: &'a str,
    about: &'a [String],
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BathBody<'a> {
    signal_word: Option<&'static str>,
    ph: Option<f64>,
    statements: Vec<BathStatementBody<'a>>,
    not_computed: Vec<String>,
    unknown: &'a [String],
}

#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BathStatementBody<'a> {
    code: &'a str,
    text: &'a str,
    plain: &'a str,
    because: &'a [String],
}

impl<'a> SafetyBody<'a> {
    fn new(
        sequence: &'a SequenceReview,
        formulas: &[(&Formula, &'a BenchSheet)],
        data: &'a SafetyData,
    ) -> Self {
        let general = &sequence.general;
        Self {
            baths: sequence
                .baths
                .iter()
                .map(|own| SequenceBathBody {
                    name: &own.bath.name,
                    is_wash: own.bath.is_wash(),
                    hazards: own.hazards.as_ref().map(BathBody::new),
                    never_beside: &own.never_beside,
                })
                .collect(),
            between: sequence
                .between
                .iter()
                .map(|own| BetweenBody {
                    earlier: own.earlier,
                    later: own.later,
                    is_next: own.is_next,
                    caution: CautionBody::new(&own.caution),
                })
                .collect(),
            formulas: sequence
                .formulas
                .iter()
                .map(|(id, review)| FormulaBody {
                    formula: id,
                    origin: formulas
                        .iter()
                        .find(|(own, _)| own.id == *id)
                        .map_or_else(String::new, |(own, _)| own.origin_name()),
                    before_opening: formulas
                        .iter()
                        .find(|(own, _)| own.id == *id)
                        .map_or_else(|| [].as_slice(), |(_, own)| &own.opening),
                    boxes: review.boxes.iter().map(BoxBody::new).collect(),
                    own_cautions: &review.own,
                    substances: review.powders.iter().map(PowderBody::new).collect(),
                    dry: review.dry.iter().map(CautionBody::new).collect(),
                    vessels: review.parts.iter().chain(&review.baths).map(VesselBody::new).collect(),
                })
                .collect(),
            wear: general.wear.iter().map(|wear| Wear::word(*wear)).collect(),
            ventilation: general.ventilation(),
            waste: general.waste.iter().map(|line| line.text.as_str()).collect(),
            exposure: &general.exposure,
            closing: data.closing(),
        }
    }
}

impl<'a> CautionBody<'a> {
    fn new(caution: &'a Caution) -> Self {
        Self {
            id: &caution.id,
            severity: caution.severity.word(),
            text: &caution.text,
            product: &caution.product,
            statement: caution.statement.as_deref(),
            about: &caution.about,
            source: &caution.source,
        }
    }
}

impl<'a> BoxBody<'a> {
    fn new(special: &'a SpecialBox) -> Self {
        Self {
            id: &special.id,
            title: &special.title,
            text: &special.text,
            safer: special.safer.as_deref(),
            safer_formula: special.safer_formula.as_deref(),
            waste: &special.waste,
            about: &special.about,
            source: &special.source,
        }
    }
}

impl<'a> PowderBody<'a> {
    fn new(hazard: &'a PowderHazard) -> Self {
        Self {
            substance: &hazard.id,
            name: &hazard.name,
            hazard_status: hazard.status.word(),
            is_unknown: hazard.is_unknown,
            signal_word: hazard.signal.map(crate::substance::Signal::word),
            plain: &hazard.plain,
            statements: hazard.statements.iter().map(|(code, text)| StatementBody { code, text }).collect(),
            wear: hazard.wear.iter().map(|wear| Wear::word(*wear)).collect(),
            source: &hazard.source,
        }
    }
}

impl<'a> VesselBody<'a> {
    fn new(vessel: &'a VesselReview) -> Self {
        let refusal = |refusal: &'a Refusal| RefusalBody {
            id: &refusal.id,
            message: &refusal.text,
            fix: refusal.fix(),
            about: &refusal.about,
        };
        Self {
            name: &vessel.name,
            cautions: vessel.outcome.iter().flatten().map(CautionBody::new).collect(),
            refusal: vessel.outcome.as_ref().err().map(|own| refusal(own)),
            bath: BathBody::new(&vessel.bath),
            gas: GasRelease::label_lines(&vessel.gases, false),
        }
    }
}

impl<'a> BathBody<'a> {
    fn new(bath: &'a BathHazards) -> Self {
        Self {
            signal_word: bath.signal.map(crate::substance::Signal::word),
            ph: bath.ph,
            statements: bath
                .statements
                .iter()
                .map(|own| BathStatementBody {
                    code: &own.code,
                    text: &own.text,
                    plain: &own.plain,
                    because: &own.because,
                })
                .collect(),
            not_computed: bath.not_computed.iter().map(ToString::to_string).collect(),
            unknown: &bath.unknown,
        }
    }
}
