//! Judges formulas and substances: what a file says wrongly, doubtfully or against what the trade and the chemistry allow.
//!
//! Everything wrong is told at once, each with its file, line and remedy. Parsing ([`crate::formula`], [`crate::substance`]) refuses what cannot
//! be used; here stands what can be used but is probably a mistake ([`FindingSeverity::Warning`]) or worth a look ([`FindingSeverity::Advice`]).
//! The rules: relations (`relations`), plausibility (`plausible`), the file's own published figures (`checks`), names (`names`),
//! substances (`substances`), what a prediction says against a file (`predicted`), and whether it can be mixed (`mixing`). Whether the published order of mixing is explained is judged where the order is made.
//!
//! What the sheet refuses must not pass the check, so `check` makes a sheet. Heat alone is a warning, silenced by the formula's own
//! cautions.

mod checks;
mod mixing;
mod names;
mod plausible;
mod predicted;
mod relations;
mod substances;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::{fs, io};

use crate::composition::Composer;
use crate::diagnostic::{Finding, FindingSeverity};
use crate::formula::{Formula, Kind};
use crate::library::{Library, LibraryError, MOST_FILES, Origin, read_file, too_many};
use crate::safety::SafetyData;
use crate::scale::exchange::Relations;
use crate::solution::Equilibria;
use crate::substance::Substance;

/// Deepest folder below the one named.
const DEEPEST: usize = 4;

/// How what comes through standard input is called where a file has its name.
const STANDARD_INPUT: &str = "standard-input";

/// What was judged and what was found.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LintReport {
    /// What was found, by file and line.
    pub findings: Vec<Finding>,
    /// How many formulas were judged.
    pub formulas: usize,
    /// How many substances were judged.
    pub substances: usize,
    /// How many published figures were reproduced or not.
    pub checks: usize,
    /// How many published figures could not be looked at, for want of a prediction.
    pub unchecked: usize,
}

impl LintReport {
    /// Findings of at least a severity.
    pub fn at_least(&self, severity: FindingSeverity) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(move |finding| finding.severity >= severity)
    }
}

/// The text of a file, to find the lines of what is wrong.
pub(crate) struct Source<'a> {
    file: &'a str,
    text: &'a str,
}

impl Source<'_> {
    /// Line of the first `key = …`.
    fn key(&self, key: &str) -> Option<usize> {
        self.first(|line| line.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('=')))
    }

    /// Line of the first mention of a quoted text, after the key where that is given.
    fn quoted(&self, text: &str) -> Option<usize> {
        let quoted = format!("\"{text}\"");
        self.first(|line| line.contains(&quoted))
    }

    /// Line of `key` whose value (on the same or later lines) mentions `text`, else of the key, else of the text.
    fn value(&self, key: &str, text: &str) -> Option<usize> {
        let key_line = self.key(key);
        let quoted = format!("\"{text}\"");
        let after = key_line.and_then(|start| {
            self.text
                .lines()
                .enumerate()
                .skip(start - 1)
                .find(|(_, line)| line.contains(&quoted))
                .map(|(at, _)| at + 1)
        });
        after.or(key_line).or_else(|| self.quoted(text))
    }

    fn first(&self, wanted: impl Fn(&str) -> bool) -> Option<usize> {
        self.text.lines().position(|line| wanted(line.trim_start())).map(|at| at + 1)
    }

    fn finding(
        &self,
        severity: FindingSeverity,
        code: &'static str,
        line: Option<usize>,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) -> Finding {
        Finding::error(code, self.file, line, message, fix).as_severity(severity)
    }
}

/// What is known of a formula that others name.
#[derive(Debug, Clone, PartialEq)]
struct NamedFormula {
    kind: Kind,
    replenishes: Vec<String>,
    partners: Vec<String>,
    variant_of: Option<String>,
    aliases: Vec<String>,
    file: String,
}

impl NamedFormula {
    fn of(formula: &Formula) -> Self {
        Self {
            kind: formula.kind,
            replenishes: formula.replenishes.clone(),
            partners: formula.partners.clone(),
            variant_of: formula.variant_of.clone(),
            aliases: formula.aliases.clone(),
            file: formula.file.clone(),
        }
    }
}

/// What the formulas under judgement stand among.
pub struct Linter<'a> {
    library: &'a Library,
    composer: Composer<'a>,
    known: BTreeMap<String, NamedFormula>,
    usual: plausible::Usual,
    digests: names::Compositions,
    vocabulary: substances::Vocabulary,
    tables: Option<Tables<'a>>,
}

/// What it takes to try a formula, and not only to read it.
#[derive(Debug, Clone, Copy)]
pub struct Tables<'a> {
    /// Constants and interaction coefficients, all of them.
    pub equilibria: &'a Equilibria,
    /// Combinations, statements and precautions, with which the formula is reviewed.
    pub safety: &'a SafetyData,
    /// Exchanges between chemicals.
    pub relations: &'a Relations,
}

/// One formula under judgement, and what was found so far.
struct Judge<'a> {
    formula: &'a Formula,
    source: &'a Source<'a>,
    linter: &'a Linter<'a>,
    findings: Vec<Finding>,
}

impl Judge<'_> {
    /// Probably a mistake.
    fn warn(
        &mut self,
        code: &'static str,
        line: Option<usize>,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) {
        self.findings.push(self.source.finding(FindingSeverity::Warning, code, line, message, fix));
    }

    /// Worth a look.
    fn advise(
        &mut self,
        code: &'static str,
        line: Option<usize>,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) {
        self.findings.push(self.source.finding(FindingSeverity::Advice, code, line, message, fix));
    }
}

impl std::fmt::Debug for Linter<'_> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("Linter").field("known", &self.known.len()).finish_non_exhaustive()
    }
}

impl<'a> Linter<'a> {
    /// A linter that knows all formulas of a library that can be read.
    ///
    /// # Errors
    /// A personal folder that cannot be read.
    pub fn new(library: &'a Library) -> Result<Self, LibraryError> {
        let composer = Composer::new(library);
        let (found, _) = library.formulas()?;
        let mut known = BTreeMap::new();
        let mut digests = names::Compositions::default();
        for own in &found {
            known.insert(own.formula.id.clone(), NamedFormula::of(&own.formula));
            digests.add(&own.formula, &composer);
        }
        let shipped = found.iter().filter(|own| own.origin == Origin::Shipped).map(|own| &own.formula);
        let usual = plausible::Usual::of(shipped, &composer);
        let vocabulary = substances::Vocabulary::of(library);
        Ok(Self { library, composer, known, usual, digests, vocabulary, tables: None })
    }

    /// The same, judging also by what happens in the vessel: whether a formula can be mixed, the pH that it states, the components that
    /// a substance names.
    #[must_use]
    pub fn with_tables(self, tables: Option<Tables<'a>>) -> Self {
        Self { tables, ..self }
    }

    /// Judges one formula; `text` is that of its file.
    pub fn formula(&self, formula: &Formula, text: &str) -> Vec<Finding> {
        let source = Source { file: &formula.file, text };
        let mut judge = Judge { formula, source: &source, linter: self, findings: Vec::new() };
        relations::judge(&mut judge);
        plausible::judge(&mut judge);
        checks::judge(&mut judge);
        names::judge_composition(&mut judge);
        if let Some(tables) = &self.tables {
            mixing::judge(&mut judge, tables);
            plausible::solubility(&mut judge, tables.equilibria);
            judge.findings.extend(predicted::stated_ph(formula, &source, tables.equilibria));
        }
        judge.findings
    }

    /// Judges one substance; `text` is that of its file, `is_shipped` whether it is one of the shipped library.
    pub fn substance(&self, substance: &Substance, file: &str, text: &str, is_shipped: bool) -> Vec<Finding> {
        let mut findings = Vec::new();
        let words = (self.library, &self.vocabulary);
        let source = Source { file, text };
        substances::judge(substance, &source, words, is_shipped, &mut findings);
        if let Some(tables) = &self.tables {
            findings.extend(predicted::components(substance, &source, tables.equilibria));
        }
        findings
    }
}

/// Judges files and folders among the formulas of a library, which own folders join.
///
/// `typed` is the text of standard input, where `-` is among the paths.
///
/// # Errors
/// A path, or a personal folder, cannot be read.
pub fn paths(
    paths: &[PathBuf],
    typed: Option<String>,
    library: &Library,
    tables: Option<Tables<'_>>,
) -> Result<LintReport, LibraryError> {
    let mut files = Vec::new();
    let mut findings = Vec::new();
    for path in paths.iter().filter(|path| typed.is_none() || path.as_os_str() != "-") {
        collect(path, 0, &mut files, &mut findings)?;
    }
    files.sort();
    files.dedup();
    let own = Library::with_folders(folders_with(library, &files));
    let mut linter = Linter::new(&own)?.with_tables(tables);
    let mut report = LintReport { findings, ..LintReport::default() };
    names::judge_files(&files, &mut report.findings);
    let mut read: Vec<(PathBuf, String)> = files
        .into_iter()
        .filter_map(|path| match read_file(&path) {
            Ok(text) => Some((path, text)),
            Err(error) => {
                let file = path.display().to_string();
                report.findings.push(Finding::error(
                    "unreadable",
                    &file,
                    None,
                    error.to_string(),
                    error.fix(),
                ));
                None
            }
        })
        .collect();
    read.extend(typed.map(|text| (PathBuf::from(STANDARD_INPUT), text)));
    let formulas = read_formulas(&read, &mut linter, &mut report);
    for (formula, text) in &formulas {
        report.findings.extend(linter.formula(formula, text));
        let (done, undone) = checks::count(formula, linter.tables.is_some());
        report.checks += done;
        report.unchecked += undone;
    }
    report.formulas = formulas.len();
    judge_others(&read, &linter, &mut report);
    report.findings.sort_by(|left, right| {
        (&left.file, left.line, left.code, &left.message).cmp(&(
            &right.file,
            right.line,
            right.code,
            &right.message,
        ))
    });
    report.findings.dedup();
    Ok(report)
}

/// Parses the formula files and makes the linter know them.
fn read_formulas<'t>(
    read: &'t [(PathBuf, String)],
    linter: &mut Linter<'_>,
    report: &mut LintReport,
) -> Vec<(Formula, &'t str)> {
    let mut formulas = Vec::new();
    for (path, text) in read.iter().filter(|(path, text)| FileContent::of(path, text) == FileContent::Formula)
    {
        let file = path.display().to_string();
        let id = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        match linter.library.formula_from_text(text, &id, &file) {
            Ok(found) => {
                report.findings.extend(names::judge_place(path, &found.formula, text));
                formulas.push((found.formula, text.as_str()));
            }
            Err(LibraryError::Invalid { findings }) => report.findings.extend(findings),
            Err(error) => {
                report.findings.push(Finding::error(
                    error.code(),
                    &file,
                    None,
                    error.to_string(),
                    error.fix(),
                ));
            }
        }
    }
    for (formula, _) in &formulas {
        linter.known.insert(formula.id.clone(), NamedFormula::of(formula));
        linter.digests.add(formula, &linter.composer);
    }
    formulas
}

/// Judges the substances, and reads the tables.
fn judge_others(read: &[(PathBuf, String)], linter: &Linter<'_>, report: &mut LintReport) {
    for (path, text) in read {
        let file = path.display().to_string();
        let id = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        match FileContent::of(path, text) {
            FileContent::Formula => {}
            FileContent::Substance => {
                report.substances += 1;
                let shipped = Library::shipped_text(&format!("substances/{id}.toml"));
                let is_shipped = shipped == Some(text.as_str());
                if shipped.is_some() && !is_shipped {
                    report.findings.push(Finding::error(
                        "shadowed-substance",
                        &file,
                        None,
                        format!("`{id}` is a shipped substance and cannot be replaced"),
                        "give your substance a name of its own",
                    ));
                }
                let folder = path.parent().and_then(Path::parent).unwrap_or_else(|| Path::new(""));
                let is_copy = shipped.is_some();
                let read = if is_copy {
                    Substance::parse(text, &id, &file, linter.library.weights())
                } else {
                    linter.library.own_substance(text, &id, &file, folder)
                };
                match read {
                    Ok(substance) => {
                        report.findings.extend(linter.substance(&substance, &file, text, is_shipped));
                    }
                    Err(findings) => {
                        report.findings.extend(findings);
                        // What only falls short of a shipped one is judged for the rest, too.
                        if let Ok(own) = Substance::parse(text, &id, &file, linter.library.weights()) {
                            report.findings.extend(linter.substance(&own, &file, text, is_shipped));
                        }
                    }
                }
            }
            FileContent::Table => {
                if let Err(finding) = crate::diagnostic::read_toml::<toml::Table>(text, &file) {
                    report.findings.push(finding);
                }
            }
        }
    }
}

/// What a file holds, by its folder or, elsewhere, by what is in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FileContent {
    Formula,
    Substance,
    Table,
}

impl FileContent {
    fn of(path: &Path, text: &str) -> Self {
        match folder_name(path).as_deref() {
            Some("substances") => return Self::Substance,
            Some("tables") => return Self::Table,
            Some(folder) if Kind::from_folder(folder).is_some() => return Self::Formula,
            _ => {}
        }
        let has_forms = text.lines().any(|line| line.trim_start().starts_with("[[forms"));
        if has_forms { Self::Substance } else { Self::Formula }
    }
}

fn folder_name(path: &Path) -> Option<String> {
    Some(path.parent()?.file_name()?.to_string_lossy().into_owned())
}

/// The library's folders and those that the files belong to, unless they only repeat the shipped library.
fn folders_with(library: &Library, files: &[PathBuf]) -> Vec<PathBuf> {
    let mut folders = library.folders().to_vec();
    let same = |one: &Path, other: &Path| match (one.canonicalize(), other.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        _ => one == other,
    };
    for file in files {
        let kind = folder_name(file);
        let in_library =
            kind.as_deref().is_some_and(|kind| kind == "substances" || Kind::from_folder(kind).is_some());
        let Some(root) = file.parent().and_then(Path::parent).filter(|_| in_library) else { continue };
        let root = if root.as_os_str().is_empty() { Path::new(".") } else { root };
        if !folders.iter().any(|folder| same(folder, root)) && !repeats_shipped(root) {
            folders.push(root.to_path_buf());
        }
    }
    folders
}

/// Whether a folder holds the shipped library itself: its substances are the shipped ones.
fn repeats_shipped(root: &Path) -> bool {
    let Ok(entries) = fs::read_dir(root.join("substances")) else { return false };
    let mut names: Vec<String> = entries
        .take(MOST_FILES)
        .filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned()))
        .filter(|name| Path::new(name).extension().is_some_and(|extension| extension == "toml"))
        .collect();
    names.sort();
    let shipped = Library::shipped_files().iter().filter(|(path, _)| path.starts_with("substances/")).count();
    let known =
        names.iter().filter(|name| Library::shipped_text(&format!("substances/{name}")).is_some()).count();
    // A folder of one's own has few of the shipped names, if any.
    known * 2 > shipped
}

/// Collects the `.toml` files below a path; names a file that will not be read although it looks meant to be.
fn collect(
    path: &Path,
    depth: usize,
    files: &mut Vec<PathBuf>,
    findings: &mut Vec<Finding>,
) -> Result<(), LibraryError> {
    let unreadable = |error: &io::Error| LibraryError::Unreadable {
        path: path.display().to_string(),
        reason: error.to_string(),
    };
    let metadata = fs::metadata(path).map_err(|error| unreadable(&error))?;
    if !metadata.is_dir() {
        files.push(path.to_path_buf());
        return Ok(());
    }
    let mut entries = Vec::new();
    for entry in fs::read_dir(path).map_err(|error| unreadable(&error))? {
        if entries.len() >= MOST_FILES {
            return Err(too_many(path));
        }
        entries.push(entry.map_err(|error| unreadable(&error))?.path());
    }
    entries.sort();
    for entry in entries {
        let name = entry.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        if name.starts_with('.') {
            continue;
        }
        if files.len() >= MOST_FILES {
            return Err(too_many(path));
        }
        if entry.is_dir() {
            if depth < DEEPEST {
                collect(&entry, depth + 1, files, findings)?;
            }
        } else if Path::new(&name).extension().is_some_and(|extension| extension == "toml") {
            files.push(entry);
        } else if name.to_lowercase().contains(".toml") {
            let message = "this file is not read: its name does not end in .toml";
            let fix = "rename it so that it ends in .toml, or delete it";
            let finding = Finding::error("not-read", &entry.display().to_string(), None, message, fix);
            findings.push(finding.as_severity(FindingSeverity::Advice));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
