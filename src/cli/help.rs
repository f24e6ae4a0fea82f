//! Help that teaches: what the program is for, three examples, the commands by task, and every text kept to the width of the
//! screen.
//!
//! The parser knows neither groups of commands nor wrapping; both are done here, over what it knows.
//!
//! The parser's own wrapping (one package more) wraps help alone, and undoes the hanging lines of the list of commands.

use unicode_width::UnicodeWidthStr as _;

use crate::render::wrap;

/// Commands by task. A command that is in no group comes last, so that none is ever hidden.
const GROUPS: &[(&str, &[&str])] = &[
    ("Find", &["list", "show", "compare", "substance"]),
    ("Mix", &["scale", "sheet", "safety", "dilute", "percent", "exchange", "water", "cool"]),
    ("Predict and adjust", &["predict", "adjust", "concentrate"]),
    ("Keep", &["label", "bottles", "replenish", "shelf", "shopping", "record"]),
    ("Film and print", &["time", "chart", "factorial", "evening", "curve", "exposure"]),
    ("Data and set-up", &["check", "new", "config", "schema", "completions", "man"]),
];

/// Heading of commands that are in no group.
const REST: &str = "More";

const TEMPLATE: &str = "\
{about-with-newline}
{usage-heading} {usage}

{before-help}Options:
{options}{after-help}";

/// Of a command: its examples stand before its options.
const COMMAND_TEMPLATE: &str = "\
{about-with-newline}
{usage-heading} {usage}{after-help}

{all-args}";

const EXAMPLES: &str = "\
Examples:
  soupcon list borax                                       formulas with borax
  soupcon sheet mq-borax-classic 500ml                     weigh and mix it
  soupcon time 8min --from mq-borax-classic --to-temp 23C  the time at 23 °C";

const MORE_SHORT: &str = "Full help: `soupcon --help`. One command: `soupcon help COMMAND`.";

const MORE_LONG: &str = "\
Every number carries its unit: 500ml, 2.5g, 20C, 8min. FORMULA is an id, an alias, a path to a .toml file, or - for standard input.
Exit codes: 0 done; 1 understood, but the answer is no; 2 the request was wrong. Results go to standard output, all else to standard error.

Where to read more:
  soupcon help COMMAND       examples and all options of a command
  soupcon man COMMAND        the same as a manual page, for `man -l -`
  soupcon config             the settings, and where each comes from
  soupcon new formula        your own formula to fill in";

/// Adds purpose, examples, groups and pointers to the help of the whole program.
pub(super) fn with_overview(command: clap::Command) -> clap::Command {
    let short = format!("{EXAMPLES}\n\n{}", names(&command));
    let long = format!("{EXAMPLES}\n\n{}", descriptions(&command));
    examples_early(command)
        .help_template(TEMPLATE)
        .before_help(short)
        .before_long_help(long)
        .after_help(MORE_SHORT)
        .after_long_help(MORE_LONG)
}

fn examples_early(command: clap::Command) -> clap::Command {
    command.mut_subcommands(|command| examples_early(command.help_template(COMMAND_TEMPLATE)))
}

/// The groups with those of their commands that exist.
fn groups(command: &clap::Command) -> Vec<(&'static str, Vec<&clap::Command>)> {
    let mut groups: Vec<(&str, Vec<&clap::Command>)> = GROUPS
        .iter()
        .map(|(heading, names)| {
            (*heading, names.iter().filter_map(|name| command.find_subcommand(name)).collect())
        })
        .collect();
    let is_grouped = |name: &str| GROUPS.iter().any(|(_, names)| names.contains(&name));
    let rest = command
        .get_subcommands()
        .filter(|subcommand| !subcommand.is_hide_set() && !is_grouped(subcommand.get_name()));
    groups.push((REST, rest.collect()));
    groups.retain(|(_, commands)| !commands.is_empty());
    groups
}

/// One line a group: for `-h`.
fn names(command: &clap::Command) -> String {
    let groups = groups(command);
    let widest = groups.iter().map(|(heading, _)| heading.len()).max().unwrap_or_default();
    groups
        .iter()
        .map(|(heading, commands)| {
            let names: Vec<&str> = commands.iter().map(|command| command.get_name()).collect();
            format!("{heading:widest$}  {}", names.join(", "))
        })
        .collect::<Vec<_>>()
        .join("\n")
}

/// One line a command: for `--help`.
fn descriptions(command: &clap::Command) -> String {
    let widest =
        command.get_subcommands().map(|subcommand| subcommand.get_name().len()).max().unwrap_or_default();
    groups(command)
        .iter()
        .map(|(heading, commands)| {
            let lines: String = commands
                .iter()
                .map(|command| {
                    let about = command.get_about().map(ToString::to_string).unwrap_or_default();
                    format!("\n  {:widest$}  {about}", command.get_name())
                })
                .collect();
            format!("{heading}:{lines}")
        })
        .collect::<Vec<_>>()
        .join("\n\n")
}

/// Wraps a help text: a long line goes on below the start of its own description.
pub(super) fn wrapped(text: &str, width: usize) -> String {
    let mut lines = Vec::new();
    for line in text.lines() {
        let line = line.trim_end();
        if line.width() <= width {
            lines.push(line.to_owned());
            continue;
        }
        let start = description_start(line);
        let (lead, words) = line.split_at(start);
        let mut hang = lead.width();
        let beside = hang <= width / 2;
        if !beside {
            // No room beside the name: the description goes below it.
            let indent = lead.len() - lead.trim_start().len();
            let pieces = wrap(lead.trim(), width.saturating_sub(indent));
            lines.extend(pieces.iter().map(|piece| format!("{}{piece}", " ".repeat(indent))));
            hang = (width / 8).max(4);
        }

        for (index, piece) in wrap(words, width.saturating_sub(hang)).into_iter().enumerate() {
            let indent = if index == 0 && beside { lead.to_owned() } else { " ".repeat(hang) };
            lines.push(format!("{indent}{piece}"));
        }
    }
    lines.push(String::new());
    lines.join("\n")
}

/// Where the description in a line begins: after the first gap of two spaces behind a word, else at its first word.
fn description_start(line: &str) -> usize {
    let first = line.len() - line.trim_start().len();
    let body = line.get(first..).unwrap_or_default();
    match body.find("  ") {
        Some(gap) => {
            let behind = body.get(gap..).unwrap_or_default();
            first + gap + behind.len() - behind.trim_start().len()
        }
        None => first,
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory as _;

    use super::*;

    #[test]
    fn every_command_is_in_one_group() {
        let command = crate::cli::Arguments::command();
        for own in command.get_subcommands().filter(|subcommand| !subcommand.is_hide_set()) {
            let name = own.get_name();
            let count = GROUPS.iter().filter(|(_, names)| names.contains(&name)).count();
            assert_eq!(count, 1, "{name} belongs to one group of GROUPS");
        }
    }

    #[test]
    fn a_long_line_goes_on_below_its_description() {
        let text = "  --balance <STEP>   What the balance shows: its smallest step\n";
        assert_eq!(
            wrapped(text, 48),
            "  --balance <STEP>   What the balance shows: its\n                     smallest step\n"
        );
        assert_eq!(
            wrapped(text, 30),
            "  --balance <STEP>\n    What the balance shows:\n    its smallest step\n"
        );
        assert_eq!(wrapped("plain words go on\n", 12), "plain words\ngo on\n");
        assert_eq!(wrapped("short\n\nlines\n", 12), "short\n\nlines\n");
    }
}
