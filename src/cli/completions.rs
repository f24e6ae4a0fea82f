//! `soupcon completions`: a script that lets the shell complete commands and options.

use clap::Args;
use clap_complete::Shell;

use super::context::Context;
use super::error::CliError;

const EXAMPLES: &str = "\
Examples:
  soupcon completions bash > ~/.local/share/bash-completion/completions/soupcon
  soupcon completions zsh > ~/.zfunc/_soupcon           with fpath+=~/.zfunc in ~/.zshrc
  soupcon completions fish > ~/.config/fish/completions/soupcon.fish";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct CompletionsArguments {
    /// The shell
    #[arg(value_enum)]
    shell: Shell,
}

pub(super) fn run(arguments: &CompletionsArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.refuse_json("a script of the shell is no JSON")?;
    // Into memory first: the generator panics where it cannot write.
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut super::parser(), "soupcon", &mut script);
    context.streams.out.write_all(&script)?;
    Ok(0)
}
