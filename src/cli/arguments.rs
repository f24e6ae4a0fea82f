//! Values on the command line that several commands share.

use std::path::PathBuf;
use std::rc::Rc;

use super::context::Context;
use super::error::CliError;
use super::settings::{Chosen, Origin};
use super::shelf::from_file;
use crate::can_make;
use crate::formula::{Bath, Chemicals as _, FormError, Formula, Use};
use crate::journal::Date;
use crate::lettering::Paper;
use crate::library::LibraryError;
use crate::quantity::{Mass, MixRatio, QuantityError, Temperature, Volume, rounding};
use crate::scale::dose::Balance;
use crate::scale::exchange::Relations;
use crate::scale::{Advice, Have, Request, Wanted};
use crate::substance::Form;

/// What is printed on.
#[derive(Debug, Clone, Copy, clap::Args)]
pub(super) struct PaperArguments {
    /// Paper of an HTML page [default: the configuration's, or a4]
    #[arg(long, value_enum, help_heading = "Output")]
    paper: Option<PaperName>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum PaperName {
    /// 210 × 297 mm
    A4,
    /// 8.5 × 11 in
    Letter,
}

impl PaperArguments {
    /// The paper: by option, by the environment, or by the configuration.
    pub(super) fn paper(self, context: &Context<'_, '_>) -> Result<Paper, CliError> {
        let given = self.paper.map(|name| match name {
            PaperName::A4 => "a4",
            PaperName::Letter => "letter",
        });
        Ok(context.settings.paper(given)?.value)
    }
}

/// Options of `scale` and `sheet`: how much, with what, on which balance.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct BatchArguments {
    /// The formula: id, alias, path to a .toml file, or - for standard input
    pub(super) formula: String,
    /// How much to mix, of each part as bottled: 500ml, 1L, 32us-floz
    pub(super) volume: Option<String>,
    /// VOLUME is that of the working solution, mixed so: 1+3 (stock+water), or 1+1+8 (A+B+water)
    #[arg(long, value_name = "PARTS", help_heading = "Batch")]
    pub(super) working: Option<String>,
    /// What the balance shows: its smallest step [default: the configuration's, or 0.1g]
    #[arg(long, value_name = "STEP", help_heading = "Batch")]
    pub(super) balance: Option<String>,
    /// What the balance carries at most
    #[arg(long, value_name = "LOAD", help_heading = "Batch")]
    pub(super) balance_max: Option<String>,
    /// A form on the shelf, taken in place of the recipe's mole for mole; with an amount if that limits the batch
    #[arg(long, value_name = "FORM[=AMOUNT]", help_heading = "Shelf")]
    pub(super) have: Vec<String>,
    /// A .toml file that lists the shelf: what it holds is taken in place of the recipe's forms, what it lacks is told
    #[arg(long, value_name = "FILE", help_heading = "Shelf")]
    pub(super) shelf: Option<PathBuf>,
    /// How pure a product is, by mass
    #[arg(long, value_name = "FORM=PERCENT", help_heading = "Shelf")]
    pub(super) assay: Vec<String>,
    /// The last of a chemical; without VOLUME the largest batch it makes
    #[arg(long, value_name = "FORM=AMOUNT", help_heading = "Shelf")]
    pub(super) limit: Vec<String>,
}

impl BatchArguments {
    /// The request that these arguments make for a formula.
    pub(super) fn request(
        &self,
        formula: &Formula,
        relations: &Relations,
        context: &mut Context<'_, '_>,
    ) -> Result<Request, CliError> {
        let volume = self.volume.as_deref().map(|text| volume("VOLUME", text)).transpose()?;
        let ratio = self.working.as_deref().map(|text| ratio_of("--working", text, formula)).transpose()?;
        let wanted = match (volume, ratio) {
            (Some(volume), Some(ratio)) => Wanted::Working { volume, ratio },
            (Some(volume), None) => Wanted::Bottled(volume),
            (None, Some(_)) => {
                let message = "a working volume is needed with --working";
                return Err(CliError::argument("VOLUME", message, "give the volume, such as 500ml"));
            }
            (None, None) => Wanted::AsMuchAsPossible,
        };
        let step = context.settings.balance(self.balance.as_deref())?;
        let max = context.settings.balance_max(self.balance_max.as_deref())?;
        let balance = Balance { step_g: step.value.as_g(), max_g: max.as_ref().map(|max| max.value.as_g()) };
        if let (Some(max), None) = (&max, balance.fullest_g()) {
            let message = format!("a balance that shows {} cannot carry only {}", step.value, max.value);
            let fix = "give the most that it carries, such as 200g";
            return Err(max.origin.refuse("balance_max", message, fix));
        }
        let mut have =
            self.have.iter().map(|text| on_shelf(context, "--have", text)).collect::<Result<Vec<_>, _>>()?;
        for text in &self.limit {
            let (name, amount) = pair("--limit", text, "metol=3.2g")?;
            have.push(Have {
                form: form(context, name)?,
                amount: Some(mass("--limit", amount)?),
                is_limit: true,
            });
        }
        if let Some(path) = &self.shelf {
            // What is named by itself goes before what the file says of the same chemical.
            let mut shelf = from_file(path, context)?;
            shelf.retain(|own| have.iter().all(|named| named.form.parent.id != own.form.parent.id));
            have.extend(can_make::serving(formula, &shelf, relations));
            for form in can_make::needs(formula, &have, relations).missing {
                let kept = formula.ingredients().find(|own| own.form.id == form.id && !own.exchange);
                let why = kept.and_then(|own| own.note.as_ref());
                let why = why.map_or_else(String::new, |note| format!(" (it may not be exchanged: {note})"));
                context.warn(&format!("not on the shelf: {}{why}", form.name));
            }
        }
        Ok(Request { wanted, balance, have, assays: assay_fractions(context, &self.assay)? })
    }
}

impl BatchArguments {
    /// What the formula needs and the shelf, where one is given, does not hold.
    pub(super) fn missing(
        &self,
        formula: &Formula,
        request: &Request,
        relations: &Relations,
    ) -> Vec<Rc<Form>> {
        if self.shelf.is_none() {
            return Vec::new();
        }
        can_make::needs(formula, &request.have, relations).missing
    }
}

/// Forms with their assays, as fractions by mass, and who gave them.
pub(super) type Assays = Vec<(Rc<Form>, Chosen<f64>)>;

/// The assay of every form that has one: by option, by the environment, or by the configuration.
pub(super) fn assays(context: &Context<'_, '_>, options: &[String]) -> Result<Assays, CliError> {
    let mut assays = Assays::new();
    for (name, assay) in context.settings.assays(options)? {
        let form = form(context, &name).map_err(|error| where_given(error, &assay.origin))?;
        if !assays.iter().any(|(own, _)| own.id == form.id) {
            assays.push((form, assay));
        }
    }
    Ok(assays)
}

/// Refuses assays of forms that do not exist, whether the command uses them or not. That the file of one is broken is told by who reads it.
pub(super) fn check_assays(context: &Context<'_, '_>) -> Result<(), CliError> {
    for (name, assay) in context.settings.assays(&[])? {
        match context.library.form(name.trim()) {
            Ok(_) | Err(FormError::Broken { .. }) => {}
            Err(error) => return Err(where_given(LibraryError::from(error).into(), &assay.origin)),
        }
    }
    Ok(())
}

/// The refusal of a form, with the line or the variable that names it.
fn where_given(error: CliError, origin: &Origin) -> CliError {
    match origin {
        Origin::Flag(_) | Origin::Default => error,
        _ => origin.refuse("assay", &error, error.fix()),
    }
}

/// The same as the calculation wants it.
pub(super) fn assay_fractions(
    context: &Context<'_, '_>,
    options: &[String],
) -> Result<Vec<(Rc<Form>, f64)>, CliError> {
    Ok(assays(context, options)?.into_iter().map(|(form, assay)| (form, assay.value)).collect())
}

/// Splits `NAME=VALUE`.
fn pair<'t>(argument: &str, text: &'t str, example: &str) -> Result<(&'t str, &'t str), CliError> {
    text.split_once('=').ok_or_else(|| {
        CliError::argument(
            argument,
            format!("`{text}` has no `=`"),
            format!("write it as {argument} {example}"),
        )
    })
}

/// `FORM` or `FORM=AMOUNT`, of `--have` and of the shelf file.
pub(super) fn on_shelf(context: &Context<'_, '_>, argument: &str, text: &str) -> Result<Have, CliError> {
    let (name, amount) = match text.split_once('=') {
        Some((name, amount)) => (name, Some(mass(argument, amount)?)),
        None => (text, None),
    };
    Ok(Have { form: form(context, name)?, amount, is_limit: false })
}

/// A form by its id.
pub(super) fn form(context: &Context<'_, '_>, name: &str) -> Result<Rc<Form>, CliError> {
    Ok(context.library.form(name.trim())?)
}

/// A mass argument, above zero.
pub(super) fn mass(argument: &str, text: &str) -> Result<Mass, CliError> {
    let fix = "every mass carries its unit: 2.5g, 500mg, 20grain";
    let mass: Mass = text.parse().map_err(|error| CliError::argument(argument, error, fix))?;
    if mass.as_g() == 0.0 {
        let error = QuantityError::Zero { kind: "mass", text: text.trim().to_owned() };
        return Err(CliError::argument(argument, error, "leave out what is not there"));
    }
    Ok(mass)
}

/// A volume argument.
pub(super) fn volume(argument: &str, text: &str) -> Result<Volume, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(argument, error, "every volume carries its unit: 500ml, 1L, 1us-qt")
    })
}

/// A bare number, of a quantity that has no unit or one of its own.
pub(super) fn number(argument: &str, text: &str, fix: &str) -> Result<f64, CliError> {
    crate::quantity::parse_number(text).map_err(|error| CliError::argument(argument, error, fix))
}

/// A temperature argument.
pub(super) fn temperature(argument: &str, text: &str) -> Result<Temperature, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(argument, error, "every temperature carries its unit: 20C or 68F")
    })
}

/// A temperature argument, or another temperature in °C where none was typed.
pub(super) fn temperature_or(
    argument: &str,
    typed: Option<&str>,
    celsius: f64,
) -> Result<Temperature, CliError> {
    typed.map_or(Ok(Temperature::from_c(celsius)), |text| temperature(argument, text))
}

/// A dilution argument.
pub(super) fn ratio(argument: &str, text: &str) -> Result<MixRatio, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(
            argument,
            error,
            "write the parts with a plus sign, water last: 1+1, 1+1+8; or stock",
        )
    })
}

/// A dilution argument, or a use of the formula by the name or the phrase that its card prints: `one-shot`, `1 A + 1 B + 8 water`.
pub(super) fn ratio_of(argument: &str, text: &str, formula: &Formula) -> Result<MixRatio, CliError> {
    let squeezed = |text: &str| -> String {
        let letters = text.chars().filter(|letter| !letter.is_whitespace());
        letters.flat_map(char::to_lowercase).collect()
    };
    let wanted = squeezed(text);
    let phrase =
        |own: &Use| squeezed(&own.baths.iter().map(Bath::to_string).collect::<Vec<_>>().join(", then "));
    let by_name = formula.uses.iter().find(|own| squeezed(&own.name) == wanted);
    let Some(own) = by_name.or_else(|| formula.uses.iter().find(|own| phrase(own) == wanted)) else {
        return ratio(argument, text).map_err(|error| {
            let names: Vec<&str> = formula.uses.iter().map(|own| own.name.as_str()).collect();
            // What begins with a letter is meant as a name.
            if names.is_empty() || text.trim().starts_with(|own: char| own.is_ascii_digit()) {
                return error;
            }
            let message = format!("`{}` is no use of {}", text.trim(), formula.id);
            CliError::argument(argument, message, format!("name one of its uses: {}", names.join(", ")))
        });
    };
    let [bath] = own.baths.as_slice() else {
        let message = format!("`{}` is several baths one after the other", own.name);
        return Err(CliError::argument(
            argument,
            message,
            "mix them one by one: write the parts, such as 1+1",
        ));
    };
    let names = formula.parts.iter().map(|part| part.name.as_deref().unwrap_or("stock"));
    let mut parts: Vec<String> = names
        .map(|name| {
            let share = bath.shares.iter().find(|(own, _)| own == name).map_or(0.0, |(_, share)| *share);
            rounding::show_short(share, 3)
        })
        .collect();
    if bath.water > 0.0 {
        parts.push(rounding::show_short(bath.water, 3));
    }
    match parts.as_slice() {
        [_] => ratio(argument, "stock"),
        parts => ratio(argument, &parts.join("+")),
    }
}

/// A date argument.
pub(super) fn date(argument: &str, text: &str) -> Result<Date, CliError> {
    text.parse().map_err(|error| CliError::argument(argument, error, "write it as 2026-11-25"))
}

/// A product counted as pure that is usually not, unless its assay was given.
pub(super) fn purity_words(form: &Form, assays: &[(Rc<Form>, f64)]) -> Option<String> {
    let (low_percent, high_percent) = form.assay_typical?;
    let is_given = assays.iter().any(|(own, _)| own.id == form.id);
    (!is_given).then(|| Advice::AssayTypical { low_percent, high_percent }.to_string())
}

/// How pure a product is, as a fraction by mass: as given, else as its data say.
pub(super) fn assay_of(form: &Form, assays: &[(Rc<Form>, f64)]) -> f64 {
    let given = assays.iter().find(|(own, _)| own.id == form.id);
    given.map_or_else(|| form.assay_fraction(), |(_, assay)| *assay)
}

/// Tells of what was named with `--have` but stands in no line of the batch.
pub(super) fn warn_of_unused(request: &Request, batch: &crate::scale::Batch, context: &mut Context<'_, '_>) {
    for have in request.have.iter().filter(|have| !have.is_limit) {
        let is_used =
            batch.parts.iter().flat_map(|part| &part.items).any(|item| item.form.id == have.form.id);
        if !is_used {
            context.warn(&format!("{} is not used in this formula", have.form.id));
        }
    }
}
