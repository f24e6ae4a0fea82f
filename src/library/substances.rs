//! Substances and their forms: the shipped ones, and the user's own over them.

use super::disk::{lies_there, read_file, toml_files};
use super::embedded::Shipped;
use super::error::LibraryError;
use super::{Library, embedded, id_of, likeness};
use crate::diagnostic::Finding;
use crate::formula::{Chemicals, FormError, is_id};
use crate::quantity::rounding;
use crate::substance::{Form, Substance};
use crate::suggestion::{self, plain};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A substance as read, or everything wrong in its file.
pub(super) type ReadSubstance = Result<Arc<Substance>, Vec<Finding>>;

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

impl Library {
    /// A substance by its parent id.
    ///
    /// # Errors
    /// Its file is broken or tries to replace a shipped substance; unknown gives `Ok(None)`.
    pub fn substance(&self, parent: &str) -> Result<Option<Arc<Substance>>, Vec<Finding>> {
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
        let parsed = parsed.map(Arc::new);
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
    pub fn all_substances(&self) -> Result<(Vec<Arc<Substance>>, Vec<Finding>), LibraryError> {
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
    pub fn form_by_name(&self, name: &str) -> Result<Arc<Form>, FormError> {
        match self.form(name) {
            Err(FormError::Unknown { name, near }) => {
                let wanted = plain(&name);
                let Ok((all, _)) = self.all_substances() else {
                    return Err(FormError::Unknown { name, near });
                };
                let same = |text: &String| plain(text) == wanted;
                let mut hits: Vec<&Arc<Form>> = Vec::new();
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
                    [only] => Ok(Arc::clone(only)),
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

    pub(super) fn near_substances(&self, name: &str) -> Vec<String> {
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

/// The refusal of a bare parent, with what each form weighs against the first.
pub(super) fn bare_parent(substance: &Substance) -> FormError {
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
