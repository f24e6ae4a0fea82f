//! Writing a file so that it is whole or not there, and never over another by accident.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use clap::Args;

use super::context::Context;
use super::error::CliError;

/// Where the answer goes.
#[derive(Debug, Args)]
pub(super) struct OutputArguments {
    /// Write to a file instead of standard output (- for standard output)
    #[arg(short, long, value_name = "FILE", help_heading = "Output")]
    output: Option<PathBuf>,
    /// Overwrite the file if it is there
    #[arg(long, help_heading = "Output")]
    force: bool,
}

impl OutputArguments {
    /// Writes the answer there, and says so where it is a file.
    pub(super) fn write(&self, text: &str, context: &mut Context<'_, '_>) -> Result<(), CliError> {
        deliver(context, self.output.as_deref(), text, self.force)
    }
}

/// Writes to a temporary name in the same folder, then renames; refuses to overwrite without `force`.
///
/// # Errors
/// The file is there, or cannot be written.
pub(super) fn write_atomically(path: &Path, text: &str, force: bool) -> Result<(), CliError> {
    if !force && path.symlink_metadata().is_ok() {
        let message = format!("{} is there already", path.display());
        return Err(CliError::Refused {
            code: "exists",
            message,
            fix: "give another name, or --force".to_owned(),
        });
    }
    let failed = |error: io::Error| CliError::Refused {
        code: "not-written",
        message: format!("{} cannot be written: {error}", path.display()),
        fix: match path.parent() {
            Some(folder) if error.kind() == io::ErrorKind::NotFound => {
                format!("make the folder first: mkdir -p '{}'", folder.display())
            }
            _ => "check that the folder exists, may be written to and has room".to_owned(),
        },
    };
    let (temporary, mut file) = temporary_beside(path).map_err(failed)?;
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    let placed = written.and_then(|()| {
        if force {
            fs::rename(&temporary, path)
        } else {
            // A link fails where the name was taken meanwhile; a rename would overwrite it.
            fs::hard_link(&temporary, path).and_then(|()| fs::remove_file(&temporary)).or_else(|error| {
                if error.kind() == io::ErrorKind::AlreadyExists {
                    Err(error)
                } else {
                    fs::rename(&temporary, path)
                }
            })
        }
    });
    placed.map_err(|error| {
        // The temporary file is of no use any more; that it may be gone already is no error.
        let _ = fs::remove_file(&temporary);
        failed(error)
    })
}

/// Writes a text to a file, which is said, or to standard output.
///
/// # Errors
/// The file is there and `force` is not given, or it cannot be written.
pub(super) fn deliver(
    context: &mut Context<'_, '_>,
    output: Option<&Path>,
    text: &str,
    force: bool,
) -> Result<(), CliError> {
    match output.filter(|path| *path != Path::new("-")) {
        Some(path) => {
            write_atomically(path, text, force)?;
            context.hint(&format!("wrote {}", path.display()));
        }
        None => context.streams.out.write_all(text.as_bytes())?,
    }
    Ok(())
}

/// A new file beside the target.
fn temporary_beside(path: &Path) -> io::Result<(PathBuf, File)> {
    let name = path
        .file_name()
        .ok_or_else(|| io::Error::other("it has no file name"))?
        .to_string_lossy()
        .into_owned();
    let mut last = io::Error::other("no free temporary name");
    for attempt in 0..100_u32 {
        let temporary = path.with_file_name(format!(".{name}.{}-{attempt}.part", std::process::id()));
        match OpenOptions::new().write(true).create_new(true).open(&temporary) {
            Ok(file) => return Ok((temporary, file)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => last = error,
            Err(error) => return Err(error),
        }
    }
    Err(last)
}
