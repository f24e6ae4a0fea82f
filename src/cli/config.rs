//! `soupcon config`: every setting, and where it comes from.

use clap::Args;

use super::arguments::assays;
use super::context::Context;
use super::error::CliError;
use super::settings::{Chosen, Origin};
use crate::quantity::rounding::show_short;
use crate::render::json::document;
use crate::render::{Column, Document};

const EXAMPLES: &str = "\
Examples:
  soupcon config
  soupcon config --balance 0.01g                        an option goes before everything
  soupcon new configuration -o ~/.config/soupcon/config.toml

An option goes before the environment, the environment before the file, the file before what is built in:
  SOUPCON_BALANCE, SOUPCON_BALANCE_MAX, SOUPCON_PAPER, SOUPCON_CLOCK, SOUPCON_HOT_TAP, SOUPCON_COLD_TAP,
  SOUPCON_ASSAY=\"form=88%,form=98%\"; SOUPCON_CONFIG names the file, SOUPCON_LIBRARY more folders.
Folders add up; where two hold the same formula the last wins.";

/// Arguments of `config`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ConfigArguments {
    /// Smallest step of the balance
    #[arg(long, value_name = "STEP")]
    balance: Option<String>,
    /// Maximum load of the balance
    #[arg(long, value_name = "LOAD")]
    balance_max: Option<String>,
    /// Paper of printed pages: a4 or letter
    #[arg(long, value_name = "PAPER")]
    paper: Option<String>,
    /// Step of the enlarger's timer: 0.1s or 1s
    #[arg(long, value_name = "STEP")]
    clock: Option<String>,
    /// Temperature of the hot water
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    hot: Option<String>,
    /// Temperature of the cold water
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    cold: Option<String>,
    /// Purity of a chemical, by mass
    #[arg(long, value_name = "FORM=PERCENT")]
    assay: Vec<String>,
}

/// `config --json`.
#[derive(serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct ConfigBody {
    /// Where the configuration file is looked for; null without a home.
    file: Option<String>,
    /// Whether it is there.
    file_is_there: bool,
    /// The settings; `library` and `assay` once for each folder and form.
    settings: Vec<SettingBody>,
}

/// One setting.
#[derive(serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct SettingBody {
    /// As in the file: `balance`, `balance_max`, `paper`, `clock`, `hot_tap`, `cold_tap`, `library`, `assay`.
    name: &'static str,
    /// The form, of an assay.
    form: Option<String>,
    /// The value with its unit; null where there is none.
    value: Option<String>,
    /// `flag`, `environment`, `file` or `default`.
    origin: &'static str,
    /// The option or the variable.
    given_by: Option<&'static str>,
    /// The file that holds it.
    file: Option<String>,
    /// Its line there.
    line: Option<usize>,
}

impl SettingBody {
    fn new<T: ToString>(name: &'static str, chosen: Option<&Chosen<T>>) -> Self {
        let origin = chosen.map_or(&Origin::Default, |own| &own.origin);
        let (word, given_by, place) = match origin {
            Origin::Flag(option) => ("flag", Some(*option), None),
            Origin::Environment(variable) => ("environment", Some(*variable), None),
            Origin::File { file, line } => ("file", None, Some((file.clone(), *line))),
            Origin::Default => ("default", None, None),
        };
        let (file, line) = place.unzip();
        Self {
            name,
            form: None,
            value: chosen.map(|own| own.value.to_string()),
            origin: word,
            given_by,
            file,
            line,
        }
    }

    /// Name, value and origin as printed.
    fn printed(&self) -> Vec<String> {
        let value = self.value.clone().unwrap_or_else(|| "not set".to_owned());
        let value = self.form.iter().cloned().chain([value]).collect::<Vec<_>>().join(" ");
        vec![self.name.to_owned(), value, self.place()]
    }

    /// Where it comes from, as printed.
    fn place(&self) -> String {
        match (self.given_by, &self.file, self.line) {
            (Some(name), _, _) => name.to_owned(),
            (_, _, Some(line)) => format!("line {line} of the file"),
            _ => "default".to_owned(),
        }
    }
}

pub(super) fn run(arguments: &ConfigArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.check_folders()?;
    let settings = &context.settings;
    let paper = settings.paper(arguments.paper.as_deref())?;
    let paper = Chosen { value: paper.value.word(), origin: paper.origin };
    let mut rows = vec![
        SettingBody::new("balance", Some(&settings.balance(arguments.balance.as_deref())?)),
        SettingBody::new("balance_max", settings.balance_max(arguments.balance_max.as_deref())?.as_ref()),
        SettingBody::new("paper", Some(&paper)),
        SettingBody::new("clock", Some(&settings.clock(arguments.clock.as_deref())?)),
        SettingBody::new("hot_tap", settings.hot_tap(arguments.hot.as_deref())?.as_ref()),
        SettingBody::new("cold_tap", settings.cold_tap(arguments.cold.as_deref())?.as_ref()),
    ];
    rows.extend(context.folders.iter().map(|folder| {
        let shown = Chosen { value: folder.value.display().to_string(), origin: folder.origin.clone() };
        SettingBody::new("library", Some(&shown))
    }));
    for (form, assay) in assays(context, &arguments.assay)? {
        let percent = format!("{} %", show_short(assay.value * 100.0, 3));
        let row = SettingBody::new("assay", Some(&Chosen { value: percent, origin: assay.origin }));
        rows.push(SettingBody { form: Some(form.id.clone()), ..row });
    }
    let file = settings.path.as_ref().map(|path| path.display().to_string());
    let is_there = settings.is_there;
    let printed = rows.iter().map(SettingBody::printed).collect();
    context.answer(
        || {
            let mut answer = Document::new();
            let words = match (&file, is_there) {
                (Some(file), true) => file.clone(),
                (Some(file), false) => format!("{file} (not there)"),
                (None, _) => "none: neither HOME nor SOUPCON_CONFIG is set".to_owned(),
            };
            answer.facts(vec![("configuration file".to_owned(), words)]);
            answer.table(vec![Column::left("setting"), Column::left("value"), Column::left("from")], printed);
            answer
        },
        || document(ConfigBody { file: file.clone(), file_is_there: is_there, settings: rows }),
    )?;
    Ok(0)
}
