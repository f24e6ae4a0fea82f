//! What `config --json` prints: every setting with where it comes from.

/// `config --json`.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ConfigBody {
    /// Where the configuration file is looked for; null without a home.
    pub(crate) file: Option<String>,
    /// Whether it is there.
    pub(crate) file_is_there: bool,
    /// The settings; `library` and `assay` once for each folder and form.
    pub(crate) settings: Vec<SettingBody>,
}

#[derive(Debug, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct SettingBody {
    /// As in the file: `balance`, `balance_max`, `paper`, `clock`, `hot_tap`, `cold_tap`, `library`, `assay`.
    pub(crate) name: &'static str,
    /// The form, of an assay.
    pub(crate) form: Option<String>,
    /// The value with its unit; null where there is none.
    pub(crate) value: Option<String>,
    /// `flag`, `environment`, `file` or `default`.
    pub(crate) origin: &'static str,
    /// The option or the variable.
    pub(crate) given_by: Option<&'static str>,
    /// The file that holds it.
    pub(crate) file: Option<String>,
    pub(crate) line: Option<usize>,
}
