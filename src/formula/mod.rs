//! The recipe: what a solution is made of per litre, how it is used, how long it keeps, and how sure all that is.
//!
//! A [`Formula`] that exists is valid: every ingredient names an existing form, has exactly one amount above zero, and stands once in
//! its part. `file` holds the shape on disk; this module checks it and turns old units into grams per litre.

mod amount;
mod check;
mod error;
mod evidence;
mod file;
mod kind;
pub mod trust;
mod uses;

use crate::diagnostic::Finding;
use crate::packed::Packed;
use crate::substance::Form;
pub use amount::{Amount, Ingredient, amount_at_most_g, amount_in_grams};
pub use check::MOST_BATHS;
pub use error::FormError;
pub use evidence::{DoubtAbout, Evidence, EvidenceKind, is_unedited};
pub use kind::Kind;
use serde::Deserialize;
use std::path::PathBuf;
use std::sync::Arc;
pub use uses::{Bath, Use};

/// Version of the file format that this program reads.
pub const FORMAT: u32 = 1;

/// Most grams or millilitres that a litre can take.
pub(crate) const MOST_PER_LITRE: f64 = 2000.0;

/// Whether a file name (without `.toml`) can be an id, of a formula or a substance: it may be joined to a folder and copied by hand.
pub(crate) fn is_id(name: &str) -> bool {
    !name.is_empty()
        && name.len() <= 80
        && name.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
}

/// How the source mixes a part.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mixing {
    /// Water to start with, mL per litre.
    pub water_ml_per_litre: Option<f64>,
    /// Its temperature, °C.
    pub temperature_c: Option<f64>,
    /// Substance ids in the order of the source; never read by the sequencer.
    pub order: Vec<String>,
    /// Where order and water come from.
    pub source: Option<String>,
    /// Why the published order differs from the rules.
    pub order_note: Option<String>,
    /// A particular of the mixing, for the steps as they are.
    pub note: Option<String>,
    /// Another way of mixing that the source gives and the steps do not follow.
    pub other_way: Option<String>,
    /// What must be done besides dissolving.
    pub operations: Vec<Operation>,
    /// What the finished bath looks like.
    pub appearance: Appearance,
    /// Where it goes when it is mixed.
    pub finish: FinishedIn,
}

/// Something that must be done besides dissolving.
#[derive(Debug, Clone, PartialEq)]
pub struct Operation {
    /// The start, the ingredient it follows, or the end.
    pub after: After,
    /// Heating, standing, filtering …
    pub kind: OperationKind,
    /// The sign that it is done, or how long in words.
    pub until: Option<String>,
    /// How long, minutes.
    pub minutes: Option<f64>,
    /// To what temperature, °C.
    pub temperature_c: Option<f64>,
    /// What to mind.
    pub how: Option<String>,
    /// Where it stands, if not in the formula's own source.
    pub source: Option<String>,
}

/// When an operation comes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum After {
    /// After the water has been measured.
    Start,
    /// After the ingredient of this form id.
    Ingredient(String),
    /// After it has been made up.
    End,
}

/// What is done besides dissolving.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "each variant is the verb itself")]
pub enum OperationKind {
    Heat,
    Boil,
    Cool,
    Stand,
    Strain,
    Filter,
    Swell,
}

/// What a finished bath looks like: what "done" means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Appearance {
    /// One can see the bottom.
    #[default]
    Clear,
    /// Milky on purpose.
    Milky,
    /// A slurry, with what does not dissolve.
    Slurry,
    /// Too dark to see the bottom.
    Coloured,
}

/// Where a finished bath goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum FinishedIn {
    /// A bottle: it keeps.
    #[default]
    Bottle,
    /// An open tray, never a bottle.
    Tray,
    /// Used at once, whatever it stands in.
    UseAtOnce,
}

/// How long a solution keeps; absent figures are not known.
#[derive(Debug, Clone, PartialEq, Default)]
#[allow(missing_docs, reason = "each field is its name and unit")]
pub struct Keeping {
    pub full_bottle_days: Option<f64>,
    pub half_bottle_days: Option<f64>,
    pub tray_hours: Option<f64>,
    pub tank_days: Option<f64>,
    pub source: Option<String>,
    pub note: Option<String>,
}

/// What the only part of a formula is called in a bath.
pub const STOCK: &str = "stock";

/// A solution that is bottled by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// A, B …; none in a one-part formula.
    pub name: Option<String>,
    /// The solvent where it is not water.
    pub solvent: Option<Arc<Form>>,
    /// What to know of the part.
    pub note: Option<String>,
    /// How the source mixes it.
    pub mixing: Mixing,
    /// What it is made of.
    pub ingredients: Vec<Ingredient>,
    /// How long it keeps.
    pub keeping: Keeping,
    /// What the formula warns of in this part and not in the others; the formula's own list holds it, too.
    pub cautions: Cautions,
}

impl Part {
    /// What a share of a bath calls it: its name, or `stock`.
    pub fn share_name(&self) -> &str {
        self.name.as_deref().unwrap_or(STOCK)
    }
}

/// What a formula itself warns of, by where someone acts on it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Cautions {
    /// While it is mixed, kept and used: on every paper and on the bottle.
    pub always: Vec<String>,
    /// While it is mixed only: not on the bottle.
    pub mixing: Vec<String>,
    /// When the bath is used up.
    pub waste: Vec<String>,
    /// When it is chosen: not at the bench, nor on the bottle.
    pub choosing: Vec<String>,
}

impl Cautions {
    /// All of them, what holds always first.
    pub fn all(&self) -> impl Iterator<Item = &String> {
        self.always.iter().chain(&self.mixing).chain(&self.waste).chain(&self.choosing)
    }

    /// What someone acts on who mixes it.
    pub fn at_the_bench(&self) -> impl Iterator<Item = &String> {
        self.always.iter().chain(&self.mixing)
    }
}

/// How much material a litre treats.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Capacity {
    /// cm² per litre; 516 cm² is one 135-36 or 120 film or an 8 × 10 in sheet.
    pub area_cm2_per_litre: Option<f64>,
    /// Least stock for one such unit, mL.
    pub stock_ml_per_roll: Option<f64>,
    /// Where the figures come from.
    pub source: Option<String>,
    /// What to know.
    pub note: Option<String>,
}

/// How a bath is replenished.
#[derive(Debug, Clone, PartialEq)]
pub struct Replenishment {
    /// Id of the replenisher.
    pub with: String,
    /// mL per 516 cm² (80 sq in) of material.
    pub ml_per_roll: Option<f64>,
    /// Where the figure comes from.
    pub source: Option<String>,
    /// What to know.
    pub note: Option<String>,
}

/// Figures that the source states of the solution; compared with the program's own prediction.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stated {
    /// Lowest and highest pH stated.
    pub ph: Option<(f64, f64)>,
    /// Certified pH of a standard over temperature, °C and pH, coolest first.
    pub certified_ph: Vec<(f64, f64)>,
    /// Development time relative to the classic 100 g sulfite MQ borax developer, low and high.
    pub relative_time: Option<(f64, f64)>,
    /// Where these figures were published.
    pub source: Option<String>,
    /// What to know.
    pub note: Option<String>,
}

/// What a self-check of a formula file is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum CheckQuantity {
    /// mol/L of a substance.
    Molarity,
    /// g/L of a substance.
    GramsPerLitre,
    /// pH of the solution as bottled.
    Ph,
    /// g/L of another form that replaces the one in the recipe.
    Equivalent,
}

/// A published figure that the program must reproduce.
#[derive(Debug, Clone, PartialEq)]
pub struct SelfCheck {
    /// What of the solution the figure is.
    pub quantity: CheckQuantity,
    /// Id of a form or its parent; none for a pH.
    pub substance: Option<String>,
    /// None where the formula has one only.
    pub part: Option<String>,
    /// For `equivalent`: the form whose grams the source prints beside.
    pub equivalent_of: Option<String>,
    /// The published figure.
    pub expected: f64,
    /// Allowed difference, absolute.
    pub tolerance: f64,
    /// Why that wide.
    pub tolerance_note: Option<String>,
    /// Temperature for a pH, °C.
    pub celsius: Option<f64>,
    /// Where published.
    pub source: String,
    /// Line in the file.
    pub line: usize,
}

/// A recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// Id, the name of its file.
    pub id: String,
    /// The file as the user knows it.
    pub file: String,
    /// Name by composition.
    pub title: String,
    /// What it makes.
    pub kind: Kind,
    /// What a user chooses by.
    pub summary: String,
    /// How sure the composition is.
    pub evidence: Evidence,
    /// Further names.
    pub aliases: Vec<String>,
    /// Id of the formula that it departs from.
    pub variant_of: Option<String>,
    /// Ids of the formulas whose baths it keeps going.
    pub replenishes: Vec<String>,
    /// Baths that belong to it.
    pub partners: Vec<String>,
    /// Cautions particular to it.
    pub cautions: Cautions,
    /// Ids of the combinations by which it works, known and meant.
    pub principle: Vec<String>,
    /// What a user must know.
    pub note: Option<String>,
    /// Figures the source states.
    pub stated: Stated,
    /// One part, or several bottled by themselves.
    pub parts: Vec<Part>,
    /// Ways of using it.
    pub uses: Vec<Use>,
    /// How much it treats.
    pub capacity: Capacity,
    /// How it is replenished.
    pub replenishment: Option<Replenishment>,
    /// Published figures to reproduce.
    pub checks: Vec<SelfCheck>,
    /// Where it came from.
    pub origin: Origin,
    /// Whether it hides a shipped formula of the same id.
    pub shadows_shipped: bool,
}

/// Where a formula came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// The shipped library.
    Shipped,
    /// A personal folder.
    Folder(PathBuf),
    /// A file named on the command line, or standard input.
    File,
}

/// A bath that all its uses want warmer than this is warm, °C: nobody cools it to room temperature first.
const WARM_ABOVE_C: f64 = 25.0;

impl Formula {
    /// What is warned of on the bottle of a part: all that is not said of another part alone.
    pub fn cautions_of(&self, part: &Part) -> Cautions {
        let is_of_it = |caution: &&String| {
            let says = |part: &&Part| part.cautions.all().any(|cautions| cautions == *caution);
            says(&part) || !self.parts.iter().any(|part| says(&part))
        };
        let of_it = |list: &[String]| list.iter().filter(is_of_it).cloned().collect();
        let Cautions { always, mixing, waste, choosing } = &self.cautions;
        Cautions {
            always: of_it(always),
            mixing: of_it(mixing),
            waste: of_it(waste),
            choosing: of_it(choosing),
        }
    }

    /// The lowest temperature at which it is used, °C, where every use names one and all are warm.
    pub fn warm_use_c(&self) -> Option<f64> {
        let stated: Option<Vec<f64>> = self.uses.iter().map(|listed_use| listed_use.temperature_c).collect();
        stated?.into_iter().reduce(f64::min).filter(|&celsius| celsius > WARM_ABOVE_C)
    }

    /// The use called so: by its name, by the phrase that its card prints, or by its figures (`1+3`, `stock`).
    pub fn use_called(&self, text: &str) -> Option<&Use> {
        let by_name = self.uses.iter().find(|listed_use| listed_use.is_called(text));
        by_name.or_else(|| {
            self.uses.iter().find(|listed_use| {
                listed_use.figures(&self.parts).is_some_and(|figures| figures == text.trim())
            })
        })
    }

    /// Reads a formula file; `id` is its name without `.toml`, `file` how the user knows it.
    ///
    /// # Errors
    /// Everything wrong in it, at once, each with its line and a remedy.
    pub fn parse(text: &str, id: &str, file: &str, chemicals: &dyn Chemicals) -> Result<Self, Vec<Finding>> {
        check::formula(text, id, file, chemicals)
    }

    /// Reads a shipped formula by its text and what was packed of it.
    ///
    /// # Errors
    /// As [`Self::parse`].
    pub(crate) fn of_shipped(
        shipped: (&str, Packed<'static>),
        id: &str,
        file: &str,
        chemicals: &dyn Chemicals,
    ) -> Result<Self, Vec<Finding>> {
        check::shipped(shipped, id, file, chemicals)
    }

    /// `shipped`, else the personal folder or the file as the user named it.
    pub fn origin_name(&self) -> String {
        match &self.origin {
            Origin::Shipped => "shipped".to_owned(),
            Origin::Folder(folder) => folder.display().to_string(),
            Origin::File => self.file.clone(),
        }
    }

    /// That it is none of the shipped ones, in words; none of a shipped one.
    pub fn origin_words(&self) -> Option<String> {
        let place = if self.shadows_shipped { ", in place of the shipped one" } else { "" };
        (self.origin != Origin::Shipped).then(|| format!("own formula, from {}{place}", self.origin_name()))
    }

    /// All ingredients of all parts.
    pub fn ingredients(&self) -> impl Iterator<Item = &Ingredient> {
        self.parts.iter().flat_map(|part| &part.ingredients)
    }

    /// The part that a share of a bath means: by its name, or the only part, which is called `stock` there.
    pub fn part_of_share(&self, name: &str) -> Option<&Part> {
        let only = || match self.parts.as_slice() {
            [only] if only.name.is_none() && name.eq_ignore_ascii_case(STOCK) => Some(only),
            _ => None,
        };
        self.part(name).or_else(only)
    }

    /// A part by its name, without regard to case.
    pub fn part(&self, name: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.name.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(name)))
    }
}

/// Where forms are looked up; the library is one.
pub trait Chemicals {
    /// The form with that id.
    ///
    /// # Errors
    /// Unknown, only a parent, or its file broken.
    fn form(&self, id: &str) -> Result<Arc<Form>, FormError>;
}
