//! Settings: an option goes before the environment, the environment before the configuration file, the file before what is built in.
//!
//! Library folders add up instead. The file is read by every command that computes, and a broken one is refused; completions, manual
//! pages, skeletons and schemas do not read it, since a shell starts with them.

use std::path::{Path, PathBuf};

use super::environment::Environment;
use super::error::CliError;
use crate::configuration::{self, Configuration, Configured, Paper, Refused};
use crate::diagnostic::Finding;
use crate::exposure::Clock;
use crate::library::read_file;
use crate::quantity::{Mass, Temperature};

/// Names the configuration file itself.
const VARIABLE: &str = "SOUPCON_CONFIG";

/// Smallest step of a balance where nobody says otherwise.
const BALANCE: f64 = 0.1;

/// Where a value comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum SettingOrigin {
    /// An option.
    Flag(&'static str),
    /// A variable.
    Environment(&'static str),
    /// A line of the configuration file.
    File { file: String, line: usize },
    /// Built in.
    Default,
}

impl SettingOrigin {
    /// A value that is well written but will not do, told where it was given; `key` is its name in the file.
    pub(super) fn refuse(
        &self,
        key: &str,
        message: impl std::fmt::Display,
        fix: impl Into<String>,
    ) -> CliError {
        match self {
            Self::File { file, line } => {
                let message = format!("{key}: {message}");
                let finding = Finding::error("configuration", file, Some(*line), message, fix);
                CliError::Findings { findings: vec![finding] }
            }
            Self::Flag(name) | Self::Environment(name) => CliError::argument(name, message, fix),
            Self::Default => CliError::argument(key, message, fix),
        }
    }
}

/// A value with its origin.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chosen<T> {
    pub(super) value: T,
    pub(super) origin: SettingOrigin,
}

/// An assay as given, its form not looked up yet.
pub(super) type GivenAssay = (String, Chosen<f64>);

/// The configuration file and the environment, read but not yet asked.
#[derive(Debug, Clone, Default)]
pub(super) struct Settings {
    environment: Environment,
    configuration: Configuration,
    /// Where the file is looked for.
    pub(super) path: Option<PathBuf>,
    /// Whether it is there.
    pub(super) is_there: bool,
    /// Folders of the file, made whole.
    pub(super) library: Vec<Chosen<PathBuf>>,
}

impl Settings {
    /// Reads the configuration file; that there is none is no mistake, unless `SOUPCON_CONFIG` names it.
    pub(super) fn read(environment: &Environment) -> Result<Self, CliError> {
        let named = environment.path(VARIABLE);
        let path = named.clone().or_else(|| Some(environment.configuration_folder()?.join("config.toml")));
        let empty = Self { environment: environment.clone(), path: path.clone(), ..Self::default() };
        let Some(path) = path else { return Ok(empty) };
        if named.is_none() && path.symlink_metadata().is_err() {
            return Ok(empty);
        }
        let text = read_file(&path).map_err(|error| match named {
            Some(_) => CliError::argument(VARIABLE, &error, "name a file that can be read, or unset it"),
            None => error.into(),
        })?;
        let file = path.display().to_string();
        let configuration =
            Configuration::parse(&text, &file).map_err(|findings| CliError::Findings { findings })?;
        let mut settings = Self { configuration, is_there: true, ..empty };
        settings.library = settings.folders(&path, environment)?;
        Ok(settings)
    }

    /// The folders of the file, relative ones from where it lies, each of them there.
    fn folders(&self, path: &Path, environment: &Environment) -> Result<Vec<Chosen<PathBuf>>, CliError> {
        let base = path.parent().unwrap_or(Path::new(""));
        let mut folders = Vec::new();
        let mut findings = Vec::new();
        let file = path.display().to_string();
        for folder in &self.configuration.library {
            let mut wrong = |message: String, fix: &str| {
                findings.push(Finding::error("configuration", &file, Some(folder.line), message, fix));
            };
            let whole = match (folder.value.strip_prefix("~/"), environment.path("HOME")) {
                (Some(rest), Some(home)) => home.join(rest),
                (Some(_), None) => {
                    let message = format!("library: `{}` needs HOME, which is not set", folder.value);
                    wrong(message, "write the whole path");
                    continue;
                }
                (None, _) => base.join(&folder.value),
            };
            if !whole.is_dir() {
                let message = format!("library: {} is not a folder", whole.display());
                wrong(message, "make it, or name one with the layout of the built-in library");
                continue;
            }
            folders.push(Chosen { value: whole, origin: self.at(folder.line) });
        }
        if findings.is_empty() { Ok(folders) } else { Err(CliError::Findings { findings }) }
    }

    fn at(&self, line: usize) -> SettingOrigin {
        let file = self.path.as_ref().map(|path| path.display().to_string()).unwrap_or_default();
        SettingOrigin::File { file, line }
    }

    /// The first that says something: the option, the variable, the file.
    fn choose<T: Clone>(
        &self,
        flag: (&'static str, Option<&str>),
        variable: &'static str,
        configured: Option<&Configured<T>>,
        parse: fn(&str) -> Result<T, Refused>,
    ) -> Result<Option<Chosen<T>>, CliError> {
        let read = |name: &'static str, text: &str| {
            parse(text).map_err(|(message, fix)| CliError::argument(name, message, fix))
        };
        let (option, given) = flag;
        if let Some(text) = given {
            return Ok(Some(Chosen { value: read(option, text)?, origin: SettingOrigin::Flag(option) }));
        }
        if let Some(text) = self.environment.given(variable)? {
            return Ok(Some(Chosen {
                value: read(variable, text)?,
                origin: SettingOrigin::Environment(variable),
            }));
        }
        Ok(configured
            .map(|configured| Chosen { value: configured.value.clone(), origin: self.at(configured.line) }))
    }

    /// Smallest step of the balance.
    pub(super) fn balance(&self, flag: Option<&str>) -> Result<Chosen<Mass>, CliError> {
        let configured = self.configuration.balance.as_ref();
        let chosen =
            self.choose(("--balance", flag), "SOUPCON_BALANCE", configured, configuration::balance_step)?;
        Ok(chosen.unwrap_or(Chosen { value: Mass::from_g(BALANCE), origin: SettingOrigin::Default }))
    }

    /// Most that the balance carries.
    pub(super) fn balance_max(&self, flag: Option<&str>) -> Result<Option<Chosen<Mass>>, CliError> {
        let configured = self.configuration.balance_max.as_ref();
        self.choose(("--balance-max", flag), "SOUPCON_BALANCE_MAX", configured, configuration::balance_load)
    }

    /// The user's tanks.
    pub(super) fn tanks(&self) -> &[configuration::TankSetting] {
        &self.configuration.tanks
    }

    /// Paper of printed pages.
    pub(super) fn paper(&self, flag: Option<&str>) -> Result<Chosen<Paper>, CliError> {
        let configured = self.configuration.paper.as_ref();
        let chosen = self.choose(("--paper", flag), "SOUPCON_PAPER", configured, configuration::paper)?;
        Ok(chosen.unwrap_or(Chosen { value: Paper::default(), origin: SettingOrigin::Default }))
    }

    /// Step of the enlarger's timer.
    pub(super) fn clock(&self, flag: Option<&str>) -> Result<Chosen<Clock>, CliError> {
        let configured = self.configuration.clock.as_ref();
        let chosen = self.choose(("--clock", flag), "SOUPCON_CLOCK", configured, configuration::clock)?;
        Ok(chosen.unwrap_or(Chosen { value: Clock::default(), origin: SettingOrigin::Default }))
    }

    pub(super) fn hot_tap(&self, flag: Option<&str>) -> Result<Option<Chosen<Temperature>>, CliError> {
        let configured = self.configuration.hot_tap.as_ref();
        self.choose(("--hot", flag), "SOUPCON_HOT_TAP", configured, configuration::tap)
    }

    pub(super) fn cold_tap(&self, flag: Option<&str>) -> Result<Option<Chosen<Temperature>>, CliError> {
        let configured = self.configuration.cold_tap.as_ref();
        self.choose(("--cold", flag), "SOUPCON_COLD_TAP", configured, configuration::tap)
    }

    /// Every assay given, those that go before first; the same form may stand in several places.
    pub(super) fn assays(&self, flags: &[String]) -> Result<Vec<GivenAssay>, CliError> {
        let mut given = Vec::new();
        for text in flags {
            given.push(one_assay("--assay", text, SettingOrigin::Flag("--assay"))?);
        }
        let variable = "SOUPCON_ASSAY";
        for text in self.environment.given(variable)?.into_iter().flat_map(|list| list.split(',')) {
            given.push(one_assay(variable, text, SettingOrigin::Environment(variable))?);
        }
        given.extend(
            self.configuration
                .assay
                .iter()
                .map(|(form, own)| (form.clone(), Chosen { value: own.value, origin: self.at(own.line) })),
        );
        Ok(given)
    }
}

/// `FORM=88%`.
fn one_assay(argument: &str, text: &str, origin: SettingOrigin) -> Result<GivenAssay, CliError> {
    let Some((form, percent)) = text.split_once('=') else {
        let message = format!("`{}` has no `=`", text.trim());
        return Err(CliError::argument(argument, message, "write it as potassium-hydroxide=88%"));
    };
    let value = configuration::assay(percent)
        .map_err(|(message, _)| CliError::argument(argument, message, "write FORM=98%, by mass"))?;
    Ok((form.trim().to_owned(), Chosen { value, origin }))
}
