//! What every command shares: the streams, the environment, the library, and how the answer is printed.

use std::cell::{OnceCell, RefCell};
use std::ffi::OsStr;
use std::io::{Read, Write};
use std::path::PathBuf;
use std::sync::Arc;

use clap::parser::ValueSource;
use clap::{ArgMatches, Args, ValueEnum};

use super::environment::Environment;
use super::error::CliError;
use super::settings::{Chosen, SettingOrigin, Settings};
use crate::diagnostic::Finding;
use crate::lettering::Paper;
use crate::library::{self, FoundFormula, Library, LibraryError};
use crate::render::{self, Document, TextStyle};
use crate::safety::SafetyData;
use crate::scale::exchange::Relations;
use crate::solution::{Equilibria, EquilibriaError};
use crate::suggestion;

/// Most that is read from standard input.
const MOST_INPUT_BYTES: u64 = (crate::diagnostic::LARGEST_FILE_BYTES as u64) + 1;

/// Standard input, output and error.
#[allow(missing_debug_implementations, reason = "streams have nothing to show")]
pub struct Streams<'a> {
    /// Results.
    pub out: &'a mut dyn Write,
    /// Messages.
    pub err: &'a mut dyn Write,
    /// Read for `-`.
    pub input: &'a mut dyn Read,
}

/// In what form the answer is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum Format {
    /// Plain text.
    #[default]
    Text,
    /// Markdown.
    Markdown,
    /// One HTML page.
    Html,
    /// One JSON document.
    Json,
}

/// When headings are bold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum Color {
    /// On a terminal that can.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// Options that every command takes.
#[derive(Debug, Clone, Args)]
pub(super) struct GlobalArguments {
    /// How to print the answer: text, markdown, html or json
    ///
    /// Where it is not given the ending of -o decides (.html, .md, .json), else it is text.
    #[arg(long, global = true, value_enum, default_value_t = Format::Text, hide_default_value = true, hide_possible_values = true, help_heading = "Output")]
    format: Format,
    /// Print one JSON document (short for --format json)
    #[arg(long, global = true, help_heading = "Output")]
    json: bool,
    /// Use ASCII characters only
    #[arg(long, global = true, hide_short_help = true, help_heading = "Output")]
    ascii: bool,
    /// When to use bold type: auto (on a terminal that can), always or never
    #[arg(long, global = true, hide_short_help = true, value_enum, default_value_t = Color::Auto, hide_default_value = true, hide_possible_values = true, help_heading = "Output")]
    color: Color,
    /// Leave out hints; results, warnings and errors stay
    #[arg(short, long, global = true, hide_short_help = true, help_heading = "Output")]
    quiet: bool,
    /// A folder of your own formulas and substances
    ///
    /// It has the layout of the built-in library. May be given several times; where two hold the same formula the last wins.
    /// Folders of every day go into the configuration, see `soupcon config`.
    #[arg(long, global = true, value_name = "FOLDER", help_heading = "Library")]
    library: Vec<PathBuf>,
}

impl GlobalArguments {
    /// Takes the form of the answer from the ending of the file that it goes to, unless one is named: `-o sheet.html` is a page.
    pub(super) fn follow_the_file(&mut self, matches: &ArgMatches) {
        let mut innermost = matches;
        while let Some((_, inner)) = innermost.subcommand() {
            innermost = inner;
        }
        let is_named = innermost.value_source("format") == Some(ValueSource::CommandLine);
        let file = innermost.try_get_one::<PathBuf>("output").ok().flatten();
        let ending = file.and_then(|file| file.extension()).map(OsStr::to_ascii_lowercase);
        if let (false, Some(ending)) = (is_named, ending.as_deref().and_then(OsStr::to_str)) {
            self.format = match ending {
                "html" | "htm" => Format::Html,
                "md" | "markdown" => Format::Markdown,
                "json" => Format::Json,
                _ => self.format,
            };
        }
    }
}

/// What is done once only in a run.
#[derive(Debug, Default)]
struct Done {
    /// Folders without anything of a library were told.
    folders_checked: bool,
    /// Standard input was read.
    input_read: bool,
}

/// What a command works with.
pub(super) struct Context<'a, 'b> {
    pub(super) streams: &'a mut Streams<'b>,
    pub(super) environment: &'a Environment,
    pub(super) library: Library,
    /// The personal folders of the library, with where each was named.
    pub(super) folders: Vec<Chosen<PathBuf>>,
    pub(super) settings: Settings,
    format: Format,
    ascii: bool,
    bold: bool,
    quiet: bool,
    /// What is done once only.
    done: Done,
    /// The tables of safety, opened once.
    safety: OnceCell<Arc<SafetyData>>,
    /// The constants read last, and for which chemicals (parent ids, sorted).
    equilibria: RefCell<Option<(Vec<String>, Arc<Equilibria>)>>,
}

impl<'a, 'b> Context<'a, 'b> {
    pub(super) fn new(
        global: &GlobalArguments,
        environment: &'a Environment,
        streams: &'a mut Streams<'b>,
        settings: Settings,
    ) -> Self {
        let format = if global.json { Format::Json } else { global.format };
        let bold = match global.color {
            Color::Always => true,
            Color::Never => false,
            Color::Auto => environment.wants_bold(),
        };
        let folders = library_folders(&global.library, environment, &settings);
        Self {
            library: Library::with_folders(folders.iter().map(|folder| folder.value.clone()).collect()),
            folders,
            settings,
            ascii: global.ascii || format == Format::Text && environment.locale_is_not_utf8(),
            streams,
            environment,
            format,
            bold,
            quiet: global.quiet,
            done: Done::default(),
            safety: OnceCell::new(),
            equilibria: RefCell::default(),
        }
    }

    /// Prints a document, or the JSON that `json` makes.
    pub(super) fn answer(
        &mut self,
        document: impl FnOnce() -> Document,
        json: impl FnOnce() -> String,
    ) -> Result<(), CliError> {
        let paper = self.settings.paper(None)?.value;
        self.answer_on(paper, document, json)
    }

    /// The same for a paper that the user has chosen.
    pub(super) fn answer_on(
        &mut self,
        paper: Paper,
        document: impl FnOnce() -> Document,
        json: impl FnOnce() -> String,
    ) -> Result<(), CliError> {
        let text = self.rendered_on(paper, document, json);
        self.streams.out.write_all(text.as_bytes())?;
        Ok(())
    }

    /// Whether JSON is wanted.
    pub(super) fn is_json(&self) -> bool {
        self.format == Format::Json
    }

    /// The answer in the wanted format, on a paper.
    pub(super) fn rendered_on(
        &self,
        paper: Paper,
        document: impl FnOnce() -> Document,
        json: impl FnOnce() -> String,
    ) -> String {
        if self.format == Format::Html {
            let page = render::to_html(&document(), paper);
            return self.page(page);
        }
        self.rendered_with(document, String::new, json)
    }

    /// The answer in the wanted format, with HTML of its own.
    pub(super) fn rendered_with(
        &self,
        document: impl FnOnce() -> Document,
        html: impl FnOnce() -> String,
        json: impl FnOnce() -> String,
    ) -> String {
        let text = match self.format {
            Format::Json => return json(),
            Format::Markdown => render::to_markdown(&document()),
            Format::Html => return self.page(html()),
            Format::Text => {
                let width = self.environment.width();
                render::to_text(&document(), TextStyle { width, bold: self.bold })
            }
        };
        if self.ascii { render::to_ascii(&text) } else { text }
    }

    /// How text is laid out, and whether in ASCII, where text is wanted.
    pub(super) fn text_style(&self) -> Option<(TextStyle, bool)> {
        let style = TextStyle { width: self.environment.width(), bold: self.bold };
        (self.format == Format::Text).then_some((style, self.ascii))
    }

    /// An HTML page in the wanted characters.
    fn page(&self, page: String) -> String {
        if self.ascii { render::to_ascii_page(&page) } else { page }
    }

    /// Refuses `--json` where the answer is of another kind.
    pub(super) fn refuse_json(&self, why: &str) -> Result<(), CliError> {
        if self.format == Format::Json {
            return Err(CliError::argument("--json", why, "leave it out"));
        }
        Ok(())
    }

    /// Whether only the answer is wanted.
    pub(super) fn is_quiet(&self) -> bool {
        self.quiet
    }

    /// Whether the answer is a page with a title, for a browser or a document, rather than lines in a terminal.
    pub(super) fn is_page(&self) -> bool {
        matches!(self.format, Format::Html | Format::Markdown)
    }

    /// A hint on standard error, which `--quiet` leaves out.
    pub(super) fn hint(&mut self, text: &str) {
        if !self.quiet {
            self.warn(text);
        }
    }

    /// A message on standard error that does not change the result.
    pub(super) fn warn(&mut self, text: &str) {
        // A closed standard error must not spoil the result.
        let _ = writeln!(self.streams.err, "note: {}", render::harmless(text));
    }

    /// Refuses folders of the library that are not there, where they were named; tells of those that hold nothing of a library.
    pub(super) fn check_folders(&mut self) -> Result<(), CliError> {
        let is_library = |chosen: &Chosen<PathBuf>| library::has_layout(&chosen.value);
        let strays: Vec<String> = self
            .folders
            .iter()
            .filter(|folder| {
                folder.value.is_dir() && folder.origin != SettingOrigin::Default && !is_library(folder)
            })
            .map(|folder| folder.value.display().to_string())
            .collect();
        if !std::mem::replace(&mut self.done.folders_checked, true) {
            for stray in strays {
                self.warn(&format!(
                    "{stray} holds no folder of a library, such as film-developer or substances; nothing is read from it"
                ));
            }
        }
        match self.folders.iter().find(|folder| !folder.value.is_dir()) {
            Some(folder) => {
                let message = format!("{} is not a folder", folder.value.display());
                Err(folder.origin.refuse("library", message, "give a folder with the layout of `formulas`"))
            }
            None => Ok(()),
        }
    }

    /// Tells of files that cannot be used, which does not keep the others from being listed.
    pub(super) fn warn_of(&mut self, findings: &[Finding]) {
        for finding in findings {
            self.warn(&format!("{finding} ({})", finding.fix));
        }
    }

    /// A formula by id, alias or path, or from standard input; tells when it hides a shipped one.
    pub(super) fn formula(&mut self, name: &str) -> Result<FoundFormula, CliError> {
        self.check_folders()?;
        if name == "-" {
            let text = self.standard_input("a formula")?;
            return Ok(self.library.formula_from_text(&text, "standard-input", "standard input")?);
        }
        let in_library = self.library.formula(name).map_err(|error| self.meant_a_chemical(name, error))?;
        if let (true, library::Origin::Folder(folder)) = (in_library.shadows_shipped, &in_library.origin) {
            let message = format!(
                "`{}` is your own formula from {}; it overrides the built-in one, whose timing and replenishment relations do not apply to it",
                in_library.formula.id,
                folder.display()
            );
            self.warn(&message);
        }
        Ok(in_library)
    }

    /// All of standard input as text, up to the size of the largest file; `what` is said to who sits at the terminal.
    pub(super) fn standard_input(&mut self, what: &str) -> Result<String, CliError> {
        if std::mem::replace(&mut self.done.input_read, true) {
            let message = "standard input can be only one thing, and was read already";
            return Err(CliError::argument("-", message, "name a file for one of the two"));
        }
        if self.environment.input_is_terminal {
            self.hint(&format!("reading {what} from standard input; end it with Ctrl-D"));
        }
        let mut bytes = Vec::new();
        (&mut *self.streams.input).take(MOST_INPUT_BYTES).read_to_end(&mut bytes).map_err(|error| {
            CliError::argument("-", format!("standard input cannot be read: {error}"), "")
        })?;
        String::from_utf8(bytes).map_err(|_| {
            CliError::argument("-", "standard input is not UTF-8 text", "save the file as UTF-8")
        })
    }

    /// Says so where a chemical was named in place of a formula.
    fn meant_a_chemical(&self, name: &str, error: LibraryError) -> CliError {
        let plain = suggestion::plain(name);
        let is_chemical = matches!(error, LibraryError::UnknownFormula { .. })
            && (matches!(self.library.substance(&plain), Ok(Some(_)))
                || self.library.form_by_name(&plain).is_ok());
        if is_chemical {
            let message = format!("`{name}` is a chemical, not a formula");
            return CliError::argument(
                "FORMULA",
                message,
                format!("`soupcon list --with {plain}` lists the formulas with it"),
            );
        }
        error.into()
    }

    /// The table of exchanges between chemicals.
    pub(super) fn relations(&self) -> Result<Relations, CliError> {
        let file = "tables/exchanges.toml";
        Relations::parse(self.library.packed("exchanges.toml"), file)
            .map_err(|finding| CliError::Findings { findings: vec![finding] })
    }
}

/// The personal folders: the one beside the configuration file, then the file's, the environment's and the command line's.
fn library_folders(
    given: &[PathBuf],
    environment: &Environment,
    settings: &Settings,
) -> Vec<Chosen<PathBuf>> {
    let chosen = |value: PathBuf, origin: SettingOrigin| Chosen { value, origin };
    let mut folders = Vec::new();
    let usual = environment.configuration_folder().map(|folder| folder.join("library"));
    folders
        .extend(usual.filter(|folder| folder.is_dir()).map(|folder| chosen(folder, SettingOrigin::Default)));
    folders.extend(settings.library.iter().cloned());
    let variable = "SOUPCON_LIBRARY";
    if let Some(list) = environment.variables.get(variable) {
        let named = std::env::split_paths(list).filter(|path| !path.as_os_str().is_empty());
        folders.extend(named.map(|folder| chosen(folder, SettingOrigin::Environment(variable))));
    }
    folders.extend(given.iter().map(|folder| chosen(folder.clone(), SettingOrigin::Flag("--library"))));
    folders
}

impl Context<'_, '_> {
    /// The tables of safety.
    pub(super) fn safety(&self) -> Result<Arc<SafetyData>, CliError> {
        if let Some(known) = self.safety.get() {
            return Ok(Arc::clone(known));
        }
        let table = |name: &str| self.library.packed(name);
        let read =
            SafetyData::open(table("statements.toml"), table("combinations.toml"), table("precautions.toml"));
        let read = read.map_err(|finding| CliError::Findings { findings: vec![finding] })?;
        Ok(Arc::clone(self.safety.get_or_init(|| Arc::new(read))))
    }

    /// The words of the bench page.
    pub(super) fn bench_words(&self) -> Result<crate::bench::words::BenchWords, CliError> {
        crate::bench::words::BenchWords::parse(self.library.packed("bench-words.toml"))
            .map_err(|finding| CliError::Findings { findings: vec![finding] })
    }

    /// Constants and interaction coefficients, all of them.
    pub(super) fn equilibria(&self) -> Result<Arc<Equilibria>, CliError> {
        let read = Equilibria::read(self.library.packed("equilibria.toml"));
        read.map(Arc::new).map_err(broken_equilibria)
    }

    /// Constants and interaction coefficients, as far as a formula needs them.
    pub(super) fn equilibria_of(
        &self,
        formula: &crate::formula::Formula,
    ) -> Result<Arc<Equilibria>, CliError> {
        self.equilibria_with(formula, &[])
    }

    /// Constants and interaction coefficients, as far as a formula and these chemicals (parent ids) need them.
    pub(super) fn equilibria_with(
        &self,
        formula: &crate::formula::Formula,
        also: &[&str],
    ) -> Result<Arc<Equilibria>, CliError> {
        let forms = formula
            .parts
            .iter()
            .flat_map(|part| part.ingredients.iter().map(|ingredient| &ingredient.form).chain(&part.solvent));
        // What a chemical of the user's own brings may be anything in the table.
        if forms.clone().any(|form| form.parent.solution.is_some()) {
            return self.equilibria();
        }
        let parents = forms.map(|form| form.parent.id.as_str());
        self.equilibria_for(&parents.chain(also.iter().copied()).collect())
    }

    /// Constants and interaction coefficients, as far as these chemicals (parent ids) need them.
    pub(super) fn equilibria_for(
        &self,
        parents: &std::collections::BTreeSet<&str>,
    ) -> Result<Arc<Equilibria>, CliError> {
        if let Some((of, known)) = self.equilibria.borrow().as_ref()
            && parents.iter().copied().eq(of.iter().map(String::as_str))
        {
            return Ok(Arc::clone(known));
        }
        let read = Equilibria::read_for(self.library.packed("equilibria.toml"), parents);
        let read = Arc::new(read.map_err(broken_equilibria)?);
        let of = parents.iter().map(|parent| (*parent).to_owned()).collect();
        *self.equilibria.borrow_mut() = Some((of, Arc::clone(&read)));
        Ok(read)
    }
}

#[allow(clippy::needless_pass_by_value, reason = "a function to map an error with")]
fn broken_equilibria(error: EquilibriaError) -> CliError {
    CliError::Refused {
        code: "broken-table",
        message: format!("tables/equilibria.toml: {error}"),
        fix: "this table is part of the program; please report it".to_owned(),
    }
}
