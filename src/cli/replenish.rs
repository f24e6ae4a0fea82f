//! `soupcon replenish`: a tank through its films by mass balance, and the replenisher that holds a substance.

use std::path::PathBuf;
use std::sync::Arc;

use clap::Args;

use super::arguments::{PaperArguments, form, mass, number, volume};
use super::context::Context;
use super::error::CliError;
use super::files::{deliver, write_atomically};
use crate::bath::course::{BatchExchange, FilmRelease, RateBasis, Replenishing, TankSubstance};
use crate::bath::replenish::{
    MOST_FILMS, ReplenishError, ReplenishedSubstance, ReplenishedTank, USUAL, USUAL_CARRY_OUT_ML, Usual, hold,
};
use crate::formula::Formula;
use crate::predict::{predict_vessel, trusted_ph};
use crate::quantity::USUAL_C;
use crate::quantity::rounding::show_short;
use crate::render::json::document;
use crate::render::replenish::{
    ReplenishBody, held_words, replenish_document, replenish_html, replenish_plot,
};
use crate::solution::Equilibria;
use crate::substance::{Class, Form, Role};
use crate::vessel::{Content, Vessel};

const EXAMPLES: &str = "\
Examples:
  soupcon replenish mq-borax-classic --tank 5L --films 40
  soupcon replenish mq-borax-classic --tank 1L --films 100 --rate 20ml --releases potassium-bromide=50mg
  soupcon replenish mq-borax-classic --hold potassium-bromide=0.5g/L --carry-out 20ml
  soupcon replenish mq-borax-classic --hold hydroquinone=5g/L --uses hydroquinone=25mg --rate 22ml
  soupcon replenish mq-borax-classic --tank 2L --films 24 --batch 8 --exchange 160ml
  soupcon replenish mq-borax-classic --tank 1L --format html -o tank.html     the sheet beside the tank
  soupcon replenish mq-borax-classic --hold hydroquinone=5g/L --rate 22ml -o my-replenisher.toml
                                                              the replenisher worked out, as a formula

A film is 516 cm². What films release and use up is that of average negatives; a control strip decides.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ReplenishArguments {
    /// The developer: id, alias, path to a .toml file, or - for standard input
    formula: String,
    /// Volume of the tank or bottle [default: 1L]
    #[arg(long, value_name = "VOLUME")]
    tank: Option<String>,
    /// How many films [default: until as much has been added as the tank holds]
    #[arg(long, value_name = "NUMBER")]
    films: Option<u32>,
    /// Replenisher for each film [default: the formula's own]
    #[arg(long, value_name = "VOLUME")]
    rate: Option<String>,
    /// Developer carried out by each film [default: 20ml, or the rate where that is less]
    #[arg(long, value_name = "VOLUME")]
    carry_out: Option<String>,
    /// Water carried in by each film, after a presoak [default: none]
    #[arg(long, value_name = "VOLUME")]
    carry_in: Option<String>,
    /// The replenisher [default: the formula's own, else the developer itself]
    #[arg(long, value_name = "FORMULA")]
    with: Option<String>,
    /// Films in a batch, after which the exchange is made
    #[arg(long, value_name = "NUMBER", requires = "exchange")]
    batch: Option<u32>,
    /// Developer exchanged for replenisher after each batch
    #[arg(long, value_name = "VOLUME", requires = "batch", conflicts_with = "rate")]
    exchange: Option<String>,
    /// What a film releases into the bath: potassium-bromide=50mg
    #[arg(long, value_name = "FORM=MASS", help_heading = "A film")]
    releases: Vec<String>,
    /// What a film uses up: metol=12mg
    #[arg(long, value_name = "FORM=MASS", help_heading = "A film")]
    uses: Vec<String>,
    /// What the bath holds at the start [default: the formula's own]: potassium-bromide=0.5g/L
    #[arg(long, value_name = "FORM=G/L", help_heading = "The bath")]
    start: Vec<String>,
    /// Work out the rate, or the replenisher, that holds a substance there: potassium-bromide=0.5g/L
    #[arg(long, value_name = "FORM=G/L", help_heading = "The bath")]
    hold: Vec<String>,
    #[command(flatten)]
    paper: PaperArguments,
    /// Write to a file: the answer, or where its name ends in .toml the replenisher as a formula
    #[arg(short, long, value_name = "FILE", help_heading = "Output")]
    output: Option<PathBuf>,
    /// Overwrite an existing file
    #[arg(long, help_heading = "Output")]
    force: bool,
}

pub(super) fn run(arguments: &ReplenishArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let in_library = context.formula(&arguments.formula)?;
    let paper = arguments.paper.paper(context)?;
    let mut answer = replenishing(arguments, &in_library.formula, context)?;
    let equilibria = context.equilibria()?;
    let hydrochloric = form(context, "hydrochloric-acid-37")?;
    answer.tell_ph(&|contents, acid| ph(&equilibria, contents, (&hydrochloric, acid)));
    let is_formula = |path: &PathBuf| path.extension().is_some_and(|own| own == "toml");
    let toml = arguments.output.as_ref().filter(|path| is_formula(path));
    if let Some(path) = toml {
        let text = formula_file(&answer, &in_library.formula)?;
        write_atomically(path, &text, arguments.force)?;
        context.hint(&format!("wrote {}: `soupcon check {0}` looks at it", path.display()));
    }
    let plot = context.text_style().map(|(style, is_ascii)| (replenish_plot(&answer, style.width), is_ascii));
    let mut text = context.rendered_with(
        || replenish_document(&answer),
        || replenish_html(&answer, paper),
        || document(ReplenishBody::new(&answer)),
    );
    if let Some((plot, is_ascii)) = plot {
        text.push('\n');
        text.push_str(&if is_ascii { crate::render::to_ascii(&plot) } else { plot });
    }
    deliver(context, arguments.output.as_deref().filter(|_| toml.is_none()), &text, arguments.force)?;
    Ok(0)
}

/// pH at 20 °C of what stands in a bath, with the acid that development set free, mol/L; none where it cannot be counted on.
fn ph(
    equilibria: &Equilibria,
    contents: &[(Arc<Form>, f64)],
    (hydrochloric, acid_mol): (&Arc<Form>, f64),
) -> Option<f64> {
    let vessel: Vessel =
        contents
            .iter()
            .filter(|(_, grams)| *grams > 0.0)
            .map(|(form, grams)| Content::grams(form, *grams))
            .chain((acid_mol > 0.0).then_some(()).and_then(|()| {
                Some(Content::grams(hydrochloric, acid_mol * hydrochloric.product_g_per_mol()?))
            }))
            .collect();
    trusted_ph(&predict_vessel(equilibria, &vessel, "the bath", USUAL_C).ok()?)
}

/// The replenisher as a formula file: grams as they are weighed for a litre.
fn formula_file(answer: &Replenishing, developer: &Formula) -> Result<String, CliError> {
    let held = held_words(answer);
    if held.is_empty() {
        return Err(CliError::argument(
            "-o",
            "no replenisher was worked out that could be written",
            "say what it is to hold, such as --hold hydroquinone=5g/L, or give a name that does not end in .toml",
        ));
    }
    let contents = answer.replenisher_contents();
    let sulfite = |form: &Form| form.is_class(&Class::Sulfite);
    let has_agent =
        contents.iter().any(|(form, _)| form.parent.roles.first() == Some(&Role::DevelopingAgent));
    if has_agent && !contents.iter().any(|(form, _)| sulfite(form)) {
        return Err(CliError::Refused {
            code: "does-not-keep",
            message: "a replenisher with a developing agent and no sulfite does not keep".to_owned(),
            fix: "hold a sulfite as well, or take a replenisher with sulfite: --with FORMULA".to_owned(),
        });
    }
    let quoted = |text: &str| format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""));
    let mut text = format!(
        "format = 1\ntitle = {}\nkind = \"replenisher\"\nsummary = {}\nevidence = \"memory\"\ndoubt = {}\nreplenishes = [{}]\nnote = {}\n",
        quoted(&format!("Replenisher worked out for {}", developer.title)),
        quoted(&format!("Holds {} at {} mL a film.", held.join(", "), show_short(answer.rate_ml(), 1))),
        quoted("Worked out by mass balance for average negatives and not tried; a control strip decides."),
        quoted(&developer.id),
        quoted(&format!("{} mL a film of 516 cm².", show_short(answer.rate_ml(), 1))),
    );
    let order = mixing_order(developer, &contents);
    let names: Vec<String> = order.iter().map(|(form, _)| quoted(&form.id)).collect();
    let water = developer.parts.first().and_then(|part| part.mixing.temperature_c);
    text.push_str(&format!("\n[mixing]\norder = [{}]\n", names.join(", ")));
    if let Some(celsius) = water {
        text.push_str(&format!("temperature = {celsius}\n"));
    }
    text.push_str("source = \"as the developer that it replenishes\"\n");
    for (form, grams) in &order {
        let grams = if *grams >= 10.0 { show_short(*grams, 1) } else { show_short(*grams, 2) };
        text.push_str(&format!("\n[[ingredients]]\nsubstance = {}\ngrams = {grams}\n", quoted(&form.id)));
    }
    Ok(text)
}

/// In the order of the developer; what it does not hold last.
fn mixing_order(developer: &Formula, contents: &[(Arc<Form>, f64)]) -> Vec<(Arc<Form>, f64)> {
    let place = |form: &Form| {
        let part = developer.parts.first();
        part.and_then(|part| {
            part.ingredients.iter().position(|ingredient| ingredient.form.parent.id == form.parent.id)
        })
    };
    let mut order = contents.to_vec();
    order.retain(|(_, grams)| *grams >= LEAST_GRAMS);
    order.sort_by_key(|(form, _)| place(form).unwrap_or(usize::MAX));
    order
}

/// Less than this a litre is not weighed, g.
const LEAST_GRAMS: f64 = 0.005;

/// Grams per litre of each form; none where the formula has several parts.
fn contents(formula: &Formula) -> Result<Vec<(Arc<Form>, f64)>, CliError> {
    let [part] = formula.parts.as_slice() else {
        return Err(CliError::Refused {
            code: "parts",
            message: format!(
                "{} is bottled in parts: only a bath that stands ready in one is replenished",
                formula.id
            ),
            fix: "name a developer of one solution".to_owned(),
        });
    };
    let known = |own: &crate::formula::Ingredient| Some((Arc::clone(&own.form), own.grams_per_litre()?));
    Ok(part.ingredients.iter().filter_map(known).collect())
}

/// Grams of another form of the same chemical that do the same work.
fn as_form(grams: f64, from: &Form, to: &Form) -> f64 {
    match (from.product_g_per_mol(), to.product_g_per_mol()) {
        (Some(from_g), Some(to_g)) if from.id != to.id => grams * to_g / from_g,
        _ => grams,
    }
}

/// Of a list by form, what stands for this one, whichever hydrate it is.
fn of(list: &[(Arc<Form>, f64)], wanted: &Form) -> Option<f64> {
    let same = list.iter().filter(|(own, _)| own.parent.id == wanted.parent.id);
    let sum: Vec<f64> = same.map(|(own, grams)| as_form(*grams, own, wanted)).collect();
    (!sum.is_empty()).then(|| sum.iter().sum())
}

fn replenishing(
    arguments: &ReplenishArguments,
    formula: &Formula,
    context: &mut Context<'_, '_>,
) -> Result<Replenishing, CliError> {
    let developer = contents(formula)?;
    let stated = formula.replenishment.as_ref();
    let with = match arguments.with.as_deref().or_else(|| stated.map(|stated| stated.with.as_str())) {
        Some(name) => Some(context.formula(name)?.formula),
        None => None,
    };
    let replenisher = with.as_ref().map_or_else(|| Ok(developer.clone()), contents)?;
    let tank_ml = arguments
        .tank
        .as_deref()
        .map_or(Ok(1000.0), |text| volume("--tank", text).map(crate::quantity::Volume::as_ml))?;
    let given_ml = |name: &str, text: &Option<String>| -> Result<Option<f64>, CliError> {
        text.as_deref().map(|text| small_volume(name, text)).transpose()
    };
    let carry_out = given_ml("--carry-out", &arguments.carry_out)?;
    let carry_in_ml = given_ml("--carry-in", &arguments.carry_in)?.unwrap_or(0.0);
    let exchange = exchange(arguments, tank_ml)?;
    let typed_rate = match &exchange {
        Some(own) => Some(own.exchange_ml / f64::from(own.films)),
        None => given_ml("--rate", &arguments.rate)?,
    };
    let mut films = per_film(arguments, context, &developer, formula)?;
    let holds = levels("--hold", &arguments.hold, context)?;
    let starts = levels("--start", &arguments.start, context)?;
    // The rate: as typed, as a substance that is to be held asks for, as the formula says.
    let mut rate = typed_rate.map(|ml| (ml, RateBasis::Given));
    for (form, wanted) in &holds {
        let released =
            films.iter().find(|film| film.form.parent.id == form.parent.id).map_or(0.0, |film| film.mg);
        if rate.is_none() && released > 0.0 {
            let out = carry_out.unwrap_or(USUAL_CARRY_OUT_ML);
            let design = hold(*wanted, released, None, out, carry_in_ml)
                .map_err(|error| refused(&error, &form.name))?;
            rate = Some((design.rate_ml, RateBasis::WorkedOut));
        }
    }
    let rate = rate.or_else(|| Some((stated?.ml_per_roll?, RateBasis::Stated)));
    let (rate_ml, rate_basis) = rate.ok_or_else(|| {
        let message = format!("no replenishing rate of {} is known", formula.id);
        CliError::Refused {
            code: "no-rate",
            message,
            fix: "give one, such as --rate 20ml, or --hold potassium-bromide=0.5g/L".to_owned(),
        }
    })?;
    let tank = ReplenishedTank {
        volume_ml: tank_ml,
        rate_ml,
        carry_out_ml: carry_out.unwrap_or(if rate_ml > 0.0 {
            USUAL_CARRY_OUT_ML.min(rate_ml + carry_in_ml)
        } else {
            USUAL_CARRY_OUT_ML
        }),
        carry_in_ml,
    };
    tank.check().map_err(|error| refused(&error, ""))?;
    let known =
        BathContents { developer: &developer, replenisher: &replenisher, starts: &starts, holds: &holds };
    let rows = rows(&known, &mut films, &tank)?;
    let turnover = tank.turnover_films();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and the most films"
    )]
    let count = arguments
        .films
        .unwrap_or_else(|| turnover.unwrap_or(20.0).round().clamp(1.0, f64::from(MOST_FILMS)) as u32);
    if count == 0 || count > MOST_FILMS {
        let message = format!("{count} films are out of range");
        return Err(CliError::argument("--films", message, format!("give 1 to {MOST_FILMS}")));
    }
    Replenishing::new(formula.clone(), with, tank, rate_basis, carry_out.is_some(), rows, count, exchange)
        .map_err(|(error, what)| refused(&error, &what))
}

/// What the bath holds, fresh and as it is wanted, and the replenisher, in g/L.
struct BathContents<'a> {
    developer: &'a [(Arc<Form>, f64)],
    replenisher: &'a [(Arc<Form>, f64)],
    starts: &'a [(Arc<Form>, f64)],
    holds: &'a [(Arc<Form>, f64)],
}

/// Each chemical of bath, replenisher and films once.
fn rows(
    known: &BathContents<'_>,
    films: &mut Vec<FilmRelease>,
    tank: &ReplenishedTank,
) -> Result<Vec<TankSubstance>, CliError> {
    let mut rows = Vec::new();
    let mut forms: Vec<Arc<Form>> = known.developer.iter().map(|(own, _)| Arc::clone(own)).collect();
    for known_form in known
        .replenisher
        .iter()
        .map(|(own, _)| own)
        .chain(films.iter().map(|film| &film.form))
        .chain(known.starts.iter().chain(known.holds).map(|(own, _)| own))
    {
        if !forms.iter().any(|other| other.parent.id == known_form.parent.id) {
            forms.push(Arc::clone(known_form));
        }
    }
    for form in forms {
        let released = films
            .iter()
            .position(|film| film.form.parent.id == form.parent.id)
            .map(|index| films.remove(index));
        let released_mg = released.as_ref().map_or(0.0, |film| as_form(film.mg, &film.form, &form));
        let held = of(known.holds, &form);
        let replenisher_g_per_l = match held {
            Some(wanted) => {
                hold(wanted, released_mg, Some(tank.rate_ml), tank.carry_out_ml, tank.carry_in_ml)
                    .map_err(|error| refused(&error, &form.name))?
                    .replenisher_g_per_l
            }
            None => of(known.replenisher, &form).unwrap_or(0.0),
        };
        let substance = ReplenishedSubstance {
            start_g_per_l: of(known.starts, &form).or_else(|| of(known.developer, &form)).unwrap_or(0.0),
            replenisher_g_per_l,
            released_mg,
        };
        rows.push(TankSubstance { form, substance, film: released, held });
    }
    Ok(rows)
}

/// The batches, where they are asked for.
fn exchange(arguments: &ReplenishArguments, tank_ml: f64) -> Result<Option<BatchExchange>, CliError> {
    let (Some(films), Some(text)) = (arguments.batch, &arguments.exchange) else { return Ok(None) };
    if films == 0 || films > MOST_FILMS {
        return Err(CliError::argument("--batch", format!("{films} films are no batch"), "give 1 or more"));
    }
    let exchange_ml = small_volume("--exchange", text)?;
    if exchange_ml <= 0.0 || exchange_ml > tank_ml {
        return Err(CliError::argument(
            "--exchange",
            "it is no part of the tank",
            "exchange less than the tank holds",
        ));
    }
    Ok(Some(BatchExchange { films, exchange_ml }))
}

/// What each film does: as typed, else as an average film does, in step with the bromide.
fn per_film(
    arguments: &ReplenishArguments,
    context: &Context<'_, '_>,
    developer: &[(Arc<Form>, f64)],
    formula: &Formula,
) -> Result<Vec<FilmRelease>, CliError> {
    let mut films: Vec<FilmRelease> = Vec::new();
    for (option, list, sign) in [("--releases", &arguments.releases, 1.0), ("--uses", &arguments.uses, -1.0)]
    {
        for text in list {
            let example = if sign > 0.0 { "potassium-bromide=50mg" } else { "metol=12mg" };
            let (name, amount) = text.split_once('=').ok_or_else(|| {
                CliError::argument(
                    option,
                    format!("`{text}` has no `=`"),
                    format!("write it as {option} {example}"),
                )
            })?;
            let named_form = form(context, name)?;
            let mg = sign * mass(option, amount)?.as_g() * 1000.0;
            if films.iter().any(|film| film.form.parent.id == named_form.parent.id) {
                let message = format!("{} is given twice", named_form.name);
                return Err(CliError::argument(option, message, "give what a film releases or uses once"));
            }
            // A figure within what average negatives give has their spread; another one is somebody's own measurement.
            let usual = USUAL.iter().find(|usual| usual.form == named_form.id);
            let usual = usual.filter(|usual| (usual.low_mg..=usual.high_mg).contains(&mg));
            let (low_mg, high_mg) = usual.map_or((mg, mg), |usual| (usual.low_mg, usual.high_mg));
            let source = usual.map_or_else(
                || "as given".to_owned(),
                |usual| format!("as given; the spread: {}", usual.source),
            );
            films.push(FilmRelease { form: named_form, mg, low_mg, high_mg, source });
        }
    }
    if !formula.kind.is_developer() {
        return Ok(films);
    }
    let has = |id: &str| developer.iter().any(|(own, _)| own.id == id || own.parent.id == id);
    let bromide = films.iter().find(|film| film.form.id == "potassium-bromide").map(|film| film.mg);
    let share = bromide.map_or(1.0, |mg| mg / 50.0);
    for Usual { form: id, mg, low_mg, high_mg, source } in USUAL {
        let named_form = form(context, id)?;
        let is_bromide = *id == "potassium-bromide";
        let applies = is_bromide || has("hydroquinone") && has(&named_form.parent.id);
        if applies && !films.iter().any(|film| film.form.parent.id == named_form.parent.id) {
            let share = if is_bromide { 1.0 } else { share };
            films.push(FilmRelease {
                form: named_form,
                mg: mg * share,
                low_mg: low_mg * share,
                high_mg: high_mg * share,
                source: (*source).to_owned(),
            });
        }
    }
    Ok(films)
}

/// `FORM=0.5g/L` of an option that may stand several times.
fn levels(
    option: &str,
    list: &[String],
    context: &Context<'_, '_>,
) -> Result<Vec<(Arc<Form>, f64)>, CliError> {
    let mut levels: Vec<(Arc<Form>, f64)> = Vec::new();
    for text in list {
        let fix = format!("write it as {option} potassium-bromide=0.5g/L");
        let (name, amount) = text
            .split_once('=')
            .ok_or_else(|| CliError::argument(option, format!("`{text}` has no `=`"), fix.clone()))?;
        let named_form = form(context, name)?;
        let plain = amount.trim();
        let units = [("mg/L", 0.001), ("mg/l", 0.001), ("g/L", 1.0), ("g/l", 1.0)];
        let split = units.iter().find_map(|(unit, grams)| Some((plain.strip_suffix(unit)?, grams)));
        let (figure, grams) = split.ok_or_else(|| {
            CliError::argument(option, format!("`{amount}` has no unit of its own"), fix.clone())
        })?;
        let value = number(option, figure.trim(), &fix)? * grams;
        if !(0.0..=2000.0).contains(&value) {
            return Err(CliError::argument(
                option,
                format!("{amount} is out of range"),
                "give 0 to 2000 g/L",
            ));
        }
        if levels.iter().any(|(known, _)| known.parent.id == named_form.parent.id) {
            return Err(CliError::argument(
                option,
                format!("{} is given twice", named_form.name),
                "give each substance once",
            ));
        }
        levels.push((named_form, value));
    }
    Ok(levels)
}

/// A volume that may be nothing.
fn small_volume(option: &str, text: &str) -> Result<f64, CliError> {
    let plain = text.trim().to_ascii_lowercase();
    if ["0ml", "0l", "0 ml"].contains(&plain.as_str()) {
        Ok(0.0)
    } else {
        volume(option, text).map(crate::quantity::Volume::as_ml)
    }
}

fn refused(error: &ReplenishError, what: &str) -> CliError {
    let message = if what.is_empty() { error.to_string() } else { format!("{what}: {error}") };
    CliError::Refused { code: "replenish", message, fix: error.fix() }
}
