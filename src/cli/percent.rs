//! `soupcon percent`: how to make a percent solution.

use clap::Args;

use super::arguments::{assay_fractions, assay_of, form, purity_words, volume};
use super::context::Context;
use super::error::CliError;
use super::judged::refuse;
use crate::mixing;
use crate::quantity::rounding::show_significant;
use crate::quantity::{Basis, Strength};
use crate::render::json::{PercentBody, document};
use crate::render::json_review::Reviewed;
use crate::render::safety::caution_words;
use crate::render::{Block, Document};
use crate::safety::Severity;
use crate::scale::percent_solution;
use crate::substance::{Class, State};

const EXAMPLES: &str = "\
Examples:
  soupcon percent potassium-bromide '10 % w/v' 250ml
  soupcon percent benzotriazole 1% 100ml               w/v for a solid where no basis is given
  soupcon percent acetic-acid '28 % w/w' 500ml

w/v: grams in 100 mL of solution; w/w: grams in 100 g; v/v: millilitres in 100 mL.";

/// Water is there before what is dissolved: never water onto acid or caustic.
const START: &str = "begin with a part of it, cold for acid or caustic; put in what is taken";

/// Arguments of `percent`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct PercentArguments {
    /// What to dissolve
    form: String,
    /// Strength with its basis: '10 % w/v', '28 % w/w', '50 % v/v'
    strength: String,
    /// How much to make
    volume: String,
    /// How pure the product is, by mass
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
    let parents = [form.parent.id.as_str()].into();
    let equilibria = context.equilibria_for(&parents)?;
    let making = mixing::making(&equilibria, context.library.weights(), &form, strength, assay);
    let told: Vec<(Severity, &str)> =
        making.cautions.iter().map(|(severity, text)| (*severity, text.as_str())).collect();
    let body = || PercentBody {
        substance: form.id.clone(),
        strength: strength.to_string(),
        solute_g: solution.solute_g,
        weigh_g: Some(solution.weigh_g),
        measure_ml: solution.measure_ml,
        make_up_to_ml: Some(solution.make_up_to_ml),
        make_up_to_g: solution.total_g,
    };
    if !making.objections.is_empty() {
        let subject = ("percent solution", form.id.as_str());
        return refuse(context, subject, &making.objections, || {
            let none = PercentBody {
                weigh_g: None,
                measure_ml: None,
                make_up_to_ml: None,
                make_up_to_g: None,
                ..body()
            };
            Reviewed::in_words(none, &making.objections, told)
        });
    }
    context.answer(
        || {
            let mut answer = Document::new();
            answer.title(format!("{strength} solution of {}, {volume}", form.name));
            let take = match solution.measure_ml {
                Some(ml) => format!("{} mL ({} g)", show_significant(ml), show_significant(solution.weigh_g)),
                None => format!("{} g", show_significant(solution.weigh_g)),
            };
            let make_up = match solution.total_g {
                Some(total) => format!(
                    "{START}; then add water to {} g in all (the basis is w/w: weigh the whole; its density is not known here)",
                    show_significant(total)
                ),
                None => format!("{START}; then make up to {volume}"),
            };
            answer.facts(vec![("take".to_owned(), take), ("water".to_owned(), make_up)]);
            let mut points = vec![basis_words(strength)];
            points.extend(purity_words(&form, &assays));
            points.extend(form.handling.clone());
            answer.list(points);
            let order = if form.is_class(&Class::StrongAcid) || form.is_class(&Class::Acid) {
                "Acid goes into water, slowly, never water onto it. "
            } else if form.is_class(&Class::StrongAlkali) {
                "Caustic goes into cold water, slowly, never water onto it. "
            } else {
                ""
            };
            let blocks = told.iter().map(|(severity, text)| caution_words(*severity, text));
            answer.blocks.extend(blocks.map(Block::Caution));
            answer.caution("CAUTION", vec![format!("A weight only. {order}Read the label of the jar.")]);
            answer
        },
        || {
            document(Reviewed::in_words(body(), &[], told.iter().copied()))
        },
    )?;
    Ok(0)
}

/// A solid without a basis is taken as w/v, which is said; a liquid must say which.
fn strength(text: &str, state: State) -> Result<Strength, CliError> {
    let wrong = |error| CliError::argument("STRENGTH", error, "write it as '10 % w/v'");
    let (percent, basis) = Strength::parse_loose(text).map_err(wrong)?;
    match basis {
        Some(basis) => Ok(Strength::new(percent, basis)),
        None if state == State::Solid => Ok(Strength::new(percent, Basis::WeightInVolume)),
        None => text.parse().map_err(wrong),
    }
}

fn basis_words(strength: Strength) -> String {
    match strength.basis() {
        Basis::WeightInVolume => "w/v: grams in 100 mL of finished solution".to_owned(),
        Basis::WeightInWeight => "w/w: grams in 100 g of finished solution".to_owned(),
        Basis::VolumeInVolume => "v/v: millilitres of the liquid in 100 mL of finished solution".to_owned(),
    }
}
