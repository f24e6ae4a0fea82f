//! Tables of many rows of which a recipe needs few: of a packed table a row is read only when it is asked for.
//!
//! Of each row only the names that decide whether it matters are looked at. From text, all rows are read at once, and every mistake is
//! told with its line; a test does so for the shipped tables, and reads each of their packed rows, since one that did not read would be
//! as if it were not there.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Deserializer};

use crate::diagnostic::line_of;
use crate::packed::{Packed, Placed};

/// A row that is found by its name.
pub(super) trait Named {
    /// The key of its name.
    const KEY: &'static str;
    fn row_name(&self) -> &str;
}

/// One row, perhaps not read yet.
#[derive(Debug, Clone)]
struct Row<T> {
    packed: Option<Packed<'static>>,
    /// Where it begins in the text, in bytes; 0 of a packed one.
    start: usize,
    /// Kept apart: most rows are never read.
    value: OnceLock<Option<Box<T>>>,
    clues: OnceLock<Clues>,
}

/// What is looked at before a packed row is read: bytes, of which it is enough to know whether they are the same.
#[derive(Debug, Clone, Default)]
struct Clues {
    places: Vec<&'static [u8]>,
    /// The names in its `any` and in that of each of its members.
    lists: Vec<Vec<&'static [u8]>>,
}

impl Clues {
    fn of(row: Packed<'static>) -> Self {
        let texts = |list: Packed<'static>| list.values().filter_map(Packed::raw_text).collect();
        let mut clues = Self::default();
        for (key, value) in row.raw_entries() {
            match key {
                b"where" => clues.places = texts(value),
                b"any" => clues.lists.push(texts(value)),
                b"members" => {
                    clues.lists.extend(value.values().filter_map(|member| member.get("any")).map(texts));
                }
                _ => {}
            }
        }
        clues
    }

    fn could_matter(&self, names: &[&str], one_is_enough: bool, words: &[&str]) -> bool {
        let is_there = words.is_empty() || self.places.iter().any(|place| is_among(words, place));
        let mut has_one = self.lists.iter().map(|list| list.iter().any(|name| is_among(names, name)));
        is_there
            && if one_is_enough {
                self.lists.is_empty() || has_one.any(|has| has)
            } else {
                has_one.all(|has| has)
            }
    }
}

fn is_among(words: &[&str], word: &[u8]) -> bool {
    words.iter().any(|own| own.as_bytes() == word)
}

impl<T> Row<T> {
    fn read(value: T, start: usize) -> Self {
        Self { packed: None, start, value: OnceLock::from(Some(Box::new(value))), clues: OnceLock::new() }
    }

    fn unread(packed: Packed<'static>) -> Self {
        Self { packed: Some(packed), start: 0, value: OnceLock::new(), clues: OnceLock::new() }
    }
}

impl<T: DeserializeOwned> Row<T> {
    #[allow(
        clippy::panic,
        reason = "a shipped row that cannot be read must stop the program: it never counts as absent"
    )]
    fn get(&self) -> Option<&T> {
        let read = |packed: Packed<'static>| match packed.read() {
            Ok(row) => Box::new(row),
            Err(error) => panic!("a row of the shipped tables of safety cannot be read: {error}"),
        };
        self.value.get_or_init(|| self.packed.map(read)).as_deref()
    }
}

/// The rows of an array.
#[derive(Debug, Clone)]
pub(super) struct Rows<T> {
    rows: Vec<Row<T>>,
    /// Places by name, of a packed table; the first of a name.
    by_name: OnceLock<BTreeMap<&'static str, usize>>,
}

impl<T> Default for Rows<T> {
    fn default() -> Self {
        Self::of(Vec::new())
    }
}

impl<T> Rows<T> {
    fn of(rows: Vec<Row<T>>) -> Self {
        Self { rows, by_name: OnceLock::new() }
    }
}

impl<'de, T: DeserializeOwned> Deserialize<'de> for Rows<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let rows = Vec::<Placed<T>>::deserialize(deserializer)?;
        let row = |row: Placed<T>| {
            let start = row.start();
            Row::read(row.into_inner(), start)
        };
        Ok(Self::of(rows.into_iter().map(row).collect()))
    }
}

impl<T: DeserializeOwned> Rows<T> {
    /// The rows of an array of a packed table.
    pub(super) fn of_packed(table: Packed<'static>, name: &str) -> Self {
        let rows = table.get(name).into_iter().flat_map(Packed::values);
        Self::of(rows.map(Row::unread).collect())
    }

    pub(super) fn all(&self) -> impl Iterator<Item = &T> {
        self.rows.iter().filter_map(Row::get)
    }

    /// All rows with the line of the text where each begins.
    pub(super) fn with_lines(&self, text: &str) -> impl Iterator<Item = (&T, usize)> {
        self.rows.iter().filter_map(move |row| Some((row.get()?, line_of(text, row.start))))
    }

    /// The rows that could matter where these names are: in each of their lists (or in one, if that is enough) one of them stands.
    /// A row without such a list is kept. Where `words` are given, one of them must stand in its `where`.
    pub(super) fn among(&self, names: &[&str], one_is_enough: bool, words: &[&str]) -> Vec<&T> {
        let could_matter = |row: &&Row<T>| {
            row.packed.is_none_or(|packed| {
                let clues = row.clues.get_or_init(|| Clues::of(packed));
                clues.could_matter(names, one_is_enough, words)
            })
        };
        self.rows.iter().filter(could_matter).filter_map(Row::get).collect()
    }

    /// Every row in words, and a panic at one that does not read: [`Rows::all`] would pass it over.
    #[cfg(test)]
    pub(super) fn each_in_words(&self) -> Vec<String>
    where
        T: std::fmt::Debug,
    {
        self.rows.iter().map(|row| format!("{:?}", row.get().unwrap())).collect()
    }

    /// The lists of names as they are looked at before a row is read, beside the row itself.
    #[cfg(test)]
    pub(super) fn with_lists(&self) -> Vec<(&T, Vec<Vec<&str>>)> {
        let text = |bytes: &'static [u8]| std::str::from_utf8(bytes).unwrap();
        let lists = |row: &Row<T>| Clues::of(row.packed.unwrap()).lists;
        let texts = |row| lists(row).into_iter().map(|list| list.into_iter().map(text).collect()).collect();
        self.rows.iter().map(|row| (row.get().unwrap(), texts(row))).collect()
    }
}

impl<T: DeserializeOwned + Named> Rows<T> {
    pub(super) fn find(&self, name: &str) -> Option<&T> {
        let by_name = self.by_name.get_or_init(|| {
            let name_of = |(place, row): (usize, &Row<T>)| Some((row.packed?.get(T::KEY)?.text()?, place));
            let mut places = BTreeMap::new();
            for (name, place) in self.rows.iter().enumerate().filter_map(name_of) {
                places.entry(name).or_insert(place);
            }
            places
        });
        match by_name.get(name) {
            Some(place) => self.rows.get(*place)?.get(),
            None => self
                .rows
                .iter()
                .filter(|row| row.packed.is_none())
                .find_map(|row| row.get().filter(|own| own.row_name() == name)),
        }
    }
}
