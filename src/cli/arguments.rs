//! Values on the command line that several commands share.

use std::path::PathBuf;
use std::sync::Arc;

use super::bath::{WantedVolume, films_option, need_for, volume_or_films};
use super::context::Context;
use super::error::CliError;
use super::settings::{Chosen, SettingOrigin};
use super::shelf::from_file;
pub(super) use super::values::{
    date, form, mass, number, on_shelf, ratio, ratio_of, temperature, temperature_or, volume,
};
use crate::bath::need::Need;
use crate::can_make;
use crate::formula::{Chemicals as _, FormError, Formula};
use crate::lettering::Paper;
use crate::library::LibraryError;
use crate::scale::dose::Balance;
use crate::scale::exchange::Relations;
use crate::scale::{Advice, Have, Request, Wanted};
use crate::substance::Form;

/// What is printed on.
#[derive(Debug, Clone, Copy, clap::Args)]
pub(super) struct PaperArguments {
    /// Paper of an HTML page [default: the configuration's, or a4]
    #[arg(long, value_enum, ignore_case = true, help_heading = "Output")]
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
    /// How much to mix, of each part as bottled: 500ml, 1L, 32us-floz; or for which films: 4films, 2x135, 6x4x5in
    #[arg(value_name = "VOLUME|FILMS")]
    pub(super) volume: Option<String>,
    /// For which films: 4, 2x135, 2x135-36,1x120, 6x4x5in
    #[arg(long, value_name = "FILMS", conflicts_with = "volume", help_heading = "Batch")]
    pub(super) films: Option<String>,
    /// The tank for the films: a name of the configuration, or what covers its reels [default: the smallest that holds them]
    #[arg(long, value_name = "TANK", help_heading = "Batch")]
    pub(super) tank: Option<String>,
    /// Make VOLUME of working solution at this dilution: 1+3 (stock+water), or 1+1+8 (A+B+water)
    #[arg(long, value_name = "PARTS", help_heading = "Batch")]
    pub(super) working: Option<String>,
    /// Smallest step of the balance [default: the configuration's, or 0.1g]
    #[arg(long, value_name = "STEP", help_heading = "Batch")]
    pub(super) balance: Option<String>,
    /// Maximum load of the balance
    #[arg(long, value_name = "LOAD", help_heading = "Batch")]
    pub(super) balance_max: Option<String>,
    /// A form on your shelf, used in place of the formula's mole for mole; with an amount if that limits the batch
    #[arg(long, value_name = "FORM[=AMOUNT]", help_heading = "Shelf")]
    pub(super) have: Vec<String>,
    /// A .toml file that lists your shelf: its forms replace the formula's, and what it lacks is named
    #[arg(long, value_name = "FILE", help_heading = "Shelf")]
    pub(super) shelf: Option<PathBuf>,
    /// Purity of a chemical, by mass
    #[arg(long, value_name = "FORM=PERCENT", help_heading = "Shelf")]
    pub(super) assay: Vec<String>,
    /// The amount of a chemical you have left; without VOLUME the largest batch it makes
    #[arg(long, value_name = "FORM=AMOUNT", help_heading = "Shelf")]
    pub(super) limit: Vec<String>,
}

impl BatchArguments {
    /// The batch that films ask for, where films were named.
    pub(super) fn need(
        &self,
        formula: &Formula,
        context: &Context<'_, '_>,
    ) -> Result<Option<Need>, CliError> {
        let films = match (&self.films, self.volume.as_deref()) {
            (Some(text), _) => Some(films_option("--films", text)?),
            (None, Some(text)) => match volume_or_films("VOLUME", text)? {
                WantedVolume::Films(films) => Some(films),
                WantedVolume::Volume(_) => None,
            },
            (None, None) => None,
        };
        let Some(films) = films else {
            if self.tank.is_some() {
                let fix = "give films, such as 2x135, or leave --tank out";
                return Err(CliError::argument("--tank", "a tank matters only for films", fix));
            }
            return Ok(None);
        };
        if self.working.is_some() {
            let message = "films say themselves how much is needed";
            return Err(CliError::argument("--working", message, "give a volume with --working"));
        }
        need_for(formula, &films, self.tank.as_deref(), context).map(Some)
    }

    /// The request that these arguments make for a formula.
    pub(super) fn request(
        &self,
        formula: &Formula,
        relations: &Relations,
        context: &mut Context<'_, '_>,
    ) -> Result<Request, CliError> {
        let need = self.need(formula, context)?;
        let volume = match (&need, self.volume.as_deref()) {
            (Some(need), _) => Some(need.volume),
            (None, text) => text.map(|text| volume("VOLUME", text)).transpose()?,
        };
        let ratio = match need {
            Some(need) => need.ratio,
            None => self.working.as_deref().map(|text| ratio_of("--working", text, formula)).transpose()?,
        };
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
            let fix = "give its maximum load, such as 200g";
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
        let mut jar_assays = Vec::new();
        if let Some(path) = &self.shelf {
            // What is named by itself goes before what the file says of the same chemical.
            let read = from_file(path, context)?;
            jar_assays = read.assays;
            let mut shelf = read.have;
            shelf.retain(|own| have.iter().all(|named| named.form.parent.id != own.form.parent.id));
            have.extend(can_make::serving(formula, &shelf, relations));
            for form in can_make::needs(formula, &have, relations).missing {
                let kept = formula
                    .ingredients()
                    .find(|ingredient| ingredient.form.id == form.id && !ingredient.exchange);
                let why = kept.and_then(|kept| kept.note.as_ref());
                let why = why.map_or_else(String::new, |note| format!(" (it may not be exchanged: {note})"));
                context.warn(&format!("not on the shelf: {}{why}; you cannot mix this yet", form.name));
            }
        }
        let mut assays = assay_fractions(context, &self.assay)?;
        // What was typed of a form goes before what its jar says.
        jar_assays.retain(|(own, _)| assays.iter().all(|(given, _)| given.id != own.id));
        assays.extend(jar_assays);
        Ok(Request { wanted, balance, have, assays })
    }
}

impl BatchArguments {
    /// What the formula needs and the shelf, where one is given, does not hold.
    pub(super) fn missing(
        &self,
        formula: &Formula,
        request: &Request,
        relations: &Relations,
    ) -> Vec<Arc<Form>> {
        if self.shelf.is_none() {
            return Vec::new();
        }
        can_make::needs(formula, &request.have, relations).missing
    }
}

/// Forms with their assays, as fractions by mass, and who gave them.
pub(super) type Assays = Vec<(Arc<Form>, Chosen<f64>)>;

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
fn where_given(error: CliError, origin: &SettingOrigin) -> CliError {
    match origin {
        SettingOrigin::Flag(_) | SettingOrigin::Default => error,
        _ => origin.refuse("assay", &error, error.fix()),
    }
}

/// The same as the calculation wants it.
pub(super) fn assay_fractions(
    context: &Context<'_, '_>,
    options: &[String],
) -> Result<Vec<(Arc<Form>, f64)>, CliError> {
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

/// A product counted as pure that is usually not, unless its assay was given.
pub(super) fn purity_words(form: &Form, assays: &[(Arc<Form>, f64)]) -> Option<String> {
    let (low_percent, high_percent) = form.assay_typical?;
    let is_given = assays.iter().any(|(own, _)| own.id == form.id);
    (!is_given).then(|| Advice::AssayTypical { low_percent, high_percent }.to_string())
}

/// How pure a product is, as a fraction by mass: as given, else as its data say.
pub(super) fn assay_of(form: &Form, assays: &[(Arc<Form>, f64)]) -> f64 {
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
