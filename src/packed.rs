//! The shipped files as they were packed when the program was built: the values of their TOML, ready to be read by the same shapes.
//!
//! Reading TOML takes longer than all the rest of an answer, so `build.rs` reads it once and writes down the values: a mark a value, the
//! length of what may be long, so that what is not asked for is stepped over. It decides nothing and knows no shape. The text is
//! embedded too, for whoever wants to see it; a test holds every file against what was packed of it.
//!
//! | mark | value |
//! | --- | --- |
//! | `t`, `n` | true, false |
//! | `i`, `f` | whole number, number: eight bytes, the lowest first |
//! | `"` | text: its length in four bytes, UTF-8 |
//! | `[` | list: its length in four bytes, values |
//! | `{` | table: its length in four bytes, where it begins in the text in four bytes; for each key one byte of length, UTF-8, a value |

use std::fmt;

use serde::de::value::{BorrowedStrDeserializer, Error, MapAccessDeserializer};
use serde::de::{self, DeserializeSeed, Deserializer, Error as _, Visitor};
use serde::{Deserialize, forward_to_deserialize_any};
use toml::Spanned;

/// The name by which a shape asks for a value as it is packed.
const RAW: &str = "soupcon: packed";

/// A packed value, not read yet.
#[derive(Debug, Clone, Copy, Default)]
pub struct Packed<'a>(&'a [u8]);

impl<'a> Packed<'a> {
    /// What `build.rs` wrote.
    pub const fn new(bytes: &'a [u8]) -> Self {
        Self(bytes)
    }

    /// Reads it into a shape.
    ///
    /// # Errors
    /// It is not of that shape.
    pub fn read<T: Deserialize<'a>>(self) -> Result<T, Error> {
        T::deserialize(&mut Reader { rest: self.0 })
    }

    /// The keys of a table with their values; none of anything else.
    pub fn entries(self) -> impl Iterator<Item = (&'a str, Self)> {
        self.raw_entries().map_while(|(key, value)| Some((std::str::from_utf8(key).ok()?, value)))
    }

    /// The keys of a table, as bytes, with their values; none of anything else.
    pub(crate) fn raw_entries(self) -> impl Iterator<Item = (&'a [u8], Self)> {
        let mut reader = Reader { rest: self.0 };
        let is_table = reader.mark().is_ok_and(|mark| mark == b'{');
        let mut rest = if is_table { reader.table().unwrap_or_default() } else { &[] };
        std::iter::from_fn(move || {
            let mut reader = Reader { rest };
            let entry = (reader.key().ok()?, Self(reader.skipped().ok()?));
            rest = reader.rest;
            Some(entry)
        })
    }

    /// The values of a list; none of anything else.
    pub fn values(self) -> impl Iterator<Item = Self> {
        let mut reader = Reader { rest: self.0 };
        let is_list = reader.mark().is_ok_and(|mark| mark == b'[');
        let mut rest = if is_list { reader.sized().unwrap_or_default() } else { &[] };
        std::iter::from_fn(move || {
            let mut reader = Reader { rest };
            let value = reader.skipped().ok()?;
            rest = reader.rest;
            Some(Self(value))
        })
    }

    /// The value of a key of a table.
    pub fn get(self, key: &str) -> Option<Self> {
        self.raw_entries().find(|(name, _)| *name == key.as_bytes()).map(|(_, value)| value)
    }

    /// The bytes of a text; none of anything else.
    pub(crate) fn raw_text(self) -> Option<&'a [u8]> {
        let mut reader = Reader { rest: self.0 };
        if reader.mark().ok()? == b'"' { reader.sized().ok() } else { None }
    }

    /// A text; none of anything else.
    pub fn text(self) -> Option<&'a str> {
        let mut reader = Reader { rest: self.0 };
        if reader.mark().ok()? == b'"' { reader.text().ok() } else { None }
    }
}

impl<'de> Deserialize<'de> for Packed<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Bytes;
        impl<'de> Visitor<'de> for Bytes {
            type Value = Packed<'de>;

            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("a packed value")
            }

            fn visit_borrowed_bytes<E: de::Error>(self, bytes: &'de [u8]) -> Result<Self::Value, E> {
                Ok(Packed(bytes))
            }
        }
        deserializer.deserialize_newtype_struct(RAW, Bytes)
    }
}

/// A value with the place in its file where it begins. Of packed values only a table has one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Placed<T> {
    value: T,
    start: usize,
}

impl<T> Placed<T> {
    /// Where it begins, in bytes.
    pub(crate) fn start(&self) -> usize {
        self.start
    }

    pub(crate) fn get_ref(&self) -> &T {
        &self.value
    }

    /// The value alone.
    pub(crate) fn into_inner(self) -> T {
        self.value
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Placed<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        /// A packed value, after which the place of its table is asked for.
        struct WithPlace<T>(std::marker::PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for WithPlace<T> {
            type Value = Placed<T>;

            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("a packed value")
            }

            fn visit_borrowed_bytes<E: de::Error>(self, bytes: &'de [u8]) -> Result<Self::Value, E> {
                let place = Reader { rest: bytes }.place();
                let value = Packed(bytes).read().map_err(E::custom)?;
                Ok(Placed { value, start: place.unwrap_or_default() })
            }
        }
        if deserializer.is_human_readable() {
            let spanned = Spanned::<T>::deserialize(deserializer)?;
            let start = spanned.span().start;
            return Ok(Self { value: spanned.into_inner(), start });
        }
        deserializer.deserialize_newtype_struct(RAW, WithPlace(std::marker::PhantomData))
    }
}

/// Reads values one after another.
struct Reader<'a> {
    rest: &'a [u8],
}

fn ends_early() -> Error {
    Error::custom("a packed file ends early")
}

impl<'a> Reader<'a> {
    fn taken(&mut self, count: usize) -> Result<&'a [u8], Error> {
        let (taken, rest) = self.rest.split_at_checked(count).ok_or_else(ends_early)?;
        self.rest = rest;
        Ok(taken)
    }

    fn chunk<const N: usize>(&mut self) -> Result<[u8; N], Error> {
        let (chunk, rest) = self.rest.split_first_chunk().ok_or_else(ends_early)?;
        self.rest = rest;
        Ok(*chunk)
    }

    fn mark(&mut self) -> Result<u8, Error> {
        self.chunk().map(|[mark]| mark)
    }

    fn length(&mut self) -> Result<usize, Error> {
        self.chunk().map(|bytes| u32::from_le_bytes(bytes) as usize)
    }

    fn sized(&mut self) -> Result<&'a [u8], Error> {
        let length = self.length()?;
        self.taken(length)
    }

    fn text(&mut self) -> Result<&'a str, Error> {
        std::str::from_utf8(self.sized()?).map_err(Error::custom)
    }

    /// What is in a table, after its mark.
    fn table(&mut self) -> Result<&'a [u8], Error> {
        let length = self.length()?;
        self.length()?;
        self.taken(length)
    }

    fn key(&mut self) -> Result<&'a [u8], Error> {
        let length = usize::from(self.mark()?);
        self.taken(length)
    }

    /// A whole value, not read.
    fn skipped(&mut self) -> Result<&'a [u8], Error> {
        let whole = self.rest;
        match self.mark()? {
            b't' | b'n' => {}
            b'i' | b'f' => {
                self.taken(8)?;
            }
            b'{' => {
                self.table()?;
            }
            _ => {
                self.sized()?;
            }
        }
        Ok(whole.get(..whole.len() - self.rest.len()).unwrap_or_default())
    }

    /// Where a table begins in the text.
    fn place(mut self) -> Option<usize> {
        (self.mark().ok()? == b'{').then_some(())?;
        self.length().ok()?;
        self.length().ok()
    }
}

impl<'de> Deserializer<'de> for &mut Reader<'de> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.mark()? {
            b't' => visitor.visit_bool(true),
            b'n' => visitor.visit_bool(false),
            b'i' => visitor.visit_i64(i64::from_le_bytes(self.chunk()?)),
            b'f' => visitor.visit_f64(f64::from_le_bytes(self.chunk()?)),
            b'"' => visitor.visit_borrowed_str(self.text()?),
            b'[' => visitor.visit_seq(Reader { rest: self.sized()? }),
            b'{' => visitor.visit_map(Reader { rest: self.table()? }),
            _ => Err(Error::custom("a packed file has an unknown mark")),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        if name == RAW {
            return visitor.visit_borrowed_bytes(self.skipped()?);
        }
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        match self.mark()? {
            b'"' => visitor.visit_enum(BorrowedStrDeserializer::new(self.text()?)),
            b'{' => {
                let entries = Reader { rest: self.table()? };
                visitor.visit_enum(MapAccessDeserializer::new(entries))
            }
            _ => Err(Error::custom("one of several words is wanted")),
        }
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        self.skipped()?;
        visitor.visit_unit()
    }

    fn is_human_readable(&self) -> bool {
        false
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct seq tuple tuple_struct
        map struct identifier
    }
}

/// A key. The name of a field is compared as bytes, and need not be proved to be text first.
struct Key<'a>(&'a [u8]);

impl<'de> Deserializer<'de> for Key<'de> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_borrowed_str(std::str::from_utf8(self.0).map_err(Error::custom)?)
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_borrowed_bytes(self.0)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let key = std::str::from_utf8(self.0).map_err(Error::custom)?;
        BorrowedStrDeserializer::new(key).deserialize_enum(name, variants, visitor)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct newtype_struct
        seq tuple tuple_struct map struct ignored_any
    }
}

impl<'de> de::SeqAccess<'de> for Reader<'de> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Error> {
        if self.rest.is_empty() {
            return Ok(None);
        }
        seed.deserialize(self).map(Some)
    }
}

impl<'de> de::MapAccess<'de> for Reader<'de> {
    type Error = Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Error> {
        if self.rest.is_empty() {
            return Ok(None);
        }
        seed.deserialize(Key(self.key()?)).map(Some)
    }

    fn next_value_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<T::Value, Error> {
        seed.deserialize(self)
    }
}
