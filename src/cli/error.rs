//! What can go wrong for a user of the command line, with its exit code: 1 understood but the answer is no, 2 the request was wrong.

use std::io::{self, Write};

use thiserror::Error;

use crate::diagnostic::Finding;
use crate::formula::FormError;
use crate::library::LibraryError;
use crate::mixing::Objection;
use crate::predict::PredictError;
use crate::render::json::{ErrorBody, ErrorDocument, RefusedBody, document, to_json};
use crate::render::review::RefusalJson;
use crate::scale::ScaleError;
use crate::scale::exchange::ExchangeError;

/// An error as the user sees it.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum CliError {
    /// The arguments cannot be understood.
    #[error("{message}")]
    Usage {
        /// What is wrong.
        message: String,
    },
    /// An argument has a value that cannot be used.
    #[error("{argument}: {message}")]
    Argument {
        /// As help prints it: `--balance`, `VOLUME`.
        argument: String,
        /// What is wrong.
        message: String,
        /// What to do.
        fix: String,
    },
    /// The library does not have it, or has it broken.
    #[error(transparent)]
    Library(#[from] LibraryError),
    /// No such chemical.
    #[error(transparent)]
    Form(#[from] FormError),
    /// Broken substance or table files.
    #[error("{}", findings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Findings {
        /// What is wrong.
        findings: Vec<Finding>,
    },
    /// The batch cannot be worked out.
    #[error(transparent)]
    Scale(#[from] ScaleError),
    /// Understood, but the answer is no.
    #[error("{message}")]
    Refused {
        /// Stable short name.
        code: &'static str,
        /// Why.
        message: String,
        /// What to do.
        fix: String,
    },
    /// An entry stands in the journal, but that could not be told where it should be: done all the same, so that nobody records it twice.
    #[error("the entry is recorded in {path}; only the message of it could not be written: {source}")]
    Recorded {
        /// The journal.
        path: String,
        /// The system's reason.
        source: io::Error,
    },
    /// The result cannot be written.
    #[error("the result cannot be written: {source}")]
    Output {
        /// The system's reason.
        #[from]
        source: io::Error,
    },
}

impl From<PredictError> for CliError {
    fn from(error: PredictError) -> Self {
        Self::Refused { code: error.code(), message: error.to_string(), fix: error.fix() }
    }
}

impl From<ExchangeError> for CliError {
    fn from(error: ExchangeError) -> Self {
        Self::Scale(ScaleError::Exchange(error))
    }
}

impl CliError {
    /// An argument with an unusable value.
    pub(super) fn argument(argument: &str, message: impl std::fmt::Display, fix: impl Into<String>) -> Self {
        Self::Argument { argument: argument.to_owned(), message: message.to_string(), fix: fix.into() }
    }

    /// What must not be mixed, or not so, and what was asked of it.
    pub(super) fn objected(wanted: &str, subject: &str, objection: &Objection) -> Self {
        let message = format!("no {wanted} for `{subject}`: {objection}");
        Self::Refused { code: objection.code, message, fix: objection.fix.clone() }
    }

    /// 1 where the request was understood and the answer is no, 2 where it was wrong.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Scale(
                ScaleError::NoVolume | ScaleError::RatioDoesNotFit { .. } | ScaleError::LimitNotUsed { .. },
            )
            | Self::Usage { .. }
            | Self::Argument { .. }
            | Self::Form(_)
            | Self::Library(_)
            | Self::Findings { .. } => 2,
            Self::Scale(_) | Self::Refused { .. } | Self::Output { .. } => 1,
            Self::Recorded { .. } => 0,
        }
    }

    fn code(&self) -> &str {
        match self {
            Self::Usage { .. } => "usage",
            Self::Argument { .. } => "argument",
            Self::Library(error) => error.code(),
            Self::Form(FormError::BareParent { .. }) => "bare-parent",
            Self::Form(_) => "unknown-substance",
            Self::Findings { findings } => findings.first().map_or("invalid", |finding| finding.code),
            Self::Scale(ScaleError::NotEnough { .. }) => "not-enough",
            Self::Scale(ScaleError::Exchange(_) | ScaleError::NotExchanged { .. }) => "exchange",
            Self::Scale(_) => "scale",
            Self::Refused { code, .. } => code,
            Self::Output { .. } => "output",
            Self::Recorded { .. } => "recorded",
        }
    }

    pub(super) fn fix(&self) -> String {
        match self {
            Self::Usage { .. } => "see --help".to_owned(),
            Self::Argument { fix, .. } | Self::Refused { fix, .. } => fix.clone(),
            Self::Library(error) => error.fix(),
            Self::Form(error) => error.fix(),
            Self::Findings { findings } => {
                findings.iter().map(|finding| finding.fix.clone()).collect::<Vec<_>>().join("\n")
            }
            Self::Scale(error) => error.fix(),
            Self::Output { .. } => "check the disk and the file's folder".to_owned(),
            Self::Recorded { .. } => "do not record it again".to_owned(),
        }
    }

    /// Tells it: an answer of no in JSON is a document like any other answer; all else goes to standard error.
    pub(super) fn tell(&self, as_json: bool, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<()> {
        if as_json && self.exit_code() == 1 && !matches!(self, Self::Output { .. }) {
            let refusal = RefusalJson::not_this_way(self.code(), self.to_string(), self.fix());
            let text = document(RefusedBody { parts: [], refusals: [refusal] });
            out.write_all(text.as_bytes())?;
            return out.flush();
        }
        self.print(as_json, err)
    }

    /// Prints it to standard error, as text or as one JSON object.
    pub(super) fn print(&self, as_json: bool, err: &mut dyn Write) -> io::Result<()> {
        if as_json {
            let error =
                ErrorBody { code: self.code().to_owned(), message: self.to_string(), fix: self.fix() };
            return err.write_all(to_json(&ErrorDocument { error }).as_bytes());
        }
        // Findings bring each its own remedy; the others have one.
        let findings = match self {
            Self::Findings { findings } | Self::Library(LibraryError::Invalid { findings }) => {
                findings.as_slice()
            }
            _ => &[],
        };
        if findings.is_empty() {
            let kind = if self.exit_code() == 0 { "note" } else { "error" };
            writeln!(err, "{kind}: {}", tame(&self.to_string()))?;
            let fix = self.fix();
            if !fix.is_empty() {
                writeln!(err, "  fix: {}", tame(&fix))?;
            }
            return err.flush();
        }
        for finding in findings {
            writeln!(err, "error: {}", tame(&finding.to_string()))?;
            if !finding.fix.is_empty() {
                writeln!(err, "  fix: {}", tame(&finding.fix))?;
            }
        }
        err.flush()
    }
}

/// Longest message on standard error, in characters; a name of a megabyte is not repeated whole.
const LONGEST_MESSAGE: usize = 4000;

/// Keeps line ends, makes every other control character harmless, and cuts what nobody would read.
fn tame(text: &str) -> String {
    let mut tame = text.lines().map(crate::render::harmless).collect::<Vec<_>>().join("\n");
    if let Some((end, _)) = tame.char_indices().nth(LONGEST_MESSAGE) {
        tame.truncate(end);
        tame.push('…');
    }
    tame
}
