//! Judges formulas and substances: what a file says wrongly, doubtfully or against what the trade and the chemistry allow.
//!
//! Everything wrong is told at once, each with its file, line and remedy. Parsing ([`crate::formula`], [`crate::substance`]) refuses what cannot
//! be used; here stands what can be used but is probably a mistake ([`Severity::Warning`]) or worth a look ([`Severity::Advice`]).
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

use crate::composition::Analyst;
use crate::diagnostic::{Finding, Severity};
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
pub struct Report {
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

impl Report {
    /// Findings of at least a severity.
    pub fn at_least(&self, severity: Severity) -> impl Iterator<Item = &Finding> {
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
        severity: Severity,
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
struct Known {
    kind: Kind,
    replenishes: Vec<String>,
    partners: Vec<String>,
    variant_of: Option<String>,
    aliases: Vec<String>,
    file: String,
}

impl Known {
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
    analyst: Analyst<'a>,
    known: BTreeMap<String, Known>,
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
    /// The tables of safety.
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
        self.findings.push(self.source.finding(Severity::Warning, code, line, message, fix));
    }

    /// Worth a look.
    fn advise(
        &mut self,
        code: &'static str,
        line: Option<usize>,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) {
        self.findings.push(self.source.finding(Severity::Advice, code, line, message, fix));
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
        let analyst = Analyst::new(library);
        let (found, _) = library.formulas()?;
        let mut known = BTreeMap::new();
        let mut digests = names::Compositions::default();
        for own in &found {
            known.insert(own.formula.id.clone(), Known::of(&own.formula));
            digests.add(&own.formula, &analyst);
        }
        let shipped = found.iter().filter(|own| own.origin == Origin::Shipped).map(|own| &own.formula);
        let usual = plausible::Usual::of(shipped, &analyst);
        let vocabulary = substances::Vocabulary::of(library);
        Ok(Self { library, analyst, known, usual, digests, vocabulary, tables: None })
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
) -> Result<Report, LibraryError> {
    let mut files = Vec::new();
    let mut findings = Vec::new();
    for path in paths.iter().filter(|path| typed.is_none() || path.as_os_str() != "-") {
        collect(path, 0, &mut files, &mut findings)?;
    }
    files.sort();
    files.dedup();
    let own = Library::with_folders(folders_with(library, &files));
    let mut linter = Linter::new(&own)?.with_tables(tables);
    let mut report = Report { findings, ..Report::default() };
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
    report: &mut Report,
) -> Vec<(Formula, &'t str)> {
    let mut formulas = Vec::new();
    for (path, text) in read.iter().filter(|(path, text)| Holds::of(path, text) == Holds::Formula) {
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
        linter.known.insert(formula.id.clone(), Known::of(formula));
        linter.digests.add(formula, &linter.analyst);
    }
    formulas
}

/// Judges the substances, and reads the tables.
fn judge_others(read: &[(PathBuf, String)], linter: &Linter<'_>, report: &mut Report) {
    for (path, text) in read {
        let file = path.display().to_string();
        let id = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        match Holds::of(path, text) {
            Holds::Formula => {}
            Holds::Substance => {
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
            Holds::Table => {
                if let Err(finding) = crate::diagnostic::read_toml::<toml::Table>(text, &file) {
                    report.findings.push(finding);
                }
            }
        }
    }
}

/// What a file holds, by its folder or, elsewhere, by what is in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Holds {
    Formula,
    Substance,
    Table,
}

impl Holds {
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
        if !folders.iter().any(|own| same(own, root)) && !repeats_shipped(root) {
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
            findings.push(finding.as_severity(Severity::Advice));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "format = 1\ntitle = \"t\"\nsummary = \"s\"\nevidence = \"memory\"\n";

    /// A formula of one part: kind, extra keys, and ingredients as `form grams`, `form 5ml` …
    fn text(kind: &str, extra: &str, ingredients: &[&str]) -> String {
        let mut text = format!("{HEAD}kind = \"{kind}\"\n{extra}\n");
        for line in ingredients {
            let (form, amount) = line.split_once(' ').unwrap();
            let amount = match amount.strip_suffix("ml") {
                Some(ml) => format!("millilitres = {ml}"),
                None => format!("grams = {amount}"),
            };
            text.push_str(&format!("[[ingredients]]\nsubstance = \"{form}\"\n{amount}\n"));
        }
        text
    }

    /// A linter that knows the shipped library; building one reads all of it.
    fn linter() -> Linter<'static> {
        Linter::new(Box::leak(Box::new(Library::shipped()))).unwrap()
    }

    /// The same, which also tries what it judges.
    fn trying_linter() -> Linter<'static> {
        let library: &'static Library = Box::leak(Box::new(Library::shipped()));
        let table = |name: &str| library.table(name).unwrap();
        let read = (table("statements.toml"), table("combinations.toml"), table("precautions.toml"));
        let tables = Tables {
            equilibria: Box::leak(Box::new(Equilibria::parse(table("equilibria.toml")).unwrap())),
            safety: Box::leak(Box::new(SafetyData::parse(read.0, read.1, read.2).unwrap())),
            relations: Box::leak(Box::new(
                Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap(),
            )),
        };
        Linter::new(library).unwrap().with_tables(Some(tables))
    }

    impl Linter<'_> {
        /// Codes found in a formula, with their lines.
        fn judged(&self, text: &str) -> Vec<(&'static str, Option<usize>)> {
            let found = self.library.formula_from_text(text, "mine", "mine.toml").unwrap();
            let findings = self.formula(&found.formula, text);
            for finding in &findings {
                assert!(!finding.message.is_empty() && !finding.fix.is_empty(), "{finding:?}");
            }
            findings.iter().map(|finding| (finding.code, finding.line)).collect()
        }

        fn codes(&self, kind: &str, extra: &str, ingredients: &[&str]) -> Vec<&'static str> {
            self.judged(&text(kind, extra, ingredients)).into_iter().map(|(code, _)| code).collect()
        }
    }

    const MQ: [&str; 4] =
        ["metol 2", "sodium-sulfite-anhydrous 100", "hydroquinone 5.5", "borax-decahydrate 2"];

    #[test]
    fn a_sound_formula_is_left_alone() {
        let linter = linter();
        assert!(linter.codes("film-developer", "", &MQ).is_empty());
    }

    #[test]
    fn a_developer_without_an_agent_is_told_unless_it_serves_a_sensitizer() {
        let linter = linter();
        let soda = ["sodium-sulfite-anhydrous 50", "sodium-carbonate-anhydrous 30"];
        let found = linter.judged(&text("film-developer", "", &soda));
        assert_eq!(found, [("no-agent", Some(5))]);
        let extra = "partners = [\"kallitype-ferric-oxalate-sensitizer\"]";
        assert!(linter.codes("paper-developer", extra, &soda).is_empty());
        assert!(linter.codes("washing-aid", "", &soda).is_empty());
    }

    #[test]
    fn salts_above_their_solubility_are_told_with_their_line() {
        let linter = trying_linter();
        let found = linter.judged(&text(
            "film-developer",
            "",
            &["metol 2", "sodium-sulfite-anhydrous 100", "borax-decahydrate 80"],
        ));
        assert_eq!(found, [("above-solubility", Some(13))]);
        // Warm use says its temperature.
        let warm = "\n[[use]]\nname = \"warm\"\nbaths = [{ stock = 1 }]\ntemperature = 45\n";
        let file =
            text("film-developer", "", &["metol 2", "sodium-sulfite-anhydrous 100", "borax-decahydrate 80"])
                + warm;
        assert!(linter.judged(&file).is_empty());
        // So does a note of its own that speaks of it; one that speaks of another's crystals does not.
        let eighty = ["metol 2", "sodium-sulfite-anhydrous 100", "borax-decahydrate 80"];
        let noted = |note: &str| linter.codes("film-developer", &format!("note = \"{note}\""), &eighty);
        assert!(noted("In a cool room borax crystallises.").is_empty());
        assert_eq!(noted("Sulfite crystals are meant."), ["above-solubility"]);
        // A hardener is no exception: 120 g of alum crystals against 111 g in a litre of water at 20 °C (the shipped curve).
        let alum = ["potassium-alum-dodecahydrate 140"];
        assert_eq!(linter.codes("hardener", "", &alum), ["above-solubility"]);
        // Caustic turns borax into metaborate; a strong solution brings water of its own.
        let caustic = ["metol 2", "borax-decahydrate 80", "sodium-hydroxide 17"];
        assert!(linter.codes("film-developer", "", &caustic).is_empty());
    }

    #[test]
    fn ten_times_the_usual_sulfite_is_a_slip_of_the_decimal_point() {
        let linter = linter();
        let found = linter.codes(
            "film-developer",
            "",
            &["metol 2", "sodium-sulfite-anhydrous 1000", "hydroquinone 5"],
        );
        assert!(found.contains(&"much-sulfite"), "{found:?}");
        let found = linter.codes(
            "fixer",
            "",
            &["sodium-thiosulfate-pentahydrate 240", "sodium-sulfite-anhydrous 250"],
        );
        assert!(found.contains(&"much-sulfite"), "{found:?}");
    }

    #[test]
    fn thiosulfate_in_acid_without_sulfite_is_told_but_not_in_a_toner() {
        let linter = linter();
        let bare = ["sodium-thiosulfate-pentahydrate 240", "acetic-acid-28 48ml"];
        assert_eq!(linter.codes("fixer", "", &bare), ["sulfur"]);
        let alum = ["sodium-thiosulfate-pentahydrate 240", "potassium-alum-dodecahydrate 15"];
        assert_eq!(linter.codes("fixer", "", &alum), ["sulfur"]);
        let kept =
            ["sodium-thiosulfate-pentahydrate 240", "sodium-sulfite-anhydrous 15", "acetic-acid-28 48ml"];
        assert!(linter.codes("fixer", "", &kept).is_empty());
        let boric = ["sodium-thiosulfate-pentahydrate 240", "boric-acid 7.5"];
        assert!(linter.codes("fixer", "", &boric).is_empty(), "boric acid is too weak");
        assert!(linter.codes("toner", "", &alum).is_empty());
    }

    #[test]
    fn more_than_a_litre_in_a_litre_is_told() {
        let linter = linter();
        let found = linter.codes(
            "fixer",
            "",
            &[
                "sodium-thiosulfate-pentahydrate 1200",
                "sodium-sulfite-anhydrous 15",
                "ammonium-thiosulfate-60 400ml",
            ],
        );
        assert!(found.contains(&"no-room"), "{found:?}");
        // A kilogram of agents has room in a litre, but not the water to dissolve in.
        let found = linter.codes(
            "film-developer",
            "",
            &["metol 400", "hydroquinone 500", "sodium-sulfite-anhydrous 100"],
        );
        assert!(found.contains(&"no-room"), "{found:?}");
        let water = "[mixing]\nwater = 950\n";
        let found = linter.codes(
            "fixer",
            water,
            &["sodium-thiosulfate-pentahydrate 300", "sodium-sulfite-anhydrous 15"],
        );
        assert_eq!(found, ["overfull"]);
    }

    #[test]
    fn relations_name_what_exists_and_what_names_back() {
        let linter = linter();
        let found = linter.judged(&text("film-developer", "variant_of = \"mq-borax-clasic\"", &MQ));
        assert_eq!(found, [("unknown-relation", Some(6))]);
        assert_eq!(linter.codes("film-developer", "variant_of = \"mine\"", &MQ), ["names-itself"]);
        assert_eq!(
            linter.codes("film-developer", "variant_of = \"plain-thiosulfate-fixer\"", &MQ),
            ["variant-kind"]
        );
        assert_eq!(
            linter.codes("film-developer", "partners = [\"nothing-such\"]", &MQ),
            ["unknown-relation"]
        );
        assert_eq!(
            linter.codes("film-developer", "replenishes = [\"metol-sulfite\"]", &MQ),
            ["replenisher-kind"]
        );
        assert_eq!(linter.codes("replenisher", "", &MQ), ["replenishes-nothing"]);
        let with = "[replenishment]\nwith = \"mq-borax-classic-replenisher\"\n";
        assert_eq!(linter.codes("film-developer", with, &MQ), ["replenishes-one-way"]);
        assert_eq!(linter.codes("film-developer", "aliases = [\"Metol-Sulfite\"]", &MQ), ["alias-clash"]);
    }

    #[test]
    fn order_keeping_and_minutes_are_looked_at() {
        let linter = linter();
        let order = "[mixing]\norder = [\"metol\", \"sodium-sulfite-anhydrous\", \"borax-pentahydrate\"]\n";
        assert_eq!(linter.judged(&text("film-developer", order, &MQ)), [("order-names", Some(7))]);
        let keeping = "[keeping]\nfull_bottle_days = 30\nhalf_bottle_days = 60\n";
        assert_eq!(linter.codes("film-developer", keeping, &MQ), ["keeping"]);
        let file = text("film-developer", "", &MQ)
            + "[[use]]\nname = \"u\"\nbaths = [{ stock = 1 }]\nminutes = [9, 5]\n";
        assert_eq!(linter.judged(&file).iter().map(|own| own.0).collect::<Vec<_>>(), ["use-minutes"]);
    }

    #[test]
    fn the_same_composition_under_another_name_and_jars_that_lie_are_advice() {
        let linter = linter();
        let classic =
            ["metol 2", "sodium-sulfite-heptahydrate 200.05", "hydroquinone 5", "borax-decahydrate 2"];
        assert_eq!(linter.codes("film-developer", "", &classic), ["same-composition"]);
        assert_eq!(linter.codes("stop-bath", "", &["sodium-bisulfite 30"]), ["bisulfite"]);
        let much = ["metol 2", "sodium-sulfite-anhydrous 100", "potassium-bromide 400"];
        assert!(linter.codes("film-developer", "", &much).contains(&"unusual-amount"));
    }

    #[test]
    fn published_figures_are_reproduced_or_told() {
        let linter = linter();
        let check = |table: &str| {
            linter.codes("film-developer", "", &MQ).is_empty().then(|| {
                let file = text("film-developer", "", &MQ) + "[[check]]\nsource = \"S\"\n" + table;
                linter.judged(&file).iter().map(|own| own.0).collect::<Vec<_>>()
            })
        };
        // 100 g / 126.043 g/mol (molmass 2026.1.8).
        let good =
            "quantity = \"molarity\"\nsubstance = \"sodium-sulfite\"\nexpected = 0.793\ntolerance = 0.001\n";
        assert_eq!(check(good).unwrap(), Vec::<&str>::new());
        let bad =
            "quantity = \"molarity\"\nsubstance = \"sodium-sulfite\"\nexpected = 0.397\ntolerance = 0.001\n";
        assert_eq!(check(bad).unwrap(), ["check-failed"]);
        let crystals = "quantity = \"equivalent\"\nsubstance = \"sodium-sulfite-anhydrous\"\nequivalent_of = \"sodium-sulfite-heptahydrate\"\nexpected = 200\ntolerance = 0.5\n";
        assert_eq!(check(crystals).unwrap(), Vec::<&str>::new());
        let grams =
            "quantity = \"grams_per_litre\"\nsubstance = \"hydroquinone\"\nexpected = 5\ntolerance = 0.1\n";
        assert_eq!(check(grams).unwrap(), ["check-failed"]);
        for wrong in [
            "quantity = \"molarity\"\nsubstance = \"amidol\"\nexpected = 1\ntolerance = 1\n",
            "quantity = \"molarity\"\nexpected = 1\ntolerance = 1\n",
            "quantity = \"molarity\"\nsubstance = \"metol\"\npart = \"Z\"\nexpected = 1\ntolerance = 1\n",
            "quantity = \"equivalent\"\nsubstance = \"metol\"\nequivalent_of = \"hydroquinone\"\nexpected = 1\ntolerance = 1\n",
            "quantity = \"molarity\"\nsubstance = \"metol\"\nexpected = 1\ntolerance = 0\n",
        ] {
            assert_eq!(check(wrong).unwrap(), ["check"], "{wrong}");
        }
    }

    #[test]
    fn a_ph_is_compared_only_with_a_prediction() {
        let library = Library::shipped();
        let table = |name: &str| library.table(name).unwrap();
        let equilibria = Equilibria::parse(table("equilibria.toml")).unwrap();
        let read = (table("statements.toml"), table("combinations.toml"), table("precautions.toml"));
        let safety = SafetyData::parse(read.0, read.1, read.2).unwrap();
        let relations = Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap();
        let tables = Tables { equilibria: &equilibria, safety: &safety, relations: &relations };
        // The borax standard: 3.80 g a litre, 9.180 at 25 °C (Lange's Handbook of Chemistry, 15th ed., p. 8.106, table 8.15).
        let checked = |ph: f64| {
            text(
                "film-developer",
                "partners = [\"kallitype-ferric-oxalate-sensitizer\"]",
                &["borax-decahydrate 3.80"],
            ) + &format!(
                "[[check]]\nquantity = \"ph\"\nexpected = {ph}\ntolerance = 0.03\ncelsius = 25\nsource = \"S\"\n"
            )
        };
        let findings = |ph: f64, tables: Option<Tables<'_>>| {
            let linter = Linter::new(&library).unwrap().with_tables(tables);
            let codes = linter.judged(&checked(ph)).into_iter().map(|(code, _)| code);
            codes.filter(|code| *code == "check-failed").count()
        };
        assert_eq!(
            (findings(9.18, Some(tables)), findings(9.0, Some(tables)), findings(9.0, None)),
            (0, 1, 0)
        );
    }

    #[test]
    fn substances_need_sources_roles_classes_and_forms_that_agree() {
        let library = Library::shipped();
        let linter = Linter::new(&library).unwrap();
        let codes = |text: &str| {
            let substance = Substance::parse(text, "mine", "mine.toml", library.weights()).unwrap();
            let findings = linter.substance(&substance, "mine.toml", text, false);
            findings.iter().map(|own| own.code).collect::<Vec<_>>()
        };
        let form = "[[forms]]\nid = \"mine\"\nname = \"mine\"\n";
        let head = "format = 1\nname = \"mine\"\n";
        assert_eq!(codes(&format!("{head}{form}")), ["no-roles", "no-classes"]);
        let whole = format!("{head}roles = [\"alkali\"]\nclasses = [\"alkali\"]\n{form}");
        assert!(codes(&whole).is_empty());
        assert_eq!(codes(&whole.replace("[\"alkali\"]\n[[", "[\"alkalii\"]\n[[")), ["unknown-class"]);
        assert_eq!(
            codes(&format!("{whole}density_g_per_ml = 2\ndensity_source = \"crc-roh\"\n")),
            ["unknown-source"]
        );
        assert!(
            codes(&format!("{whole}density_g_per_ml = 2\ndensity_source = \"A. Author, Title, 1999\"\n"))
                .is_empty()
        );
        assert_eq!(codes(&format!("{whole}cas = \"7757-83-6\"\n")), ["cas"]);
        assert_eq!(
            codes(&format!("{whole}state = \"solution\"\nformula = \"NaOH\"\n")),
            ["no-density", "no-assay"]
        );
        let hazards = "[forms.hazards]\nstatus = \"typical\"\nstatements = [\"P280\"]\nsource = \"memory\"\n";
        assert_eq!(codes(&format!("{whole}{hazards}")), ["hazard-code"]);
        let other =
            "formula = \"Na2CO3\"\n[[forms]]\nid = \"mine-wet\"\nname = \"wet\"\nformula = \"K2CO3.H2O\"\n";
        assert_eq!(codes(&format!("{whole}{other}")), ["forms-differ"]);
        let hydrate = other.replace("K2CO3", "Na2CO3");
        assert!(codes(&format!("{whole}{hydrate}")).is_empty());
    }
}
