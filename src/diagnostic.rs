//! What is wrong in a file, where, and how to mend it; and reading TOML so that every mistake is told that way.

use std::fmt;

use serde::de::DeserializeOwned;

use crate::suggestion;

/// Largest file that is read; a formula is some 2 kB.
pub const LARGEST_FILE_BYTES: usize = 1 << 20;

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth a look; nothing is refused.
    Advice,
    /// Probably a mistake; the file is still usable.
    Warning,
    /// The file cannot be used.
    Error,
}

impl Severity {
    /// The word printed and used in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Advice => "advice",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// One thing wrong in one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Stable short name of the kind of mistake, such as `unknown-key`.
    pub code: &'static str,
    /// How grave it is.
    pub severity: Severity,
    /// The file as the user knows it.
    pub file: String,
    /// Line in the file, counted from 1, where one can be named.
    pub line: Option<usize>,
    /// What is wrong, with the value met.
    pub message: String,
    /// What to do about it.
    pub fix: String,
}

impl Finding {
    /// An error at a line of a file.
    pub fn error(
        code: &'static str,
        file: &str,
        line: Option<usize>,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) -> Self {
        let (message, fix) = (message.into(), fix.into());
        Self { code, severity: Severity::Error, file: file.to_owned(), line, message, fix }
    }

    /// The same finding, less grave.
    #[must_use]
    pub fn as_severity(mut self, severity: Severity) -> Self {
        self.severity = severity;
        self
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(formatter, "{}:{line}: {}", self.file, self.message),
            None => write!(formatter, "{}: {}", self.file, self.message),
        }
    }
}

/// Line (from 1) of a byte offset.
pub fn line_of(text: &str, offset: usize) -> usize {
    text.as_bytes().iter().take(offset).filter(|&&byte| byte == b'\n').count() + 1
}

/// Reads TOML text into a file shape, after refusing what no formula needs: control and direction-changing characters.
///
/// # Errors
/// One finding, with the line and a remedy.
pub fn read_toml<T: DeserializeOwned>(text: &str, file: &str) -> Result<T, Finding> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.len() > LARGEST_FILE_BYTES {
        let message = format!("the file is {} kB long, far beyond any formula", text.len() / 1024);
        return Err(Finding::error(
            "file-too-large",
            file,
            None,
            message,
            "keep one formula or substance a file",
        ));
    }
    if let Some((line, what)) = hostile_character(text) {
        let message = format!("the text holds {what}, which could disturb a terminal or a printed page");
        return Err(Finding::error("control-character", file, Some(line), message, "delete that character"));
    }
    toml::from_str(text).map_err(|error| explain(&error, text, file))
}

/// The first control or direction-changing character, raw or written as a TOML escape, with its line.
fn hostile_character(text: &str) -> Option<(usize, String)> {
    // Nearly every file is plain: only then is the slow search, with its line, needed.
    let is_plain = |byte: &u8| matches!(byte, b'\n' | b'\r' | b'\t' | b' '..=b'[' | b']'..=b'~');
    if text.as_bytes().iter().all(is_plain) {
        return None;
    }
    let name = |character: char| format!("the control character U+{:04X}", u32::from(character));
    let mut is_escaped = false;
    for (offset, character) in text.char_indices() {
        if is_hostile(character) {
            return Some((line_of(text, offset), name(character)));
        }
        // The second of two backslashes is itself the escaped character and begins no escape.
        is_escaped = character == '\\' && !is_escaped;
        if is_escaped {
            let rest = text.get(offset + 1..).unwrap_or_default();
            if let Some(escaped) = escaped_character(rest).filter(|&escaped| is_hostile(escaped)) {
                return Some((line_of(text, offset), name(escaped)));
            }
        }
    }
    None
}

/// The character that a TOML escape (after its backslash) stands for, where it is a coded one.
fn escaped_character(rest: &str) -> Option<char> {
    let mut characters = rest.chars();
    let digits = match characters.next()? {
        'u' => 4,
        'U' => 8,
        'x' => 2,
        'e' => return Some('\u{1b}'),
        'b' => return Some('\u{8}'),
        'f' => return Some('\u{c}'),
        _ => return None,
    };
    let code: String = characters.take(digits).collect();
    u32::from_str_radix(&code, 16).ok().and_then(char::from_u32)
}

/// Characters that steer a terminal or reorder text: C0 (but tab and line ends), delete, C1, and bidirectional controls.
pub fn is_hostile(character: char) -> bool {
    matches!(character,
        '\u{0}'..='\u{8}' | '\u{b}' | '\u{c}' | '\u{e}'..='\u{1f}' | '\u{7f}'..='\u{9f}'
        | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2028}' | '\u{2029}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// Turns the parser's message into what, where and how to mend it.
fn explain(error: &toml::de::Error, text: &str, file: &str) -> Finding {
    let offset = error.span().map(|span| span.start);
    let line = offset.map(|offset| line_of(text, offset));
    let source_line = line.and_then(|line| text.lines().nth(line - 1)).unwrap_or_default();
    let message = error.message().trim().replace('\n', " ");
    if let Some((unknown, expected)) = unknown_name(&message) {
        let known = || expected.iter().map(String::as_str);
        let fix = match suggestion::nearest(&unknown, known()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known here: {}", expected.join(", ")),
        };
        let is_key = message.starts_with("unknown field");
        let (code, what) =
            if is_key { ("unknown-key", "unknown key") } else { ("unknown-word", "unknown word") };
        return Finding::error(code, file, line, format!("{what} `{unknown}`"), fix);
    }
    if let Some(field) = message.strip_prefix("missing field `").and_then(|rest| rest.strip_suffix('`')) {
        let message = format!("the key `{field}` is missing");
        return Finding::error("missing-key", file, line, message, format!("add a line `{field} = …`"));
    }
    if has_decimal_comma(source_line) {
        let message = "a number is written with a comma".to_owned();
        return Finding::error("comma-decimal", file, line, message, "write it with a point, such as 1.5");
    }
    if message.starts_with("duplicate key") {
        let fix = "keep one of the two; a list of ingredients starts each with [[ingredients]]";
        return Finding::error("duplicate-key", file, line, message, fix);
    }
    let fix = format!("see this line: {}", source_line.trim());
    Finding::error(
        "not-toml",
        file,
        line,
        message,
        if source_line.trim().is_empty() { String::new() } else { fix },
    )
}

/// Takes serde's "unknown field/variant `x`, expected …" apart.
fn unknown_name(message: &str) -> Option<(String, Vec<String>)> {
    let rest =
        message.strip_prefix("unknown field `").or_else(|| message.strip_prefix("unknown variant `"))?;
    let (unknown, rest) = rest.split_once('`')?;
    let expected = rest.split('`').skip(1).step_by(2).map(str::to_owned).collect();
    Some((unknown.to_owned(), expected))
}

/// Whether a line holds a value such as `1,5`.
fn has_decimal_comma(line: &str) -> bool {
    let Some((_, value)) = line.split_once('=') else { return false };
    let value = value.trim();
    let Some((whole, rest)) = value.split_once(',') else { return false };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    digits(whole) && rest.starts_with(|character: char| character.is_ascii_digit())
}
