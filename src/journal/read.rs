//! Reading: every chunk from one `[[entry]]` line to the next by itself, so that a bad one hides no other.

use std::fs::{File, TryLockError};
use std::io::{self, Read as _};
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use super::{BathEvent, BathKind, Date, Developed, Entry, JournalError, Measurement, VERSION, Verdict};
use crate::diagnostic::read_toml;
use crate::quantity::Temperature;

/// The line with which an entry begins.
const BEGIN: &[u8] = b"[[entry]]";
/// The line with which it ends.
const END: &[u8] = b"end = true";

/// Largest journal that is read: two hundred thousand entries.
const LARGEST_MB: u64 = 64;

/// How often a reader asks for the lock before it reads without, and how long it waits in between.
const PATIENCE: u32 = 20;
const BETWEEN_TRIES: Duration = Duration::from_millis(10);

/// Why an entry is not interpreted. It stays in the file all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// It lacks its last line: the program was stopped while writing it.
    Torn,
    /// A later version of the program wrote it.
    Later {
        /// Its kind or version.
        what: String,
    },
    /// It was changed by hand into something that cannot be read.
    Damaged {
        /// What is wrong with it.
        what: String,
    },
}

/// An entry that is kept but not interpreted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// Line where it begins.
    pub line: usize,
    /// Why.
    pub reason: Reason,
}

impl std::fmt::Display for Unread {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let line = self.line;
        match &self.reason {
            Reason::Torn => write!(
                formatter,
                "line {line}: an entry is torn, writing it was interrupted; it is left as it is"
            ),
            Reason::Later { what } => {
                write!(
                    formatter,
                    "line {line}: an entry of a later version of this program ({what}); kept, not read"
                )
            }
            Reason::Damaged { what } => {
                write!(formatter, "line {line}: an entry cannot be read: {what}; it is left as it is")
            }
        }
    }
}

/// All entries in the order of the file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Journal {
    /// The entries that can be read.
    pub entries: Vec<Entry>,
    /// The others.
    pub unread: Vec<Unread>,
}

impl Journal {
    /// Reads a journal; one that is not there yet is empty.
    ///
    /// # Errors
    /// The file cannot be opened, locked or read, or is far too large.
    pub fn read(path: &Path) -> Result<Self, JournalError> {
        let wrong = |doing: &'static str| {
            move |source: io::Error| JournalError::File { path: path.display().to_string(), doing, source }
        };
        // Opening a pipe would wait for somebody to write into it.
        if path.metadata().is_ok_and(|metadata| !metadata.is_file()) {
            return Err(wrong("read")(io::Error::other("it is no file, but a folder, a pipe or a device")));
        }
        let file = match File::open(path) {
            Ok(file) => file,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(error) => return Err(wrong("opened")(error)),
        };
        // Whoever appends is done in a moment. One who keeps the lock does not keep others from reading: at worst the last entry is torn,
        // and told.
        for _ in 0..PATIENCE {
            match file.try_lock_shared() {
                Ok(()) => break,
                Err(TryLockError::WouldBlock) => sleep(BETWEEN_TRIES),
                Err(TryLockError::Error(error)) => return Err(wrong("locked")(error)),
            }
        }
        let limit = LARGEST_MB << 20;
        let mut bytes = Vec::new();
        file.take(limit + 1).read_to_end(&mut bytes).map_err(wrong("read"))?;
        if bytes.len() as u64 > limit {
            return Err(JournalError::TooLarge { path: path.display().to_string(), limit_mb: LARGEST_MB });
        }
        Ok(Self::parse(&bytes))
    }

    /// Interprets the bytes of a journal.
    pub fn parse(bytes: &[u8]) -> Self {
        let mut journal = Self::default();
        for (line, chunk) in chunks(bytes) {
            match interpret(chunk) {
                Ok(Some(entry)) => journal.entries.push(entry),
                Ok(None) => {}
                Err(reason) => journal.unread.push(Unread { line, reason }),
            }
        }
        journal
    }

    /// The films that were developed.
    pub fn developed(&self) -> impl Iterator<Item = &Developed> {
        self.entries.iter().filter_map(|entry| match entry {
            Entry::Developed(developed) => Some(developed),
            _ => None,
        })
    }
}

/// Cuts before every line that begins an entry and after every line that ends one; each piece with the line where it starts.
///
/// Cutting after the end keeps the first bytes of a torn entry, too few to be known for one, away from the entry before it.
fn chunks(bytes: &[u8]) -> Vec<(usize, &[u8])> {
    let mut starts = vec![(1, 0)];
    let mut offset = 0;
    for (index, line) in bytes.split_inclusive(|&byte| byte == b'\n').enumerate() {
        if offset > 0 && line.trim_ascii_start().starts_with(BEGIN) {
            starts.push((index + 1, offset));
        }
        offset += line.len();
        if line.trim_ascii() == END {
            starts.push((index + 2, offset));
        }
    }
    let ends = starts.iter().skip(1).map(|(_, start)| *start).chain([bytes.len()]);
    starts.iter().zip(ends).filter_map(|(&(line, start), end)| Some((line, bytes.get(start..end)?))).collect()
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChunkFile {
    #[serde(default)]
    entry: Vec<toml::Table>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DevelopedFile {
    date: String,
    film: String,
    formula: String,
    dilution: String,
    celsius: f64,
    agitation: String,
    minutes: f64,
    gradient: Option<f64>,
    verdict: Option<Verdict>,
    note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BathFile {
    date: String,
    bath: String,
    formula: Option<String>,
    volume_ml: Option<f64>,
    note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MeasuredFile {
    date: String,
    subject: String,
    quantity: String,
    value: f64,
    unit: Option<String>,
    note: Option<String>,
}

/// One chunk as an entry; none for a head of comments only.
fn interpret(chunk: &[u8]) -> Result<Option<Entry>, Reason> {
    let ended = chunk.split(|&byte| byte == b'\n').any(|line| line.trim_ascii() == END);
    let damaged = |what: String| if ended { Reason::Damaged { what } } else { Reason::Torn };
    let text = std::str::from_utf8(chunk).map_err(|_| damaged("it is not UTF-8 text".to_owned()))?;
    let shape: ChunkFile = read_toml(text, "").map_err(|finding| damaged(finding.message))?;
    let Some(mut table) = shape.entry.into_iter().next() else { return Ok(None) };
    if !ended {
        return Err(Reason::Torn);
    }
    table.remove("end");
    let version = table.remove("version").and_then(|version| version.as_integer()).unwrap_or(VERSION);
    let kind = table.remove("kind").and_then(|kind| kind.as_str().map(str::to_owned)).unwrap_or_default();
    if version > VERSION {
        return Err(Reason::Later { what: format!("version {version}, kind `{kind}`") });
    }
    let bath = |kind| move |file: BathFile| bath_event(kind, file);
    let entry = match kind.as_str() {
        "developed" => filled(table, developed),
        "mixed" => filled(table, bath(BathKind::Mixed)),
        "replenished" => filled(table, bath(BathKind::Replenished)),
        "discarded" => filled(table, bath(BathKind::Discarded)),
        "measured" => filled(table, measured),
        _ => return Err(Reason::Later { what: format!("kind `{kind}`") }),
    }?;
    entry.check().map_err(|error| Reason::Damaged { what: error.to_string() })?;
    Ok(Some(entry))
}

fn filled<T: DeserializeOwned>(
    table: toml::Table,
    build: impl Fn(T) -> Result<Entry, JournalError>,
) -> Result<Entry, Reason> {
    let file = table.try_into::<T>().map_err(|error| {
        let what = error.message().trim().replace('\n', " ");
        // A key that this version does not know comes from a later one, or from a hand: either way it is not for us to drop.
        if what.starts_with("unknown field") { Reason::Later { what } } else { Reason::Damaged { what } }
    })?;
    build(file).map_err(|error| Reason::Damaged { what: error.to_string() })
}

fn developed(file: DevelopedFile) -> Result<Entry, JournalError> {
    Ok(Entry::Developed(Developed {
        date: file.date.parse::<Date>()?,
        film: file.film,
        formula: file.formula,
        dilution: file.dilution.parse()?,
        temperature: Temperature::from_c(file.celsius),
        agitation: file.agitation,
        minutes: file.minutes,
        gradient: file.gradient,
        verdict: file.verdict,
        note: file.note,
    }))
}

fn bath_event(kind: BathKind, file: BathFile) -> Result<Entry, JournalError> {
    Ok(Entry::Bath(BathEvent {
        kind,
        date: file.date.parse::<Date>()?,
        bath: file.bath,
        formula: file.formula,
        volume_ml: file.volume_ml,
        note: file.note,
    }))
}

fn measured(file: MeasuredFile) -> Result<Entry, JournalError> {
    Ok(Entry::Measured(Measurement {
        date: file.date.parse::<Date>()?,
        subject: file.subject,
        quantity: file.quantity,
        value: file.value,
        unit: file.unit,
        note: file.note,
    }))
}
