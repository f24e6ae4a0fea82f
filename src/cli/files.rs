//! Writing a file so that it is whole or not there, and never over another by accident.

use std::ffi::{OsStr, OsString};
use std::fs::{self, File, Metadata, OpenOptions, TryLockError};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

use clap::Args;
use tempfile::{Builder, NamedTempFile};

use super::context::Context;
use super::error::CliError;
use super::{shell, signals};

/// How often a name is asked for that another program is writing to, and how long it is waited in between.
const TRIES: u32 = 200;
const BETWEEN_TRIES: Duration = Duration::from_millis(10);

/// Where the answer goes.
#[derive(Debug, Args)]
pub(super) struct OutputArguments {
    /// Write to FILE instead of standard output (- for standard output)
    #[arg(short, long, value_name = "FILE", help_heading = "Output")]
    output: Option<PathBuf>,
    /// Overwrite an existing file
    #[arg(long, help_heading = "Output")]
    force: bool,
}

impl OutputArguments {
    /// Writes the answer there, and says so where it is a file.
    pub(super) fn write(&self, text: &str, context: &mut Context<'_, '_>) -> Result<(), CliError> {
        deliver(context, self.output.as_deref(), text, self.force)
    }
}

/// Writes to a hidden name in the same folder, then renames; refuses to overwrite without `force`.
///
/// A link is followed and the mode of a file kept; a device or a pipe is written into, never replaced. Ctrl-C waits until the file is
/// whole or gone. What a killed program left behind (`.NAME.part`) is removed by the next that writes to the name.
///
/// # Errors
/// The file is there, or is none that can be written.
pub(super) fn write_atomically(path: &Path, text: &str, force: bool) -> Result<(), CliError> {
    let refused = |code, message, fix: &str| Err(CliError::Refused { code, message, fix: fix.to_owned() });
    let shown = crate::render::harmless(&path.display().to_string());
    let there = match path.metadata() {
        Ok(there) if there.is_dir() => {
            return refused("not-a-file", format!("{shown} is a folder"), "name a file in it");
        }
        Ok(there) if takes_a_stream(&there) => {
            let written = OpenOptions::new().write(true).open(path);
            return written
                .and_then(|mut file| file.write_all(text.as_bytes()))
                .map_err(|error| not_written(path, &error));
        }
        Ok(there) if !there.is_file() => {
            let message = format!("{shown} is a device, which is no place for a page");
            return refused("not-a-file", message, "give the name of a file");
        }
        Ok(_) if !force => {
            return refused(
                "exists",
                format!("{shown} already exists"),
                "choose another name, or overwrite it with --force",
            );
        }
        Ok(there) if there.permissions().readonly() => {
            let fix = format!("choose another name, or unprotect it: chmod u+w {}", shell::quoted(path));
            return refused("write-protected", format!("{shown} is write-protected"), &fix);
        }
        Ok(there) => Some(there),
        Err(_) if path.symlink_metadata().is_ok() => {
            let message = format!("{shown} is a link to something that is not there");
            return refused("dangling-link", message, "remove the link, or choose another name");
        }
        // That the folder is missing is told when the file cannot be made.
        Err(_) => None,
    };
    let target = if there.is_some() { fs::canonicalize(path) } else { Ok(path.to_owned()) };
    signals::after(|| target.and_then(|target| place(&target, text, there.as_ref())))
        .map_err(|error| not_written(path, &error))
}

/// Whether it is a terminal, `/dev/null` or a pipe.
#[cfg(unix)]
fn takes_a_stream(there: &Metadata) -> bool {
    use std::os::unix::fs::FileTypeExt as _;
    there.file_type().is_char_device() || there.file_type().is_fifo()
}

#[cfg(not(unix))]
fn takes_a_stream(_there: &Metadata) -> bool {
    false
}

fn not_written(path: &Path, error: &io::Error) -> CliError {
    let shown = crate::render::harmless(&path.display().to_string());
    let message = match error.kind() {
        io::ErrorKind::AlreadyExists => format!("{shown} already exists"),
        _ => format!("{shown} cannot be written: {error}"),
    };
    let fix = match path.parent() {
        Some(folder) if error.kind() == io::ErrorKind::NotFound => {
            format!("make the folder first: mkdir -p {}", shell::quoted(folder))
        }
        _ => "check that the folder exists, may be written to and has room".to_owned(),
    };
    CliError::Refused { code: "not-written", message, fix }
}

/// Puts a whole file at a name; over another only where that one is given.
fn place(target: &Path, text: &str, replaced: Option<&Metadata>) -> io::Result<()> {
    let mut file = temporary_beside(target)?;
    file.write_all(text.as_bytes())?;
    if let Some(replaced) = replaced {
        keep_owner(file.as_file(), replaced);
        file.as_file().set_permissions(replaced.permissions())?;
    }
    file.as_file().sync_all()?;
    if replaced.is_some() {
        file.persist(target)?;
        return Ok(());
    }
    match file.persist_noclobber(target) {
        Ok(_) => Ok(()),
        Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => Err(error.error),
        // A file system that cannot do it in one step.
        Err(error) => error.file.persist(target).map(|_| ()).map_err(io::Error::from),
    }
}

/// Leaves a file with its owner; where that is not allowed it becomes the writer's.
#[cfg(unix)]
fn keep_owner(file: &File, replaced: &Metadata) {
    use std::os::unix::fs::{MetadataExt as _, fchown};
    let _ = fchown(file, Some(replaced.uid()), Some(replaced.gid()));
}

#[cfg(not(unix))]
fn keep_owner(_file: &File, _replaced: &Metadata) {}

/// Longest name that its hidden neighbour repeats, bytes; a folder takes 255 in all.
const LONGEST_NAME: usize = 200;

/// A new file `.NAME.soupcon-part` beside the target, locked while it is being written.
fn temporary_beside(target: &Path) -> io::Result<NamedTempFile> {
    let name = target.file_name().ok_or_else(|| io::Error::other("it has no file name"))?;
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut hidden = OsString::from(".");
    hidden.push(if name.len() > LONGEST_NAME { OsStr::new("soupcon") } else { name });
    hidden.push(".soupcon-part");
    for _ in 0..TRIES {
        match create(folder, &hidden) {
            Ok(file) => {
                // Where locks are not known, nobody else can take the file for a leftover either.
                let is_ours = !matches!(file.as_file().try_lock(), Err(TryLockError::WouldBlock));
                if is_ours && is_at(file.as_file(), file.path()) {
                    return Ok(file);
                }
                // Another took it for a leftover in the moment before it was locked, and will remove it.
                file.keep()?;
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                remove_leftover(&folder.join(&hidden))?;
            }
            Err(error) => return Err(error.kind().into()),
        }
    }
    Err(io::Error::other("another program is writing to it"))
}

/// A new file of exactly that name, with the usual mode.
fn create(folder: &Path, name: &OsStr) -> io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(name).rand_bytes(0);
    #[cfg(unix)]
    let mode = std::os::unix::fs::PermissionsExt::from_mode(0o666);
    #[cfg(unix)]
    builder.permissions(mode);
    builder.tempfile_in(folder)
}

/// Removes what a killed program left; waits a moment where the file is being written.
fn remove_leftover(path: &Path) -> io::Result<()> {
    let there = match path.symlink_metadata() {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        there => there?,
    };
    if !there.is_file() {
        return Err(io::Error::other(format!("{} is in the way", path.display())));
    }
    let file = match File::open(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        file => file?,
    };
    match file.try_lock() {
        Ok(()) if is_at(&file, path) => fs::remove_file(path),
        Ok(()) => Ok(()),
        Err(TryLockError::WouldBlock) => {
            sleep(BETWEEN_TRIES);
            Ok(())
        }
        Err(TryLockError::Error(error)) => Err(error),
    }
}

/// Whether the open file is the one that lies at the path.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let place = |metadata: Metadata| (metadata.dev(), metadata.ino());
    let (open, lying) = (file.metadata().map(place), path.symlink_metadata().map(place));
    matches!((open, lying), (Ok(open), Ok(lying)) if open == lying)
}

#[cfg(not(unix))]
fn is_at(_file: &File, _path: &Path) -> bool {
    true
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
