//! What is wrong in a file, where, and how to mend it; and reading TOML so that every mistake is told that way.

use std::fmt;

use serde::de::DeserializeOwned;

use crate::packed::Packed;
use crate::suggestion;

/// Largest file that is read; a formula is some 2 kB.
pub const LARGEST_FILE_BYTES: usize = 1 << 20;

/// Most mistakes of one file told at once; looking on would only cost time.
pub(crate) const MOST_FINDINGS: usize = 40;

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FindingSeverity {
    /// Good to know; nothing is to be changed.
    Note,
    /// Worth a look; nothing is refused.
    Advice,
    /// Probably a mistake; the file is still usable.
    Warning,
    /// The file cannot be used, or what it says to mix hurts somebody who does not know.
    Error,
}

impl FindingSeverity {
    /// The word printed and used in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
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
    pub severity: FindingSeverity,
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
        let (message, fix) = (shortened(message.into()), shortened(fix.into()));
        Self { code, severity: FindingSeverity::Error, file: file.to_owned(), line, message, fix }
    }

    /// The same finding, less grave.
    #[must_use]
    pub fn as_severity(mut self, severity: FindingSeverity) -> Self {
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

/// Longest message; a file with a name or a line of a megabyte must not fill the screen.
const LONGEST_MESSAGE: usize = 1000;

/// Longest part of a file's line that is shown.
const LONGEST_LINE: usize = 100;

/// A message cut at a length that a person reads.
fn shortened(text: String) -> String {
    if text.len() <= LONGEST_MESSAGE { text } else { cut(&text, LONGEST_MESSAGE) }
}

/// The first `most` characters, with an ellipsis where some are left out.
fn cut(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{} …", text.get(..end).unwrap_or_default().trim_end()),
        None => text.to_owned(),
    }
}

/// Where the lines of a text begin, for asking many times which line an offset is on.
#[derive(Debug)]
pub struct LineStarts(Vec<usize>);

impl LineStarts {
    /// Reads the text once.
    pub fn of(text: &str) -> Self {
        Self(text.match_indices('\n').map(|(offset, _)| offset).collect())
    }

    /// Line (from 1) of a byte offset.
    pub fn line(&self, offset: usize) -> usize {
        self.0.partition_point(|&end| end < offset) + 1
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

/// What a table of the program is read from.
#[derive(Debug, Clone, Copy)]
pub enum TableSource<'a> {
    /// A file on disk, or one that a test writes.
    Text(&'a str),
    /// What was packed of it when the program was built.
    Packed(Packed<'static>),
}

impl<'a> From<&'a str> for TableSource<'a> {
    fn from(text: &'a str) -> Self {
        Self::Text(text)
    }
}

impl<'a> From<&'a String> for TableSource<'a> {
    fn from(text: &'a String) -> Self {
        Self::Text(text)
    }
}

impl From<Packed<'static>> for TableSource<'_> {
    fn from(packed: Packed<'static>) -> Self {
        Self::Packed(packed)
    }
}

/// Reads a table of the program into its shape.
///
/// # Errors
/// One finding; of a text with the line and a remedy.
pub fn read_table<'a, T: DeserializeOwned>(
    source: impl Into<TableSource<'a>>,
    file: &str,
) -> Result<T, Finding> {
    match source.into() {
        TableSource::Text(text) => read_toml(text, file),
        TableSource::Packed(packed) => packed.read().map_err(|error| {
            let fix = "this table is part of the program; please report it";
            Finding::error("broken-table", file, None, error.to_string(), fix)
        }),
    }
}

/// The first control or direction-changing character, raw or written as a TOML escape, with its line.
fn hostile_character(text: &str) -> Option<(usize, String)> {
    let is_plain = |byte: &u8| matches!(byte, b'\n' | b'\r' | b'\t' | b' '..=b'[' | b']'..=b'~');
    // Nearly all text is plain: only a line with something else is looked at letter by letter. No escape goes on over the end of a
    // line that stands for a character.
    let bytes = text.as_bytes();
    let mut begins = 0;
    while let Some(rest) = bytes.get(begins..).filter(|rest| !rest.is_empty()) {
        // Without an early end the inner loop runs over many bytes at once.
        let is_odd = |piece: &[u8]| !piece.iter().fold(true, |plain, byte| plain & is_plain(byte));
        let odd = rest.chunks(PIECE).position(is_odd)? * PIECE;
        let odd = odd + rest.get(odd..)?.iter().position(|byte| !is_plain(byte))?;
        let line_begins = rest.get(..odd)?.iter().rposition(|&byte| byte == b'\n').map_or(0, |end| end + 1);
        let line_ends =
            odd + rest.get(odd..)?.iter().position(|&byte| byte == b'\n').unwrap_or(rest.len() - odd);
        if let Some(character) = hostile_in(text.get(begins + line_begins..begins + line_ends)?) {
            let line = line_of(text, begins + odd);
            return Some((line, format!("the control character U+{:04X}", u32::from(character))));
        }
        begins += line_ends + 1;
    }
    None
}

/// Bytes looked at together.
const PIECE: usize = 256;

/// The first hostile character of a line, raw or escaped.
fn hostile_in(line: &str) -> Option<char> {
    let mut is_escaped = false;
    for (offset, character) in line.char_indices() {
        if is_hostile(character) {
            return Some(character);
        }
        // The second of two backslashes is itself the escaped character and begins no escape.
        is_escaped = character == '\\' && !is_escaped;
        if is_escaped {
            let rest = line.get(offset + 1..).unwrap_or_default();
            if let Some(escaped) = escaped_character(rest).filter(|&escaped| is_hostile(escaped)) {
                return Some(escaped);
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

/// Characters that steer a terminal, reorder text, or are there and not seen: C0 (but tab and line ends), delete, C1, bidirectional
/// controls, line separators, joiners, fillers and blanks that are no spaces, selectors of variants, private use and noncharacters.
///
/// Source: the Unicode Character Database (general categories Cc, Cf, Co and Cn, property `Default_Ignorable_Code_Point`; U+2800 is the
/// blank of braille), from memory.
pub fn is_hostile(character: char) -> bool {
    let is_noncharacter = u32::from(character) & 0xfffe == 0xfffe;
    is_noncharacter
        || matches!(character, '\u{34f}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{180b}'..='\u{180f}'
        | '\u{200c}' | '\u{200d}' | '\u{2800}' | '\u{3164}' | '\u{e000}'..='\u{f8ff}' | '\u{fdd0}'..='\u{fdef}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{ffa0}' | '\u{13430}'..='\u{1345f}' | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}' | '\u{f0000}'..='\u{10ffff}')
        || matches!(character,
        '\u{0}'..='\u{8}' | '\u{b}' | '\u{c}' | '\u{e}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{ad}'
        | '\u{61c}' | '\u{180e}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

/// Turns the parser's message into what, where and how to mend it.
fn explain(error: &toml::de::Error, text: &str, file: &str) -> Finding {
    let message = error.message().trim().replace('\n', " ");
    if message == "recursion limit" {
        return too_deep(text, file);
    }
    let offset = error.span().map(|span| span.start);
    let line = offset.map(|offset| line_of(text, offset));
    let source_line = line.and_then(|line| text.lines().nth(line - 1)).unwrap_or_default();
    if let Some((unknown, expected)) = unknown_name(&message) {
        let known = || expected.iter().map(String::as_str);
        let fix = match suggestion::nearest(&unknown, known()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the keys are: {}", expected.join(", ")),
        };
        let is_key = message.starts_with("unknown field");
        let (code, what) =
            if is_key { ("unknown-key", "unknown key") } else { ("unknown-word", "unknown word") };
        return Finding::error(code, file, line, format!("{what} `{unknown}`"), fix);
    }
    if let Some(field) = message.strip_prefix("missing field `").and_then(|rest| rest.strip_suffix('`')) {
        let message = format!("the key `{field}` is missing");
        let value = if field == "format" { "1" } else { "…" };
        return Finding::error("missing-key", file, line, message, format!("add a line `{field} = {value}`"));
    }
    if has_decimal_comma(source_line) {
        let message = "a number is written with a comma".to_owned();
        return Finding::error("comma-decimal", file, line, message, "write it with a point, such as 1.5");
    }
    if message.starts_with("duplicate key") {
        let fix = "keep one of the two; a list of ingredients starts each with [[ingredients]]";
        return Finding::error("duplicate-key", file, line, message, fix);
    }
    if let Some((given, wanted)) = wrong_type(&message) {
        let message = format!("{wanted} is wanted here, and this is {given}");
        let fix = number_alone(source_line)
            .unwrap_or_else(|| format!("change the line: {}", cut(source_line.trim(), LONGEST_LINE)));
        return Finding::error("wrong-type", file, line, message, fix);
    }
    if message.starts_with("the figure") {
        let fix = "write a plain number, such as 12 or 0.5; leave out what is not known";
        return Finding::error("figure", file, line, message, fix);
    }
    let fix = match source_line.trim() {
        "" => "a formula begins with the line `format = 1`".to_owned(),
        shown => format!("see this line: {}", cut(shown, LONGEST_LINE)),
    };
    Finding::error("not-toml", file, line, message, fix)
}

/// For a number in quotes, with the unit that its key already names: the line as it should be.
fn number_alone(line: &str) -> Option<String> {
    let (key, value) = line.split_once('=')?;
    let (key, text) = (key.trim(), value.trim().strip_prefix('"')?.split('"').next()?.trim());
    let unit = if key == "grams" { "g" } else { "ml" };
    let text = if text.to_lowercase().ends_with(unit) { text.get(..text.len() - unit.len())? } else { text };
    let number: f64 = text.trim().parse().ok()?;
    (matches!(key, "grams" | "millilitres") && number.is_finite()).then(|| format!("write {key} = {number}"))
}

/// A key of too many parts, for which the parser names no place: it is on the line with the most dots.
fn too_deep(text: &str, file: &str) -> Finding {
    let dots = |line: &str| line.matches('.').count();
    let (place, line) = text.lines().enumerate().max_by_key(|(_, line)| dots(line)).unwrap_or_default();
    let fix = format!("write it with few dots: {}", cut(line.trim(), LONGEST_LINE));
    Finding::error("not-toml", file, Some(place + 1), "a key has too many parts", fix)
}

/// Takes serde's "invalid type: x, expected y" apart and says both in plain words.
fn wrong_type(message: &str) -> Option<(String, String)> {
    let rest = message.strip_prefix("invalid type: ").or_else(|| message.strip_prefix("invalid value: "))?;
    let (given, wanted) = rest.rsplit_once(", expected ")?;
    let given = match given {
        "map" => "a table or a date".to_owned(),
        "sequence" => "a list".to_owned(),
        other => match other.split_once(' ') {
            Some(("string", text)) => format!("the text {}", cut(text, LONGEST_LINE)),
            Some(("boolean", truth)) => truth.to_owned(),
            Some(("integer", number)) => format!("the number {}", number.trim_end_matches(" as i128")),
            Some(("floating", _)) => "a number with decimals".to_owned(),
            _ => cut(other, LONGEST_LINE),
        },
    };
    let wanted = match wanted {
        "f64" => "an ordinary number without quotes",
        "u32" => "a whole number above zero",
        "a string" => "text in quotes",
        "a boolean" => "true or false",
        "a sequence" => "a list: values in brackets, or tables that each begin with [[name]]",
        "a map" => "a table",
        other if other.starts_with("struct ") => "a table",
        other => other,
    };
    Some((given, wanted.to_owned()))
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
