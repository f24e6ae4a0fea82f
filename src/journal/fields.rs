//! The keys and values of one chunk: quickly where it stands as this program writes it, else through the reader of all files.

use std::borrow::Cow;

use super::unread::UnreadReason;
use crate::diagnostic::read_toml;
use serde::Deserialize;

/// A value of an entry.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value<'t> {
    Text(Cow<'t, str>),
    Figure(f64),
    Texts(Vec<Cow<'t, str>>),
    Figures(Vec<f64>),
    /// Whatever else a hand or a later version wrote.
    Other,
}

/// The keys of an entry that nobody has asked for yet.
#[derive(Debug, Default)]
pub(super) struct Fields<'t> {
    fields: Vec<(Cow<'t, str>, Value<'t>)>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChunkFile {
    #[serde(default)]
    entry: Vec<toml::Table>,
}

impl<'t> Fields<'t> {
    /// The one entry of a chunk that stands exactly as this program writes it; none where the careful reader must look.
    pub(super) fn plain(text: &'t str) -> Option<Self> {
        let mut lines = text.lines().map(str::trim_end).skip_while(|line| line.is_empty());
        if lines.next()? != "[[entry]]" {
            return None;
        }
        let mut fields: Vec<(Cow<'t, str>, Value<'t>)> = Vec::with_capacity(16);
        let mut is_ended = false;
        for line in lines {
            if is_ended {
                if !line.is_empty() {
                    return None;
                }
                continue;
            }
            if line == "end = true" {
                is_ended = true;
                continue;
            }
            let (key, value) = line.split_once(" = ")?;
            if !key.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_') || key.is_empty() {
                return None;
            }
            if fields.iter().any(|(known, _)| known == key) {
                return None;
            }
            fields.push((Cow::Borrowed(key), plain_value(value)?));
        }
        is_ended.then_some(Self { fields })
    }

    /// The entry of a chunk by the reader of all files; none of a chunk of comments only.
    pub(super) fn careful(text: &str) -> Result<Option<Self>, String> {
        let shape: ChunkFile = read_toml(text, "").map_err(|finding| finding.message)?;
        let Some(table) = shape.entry.into_iter().next() else { return Ok(None) };
        let fields = table
            .into_iter()
            .filter(|(key, _)| key != "end")
            .map(|(key, value)| (Cow::Owned(key), careful_value(value)));
        Ok(Some(Self { fields: fields.collect() }))
    }

    fn take(&mut self, key: &str) -> Option<Value<'t>> {
        let position = self.fields.iter().position(|(known, _)| known == key)?;
        Some(self.fields.swap_remove(position).1)
    }

    /// A text, as it lies in the file where it can.
    pub(super) fn optional_piece(&mut self, key: &'static str) -> Result<Option<Cow<'t, str>>, UnreadReason> {
        match self.take(key) {
            None => Ok(None),
            Some(Value::Text(text)) => Ok(Some(text)),
            Some(_) => Err(wrong(key, "a text")),
        }
    }

    /// The same, where it must stand there.
    pub(super) fn piece(&mut self, key: &'static str) -> Result<Cow<'t, str>, UnreadReason> {
        self.optional_piece(key)?.ok_or_else(|| missing(key))
    }

    pub(super) fn optional_text(&mut self, key: &'static str) -> Result<Option<String>, UnreadReason> {
        Ok(self.optional_piece(key)?.map(Cow::into_owned))
    }

    /// A text that must stand there.
    pub(super) fn text(&mut self, key: &'static str) -> Result<String, UnreadReason> {
        self.optional_text(key)?.ok_or_else(|| missing(key))
    }

    /// A text that is one of some words, or has a shape of its own.
    pub(super) fn optional_word<T>(
        &mut self,
        key: &'static str,
        read: impl Fn(&str) -> Option<T>,
    ) -> Result<Option<T>, UnreadReason> {
        let Some(text) = self.optional_piece(key)? else { return Ok(None) };
        match read(&text) {
            Some(value) => Ok(Some(value)),
            None => Err(UnreadReason::Damaged { what: format!("{key} `{}` cannot be", shown(&text)) }),
        }
    }

    pub(super) fn optional_figure(&mut self, key: &'static str) -> Result<Option<f64>, UnreadReason> {
        match self.take(key) {
            None => Ok(None),
            Some(Value::Figure(figure)) => Ok(Some(figure)),
            Some(_) => Err(wrong(key, "a number")),
        }
    }

    /// A figure that must stand there.
    pub(super) fn figure(&mut self, key: &'static str) -> Result<f64, UnreadReason> {
        self.optional_figure(key)?.ok_or_else(|| missing(key))
    }

    /// A list of texts, empty where there is none.
    pub(super) fn texts(&mut self, key: &'static str) -> Result<Vec<String>, UnreadReason> {
        match self.take(key) {
            None => Ok(Vec::new()),
            Some(Value::Texts(texts)) => Ok(texts.into_iter().map(Cow::into_owned).collect()),
            Some(Value::Figures(figures)) if figures.is_empty() => Ok(Vec::new()),
            Some(_) => Err(wrong(key, "a list of texts")),
        }
    }

    /// A list of figures for so many bottles, `nan` where one is not known.
    pub(super) fn figures(
        &mut self,
        key: &'static str,
        length: usize,
    ) -> Result<Vec<Option<f64>>, UnreadReason> {
        match self.take(key) {
            None => Ok(vec![None; length]),
            Some(Value::Figures(figures)) if figures.len() == length => {
                Ok(figures.into_iter().map(|figure| (!figure.is_nan()).then_some(figure)).collect())
            }
            Some(_) => Err(wrong(key, "a list of numbers, one for each bottle")),
        }
    }

    /// Refuses what is left: a key that this version does not know is not for it to drop.
    pub(super) fn finish(&self) -> Result<(), UnreadReason> {
        match self.fields.iter().map(|(key, _)| key).min() {
            None => Ok(()),
            Some(key) => Err(UnreadReason::Later { what: format!("unknown field `{}`", shown(key)) }),
        }
    }
}

fn wrong(key: &str, wanted: &str) -> UnreadReason {
    UnreadReason::Damaged { what: format!("{key} is not {wanted}") }
}

fn missing(key: &str) -> UnreadReason {
    UnreadReason::Damaged { what: format!("missing field `{key}`") }
}

/// Text of the file as it may stand in a message.
pub(super) fn shown(text: &str) -> String {
    text.chars().filter(|character| !character.is_control()).take(60).collect()
}

fn plain_value(text: &str) -> Option<Value<'_>> {
    match text.as_bytes().first()? {
        b'"' => {
            let (value, rest) = plain_text(text)?;
            rest.is_empty().then_some(Value::Text(value))
        }
        b'[' => plain_list(text.strip_prefix('[')?.strip_suffix(']')?),
        _ => plain_figure(text).map(Value::Figure),
    }
}

/// A quoted text with no escapes but those of the stroke and the quote, and what follows it.
fn plain_text(text: &str) -> Option<(Cow<'_, str>, &str)> {
    let inner = text.strip_prefix('"')?;
    let end = inner.bytes().position(|byte| matches!(byte, b'"' | b'\\'))?;
    if inner.as_bytes().get(end) == Some(&b'"') {
        return Some((Cow::Borrowed(inner.get(..end)?), inner.get(end + 1..)?));
    }
    let mut value = String::with_capacity(inner.len());
    let mut characters = inner.char_indices();
    while let Some((index, character)) = characters.next() {
        match character {
            '"' => return Some((Cow::Owned(value), inner.get(index + 1..)?)),
            '\\' => match characters.next()? {
                (_, escaped @ ('\\' | '"')) => value.push(escaped),
                _ => return None,
            },
            plain => value.push(plain),
        }
    }
    None
}

fn plain_list(inner: &str) -> Option<Value<'_>> {
    if !inner.starts_with('"') {
        return inner.split(", ").map(plain_figure).collect::<Option<Vec<f64>>>().map(Value::Figures);
    }
    let mut texts = Vec::new();
    let mut rest = inner;
    loop {
        let (text, after) = plain_text(rest)?;
        texts.push(text);
        if after.is_empty() {
            return Some(Value::Texts(texts));
        }
        rest = after.strip_prefix(", ")?;
    }
}

/// A number in TOML's plainest shape: no exponent, no leading zero, no underscores.
fn plain_figure(text: &str) -> Option<f64> {
    if text == "nan" {
        return Some(f64::NAN);
    }
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, "0"));
    let is_digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let is_plain = is_digits(whole) && is_digits(fraction) && (whole.len() == 1 || !whole.starts_with('0'));
    if is_plain { text.parse().ok() } else { None }
}

fn careful_value(value: toml::Value) -> Value<'static> {
    match value {
        toml::Value::String(text) => Value::Text(Cow::Owned(text)),
        toml::Value::Array(items) => {
            let texts: Option<Vec<Cow<'static, str>>> =
                items.iter().map(|item| item.as_str().map(|text| Cow::Owned(text.to_owned()))).collect();
            let figures: Option<Vec<f64>> = items.iter().map(careful_figure).collect();
            match (figures, texts) {
                (Some(figures), _) => Value::Figures(figures),
                (None, Some(texts)) => Value::Texts(texts),
                (None, None) => Value::Other,
            }
        }
        other => careful_figure(&other).map_or(Value::Other, Value::Figure),
    }
}

#[allow(clippy::cast_precision_loss, reason = "no figure of a journal is beyond 2^53")]
fn careful_figure(value: &toml::Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64))
}
