//! What `safety --json` prints.

use crate::bench::BenchSheet;
use crate::formula::Formula;
use crate::mixing::{SequenceReview, VesselReview};
use crate::safety::{BathHazards, Caution, GasRelease, PowderHazard, Refusal, SafetyData, SpecialBox, Wear};
use serde::Serialize;

/// `safety --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SafetyBody<'a> {
    baths: Vec<SequenceBathBody<'a>>,
    between: Vec<BetweenBody<'a>>,
    formulas: Vec<FormulaBody<'a>>,
    wear: Vec<&'static str>,
    ventilation: Option<String>,
    waste: Vec<&'a str>,
    exposure: &'a [String],
    closing: &'a str,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct SequenceBathBody<'a> {
    name: &'a str,
    is_wash: bool,
    hazards: Option<BathBody<'a>>,
    never_beside: &'a [String],
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BetweenBody<'a> {
    earlier: usize,
    later: usize,
    is_next: bool,
    #[serde(flatten)]
    caution: CautionBody<'a>,
}

#[derive(Debug, Serialize)]
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
#[derive(Debug, Serialize)]
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

#[derive(Debug, Serialize)]
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

#[derive(Debug, Serialize)]
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

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StatementBody<'a> {
    code: &'a str,
    text: &'a str,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct VesselBody<'a> {
    name: &'a str,
    cautions: Vec<CautionBody<'a>>,
    refusal: Option<RefusalBody<'a>>,
    bath: BathBody<'a>,
    /// What gas can come off it, and what to do then.
    gas: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct RefusalBody<'a> {
    id: &'a str,
    message: &'a str,
    fix: &'a str,
    about: &'a [String],
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BathBody<'a> {
    signal_word: Option<&'static str>,
    ph: Option<f64>,
    statements: Vec<BathStatementBody<'a>>,
    not_computed: Vec<String>,
    unknown: &'a [String],
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BathStatementBody<'a> {
    code: &'a str,
    text: &'a str,
    plain: &'a str,
    because: &'a [String],
}

impl<'a> SafetyBody<'a> {
    /// From the review of a sequence; each formula with the bench page of its litre.
    pub(crate) fn new(
        sequence: &'a SequenceReview,
        formulas: &[(&Formula, &'a BenchSheet)],
        data: &'a SafetyData,
    ) -> Self {
        let general = &sequence.general;
        Self {
            baths: sequence
                .baths
                .iter()
                .map(|bath| SequenceBathBody {
                    name: &bath.bath.name,
                    is_wash: bath.bath.is_wash(),
                    hazards: bath.hazards.as_ref().map(BathBody::new),
                    never_beside: &bath.never_beside,
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
                .map(|statement| BathStatementBody {
                    code: &statement.code,
                    text: &statement.text,
                    plain: &statement.plain,
                    because: &statement.because,
                })
                .collect(),
            not_computed: bath.not_computed.iter().map(ToString::to_string).collect(),
            unknown: &bath.unknown,
        }
    }
}
