//! Appending: one locked write at the end of the file.

use std::fs::{self, OpenOptions};
use std::io::{self, Seek as _, SeekFrom, Write as _};
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
