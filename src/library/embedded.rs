//! The shipped library: every `.toml` file of `formulas/`, embedded as text and packed, sorted by path. Nothing is read until asked for.

use crate::packed::Packed;

/// (path below `formulas/`, text, where its packed values lie), sorted by path.
#[allow(clippy::unreadable_literal, reason = "written by build.rs")]
pub(super) const FILES: &[(&str, &str, (usize, usize))] = include!(concat!(env!("OUT_DIR"), "/embedded.rs"));

/// The packed values of all files.
static PACKED: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/packed.bin"));

/// An embedded file.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shipped {
    /// Its path below `formulas/`.
    pub(crate) path: &'static str,
    pub(crate) text: &'static str,
    pub(crate) packed: Packed<'static>,
}

fn shipped((path, text, (begins, ends)): (&'static str, &'static str, (usize, usize))) -> Shipped {
    Shipped { path, text, packed: Packed::new(PACKED.get(begins..ends).unwrap_or_default()) }
}

/// An embedded file by its path.
pub(super) fn file(path: &str) -> Option<Shipped> {
    let index = FILES.binary_search_by(|(own, ..)| (*own).cmp(path)).ok()?;
    FILES.get(index).copied().map(shipped)
}

/// The text of an embedded file.
pub(super) fn text(path: &str) -> Option<&'static str> {
    file(path).map(|own| own.text)
}

/// The values of an embedded file; nothing where there is none.
pub(super) fn packed(path: &str) -> Packed<'static> {
    file(path).map(|own| own.packed).unwrap_or_default()
}

/// The embedded files of a folder.
pub(super) fn folder(folder: &str) -> impl Iterator<Item = Shipped> {
    let prefix = format!("{folder}/");
    let start = FILES.partition_point(|(path, ..)| *path < prefix.as_str());
    FILES.iter().skip(start).take_while(move |(path, ..)| path.starts_with(&prefix)).copied().map(shipped)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Formula;
    use crate::library::{Library, id_of};
    use crate::substance::Substance;

    #[test]
    fn what_is_packed_is_what_the_text_says() {
        for &file in FILES {
            let Shipped { path, text, packed } = shipped(file);
            let from_text: toml::Table = toml::from_str(text).unwrap();
            assert_eq!(packed.read::<toml::Table>().unwrap(), from_text, "{path}");
        }
    }

    #[test]
    fn a_formula_or_a_substance_is_read_alike_packed_and_from_its_text() {
        let library = Library::shipped();
        let mut read = 0;
        for &file in FILES {
            let Shipped { path, text, packed } = shipped(file);
            let id = id_of(path);
            let (own, other) = match path.split('/').next() {
                Some("tables" | "schemas") => continue,
                Some("substances") => (
                    format!("{:?}", Substance::of_shipped((text, packed), id, path, library.weights())),
                    format!("{:?}", Substance::parse(text, id, path, library.weights())),
                ),
                _ => (
                    format!("{:?}", Formula::of_shipped((text, packed), id, path, &library)),
                    format!("{:?}", Formula::parse(text, id, path, &library)),
                ),
            };
            assert_eq!(own, other);
            assert!(own.starts_with("Ok("), "{own}");
            read += 1;
        }
        assert!(read > 300, "{read}");
    }
}
