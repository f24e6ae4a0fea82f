//! Lists the files of `formulas/` for embedding; it reads no contents and decides nothing.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default()).join("formulas");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default()).join("embedded.rs");
    println!("cargo::rerun-if-changed=src/build.rs");
    println!("cargo::rerun-if-changed={}", root.display());
    let mut files = Vec::new();
    collect(&root, &root, &mut files)?;
    files.sort();
    let mut table = String::from("&[\n");
    for file in &files {
        let path = root.join(file);
        let _ = writeln!(table, "    ({file:?}, include_str!({:?})),", path.display().to_string());
    }
    table.push(']');
    fs::write(out, table)
}

/// Collects the `.toml` files below `folder` as paths with forward slashes, relative to `root`.
fn collect(root: &Path, folder: &Path, files: &mut Vec<String>) -> io::Result<()> {
    println!("cargo::rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            collect(root, &path, files)?;
        } else if path.extension().is_some_and(|extension| extension == "toml") {
            let relative = path.strip_prefix(root).unwrap_or(&path);
            let parts: Vec<_> = relative.iter().map(|part| part.to_string_lossy()).collect();
            files.push(parts.join("/"));
        }
    }
    Ok(())
}
