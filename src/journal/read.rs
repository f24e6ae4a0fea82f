//! Reading: every chunk from one `[[entry]]` line to the next by itself, so that a bad one hides no other.

use std::fs::{File, TryLockError};
use std::io::{self, Read as _};
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use super::build::build;
use super::fields::{Fields, shown};
use super::{Developed, Entry, JournalError, VERSION};

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

/// One chunk as an entry; none for a head of comments only.
fn interpret(chunk: &[u8]) -> Result<Option<Entry>, Reason> {
    if let Some(fields) = std::str::from_utf8(chunk).ok().and_then(Fields::plain) {
        return entry(fields).map(Some);
    }
    let ended = chunk.split(|&byte| byte == b'\n').any(|line| line.trim_ascii() == END);
    let damaged = |what: String| if ended { Reason::Damaged { what } } else { Reason::Torn };
    let text = std::str::from_utf8(chunk).map_err(|_| damaged("it is not UTF-8 text".to_owned()))?;
    let Some(fields) = Fields::careful(text).map_err(damaged)? else { return Ok(None) };
    if !ended {
        return Err(Reason::Torn);
    }
    entry(fields).map(Some)
}

/// An entry from its fields.
fn entry(mut fields: Fields) -> Result<Entry, Reason> {
    let version = fields.optional_figure("version").unwrap_or_default().unwrap_or(VERSION);
    let kind = fields.optional_text("kind").unwrap_or_default().unwrap_or_default();
    if version > VERSION {
        return Err(Reason::Later { what: format!("version {version}, kind `{}`", shown(&kind)) });
    }
    let entry = build(&kind, &mut fields)?;
    fields.finish()?;
    entry.check().map_err(|error| Reason::Damaged { what: error.to_string() })?;
    Ok(entry)
}
