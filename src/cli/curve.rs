//! `soupcon curve`: readings of a step tablet judged; `curve speed` and `curve density`.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;

use clap::{Args, Subcommand};

use super::arguments::{PaperArguments, number};
use super::conditions::timing_table;
use super::context::Context;
use super::error::CliError;
use super::files::OutputArguments;
use crate::curve::comparison::compare;
use crate::curve::figures::{FilmFigures, film};
use crate::curve::interpolation::Pchip;
use crate::curve::paper::paper;
use crate::curve::readings::{ReadingOptions, Strip, Tablet, read};
use crate::curve::series::{ContrastWish, Series, Subject, Target, TargetOutcome};
use crate::curve::table::Sensitometry;
use crate::curve::{CurveError, Errors};
use crate::diagnostic::LARGEST_FILE_BYTES;
use crate::quantity::Duration;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::curve::json::{CurveBody, DensityAt, DensityBody, SpeedBody};
use crate::render::curve::{JudgedStrips, SeriesView, StripJudgement, curve_document, plate};
use crate::render::json::document;
use crate::render::{Column, Document};

const EXAMPLES: &str = "\
Examples:
  soupcon curve strip.csv --tablet 21x0.15+0.05 --lux 10 --seconds 0.02
  soupcon curve old-soup.csv new-soup.csv --format html -o compare.html
  soupcon curve s4.csv@4min s6.csv@6min s9.csv@9min s13.csv@13min --target iso
  soupcon curve paper.csv --reflection
  soupcon curve density strip.csv --at -1.75
  soupcon curve speed 437

A file holds lines `log_h,density` (log10 of lux seconds) or `step,density` (step 1 the clearest), and a line `base,0.28` with the
density of an unexposed part of the same strip. Several files are several strips, exposed alike; with times they are a series.
Limits hold nine times in ten. A speed is no ISO speed unless the standard's contrast is met.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES, args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(super) struct CurveArguments {
    #[command(subcommand)]
    own: Option<CurveCommand>,
    /// Files of readings, one a strip (- for standard input); strip.csv@6min names its developing time
    #[arg(required = true, value_name = "FILE[@TIME]")]
    files: Vec<String>,
    /// What a series is to give: iso; an average gradient such as 0.58; N, N+1 or N-1; a density range such as range:1.20
    #[arg(long, value_name = "TARGET", help_heading = "Judge")]
    target: Option<String>,
    /// The strips are paper, read by reflection: exposure range and paper speed
    #[arg(long, conflicts_with = "target", help_heading = "Judge")]
    reflection: bool,
    #[command(flatten)]
    reading: ReadingArguments,
    /// How well one density is read: its standard deviation
    #[arg(long, value_name = "DENSITY", default_value = "0.01", help_heading = "Errors")]
    density_error: String,
    /// How far the exposure may be off, nine times in ten, in stops
    #[arg(long, value_name = "STOPS", default_value = "1/3", help_heading = "Errors")]
    light_error: String,
    /// The film in your own words, for the line that puts a curve into the journal
    #[arg(long, value_name = "FILM", help_heading = "Journal")]
    film: Option<String>,
    /// The developer, for the same line
    #[arg(long, value_name = "FORMULA", help_heading = "Journal")]
    formula: Option<String>,
    #[command(flatten)]
    paper: PaperArguments,
    #[command(flatten)]
    output: OutputArguments,
}

#[derive(Debug, Subcommand)]
enum CurveCommand {
    /// Degrees and label of an arithmetic speed
    #[command(after_help = "Examples:\n  soupcon curve speed 437")]
    Speed(SpeedArguments),
    /// Density between the readings of a strip
    #[command(after_help = "Examples:\n  soupcon curve density strip.csv --at -1.75 --at -1.45")]
    Density(DensityArguments),
}

#[derive(Debug, Args)]
struct SpeedArguments {
    /// Arithmetic speed, such as 437
    speed: String,
}

#[derive(Debug, Args)]
struct DensityArguments {
    /// File of readings (- for standard input)
    file: String,
    /// Where: log10 of lux seconds; may be given several times
    #[arg(long, value_name = "LOGH", required = true, allow_hyphen_values = true)]
    at: Vec<String>,
    #[command(flatten)]
    reading: ReadingArguments,
}

/// How files are to be read.
#[derive(Debug, Args)]
struct ReadingArguments {
    /// Density of an unexposed part, where the file does not say
    #[arg(long, value_name = "DENSITY", allow_hyphen_values = true, help_heading = "Readings")]
    base_fog: Option<String>,
    /// The step tablet: number of steps, increment, density of the first, such as 21x0.15+0.05
    #[arg(long, value_name = "TABLET", help_heading = "Readings")]
    tablet: Option<String>,
    /// Illuminance at the tablet, lux; without it speeds are relative
    #[arg(long, value_name = "LUX", requires_all = ["tablet", "seconds"], help_heading = "Readings")]
    lux: Option<String>,
    /// Time of exposure in seconds: 0.02 or 1/50
    #[arg(long, value_name = "SECONDS", requires_all = ["tablet", "lux"], help_heading = "Readings")]
    seconds: Option<String>,
    /// The log exposures of the file count from an unknown one
    #[arg(long, conflicts_with = "tablet", help_heading = "Readings")]
    relative: bool,
}

impl ReadingArguments {
    fn reading(&self) -> Result<ReadingOptions, CliError> {
        let mut tablet = self
            .tablet
            .as_deref()
            .map(Tablet::parse)
            .transpose()
            .map_err(|error| CliError::argument("--tablet", error, "write it as 21x0.15+0.05"))?;
        if let (Some(tablet), Some(lux), Some(seconds)) = (&mut tablet, &self.lux, &self.seconds) {
            let above_zero = |argument: &str, text: &str, fix: &str| match fraction(argument, text, fix)? {
                value if value > 0.0 => Ok(value),
                _ => Err(CliError::argument(argument, format!("`{text}` is not above zero"), fix)),
            };
            let lux = above_zero("--lux", lux, "give the illuminance at the tablet in lux, such as 10")?;
            let seconds = above_zero(
                "--seconds",
                seconds,
                "give the time of exposure in seconds, such as 0.02 or 1/50",
            )?;
            tablet.log_exposure = Some((lux * seconds).log10());
        }
        let base_fog =
            self.base_fog.as_deref().map(|text| density("--base-fog", text, -0.05..=3.0)).transpose()?;
        Ok(ReadingOptions { tablet, base_fog, is_relative: self.relative, is_without_base: false })
    }
}

/// A density within bounds.
fn density(argument: &str, text: &str, bounds: std::ops::RangeInclusive<f64>) -> Result<f64, CliError> {
    let fix = "give a density, such as 0.28";
    let value = number(argument, text, fix)?;
    if !bounds.contains(&value) {
        let message =
            format!("`{text}` is not between {} and {}", show_short(*bounds.start(), 3), bounds.end());
        return Err(CliError::argument(argument, message, fix));
    }
    Ok(value)
}

/// A number or a fraction such as 1/50.
fn fraction(argument: &str, text: &str, fix: &str) -> Result<f64, CliError> {
    let Some((above, below)) = text.split_once('/') else { return number(argument, text, fix) };
    let (above, below) = (number(argument, above, fix)?, number(argument, below, fix)?);
    if below <= 0.0 {
        return Err(CliError::argument(argument, format!("`{text}` has nothing below its line"), fix));
    }
    Ok(above / below)
}

fn table(context: &Context<'_, '_>) -> Result<Sensitometry, CliError> {
    Sensitometry::parse(context.library.packed("sensitometry.toml"))
        .map_err(|finding| CliError::Findings { findings: vec![finding] })
}

impl From<CurveError> for CliError {
    fn from(error: CurveError) -> Self {
        Self::Refused { code: error.code(), message: error.to_string(), fix: error.fix().to_owned() }
    }
}

pub(super) fn run(arguments: &CurveArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    match &arguments.own {
        Some(CurveCommand::Speed(own)) => speed(own, context),
        Some(CurveCommand::Density(own)) => density_at(own, context),
        None => judge(arguments, context),
    }
}

fn judge(arguments: &CurveArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let paper_size = arguments.paper.paper(context)?;
    let table = table(context)?;
    let errors = Errors {
        density: density("--density-error", &arguments.density_error, 0.0..=0.2)?,
        light_stops: light_error(&arguments.light_error)?,
    };
    let reading = arguments.reading.reading()?;
    let wish = arguments.target.as_deref().map(wish).transpose()?;
    let strips =
        arguments.files.iter().map(|text| strip(text, &reading, context)).collect::<Result<Vec<_>, _>>()?;
    let timed = strips.iter().filter(|strip| strip.minutes.is_some()).count();
    let is_series = timed > 1;
    if is_series && timed < strips.len() {
        let without = strips.iter().find(|strip| strip.minutes.is_none()).map_or("", |own| own.name.as_str());
        let message = format!("{without} has no developing time, the others have");
        return Err(CliError::argument(
            "FILE",
            message,
            "give every strip of a series its time: strip.csv@6min",
        ));
    }
    if wish.is_some() && !is_series {
        let fix = "give two strips or more with their times: a.csv@6min b.csv@9min";
        return Err(CliError::argument("--target", "a target needs a series of developing times", fix));
    }
    if arguments.reflection && is_series {
        return Err(CliError::argument(
            "--reflection",
            "paper is not judged as a series of times",
            "leave the times out",
        ));
    }
    let subject = if arguments.reflection {
        let papers = strips.iter().map(|strip| paper(strip, errors, &table)).collect::<Result<_, _>>()?;
        StripJudgement::Papers(papers)
    } else {
        let films = strips.iter().map(|strip| film(strip, errors, &table)).collect::<Result<Vec<_>, _>>()?;
        if is_series {
            series(films, wish, &table, context)?
        } else {
            let comparisons = films
                .split_first()
                .map(|(first, others)| others.iter().map(|other| compare(first, other)).collect())
                .unwrap_or_default();
            StripJudgement::Films(films, comparisons)
        }
    };
    let is_refused = matches!(&subject, StripJudgement::Series(view) if wish.is_some() && matches!(view.outcome, Some(TargetOutcome::Outside { .. })));
    let judged = JudgedStrips {
        command: command(arguments),
        errors,
        table,
        subject,
        film: arguments.film.clone(),
        formula: arguments.formula.clone(),
    };
    let text = context.rendered_with(
        || curve_document(&judged),
        || plate(&judged, paper_size),
        || document(CurveBody::new(&judged)),
    );
    arguments.output.write(&text, context)?;
    Ok(u8::from(is_refused))
}

/// The series with what is asked of it; without a wish the standard's contrast is looked for.
fn series(
    films: Vec<FilmFigures>,
    wish: Option<ContrastWish>,
    table: &Sensitometry,
    context: &Context<'_, '_>,
) -> Result<StripJudgement, CliError> {
    let rule = timing_table(&context.library)?;
    let subject =
        Subject { range: rule.gradient.subject_range - rule.gradient.flare, step: rule.gradient.step };
    let target = Target::of(wish.unwrap_or(ContrastWish::Iso), subject, table).ok_or_else(|| {
        CliError::argument(
            "--target",
            "no subject or negative is like that",
            "give iso, 0.58, N+1 or range:1.20",
        )
    })?;
    let timed = films.into_iter().map(|film| (film.strip.minutes.unwrap_or_default(), film)).collect();
    let series = Series::new(timed)?;
    let answer = series.answer(target, subject, table);
    let outcome = match (answer, wish) {
        (Ok(outcome), _) => Some(outcome),
        // Nothing was asked, so the rest is told.
        (Err(CurveError::TooShort { .. }), None) => None,
        (Err(error), _) => return Err(error.into()),
    };
    let course = if outcome.is_some() { series.course(target.span, table)? } else { None };
    let growth = series.growth();
    Ok(StripJudgement::Series(Box::new(SeriesView { series, target, outcome, course, growth, subject })))
}

/// The command as it stands at the foot of a page.
fn command(arguments: &CurveArguments) -> String {
    let mut words = vec!["curve".to_owned()];
    words.extend(arguments.files.iter().map(|file| {
        Path::new(file).file_name().map_or_else(|| file.clone(), |name| name.to_string_lossy().into_owned())
    }));
    let mut option = |name: &str, value: Option<&String>| {
        if let Some(value) = value {
            words.push(format!("{name} {value}"));
        }
    };
    option("--tablet", arguments.reading.tablet.as_ref());
    option("--lux", arguments.reading.lux.as_ref());
    option("--seconds", arguments.reading.seconds.as_ref());
    option("--target", arguments.target.as_ref());
    if arguments.reflection {
        words.push("--reflection".to_owned());
    }
    words.join(" ")
}

fn light_error(text: &str) -> Result<f64, CliError> {
    let fix = "give stops, such as 1/3 or 0.2; 0 for a light that is known exactly";
    let value = fraction("--light-error", text, fix)?;
    if !(0.0..=5.0).contains(&value) {
        return Err(CliError::argument(
            "--light-error",
            format!("`{text}` is not between 0 and 5 stops"),
            fix,
        ));
    }
    Ok(value)
}

/// What is wanted of a series.
fn wish(text: &str) -> Result<ContrastWish, CliError> {
    let fix = "write iso; an average gradient such as 0.58; N, N+1 or N-1; or range:1.20";
    let wrong = || CliError::argument("--target", format!("`{text}` is no target"), fix);
    let trimmed = text.trim();
    if trimmed.eq_ignore_ascii_case("iso") {
        return Ok(ContrastWish::Iso);
    }
    if let Some(range) = trimmed.strip_prefix("range:") {
        let range = number("--target", range, fix)?;
        return if (0.3..=3.0).contains(&range) { Ok(ContrastWish::Range(range)) } else { Err(wrong()) };
    }
    if let Some(steps) = trimmed.strip_prefix(['N', 'n']) {
        if steps.is_empty() {
            return Ok(ContrastWish::Steps(0.0));
        }
        let is_signed = steps.starts_with(['+', '-']);
        let steps = number("--target", steps, fix)?;
        return if is_signed && steps.abs() <= 4.0 { Ok(ContrastWish::Steps(steps)) } else { Err(wrong()) };
    }
    let gradient = number("--target", trimmed, fix)?;
    if (0.1..=3.0).contains(&gradient) { Ok(ContrastWish::Gradient(gradient)) } else { Err(wrong()) }
}

/// Reads a strip; `file@time` where no file is called so.
fn strip(text: &str, reading: &ReadingOptions, context: &mut Context<'_, '_>) -> Result<Strip, CliError> {
    let (file, time) = match text.rsplit_once('@') {
        Some((file, time)) if !file.is_empty() && !Path::new(text).is_file() => (file, Some(time)),
        _ => (text, None),
    };
    let minutes = time.map(str::parse::<Duration>).transpose().map_err(|error| {
        CliError::argument(text, error, "write the time after the @: strip.csv@6min or strip.csv@6:30")
    })?;
    let content = content(file, context)?;
    let shown = if file == "-" { "standard input" } else { file };
    let strip = read(&content, shown, shown, reading).map_err(|findings| CliError::Findings { findings })?;
    Ok(Strip { minutes: minutes.map(Duration::as_min), ..strip })
}

/// The text of a file or of standard input.
fn content(file: &str, context: &mut Context<'_, '_>) -> Result<String, CliError> {
    let most = LARGEST_FILE_BYTES as u64 + 1;
    let mut bytes = Vec::new();
    let outcome = if file == "-" {
        if context.environment.input_is_terminal {
            context.hint("reading a strip from standard input; end it with Ctrl-D");
        }
        (&mut *context.streams.input).take(most).read_to_end(&mut bytes)
    } else {
        let path = Path::new(file);
        if path.is_dir() {
            return Err(CliError::argument(file, "this is a folder", "give a file of readings"));
        }
        File::open(path).and_then(|own| own.take(most).read_to_end(&mut bytes))
    };
    outcome.map_err(|error| {
        CliError::argument(
            file,
            format!("it cannot be read: {error}"),
            "give a file with lines `log_h,density`",
        )
    })?;
    String::from_utf8(bytes)
        .map_err(|_| CliError::argument(file, "it is not UTF-8 text", "save it as plain text"))
}

fn speed(arguments: &SpeedArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let table = table(context)?;
    let fix = "give an arithmetic speed, such as 437";
    let speed = number("SPEED", &arguments.speed, fix)?;
    let named = table.named(speed).ok_or_else(|| {
        CliError::argument("SPEED", format!("`{}` is not above zero", arguments.speed), fix)
    })?;
    let log_h_m = (table.film.numerator / speed).log10();
    let body = SpeedBody { speed, degrees: named.degrees, speed_label: named.label, log_h_m };
    context.answer(
        || {
            let mut text = Document::new();
            text.paragraph(match named.label {
                Some(label) => format!("{}/{}°", show_short(label, 1), named.degrees),
                None => format!("{}°; the conventional series has no label there", named.degrees),
            });
            text.paragraph(format!(
                "log Hm {}. By the nearest step of 1 + 10 log10 S; an ISO speed only where the standard's contrast was met.",
                show_decimals(log_h_m, 2)
            ));
            text
        },
        || document(body),
    )?;
    Ok(0)
}

fn density_at(arguments: &DensityArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let reading = ReadingOptions { is_without_base: true, ..arguments.reading.reading()? };
    let wanted = arguments
        .at
        .iter()
        .map(|text| number("--at", text, "give log10 of lux seconds, such as -1.75"))
        .collect::<Result<Vec<_>, _>>()?;
    let strip = strip(&arguments.file, &reading, context)?;
    let points: Vec<(f64, f64)> = strip.points.iter().map(|point| (point.log_h, point.density)).collect();
    let curve = Pchip::new(&points);
    let mut densities = Vec::new();
    for log_h in wanted {
        let Some(density) = curve.as_ref().and_then(|curve| curve.at(log_h)) else {
            let (low, high) = curve.as_ref().map_or((0.0, 0.0), Pchip::span);
            return Err(CliError::Refused {
                code: "off-the-strip",
                message: format!(
                    "log H {} is not on the strip, which runs from {} to {}",
                    show_short(log_h, 3),
                    show_short(low, 3),
                    show_short(high, 3)
                ),
                fix: "nothing is extrapolated; give an exposure between its ends".to_owned(),
            });
        };
        let net_density = strip.base_is_read.then_some(density - strip.base_fog);
        densities.push(DensityAt { log_h, density, net_density });
    }
    let body = DensityBody { name: strip.name, densities };
    context.answer(
        || {
            let mut text = Document::new();
            let rows = body.densities.iter().map(|asked_density| {
                let net = asked_density
                    .net_density
                    .map_or_else(|| crate::doubt::NOT_KNOWN.to_owned(), |own| show_decimals(own, 3));
                vec![show_short(asked_density.log_h, 3), show_decimals(asked_density.density, 3), net]
            });
            let columns = ["log H", "density", "above base + fog"].map(Column::right);
            text.table(columns.to_vec(), rows.collect());
            text
        },
        || document(&body),
    )?;
    Ok(0)
}
