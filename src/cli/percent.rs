//! `soupcon percent`: how to make a percent solution.

use clap::Args;

use super::arguments::{assay_fractions, assay_of, form, purity_words, volume};
use super::context::Context;
use super::error::CliError;
use super::judged::{mixing_sheet, refuse};
use crate::mixing::{self, Objection};
use crate::quantity::rounding::{show_short, show_significant};
use crate::quantity::{Strength, StrengthBasis, Volume};
use crate::render::json::document;
use crate::render::percent::PercentBody;
use crate::render::review::Reviewed;
use crate::render::safety::{caution_words, special_block};
use crate::render::{Block, Document, capital};
use crate::safety::Severity;
use crate::scale::{PercentSolution, Request, percent_solution};
use crate::sequence::Action;
use crate::sheet::MixingSheet;
use crate::substance::{Form, State};

const EXAMPLES: &str = "\
Examples:
  soupcon percent potassium-bromide '10 % w/v' 250ml
  soupcon percent benzotriazole 1% 100ml               w/v for a solid where no basis is given
  soupcon percent acetic-acid '28 % w/w' 500ml

w/v: grams in 100 mL of solution; w/w: grams in 100 g; v/v: millilitres in 100 mL.";

/// Water is there before what is dissolved: never water onto acid or caustic.
const START: &str = "begin with a part of it, cold for acid or caustic; add what is taken";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct PercentArguments {
    /// What to dissolve
    form: String,
    /// Strength with its basis: '10 % w/v', '28 % w/w', '50 % v/v'
    strength: String,
    /// How much to make
    volume: String,
    /// Purity of the chemical, by mass
    #[arg(long, value_name = "FORM=PERCENT")]
    assay: Vec<String>,
}

/// Least that the finest balance of a laboratory shows, g. Common practice, no source.
const LEAST_G: f64 = 1e-4;

pub(super) fn run(arguments: &PercentArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let form = form(context, &arguments.form)?;
    let strength = strength(&arguments.strength, form.state)?;
    let volume = volume("VOLUME", &arguments.volume)?;
    let assays = assay_fractions(context, &arguments.assay)?;
    let assay = assay_of(&form, &assays);
    let solution = percent_solution(&form, strength, volume, assay)?;
    if solution.weigh_g < LEAST_G {
        let message =
            format!("{volume} of it would hold less than 0.1 mg of {}, too little to weigh", form.name);
        return Err(CliError::argument("VOLUME", message, "make more of it, or dilute a stronger solution"));
    }
    let mut making = mixing::making(context.library.weights(), &form, strength, assay);
    let sheet = if making.objections.is_empty() { sheet_of(&form, &solution, context)? } else { None };
    if let Some(sheet) = &sheet {
        making.objections.extend(sheet.objections.iter().map(|objection| {
            let place = format!("a {strength} solution of {}", form.name);
            // Of one chemical in water there is no other formula to choose.
            let fix = match objection.code {
                "too-hot" => "take a weaker one: half the strength gives about half the heat".to_owned(),
                _ => objection.fix.clone(),
            };
            Objection { place, fix, ..objection.clone() }
        }));
    } else {
        let parents = [form.parent.id.as_str()].into();
        let equilibria = context.equilibria_for(&parents)?;
        let heat = mixing::heat_of_making(&equilibria, &form, strength, assay);
        making.objections.extend(heat.objections);
        making.cautions.extend(heat.cautions);
    }
    let mut way = sheet.as_ref().map_or_else(Way::default, Way::of);
    if solution.total_g.is_some() {
        // Its volume is not known, and so the water is not either.
        way = Way { water_ml: None, celsius: None, after_c: None, ..way };
    }
    let told: Vec<(Severity, &str)> = way
        .cautions
        .iter()
        .chain(&making.cautions)
        .map(|(severity, text)| (*severity, text.as_str()))
        .collect();
    let body = || PercentBody {
        substance: form.id.clone(),
        strength: strength.to_string(),
        solute_g: solution.solute_g,
        weigh_g: Some(solution.weigh_g),
        measure_ml: solution.measure_ml,
        make_up_to_ml: Some(solution.make_up_to_ml),
        make_up_to_g: solution.total_g,
        start_water_ml: way.water_ml,
        start_water_c: way.celsius,
        how: way.how.clone(),
        temperature_after_c: way.after_c,
        wear: way.wear.clone(),
        ventilation: way.air.clone(),
    };
    if !making.objections.is_empty() {
        let subject = ("percent solution", form.id.as_str());
        return refuse(context, subject, &making.objections, || {
            let none = PercentBody {
                weigh_g: None,
                measure_ml: None,
                make_up_to_ml: None,
                make_up_to_g: None,
                start_water_ml: None,
                start_water_c: None,
                how: None,
                temperature_after_c: None,
                ..body()
            };
            Reviewed::in_words(none, &making.objections, told.iter().copied())
        });
    }
    context.answer(
        || {
            let mut answer = Document::new();
            answer.title(format!("{strength} solution of {}, {volume}", form.name));
            let boxes = sheet.iter().flat_map(|sheet| &sheet.review.boxes);
            answer.blocks.extend(boxes.map(|boxes| Block::Caution(special_block(boxes))));
            // What is dangerous in the doing is read before it.
            let block = |own: &&(Severity, &str)| Block::Caution(caution_words(own.0, own.1));
            let (grave, others): (Vec<_>, Vec<_>) =
                told.iter().partition(|(severity, _)| *severity >= Severity::Danger);
            answer.blocks.extend(grave.iter().map(block));
            answer.facts(facts(&solution, &way, volume));
            let mut points = vec![basis_words(strength)];
            points.extend(purity_words(&form, &assays));
            points.extend(form.handling.clone());
            answer.list(points);
            answer.blocks.extend(others.iter().map(block));
            answer.paragraph("Read the label of the jar. Label the bottle: what, how strong, when.");
            answer
        },
        || document(Reviewed::in_words(body(), &[], told.iter().copied())),
    )?;
    Ok(0)
}

/// How it is made: what its mixing sheet says, without its weighing.
#[derive(Default)]
struct Way {
    water_ml: Option<f64>,
    celsius: Option<f64>,
    is_distilled: bool,
    how: Option<String>,
    done: Option<String>,
    after_c: Option<f64>,
    wear: Vec<String>,
    air: Option<String>,
    cautions: Vec<(Severity, String)>,
}

impl Way {
    fn of(sheet: &MixingSheet) -> Self {
        let general = &sheet.review.general;
        let mut way = Self {
            wear: general.wear.iter().filter(|own| own.is_worn()).map(|own| own.word().to_owned()).collect(),
            air: general.ventilation(),
            ..Self::default()
        };
        for step in sheet.parts.iter().flat_map(|part| &part.steps) {
            way.cautions.extend(step.cautions.iter().map(|caution| (caution.severity, caution.text.clone())));
            match step.step.action {
                Action::Start => {
                    way.water_ml = step.step.water_ml;
                    way.celsius = step.step.celsius;
                    way.is_distilled = step.step.instruction.contains("distilled");
                }
                Action::Add => {
                    let why = capital(&step.step.why);
                    let why = if why.is_empty() { why } else { format!(" {why}.") };
                    way.how = Some(format!("{}{why}", step.step.how));
                    way.done = Some(step.step.done.clone());
                    way.after_c = step.after_c;
                }
                _ => {}
            }
        }
        way.cautions.sort_by_key(|(severity, _)| std::cmp::Reverse(*severity));
        way
    }
}

/// The mixing sheet of a formula that is nothing but the percent solution, so that the two say the same; of a strength by weight as many
/// grams in a litre, for its words alone. None where no such formula can be.
fn sheet_of(
    form: &Form,
    solution: &PercentSolution,
    context: &Context<'_, '_>,
) -> Result<Option<MixingSheet>, CliError> {
    let litres = solution.make_up_to_ml / 1000.0;
    let amount = match solution.measure_ml {
        Some(millilitres) => format!("millilitres = {}", millilitres / litres),
        None => format!("grams = {}", solution.weigh_g / litres),
    };
    let text = format!(
        "format = 1\ntitle = \"Percent solution\"\nkind = \"test-solution\"\nsummary = \"Of one chemical.\"\nevidence = \"memory\"\n\n[[ingredients]]\nsubstance = \"{}\"\n{amount}\n",
        form.id
    );
    let Ok(found) = context.library.formula_from_text(&text, "percent-solution", "percent") else {
        return Ok(None);
    };
    let request = Request::volume(Volume::from_ml(solution.make_up_to_ml));
    Ok(Some(mixing_sheet(&found.formula, &request, &context.relations()?, context)?))
}

/// What to take, the water, how it goes in, what to wear.
fn facts(solution: &PercentSolution, way: &Way, volume: Volume) -> Vec<(String, String)> {
    let take = match solution.measure_ml {
        Some(ml) => format!("{} mL ({} g)", show_significant(ml), show_significant(solution.weigh_g)),
        None => format!("{} g", show_significant(solution.weigh_g)),
    };
    let kind = if way.is_distilled { "distilled water" } else { "water" };
    let start = match (way.water_ml, way.celsius) {
        (Some(millilitres), Some(celsius)) => format!(
            "begin with {} mL of {kind} at {} °C; add what is taken",
            show_short(millilitres, 1),
            show_short(celsius, 0)
        ),
        _ => START.replace("a part of it", &format!("a part of the {kind}")),
    };
    let heats = way.cautions.iter().any(|(severity, _)| *severity >= Severity::Danger);
    let cold = if heats { "cold " } else { "" };
    let make_up = match solution.total_g {
        // By weight all the water is known: what heats, heats all of it.
        Some(total) => format!(
            "weigh {} g of {cold}{kind}, all of it; add what is taken: {} g in all (the basis is w/w: by weight)",
            show_significant(total - solution.weigh_g),
            show_significant(total)
        ),
        None => format!("{start}; at 20 °C make up to {volume}"),
    };
    let mut facts = vec![("take".to_owned(), take), ("water".to_owned(), make_up)];
    if let Some(how) = way.how.as_ref().filter(|how| !how.is_empty()) {
        let reads = way.after_c.map_or_else(String::new, |celsius| {
            format!(" It reads about {} °C then.", show_short(celsius, 0))
        });
        let done = way.done.as_ref().map_or_else(String::new, |done| format!(" The sign: {done}."));
        facts.push(("how".to_owned(), format!("{how}{done}{reads}")));
    }
    if !way.wear.is_empty() {
        facts.push(("wear".to_owned(), way.wear.join(", ")));
    }
    facts.extend(way.air.clone().map(|air| ("air".to_owned(), air)));
    facts
}

/// A solid without a basis is taken as w/v, which is said; a liquid must say which.
fn strength(text: &str, state: State) -> Result<Strength, CliError> {
    let wrong = |error| CliError::argument("STRENGTH", error, "write it as '10 % w/v'");
    let (percent, basis) = Strength::parse_loose(text).map_err(wrong)?;
    match basis {
        Some(basis) => Ok(Strength::new(percent, basis)),
        None if state == State::Solid => Ok(Strength::new(percent, StrengthBasis::WeightInVolume)),
        None => text.parse().map_err(wrong),
    }
}

fn basis_words(strength: Strength) -> String {
    match strength.basis() {
        StrengthBasis::WeightInVolume => "w/v: grams in 100 mL of finished solution".to_owned(),
        StrengthBasis::WeightInWeight => "w/w: grams in 100 g of finished solution".to_owned(),
        StrengthBasis::VolumeInVolume => {
            "v/v: millilitres of the liquid in 100 mL of finished solution".to_owned()
        }
    }
}
