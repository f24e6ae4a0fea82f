//! The process's surroundings.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::PathBuf;

use super::error::CliError;

/// The process's surroundings, read once by `main`.
#[derive(Debug, Clone, Default)]
pub struct Environment {
    /// Names are text, values whatever the system gives.
    pub variables: BTreeMap<String, OsString>,
    /// Whether standard output is a terminal.
    pub out_is_terminal: bool,
    /// Whether standard input is a terminal.
    pub input_is_terminal: bool,
    /// How wide the terminal is that standard output goes to, in columns.
    pub terminal_columns: Option<usize>,
}

impl Environment {
    /// A variable's text; empty counts as unset.
    pub fn text(&self, name: &str) -> Option<&str> {
        self.variables.get(name).and_then(|value| value.to_str()).filter(|value| !value.is_empty())
    }

    /// Columns to print in: `COLUMNS` (between 20 and 200), else those of the terminal (at most 100, for longer lines are hard to read),
    /// else 80.
    pub fn width(&self) -> usize {
        let asked = self.text("COLUMNS").and_then(|columns| columns.parse().ok());
        let asked = asked.map(|columns: usize| columns.min(200));
        let terminal = self.terminal_columns.filter(|&columns| columns > 0).map(|columns| columns.min(100));
        asked.or(terminal).map_or(80, |columns| columns.max(20))
    }

    /// A variable's text; one that is not UTF-8 is refused rather than taken as unset.
    pub(super) fn given(&self, name: &str) -> Result<Option<&str>, CliError> {
        match self.variables.get(name).filter(|value| !value.is_empty()) {
            None => Ok(None),
            Some(value) => value
                .to_str()
                .map(Some)
                .ok_or_else(|| CliError::argument(name, "its text is not UTF-8", "set it anew, or unset it")),
        }
    }

    /// A variable as a path; empty counts as unset.
    pub(super) fn path(&self, name: &str) -> Option<PathBuf> {
        self.variables.get(name).filter(|value| !value.is_empty()).map(PathBuf::from)
    }

    /// An absolute folder from a variable, as the XDG Base Directory Specification asks (relative ones are ignored).
    fn folder(&self, name: &str) -> Option<PathBuf> {
        self.path(name).filter(|path| path.is_absolute())
    }

    /// The user's configuration folder: `$XDG_CONFIG_HOME/soupcon`, else `~/.config/soupcon`.
    pub fn configuration_folder(&self) -> Option<PathBuf> {
        let base = self.folder("XDG_CONFIG_HOME").or_else(|| Some(self.folder("HOME")?.join(".config")))?;
        Some(base.join("soupcon"))
    }

    /// The user's data folder: `$XDG_DATA_HOME/soupcon`, else `~/.local/share/soupcon`.
    pub fn data_folder(&self) -> Option<PathBuf> {
        let base =
            self.folder("XDG_DATA_HOME").or_else(|| Some(self.folder("HOME")?.join(".local/share")))?;
        Some(base.join("soupcon"))
    }

    /// Whether bold type is wanted where the command line does not say: `NO_COLOR` (no), then `CLICOLOR_FORCE` (yes, unless it is 0),
    /// then `CLICOLOR=0` (no), else on a terminal that is not dumb.
    pub(super) fn wants_bold(&self) -> bool {
        if self.text("NO_COLOR").is_some() {
            return false;
        }
        if self.text("CLICOLOR_FORCE").is_some_and(|value| value != "0") {
            return true;
        }
        self.text("CLICOLOR") != Some("0")
            && self.out_is_terminal
            && self.text("TERM").is_some_and(|term| term != "dumb")
    }

    /// Whether the locale is set and is not UTF-8.
    pub(super) fn locale_is_not_utf8(&self) -> bool {
        ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|name| self.text(name)).is_some_and(|locale| {
            let lower = locale.to_ascii_lowercase();
            !(lower.contains("utf-8") || lower.contains("utf8"))
        })
    }
}
