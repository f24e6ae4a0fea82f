//! Readings of one strip: what a file may hold, and how odd readings are levelled or refused by name and line.
//!
//! A file has two columns, `log_h,density` or `step,density`, and may have rows `base,0.28`. Readings are sorted, those of one step
//! averaged, and where densities fall back by no more than a densitometer's noise they are levelled (pool adjacent violators); a
//! deeper fall is refused.

use crate::diagnostic::{Finding, LARGEST_FILE_BYTES};
use crate::quantity::parse_number;
use crate::suggestion;

/// How far a density may fall back and be levelled; usual noise of a densitometer, common practice, no source.
pub const NOISE: f64 = 0.02;
/// Most readings of one file.
const MOST_READINGS: usize = 1000;
/// Densities and log exposures beyond these are slips of the finger.
const DENSITIES: std::ops::RangeInclusive<f64> = -0.05..=6.0;
const LOG_EXPOSURES: std::ops::RangeInclusive<f64> = -10.0..=10.0;
/// Exposures nearer than this are one.
const SAME: f64 = 1e-9;

/// A step tablet printed by contact: step 1 is the clearest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tablet {
    /// Number of steps.
    pub steps: u32,
    /// Density from step to step.
    pub increment: f64,
    /// Density of the first step.
    pub first: f64,
    /// log10 of illuminance times time at the tablet, lux seconds; none where it is not known.
    pub log_exposure: Option<f64>,
}

/// Why a tablet cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("`{text}` is no step tablet: {why}")]
pub struct TabletError {
    text: String,
    why: &'static str,
}

impl Tablet {
    /// Reads `21x0.15+0.05`: 21 steps of 0.15, the first of density 0.05; `21x0.15` has a first step of no density.
    ///
    /// # Errors
    /// It is written otherwise, or no tablet is like that.
    pub fn parse(text: &str) -> Result<Self, TabletError> {
        let wrong = |why| TabletError { text: text.to_owned(), why };
        let shape = "the number of steps, x, the increment, and + the first density are wanted";
        let (steps, rest) = text.trim().split_once(['x', '×']).ok_or_else(|| wrong(shape))?;
        let (increment, first) = rest.split_once('+').unwrap_or((rest, "0"));
        let steps: u32 = steps.trim().parse().map_err(|_| wrong(shape))?;
        let increment = parse_number(increment).map_err(|_| wrong(shape))?;
        let first = parse_number(first).map_err(|_| wrong(shape))?;
        if !(2..=200).contains(&steps) {
            return Err(wrong("it has between 2 and 200 steps"));
        }
        if !(0.01..=1.0).contains(&increment) || !(0.0..=2.0).contains(&first) {
            return Err(wrong("its increment lies between 0.01 and 1, its first density between 0 and 2"));
        }
        Ok(Self { steps, increment, first, log_exposure: None })
    }

    /// log H behind a step, counted from 1: `log10(E t) - D`; behind an unknown exposure, of that exposure as 1.
    pub fn log_h(&self, step: u32) -> f64 {
        self.log_exposure.unwrap_or(0.0) - (self.first + f64::from(step.saturating_sub(1)) * self.increment)
    }
}

/// One step of a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StripPoint {
    /// log10 of the exposure.
    pub log_h: f64,
    /// Density, averaged and levelled.
    pub density: f64,
    /// How many readings it is the mean of.
    pub readings: u32,
}

/// A strip as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// What it is called.
    pub name: String,
    /// Developing time, min.
    pub minutes: Option<f64>,
    /// Two steps or more by rising exposure; densities do not fall.
    pub points: Vec<StripPoint>,
    /// Base + fog.
    pub base_fog: f64,
    /// Whether base + fog was read, rather than taken from the lowest reading.
    pub base_is_read: bool,
    /// Whether log H counts from an unknown exposure.
    pub is_relative: bool,
    /// The tablet it was exposed through.
    pub tablet: Option<Tablet>,
    /// What was levelled or assumed.
    pub notes: Vec<String>,
}

/// How a file is to be read.
#[derive(Debug, Clone, Copy, Default)]
pub struct ReadingOptions {
    /// The tablet, where the file has steps.
    pub tablet: Option<Tablet>,
    /// Base + fog, where it is given apart.
    pub base_fog: Option<f64>,
    /// log H counts from an unknown exposure.
    pub is_relative: bool,
    /// Whether a strip without base + fog will do.
    pub is_without_base: bool,
}

/// A reading of a line.
struct Row {
    line: usize,
    log_h: f64,
    density: f64,
}

/// What the first column holds.
#[derive(Clone, Copy, PartialEq)]
enum First {
    LogH,
    Step,
}

/// The columns of a file.
struct Columns {
    separator: char,
    first: First,
    /// Place of log H or step, and of the density.
    places: (usize, usize),
    count: usize,
}

/// Reads a strip.
///
/// # Errors
/// Every line that cannot be used, with what to do.
pub fn read(text: &str, name: &str, file: &str, reading: &ReadingOptions) -> Result<Strip, Vec<Finding>> {
    let error = |line, message: String, fix: &str| Finding::error("readings", file, line, message, fix);
    if text.len() > LARGEST_FILE_BYTES {
        return Err(vec![error(
            None,
            "the file is larger than 1 MiB".to_owned(),
            "give the readings of one strip",
        )]);
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut lines = text
        .lines()
        .enumerate()
        .map(|(index, line)| (index + 1, line.trim()))
        .filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    let Some((line, head)) = lines.next() else {
        return Err(vec![error(
            None,
            "the file is empty".to_owned(),
            "begin with a line `log_h,density`, then one reading a line",
        )]);
    };
    let columns = columns(head).map_err(|(message, fix)| vec![error(Some(line), message, &fix)])?;
    match (columns.first, reading.tablet) {
        (First::Step, None) => {
            let message = "the file has steps, whose exposures are not known".to_owned();
            return Err(vec![error(
                Some(line),
                message,
                "name the tablet: --tablet 21x0.15+0.05, with --lux and --seconds where they are known",
            )]);
        }
        (First::LogH, Some(_)) => {
            let message = "the file has log exposures, and a tablet is given as well".to_owned();
            return Err(vec![error(
                Some(line),
                message,
                "leave --tablet out, or write a column `step` in place of `log_h`",
            )]);
        }
        _ => {}
    }
    let (mut rows, mut bases, mut findings) = (Vec::new(), Vec::new(), Vec::new());
    for (line, content) in lines {
        match row(content, &columns, reading) {
            Ok((Some(log_h), density)) => rows.push(Row { line, log_h, density }),
            Ok((None, density)) => bases.push(density),
            Err((message, fix)) => findings.push(error(Some(line), message, fix)),
        }
        if findings.len() >= crate::diagnostic::MOST_FINDINGS {
            break;
        }
    }
    if rows.len() > MOST_READINGS {
        findings.push(error(
            None,
            format!("the file has {} readings", rows.len()),
            "give one strip of at most 1000 readings",
        ));
    }
    if !findings.is_empty() {
        return Err(findings);
    }
    let mut notes = Vec::new();
    let points = points(rows, file, &mut notes).map_err(|finding| vec![finding])?;
    let base = if reading.is_without_base && reading.base_fog.is_none() && bases.is_empty() {
        (points.first().map_or(0.0, |point| point.density), false)
    } else {
        base(&points, &bases, reading.base_fog, file, &mut notes).map_err(|finding| vec![finding])?
    };
    Ok(Strip {
        name: name.to_owned(),
        minutes: None,
        points,
        base_fog: base.0,
        base_is_read: base.1,
        is_relative: match reading.tablet {
            Some(tablet) => tablet.log_exposure.is_none(),
            None => reading.is_relative,
        },
        tablet: reading.tablet,
        notes,
    })
}

/// What the first line says of the columns.
fn columns(head: &str) -> Result<Columns, (String, String)> {
    const KNOWN: [&str; 3] = ["log_h", "step", "density"];
    let fix = || "begin with a line `log_h,density` or `step,density`, then one reading a line".to_owned();
    let separator = [';', '\t'].into_iter().find(|own| head.contains(*own)).unwrap_or(',');
    let names: Vec<String> = head.split(separator).map(|own| own.trim().to_ascii_lowercase()).collect();
    for name in &names {
        if !KNOWN.contains(&name.as_str()) {
            let near = suggestion::nearest(name, KNOWN)
                .map_or_else(fix, |near| format!("did you mean `{near}`? {}", fix()));
            return Err((format!("`{name}` is no column of readings"), near));
        }
    }
    let place = |wanted: &str| names.iter().position(|name| name == wanted);
    let (first, at) = match (place("log_h"), place("step")) {
        (Some(at), None) => (First::LogH, at),
        (None, Some(at)) => (First::Step, at),
        _ => return Err(("one column of exposure is wanted, `log_h` or `step`".to_owned(), fix())),
    };
    let density = place("density").ok_or_else(|| ("there is no column `density`".to_owned(), fix()))?;
    if names.len() != 2 {
        return Err(("a column stands there twice".to_owned(), fix()));
    }
    Ok(Columns { separator, first, places: (at, density), count: names.len() })
}

/// log H (none for a row of base + fog) and density of a line.
fn row(
    content: &str,
    columns: &Columns,
    reading: &ReadingOptions,
) -> Result<(Option<f64>, f64), (String, &'static str)> {
    let fields: Vec<&str> = content.split(columns.separator).map(str::trim).collect();
    let point = "write one reading a line, with a point as decimal mark: -2.90,0.28";
    let (Some(first), Some(density), true) =
        (fields.get(columns.places.0), fields.get(columns.places.1), fields.len() == columns.count)
    else {
        return Err((
            format!("the line has {} fields, the first line {}", fields.len(), columns.count),
            point,
        ));
    };
    let number =
        |what: &str, text: &str| parse_number(text).map_err(|error| (format!("{what}: {error}"), point));
    let value = number("density", density)?;
    if !DENSITIES.contains(&value) {
        return Err((format!("a density of {density} is none of a film or paper"), "read that step again"));
    }
    if matches!(first.to_ascii_lowercase().as_str(), "base" | "base+fog" | "base + fog") {
        return Ok((None, value));
    }
    let at = number(if columns.first == First::Step { "step" } else { "log_h" }, first)?;
    let Some(tablet) = reading.tablet else {
        if !LOG_EXPOSURES.contains(&at) {
            return Err((
                format!("a log exposure of {first} is beyond any light"),
                "give log10 of lux seconds, such as -2.90",
            ));
        }
        return Ok((Some(at), value));
    };
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number in the range of the steps"
    )]
    let step = at as u32;
    if (f64::from(step) - at).abs() > 0.0 || !(1..=tablet.steps).contains(&step) {
        return Err((
            format!("the tablet has no step {first}"),
            "steps are whole numbers from 1, the clearest, on",
        ));
    }
    Ok((Some(tablet.log_h(step)), value))
}

/// Sorted, averaged, levelled.
fn points(mut rows: Vec<Row>, file: &str, notes: &mut Vec<String>) -> Result<Vec<StripPoint>, Finding> {
    rows.sort_by(|one, other| one.log_h.total_cmp(&other.log_h));
    let mut groups: Vec<Vec<Row>> = Vec::new();
    for row in rows {
        match groups.last_mut() {
            Some(group) if group.first().is_some_and(|first| (first.log_h - row.log_h).abs() < SAME) => {
                group.push(row);
            }
            _ => groups.push(vec![row]),
        }
    }
    if groups.len() < 2 {
        let message = format!("a curve needs two exposures at least, the file has {}", groups.len());
        return Err(Finding::error("readings", file, None, message, "read every step of the tablet"));
    }
    let mut points = Vec::new();
    let mut highest: Option<(f64, usize)> = None;
    for group in &groups {
        let count = u32::try_from(group.len()).unwrap_or(u32::MAX);
        let mean = group.iter().map(|row| row.density).sum::<f64>() / f64::from(count);
        let (log_h, line) = group.first().map_or((0.0, 0), |row| (row.log_h, row.line));
        let spread = group.iter().map(|row| (row.density - mean).abs()).fold(0.0, f64::max);
        if spread > NOISE {
            let lines: Vec<String> = group.iter().map(|row| row.line.to_string()).collect();
            notes.push(format!(
                "readings at log H {log_h:.2} differ by more than noise from their mean (lines {})",
                lines.join(", ")
            ));
        }
        if let Some((density, above)) = highest
            && density - mean > NOISE + SAME
        {
            let message = format!(
                "at log H {log_h:.2} the density falls to {mean:.2} from {density:.2} in line {above}, by more than noise ({NOISE:.2})"
            );
            return Err(Finding::error(
                "density-falls",
                file,
                Some(line),
                message,
                "read both steps again; leave out a step that is scratched, and steps beyond the greatest density",
            ));
        }
        if highest.is_none_or(|(density, _)| density < mean) {
            highest = Some((mean, line));
        }
        points.push(StripPoint { log_h, density: mean, readings: count });
    }
    let averaged = groups.iter().filter(|group| group.len() > 1).count();
    if averaged > 0 {
        notes.push(format!(
            "repeated readings averaged at {averaged} {}",
            if averaged == 1 { "step" } else { "steps" }
        ));
    }
    let before: Vec<f64> = points.iter().map(|point| point.density).collect();
    level(&mut points);
    let levelled: Vec<String> = points
        .iter()
        .zip(&before)
        .filter(|(point, before)| (point.density - **before).abs() > SAME)
        .map(|(point, _)| format!("{:.2}", point.log_h))
        .collect();
    if !levelled.is_empty() {
        notes.push(format!(
            "densities that fall back within noise levelled, at log H {}",
            levelled.join(", ")
        ));
    }
    Ok(points)
}

/// Makes densities rise or stand, by the nearest such in least squares (pool adjacent violators).
pub(super) fn level(points: &mut [StripPoint]) {
    // Mean, weight, and how many points it stands for.
    let mut pools: Vec<(f64, f64, usize)> = Vec::new();
    for point in points.iter() {
        let mut pool = (point.density, f64::from(point.readings), 1);
        while let Some(last) = pools.last().copied().filter(|last| last.0 > pool.0) {
            pools.pop();
            let weight = last.1 + pool.1;
            pool = ((last.0 * last.1 + pool.0 * pool.1) / weight, weight, last.2 + pool.2);
        }
        pools.push(pool);
    }
    let levels = pools.iter().flat_map(|pool| std::iter::repeat_n(pool.0, pool.2));
    for (point, level) in points.iter_mut().zip(levels) {
        point.density = level;
    }
}

/// Base + fog, and whether it was read.
fn base(
    points: &[StripPoint],
    rows: &[f64],
    given: Option<f64>,
    file: &str,
    notes: &mut Vec<String>,
) -> Result<(f64, bool), Finding> {
    let lowest = points.first().map_or(0.0, |point| point.density);
    let refuse = |message: String, fix: &str| Finding::error("base-fog", file, None, message, fix);
    #[allow(clippy::cast_precision_loss, reason = "a handful of rows")]
    let read = (!rows.is_empty()).then(|| rows.iter().sum::<f64>() / rows.len() as f64);
    if let Some(base) = given.or(read) {
        if base - lowest > NOISE + SAME {
            let message = format!("base + fog {base:.2} lies above the lowest reading, {lowest:.2}");
            return Err(refuse(
                message,
                "read an unexposed part of the same strip, and the first step, again",
            ));
        }
        return Ok((base, true));
    }
    let second = points.get(1).map_or(lowest, |point| point.density);
    if second - lowest > NOISE + SAME {
        let message = format!(
            "there is no row of base + fog, and the curve rises from its first step on ({lowest:.2} to {second:.2})"
        );
        return Err(refuse(
            message,
            "read an unexposed part of the strip and add a row `base,0.28`, or give --base-fog",
        ));
    }
    notes.push(format!("no base + fog was read: the lowest reading, {lowest:.2}, stands in"));
    Ok((lowest, false))
}
