//! File names, places and compositions that stand twice.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::{Judge, Source, folder_name};
use crate::composition::{Composer, first_baths};
use crate::diagnostic::{Finding, FindingSeverity};
use crate::formula::{Formula, Kind};
use crate::library::shipped_formula;

/// Relative difference below which two amounts are the same.
const SAME: f64 = 1e-3;

/// Names that differ only in case, and ids that stand in two folders of one library.
pub(super) fn judge_files(files: &[PathBuf], findings: &mut Vec<Finding>) {
    let mut by_name: BTreeMap<(PathBuf, bool, String), Vec<&PathBuf>> = BTreeMap::new();
    for file in files {
        let Some(kind) = folder_name(file) else { continue };
        let is_formula = Kind::from_folder(&kind).is_some();
        if !is_formula && kind != "substances" {
            continue;
        }
        let root = file.parent().and_then(Path::parent).unwrap_or_else(|| Path::new("")).to_path_buf();
        let stem = file.file_stem().map(|stem| stem.to_string_lossy().to_lowercase()).unwrap_or_default();
        by_name.entry((root, is_formula, stem)).or_default().push(file);
    }
    for ((_, _, name), same) in by_name {
        let [first, others @ ..] = same.as_slice() else { continue };
        for other in others {
            let exactly = first.file_stem() == other.file_stem();
            let (code, message) = if exactly {
                ("duplicate-id", format!("`{name}` stands twice in one library, also as {}", first.display()))
            } else {
                ("case-clash", format!("the name differs from {} only in case", first.display()))
            };
            let fix = "rename one of the two files";
            findings.push(Finding::error(code, &other.display().to_string(), None, message, fix));
        }
    }
}

/// A formula in the wrong folder, or that hides a shipped one.
pub(super) fn judge_place(path: &Path, formula: &Formula, text: &str) -> Vec<Finding> {
    let mut findings = Vec::new();
    let source = Source { file: &formula.file, text };
    let Some(folder_kind) = folder_name(path).and_then(|folder| Kind::from_folder(&folder)) else {
        return findings;
    };
    if folder_kind != formula.kind {
        let (own, folder) = (formula.kind.folder(), folder_kind.folder());
        let message = format!("kind = \"{own}\", but the file lies in the folder {folder}");
        let fix = format!("move it to {own}, or write kind = \"{folder}\"");
        findings.push(source.finding(
            FindingSeverity::Error,
            "kind-folder",
            source.key("kind"),
            message,
            fix,
        ));
    }
    let shipped = shipped_formula(&formula.id).map(|own| own.text);
    let is_copy = || path.parent().and_then(Path::parent).is_some_and(super::repeats_shipped);
    if shipped.is_some_and(|shipped| shipped != text) && !is_copy() {
        let message = format!(
            "it hides the shipped formula `{}`, whose timing and replenishment do not apply to it",
            formula.id
        );
        let fix = "give it a name of its own, unless hiding is meant";
        findings.push(source.finding(FindingSeverity::Advice, "hides-shipped", None, message, fix));
    }
    findings
}

/// Compositions of all known formulas, by kind and chemicals, to find those that stand twice.
#[derive(Debug, Default)]
pub(super) struct Compositions(BTreeMap<(Kind, String), Vec<(String, Digest)>>);

/// Parts as sorted (chemical, mol or g per litre), and the first use's shares.
type Digest = (Vec<Vec<(String, f64)>>, Vec<Vec<f64>>);

impl Compositions {
    /// Adds a formula, in place of one of the same id.
    pub(super) fn add(&mut self, formula: &Formula, composer: &Composer<'_>) {
        let digest = digest(formula, composer);
        let own = self.0.entry((formula.kind, chemicals(&digest))).or_default();
        own.retain(|(id, _)| *id != formula.id);
        own.push((formula.id.clone(), digest));
    }
}

/// The chemicals of a composition as one text.
fn chemicals(digest: &Digest) -> String {
    let parts: Vec<String> = digest
        .0
        .iter()
        .map(|part| part.iter().map(|(chemical, _)| chemical.as_str()).collect::<Vec<_>>().join(" "))
        .collect();
    parts.join("|")
}

fn digest(formula: &Formula, composer: &Composer<'_>) -> Digest {
    let parts = composer
        .bottled(formula)
        .iter()
        .map(|composition| {
            let mut amounts: Vec<(String, f64)> = composition
                .components
                .iter()
                .map(|component| {
                    (
                        component.parent.id.clone(),
                        component.moles_per_litre.or(component.grams_per_litre).unwrap_or(0.0),
                    )
                })
                .collect();
            amounts.sort_by(|left, right| left.0.cmp(&right.0));
            amounts
        })
        .collect();
    let uses = first_baths(formula)
        .iter()
        .map(|bath| bath.shares.iter().map(|(_, share)| share / bath.total()).collect())
        .collect();
    (parts, uses)
}

fn same(one: &Digest, other: &Digest) -> bool {
    let near = |one: f64, other: f64| (one - other).abs() <= SAME * one.abs().max(other.abs());
    let parts = one.0.len() == other.0.len()
        && one.0.iter().zip(&other.0).all(|(one, other)| {
            one.len() == other.len()
                && one.iter().zip(other).all(|(one, other)| one.0 == other.0 && near(one.1, other.1))
        });
    let uses = one.1.len() == other.1.len()
        && one.1.iter().zip(&other.1).all(|(one, other)| {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| near(*one, *other))
        });
    parts && uses
}

/// A formula of the same kind, composition and first use under another name.
pub(super) fn judge_composition(judge: &mut Judge<'_>) {
    let (formula, linter) = (judge.formula, judge.linter);
    let own = digest(formula, &linter.composer);
    let alike = linter.digests.0.get(&(formula.kind, chemicals(&own)));
    let twin =
        alike.and_then(|alike| alike.iter().find(|(id, digest)| *id != formula.id && same(&own, digest)));
    if let Some((id, _)) = twin {
        let message = format!("the composition is that of `{id}`");
        let fix = "keep one of the two and make the other name an alias";
        judge.advise("same-composition", None, message, fix);
    }
    for ingredient in
        formula.ingredients().filter(|ingredient| ingredient.form.parent.id == "sodium-bisulfite")
    {
        let message =
            "what is sold as sodium bisulfite is nearly always metabisulfite, used weight for weight";
        let fix = "write sodium-metabisulfite, unless the source says that it means the bisulfite itself";
        judge.advise("bisulfite", Some(ingredient.line), message, fix);
    }
}
