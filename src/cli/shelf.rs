//! What is on the shelf: `--have` and `--shelf FILE`.

use std::path::PathBuf;
use std::sync::Arc;

use clap::Args;
use serde::Deserialize;
use toml::Spanned;

use super::context::Context;
use super::error::CliError;
use super::values::{date, form, on_shelf};
use crate::diagnostic::{Finding, line_of, read_toml};
use crate::library::read_file;
use crate::quantity::{Mass, Volume};
use crate::scale::Have;
use crate::shelf::{Jar, grams};
use crate::substance::Form;

/// Options that say what is on the shelf.
#[derive(Debug, Clone, Args)]
pub(super) struct ShelfArguments {
    /// A form on the shelf, with how much of it there is if that matters
    #[arg(long, value_name = "FORM[=AMOUNT]", help_heading = "Shelf", requires = "can_make")]
    have: Vec<String>,
    /// A .toml file that lists the shelf
    #[arg(long, value_name = "FILE", help_heading = "Shelf", requires = "can_make")]
    shelf: Option<PathBuf>,
}

/// A shelf on disk.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct ShelfFile {
    /// Version of the format: 1.
    #[cfg_attr(test, schemars(with = "u32", extend("const" = 1)))]
    format: Spanned<u32>,
    /// Ids of forms, with how much there is where that matters: "metol", "sodium-sulfite-anhydrous=450g".
    #[cfg_attr(test, schemars(with = "Vec<String>", inner(length(min = 1))))]
    #[serde(default)]
    have: Vec<Spanned<String>>,
    /// Jars with more to say of them; a form stands either here or in `have`.
    #[serde(default)]
    jars: Vec<JarFile>,
    /// Yours: anything; never read.
    #[cfg_attr(test, schemars(with = "Option<serde_json::Map<String, serde_json::Value>>"))]
    #[serde(rename = "own")]
    _own: Option<toml::Table>,
}

/// A jar on disk.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct JarFile {
    /// Id of the form: "metol".
    #[cfg_attr(test, schemars(with = "String"))]
    form: Spanned<String>,
    /// How much is in it: "25 g", of a liquid of known density also "500 ml".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    amount: Option<Spanned<String>>,
    /// The day at whose end it was counted: "2026-11-25"; what is mixed later is taken off by `shelf` and `shopping`.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    counted: Option<Spanned<String>>,
    /// What one size costs, a plain number in your own currency.
    #[cfg_attr(test, schemars(with = "Option<f64>", range(min = 0)))]
    price: Option<Spanned<f64>>,
    /// The size in which you buy it: "100 g".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    size: Option<Spanned<String>>,
    /// How pure it is, by mass: "98 %".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    assay: Option<Spanned<String>>,
}

/// What a shelf's file says.
#[derive(Debug, Default)]
pub(super) struct ShelfRead {
    /// Forms with their amounts, those of the jars too.
    pub(super) have: Vec<Have>,
    /// Assays of the jars, as fractions.
    pub(super) assays: Vec<(Arc<Form>, f64)>,
    /// The jars, and what stands in `have` as jars without more.
    pub(super) jars: Vec<Jar>,
}

impl ShelfArguments {
    /// Everything on the shelf; refuses an empty one, and tells everything wrong in the file at once.
    pub(super) fn read(&self, context: &mut Context<'_, '_>) -> Result<Vec<Have>, CliError> {
        let mut shelf = match &self.shelf {
            Some(path) => from_file(path, context)?.have,
            None => Vec::new(),
        };
        for text in &self.have {
            shelf.push(on_shelf(context, "--have", text)?);
        }
        if shelf.is_empty() {
            let message = "it needs to know what is on the shelf";
            let fix =
                "add --have metol --have …, or --shelf FILE (`soupcon new shelf -o shelf.toml` starts one)";
            return Err(CliError::argument("--can-make", message, fix));
        }
        Ok(shelf)
    }
}

/// A shelf from its file; tells everything wrong in it at once.
pub(super) fn from_file(
    path: &std::path::Path,
    context: &mut Context<'_, '_>,
) -> Result<ShelfRead, CliError> {
    let (text, file) = if path == std::path::Path::new("-") {
        (context.standard_input("a shelf")?, "standard input".to_owned())
    } else {
        let text = read_file(path).map_err(|error| {
            let fix = "name a file that can be read; `soupcon new shelf -o shelf.toml` starts one";
            CliError::argument("--shelf", error, fix)
        })?;
        (text, path.display().to_string())
    };
    let shape: ShelfFile =
        read_toml(&text, &file).map_err(|finding| CliError::Findings { findings: vec![finding] })?;
    let mut findings = Vec::new();
    if *shape.format.get_ref() != 1 {
        let message = format!("format = {} is not known to this version", shape.format.get_ref());
        let line = line_of(&text, shape.format.span().start);
        findings.push(Finding::error("format", &file, Some(line), message, "write format = 1"));
    }
    let mut shelf = ShelfRead::default();
    for entry in &shape.have {
        match on_shelf(context, "have", entry.get_ref()) {
            Ok(have) => {
                shelf.jars.push(Jar {
                    form: Arc::clone(&have.form),
                    amount_g: have.amount.map(Mass::as_g),
                    counted: None,
                    price: None,
                    size_g: None,
                });
                shelf.have.push(have);
            }
            Err(error) => {
                let line = line_of(&text, entry.span().start);
                findings.push(Finding::error("shelf", &file, Some(line), error.to_string(), error.fix()));
            }
        }
    }
    for jar_file in &shape.jars {
        let mut wrong = |offset: usize, message: String, fix: String| {
            findings.push(Finding::error("shelf", &file, Some(line_of(&text, offset)), message, fix));
        };
        let form = match form(context, jar_file.form.get_ref()) {
            Ok(form) => form,
            Err(error) => {
                wrong(jar_file.form.span().start, error.to_string(), error.fix());
                continue;
            }
        };
        if shelf.have.iter().any(|have| have.form.id == form.id)
            && shape
                .have
                .iter()
                .any(|entry| entry.get_ref().split('=').next().is_some_and(|name| name.trim() == form.id))
        {
            let message = format!("{} stands in `have` and among the jars", form.id);
            wrong(jar_file.form.span().start, message, "delete one of the two".to_owned());
        }
        let mut grams = |amount: &Option<Spanned<String>>| {
            let amount = amount.as_ref()?;
            match weighed(&form, amount.get_ref()) {
                Ok(grams) => Some(grams),
                Err((message, fix)) => {
                    wrong(amount.span().start, message, fix);
                    None
                }
            }
        };
        let (amount_g, size_g) = (grams(&jar_file.amount), grams(&jar_file.size));
        let counted = jar_file.counted.as_ref().and_then(|day| match date("counted", day.get_ref()) {
            Ok(date) => Some(date),
            Err(error) => {
                wrong(day.span().start, error.to_string(), error.fix());
                None
            }
        });
        if let Some(price) = jar_file.price.as_ref().filter(|price| !(0.0..=1e9).contains(price.get_ref())) {
            let message = format!("a price of {} is none", price.get_ref());
            wrong(price.span().start, message, "write what one size costs, such as 12.5".to_owned());
        }
        if let Some(price) = jar_file.price.as_ref().filter(|_| jar_file.size.is_none()) {
            let message = format!("the price of {} is of no size", form.id);
            wrong(price.span().start, message, "add the size that it buys: size = \"100 g\"".to_owned());
        }
        let assay = jar_file.assay.as_ref().and_then(|written| {
            let read = crate::configuration::assay(written.get_ref());
            read.map_err(|(message, fix)| wrong(written.span().start, message, fix)).ok()
        });
        shelf.take_assay(&form, assay).unwrap_or_else(|(message, fix)| {
            wrong(jar_file.form.span().start, message, fix);
        });
        let amount = amount_g.map(Mass::from_g);
        shelf.have.push(Have { form: Arc::clone(&form), amount, is_limit: false });
        shelf.jars.push(Jar {
            form,
            amount_g,
            counted,
            price: jar_file.price.as_ref().map(|own| *own.get_ref()),
            size_g,
        });
    }
    if findings.is_empty() { Ok(shelf) } else { Err(CliError::Findings { findings }) }
}

impl ShelfRead {
    /// Takes how pure a jar is. A batch is weighed by one purity: of two it would be wrong for one of the jars.
    fn take_assay(&mut self, form: &Arc<Form>, assay: Option<f64>) -> Result<(), (String, String)> {
        let jars = self.jars.iter().filter(|jar| jar.form.id == form.id).count();
        let mut assays = self.assays.iter().filter(|(own, _)| own.id == form.id).map(|(_, assay)| *assay);
        let is_alike = match assay {
            Some(assay) => assays.filter(|other| (other - assay).abs() < 1e-9).count() == jars,
            None => assays.next().is_none(),
        };
        self.assays.extend(assay.map(|assay| (Arc::clone(form), assay)));
        let fix = "leave only the jar that you weigh from, or give all of them the assay of their mixture";
        let refused = || (format!("the jars of {} are not all of the same purity", form.id), fix.to_owned());
        if is_alike { Ok(()) } else { Err(refused()) }
    }
}

/// An amount of a form in grams: a mass, or a volume of a liquid of known density.
fn weighed(form: &Form, text: &str) -> Result<f64, (String, String)> {
    let as_mass = text.parse::<Mass>();
    if let Ok(volume) = text.parse::<Volume>() {
        return grams(form, volume.as_ml(), true).ok_or_else(|| {
            let message = format!("{text} of {}: its density is not known", form.name);
            (message, "write it in grams".to_owned())
        });
    }
    as_mass
        .map(Mass::as_g)
        .map_err(|error| (error.to_string(), "write the amount with its unit: 25 g, 1 kg, 500 ml".to_owned()))
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_schema_is_current() {
        crate::schema::tests::assert_file_schema::<super::ShelfFile>("shelf");
    }
}
