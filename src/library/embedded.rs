//! The shipped library: every `.toml` file of `formulas/`, embedded as text and sorted by path. Nothing is parsed until asked for.

/// (path below `formulas/`, text), sorted by path.
pub(super) const FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/embedded.rs"));

/// An embedded file by its path.
pub(super) fn file(path: &str) -> Option<(&'static str, &'static str)> {
    let index = FILES.binary_search_by(|(own, _)| (*own).cmp(path)).ok()?;
    FILES.get(index).copied()
}

/// The text of an embedded file.
pub(super) fn text(path: &str) -> Option<&'static str> {
    file(path).map(|(_, text)| text)
}

/// The embedded files of a folder.
pub(super) fn folder(folder: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    let prefix = format!("{folder}/");
    let start = FILES.partition_point(|(path, _)| *path < prefix.as_str());
    FILES.iter().skip(start).take_while(move |(path, _)| path.starts_with(&prefix)).copied()
}
