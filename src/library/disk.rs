//! Reading personal folders: bounded, never waiting, and telling why a file cannot be used.

use std::fs;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

use super::LibraryError;
use crate::diagnostic::{LARGEST_FILE_BYTES, line_of};

/// Most files of one kind in a personal folder, or in all when files are judged.
pub(crate) const MOST_FILES: usize = 20_000;

/// Whether anything has that name, readable or not; what it is shows when it is read.
///
/// # Errors
/// The system will not say.
pub(super) fn lies_there(path: &Path) -> Result<bool, LibraryError> {
    match path.symlink_metadata() {
        Ok(_) => Ok(true),
        Err(error) if is_absent(&error) => Ok(false),
        Err(error) => Err(unreadable(path, error.to_string())),
    }
}

/// The `.toml` files of a folder, sorted; a folder that is not there is empty.
///
/// # Errors
/// It cannot be read, is no folder, or holds too much.
pub(super) fn toml_files(folder: &Path) -> Result<Vec<PathBuf>, LibraryError> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) if error.kind() == io::ErrorKind::NotADirectory => {
            let fix = "rename it, and make a folder of that name for formulas of this kind";
            return Err(unusable(folder, "it is a file where a folder is wanted", fix));
        }
        Err(error) => return Err(unreadable(folder, error.to_string())),
    };
    let mut files = Vec::new();
    for (count, entry) in entries.enumerate() {
        if count >= MOST_FILES {
            return Err(too_many(folder));
        }
        let path = entry.map_err(|error| unreadable(folder, error.to_string()))?.path();
        if path.extension().is_some_and(|extension| extension == "toml") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// Reads a text file of bounded size. Only a regular file is opened: a pipe or a device could keep the program waiting for ever.
///
/// # Errors
/// Unreadable, not a regular file, too large, or not UTF-8.
pub fn read_file(path: &Path) -> Result<String, LibraryError> {
    let metadata = fs::metadata(path).map_err(|error| unreadable(path, error.to_string()))?;
    if metadata.is_dir() {
        return Err(unusable(path, "it is a folder", "name a file in it"));
    }
    if !metadata.is_file() {
        let fix = "give a file; what comes through a pipe is read from standard input with -";
        return Err(unusable(path, "it is a pipe or a device", fix));
    }
    let file = fs::File::open(path).map_err(|error| unreadable(path, error.to_string()))?;
    let limit = LARGEST_FILE_BYTES as u64 + 1;
    let expected = usize::try_from(metadata.len().min(limit)).unwrap_or_default();
    let mut bytes = Vec::with_capacity(expected + 1);
    file.take(limit).read_to_end(&mut bytes).map_err(|error| unreadable(path, error.to_string()))?;
    if bytes.len() > LARGEST_FILE_BYTES {
        let fix = "keep one formula or substance a file";
        return Err(unusable(path, "it is larger than 1 MB, far beyond any formula", fix));
    }
    String::from_utf8(bytes).map_err(|error| {
        let sound = error.utf8_error().valid_up_to();
        let line = line_of(&String::from_utf8_lossy(error.as_bytes()), sound);
        let reason = format!("it is not UTF-8 text (first at line {line})");
        unusable(path, &reason, "save it as UTF-8 in the editor")
    })
}

/// More files than are read.
pub(crate) fn too_many(folder: &Path) -> LibraryError {
    let reason = format!("it holds more than {MOST_FILES} files");
    unusable(folder, &reason, "move some of them to another folder")
}

fn is_absent(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory)
}

fn unreadable(path: &Path, reason: String) -> LibraryError {
    LibraryError::Unreadable { path: path.display().to_string(), reason }
}

fn unusable(path: &Path, reason: &str, fix: &'static str) -> LibraryError {
    LibraryError::Unusable { path: path.display().to_string(), reason: reason.to_owned(), fix }
}
