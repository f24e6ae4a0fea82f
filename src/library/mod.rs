//! Where formulas and substances are found: the shipped library, with personal folders as layers over it.
//!
//! A personal folder has the layout of `formulas/`. A later layer's formula shadows an earlier one of the same id (that is told); a
//! substance of the shipped library cannot be shadowed, since its hazards must not vanish. This is the only domain module that reads
//! disk; it parses no more than it is asked for.

mod disk;
mod embedded;
mod error;
mod formulas;
mod header;
mod likeness;
mod substances;

use crate::diagnostic::read_table;
pub use crate::formula::Origin;
use crate::formula::{Chemicals, FormError, Formula, Kind};
use crate::packed::Packed;
use crate::substance::chemical_formula::AtomicWeights;
use crate::substance::{Form, Substance};
pub use disk::read_file;
pub(crate) use disk::{MOST_FILES, too_many};
pub(crate) use embedded::Shipped;
pub use error::LibraryError;
pub use header::Header;
use serde::Deserialize;
use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use substances::{ReadSubstance, bare_parent};

/// A formula with where it came from.
#[derive(Debug, Clone)]
pub struct FoundFormula {
    /// Read and checked, with its own substances.
    pub formula: Formula,
    /// Where it came from.
    pub origin: Origin,
    /// Whether it hides a shipped formula of the same id.
    pub shadows_shipped: bool,
}

/// Formulas and substances of the shipped library and of personal folders.
#[derive(Debug, Default)]
pub struct Library {
    folders: Vec<PathBuf>,
    weights: OnceCell<AtomicWeights>,
    substances: RefCell<BTreeMap<String, ReadSubstance>>,
    /// All shipped substances, read where one of the user's own is compared with them.
    shipped: OnceCell<Vec<Substance>>,
    /// Ids of all shipped formulas, gathered where many are asked for.
    shipped_ids: OnceCell<BTreeSet<&'static str>>,
}

impl Library {
    /// The shipped library alone.
    pub fn shipped() -> Self {
        Self::default()
    }

    /// The shipped library with personal folders over it; the last one wins.
    pub fn with_folders(folders: Vec<PathBuf>) -> Self {
        Self { folders, ..Self::default() }
    }

    /// The personal folders, lowest layer first.
    pub fn folders(&self) -> &[PathBuf] {
        &self.folders
    }

    /// Standard atomic weights.
    pub fn weights(&self) -> &AtomicWeights {
        self.weights.get_or_init(|| {
            let file = "tables/atomic-weights.toml";
            // The shipped table is proved readable by a test; an empty one would only make molar masses unknown.
            AtomicWeights::parse(embedded::packed(file), file).unwrap_or_default()
        })
    }

    /// The text of a shipped table, such as `combinations.toml`.
    pub fn table(&self, name: &str) -> Option<&'static str> {
        embedded::text(&format!("tables/{name}"))
    }

    /// A shipped table as it was packed; nothing where there is none of that name.
    pub fn packed(&self, name: &str) -> Packed<'static> {
        embedded::packed(&format!("tables/{name}"))
    }

    /// The text of a shipped file by its path below `formulas/`.
    pub(crate) fn shipped_text(path: &str) -> Option<&'static str> {
        embedded::text(path)
    }

    /// All shipped files: path below `formulas/` and text, sorted by path.
    pub fn shipped_files() -> Vec<(&'static str, &'static str)> {
        embedded::FILES.iter().map(|&(path, text, _)| (path, text)).collect()
    }

    /// Citations by their short keys.
    pub fn sources(&self) -> BTreeMap<String, String> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct SourcesFile {
            #[serde(rename = "format")]
            _format: u32,
            sources: BTreeMap<String, String>,
        }
        let file = "tables/sources.toml";
        read_table::<SourcesFile>(embedded::packed(file), file).map(|table| table.sources).unwrap_or_default()
    }
}

impl Chemicals for Library {
    fn form(&self, id: &str) -> Result<Arc<Form>, FormError> {
        let broken = |findings| FormError::Broken { name: id.to_owned(), findings };
        // Every form id begins with its parent's: try the longest such name first.
        let mut end = id.len();
        while let Some(candidate) = id.get(..end) {
            if let Some(substance) = self.substance(candidate).map_err(broken)? {
                if let Some(form) = substance.form(id) {
                    return Ok(Arc::clone(form));
                }
                if candidate == id {
                    return Err(bare_parent(&substance));
                }
            }
            match candidate.rfind('-') {
                Some(hyphen) => end = hyphen,
                None => break,
            }
        }
        Err(FormError::Unknown { name: id.to_owned(), near: self.near_substances(id) })
    }
}

/// Whether a folder has at least one of the folders of a library.
pub fn has_layout(folder: &Path) -> bool {
    Kind::ALL
        .iter()
        .map(|kind| kind.folder())
        .chain(["substances"])
        .any(|own| folder.join(own).symlink_metadata().is_ok())
}

/// Whether an argument is meant as a path rather than an id.
pub fn looks_like_path(name: &str) -> bool {
    name.contains(['/', '\\']) || Path::new(name).extension().is_some_and(|extension| extension == "toml")
}

pub(crate) fn shipped_formula(id: &str) -> Option<Shipped> {
    Kind::ALL.into_iter().find_map(|kind| embedded::file(&format!("{}/{id}.toml", kind.folder())))
}

/// `film-developer/x.toml` gives `x`.
fn id_of(path: &str) -> &str {
    let name = path.rsplit('/').next().unwrap_or(path);
    name.strip_suffix(".toml").unwrap_or(name)
}
