//! What was done in the darkroom: one append-only TOML file of the user's own results and baths.
//!
//! The file is an array of `[[entry]]` tables, each with its `kind`. Entries are only ever appended, under a lock on the file; no
//! byte that stands in it is written again. An entry ends with the line `end = true`, so that one torn by a power cut or a killed
//! program is known for what it is: it is told and left, and the entries before and after it are read all the same. An entry of a
//! later version of the program is kept and told, not interpreted. Every chunk from one `[[entry]]` line to the next is read by
//! itself, so that one bad entry never hides the others.
//!
//! Left to others: where the file lies, today's date, and what follows from the entries.
//!
//! A torn entry is left, for no byte is ever written again, so that nothing can be lost by repairing. What is given up: after a tear
//! the file as a whole is no longer valid TOML for other programs.

mod append;
mod build;
mod date;
mod entry;
mod fields;
mod read;
mod results;
mod unread;
mod write;

pub use append::{append, append_patiently};
pub use date::Date;
pub use entry::{
    Count, CurveMeasured, Developed, Discarded, Draw, Entry, Filled, Highlights, Judged, Measurement, Mixed,
    Printed, Replenished, Shadows, Taken, Verdict, dilution_text,
};
pub use read::Journal;
pub use results::DevelopedResult;
pub use unread::{Unread, UnreadReason};

use thiserror::Error;

use crate::quantity::QuantityError;

/// Version of the entries that this program writes and reads.
pub const VERSION: f64 = 1.0;

/// Why a journal cannot be read or an entry not be written.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum JournalError {
    /// A date that is none.
    #[error("`{text}` is not a date; write year, month and day as 2026-11-25")]
    Date {
        /// As it was typed or stands in the file.
        text: String,
    },
    /// A text field that is empty, too long, or holds characters that steer a terminal.
    #[error("{field}: {what}")]
    Text {
        /// Its key in the file.
        field: &'static str,
        /// What is wrong with it.
        what: String,
    },
    /// A figure outside what can be.
    #[error("{field} {value} is outside {low} to {high}")]
    Figure {
        /// Which field, with unit.
        field: &'static str,
        /// As typed or as it stands in the file.
        value: f64,
        /// Lowest possible.
        low: f64,
        /// Highest possible.
        high: f64,
    },
    /// A quantity as text that cannot be read.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// The file cannot be opened, locked, read or written.
    #[error("the journal {path} cannot be {doing}: {source}")]
    File {
        /// The file.
        path: String,
        /// What was attempted: `read`, `locked` …
        doing: &'static str,
        /// The system's reason.
        source: std::io::Error,
    },
    /// Another program keeps the file.
    #[error("another program has kept the journal {path} for ten seconds; nothing was recorded")]
    Busy {
        /// The file.
        path: String,
    },
    /// The file is far too large for a journal.
    #[error("the journal {path} is larger than {limit_mb} MB")]
    TooLarge {
        /// The file.
        path: String,
        /// The most that is read.
        limit_mb: u64,
    },
}

impl JournalError {
    /// A stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Date { .. } => "date",
            Self::Text { .. } => "text",
            Self::Figure { .. } => "figure",
            Self::Quantity(_) => "quantity",
            Self::File { .. } => "journal-file",
            Self::Busy { .. } => "journal-busy",
            Self::TooLarge { .. } => "journal-too-large",
        }
    }

    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::Date { .. } => "write it as 2026-11-25".to_owned(),
            Self::Text { .. } => "use plain words on one line".to_owned(),
            Self::Figure { .. } => "check the figure".to_owned(),
            Self::Quantity(_) => "write the figure with its unit".to_owned(),
            Self::File { .. } => {
                "check that the file and its folder may be written, or name another place".to_owned()
            }
            Self::Busy { .. } => "end that program, or wait for it, and record the entry again".to_owned(),
            Self::TooLarge { .. } => "check that this file is the journal".to_owned(),
        }
    }
}
