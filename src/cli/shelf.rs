//! What is on the shelf: `--have` and `--shelf FILE`.

use std::path::PathBuf;

use clap::Args;
use serde::Deserialize;
use toml::Spanned;

use super::arguments::on_shelf;
use super::context::Context;
use super::error::CliError;
use crate::diagnostic::{Finding, line_of, read_toml};
use crate::library::read_file;
use crate::scale::Have;

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
    have: Vec<Spanned<String>>,
    /// Yours: anything; never read.
    #[cfg_attr(test, schemars(with = "Option<serde_json::Map<String, serde_json::Value>>"))]
    #[serde(rename = "own")]
    _own: Option<toml::Table>,
}

impl ShelfArguments {
    /// Everything on the shelf; refuses an empty one, and tells everything wrong in the file at once.
    pub(super) fn read(&self, context: &mut Context<'_, '_>) -> Result<Vec<Have>, CliError> {
        let mut shelf = match &self.shelf {
            Some(path) => from_file(path, context)?,
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
) -> Result<Vec<Have>, CliError> {
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
    let mut shelf = Vec::new();
    for entry in &shape.have {
        match on_shelf(context, "have", entry.get_ref()) {
            Ok(have) => shelf.push(have),
            Err(error) => {
                let line = line_of(&text, entry.span().start);
                findings.push(Finding::error("shelf", &file, Some(line), error.to_string(), error.fix()));
            }
        }
    }
    if findings.is_empty() { Ok(shelf) } else { Err(CliError::Findings { findings }) }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_schema_is_current() {
        crate::schema::tests::assert_file_schema::<super::ShelfFile>("shelf");
    }
}
