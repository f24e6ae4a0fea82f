//! What can hurt: the substances while they are weighed, what they do to each other, the bath that comes of them, the baths one after
//! another, and what is left of them.
//!
//! All words and limits are data: `tables/statements.toml` (standard statements), `tables/combinations.toml` (what must not meet
//! what, by class and amount) and `tables/precautions.toml` (boxes, waste, after exposure). This module applies them to neutral lists
//! of [`Content`] and gives plain values; it predicts no pH and no temperature. What is not known is told, never left out. It is a
//! help, not a legal classification.
//!
//! Where a substance's hazard list was not read in a document its `source` is `memory` and the sheet prints that key.

mod air;
mod amounts;
mod bath;
mod baths;
mod between;
mod combinations;
mod exposure;
mod extreme;
mod powder;
mod precautions;
mod rows;
mod special;
mod statements;
mod waste;
mod wear;

pub use air::Air;
pub use bath::{BathHazards, BathStatement, NotComputed};
pub use baths::BathSummary;
pub use between::BetweenCaution;
pub use combinations::{Caution, Combinations, Filling, Refusal, Severity, Situation};
pub use exposure::{GasRelease, Release};
pub use extreme::{Acidity, Dissolved};
pub use powder::{NOT_KNOWN, PowderHazard};
pub use precautions::Precautions;
pub use special::SpecialBox;
pub use statements::{Statement, Statements, Wear, signal_of, worn_words};
pub use waste::WasteLine;

use crate::diagnostic::Finding;
use crate::formula::Kind;
use crate::packed::Packed;
use crate::vessel::Content;

const STATEMENTS: &str = "tables/statements.toml";
const COMBINATIONS: &str = "tables/combinations.toml";
const PRECAUTIONS: &str = "tables/precautions.toml";

/// Refuses a table of another format.
fn check_format(format: u32, known: u32, file: &str) -> Result<(), Finding> {
    if format == known {
        return Ok(());
    }
    let message = format!("format = {format} is not known to this version");
    Err(Finding::error("format", file, Some(1), message, format!("write format = {known}")))
}

/// What holds for a recipe as a whole.
#[derive(Debug, Clone, PartialEq)]
pub struct General {
    /// What to wear and to see to, in the order of a sheet.
    pub wear: Vec<Wear>,
    /// How much air.
    pub air: Air,
    /// What to do with what is left.
    pub waste: Vec<WasteLine>,
    /// The gases that can come off.
    pub gases: Vec<GasRelease>,
    /// After exposure.
    pub exposure: Vec<String>,
    /// Who decides.
    pub closing: String,
}

impl General {
    /// Adds what finished baths ask to be worn: two mild powders can make a bath that burns.
    pub fn also_wear<'a>(&mut self, baths: impl Iterator<Item = &'a BathHazards>) {
        self.wear.extend(baths.flat_map(|bath| bath.wear.iter().copied()));
        self.wear.sort();
        self.wear.dedup();
        self.air = self.air.max(Air::of(false, &self.gases, &self.wear));
    }

    /// About air, where it matters.
    pub fn ventilation(&self) -> Option<String> {
        let comes_off = self.gases.iter().any(|own| own.release != Release::WithAcid);
        self.air.words(comes_off && self.wear.contains(&Wear::DustMask))
    }
}

/// The tables of safety.
#[derive(Debug, Clone, Default)]
pub struct SafetyData {
    pub(self) statements: Statements,
    pub(self) combinations: Combinations,
    pub(self) precautions: Precautions,
}

impl SafetyData {
    /// Opens the three packed tables; a row is read when it is needed. A test proves their texts with [`SafetyData::parse`].
    ///
    /// # Errors
    /// The head of one of them is not of its shape.
    pub fn open(
        statements: Packed<'static>,
        combinations: Packed<'static>,
        precautions: Packed<'static>,
    ) -> Result<Self, Finding> {
        Ok(Self {
            statements: Statements::open(statements),
            combinations: Combinations::open(combinations, COMBINATIONS)?,
            precautions: Precautions::open(precautions, PRECAUTIONS)?,
        })
    }

    /// Reads the three tables from their texts, all of them.
    ///
    /// # Errors
    /// One of them is not of its shape.
    pub fn parse(statements: &str, combinations: &str, precautions: &str) -> Result<Self, Finding> {
        Ok(Self {
            statements: Statements::parse(statements, STATEMENTS)?,
            combinations: Combinations::parse(combinations, COMBINATIONS)?,
            precautions: Precautions::parse(precautions, PRECAUTIONS)?,
        })
    }

    /// The standard statements.
    pub fn statements(&self) -> &Statements {
        &self.statements
    }

    /// What must not meet, by class.
    pub fn combinations(&self) -> &Combinations {
        &self.combinations
    }

    /// What to wear, the air, and gases.
    pub fn precautions(&self) -> &Precautions {
        &self.precautions
    }

    /// Hazards of the substances as weighed, each form once; plain water is left out.
    pub fn powders(&self, contents: &[Content]) -> Vec<PowderHazard> {
        powder::hazards_of(contents, &self.statements)
    }

    /// Cautions about substances side by side on the bench, before anything is dissolved.
    pub fn dry(&self, contents: &[Content]) -> Vec<Caution> {
        self.combinations.dry(contents, |code| self.statements.with_code(code))
    }

    /// Cautions while a vessel is filled, the gravest first; a caution belongs before the step that completes it
    /// ([`Caution::completed_at`]). Substances without classes get a caution of their own: combinations not checked.
    ///
    /// # Errors
    /// What must never be in one vessel.
    pub fn while_mixing(
        &self,
        vessel: &[Content],
        batch_litres: f64,
        filling: Filling,
    ) -> Result<Vec<Caution>, Box<Refusal>> {
        self.while_mixing_so_acid(vessel, batch_litres, filling, None)
    }

    /// The same of a solution of which it is known how acid it is and which gases are dissolved in it.
    ///
    /// # Errors
    /// As [`SafetyData::while_mixing`].
    pub fn while_mixing_so_acid(
        &self,
        vessel: &[Content],
        batch_litres: f64,
        filling: Filling,
        acidity: Option<Acidity>,
    ) -> Result<Vec<Caution>, Box<Refusal>> {
        let statement = |code: &str| self.statements.with_code(code);
        let known = (batch_litres, acidity);
        let mut cautions = self.combinations.in_vessel(vessel, known, filling, statement)?;
        cautions.extend(unchecked(vessel));
        Ok(cautions)
    }

    /// Cautions between baths used one after another; a wash is [`BathSummary::wash`].
    pub fn between(&self, sequence: &[&BathSummary]) -> Vec<BetweenCaution> {
        between::between(self, sequence)
    }

    /// Baths that must not come before or after this one without a wash, in words, the most dangerous first.
    pub fn never_beside(&self, bath: &[Content]) -> Vec<String> {
        self.combinations.never_beside(bath).into_iter().map(|(_, words)| words).collect()
    }

    /// The hazards of a bath by the mixture rules; how acid it is where that is known.
    pub fn bath(&self, contents: &[Content], acidity: Option<Acidity>) -> BathHazards {
        let acidity = acidity.filter(|own| !own.is_rough);
        bath::hazards_of(contents, acidity, &self.statements, &self.precautions.limits)
    }

    /// Full-width boxes that come before all else.
    pub fn boxes(&self, contents: &[Content], kind: Option<Kind>, formula: Option<&str>) -> Vec<SpecialBox> {
        let tables = (&self.precautions.boxes, &self.precautions.waste);
        special::boxes_of(contents, kind, formula, tables, &self.combinations.equivalents)
    }

    /// What to do with what is left of a bath.
    pub fn waste(&self, contents: &[Content], kind: Option<Kind>) -> Vec<WasteLine> {
        waste::lines_of(contents, kind, &self.precautions.waste)
    }

    /// What a vessel asks to be worn while it is filled, and which air, beyond the hazard statements of what goes in.
    pub fn wear(&self, vessel: &[Content]) -> Vec<Wear> {
        wear::wear_of(&self.precautions.wear, vessel, &self.combinations.equivalents)
    }

    /// What holds for the recipe as a whole; `asked` is what its vessels ask to be worn ([`SafetyData::wear`]), `cautions` are those already found, for the gases they name, and `is_boxed` says whether a
    /// full-width box stands above it, which asks for more than an open window.
    pub fn general(
        &self,
        contents: &[Content],
        kind: Option<Kind>,
        asked: impl IntoIterator<Item = Wear>,
        cautions: &[&Caution],
        is_boxed: bool,
    ) -> General {
        // With any chemical, whatever its statements ask for; common practice, no source.
        let mut wear = vec![Wear::NitrileGloves, Wear::EyeProtection];
        wear.extend(self.powders(contents).into_iter().flat_map(|hazard| hazard.wear));
        wear.extend(asked);
        let meant = self.gases(contents, cautions);
        let comes_off = meant.iter().any(|own| own.release != Release::WithAcid);
        if comes_off {
            wear.push(Wear::Ventilation);
        }
        wear.sort();
        wear.dedup();
        General {
            air: Air::of(is_boxed, &meant, &wear),
            wear,
            waste: self.waste(contents, kind),
            exposure: self.precautions.exposure.lines(&meant),
            gases: meant,
            closing: self.precautions.closing.clone(),
        }
    }

    /// The gases that can come off, in the making (by the cautions found), from the contents by themselves, and when acid comes to them.
    pub fn gases(&self, contents: &[Content], cautions: &[&Caution]) -> Vec<GasRelease> {
        exposure::gases(&self.precautions.gases, contents, cautions)
    }

    /// The line that ends everything: who decides.
    pub fn closing(&self) -> &str {
        &self.precautions.closing
    }

    /// Names in the tables that neither `is_known` nor the special amounts explain: a test that no row waits for a class that no
    /// substance has.
    pub fn unknown_names(&self, is_known: &dyn Fn(&str) -> bool) -> Vec<String> {
        let waste = waste::names(&self.precautions.waste);
        let wear: Vec<&str> = self.precautions.wear.all().flat_map(wear::WearRow::names).collect();
        let names =
            self.combinations.names().into_iter().chain(waste).chain(wear).filter(|name| !is_known(name));
        names.map(str::to_owned).collect()
    }

    /// Gases that combinations name and the precautions do not know, for tests.
    pub fn unknown_gases(&self) -> Vec<&str> {
        let gases = self.combinations.references().filter_map(|(_, _, gas)| gas);
        gases.filter(|gas| self.precautions.gases.find(gas).is_none()).collect()
    }
}

/// One caution for each substance whose file gives no classes.
fn unchecked(vessel: &[Content]) -> Vec<Caution> {
    vessel
        .iter()
        .filter(|content| content.form.parent.classes.is_none() && !content.is_water())
        .map(|content| Caution {
            id: "not-checked".to_owned(),
            severity: Severity::Warning,
            text: format!("combinations not checked for {}", content.form.name),
            product: String::new(),
            statement: None,
            about: vec![content.form.id.clone()],
            groups: vec![vec![content.form.id.clone()]],
            gas: None,
            is_principle: false,
            only_above_c: None,
            is_open: false,
            is_of_whole: false,
            heats: false,
            source: "the substance's file gives no classes".to_owned(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;

    impl SafetyData {
        /// Those of the library, from their texts.
        pub(crate) fn shipped(library: &Library) -> Self {
            let table = |name: &str| library.table(name).unwrap();
            Self::parse(table("statements.toml"), table("combinations.toml"), table("precautions.toml"))
                .unwrap()
        }
    }

    /// A combination or a statement that fell out in packing would leave a sheet without its warning.
    #[test]
    fn every_packed_row_is_read_and_says_what_its_text_says() {
        let library = Library::shipped();
        let of_text = SafetyData::shipped(&library);
        let table = |name: &str| library.packed(name);
        let packed =
            SafetyData::open(table("statements.toml"), table("combinations.toml"), table("precautions.toml"))
                .unwrap();
        let in_words = |own: &SafetyData| {
            [
                own.statements.0.each_in_words(),
                own.combinations.rows.each_in_words(),
                own.precautions.boxes.each_in_words(),
                own.precautions.waste.each_in_words(),
                own.precautions.gases.each_in_words(),
                own.precautions.limits.each_in_words(),
                own.precautions.wear.each_in_words(),
            ]
        };
        let (packed, of_text) = (in_words(&packed), in_words(&of_text));
        assert_eq!(packed, of_text);
        assert!(packed.iter().all(|rows| rows.len() > 1), "a table without rows");
    }

    fn general(ids: &[&str], asked: &[Wear]) -> General {
        let library = Library::shipped();
        let contents: Vec<Content> =
            ids.iter().map(|id| Content::grams(&library.form(id).unwrap(), 50.0)).collect();
        SafetyData::shipped(&library).general(&contents, None, asked.iter().copied(), &[], false)
    }

    #[test]
    fn a_dust_mask_is_said_to_hold_back_no_gas_where_one_comes_off() {
        // Ammonia is in the air over its bath; ferricyanide gives off a gas only with strong or hot acid.
        let words = |ids: &[&str], asked: &[Wear]| general(ids, asked).ventilation().unwrap();
        let (ammonia, cyanide) = ("ammonia-25", "potassium-ferricyanide");
        assert!(words(&[cyanide, ammonia], &[Wear::DustMask]).contains("no gas"));
        assert!(!words(&[ammonia], &[]).contains("mask"), "nobody wears one");
        let no_gas = words(&["potassium-bromide"], &[Wear::DustMask, Wear::Ventilation]);
        assert!(!no_gas.contains("mask"), "{no_gas}");
    }

    #[test]
    fn air_is_asked_for_where_a_gas_comes_off_by_itself() {
        let airs = |ids: &[&str]| general(ids, &[]).wear.contains(&Wear::Ventilation);
        assert!(airs(&["potassium-ferricyanide", "ammonia-25"]) && !airs(&["potassium-bromide"]));
        // What the finished baths ask for beyond takes nothing back.
        let mut general = general(&["ammonia-25"], &[Wear::Extraction]);
        let before = general.air;
        general.also_wear(std::iter::empty());
        assert_eq!(general.air, before);
        general.gases.clear();
        general.wear.clear();
        general.also_wear(std::iter::empty());
        assert_eq!(general.air, before, "no bath makes the air better");
    }

    #[test]
    fn only_what_no_file_vouches_for_is_called_unchecked() {
        let library = Library::shipped();
        let known = Content::grams(&library.form("potassium-bromide").unwrap(), 5.0);
        let mut form = (*known.form).clone();
        let mut parent = (*form.parent).clone();
        parent.classes = None;
        form.parent = std::sync::Arc::new(parent);
        let unknown = Content { form: std::sync::Arc::new(form), ..known.clone() };
        assert!(unchecked(std::slice::from_ref(&known)).is_empty());
        assert_eq!(unchecked(&[known, unknown]).len(), 1);
    }
}
