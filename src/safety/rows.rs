//! Tables of many rows of which a recipe needs few: each `[[name]]` row is read only when it is asked for.
//!
//! Reading every row of the tables of safety takes longer than all the rest of a sheet. So a table is first cut into rows at the lines
//! that begin with `[[`, and of each row only the names that decide whether it matters are looked at; TOML is read when a row is
//! used. [`Rows::check`] reads them all and tells every mistake with its line; a test does so for the shipped tables.

use std::cell::OnceCell;

use serde::de::DeserializeOwned;

use crate::diagnostic::{Finding, read_toml};

/// A table cut into its head (what stands before the first row) and its rows.
#[derive(Debug)]
pub(super) struct Cut<'a> {
    /// What stands before the first row.
    pub(super) head: &'a str,
    /// Name of the array, first line after the header (from 1), text without the header.
    rows: Vec<(&'a str, usize, &'a str)>,
}

/// Cuts a table at the lines that begin with `[[`.
pub(super) fn cut(text: &str) -> Cut<'_> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut head = text;
    let mut rows: Vec<(&str, usize, &str)> = Vec::new();
    let (mut offset, mut begun): (usize, Option<(&str, usize, usize)>) = (0, None);
    for (index, line) in text.split_inclusive('\n').enumerate() {
        if let Some(name) =
            line.strip_prefix("[[").and_then(|rest| rest.split_once("]]")).map(|(name, _)| name)
        {
            match begun {
                Some((own, number, start)) => {
                    rows.push((own, number, text.get(start..offset).unwrap_or_default()));
                }
                None => head = text.get(..offset).unwrap_or_default(),
            }
            begun = Some((name.trim(), index + 2, offset + line.len()));
        }
        offset += line.len();
    }
    if let Some((own, number, start)) = begun {
        rows.push((own, number, text.get(start..).unwrap_or_default()));
    }
    Cut { head, rows }
}

impl Cut<'_> {
    /// The rows of one array.
    pub(super) fn rows<T: DeserializeOwned>(&self, name: &str) -> Rows<T> {
        let own = self.rows.iter().filter(|(own, ..)| *own == name);
        Rows(own.map(|(_, line, text)| Row::new((*text).to_owned(), *line)).collect())
    }

    /// Refuses arrays that the table should not have.
    pub(super) fn only(&self, names: &[&str], file: &str) -> Result<(), Finding> {
        match self.rows.iter().find(|(own, ..)| !names.contains(own)) {
            Some((own, line, _)) => {
                let fix = format!("known here: {}", names.join(", "));
                Err(Finding::error("unknown-key", file, Some(line - 1), format!("unknown key `{own}`"), fix))
            }
            None => Ok(()),
        }
    }
}

/// One row, not read yet.
#[derive(Debug, Clone)]
struct Row<T> {
    text: String,
    line: usize,
    value: OnceCell<Option<T>>,
}

impl<T: DeserializeOwned> Row<T> {
    fn new(text: String, line: usize) -> Self {
        Self { text, line, value: OnceCell::new() }
    }

    fn get(&self) -> Option<&T> {
        self.value.get_or_init(|| read_toml(&self.text, "").ok()).as_ref()
    }
}

/// The rows of an array.
#[derive(Debug, Clone)]
pub(super) struct Rows<T>(Vec<Row<T>>);

impl<T> Default for Rows<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T: DeserializeOwned> Rows<T> {
    /// Reads every row.
    ///
    /// # Errors
    /// The first that is not of its shape, with its line in the whole file.
    pub(super) fn check(&self, file: &str) -> Result<(), Finding> {
        for row in &self.0 {
            let read: Result<T, Finding> = read_toml(&row.text, file);
            read.map_err(|finding| Finding {
                line: finding.line.map(|line| line + row.line - 1),
                ..finding
            })?;
        }
        Ok(())
    }

    /// All rows.
    pub(super) fn all(&self) -> impl Iterator<Item = &T> {
        self.0.iter().filter_map(Row::get)
    }

    /// All rows with the line of their header.
    pub(super) fn with_lines(&self) -> impl Iterator<Item = (&T, usize)> {
        self.0.iter().filter_map(|row| Some((row.get()?, row.line - 1)))
    }

    /// The row that begins with this key and value.
    pub(super) fn find(&self, key: &str, value: &str) -> Option<&T> {
        let line = format!("{key} = \"{value}\"");
        let ends =
            |rest: &str| rest.trim_start_matches([' ', '\t', '\r']).starts_with('\n') || rest.is_empty();
        self.0.iter().find(|row| row.text.strip_prefix(line.as_str()).is_some_and(ends))?.get()
    }

    /// The rows that could matter where these names are: in each of their lists (or in one, if that is enough) one of them stands.
    /// A row without such a list is kept. Where `words` are given, one of them must stand in the row.
    pub(super) fn among(&self, names: &[&str], one_is_enough: bool, words: &[&str]) -> Vec<&T> {
        let has_one = |list: &[&str]| list.iter().any(|name| names.contains(name));
        self.0
            .iter()
            .filter(|row| words.is_empty() || words.iter().any(|word| row.text.contains(word)))
            .filter(|row| {
                let lists = lists_of(&row.text);
                let mut lists = lists.iter().map(|list| has_one(list));
                if one_is_enough { lists.len() == 0 || lists.any(|has| has) } else { lists.all(|has| has) }
            })
            .filter_map(Row::get)
            .collect()
    }

    /// The lists of names as they are looked at before a row is read, beside the row itself.
    #[cfg(test)]
    pub(super) fn with_lists(&self) -> Vec<(&T, Vec<Vec<&str>>)> {
        self.0.iter().map(|row| (row.get().unwrap(), lists_of(&row.text))).collect()
    }
}

/// The names in each `any = […]` of a row.
fn lists_of(text: &str) -> Vec<Vec<&str>> {
    // By the one letter, which is found more quickly than the word.
    let mut is_list = false;
    let mut lists = Vec::new();
    for piece in text.split('[') {
        if is_list {
            let list = piece.split(']').next().unwrap_or(piece);
            lists.push(list.split('"').skip(1).step_by(2).collect());
        }
        is_list = piece.ends_with("any = ");
    }
    lists
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, serde::Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Named {
        id: String,
    }

    const TABLE: &str =
        "format = 1\n# any = [\n[[a]]\nid = \"x\"\n\n[[b]]\nid = \"y\"\n[[a]]\nid = \"z\"\nodd = 1\n";

    #[test]
    fn a_table_is_cut_into_head_and_rows() {
        let table = cut(TABLE);
        assert_eq!(table.head, "format = 1\n# any = [\n");
        let rows: Rows<Named> = table.rows("b");
        assert_eq!(rows.all().map(|row| row.id.as_str()).collect::<Vec<_>>(), ["y"]);
        assert!(rows.find("id", "y").is_some() && rows.find("id", "x").is_none());
        assert_eq!(cut("format = 1\n").rows::<Named>("a").all().count(), 0);
    }

    #[test]
    fn a_mistake_is_told_with_its_line_in_the_file() {
        let table = cut(TABLE);
        let finding = table.rows::<Named>("a").check("t.toml").unwrap_err();
        assert_eq!((finding.line, finding.code), (Some(10), "unknown-key"));
        assert_eq!(table.only(&["a"], "t.toml").unwrap_err().line, Some(6));
    }
}
