//! Formulas: by name, by path, all of them, and what a name may have meant.

use super::disk::{lies_there, read_file, toml_files};
use super::embedded::Shipped;
use super::error::{LibraryError, twice};
use super::header::Header;
use super::{FoundFormula, Library, embedded, id_of, looks_like_path, shipped_formula};
use crate::diagnostic::Finding;
use crate::formula::{Formula, Kind, Origin, is_id};
use crate::packed::Packed;
use crate::suggestion;
use std::collections::BTreeMap;
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::thread::{Builder, ScopedJoinHandle, available_parallelism, scope};

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

    /// As [`Self::formulas`], but a shipped formula that does not name one of each of these lists of chemicals is left out unread. Own
    /// formulas are all read, and whatever is wrong in them is told.
    ///
    /// # Errors
    /// A personal folder that cannot be read.
    pub fn formulas_naming(
        &self,
        lists: &[Vec<String>],
    ) -> Result<(Vec<FoundFormula>, Vec<Finding>), LibraryError> {
        let places = self.places()?;
        let mut sorted = in_order(&places);
        sorted.retain(|(_, place)| match place {
            Place::Shipped(shipped) => lists.iter().all(|names| names_one(shipped.packed, names)),
            Place::Own { .. } => true,
        });
        Ok(read_all(&sorted, |id, place| self.formula_at(id, place)))
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
}

/// Own formulas from which on they are read by several threads, and most of these.
pub(super) const MANY: usize = 500;

const MOST_THREADS: usize = 8;

/// Whether a packed formula has one of these names as an ingredient or a solvent.
fn names_one(formula: Packed<'static>, names: &[String]) -> bool {
    let is_one = |own: Packed<'static>| own.text().is_some_and(|text| names.iter().any(|name| name == text));
    let in_part = |part: Packed<'static>| {
        part.get("solvent").is_some_and(is_one)
            || list(part, "ingredients").any(|own| own.get("substance").is_some_and(is_one))
    };
    in_part(formula) || list(formula, "parts").any(in_part)
}

fn list(table: Packed<'static>, key: &str) -> impl Iterator<Item = Packed<'static>> {
    table.get(key).into_iter().flat_map(Packed::values)
}

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

#[cfg(test)]
mod tests {
    use super::*;

    /// Nothing that holds a chemical is left out because its file was not read.
    #[test]
    fn who_asks_for_a_chemical_gets_every_formula_that_holds_it() {
        let library = Library::shipped();
        let (all, _) = library.formulas().unwrap();
        let (substances, _) = library.all_substances().unwrap();
        let holds = |formula: &Formula, is_it: &dyn Fn(&crate::substance::Form) -> bool| {
            let solvents = formula.parts.iter().filter_map(|part| part.solvent.as_deref());
            formula.ingredients().map(|own| own.form.as_ref()).chain(solvents).any(is_it)
        };
        let mut found = 0;
        for parent in &substances {
            let forms = parent.forms.iter().map(|form| form.id.clone());
            let names: Vec<String> = forms.chain([parent.parent.id.clone()]).collect();
            let expected: Vec<&str> = all
                .iter()
                .map(|own| &own.formula)
                .filter(|own| holds(own, &|form| form.parent.id == parent.parent.id))
                .map(|own| own.id.as_str())
                .collect();
            let (named, _) = library.formulas_naming(&[names]).unwrap();
            let named: Vec<&str> = named.iter().map(|own| own.formula.id.as_str()).collect();
            assert_eq!(named, expected, "{}", parent.parent.id);
            found += named.len();
        }
        assert!(found > 700, "{found}");
        assert_eq!(library.formulas_naming(&[]).unwrap().0.len(), all.len());
    }
}
