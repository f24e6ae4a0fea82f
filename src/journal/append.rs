//! Appending: one locked write at the end of the file.

use std::fs::{self, OpenOptions, TryLockError};
use std::io::{self, Seek as _, SeekFrom, Write as _};
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use super::{Entry, JournalError};

/// What stands at the head of a new journal.
const HEAD: &str =
    "# Darkroom journal of soupcon. Entries are appended and never changed; each ends with `end = true`.\n";

/// How often the lock is asked for, and how long it is waited in between: for ten seconds in all, after one of which the caller is told.
const TRIES: u32 = 500;
const TELL_AFTER: u32 = 50;
const BETWEEN_TRIES: Duration = Duration::from_millis(20);

/// Appends an entry as [`append_patiently`] does, without a word while it waits.
///
/// # Errors
/// The same.
pub fn append(path: &Path, entry: &Entry) -> Result<(), JournalError> {
    append_patiently(path, entry, &mut || {})
}

/// Appends an entry, creating the file and its folder where they are missing; waits for others who are appending, some ten seconds at most,
/// and calls `on_waiting` once when it has waited for one.
///
/// The entry is on disk when this returns. If writing fails half way, what was written of this entry is taken back.
///
/// # Errors
/// A field that cannot stand in the journal, another program keeps the file, or it cannot be opened, locked or written.
pub fn append_patiently(
    path: &Path,
    entry: &Entry,
    on_waiting: &mut dyn FnMut(),
) -> Result<(), JournalError> {
    entry.check()?;
    let wrong = |doing: &'static str| {
        move |source: io::Error| JournalError::File { path: path.display().to_string(), doing, source }
    };
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        fs::create_dir_all(folder).map_err(wrong("created"))?;
    }
    let mut file =
        OpenOptions::new().read(true).append(true).create(true).open(path).map_err(wrong("opened"))?;
    // Held until the file is closed at the end of this function.
    for turn in 0.. {
        match file.try_lock() {
            Ok(()) => break,
            Err(TryLockError::Error(error)) => return Err(wrong("locked")(error)),
            Err(TryLockError::WouldBlock) if turn == TRIES => {
                return Err(JournalError::Busy { path: path.display().to_string() });
            }
            Err(TryLockError::WouldBlock) => sleep(BETWEEN_TRIES),
        }
        if turn == TELL_AFTER {
            on_waiting();
        }
    }
    let length = file.seek(SeekFrom::End(0)).map_err(wrong("read"))?;
    let mut bytes = String::new();
    if length == 0 {
        bytes.push_str(HEAD);
    }
    // Ends the line of an entry that was torn, whose bytes are left alone.
    bytes.push('\n');
    bytes.push_str(&entry.to_toml());
    let written = file.write_all(bytes.as_bytes()).and_then(|()| file.sync_all());
    written.map_err(|source| {
        // Only this entry's own bytes lie beyond the old length, and nobody else writes while the lock is held.
        let _ = file.set_len(length);
        wrong("written")(source)
    })
}
