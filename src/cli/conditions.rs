//! Conditions of development as `time`, `chart` and `record` share them: developers, dilutions, temperatures, agitation, own records.

use std::path::PathBuf;
use std::sync::Arc;

use clap::Args;

use super::arguments::{ratio, temperature_or};
use super::context::Context;
use super::error::CliError;
use crate::composition::Composer;
use crate::formula::Formula;
use crate::journal::{Journal, JournalError};
use crate::library::{Library, Origin};
use crate::nearest::{Point, nearest};
use crate::quantity::{Duration, QuantityError};
use crate::timing::{
    Developer, Developers, Model, Neighbour, Record, Setup, TimingError, TimingTable, TypedCoefficient,
    USUAL_AGITATION, USUAL_AGITATION_FOR_PAPER, Working,
};

/// What the known time was, and with what it is judged.
#[derive(Debug, Clone, Args)]
pub(super) struct KnownArguments {
    /// The developer of the known time: id, alias, path to a .toml file, or - for standard input
    #[arg(long, value_name = "FORMULA", help_heading = "Known")]
    pub(super) from: Option<String>,
    /// Its temperature [default: 20C]
    #[arg(long, value_name = "TEMPERATURE", help_heading = "Known")]
    pub(super) from_temp: Option<String>,
    /// Its dilution: stock, 1+1, or for a formula in parts A+B+water [default: undiluted, or its only way of use]
    #[arg(long, value_name = "DILUTION", help_heading = "Known")]
    pub(super) from_dilution: Option<String>,
    /// Its agitation: inversion (each minute), every-30s, tray (continuous), rotary, tank-lift [default: inversion, tray for paper]
    #[arg(long, value_name = "AGITATION", help_heading = "Known")]
    pub(super) from_agitation: Option<String>,
    /// The gradient that the known time gives [default: 0.58, the normal one]
    #[arg(long, value_name = "GRADIENT", help_heading = "Known")]
    pub(super) from_gradient: Option<f64>,
    /// The film, in the words of your records; all of them and the books together give the answer, without KNOWN by themselves
    #[arg(long, value_name = "FILM", help_heading = "Own data")]
    pub(super) film: Option<String>,
    /// Your own temperature coefficient: 2.5/10C, 1.9/7C, 1.096/C, 0.398log/10C
    #[arg(long, value_name = "COEFFICIENT", help_heading = "Own data")]
    pub(super) coefficient: Option<String>,
    #[command(flatten)]
    pub(super) journal: JournalArguments,
}

/// Where the journal lies.
#[derive(Debug, Clone, Args)]
pub(super) struct JournalArguments {
    /// Your journal.
    #[arg(
        long,
        value_name = "FILE",
        help_heading = "Own data",
        help = "Your journal [default: $SOUPCON_JOURNAL, else journal.toml in your data folder]"
    )]
    journal: Option<PathBuf>,
}

impl JournalArguments {
    /// The file: as given, as the environment says, or in the user's data folder.
    pub(super) fn path(&self, context: &Context<'_, '_>) -> Result<PathBuf, CliError> {
        if let Some(given) = &self.journal {
            return Ok(given.clone());
        }
        if let Some(set) =
            context.environment.variables.get("SOUPCON_JOURNAL").filter(|value| !value.is_empty())
        {
            return Ok(PathBuf::from(set));
        }
        context.environment.data_folder().map(|folder| folder.join("journal.toml")).ok_or_else(|| {
            let fix = "give --journal FILE, or set SOUPCON_JOURNAL or HOME";
            CliError::argument("--journal", "there is no data folder to keep a journal in", fix)
        })
    }

    /// The file where it was typed.
    pub(super) fn typed(&self) -> Option<&std::path::Path> {
        self.journal.as_deref()
    }

    /// Reads the journal; what cannot be read of it is told on standard error.
    pub(super) fn read(&self, context: &mut Context<'_, '_>) -> Result<Journal, CliError> {
        let path = self.path(context)?;
        let journal = Journal::read(&path).map_err(|error| journal_error(&error))?;
        for unread in journal.unread.iter().take(MOST_UNREAD_TOLD) {
            context.warn(&format!("{}, {unread}", path.display()));
        }
        let more = journal.unread.len().saturating_sub(MOST_UNREAD_TOLD);
        if more > 0 {
            context.warn(&format!("{}: {more} more entries are not read; all of them stay", path.display()));
        }
        Ok(journal)
    }
}

/// Most entries that are not read of which each is told: a file of another program would have thousands.
const MOST_UNREAD_TOLD: usize = 10;

/// A failure of the journal as the user sees it.
pub(super) fn journal_error(error: &JournalError) -> CliError {
    let (code, fix) = (error.code(), error.fix());
    CliError::Refused { code, message: error.to_string(), fix }
}

/// Why no time is given, as the user sees it: a wrong request with its argument, or an answer of no.
pub(super) fn timing_error(argument: &str, error: &TimingError) -> CliError {
    if error.is_misuse() {
        return CliError::argument(argument, error, error.fix());
    }
    CliError::Refused { code: error.code(), message: error.to_string(), fix: error.fix() }
}

/// The table of factors.
pub(super) fn timing_table(library: &Library) -> Result<TimingTable, CliError> {
    TimingTable::parse(library.packed("timing.toml"), "tables/timing.toml")
        .map_err(|findings| CliError::Findings { findings })
}

/// The library as timing looks developers up in it.
pub(super) struct Shelf<'a> {
    pub(super) library: &'a Library,
    pub(super) table: &'a TimingTable,
    /// Formulas named on the command line, which may lie outside the library.
    pub(super) named: &'a [Formula],
}

impl Developers for Shelf<'_> {
    fn developer(&self, id: &str) -> Option<Developer> {
        let found = self.library.formula(id).ok()?;
        Some(Developer::of(&found.formula, found.origin == Origin::Shipped, self.table))
    }

    fn nearest(&self, developer: &Developer) -> Vec<Neighbour> {
        let composer = Composer::new(self.library);
        let in_library = || Some(self.library.formula(&developer.id).ok()?.formula);
        let named = self.named.iter().find(|formula| formula.id == developer.id).cloned();
        let Some(formula) = named.or_else(in_library) else { return Vec::new() };
        // A personal folder that cannot be read only leaves fewer developers to be near.
        let Ok((all, _)) = self.library.formulas() else { return Vec::new() };
        let same_kind = all.iter().map(|found| &found.formula).filter(|other| other.kind == developer.kind);
        nearest(&Point::of_formula(&formula, &composer), same_kind, &composer)
            .into_iter()
            .map(|near| Neighbour { id: near.formula.id.clone(), distance: near.distance })
            .collect()
    }
}

/// A developer named on the command line; its formula is kept in `named`.
pub(super) fn developer(
    context: &mut Context<'_, '_>,
    table: &TimingTable,
    name: &str,
    named: &mut Vec<Formula>,
) -> Result<Arc<Developer>, CliError> {
    let found = context.formula(name)?;
    let developer = Developer::of(&found.formula, found.origin == Origin::Shipped, table);
    named.push(found.formula);
    Ok(Arc::new(developer))
}

/// Least time that anybody keeps by hand, s. Common practice, no source.
const LEAST_BY_HAND_S: f64 = 1.0;

/// A time that is kept by hand.
pub(super) fn duration(argument: &str, text: &str) -> Result<Duration, CliError> {
    let fix = "write 8min, 8:30, 8m30s or 510s";
    let time: Duration = text.parse().map_err(|error| CliError::argument(argument, error, fix))?;
    if time.as_s() < LEAST_BY_HAND_S {
        let error = QuantityError::TooSmall { kind: "time", text: text.trim().to_owned() };
        return Err(CliError::argument(argument, error, fix));
    }
    Ok(time)
}

/// The working solution of a developer.
pub(super) fn working(
    argument: &str,
    developer: &Developer,
    typed: Option<&str>,
) -> Result<Working, CliError> {
    let ratio = typed.map(|text| ratio(argument, text)).transpose()?;
    developer.working(ratio.as_ref()).map_err(|error| timing_error(argument, &error))
}

/// A way of agitation by the table's name; those without a factor are refused with their reason.
pub(super) fn agitation(argument: &str, table: &TimingTable, typed: &str) -> Result<String, CliError> {
    let name = typed;
    match table.agitation(name) {
        Ok((found, _)) => Ok(found.name.clone()),
        Err(error) => Err(timing_error(argument, &error)),
    }
}

impl KnownArguments {
    /// The conditions of the known time.
    pub(super) fn setup(
        &self,
        context: &mut Context<'_, '_>,
        table: &TimingTable,
        named: &mut Vec<Formula>,
    ) -> Result<Setup, CliError> {
        let Some(name) = self.from.as_deref() else {
            let fix = "give --from FORMULA, or --film FILM to start from your own records";
            return Err(CliError::argument("--from", "the developer of the known time is not named", fix));
        };
        let developer = developer(context, table, name, named)?;
        // What cannot be timed at all is said before anything is asked of its dilution.
        refuse_untimed(&developer, table)?;
        let working = working("--from-dilution", &developer, self.from_dilution.as_deref())?;
        let usual = table.usual_celsius_of(&developer, &working);
        let usual_agitation = usual_agitation(&developer, &working);
        Ok(Setup {
            temperature: temperature_or("--from-temp", self.from_temp.as_deref(), usual)?,
            agitation: agitation(
                "--from-agitation",
                table,
                self.from_agitation.as_deref().unwrap_or(usual_agitation),
            )?,
            working,
            developer,
        })
    }

    /// The user's coefficient.
    pub(super) fn typed_coefficient(&self) -> Result<Option<TypedCoefficient>, CliError> {
        let parse = |text: &String| text.parse().map_err(|error| timing_error("--coefficient", &error));
        self.coefficient.as_ref().map(parse).transpose()
    }

    /// The records of the film, where one is named.
    pub(super) fn records(&self, context: &mut Context<'_, '_>) -> Result<Vec<Record>, CliError> {
        if self.film.is_none() {
            return Ok(Vec::new());
        }
        let journal = self.journal.read(context)?;
        Ok(journal.results().iter().filter_map(Record::of).collect())
    }

    /// The model that these arguments make.
    pub(super) fn model<'a>(
        &self,
        table: &'a TimingTable,
        shelf: &'a Shelf<'a>,
        records: &[Record],
    ) -> Result<Model<'a>, CliError> {
        let mut model = Model::new(table, shelf);
        if let Some(coefficient) = self.typed_coefficient()? {
            model = model.with_coefficient(coefficient);
        }
        if let Some(film) = &self.film {
            model = model.with_own(film, records);
        }
        Ok(model)
    }
}

/// The conditions that a question about a film takes over from its records: of the formula named, else of any.
pub(super) fn own_usual(
    context: &Context<'_, '_>,
    table: &TimingTable,
    film: &str,
    records: &[Record],
    formula: Option<&str>,
) -> Option<Setup> {
    let shelf = Shelf { library: &context.library, table, named: &[] };
    let model = Model::new(table, &shelf).with_own(film, records);
    let id = formula.and_then(|name| Some(context.library.formula(name).ok()?.formula.id));
    model.own().usual(id.as_deref()).or_else(|| model.own().usual(None)).cloned()
}

/// The agitation meant where none is said.
pub(super) fn usual_agitation(developer: &Developer, working: &Working) -> &'static str {
    let is_in_a_tray = developer.is_for_paper(working) || developer.is_for_dish(working);
    if is_in_a_tray { USUAL_AGITATION_FOR_PAPER } else { USUAL_AGITATION }
}

/// Refuses a developer that goes by something else than time, whatever its dilution.
pub(super) fn refuse_untimed(developer: &Developer, table: &TimingTable) -> Result<(), CliError> {
    developer.must_be_timed(&Working::stock(), table).map_err(|error| timing_error("FORMULA", &error))
}
