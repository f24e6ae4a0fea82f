//! Lists the files of `formulas/` for embedding and packs what stands in them; it knows no shape and decides nothing.
//!
//! How a value is packed is told in `packed.rs`, which reads it.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use toml::de::{DeTable, DeValue};

fn main() -> io::Result<()> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default()).join("formulas");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    println!("cargo::rerun-if-changed=src/build.rs");
    println!("cargo::rerun-if-changed={}", root.display());
    let mut files = Vec::new();
    collect(&root, &root, &mut files)?;
    files.sort();
    let (mut table, mut packed) = (String::from("&[\n"), Vec::new());
    for file in &files {
        let path = root.join(file);
        let text = fs::read_to_string(&path)?;
        let begins = packed.len();
        pack_file(&text, &mut packed).map_err(|problem| {
            io::Error::new(io::ErrorKind::InvalidData, format!("{}: {problem}", path.display()))
        })?;
        let name = path.display().to_string();
        let _ = writeln!(table, "    ({file:?}, include_str!({name:?}), ({begins}, {})),", packed.len());
    }
    table.push(']');
    fs::write(out.join("packed.bin"), packed)?;
    fs::write(out.join("embedded.rs"), table)
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

fn pack_file(text: &str, packed: &mut Vec<u8>) -> Result<(), String> {
    let table = DeTable::parse(text).map_err(|error| error.to_string())?;
    pack_table(table.get_ref(), table.span().start, packed)
}

fn pack_table(table: &DeTable<'_>, begins: usize, packed: &mut Vec<u8>) -> Result<(), String> {
    let mut entries = Vec::new();
    for (key, value) in table {
        let key = key.get_ref();
        let length = u8::try_from(key.len()).map_err(|_| format!("the key `{key}` is too long"))?;
        entries.push(length);
        entries.extend(key.as_bytes());
        pack(value.get_ref(), value.span().start, &mut entries)?;
    }
    packed.push(b'{');
    packed.extend(four_bytes(entries.len())?);
    packed.extend(four_bytes(begins)?);
    packed.append(&mut entries);
    Ok(())
}

fn pack(value: &DeValue<'_>, begins: usize, packed: &mut Vec<u8>) -> Result<(), String> {
    match value {
        DeValue::Boolean(true) => packed.push(b't'),
        DeValue::Boolean(false) => packed.push(b'n'),
        DeValue::Integer(number) => {
            let number = i64::from_str_radix(number.as_str(), number.radix())
                .map_err(|error| format!("{}: {error}", number.as_str()))?;
            packed.push(b'i');
            packed.extend(number.to_le_bytes());
        }
        DeValue::Float(number) => {
            let number: f64 =
                number.as_str().parse().map_err(|error| format!("{}: {error}", number.as_str()))?;
            packed.push(b'f');
            packed.extend(number.to_le_bytes());
        }
        DeValue::String(text) => {
            packed.push(b'"');
            packed.extend(four_bytes(text.len())?);
            packed.extend(text.as_bytes());
        }
        DeValue::Array(values) => {
            let mut all = Vec::new();
            for value in values {
                pack(value.get_ref(), value.span().start, &mut all)?;
            }
            packed.push(b'[');
            packed.extend(four_bytes(all.len())?);
            packed.append(&mut all);
        }
        DeValue::Table(table) => pack_table(table, begins, packed)?,
        DeValue::Datetime(date) => return Err(format!("{date}: a date is written in quotes")),
    }
    Ok(())
}

fn four_bytes(length: usize) -> Result<[u8; 4], String> {
    u32::try_from(length).map(u32::to_le_bytes).map_err(|_| "the file is too long".to_owned())
}
