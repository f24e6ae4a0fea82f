//! Where formulas and substances are found: the shipped library, with personal folders as layers over it.
//!
//! A personal folder has the layout of `formulas/`. A later layer's formula shadows an earlier one of the same id (that is told); a
//! substance of the shipped library cannot be shadowed, since its hazards must not vanish. This is the only domain module that reads
//! disk; it parses no more than it is asked for.

mod disk;
mod embedded;
mod header;
mod likeness;

use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::thread::{Builder, ScopedJoinHandle, available_parallelism, scope};

use serde::Deserialize;
use thiserror::Error;

use crate::diagnostic::{Finding, read_table};
pub use crate::formula::Origin;
use crate::formula::{Chemicals, FormError, Formula, Kind, is_id};
use crate::packed::Packed;
use crate::quantity::rounding;
use crate::substance::chemical_formula::AtomicWeights;
use crate::substance::{Form, Substance};
use crate::suggestion::{self, plain};

pub use disk::read_file;
pub(crate) use disk::{MOST_FILES, too_many};
use disk::{lies_there, toml_files};
pub(crate) use embedded::Shipped;
pub use header::Header;

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

/// Why the library cannot give what was asked.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum LibraryError {
    /// No formula of that name.
    #[error("no formula is called `{name}`")]
    UnknownFormula {
        /// What was asked.
        name: String,
        /// Near misses.
        near: Vec<String>,
    },
    /// An alias that several formulas have.
    #[error("`{name}` is an alias of several formulas: {}", ids.join(", "))]
    AmbiguousAlias {
        /// What was asked.
        name: String,
        /// The formulas.
        ids: Vec<String>,
    },
    /// Two files of one personal folder with the same id.
    #[error("`{id}` stands twice in one library: {first} and {second}")]
    Duplicate {
        /// The name of both files.
        id: String,
        /// One file.
        first: String,
        /// The other.
        second: String,
    },
    /// A file that is not valid.
    #[error("{}", findings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Invalid {
        /// Everything wrong in it.
        findings: Vec<Finding>,
    },
    /// A file or folder that cannot be read.
    #[error("{path} cannot be read: {reason}")]
    Unreadable {
        /// As the user named it.
        path: String,
        /// The system's reason.
        reason: String,
    },
    /// Something that lies where a file should, and is none that can be used.
    #[error("{path} cannot be used: {reason}")]
    Unusable {
        /// As the user named it.
        path: String,
        /// What is wrong with it.
        reason: String,
        /// What to do.
        fix: &'static str,
    },
    /// A substance that does not exist.
    #[error(transparent)]
    Substance(#[from] FormError),
}

impl LibraryError {
    /// A stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::UnknownFormula { .. } => "unknown-formula",
            Self::AmbiguousAlias { .. } => "ambiguous-alias",
            Self::Duplicate { .. } => "duplicate-id",
            Self::Invalid { findings } => findings.first().map_or("invalid", |finding| finding.code),
            Self::Unreadable { .. } => "unreadable",
            Self::Unusable { .. } => "unusable",
            Self::Substance(FormError::BareParent { .. }) => "bare-parent",
            Self::Substance(FormError::Broken { .. }) => "broken-substance",
            Self::Substance(FormError::Unknown { .. }) => "unknown-substance",
        }
    }

    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::UnknownFormula { near, .. } if near.is_empty() => {
                "`soupcon list` shows all formulas; a file is named by its path, such as ./my.toml".to_owned()
            }
            Self::UnknownFormula { near, .. } => format!("did you mean {}?", near.join(" or ")),
            Self::AmbiguousAlias { .. } => "use one of the ids".to_owned(),
            Self::Duplicate { .. } => "rename or remove one of the two files".to_owned(),
            Self::Invalid { findings } => {
                findings.iter().map(|finding| finding.fix.clone()).collect::<Vec<_>>().join("\n")
            }
            Self::Unreadable { .. } => "check that it exists and may be read".to_owned(),
            Self::Unusable { fix, .. } => (*fix).to_owned(),
            Self::Substance(error) => error.fix(),
        }
    }
}

/// A substance as read, or everything wrong in its file.
type ReadSubstance = Result<Rc<Substance>, Vec<Finding>>;

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

/// Where a substance was found.
enum SubstancePlace {
    Shipped(Shipped),
    /// In a personal folder.
    Own {
        text: String,
        file: String,
        folder: PathBuf,
    },
}

/// The file of a formula in the topmost layer that has it.
enum Place {
    Shipped(Shipped),
    /// In a personal folder (by its place among them), perhaps twice.
    Own {
        folder: usize,
        path: PathBuf,
        twin: Option<PathBuf>,
    },
}

/// All formulas by id, each with the kind of its folder.
type Places = BTreeMap<String, (Kind, Place)>;

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

    /// A formula by id, alias or path.
    ///
    /// # Errors
    /// Unknown, ambiguous, unreadable or invalid.
    pub fn formula(&self, name: &str) -> Result<FoundFormula, LibraryError> {
        if looks_like_path(name) {
            return self.formula_from_path(Path::new(name));
        }
        // Ids are lower case; before a shipped one a capital is a habit of writing, not another formula.
        let lower = name.to_lowercase();
        let id = if shipped_formula(&lower).is_some() { lower.as_str() } else { name };
        if let Some(found) = self.formula_by_id(id)? {
            return Ok(found);
        }
        let by_alias = self.ids_with_alias(name);
        match by_alias.as_slice() {
            [] => Err(LibraryError::UnknownFormula { name: name.to_owned(), near: self.near_formulas(name) }),
            [id] => self.formula_by_id(id)?.ok_or_else(|| LibraryError::UnknownFormula {
                name: name.to_owned(),
                near: vec![id.clone()],
            }),
            _ => Err(LibraryError::AmbiguousAlias { name: name.to_owned(), ids: by_alias }),
        }
    }

    /// A formula given as text, such as from standard input; `file` names it in messages.
    ///
    /// # Errors
    /// Everything wrong in it.
    pub fn formula_from_text(&self, text: &str, id: &str, file: &str) -> Result<FoundFormula, LibraryError> {
        let formula =
            Formula::parse(text, id, file, self).map_err(|findings| LibraryError::Invalid { findings })?;
        Ok(FoundFormula { formula, origin: Origin::File, shadows_shipped: false })
    }

    fn formula_from_path(&self, path: &Path) -> Result<FoundFormula, LibraryError> {
        let text = read_file(path)?;
        let id = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        self.formula_from_text(&text, &id, &path.display().to_string())
    }

    fn formula_by_id(&self, id: &str) -> Result<Option<FoundFormula>, LibraryError> {
        if !is_id(id) {
            return Ok(None);
        }
        let shipped = shipped_formula(id);
        for folder in self.folders.iter().rev() {
            let mut hit: Option<PathBuf> = None;
            for kind in Kind::ALL {
                let path = folder.join(kind.folder()).join(format!("{id}.toml"));
                if !lies_there(&path)? {
                    continue;
                }
                if let Some(first) = hit {
                    return Err(twice(id, &first, &path));
                }
                hit = Some(path);
            }
            if let Some(path) = hit {
                return self.own_formula(folder, &path, shipped.is_some()).map(Some);
            }
        }
        shipped.map(|shipped| self.formula_at(id, &Place::Shipped(shipped))).transpose()
    }

    fn own_formula(
        &self,
        folder: &Path,
        path: &Path,
        shadows_shipped: bool,
    ) -> Result<FoundFormula, LibraryError> {
        let formula = self.formula_from_path(path)?.formula;
        let origin = Origin::Folder(folder.to_owned());
        let formula = Formula { origin: origin.clone(), shadows_shipped, ..formula };
        Ok(FoundFormula { formula, origin, shadows_shipped })
    }

    /// The formula of an id that [`Self::places`] gave.
    fn formula_at(&self, id: &str, place: &Place) -> Result<FoundFormula, LibraryError> {
        match place {
            Place::Shipped(Shipped { path, text, packed }) => {
                let read = Formula::of_shipped((text, *packed), id, path, self)
                    .map_err(|findings| LibraryError::Invalid { findings })?;
                let formula = Formula { origin: Origin::Shipped, ..read };
                Ok(FoundFormula { formula, origin: Origin::Shipped, shadows_shipped: false })
            }
            Place::Own { path, twin: Some(twin), .. } => Err(twice(id, path, twin)),
            Place::Own { folder, path, .. } => {
                let folder = self.folders.get(*folder).map_or(Path::new(""), PathBuf::as_path);
                self.own_formula(folder, path, self.is_shipped_id(id))
            }
        }
    }

    /// Whether a shipped formula has this id; for many ids.
    fn is_shipped_id(&self, id: &str) -> bool {
        let ids = self.shipped_ids.get_or_init(|| {
            Kind::ALL
                .into_iter()
                .flat_map(|kind| embedded::folder(kind.folder()))
                .map(|own| id_of(own.path))
                .collect()
        });
        ids.contains(id)
    }

    /// Ids of all formulas with the kind of their folder, later layers shadowing earlier ones, sorted by kind and id.
    ///
    /// # Errors
    /// A personal folder that cannot be read.
    pub fn formula_ids(&self) -> Result<Vec<(Kind, String)>, LibraryError> {
        let mut ids: Vec<_> = self.places()?.into_iter().map(|(id, (kind, _))| (kind, id)).collect();
        ids.sort();
        Ok(ids)
    }

    /// Where each formula lies, later layers shadowing earlier ones.
    fn places(&self) -> Result<Places, LibraryError> {
        let mut places = Places::new();
        for kind in Kind::ALL {
            for shipped in embedded::folder(kind.folder()) {
                places.insert(id_of(shipped.path).to_owned(), (kind, Place::Shipped(shipped)));
            }
        }
        for folder in &self.folders {
            // A folder named twice is one.
            let at = self.folders.iter().position(|own| own == folder).unwrap_or_default();
            for kind in Kind::ALL {
                for path in toml_files(&folder.join(kind.folder()))? {
                    let Some(id) = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()) else {
                        continue;
                    };
                    match places.get_mut(&id) {
                        Some((_, Place::Own { folder, twin, .. })) if *folder == at => {
                            *twin = Some(path);
                        }
                        _ => {
                            let place = Place::Own { folder: at, path, twin: None };
                            places.insert(id, (kind, place));
                        }
                    }
                }
            }
        }
        Ok(places)
    }

    /// The headers of all formulas that can be read, sorted by kind and id, with what is wrong in the others. Of a shipped file, which
    /// the tests prove valid, only the header is read; a personal file is read and checked whole.
    ///
    /// # Errors
    /// A personal folder that cannot be read.
    pub fn headers(&self) -> Result<(Vec<Header>, Vec<Finding>), LibraryError> {
        let places = self.places()?;
        let sorted = in_order(&places);
        let own = sorted.iter().filter(|(_, place)| matches!(place, Place::Own { .. })).count();
        let threads = available_parallelism().map_or(1, NonZero::get).min(MOST_THREADS);
        if own < MANY || threads < 2 {
            return Ok(read_all(&sorted, |id, place| self.header(id, place)));
        }
        let folders = &self.folders;
        let read = |piece: &[(&str, &Place)]| {
            let library = Self::with_folders(folders.clone());
            read_all(piece, |id, place| library.header(id, place))
        };
        let pieces: Vec<_> = scope(|scope| {
            let start = |piece| (piece, Builder::new().spawn_scoped(scope, move || read(piece)));
            let running: Vec<_> = sorted.chunks(sorted.len().div_ceil(threads)).map(start).collect();
            // A piece for which there was no thread is read here.
            let end = |(piece, thread): (_, std::io::Result<ScopedJoinHandle<'_, _>>)| {
                thread.ok().and_then(|thread| thread.join().ok()).unwrap_or_else(|| read(piece))
            };
            running.into_iter().map(end).collect()
        });
        let (headers, findings): (Vec<_>, Vec<_>) = pieces.into_iter().unzip();
        Ok((headers.into_iter().flatten().collect(), findings.into_iter().flatten().collect()))
    }

    fn header(&self, id: &str, place: &Place) -> Result<Header, LibraryError> {
        let header = match place {
            Place::Shipped(shipped) => Header::of_shipped(id, shipped.packed),
            Place::Own { .. } => None,
        };
        header.map_or_else(|| self.formula_at(id, place).map(|found| Header::of(&found)), Ok)
    }

    /// All formulas that can be read, sorted by kind and id, with what is wrong in the others.
    ///
    /// # Errors
    /// A personal folder that cannot be read.
    pub fn formulas(&self) -> Result<(Vec<FoundFormula>, Vec<Finding>), LibraryError> {
        Ok(read_all(&in_order(&self.places()?), |id, place| self.formula_at(id, place)))
    }

    fn ids_with_alias(&self, name: &str) -> Vec<String> {
        let wanted = name.trim().to_lowercase();
        let Ok(places) = self.places() else { return Vec::new() };
        // Only files that mention the alias's key at all are parsed.
        let mentions = |place: &Place| match place {
            Place::Shipped(shipped) => shipped.packed.get("aliases").is_some(),
            Place::Own { path, .. } => read_file(path).is_ok_and(|text| text.contains("aliases")),
        };
        places
            .iter()
            .filter(|(_, (_, place))| mentions(place))
            .filter_map(|(id, (_, place))| self.formula_at(id, place).ok())
            .filter(|found| found.formula.aliases.iter().any(|alias| alias.trim().to_lowercase() == wanted))
            .map(|found| found.formula.id)
            .collect()
    }

    fn near_formulas(&self, name: &str) -> Vec<String> {
        let Ok(ids) = self.formula_ids() else { return Vec::new() };
        let usable = ids.iter().map(|(_, id)| id.as_str()).filter(|id| is_id(id));
        suggestion::nearest_few(name, usable, 3).into_iter().map(str::to_owned).collect()
    }

    /// A substance by its parent id.
    ///
    /// # Errors
    /// Its file is broken or tries to replace a shipped substance; unknown gives `Ok(None)`.
    pub fn substance(&self, parent: &str) -> Result<Option<Rc<Substance>>, Vec<Finding>> {
        if !is_id(parent) {
            return Ok(None);
        }
        if let Some(known) = self.substances.borrow().get(parent) {
            return known.clone().map(Some);
        }
        let parsed = match self.substance_place(parent)? {
            None => return Ok(None),
            Some(SubstancePlace::Shipped(own)) => {
                Substance::of_shipped((own.text, own.packed), parent, own.path, self.weights())
            }
            Some(SubstancePlace::Own { text, file, folder }) => {
                self.own_substance(&text, parent, &file, &folder)
            }
        };
        let parsed = parsed.map(Rc::new);
        self.substances.borrow_mut().insert(parent.to_owned(), parsed.clone());
        parsed.map(Some)
    }

    /// Reads a substance of a personal folder, which must not be less than what is shipped under its name.
    ///
    /// # Errors
    /// Everything wrong in it.
    pub fn own_substance(
        &self,
        text: &str,
        parent: &str,
        file: &str,
        folder: &Path,
    ) -> Result<Substance, Vec<Finding>> {
        let origin = folder.display().to_string();
        let own_substance = Substance::parse_own(text, parent, file, self.weights(), Some(origin))?;
        let shipped = self.shipped.get_or_init(|| {
            let read = |shipped: Shipped| {
                Substance::of_shipped(
                    (shipped.text, shipped.packed),
                    id_of(shipped.path),
                    shipped.path,
                    self.weights(),
                )
                .ok()
            };
            embedded::folder("substances").filter_map(read).collect()
        });
        let findings = likeness::judge(&own_substance, shipped, text, file);
        if findings.is_empty() { Ok(own_substance) } else { Err(findings) }
    }

    fn substance_place(&self, parent: &str) -> Result<Option<SubstancePlace>, Vec<Finding>> {
        let path = format!("substances/{parent}.toml");
        let shipped = embedded::file(&path);
        for folder in self.folders.iter().rev() {
            let own_file = folder.join("substances").join(format!("{parent}.toml"));
            let file = own_file.display().to_string();
            let unreadable = |error: LibraryError| {
                vec![Finding::error("unreadable", &file, None, error.to_string(), error.fix())]
            };
            if !lies_there(&own_file).map_err(unreadable)? {
                continue;
            }
            if shipped.is_some() {
                let message = format!("`{parent}` is a shipped substance and cannot be replaced");
                let fix = "give your substance a name of its own";
                return Err(vec![Finding::error("shadowed-substance", &file, None, message, fix)]);
            }
            let text = read_file(&own_file).map_err(unreadable)?;
            return Ok(Some(SubstancePlace::Own { text, file, folder: folder.clone() }));
        }
        Ok(shipped.map(SubstancePlace::Shipped))
    }

    /// Ids of all substances (parents), sorted.
    ///
    /// # Errors
    /// A personal folder that cannot be read.
    pub fn substance_ids(&self) -> Result<Vec<String>, LibraryError> {
        let mut ids: Vec<String> =
            embedded::folder("substances").map(|own| id_of(own.path).to_owned()).collect();
        for folder in &self.folders {
            for path in toml_files(&folder.join("substances"))? {
                if let Some(stem) = path.file_stem() {
                    ids.push(stem.to_string_lossy().into_owned());
                }
            }
        }
        ids.sort();
        ids.dedup();
        Ok(ids)
    }

    /// All substances that can be read, with what is wrong in the others.
    ///
    /// # Errors
    /// A personal folder that cannot be read.
    pub fn all_substances(&self) -> Result<(Vec<Rc<Substance>>, Vec<Finding>), LibraryError> {
        let mut all = Vec::new();
        let mut findings = Vec::new();
        for id in self.substance_ids()? {
            match self.substance(&id) {
                Ok(Some(substance)) => all.push(substance),
                Ok(None) => {
                    let message = format!("the file name `{id}` cannot be the id of a substance");
                    let fix = "name the file with a-z, 0-9 and hyphens, such as my-alkali.toml";
                    findings.push(Finding::error("id", &format!("substances/{id}.toml"), None, message, fix));
                }
                Err(mut wrong) => findings.append(&mut wrong),
            }
        }
        Ok((all, findings))
    }

    /// A form by id, or by one of its names where those are unambiguous.
    ///
    /// # Errors
    /// Unknown (with near misses), a parent with several forms, or a broken file.
    pub fn form_by_name(&self, name: &str) -> Result<Rc<Form>, FormError> {
        match self.form(name) {
            Err(FormError::Unknown { name, near }) => {
                let wanted = plain(&name);
                let Ok((all, _)) = self.all_substances() else {
                    return Err(FormError::Unknown { name, near });
                };
                let same = |text: &String| plain(text) == wanted;
                let mut hits: Vec<&Rc<Form>> = Vec::new();
                for substance in &all {
                    let of_parent =
                        same(&substance.parent.name) || substance.parent.synonyms.iter().any(same);
                    if of_parent && substance.forms.len() > 1 {
                        return Err(bare_parent(substance));
                    }
                    hits.extend(substance.forms.iter().filter(|form| {
                        of_parent
                            || same(&form.name)
                            || form.synonyms.iter().any(same)
                            || form.cas.as_ref().is_some_and(same)
                    }));
                }
                // A shipped chemical keeps its names and its number, whoever shares them.
                if hits.iter().any(|form| form.parent.origin.is_none()) {
                    hits.retain(|form| form.parent.origin.is_none());
                }
                match hits.as_slice() {
                    [only] => Ok(Rc::clone(only)),
                    [] => Err(FormError::Unknown { name, near }),
                    several => Err(FormError::Unknown {
                        name,
                        near: several.iter().map(|form| form.id.clone()).collect(),
                    }),
                }
            }
            other => other,
        }
    }

    fn near_substances(&self, name: &str) -> Vec<String> {
        let Ok((all, _)) = self.all_substances() else { return Vec::new() };
        let mut names: Vec<&str> = Vec::new();
        for substance in &all {
            names.extend(substance.forms.iter().map(|form| form.id.as_str()));
        }
        let mut near: Vec<String> =
            suggestion::nearest_few(name, names.iter().copied(), 3).into_iter().map(str::to_owned).collect();
        let wanted = plain(name);
        for substance in &all {
            let said = substance
                .parent
                .synonyms
                .iter()
                .chain([&substance.parent.name])
                .any(|text| plain(text) == wanted);
            for form in &substance.forms {
                if (said || form.synonyms.iter().any(|text| plain(text) == wanted))
                    && !near.contains(&form.id)
                {
                    near.insert(0, form.id.clone());
                }
            }
        }
        near.truncate(6);
        near
    }
}

/// Own formulas from which on they are read by several threads, and most of these.
const MANY: usize = 500;
const MOST_THREADS: usize = 8;

/// By kind and id.
fn in_order(places: &Places) -> Vec<(&str, &Place)> {
    let mut sorted: Vec<_> = places.iter().map(|(id, (kind, place))| (*kind, id.as_str(), place)).collect();
    sorted.sort_by_key(|(kind, id, _)| (*kind, *id));
    sorted.into_iter().map(|(_, id, place)| (id, place)).collect()
}

/// Reads formulas in some way, and gathers what is wrong.
fn read_all<T>(
    places: &[(&str, &Place)],
    read: impl Fn(&str, &Place) -> Result<T, LibraryError>,
) -> (Vec<T>, Vec<Finding>) {
    let (mut all, mut findings) = (Vec::with_capacity(places.len()), Vec::new());
    for (id, place) in places {
        match read(id, place) {
            Ok(one) => all.push(one),
            Err(LibraryError::Invalid { findings: mut wrong }) => findings.append(&mut wrong),
            Err(error) => {
                findings.push(Finding::error(error.code(), id, None, error.to_string(), error.fix()));
            }
        }
    }
    (all, findings)
}

/// The refusal of a bare parent, with what each form weighs against the first.
fn bare_parent(substance: &Substance) -> FormError {
    let first = substance.forms.first().and_then(|form| form.product_g_per_mol());
    let forms = substance
        .forms
        .iter()
        .map(|form| match (first, form.product_g_per_mol()) {
            (Some(first), Some(own)) if first > 0.0 => {
                format!("{} ({})", form.id, rounding::show_decimals(own / first, 3))
            }
            _ => form.id.clone(),
        })
        .collect();
    FormError::BareParent { name: substance.parent.id.clone(), forms }
}

impl Chemicals for Library {
    fn form(&self, id: &str) -> Result<Rc<Form>, FormError> {
        let broken = |findings| FormError::Broken { name: id.to_owned(), findings };
        // Every form id begins with its parent's: try the longest such name first.
        let mut end = id.len();
        while let Some(candidate) = id.get(..end) {
            if let Some(substance) = self.substance(candidate).map_err(broken)? {
                if let Some(form) = substance.form(id) {
                    return Ok(Rc::clone(form));
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

/// Two files of one library with one id.
fn twice(id: &str, first: &Path, second: &Path) -> LibraryError {
    LibraryError::Duplicate {
        id: id.to_owned(),
        first: first.display().to_string(),
        second: second.display().to_string(),
    }
}

/// `film-developer/x.toml` gives `x`.
fn id_of(path: &str) -> &str {
    let name = path.rsplit('/').next().unwrap_or(path);
    name.strip_suffix(".toml").unwrap_or(name)
}
