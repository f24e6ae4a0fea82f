//! `soupcon new`: a commented skeleton to start a file of one's own from.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::context::Context;
use super::error::CliError;
use super::files::deliver;

const EXAMPLES: &str = "\
Examples:
  soupcon new formula -o my-borax-developer.toml
  soupcon new shelf -o shelf.toml
  soupcon new configuration                             to look at it first";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct NewArguments {
    /// What to start
    #[arg(value_enum)]
    kind: Kind,
    /// Write to FILE instead of standard output (- for standard output)
    #[arg(short, long, value_name = "FILE", help_heading = "Output")]
    output: Option<PathBuf>,
    /// Overwrite an existing file
    #[arg(long, requires = "output", help_heading = "Output")]
    force: bool,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Kind {
    /// A formula
    Formula,
    /// A chemical that the program does not know
    Substance,
    /// What is on the shelf
    Shelf,
    /// An evening: films, tanks and baths on one clock
    Evening,
    /// Settings for every command
    Configuration,
}

impl Kind {
    fn skeleton(self) -> &'static str {
        match self {
            Self::Formula => include_str!("new/formula.toml"),
            Self::Substance => include_str!("new/substance.toml"),
            Self::Shelf => include_str!("new/shelf.toml"),
            Self::Evening => include_str!("new/evening.toml"),
            Self::Configuration => include_str!("new/configuration.toml"),
        }
    }
}

pub(super) fn run(arguments: &NewArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.refuse_json("a skeleton is TOML")?;
    deliver(context, arguments.output.as_deref(), arguments.kind.skeleton(), arguments.force)?;
    Ok(0)
}
