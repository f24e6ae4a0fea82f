//! Appending: one locked write at the end of the file.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read as _, Seek as _, SeekFrom, Write as _};
use std::path::Path;

use super::{Entry, JournalError};

/// What stands at the head of a new journal.
const HEAD: &str =
    "# Darkroom journal of soupcon. Entries are appended and never changed; each ends with `end = true`.\n";

/// Appends an entry, creating the file and its folder where they are missing; waits for others who are appending.
///
/// The entry is on disk when this returns. If writing fails half way, what was written of this entry is taken back.
///
/// # Errors
/// A field that cannot stand in the journal, or the file cannot be opened, locked or written.
pub fn append(path: &Path, entry: &Entry) -> Result<(), JournalError> {
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
    file.lock().map_err(wrong("locked"))?;
    let (length, ends_line) = end_of(&mut file).map_err(wrong("read"))?;
    let mut bytes = String::new();
    if length == 0 {
        bytes.push_str(HEAD);
    } else if !ends_line {
        // The last entry was torn; the new one starts on a line of its own and leaves those bytes alone.
        bytes.push('\n');
    }
    bytes.push('\n');
    bytes.push_str(&entry.to_toml());
    let written = file.write_all(bytes.as_bytes()).and_then(|()| file.sync_all());
    written.map_err(|source| {
        // Only this entry's own bytes lie beyond the old length, and nobody else writes while the lock is held.
        let _ = file.set_len(length);
        wrong("written")(source)
    })
}

/// Length of the file, and whether its last byte ends a line.
fn end_of(file: &mut File) -> io::Result<(u64, bool)> {
    let length = file.seek(SeekFrom::End(0))?;
    if length == 0 {
        return Ok((0, true));
    }
    file.seek(SeekFrom::End(-1))?;
    let mut last = [0];
    file.read_exact(&mut last)?;
    Ok((length, last == *b"\n"))
}
