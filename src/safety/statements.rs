//! Standard hazard statements: what a code means, in the words of the regulation and in plain ones, and what it asks to be worn.

use serde::Deserialize;

use super::rows::{Named, Rows};
use crate::diagnostic::{Finding, read_toml};
use crate::packed::Packed;
use crate::substance::{FORMAT, Signal};

/// Something to put on or to see to; in the order in which a sheet names them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[allow(missing_docs, reason = "each variant is the thing itself")]
pub enum Wear {
    #[serde(rename = "nitrile gloves")]
    NitrileGloves,
    #[serde(rename = "heavy gloves")]
    HeavyGloves,
    #[serde(rename = "goggles")]
    EyeProtection,
    #[serde(rename = "face shield")]
    FaceShield,
    #[serde(rename = "dust mask")]
    DustMask,
    #[serde(rename = "apron")]
    Apron,
    #[serde(rename = "ventilation")]
    Ventilation,
    #[serde(rename = "extraction")]
    Extraction,
}

impl Wear {
    /// Whether it is something to put on, and not air.
    pub fn is_worn(self) -> bool {
        !matches!(self, Self::Ventilation | Self::Extraction)
    }

    /// As every command prints it.
    pub fn word(self) -> &'static str {
        match self {
            Self::NitrileGloves => "nitrile gloves",
            Self::HeavyGloves => "thick gloves for the acid (butyl, neoprene or PVC)",
            Self::EyeProtection => "goggles",
            Self::FaceShield => "face shield",
            Self::DustMask => "dust mask",
            Self::Apron => "apron",
            Self::Ventilation => "ventilation",
            Self::Extraction => "extraction",
        }
    }
}

/// What is put on, in the words that every command prints: `nitrile gloves, goggles, apron`.
pub fn worn_words(wear: &[Wear]) -> String {
    let worn = wear.iter().filter(|wear| wear.is_worn());
    worn.map(|wear| wear.word()).collect::<Vec<_>>().join(", ")
}

/// A standard statement.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// Its code, such as H302.
    pub code: String,
    /// The standard wording.
    pub text: String,
    /// The same in plain words.
    pub plain: String,
    /// What it asks for.
    pub wear: Vec<Wear>,
}

impl Statement {
    /// Wording, then code: `Harmful if swallowed. (H302)`.
    pub fn with_code(&self) -> String {
        format!("{} ({})", self.text, self.code)
    }
}

impl Named for Statement {
    const KEY: &'static str = "code";

    fn row_name(&self) -> &str {
        &self.code
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StatementsFile {
    format: u32,
    #[serde(rename = "source")]
    _source: String,
    statements: Rows<Statement>,
}

/// The table of statements.
#[derive(Debug, Clone, Default)]
pub struct Statements(pub(super) Rows<Statement>);

impl Statements {
    /// Opens the packed table; a statement is read when it is asked for.
    pub(super) fn open(table: Packed<'static>) -> Self {
        Self(Rows::of_packed(table, "statements"))
    }

    /// Reads all of it.
    ///
    /// # Errors
    /// A statement is not of its shape, or a code stands twice.
    pub(super) fn parse(text: &str, file: &str) -> Result<Self, Finding> {
        let table: StatementsFile = read_toml(text, file)?;
        super::check_format(table.format, FORMAT, file)?;
        let own = Self(table.statements);
        for (statement, line) in own.0.with_lines(text) {
            let found = own.get(&statement.code).is_some_and(|first| std::ptr::eq(first, statement));
            if !found {
                let message = format!("the code {} stands twice", statement.code);
                return Err(Finding::error(
                    "duplicate-code",
                    file,
                    Some(line),
                    message,
                    "keep one of the two",
                ));
            }
        }
        Ok(own)
    }

    /// None for a code that the table does not hold.
    pub fn get(&self, code: &str) -> Option<&Statement> {
        self.0.find(code)
    }

    /// Wording and code; the bare code where the table does not have it, so that nothing is left out.
    pub fn with_code(&self, code: &str) -> String {
        self.get(code).map_or_else(|| code.to_owned(), Statement::with_code)
    }

    /// Plain words; the bare code where the table does not have it.
    pub fn plain(&self, code: &str) -> String {
        self.get(code).map_or_else(|| code.to_owned(), |statement| statement.plain.clone())
    }
}

/// The signal word that goes with a code.
///
/// Source: Regulation (EC) 1272/2008, Annex I, label elements of each class; from memory. H290 carries `Warning`, H411 to H413 none.
pub fn signal_of(code: &str) -> Option<Signal> {
    match code.get(..4)? {
        // H228, H242, H261 and H272 stand for two categories, one with each signal word: the greater is taken.
        "H200" | "H201" | "H202" | "H203" | "H205" | "H206" | "H207" | "H209" | "H210" | "H232" | "H220"
        | "H222" | "H224" | "H225" | "H228" | "H240" | "H241" | "H242" | "H250" | "H251" | "H260"
        | "H261" | "H270" | "H271" | "H272" | "H300" | "H301" | "H304" | "H310" | "H311" | "H314"
        | "H318" | "H330" | "H331" | "H334" | "H340" | "H350" | "H360" | "H370" | "H372" => {
            Some(Signal::Danger)
        }
        "H204" | "H208" | "H211" | "H303" | "H313" | "H316" | "H320" | "H333" | "H221" | "H223" | "H226"
        | "H227" | "H252" | "H280" | "H281" | "H290" | "H302" | "H312" | "H315" | "H317" | "H319"
        | "H332" | "H335" | "H336" | "H341" | "H351" | "H361" | "H371" | "H373" | "H400" | "H410"
        | "H420" => Some(Signal::Warning),
        _ => None,
    }
}
