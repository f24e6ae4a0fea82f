//! `soupcon config`: every setting, and where it comes from.

use super::arguments::assays;
use super::context::Context;
use super::error::CliError;
use super::settings::{Chosen, SettingOrigin};
use crate::quantity::rounding::show_short;
use crate::render::config::{ConfigBody, SettingBody, config_document};
use crate::render::json::document;
use clap::Args;

const EXAMPLES: &str = "\
Examples:
  soupcon config
  soupcon config --balance 0.01g                        an option goes before everything
  soupcon new configuration -o ~/.config/soupcon/config.toml

An option goes before the environment, the environment before the file, the file before what is built in:
  SOUPCON_BALANCE, SOUPCON_BALANCE_MAX, SOUPCON_PAPER, SOUPCON_CLOCK, SOUPCON_HOT_TAP, SOUPCON_COLD_TAP,
  SOUPCON_ASSAY=\"form=88%,form=98%\"; SOUPCON_CONFIG names the file, SOUPCON_LIBRARY more folders.
Folders add up; where two hold the same formula the last wins.";

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

/// A setting and where it comes from.
fn setting<T: ToString>(name: &'static str, chosen: Option<&Chosen<T>>) -> SettingBody {
    let origin = chosen.map_or(&SettingOrigin::Default, |own| &own.origin);
    let (word, given_by, place) = match origin {
        SettingOrigin::Flag(option) => ("flag", Some(*option), None),
        SettingOrigin::Environment(variable) => ("environment", Some(*variable), None),
        SettingOrigin::File { file, line } => ("file", None, Some((file.clone(), *line))),
        SettingOrigin::Default => ("default", None, None),
    };
    let (file, line) = place.unzip();
    SettingBody {
        name,
        form: None,
        value: chosen.map(|chosen| chosen.value.to_string()),
        origin: word,
        given_by,
        file,
        line,
    }
}

pub(super) fn run(arguments: &ConfigArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.check_folders()?;
    let settings = &context.settings;
    let paper = settings.paper(arguments.paper.as_deref())?;
    let paper = Chosen { value: paper.value.word(), origin: paper.origin };
    let mut rows = vec![
        setting("balance", Some(&settings.balance(arguments.balance.as_deref())?)),
        setting("balance_max", settings.balance_max(arguments.balance_max.as_deref())?.as_ref()),
        setting("paper", Some(&paper)),
        setting("clock", Some(&settings.clock(arguments.clock.as_deref())?)),
        setting("hot_tap", settings.hot_tap(arguments.hot.as_deref())?.as_ref()),
        setting("cold_tap", settings.cold_tap(arguments.cold.as_deref())?.as_ref()),
    ];
    rows.extend(context.folders.iter().map(|folder| {
        let shown = Chosen { value: folder.value.display().to_string(), origin: folder.origin.clone() };
        setting("library", Some(&shown))
    }));
    for (form, assay) in assays(context, &arguments.assay)? {
        let percent = format!("{} %", show_short(assay.value * 100.0, 3));
        let row = setting("assay", Some(&Chosen { value: percent, origin: assay.origin }));
        rows.push(SettingBody { form: Some(form.id.clone()), ..row });
    }
    let file = settings.path.as_ref().map(|path| path.display().to_string());
    let is_there = settings.is_there;
    let config = ConfigBody { file, file_is_there: is_there, settings: rows };
    context.answer(|| config_document(&config), || document(&config))?;
    Ok(0)
}
