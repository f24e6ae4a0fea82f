//! `soupcon dilute`: how much stock and water, and whether it is enough for the films.

use clap::Args;

use super::arguments::{ratio, ratio_of};
use super::bath::{WantedVolume, class_rules, covering, films_option, volume_or_films};
use super::context::Context;
use super::error::CliError;
use super::judged::{join, recipe, refuse};
use crate::bath::stock::{StockGrade, check};
use crate::bath::{Basis, ClassRules};
use crate::formula::{Bath, Formula, Use};
use crate::mixing::{self, Objection, Pouring};
use crate::quantity::rounding::{show_significant, to_step};
use crate::quantity::{Films, MixRatio, Volume};
use crate::render::dilute::{DiluteBody, DilutePart};
use crate::render::films::{StockBody, stock_words};
use crate::render::json::document;
use crate::render::review::Reviewed;
use crate::render::safety::caution_words;
use crate::render::{Block, Document};
use crate::safety::{Filling, Severity};
use crate::substance::Class;
use crate::vessel::Vessel;

const EXAMPLES: &str = "\
Examples:
  soupcon dilute 1+3 600ml
  soupcon dilute 1+1 500ml --formula mq-borax-classic --films 1
  soupcon dilute 1+1 2x135 --formula mq-borax-classic          in the smallest tank
  soupcon dilute 1+1 --films 2x135 --formula mq-borax-classic  the same
  soupcon dilute 1+2+100 1L --formula pyro-metol-metaborate-staining     A + B + water";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct DiluteArguments {
    /// Parts by volume: 1+3 is 1 stock and 3 water; 1+1+8 is A, B and water
    dilution: String,
    /// How much working solution, or for which films: 4films, 2x135
    #[arg(value_name = "VOLUME|FILMS", required_unless_present = "films")]
    volume: Option<String>,
    /// The formula, to see whether the stock is enough
    #[arg(long)]
    formula: Option<String>,
    /// Films to develop in it: 2, 2x135, 1x120, 6x4x5in; alone, how much is what their tank takes
    #[arg(long, value_name = "FILMS", requires = "formula")]
    films: Option<String>,
    /// The tank for FILMS in place of a VOLUME: a name of the configuration, or what covers its reels
    #[arg(long, value_name = "TANK")]
    tank: Option<String>,
}

pub(super) fn run(arguments: &DiluteArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let rules = class_rules(context)?;
    let found = arguments.formula.as_deref().map(|name| context.formula(name)).transpose()?;
    let formula = found.as_ref().map(|found| &found.formula);
    let ratio = match formula {
        Some(formula) => ratio_of("DILUTION", &arguments.dilution, formula)?,
        None => ratio("DILUTION", &arguments.dilution)?,
    };
    let (volume, films) = wanted(arguments, &rules, context)?;
    let mut split = Split::new(&ratio, volume, formula)?;
    let checked = formula.zip(films.as_ref()).map(|(formula, films)| {
        let shares: Vec<f64> = split.parts.iter().map(|(_, ml, _)| *ml).collect();
        check(formula, films, &shares, volume.as_ml(), &rules)
    });
    let mut warnings = checked.as_ref().map(stock_words).unwrap_or_default();
    // A rule alone never says no.
    let enough = checked
        .as_ref()
        .is_none_or(|checked| checked.grade != StockGrade::TooLittle || checked.basis == Basis::Rule);
    let mut pouring = Pouring::default();
    let (mut is_use, mut stock_heats) = (None, None);
    if let Some(formula) = formula {
        let bath = split.bath();
        let known = use_of(formula, &bath);
        is_use = Some(known.is_some());
        match known {
            // How several parts are poured is in the note of the use.
            Some((_, own)) => warnings.extend(own.note.iter().filter(|_| formula.parts.len() > 1).cloned()),
            None => warnings.push(mixing::not_a_use(formula)),
        }
        let safety = context.safety()?;
        let equilibria = context.equilibria_of(formula)?;
        pouring = mixing::pour(
            &safety,
            &bath.to_string(),
            None,
            &Vessel::of_bath(formula, &bath),
            (Filling::FromParts, volume.as_litres()),
            &|vessel| mixing::acidity(&equilibria, vessel),
        );
        stock_heats = split.in_water(formula);
        pouring.objections.extend(mixing::two_baths(formula, &bath));
        // What must not be made at all is not diluted either.
        let standing = recipe(formula, context)?.objections;
        let (never, otherwise): (Vec<_>, Vec<_>) = standing.into_iter().partition(Objection::is_never);
        warnings.extend(otherwise.iter().map(|own| format!("its stock has no sheet: {own}")));
        join(&mut pouring.objections, never);
        if let Some((meant, _)) = known {
            split.in_order_of(formula, meant);
        }
    }
    let heats = stock_heats.iter().map(|text| (Severity::Danger, text.as_str()));
    let cautions = pouring.cautions.iter().map(|caution| (caution.severity, caution.text.as_str()));
    let told: Vec<(Severity, &str)> = heats.chain(cautions).collect();
    if !pouring.objections.is_empty() {
        let subject = ("dilution", formula.map_or("the stock", |formula| formula.id.as_str()));
        let body = DiluteBody {
            stock_ml: None,
            water_ml: None,
            is_use,
            parts: Vec::new(),
            warnings,
            stock: None,
            origin: formula.map(Formula::origin_name),
        };
        return refuse(context, subject, &pouring.objections, || {
            Reviewed::in_words(body, &pouring.objections, told)
        });
    }
    context.answer(
        || {
            let mut answer = Document::new();
            let water = ("water".to_owned(), measure_words(split.water_ml));
            let parts = split.parts.iter().map(|(name, ml, _)| (name.clone(), measure_words(*ml)));
            let mut facts: Vec<(String, String)> = if split.water_first && split.water_ml > 0.0 {
                std::iter::once(water).chain(parts).collect()
            } else {
                parts.chain((split.water_ml > 0.0).then_some(water)).collect()
            };
            facts.push(("makes".to_owned(), volume.to_string()));
            let origin = formula.and_then(Formula::origin_words);
            facts.extend(origin.map(|words| ("origin".to_owned(), words)));
            answer.facts(facts);
            answer.list(warnings.clone());
            let blocks = told.iter().map(|(severity, text)| caution_words(*severity, text));
            answer.blocks.extend(blocks.map(Block::Caution));
            answer
        },
        || {
            let parts = split.parts.iter().filter(|_| split.parts.len() > 1);
            let body = DiluteBody {
                stock_ml: Some(split.parts.iter().map(|(_, ml, _)| ml).sum()),
                water_ml: Some(split.water_ml),
                is_use,
                parts: parts.map(|(name, ml, _)| DilutePart { name: name.clone(), volume_ml: *ml }).collect(),
                warnings: warnings.clone(),
                stock: checked.as_ref().map(StockBody::new),
                origin: formula.map(Formula::origin_name),
            };
            document(Reviewed::in_words(body, &[], told.iter().copied()))
        },
    )?;
    Ok(u8::from(!enough))
}

/// How much, and for which films: both as typed, or the films' tank.
fn wanted(
    arguments: &DiluteArguments,
    rules: &ClassRules,
    context: &Context<'_, '_>,
) -> Result<(Volume, Option<Films>), CliError> {
    let typed = arguments.films.as_deref().map(|text| films_option("--films", text)).transpose()?;
    let in_tank =
        |films: Films| Ok((covering(&films, arguments.tank.as_deref(), rules, context)?, Some(films)));
    match (&arguments.volume, typed) {
        (None, Some(films)) => in_tank(films),
        (text, typed) => match (volume_or_films("VOLUME", text.as_deref().unwrap_or_default())?, typed) {
            (WantedVolume::Volume(volume), typed) => Ok((volume, typed)),
            (WantedVolume::Films(films), None) => in_tank(films),
            (WantedVolume::Films(_), Some(_)) => {
                let fix = "name the films once";
                Err(CliError::argument("--films", "the films stand in place of the volume", fix))
            }
        },
    }
}

/// Least stock that can be measured, mL: the finest mark of a 1 mL syringe.
const LEAST_ML: f64 = crate::quantity::LEAST_ML;

/// A working solution taken apart.
struct Split {
    /// Name, millilitres, and the figure of the ratio.
    parts: Vec<(String, f64, f64)>,
    water_ml: f64,
    water: f64,
    /// Whether the water comes first: several parts meet diluted in it, and what heats goes into it.
    water_first: bool,
}

impl Split {
    fn new(ratio: &MixRatio, volume: Volume, formula: Option<&Formula>) -> Result<Self, CliError> {
        let names: Vec<String> = match formula {
            Some(formula) if formula.parts.iter().any(|part| part.name.is_some()) => {
                formula.parts.iter().filter_map(|part| part.name.clone()).collect()
            }
            _ => vec!["stock".to_owned()],
        };
        let figures = ratio.parts();
        if figures.len() != names.len() && figures.len() != names.len() + 1 {
            let message = format!("`{}` parts do not fit {}", figures.len(), names.join(" + "));
            let fix = "write one figure for each part and, last, one for water";
            return Err(CliError::argument("DILUTION", message, fix));
        }
        let total: f64 = figures.iter().sum();
        let millilitres = |figure: &f64| figure / total * volume.as_ml();
        let water_ml = figures.get(names.len()).map_or(0.0, millilitres);
        let parts: Vec<(String, f64, f64)> = figures
            .iter()
            .map(|figure| (millilitres(figure), *figure))
            .zip(&names)
            .map(|((ml, figure), name)| (name.clone(), ml, figure))
            .collect();
        if let Some((name, ..)) = parts.iter().find(|(_, ml, _)| *ml > 0.0 && *ml < LEAST_ML) {
            let message =
                format!("{volume} of it would hold less than {LEAST_ML} mL of {name}, too little to measure");
            return Err(CliError::argument("VOLUME", message, "make more of it, or dilute in two steps"));
        }
        let water = figures.get(names.len()).copied().unwrap_or(0.0);
        Ok(Self { water_first: parts.len() > 1, parts, water_ml, water })
    }

    /// The same as a bath of the formula.
    fn bath(&self) -> Bath {
        let shares = self.parts.iter().filter(|(.., figure)| *figure > 0.0);
        Bath { shares: shares.map(|(name, _, figure)| (name.clone(), *figure)).collect(), water: self.water }
    }

    /// Puts the water first where a stock heats it, and says so.
    fn in_water(&mut self, formula: &Formula) -> Option<String> {
        let poured = self.parts.iter().filter(|(.., figure)| *figure > 0.0);
        let strong = poured.filter(|(name, ..)| formula.part_of_share(name).is_some_and(heats_water));
        let names: Vec<&str> = strong.map(|(name, ..)| name.as_str()).collect();
        self.water_first |= !names.is_empty();
        (!names.is_empty()).then(|| {
            format!(
                "{} into cold water, slowly, stirring. Never water into it: it heats, boils and spits.",
                names.join(" and ")
            )
        })
    }

    /// Puts the parts into the order in which a use names them, an oxidiser last: it meets the rest diluted.
    fn in_order_of(&mut self, formula: &Formula, bath: &Bath) {
        let place = |name: &str| bath.shares.iter().position(|(own, _)| own.eq_ignore_ascii_case(name));
        let oxidises = |name: &str| {
            let part = formula.part_of_share(name);
            part.is_some_and(|part| {
                part.ingredients.iter().any(|ingredient| ingredient.form.is_class(&Class::Oxidiser))
            })
        };
        self.parts.sort_by_key(|(name, ..)| (oxidises(name), place(name).unwrap_or(usize::MAX)));
    }
}

/// The use of a formula that is mixed so, with that bath.
fn use_of<'f>(formula: &'f Formula, asked: &Bath) -> Option<(&'f Bath, &'f Use)> {
    let share = |bath: &Bath, name: &str| {
        let own = bath.shares.iter().find(|(own, _)| own.eq_ignore_ascii_case(name));
        own.map_or(0.0, |(_, share)| share / bath.total())
    };
    let is_same = |bath: &Bath| {
        formula
            .parts
            .iter()
            .all(|part| (share(bath, part.share_name()) - share(asked, part.share_name())).abs() < 1e-6)
    };
    formula
        .uses
        .iter()
        .find_map(|listed_use| Some((listed_use.baths.iter().find(|bath| is_same(bath))?, listed_use)))
}

/// So much strong acid or caustic in a litre of stock heats the water that it is poured into, mol; our own limit.
const HEATS_FROM: f64 = 1.0;

/// Whether a stock holds so much strong acid or caustic that it goes into the water, and never water into it.
fn heats_water(part: &crate::formula::Part) -> bool {
    let vessel = Vessel::of_part(part);
    let strong = vessel
        .iter()
        .filter(|own| own.form.is_class(&Class::StrongAcid) || own.form.is_class(&Class::StrongAlkali));
    // Nothing at all is no amount.
    strong.map(|own| own.at_most_moles().unwrap_or(f64::INFINITY)).sum::<f64>() >= HEATS_FROM
}

/// To the mark of a cylinder.
fn measure_words(ml: f64) -> String {
    format!("{} mL", show_significant(to_step(ml, crate::scale::dose::measuring_step_ml(ml))))
}
