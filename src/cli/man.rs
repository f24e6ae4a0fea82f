//! `soupcon man`: the help as manual pages.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use clap::Args;
use clap_mangen::Man;

use super::context::Context;
use super::error::CliError;
use super::files::write_atomically;
use crate::suggestion;

const EXAMPLES: &str = "\
Examples:
  soupcon man | man -l -                                read the page of the program
  soupcon man scale | man -l -                          of one command
  soupcon man --dir ~/.local/share/man/man1             write all pages";

/// Date of the pages: that of the version, so that the same version always gives the same bytes.
const DATE: &str = "2026-11-25";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ManArguments {
    /// The command, of one in another both; without it the page of the program
    #[arg(value_name = "COMMAND", conflicts_with = "dir")]
    command: Vec<String>,
    /// Write all pages into this folder, which is made if it is not there
    #[arg(long, value_name = "FOLDER")]
    dir: Option<PathBuf>,
    /// Overwrite pages that are there
    #[arg(long, requires = "dir")]
    force: bool,
}

pub(super) fn run(arguments: &ManArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.refuse_json("a manual page is no JSON")?;
    // A page has room for the options that the short help leaves out.
    let mut parser = super::parser().disable_help_subcommand(true).mut_args(|own| own.hide_short_help(false));
    parser.build();
    let Some(folder) = &arguments.dir else {
        context.streams.out.write_all(page(find(&parser, &arguments.command)?)?.as_bytes())?;
        return Ok(0);
    };
    let mut pages = Vec::new();
    collect(&parser, &mut pages)?;
    fs::create_dir_all(folder).map_err(|error| not_written(folder, &error))?;
    // All or none: no page is written where one would be refused.
    let paths: Vec<PathBuf> = pages.iter().map(|(name, _)| folder.join(name)).collect();
    if let Some(there) = paths.iter().find(|path| !arguments.force && path.symlink_metadata().is_ok()) {
        return Err(CliError::Refused {
            code: "exists",
            message: format!("{} already exists", there.display()),
            fix: "give another folder, or --force".to_owned(),
        });
    }
    for (path, (_, text)) in paths.iter().zip(&pages) {
        write_atomically(path, text, arguments.force)?;
    }
    context.hint(&format!("wrote {} pages into {}", paths.len(), folder.display()));
    Ok(0)
}

fn not_written(path: &Path, error: &std::io::Error) -> CliError {
    CliError::Refused {
        code: "not-written",
        message: format!("{} cannot be written: {error}", path.display()),
        fix: "give a folder that can be written".to_owned(),
    }
}

fn find<'c>(parser: &'c clap::Command, names: &[String]) -> Result<&'c clap::Command, CliError> {
    let mut command = parser;
    for name in names {
        let known = || command.get_subcommands().map(clap::Command::get_name);
        command = command.find_subcommand(name).ok_or_else(|| {
            let fix = suggestion::nearest(name, known())
                .map_or_else(|| "see `soupcon --help`".to_owned(), |near| format!("did you mean {near}?"));
            CliError::argument("COMMAND", format!("`{name}` is not a command"), fix)
        })?;
    }
    Ok(command)
}

/// The pages of a command and of all below it, with their file names.
fn collect(command: &clap::Command, pages: &mut Vec<(String, String)>) -> Result<(), CliError> {
    pages.push((format!("{}.1", title(command)), page(command)?));
    for own in command.get_subcommands().filter(|subcommand| !subcommand.is_hide_set()) {
        collect(own, pages)?;
    }
    Ok(())
}

/// `soupcon-scale`.
fn title(command: &clap::Command) -> String {
    command.get_display_name().unwrap_or_else(|| command.get_name()).to_owned()
}

fn page(command: &clap::Command) -> Result<String, CliError> {
    let man = Man::new(command.clone())
        .title(title(command).to_uppercase())
        .date(DATE)
        .source(concat!("soupcon ", env!("CARGO_PKG_VERSION")))
        .manual("Darkroom chemistry");
    let mut bytes = Vec::new();
    man.render_title(&mut bytes)?;
    man.render_name_section(&mut bytes)?;
    man.render_synopsis_section(&mut bytes)?;
    man.render_description_section(&mut bytes)?;
    man.render_options_section(&mut bytes)?;
    if command.has_subcommands() {
        man.render_subcommands_section(&mut bytes)?;
    }
    // The generator sets off a list with a blank line between two breaks, which formatters complain of.
    let mut text = super::text_of(bytes)?.replace(".br\n\n.br\n", ".sp\n");
    let is_program = command.get_name() == "soupcon";
    let long = command.get_after_long_help().filter(|_| is_program).or_else(|| command.get_after_help());
    let before = command.get_before_long_help().map(ToString::to_string).unwrap_or_default();
    // The commands of the program's overview stand in their own section already.
    let examples = before.split("\n\n").next().unwrap_or_default();
    for part in [examples, &long.map(ToString::to_string).unwrap_or_default()] {
        as_printed(part, &mut text);
    }
    Ok(text)
}

/// Sections and paragraphs of a help text, its indented lines kept as they are printed.
fn as_printed(help: &str, page: &mut String) {
    let mut is_kept = false;
    let mut is_new_section = false;
    for line in help.lines() {
        let wants_kept = line.starts_with(' ');
        if is_kept && !wants_kept {
            page.push_str(".fi\n");
        }
        if let Some(heading) = line.strip_suffix(':').filter(|_| !wants_kept) {
            let _ = writeln!(page, ".SH \"{}\"", escaped(&heading.to_uppercase()));
            is_new_section = true;
        } else if line.trim().is_empty() {
            // A paragraph macro at the start of a section, or before a section, would be empty.
        } else if wants_kept {
            if !is_kept {
                page.push_str(".nf\n");
            }
            let _ = writeln!(page, "{}", escaped(line.trim_start()));
            is_new_section = false;
        } else {
            if !is_new_section {
                page.push_str(".PP\n");
            }
            let _ = writeln!(page, "{}", escaped(line));
            is_new_section = false;
        }
        is_kept = wants_kept;
    }
    if is_kept {
        page.push_str(".fi\n");
    }
}

/// Text that the formatter of manual pages takes literally.
fn escaped(text: &str) -> String {
    let plain = text.replace('\\', "\\e").replace('-', "\\-");
    if plain.starts_with(['.', '\'']) { format!("\\&{plain}") } else { plain }
}
