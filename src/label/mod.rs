//! What a bottle's label says, and on which label it has room.
//!
//! The hazards are those of the solution in the bottle by the mixture rules ([`crate::safety`]), never the union of its powders'; the
//! pictograms follow from them ([`pictogram`]). Which label is large enough is decided twice: by rule ([`sheets`], for bottles
//! with hazard statements) and by the room that the text takes ([`layout`]). Words and drawings are `render`'s affair. A label of this
//! kind is an in-house help, not a legal label.
//!
//! Where room is short, name, date and signal word are set smaller, then what is told is run together, then what is noted on keeping is
//! left out, which a note says ([`layout`]). How it is diluted, hazards and cautions are never dropped; a second use, the amounts and
//! advice for the mixing are not on a bottle. A short form is for what is no hazard by the rules, or for a second label beside the
//! full one: statements and pictograms have no room on it. Frames are black, so that red light does not take them.

pub(crate) mod layout;
pub(crate) mod pictogram;
pub mod sheets;

use thiserror::Error;

use crate::formula::{Cautions, FinishedIn, Formula, Keeping, Origin, Part, Use};
use crate::journal::Date;
use crate::predict::crystals::Crystals;
use crate::quantity::{UNIT_CM2, Volume};
use crate::safety::{BathHazards, Wear};
use crate::scale::Unit;
use crate::sheet::{MixingSheet, SheetPart};
use crate::substance::{Form, State};
use pictogram::{Pictogram, pictograms};

/// How strong the bottle's solution is against the bath in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BottleStrength {
    /// Every use takes it as it is.
    Working,
    /// Some use dilutes it.
    Stock,
    /// One of several parts.
    Part,
    /// The formula gives no use.
    NotKnown,
}

/// How long an unused bottle keeps by the rule of its class, where the formula does not say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByRule {
    /// After how many days to look at a full bottle, and after how many it is out.
    pub full_days: (f64, f64),
    /// After how many days to look at a half-full bottle.
    pub half_days: Option<f64>,
}

/// What a label says.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Id of the formula.
    pub formula: String,
    /// `shipped`, or the personal folder or file of the formula.
    pub origin: String,
    /// That the formula or a chemical in it is the user's own, in words.
    pub own: Vec<String>,
    /// The same without the folders.
    pub own_in_short: Vec<&'static str>,
    /// Ids of the user's own chemicals, with the folder of each.
    pub own_substances: Vec<(String, String)>,
    /// Own chemicals of which no file says what they must not meet: no label calls them harmless.
    pub unvouched: Vec<String>,
    /// The formula's name by composition, in full.
    pub title: String,
    /// The part in the bottle.
    pub part: Option<String>,
    /// All parts of the formula by name; empty where there is one.
    pub parts: Vec<String>,
    /// The chemicals in the bottle, solids before liquids, the most by mass first.
    pub contents: Vec<String>,
    /// Whether the bottle is called by what it holds and not by its formula: bleach and sulfide of one toner have nothing in common, the
    /// parts of a developer are asked for by its name.
    pub called_by_contents: bool,
    /// Volume in the bottle.
    pub volume: Volume,
    /// How strong it is.
    pub strength: BottleStrength,
    /// How it is used.
    pub uses: Vec<Use>,
    /// None where nobody said.
    pub mixed: Option<Date>,
    /// How long it keeps.
    pub keeping: Keeping,
    /// The day to which a full bottle keeps.
    pub good_until: Option<Date>,
    /// How long it keeps by the rule of its class, where the formula does not say.
    pub by_rule: Option<ByRule>,
    /// How many films or 8 by 10 in sheets the bottle treats, as the formula states; none where it is used once or nobody says.
    pub films: Option<f64>,
    /// Gloves of another kind than thin nitrile, where its acid asks for them.
    pub gloves: Option<&'static str>,
    /// The gravest in a few words, each once; set by whoever has the table of words.
    pub gravest: Vec<String>,
    /// A short form as a second label; never the only one of a bottle with a hazard.
    pub is_second: bool,
    /// Hazards of the solution.
    pub hazards: BathHazards,
    /// Pictograms that go with them.
    pub pictograms: Vec<Pictogram>,
    /// Baths that must not come before or after it without a wash.
    pub never_beside: Vec<String>,
    /// What gas can come off it, and what to do then.
    pub gas: Vec<String>,
    /// What crystallises in the cold.
    pub crystals: Option<Crystals>,
    /// What the formula itself warns of.
    pub cautions: Cautions,
}

impl Label {
    /// Whether the rules class the solution as hazardous: a statement with a signal word or of the H kind.
    pub fn is_classified(&self) -> bool {
        self.hazards.statements.iter().any(|statement| statement.code.starts_with('H'))
    }
}

/// Why there is no label.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum LabelError {
    /// No part of that name.
    #[error("the formula has no part `{wanted}`")]
    NoPart {
        /// What was asked for.
        wanted: String,
        /// Those that there are.
        names: Vec<String>,
    },
    /// Nothing of it goes into a bottle.
    #[error("there is nothing to label: it is used at once and never bottled")]
    NoBottle,
}

impl LabelError {
    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::NoPart { names, .. } if names.is_empty() => "it has one part; leave --part out".to_owned(),
            Self::NoPart { names, .. } => format!("its parts are {}", names.join(", ")),
            Self::NoBottle => "mix it just before use, in an open tray, and throw it out after".to_owned(),
        }
    }
}

/// The labels of a batch, one for each part, or of the one part.
///
/// # Errors
/// No part of that name.
pub fn labels(
    sheet: &MixingSheet,
    part: Option<&str>,
    mixed: Option<Date>,
) -> Result<Vec<Label>, LabelError> {
    let formula = &sheet.formula;
    let names: Vec<String> = formula.parts.iter().filter_map(|part| part.name.clone()).collect();
    let parts = formula.parts.iter().zip(&sheet.parts);
    let wanted = parts.filter(|(own, _)| {
        let name = own.name.as_deref().unwrap_or_default();
        part.is_none_or(|wanted| name.eq_ignore_ascii_case(wanted.trim()) && !name.is_empty())
    });
    let (bottled, open): (Vec<_>, Vec<_>) =
        wanted.partition(|(_, mixed_part)| mixed_part.ends_in == FinishedIn::Bottle);
    if bottled.is_empty() && !open.is_empty() {
        return Err(LabelError::NoBottle);
    }
    let labels: Vec<Label> = bottled
        .into_iter()
        .map(|(batch_part, mixed_part)| Label {
            formula: formula.id.clone(),
            origin: formula.origin_name(),
            own: formula
                .origin_words()
                .into_iter()
                .chain(own_forms(mixed_part, batch_part).filter_map(Form::origin_words))
                .collect(),
            own_in_short: own_in_short(
                formula,
                own_forms(mixed_part, batch_part).any(|form| form.parent.origin.is_some()),
            ),
            own_substances: own_forms(mixed_part, batch_part)
                .filter_map(|form| Some((form.id.clone(), form.parent.origin.clone()?)))
                .collect(),
            unvouched: own_forms(mixed_part, batch_part)
                .filter(|form| form.is_unvouched())
                .map(|form| form.name.clone())
                .collect(),
            title: formula.title.clone(),
            part: batch_part.name.clone(),
            parts: if names.len() > 1 { names.clone() } else { Vec::new() },
            contents: contents(mixed_part),
            called_by_contents: names.len() > 1 && !formula.kind.is_developer(),
            volume: mixed_part.batch.volume,
            strength: strength(&formula.uses, names.len()),
            uses: formula.uses.clone(),
            mixed,
            good_until: mixed
                .zip(batch_part.keeping.full_bottle_days)
                .and_then(|(date, days)| date.plus_days(days)),
            keeping: batch_part.keeping.clone(),
            by_rule: None,
            films: films(formula, mixed_part.batch.volume),
            gloves: gloves(sheet, mixed_part),
            gravest: Vec::new(),
            is_second: false,
            pictograms: pictograms(
                &mixed_part
                    .bath
                    .statements
                    .iter()
                    .map(|statement| statement.code.as_str())
                    .collect::<Vec<_>>(),
            ),
            hazards: mixed_part.bath.clone(),
            never_beside: mixed_part.never_beside.clone(),
            gas: mixed_part.gas.clone(),
            crystals: mixed_part.crystals.clone(),
            cautions: formula.cautions_of(batch_part),
        })
        .collect();
    match part {
        Some(wanted) if labels.is_empty() => Err(LabelError::NoPart { wanted: wanted.to_owned(), names }),
        _ => Ok(labels),
    }
}

/// The chemicals in a bottle, solids before liquids, the most by mass first.
fn contents(part: &SheetPart) -> Vec<String> {
    let grams = |item: &crate::scale::Item| match item.unit {
        Unit::Gram => item.amount,
        Unit::Millilitre => item.amount * item.form.density_g_per_ml.unwrap_or(1.0),
    };
    let mut items: Vec<_> = part.batch.items.iter().collect();
    // Solids first: a little acid is not what a bottle is called by.
    let is_liquid = |item: &crate::scale::Item| item.form.state != State::Solid;
    items.sort_by(|one, other| {
        is_liquid(one).cmp(&is_liquid(other)).then_with(|| grams(other).total_cmp(&grams(one)))
    });
    let mut names: Vec<String> = Vec::new();
    for item in items {
        if !names.contains(&item.form.parent.name) {
            names.push(item.form.parent.name.clone());
        }
    }
    names
}

/// Films that a bottle treats, where it is used again; to a tenth, for areas are told in round figures (2064 cm² are 4 films).
fn films(formula: &Formula, volume: Volume) -> Option<f64> {
    let films = formula.capacity.area_cm2_per_litre? / UNIT_CM2 * volume.as_litres();
    (formula.parts.len() == 1).then_some((films * 10.0).round() / 10.0)
}

/// At or below such a pH a bath still asks for the gloves of its acid; the limit of the pH at which it may burn.
const ACID_PH: f64 = 2.0;

/// Gloves for a strong acid, on the bottle that it went into, where the solution may still burn.
fn gloves(sheet: &MixingSheet, part: &SheetPart) -> Option<&'static str> {
    let is_acid = part
        .batch
        .items
        .iter()
        .any(|item| item.form.is_class_named("strong-acid") || item.form.parent.id == "acetic-acid");
    let may_burn = part.bath.is_corrosive() || part.bath.ph.is_none_or(|ph| ph <= ACID_PH);
    let is_named = sheet.review.general.wear.contains(&Wear::HeavyGloves);
    (is_acid && may_burn && is_named).then(|| Wear::HeavyGloves.word())
}

fn own_in_short(formula: &Formula, has_own_substance: bool) -> Vec<&'static str> {
    let formula = match (&formula.origin, formula.shadows_shipped) {
        (Origin::Shipped, _) => None,
        (_, true) => Some("Own formula, not the shipped one."),
        (_, false) => Some("Own formula."),
    };
    formula.into_iter().chain(has_own_substance.then_some("Own substance in it.")).collect()
}

/// What is in a bottle, the solvent too.
fn own_forms<'a>(mixed: &'a SheetPart, part: &'a Part) -> impl Iterator<Item = &'a Form> {
    mixed.batch.items.iter().map(|item| item.form.as_ref()).chain(part.solvent.as_deref())
}

fn strength(uses: &[Use], parts: usize) -> BottleStrength {
    if parts > 1 {
        return BottleStrength::Part;
    }
    let mut baths = uses.iter().flat_map(|listed_use| &listed_use.baths).peekable();
    if baths.peek().is_none() {
        BottleStrength::NotKnown
    } else if baths.all(|bath| bath.water <= 0.0) {
        BottleStrength::Working
    } else {
        BottleStrength::Stock
    }
}
