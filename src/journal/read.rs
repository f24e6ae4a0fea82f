//! Reading: every chunk from one `[[entry]]` line to the next by itself, so that a bad one hides no other.

use std::fs::{File, TryLockError};
use std::io::{self, Read as _};
use std::num::NonZero;
use std::path::Path;
use std::thread::{Builder, ScopedJoinHandle, available_parallelism, scope, sleep};
use std::time::Duration;

use super::build::build;
use super::fields::{Fields, shown};
use super::unread::{Unread, UnreadReason};
use super::{Developed, Entry, JournalError, VERSION};

/// The line with which an entry begins.
const BEGIN: &[u8] = b"[[entry]]";
/// The line with which it ends.
const END: &[u8] = b"end = true";

/// Largest journal that is read: two hundred thousand entries.
const LARGEST_MB: u64 = 64;

/// Bytes from which a journal is read in pieces, some five thousand entries, and the most pieces.
const LEAST_PIECE: usize = 500_000;
const MOST_PIECES: usize = 8;

/// How often a reader asks for the lock before it reads without, and how long it waits in between.
const PATIENCE: u32 = 20;
const BETWEEN_TRIES: Duration = Duration::from_millis(10);

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
        let length = file.metadata().map_or(0, |metadata| metadata.len()).min(limit);
        let mut bytes = Vec::with_capacity(usize::try_from(length).unwrap_or_default() + 1);
        file.take(limit + 1).read_to_end(&mut bytes).map_err(wrong("read"))?;
        if bytes.len() as u64 > limit {
            return Err(JournalError::TooLarge { path: path.display().to_string(), limit_mb: LARGEST_MB });
        }
        Ok(Self::parse(&bytes))
    }

    /// Interprets the bytes of a journal; a long one in as many pieces at once as there are processors.
    pub fn parse(bytes: &[u8]) -> Self {
        let most = available_parallelism().map_or(1, NonZero::get).min(MOST_PIECES);
        Self::parse_in(bytes, most.min(bytes.len() / LEAST_PIECE))
    }

    /// The same in at most so many pieces.
    fn parse_in(bytes: &[u8], pieces: usize) -> Self {
        let sections = sections(bytes, pieces);
        if sections.len() < 2 {
            return Self::parse_section(bytes);
        }
        let read_one = |section| (Self::parse_section(section), lines(section));
        let read: Vec<(Self, usize)> = scope(|scope| {
            let start = |&section| (section, Builder::new().spawn_scoped(scope, move || read_one(section)));
            let threads: Vec<_> = sections.iter().map(start).collect();
            // A section for which there was no thread is read here.
            let end = |(section, thread): (_, std::io::Result<ScopedJoinHandle<'_, _>>)| {
                thread.ok().and_then(|thread| thread.join().ok()).unwrap_or_else(|| read_one(section))
            };
            threads.into_iter().map(end).collect()
        });
        let mut whole = Self::default();
        let mut before = 0;
        whole.entries.reserve_exact(read.iter().map(|(own, _)| own.entries.len()).sum());
        for (mut section, length) in read {
            whole.entries.append(&mut section.entries);
            whole
                .unread
                .extend(section.unread.into_iter().map(|own| Unread { line: own.line + before, ..own }));
            before += length;
        }
        whole
    }

    fn parse_section(bytes: &[u8]) -> Self {
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

/// At most so many pieces of about the same length, each cut before a line that begins an entry, where [`chunks`] cuts as well.
fn sections(bytes: &[u8], pieces: usize) -> Vec<&[u8]> {
    let mut sections = Vec::new();
    let mut start = 0;
    for piece in 1..pieces {
        let from = (bytes.len() / pieces * piece).max(start);
        let Some(cut) = next_entry(bytes, from) else { break };
        if cut > start {
            sections.extend(bytes.get(start..cut));
            start = cut;
        }
    }
    sections.extend(bytes.get(start..));
    sections
}

/// Where the first line that begins an entry starts behind the line that holds a byte.
fn next_entry(bytes: &[u8], from: usize) -> Option<usize> {
    let mut offset = from + bytes.get(from..)?.iter().position(|&byte| byte == b'\n')? + 1;
    for line in bytes.get(offset..)?.split_inclusive(|&byte| byte == b'\n') {
        if line.trim_ascii_start().starts_with(BEGIN) {
            return Some(offset);
        }
        offset += line.len();
    }
    None
}

/// Number of lines that end in a piece.
fn lines(bytes: &[u8]) -> usize {
    bytes.split(|&byte| byte == b'\n').count() - 1
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
fn interpret(chunk: &[u8]) -> Result<Option<Entry>, UnreadReason> {
    // What lies between one entry and the next.
    if chunk.iter().all(|&byte| byte == b'\n') {
        return Ok(None);
    }
    if let Some(fields) = std::str::from_utf8(chunk).ok().and_then(Fields::plain) {
        return entry(fields).map(Some);
    }
    let ended = chunk.split(|&byte| byte == b'\n').any(|line| line.trim_ascii() == END);
    let damaged = |what: String| if ended { UnreadReason::Damaged { what } } else { UnreadReason::Torn };
    let text = std::str::from_utf8(chunk).map_err(|_| damaged("it is not UTF-8 text".to_owned()))?;
    let Some(fields) = Fields::careful(text).map_err(damaged)? else { return Ok(None) };
    if !ended {
        return Err(UnreadReason::Torn);
    }
    entry(fields).map(Some)
}

fn entry(mut fields: Fields<'_>) -> Result<Entry, UnreadReason> {
    let version = fields.optional_figure("version").unwrap_or_default().unwrap_or(VERSION);
    let kind = fields.optional_piece("kind").unwrap_or_default().unwrap_or_default();
    if version > VERSION {
        return Err(UnreadReason::Later { what: format!("version {version}, kind `{}`", shown(&kind)) });
    }
    let entry = build(&kind, &mut fields)?;
    fields.finish()?;
    entry.check().map_err(|error| UnreadReason::Damaged { what: error.to_string() })?;
    Ok(entry)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_journal_read_in_pieces_is_the_same_journal() {
        let count = |index: usize| {
            format!(
                "[[entry]]\nversion = 1\nkind = \"count\"\ndate = \"2026-11-25\"\nbottle = \"D{index}\"\nfilms = 3\nend = true\n"
            )
        };
        let mut text = "# A head.\n".to_owned();
        for index in 0..40 {
            text.push_str(&count(index));
            text.push_str(match index % 7 {
                0 => "\n",
                1 => "\n[[entry]]\nversion = 1\nkind = \"cou\n",
                2 => "\r\n  [[entry]]\r\nkind = \"count\"\r\nend = true\r\n",
                3 => "\n[[entry]]\nversion = 9\nkind = \"dreamt\"\nend = true\n",
                4 => "# said by hand: [[entry]]\n\n\n",
                5 => "[[ent",
                _ => "",
            });
        }
        let whole = Journal::parse_section(text.as_bytes());
        assert!(whole.entries.len() > 30 && whole.unread.len() > 15);
        for pieces in 0..60 {
            assert_eq!(Journal::parse_in(text.as_bytes(), pieces), whole, "{pieces} pieces");
        }
        let lengths: usize = sections(text.as_bytes(), 5).iter().map(|section| section.len()).sum();
        assert_eq!((sections(text.as_bytes(), 5).len(), lengths), (5, text.len()));
    }
}
