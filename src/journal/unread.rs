//! Entries that are kept in the file and not interpreted.

/// Why an entry is not interpreted. It stays in the file all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UnreadReason {
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
    pub reason: UnreadReason,
}

impl std::fmt::Display for Unread {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let line = self.line;
        match &self.reason {
            UnreadReason::Torn => write!(
                formatter,
                "line {line}: an entry is torn, writing it was interrupted; it is left unchanged"
            ),
            UnreadReason::Later { what } => {
                write!(
                    formatter,
                    "line {line}: an entry of a later version of this program ({what}); kept, not read"
                )
            }
            UnreadReason::Damaged { what } => {
                write!(formatter, "line {line}: an entry cannot be read: {what}; it is left unchanged")
            }
        }
    }
}
