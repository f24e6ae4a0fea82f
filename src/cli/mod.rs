//! The command line: arguments become domain values, the domain answers, a writer prints. Nothing else happens here.
//!
//! One file a subcommand. [`run`] is the whole program but for the process itself: it takes the arguments, the streams and the
//! environment, and returns the exit code.

mod adjust;
mod arguments;
mod bath;
mod bottles;
mod chart;
mod check;
mod compare;
mod completions;
mod concentrate;
mod conditions;
mod config;
mod context;
mod cool;
mod curve;
mod dilute;
mod environment;
mod error;
mod evening;
mod exchange;
mod exposure;
mod factorial;
mod files;
mod help;
mod jars;
mod judged;
mod label;
mod list;
mod man;
mod new;
mod percent;
mod predict;
mod record;
mod replenish;
mod safety;
mod scale;
mod schema;
mod settings;
mod sheet;
mod shelf;
mod shell;
mod show;
mod signals;
mod substance;
mod time;
mod values;
mod water;

use std::ffi::OsString;
use std::io;

use clap::{Args as _, CommandFactory as _, FromArgMatches as _, Parser, Subcommand};

pub use context::Streams;
use context::{Context, GlobalArguments};
pub use environment::Environment;
pub use error::CliError;
use settings::Settings;

/// Done, or understood and the answer is no, or the request was wrong.
const USAGE_EXIT: u8 = 2;

/// Darkroom chemistry: from grams per litre to a numbered mixing sheet.
#[derive(Debug, Parser)]
#[command(name = "soupcon", version, subcommand_required = true, arg_required_else_help = true)]
struct Arguments {
    #[command(flatten)]
    global: GlobalArguments,
    #[command(subcommand)]
    command: Command,
}

/// Makes the enumeration of all commands, the parser of one of them by its name, and the way to its file.
macro_rules! commands {
    ($($(#[$help:meta])* $word:literal => $name:ident($arguments:ty): $run:path,)*) => {
        #[derive(Debug, Subcommand)]
        enum Command {
            $($(#[$help])* #[command(name = $word)] $name($arguments),)*
        }

        /// The parser of the command with this name, without its help; none where there is no such command.
        fn command_alone(name: &str) -> Option<clap::Command> {
            match name {
                $($word => Some(<$arguments as clap::Args>::augment_args(clap::Command::new($word))),)*
                _ => None,
            }
        }

        /// Each command to its file.
        fn answer(command: &Command, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
            match command {
                $(Command::$name(own) => $run(own, context),)*
            }
        }
    };
}

commands! {
    /// Find formulas by words, kind and chemicals
    "list" => List(list::ListArguments): list::run,
    /// Print the card of a formula
    "show" => Show(show::ShowArguments): show::run,
    /// Put formulas side by side, with the differences in words
    "compare" => Compare(compare::CompareArguments): compare::run,
    /// Work out what to weigh for a batch
    "scale" => Scale(scale::ScaleArguments): scale::run,
    /// Print the numbered mixing sheet of a batch
    "sheet" => Sheet(sheet::SheetArguments): sheet::run,
    /// Print labels for the bottles of a batch
    "label" => Label(label::LabelArguments): label::run,
    /// Show the hazards of weighing, mixing and passing from bath to bath
    "safety" => Safety(safety::SafetyArguments): safety::run,
    /// Show what is known of a chemical, or list all
    "substance" => Substance(substance::SubstanceArguments): substance::run,
    /// Predict pH, buffering, solubility and heat
    "predict" => Predict(predict::PredictArguments): predict::run,
    /// Work out the alkali or acid needed for a pH
    "adjust" => Adjust(adjust::AdjustArguments): adjust::run,
    /// Work out how strong a stock can be
    "concentrate" => Concentrate(concentrate::ConcentrateArguments): concentrate::run,
    /// Convert a weight from one form to another
    "exchange" => Exchange(exchange::ExchangeArguments): exchange::run,
    /// Make a percent solution
    "percent" => Percent(percent::PercentArguments): percent::run,
    /// Dilute a stock, and see whether it is enough for the films
    "dilute" => Dilute(dilute::DiluteArguments): dilute::run,
    /// Blend hot and cold water to a temperature
    "water" => Water(water::WaterArguments): water::run,
    /// How long a batch takes to the temperature of use, and how much ice does it
    "cool" => Cool(cool::CoolArguments): cool::run,
    /// Check your own formulas and substances
    "check" => Check(check::CheckArguments): check::run,
    /// Work out a developing time from a known one
    "time" => Time(time::TimeArguments): time::run,
    /// Print developing times over temperatures for the wall
    "chart" => Chart(chart::ChartArguments): chart::run,
    /// Total time from the time of appearance, for tray workers
    "factorial" => Factorial(factorial::FactorialArguments): factorial::run,
    /// Do the sums under the enlarger: strips, stops, size, contrast
    "exposure" => Exposure(exposure::ExposureArguments): exposure::run,
    /// Judge negatives and papers by the readings of a step tablet: speed, contrast, time for a target
    "curve" => Curve(curve::CurveArguments): curve::run,
    /// Put an evening of films, tanks and baths on one clock
    "evening" => Evening(evening::EveningArguments): evening::run,
    /// Keep a journal of results, and read it
    "record" => Record(record::RecordArguments): record::run,
    /// Follow a replenished tank through its films, and work out what holds it
    "replenish" => Replenish(replenish::ReplenishArguments): replenish::run,
    /// Show what every bottle still does, and until which day
    "bottles" => Bottles(bottles::BottlesArguments): bottles::run,
    /// Show what is left in the jars after what was mixed
    "shelf" => Shelf(jars::ShelfArguments): jars::run_shelf,
    /// Show what is missing for a plan, in the sizes you buy, and what it costs
    "shopping" => Shopping(jars::ShoppingArguments): jars::run_shopping,
    /// Start your own file from a commented skeleton
    "new" => New(new::NewArguments): new::run,
    /// Show every setting and where it comes from
    "config" => Config(config::ConfigArguments): config::run,
    /// Print the JSON Schema of a file or a command's output
    "schema" => Schema(schema::SchemaArguments): schema::run,
    /// Print a script with which the shell completes commands and options
    "completions" => Completions(completions::CompletionsArguments): completions::run,
    /// Print the manual page of the program or of a command
    "man" => Man(man::ManArguments): man::run,
}

/// All commands with their help.
fn parser() -> clap::Command {
    help::with_overview(Arguments::command().color(clap::ColorChoice::Never))
}

/// The arguments as the parser of their command alone understands them.
///
/// To build the parser of every command takes longer than most answers. Where a line begins with a command and is right, that
/// command's parser reads it alike; help, and whatever is amiss, is left to the parser of all.
fn parsed_alone(arguments: &[OsString]) -> Option<Arguments> {
    let name = arguments.get(1)?.to_str()?;
    let parser =
        GlobalArguments::augment_args(clap::Command::new("soupcon")).subcommand(command_alone(name)?);
    read(&parser.try_get_matches_from(arguments).ok()?).ok()
}

/// The arguments; where no form of the answer is named, the ending of the file that it is written to names it.
fn read(matches: &clap::ArgMatches) -> Result<Arguments, clap::Error> {
    let mut arguments = Arguments::from_arg_matches(matches)?;
    arguments.global.follow_the_file(matches);
    Ok(arguments)
}

/// Runs the program: reads the arguments, prints the answer, returns the exit code.
pub fn run(arguments: &[OsString], streams: &mut Streams<'_>, environment: &Environment) -> u8 {
    let wants_json = asks_for_json(arguments);
    if let [_, only] = arguments
        && (only == "--version" || only == "-V")
    {
        return said(concat!("soupcon ", env!("CARGO_PKG_VERSION"), "\n"), streams);
    }
    let parsed = parsed_alone(arguments)
        .map_or_else(|| read(&parser().term_width(environment.width()).try_get_matches_from(arguments)?), Ok);
    let parsed = match parsed {
        Ok(parsed) => parsed,
        Err(error) => {
            return match below_zero(&error, arguments) {
                Some(error) => refused(&error, wants_json, streams),
                None => usage(error, wants_json, streams, environment.width()),
            };
        }
    };
    // What only prints a text of the program's own works with a broken configuration too: a shell starts with it.
    let needs_settings = !matches!(
        parsed.command,
        Command::New(_) | Command::Schema(_) | Command::Completions(_) | Command::Man(_)
    );
    let settings = if needs_settings { Settings::read(environment) } else { Ok(Settings::default()) };
    let settings = match settings {
        Ok(settings) => settings,
        Err(error) => return refused(&error, wants_json, streams),
    };
    let mut context = Context::new(&parsed.global, environment, streams, settings);
    // In one place, so that no command passes a mistyped name over.
    let outcome = if needs_settings { arguments::check_assays(&context) } else { Ok(()) };
    let outcome = outcome.and_then(|()| answer(&parsed.command, &mut context));
    let outcome = outcome.and_then(|code| context.streams.out.flush().map(|()| code).map_err(CliError::from));
    match outcome {
        Ok(code) => code,
        Err(CliError::Output { source } | CliError::Recorded { source, .. })
            if source.kind() == io::ErrorKind::BrokenPipe =>
        {
            0
        }
        Err(error) => refused(&error, wants_json, context.streams),
    }
}

/// Tells an error; returns its exit code.
fn refused(error: &CliError, wants_json: bool, streams: &mut Streams<'_>) -> u8 {
    // The streams may be closed; there is nowhere left to say so.
    let _ = error.tell(wants_json, streams.out, streams.err);
    error.exit_code()
}

/// Prints clap's help, version or complaint in the stream it belongs to.
fn usage(mut error: clap::Error, wants_json: bool, streams: &mut Streams<'_>, width: usize) -> u8 {
    if error.use_stderr() {
        // To pass an unknown option as a value is meant by nobody who misspells one.
        error.remove(clap::error::ContextKind::Suggested);
        let text = error.to_string();
        let message = text.strip_prefix("error: ").unwrap_or(&text).trim_end().to_owned();
        if wants_json {
            let own = CliError::Usage { message: message.lines().next().unwrap_or_default().to_owned() };
            let _ = own.print(true, streams.err);
        } else {
            let _ = streams.err.write_all(help::wrapped(text.trim_end(), width).as_bytes());
            if let Some(unit) = stray_unit(&message) {
                let _ = writeln!(
                    streams.err,
                    "\n  fix: write the number and its unit without a space, such as 500{unit}"
                );
            }
        }
        return USAGE_EXIT;
    }
    said(&help::wrapped(&error.to_string(), width), streams)
}

/// Prints a text of the program's own; a closed pipe is no failure.
fn said(text: &str, streams: &mut Streams<'_>) -> u8 {
    match streams.out.write_all(text.as_bytes()).and_then(|()| streams.out.flush()) {
        Ok(()) => 0,
        Err(problem) if problem.kind() == io::ErrorKind::BrokenPipe => 0,
        Err(_) => 1,
    }
}

/// An amount such as `-500ml`, which the parser takes for options and complains of in other words.
fn below_zero(error: &clap::Error, arguments: &[OsString]) -> Option<CliError> {
    let is_amount = |word: &&str| {
        word.strip_prefix('-').is_some_and(|rest| rest.starts_with(|own: char| own.is_ascii_digit()))
    };
    let word = arguments.iter().filter_map(|word| word.to_str()).find(is_amount)?;
    (error.kind() == clap::error::ErrorKind::UnknownArgument).then(|| {
        CliError::argument(word, "an amount cannot be below zero", "write it without the minus sign")
    })
}

/// A unit that was typed apart from its number, in clap's complaint about it.
fn stray_unit(message: &str) -> Option<&str> {
    let rest = message.split_once("unexpected argument '")?.1;
    let word = rest.split('\'').next()?;
    let units = ["ml", "mL", "l", "L", "g", "mg", "kg", "C", "F", "min", "s"];
    units.contains(&word).then_some(word)
}

/// A text that a generator wrote.
fn text_of(bytes: Vec<u8>) -> Result<String, CliError> {
    String::from_utf8(bytes).map_err(|error| CliError::from(io::Error::other(error)))
}

/// Whether errors are wanted as JSON, seen before the arguments are understood.
fn asks_for_json(arguments: &[OsString]) -> bool {
    let words: Vec<_> = arguments.iter().filter_map(|argument| argument.to_str()).collect();
    words.contains(&"--json")
        || words.contains(&"--format=json")
        || words.windows(2).any(|pair| pair == ["--format", "json"])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arguments_are_consistent() {
        Arguments::command().debug_assert();
    }

    /// The words of every line of examples, of every command, without what is said beside it.
    fn example_lines(command: &clap::Command) -> Vec<Vec<String>> {
        let text = command.get_after_help().map(ToString::to_string).unwrap_or_default();
        let lines = text.lines().filter_map(|line| line.strip_prefix("  ")?.strip_prefix("soupcon "));
        let words = |line: &str| {
            let line = line.split("   ").next().unwrap_or_default();
            let mut is_quoted = false;
            let split = line.split(|letter: char| {
                is_quoted ^= letter == '"' || letter == '\'';
                letter == ' ' && !is_quoted
            });
            let bare = split.map(|word| word.replace(['"', '\''], "")).filter(|word| !word.is_empty());
            std::iter::once("soupcon".to_owned()).chain(bare).collect()
        };
        lines.map(words).chain(command.get_subcommands().flat_map(example_lines)).collect()
    }

    /// What the parser of all makes of a line, as far as it is right.
    fn by_the_parser_of_all(parser: &mut clap::Command, line: &[String]) -> Option<String> {
        let matches = parser.try_get_matches_from_mut(line).ok()?;
        read(&matches).ok().map(|own| format!("{own:?}"))
    }

    #[test]
    fn one_command_alone_reads_a_line_as_the_parser_of_all_does() {
        let mut whole = parser();
        let lines = example_lines(&whole);
        assert!(lines.len() > 100, "{}", lines.len());
        let odd = [
            "help",
            "--help",
            "-h",
            "-V",
            "-q",
            "--json",
            "--jso",
            "--color",
            "--color=never",
            "--",
            "-500ml",
            "",
        ];
        let (mut read, mut right) = (0, 0);
        for line in lines {
            let of_all = by_the_parser_of_all(&mut whole, &line);
            let with = (0..line.len()).flat_map(|at| {
                let line = &line;
                odd.iter().map(move |word| {
                    let mut changed = line.clone();
                    changed.insert(at + 1, (*word).to_owned());
                    changed
                })
            });
            let without = (1..line.len()).map(|at| [&line[..at], &line[at + 1..]].concat());
            for printed_line in std::iter::once(line.clone()).chain(with).chain(without) {
                let words: Vec<OsString> = printed_line.iter().map(OsString::from).collect();
                if let Some(alone) = parsed_alone(&words) {
                    read += 1;
                    assert_eq!(
                        Some(format!("{alone:?}")),
                        by_the_parser_of_all(&mut whole, &printed_line),
                        "{printed_line:?}"
                    );
                }
            }
            // A line that begins with a command and is right needs no other parser.
            let words: Vec<OsString> = line.iter().map(OsString::from).collect();
            let is_global = line.get(1).is_some_and(|word| word.starts_with('-'));
            assert_eq!(parsed_alone(&words).is_some(), of_all.is_some() && !is_global, "{line:?}");
            right += usize::from(of_all.is_some());
        }
        assert!(read > 1000 && right > 100, "{read} {right}");
    }
}
