//! From a formula and a volume to what to weigh and measure tonight.
//!
//! amount = per litre × volume, in full precision; one rounding, at the end, to the balance. Forms on the shelf are exchanged mole for
//! mole ([`mod@exchange`]) and corrected for assay; what the balance cannot weigh becomes a dose of a percent solution ([`dose`]) or gets
//! advice. Mass is conserved: what an item carries into the vessel is what the recipe asks, but for the rounding that is reported.

pub mod dose;
pub mod exchange;
mod made_first;

use std::rc::Rc;

use thiserror::Error;

use crate::formula::{Amount, Formula, Ingredient, Part, amount_in_grams};
use crate::quantity::{LEAST_ML, Mass, MixRatio, Strength, StrengthBasis, USUAL_C, Volume, rounding};
use crate::substance::{Form, State};
use crate::vessel::{Content, Vessel};
use dose::{Balance, Dose, measuring_step_ml};
use exchange::{ExchangeError, Exchanged, Relations, exchange};
pub use made_first::MadeFirst;

/// How much is wanted.
#[derive(Debug, Clone, PartialEq)]
pub enum Wanted {
    /// So much of each part as bottled.
    Bottled(Volume),
    /// So much working solution, mixed in these parts by volume.
    Working {
        /// Volume of the working solution.
        volume: Volume,
        /// Parts of stock (or of A, B … in their order), the last one water if there is one more than the formula has parts.
        ratio: MixRatio,
    },
    /// As much as the limited chemicals allow.
    AsMuchAsPossible,
}

/// A form on the shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct Have {
    /// The form.
    pub form: Rc<Form>,
    /// How much of it there is, where that limits the batch.
    pub amount: Option<Mass>,
    /// Whether the user named it as the limit of the batch (then it must be used).
    pub is_limit: bool,
}

/// What scaling needs to know besides the formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Request {
    /// How much is wanted.
    pub wanted: Wanted,
    /// The balance.
    pub balance: Balance,
    /// What is on the shelf.
    pub have: Vec<Have>,
    /// Assays of forms, as fractions by mass.
    pub assays: Vec<(Rc<Form>, f64)>,
}

impl Request {
    /// A plain volume with the default balance.
    pub fn volume(volume: Volume) -> Self {
        Self {
            wanted: Wanted::Bottled(volume),
            balance: Balance::default(),
            have: Vec::new(),
            assays: Vec::new(),
        }
    }

    fn assay_of(&self, form: &Form) -> f64 {
        self.assays
            .iter()
            .find(|(own, _)| own.id == form.id)
            .map_or_else(|| form.assay_fraction(), |(_, assay)| *assay)
    }
}

/// Grams or millilitres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Weighed.
    Gram,
    /// Measured.
    Millilitre,
}

impl Unit {
    /// As in JSON.
    pub fn json(self) -> &'static str {
        match self {
            Self::Gram => "g",
            Self::Millilitre => "ml",
        }
    }

    /// As printed.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Gram => "g",
            Self::Millilitre => "mL",
        }
    }
}

/// What to mind about an item.
#[derive(Debug, Clone, PartialEq)]
pub enum Advice {
    /// The balance cannot weigh it within tolerance, and no percent solution serves: it does not keep in one, or not in this solvent, or too much
    /// of it would be needed.
    TooSmall {
        /// How far off what is weighed may be, the rounding to a step included, percent.
        uncertainty_percent: f64,
        /// Balance resolution that would do, g.
        finer_step_g: f64,
        /// Volume of this part from which the balance does, or a percent solution serves, mL.
        least_batch_ml: f64,
    },
    /// More than the balance carries.
    Portions {
        /// How many times the most that the balance carries.
        full: u32,
        /// Grams in each of those.
        full_g: f64,
        /// Grams left for a last weighing; 0 where the others hold it all.
        rest_g: f64,
    },
    /// The product was counted with this assay, which was given for it.
    AssayGiven {
        /// % by mass.
        percent: f64,
    },
    /// The product's assay usually lies in this range and none was given.
    AssayTypical {
        /// Lowest usual assay, %.
        low_percent: f64,
        /// Highest usual assay, %.
        high_percent: f64,
    },
    /// The exchange is exact only with alkali added (positive) or left out (negative).
    Hydroxide {
        /// Grams of sodium hydroxide for the batch.
        grams: f64,
        /// What the relation says.
        note: String,
    },
    /// What the relation between two chemicals says.
    Relation {
        /// The note.
        note: String,
    },
    /// A percent solution that the recipe itself asks for.
    MakePercentSolution {
        /// Its strength.
        strength: Strength,
    },
}

/// What the recipe named where the shelf holds another form.
#[derive(Debug, Clone, PartialEq)]
pub struct Instead {
    /// The recipe's form.
    pub form: Rc<Form>,
    /// The recipe's figure per litre.
    pub per_litre: f64,
    /// Its unit.
    pub unit: Unit,
}

/// One line to weigh or measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Place of the ingredient in its part.
    pub index: usize,
    /// What to take from the shelf.
    pub form: Rc<Form>,
    /// Grams or millilitres.
    pub unit: Unit,
    /// Per litre, of the form to take, unrounded.
    pub per_litre: f64,
    /// For the batch, unrounded.
    pub amount: f64,
    /// For the batch, rounded to the balance or to the measure; the grams that a dose carries where there is one.
    pub weigh: f64,
    /// (weigh − amount) / amount, percent.
    pub rounding_error_percent: f64,
    /// The percent solution that the recipe itself measures out.
    pub solution: Option<Strength>,
    /// A dose in place of weighing.
    pub dose: Option<Dose>,
    /// What the recipe named.
    pub instead_of: Option<Instead>,
    /// Grams of the form that enter the vessel, where they can be known (unrounded).
    pub grams: Option<f64>,
    /// Fraction by mass of the chemical in what is taken from the shelf.
    pub assay: f64,
    /// What to mind.
    pub advice: Vec<Advice>,
    /// The recipe's note.
    pub note: Option<String>,
    /// End point before the whole amount is used.
    pub until: Option<String>,
    /// Whether the recipe calls it optional.
    pub optional: bool,
    /// Water in which the recipe dissolves it apart, mL for the batch.
    pub apart_ml: Option<f64>,
}

/// One part of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchPart {
    /// A, B …; none in a one-part formula.
    pub name: Option<String>,
    /// Volume as bottled.
    pub volume: Volume,
    /// What goes into it, in the order of the file.
    pub items: Vec<Item>,
}

/// What to weigh for a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    /// The parts.
    pub parts: Vec<BatchPart>,
    /// The form that limits the batch, where that was asked.
    pub limited_by: Option<Rc<Form>>,
    /// The working solution asked for.
    pub working: Option<(Volume, MixRatio)>,
    /// The balance it was rounded to.
    pub balance: Balance,
}

/// Why a batch cannot be worked out.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ScaleError {
    /// Neither a volume nor a limit.
    #[error("no volume is given")]
    NoVolume,
    /// The limited chemical is not in the formula.
    #[error("{form} is not in this formula, so it cannot limit the batch")]
    LimitNotUsed {
        /// The form.
        form: String,
        /// What is in it.
        contains: Vec<String>,
    },
    /// Not enough of a chemical.
    #[error("{form}: this batch needs {needs} g; you have {has} g, enough for {largest_ml} mL")]
    NotEnough {
        /// The form.
        form: String,
        /// Grams needed.
        needs: String,
        /// Grams there.
        has: String,
        /// Largest batch, mL, rounded down.
        largest_ml: f64,
    },
    /// The ratio does not fit the parts.
    #[error("this formula has {parts}; {ratio} does not fit it")]
    RatioDoesNotFit {
        /// The ratio in words.
        ratio: String,
        /// The parts in words.
        parts: String,
    },
    /// An exchange that the formula forbids.
    #[error("{form} may not be exchanged for {other} in this formula: {note}")]
    NotExchanged {
        /// The recipe's form.
        form: String,
        /// The form on your shelf.
        other: String,
        /// Why, as the formula says.
        note: String,
    },
    /// An exchange that cannot be computed.
    #[error(transparent)]
    Exchange(#[from] ExchangeError),
    /// A batch that nobody can measure.
    #[error("a batch of {millilitres} mL is too small to mix")]
    TooSmall {
        /// Millilitres that come out.
        millilitres: String,
    },
    /// A batch beyond any tank.
    #[error("a batch of {litres} L is beyond what this program mixes safely (200 L)")]
    TooLarge {
        /// Litres asked.
        litres: String,
    },
}

impl ScaleError {
    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::NoVolume => "give one, such as 500ml or 1L, or the limit: --limit metol=3.2g".to_owned(),
            Self::LimitNotUsed { contains, .. } => format!("it contains {}", contains.join(", ")),
            Self::NotEnough { largest_ml, .. } => {
                format!("mix {} mL or less, or leave the volume out", rounding::show_decimals(*largest_ml, 0))
            }
            Self::RatioDoesNotFit { .. } => {
                "write one figure for each part in its order and, last, one for water: 1+3, or 1+1+8 for A, B and water"
                    .to_owned()
            }
            Self::Exchange(_) | Self::NotExchanged { .. } => "use the form that the formula names".to_owned(),
            Self::TooSmall { .. } => {
                "mix more of it; where a chemical limits the batch, more of that is needed".to_owned()
            }
            Self::TooLarge { .. } => "mix several smaller batches".to_owned(),
        }
    }
}

/// Largest volume of one part, mL.
const LARGEST_ML: f64 = 200_000.0;

/// Whether a batch is one that this program mixes.
pub fn can_mix(volume: Volume) -> bool {
    (LEAST_ML..=LARGEST_ML).contains(&volume.as_ml())
}

/// A least volume, rounded up to what one mixes.
fn round_batch(least_ml: f64) -> Volume {
    Volume::from_ml((least_ml / 50.0 - 1e-9).ceil() * 50.0)
}

/// The batch to advise where at least so much is needed, mL; none where this program mixes no batch so large.
pub fn advised_batch(least_ml: f64) -> Option<Volume> {
    Some(round_batch(least_ml)).filter(|least| can_mix(*least))
}

impl Item {
    /// Grams of the form in it, or what they surely do not exceed.
    pub fn at_most_g(&self) -> Option<f64> {
        self.content(1.0).at_most_grams()
    }

    /// What it brings to a litre of a batch of so many litres, as it is really taken.
    fn content(&self, litres: f64) -> Content {
        let per_litre = self.amount / litres;
        let amount = match (self.unit, self.solution) {
            (_, Some(strength)) => Amount::PercentSolution { millilitres: per_litre, strength },
            (Unit::Millilitre, None) => Amount::Millilitres(per_litre),
            (Unit::Gram, None) => Amount::Grams(per_litre),
        };
        let as_written = Content::of_amount(&self.form, amount);
        Content {
            grams_per_litre: self.grams.map(|grams| grams / litres),
            assay: self.assay,
            as_solution: as_written.as_solution || self.dose.is_some(),
            until: self.until.clone(),
            optional: self.optional,
            ..as_written
        }
    }
}

impl BatchPart {
    /// What is in a litre of it, by the forms and assays that are really taken from the shelf; `source` is the same part of the formula.
    pub fn vessel(&self, source: &Part) -> Vessel {
        let litres = self.volume.as_litres();
        let items = self.items.iter().filter(|_| litres > 0.0).map(|item| item.content(litres));
        Vessel::of_solvent(source).into_iter().chain(items).collect()
    }

    /// What rounds to nothing on the balance or in the measure, and the volume from which everything in the part can be weighed
    /// and measured within tolerance; none where nothing is lost.
    pub fn lost(&self) -> Option<(Vec<&Item>, Volume)> {
        let lost: Vec<&Item> =
            self.items.iter().filter(|item| item.weigh == 0.0 && item.amount > 0.0).collect();
        if lost.is_empty() {
            return None;
        }
        let needs_ml = |item: &Item| {
            let advised = item.advice.iter().find_map(|advice| match advice {
                Advice::TooSmall { least_batch_ml, .. } => Some(*least_batch_ml),
                _ => None,
            });
            let measured = || dose::least_measurable_ml(&item.form) / item.amount * self.volume.as_ml();
            match item.unit {
                Unit::Millilitre if item.amount > 0.0 => measured(),
                Unit::Gram | Unit::Millilitre => advised.unwrap_or(0.0),
            }
        };
        Some((lost, round_batch(self.items.iter().map(needs_ml).fold(0.0, f64::max))))
    }
}

/// Works out what to weigh.
///
/// # Errors
/// No volume, a limit that is not in the formula or not enough, a ratio that does not fit, an exchange that cannot be computed.
pub fn scale(formula: &Formula, request: &Request, relations: &Relations) -> Result<Batch, ScaleError> {
    let takes: Vec<Vec<TakenForm>> = formula
        .parts
        .iter()
        .map(|part| part.ingredients.iter().map(|own| take(own, part, request, relations)).collect())
        .collect::<Result<_, ScaleError>>()?;
    let shares = part_shares(formula, &request.wanted)?;
    let (volumes, limited_by) = volumes(formula, request, &takes, &shares)?;
    if let Some(litres) =
        volumes.iter().map(|volume| volume.as_litres()).find(|litres| litres * 1000.0 > LARGEST_ML)
    {
        return Err(ScaleError::TooLarge { litres: rounding::show_short(litres, 0) });
    }
    if let Some(volume) = volumes.iter().find(|volume| volume.as_ml() < LEAST_ML) {
        return Err(ScaleError::TooSmall { millilitres: rounding::show_significant(volume.as_ml()) });
    }
    let parts = formula
        .parts
        .iter()
        .zip(&takes)
        .zip(volumes)
        .map(|((part, takes), volume)| BatchPart {
            name: part.name.clone(),
            volume,
            items: part
                .ingredients
                .iter()
                .zip(takes)
                .enumerate()
                .map(|(index, (ingredient, take))| item(index, ingredient, take, part, volume, request))
                .collect(),
        })
        .collect();
    let working = match &request.wanted {
        Wanted::Working { volume, ratio } => Some((*volume, ratio.clone())),
        Wanted::Bottled(_) | Wanted::AsMuchAsPossible => None,
    };
    Ok(Batch { parts, limited_by, working, balance: request.balance })
}

/// What is taken from the shelf for one ingredient, per litre.
struct TakenForm {
    form: Rc<Form>,
    unit: Unit,
    per_litre: f64,
    grams_per_litre: Option<f64>,
    solution: Option<Strength>,
    exchanged: Option<Exchanged>,
    instead_of: Option<Instead>,
}

/// Chooses the form from the shelf and exchanges the amount.
fn take(
    ingredient: &Ingredient,
    part: &Part,
    request: &Request,
    relations: &Relations,
) -> Result<TakenForm, ScaleError> {
    let own = &ingredient.form;
    let (unit, per_litre, solution) = match ingredient.amount {
        Amount::Grams(grams) => (Unit::Gram, grams, None),
        Amount::Millilitres(millilitres) => (Unit::Millilitre, millilitres, None),
        Amount::PercentSolution { millilitres, .. } if ingredient.amount.is_product(own) => {
            (Unit::Millilitre, millilitres, None)
        }
        Amount::PercentSolution { millilitres, strength } => (Unit::Millilitre, millilitres, Some(strength)),
    };
    let grams = amount_in_grams(own, ingredient.amount);
    let own_assay = own.assay_fraction();
    let chosen = from_shelf(own, part, request, relations);
    if !ingredient.exchange && chosen.id != own.id {
        return Err(ScaleError::NotExchanged {
            form: own.name.clone(),
            other: chosen.name.clone(),
            note: ingredient.note.clone().unwrap_or_default(),
        });
    }
    let assay = request.assay_of(&chosen);
    let unchanged = chosen.id == own.id && (assay - own_assay).abs() < 1e-12;
    if unchanged || solution.is_some() && chosen.id == own.id {
        let grams = if solution.is_some() { grams.map(|grams| grams * own_assay / assay) } else { grams };
        return Ok(TakenForm {
            form: chosen,
            unit,
            per_litre,
            grams_per_litre: grams,
            solution,
            exchanged: None,
            instead_of: None,
        });
    }
    let grams = grams.ok_or_else(|| ExchangeError::NoDensity { form: own.id.clone() })?;
    let exchanged = exchange(grams, (own, own_assay), (&chosen, assay), relations)?;
    // A liquid is measured; a solid, and a liquid of unknown density, is weighed.
    let liquid = chosen.state != State::Solid;
    let (new_unit, new_per_litre) = match chosen.density_g_per_ml.filter(|_| liquid) {
        Some(density) => (Unit::Millilitre, exchanged.grams / density),
        None => (Unit::Gram, exchanged.grams),
    };
    let instead_of = (chosen.id != own.id).then(|| Instead { form: Rc::clone(own), per_litre, unit });
    Ok(TakenForm {
        unit: new_unit,
        per_litre: new_per_litre,
        grams_per_litre: Some(exchanged.grams),
        solution: None,
        exchanged: Some(exchanged),
        instead_of,
        form: chosen,
    })
}

/// Whether taking `shelf` for the recipe's form brings no water into a part that is not made up with water.
pub(crate) fn keeps_water_out(shelf: &Form, recipe: &Form, part: &Part) -> bool {
    part.solvent.is_none()
        || shelf.state != State::Solution
            && shelf.crystal_water <= recipe.crystal_water
            && shelf.state == recipe.state
}

/// The form on your shelf for a recipe's form: itself, else another form of its parent, else an automatic relation, else itself.
fn from_shelf(own: &Rc<Form>, part: &Part, request: &Request, relations: &Relations) -> Rc<Form> {
    let shelf = || request.have.iter().map(|have| &have.form);
    if shelf().any(|form| form.id == own.id) {
        return Rc::clone(own);
    }
    let same_parent = |form: &&Rc<Form>| form.parent.id == own.parent.id && keeps_water_out(form, own, part);
    let related = |form: &&Rc<Form>| {
        relations.between(&own.parent.id, &form.parent.id).is_some_and(|relation| relation.automatic)
            && keeps_water_out(form, own, part)
    };
    let asked = |form: &&Rc<Form>| {
        relations.between(&own.parent.id, &form.parent.id).is_some()
            && request.have.iter().any(|have| have.is_limit && have.form.id == form.id)
    };
    shelf()
        .find(same_parent)
        .or_else(|| shelf().find(related))
        .or_else(|| shelf().find(asked))
        .map_or_else(|| Rc::clone(own), Rc::clone)
}

/// Volume of each part per millilitre of what was asked.
fn part_shares(formula: &Formula, wanted: &Wanted) -> Result<Vec<f64>, ScaleError> {
    let count = formula.parts.len();
    let Wanted::Working { ratio, .. } = wanted else { return Ok(vec![1.0; count]) };
    let parts = ratio.parts();
    if parts.len() != count && parts.len() != count + 1 {
        let words = parts.iter().map(|part| rounding::show_short(*part, 3)).collect::<Vec<_>>().join("+");
        let names: Vec<&str> =
            formula.parts.iter().map(|part| part.name.as_deref().unwrap_or("one part")).collect();
        return Err(ScaleError::RatioDoesNotFit { ratio: words, parts: names.join(", ") });
    }
    let total: f64 = parts.iter().sum();
    Ok(parts.iter().take(count).map(|part| part / total).collect())
}

/// How much of a form there is in all its jars; none where one of them is as good as full. What is said to be the last of it is that alone.
fn amount_there(have: &Have, shelf: &[Have]) -> Option<Mass> {
    if have.is_limit {
        return have.amount;
    }
    let jars = shelf.iter().filter(|own| own.form.id == have.form.id && !own.is_limit);
    let grams = jars.map(|own| own.amount.map(Mass::as_g)).sum::<Option<f64>>()?;
    Some(Mass::from_g(grams))
}

/// Volumes of the parts, and the form that limits them.
fn volumes(
    formula: &Formula,
    request: &Request,
    takes: &[Vec<TakenForm>],
    shares: &[f64],
) -> Result<(Vec<Volume>, Option<Rc<Form>>), ScaleError> {
    let mut largest: Option<(f64, &Have, f64)> = None;
    for have in &request.have {
        let Some(amount) = amount_there(have, &request.have) else { continue };
        let per_ml: f64 = takes
            .iter()
            .zip(shares)
            .map(|(part, share)| {
                let grams = part.iter().filter(|take| take.form.id == have.form.id);
                grams.filter_map(|take| take.grams_per_litre).sum::<f64>() * share / 1000.0
            })
            .sum();
        if per_ml <= 0.0 {
            if have.is_limit {
                let contains = formula.ingredients().map(|own| own.form.id.clone()).collect();
                return Err(ScaleError::LimitNotUsed { form: have.form.id.clone(), contains });
            }
            continue;
        }
        let possible_ml = amount.as_g() / per_ml;
        if largest.is_none_or(|(so_far, _, _)| possible_ml < so_far) {
            largest = Some((possible_ml, have, per_ml));
        }
    }
    let asked_ml = match &request.wanted {
        Wanted::Bottled(volume) | Wanted::Working { volume, .. } => volume.as_ml(),
        Wanted::AsMuchAsPossible => match largest {
            Some((possible_ml, have, _)) => {
                let volumes = shares.iter().map(|share| Volume::from_ml(possible_ml * share)).collect();
                return Ok((volumes, Some(Rc::clone(&have.form))));
            }
            None => return Err(ScaleError::NoVolume),
        },
    };
    if let Some((possible_ml, have, per_ml)) =
        largest.filter(|(possible, _, _)| *possible < asked_ml * (1.0 - 1e-9))
    {
        return Err(ScaleError::NotEnough {
            form: have.form.id.clone(),
            needs: rounding::show_significant(per_ml * asked_ml),
            has: rounding::show_significant(amount_there(have, &request.have).map_or(0.0, Mass::as_g)),
            largest_ml: (possible_ml + 1e-6).floor(),
        });
    }
    Ok((shares.iter().map(|share| Volume::from_ml(asked_ml * share)).collect(), None))
}

/// One line of the batch, rounded, dosed and advised on.
fn item(
    index: usize,
    ingredient: &Ingredient,
    take: &TakenForm,
    part: &Part,
    volume: Volume,
    request: &Request,
) -> Item {
    let litres = volume.as_litres();
    let amount = take.per_litre * litres;
    let grams = take.grams_per_litre.map(|grams| grams * litres);
    let mut advice = Vec::new();
    let mut dose = None;
    let weigh = if take.unit == Unit::Gram {
        if dose::is_too_small(amount, &take.form, request.balance) {
            let solvent = part.solvent.as_ref().map(|form| form.id.as_str());
            dose = dose::dose_for(amount, &take.form, request.balance, volume.as_ml(), solvent);
            let as_well =
                || dose::weighs_as_well(amount, &take.form, request.balance, volume.as_ml(), solvent);
            if dose.is_none() && !as_well() {
                advice.push(too_small(amount, &take.form, request.balance, volume, solvent));
            }
        }
        if let Some(dose) = &dose {
            dose.millilitres * dose.strength_percent / 100.0
        } else {
            let weigh = rounding::to_step(amount, request.balance.step_g);
            advice.extend(portions(weigh, request.balance));
            weigh
        }
    } else {
        rounding::to_step(amount, measuring_step_ml(amount))
    };
    if let Some(strength) = take.solution {
        advice.push(Advice::MakePercentSolution { strength });
    }
    let assay_given = request.assays.iter().find(|(form, _)| form.id == take.form.id);
    if let Some((_, fraction)) = assay_given {
        advice.push(Advice::AssayGiven { percent: fraction * 100.0 });
    } else if let Some((low_percent, high_percent)) = take.form.assay_typical {
        advice.push(Advice::AssayTypical { low_percent, high_percent });
    }
    if let Some(exchanged) = &take.exchanged {
        let hydroxide = exchanged.sodium_hydroxide_g() * litres;
        if let Some(relation) = &exchanged.relation {
            advice.push(if hydroxide == 0.0 {
                Advice::Relation { note: relation.note.clone() }
            } else {
                Advice::Hydroxide { grams: hydroxide, note: relation.note.clone() }
            });
        }
    }
    Item {
        index,
        form: Rc::clone(&take.form),
        unit: take.unit,
        per_litre: take.per_litre,
        amount,
        weigh,
        rounding_error_percent: if amount > 0.0 { (weigh - amount) / amount * 100.0 } else { 0.0 },
        solution: take.solution,
        dose,
        instead_of: take.instead_of.clone(),
        grams,
        assay: request.assay_of(&take.form),
        advice,
        note: ingredient.note.clone(),
        until: ingredient.until.clone(),
        optional: ingredient.optional,
        apart_ml: ingredient.apart_ml.map(|apart| apart * litres),
    }
}

fn too_small(grams: f64, form: &Form, balance: Balance, volume: Volume, solvent: Option<&str>) -> Advice {
    let steps = [0.1, 0.05, 0.02, 0.01, 0.005, 0.001, 0.0001];
    let finer_step_g = steps
        .into_iter()
        .find(|&step| !dose::is_too_small(grams, form, Balance { step_g: step, max_g: None }))
        .unwrap_or(0.0001);
    // What is weighed is a whole step, and that is read to half a step.
    let rounded = (rounding::to_step(grams, balance.step_g) - grams).abs() / grams;
    Advice::TooSmall {
        uncertainty_percent: (dose::uncertainty(grams, balance) + rounded) * 100.0,
        finer_step_g,
        least_batch_ml: dose::least_batch_ml(grams, form, balance, volume.as_ml(), solvent),
    }
}

/// Weighings that the balance carries and shows, and that add up to the amount.
fn portions(weigh: f64, balance: Balance) -> Option<Advice> {
    let full_g = balance.fullest_g()?;
    let full = (weigh / full_g + 1e-9).floor();
    let rest_g = rounding::to_step(weigh - full * full_g, balance.step_g);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "not negative; a cast of too much is the most"
    )]
    let whole = full as u32;
    (whole > 1 || whole == 1 && rest_g > 0.0).then_some(Advice::Portions { full: whole, full_g, rest_g })
}

/// What a percent solution takes: grams (or millilitres of a liquid) of the form made up to a volume.
#[derive(Debug, Clone, PartialEq)]
pub struct PercentSolution {
    /// Grams of pure solute meant.
    pub solute_g: f64,
    /// Grams of the form as weighed.
    pub weigh_g: f64,
    /// Millilitres of the form, where it is a liquid of known density.
    pub measure_ml: Option<f64>,
    /// Volume to make up to, mL; for w/w the mass of the whole instead.
    pub make_up_to_ml: f64,
    /// For w/w: grams of the finished solution.
    pub total_g: Option<f64>,
    /// Solubility at 20 °C, g per 100 g of water, where it is known and the solution is above it or may be.
    pub above_solubility: Option<f64>,
}

/// Works out a percent solution of a form; `assay` is the fraction of solute in the product.
///
/// w/v: grams in 100 mL of solution; v/v: millilitres of the pure liquid in 100 mL; w/w: grams in 100 g, for which the "volume" is taken
/// as grams of finished solution because its density is not known.
///
/// # Errors
/// v/v of a substance without density.
pub fn percent_solution(
    form: &Form,
    strength: Strength,
    volume: Volume,
    assay: f64,
) -> Result<PercentSolution, ExchangeError> {
    let make_up_to_ml = volume.as_ml();
    let share = strength.percent() / 100.0;
    let no_density = || ExchangeError::NoDensity { form: form.id.clone() };
    let (solute_g, total_g) = match strength.basis() {
        StrengthBasis::WeightInVolume => (make_up_to_ml * share, None),
        StrengthBasis::WeightInWeight => (make_up_to_ml * share, Some(make_up_to_ml)),
        StrengthBasis::VolumeInVolume => {
            // The pure liquid's own density is that of the product only if the product is pure.
            let density = form.density_g_per_ml.ok_or_else(no_density)?;
            let measure_ml = make_up_to_ml * share;
            return Ok(PercentSolution {
                solute_g: measure_ml * density * assay,
                weigh_g: measure_ml * density,
                measure_ml: Some(measure_ml),
                make_up_to_ml,
                total_g: None,
                above_solubility: None,
            });
        }
    };
    let weigh_g = solute_g / assay;
    let measure_ml = if form.state == State::Solid {
        None
    } else {
        form.density_g_per_ml.map(|density| weigh_g / density)
    };
    // w/w leaves the rest as water; of 100 mL w/v the solute takes its room, rather less than as crystals, which errs on the careful side.
    let percent = strength.percent();
    let solute_room = if total_g.is_some() { percent } else { form.solid_room_ml(percent) };
    let limit = form.solubility_as_weighed(USUAL_C).filter(|_| form.state == State::Solid);
    let above_solubility = limit.filter(|limit| percent > limit * (100.0 - solute_room) / 100.0);
    Ok(PercentSolution { solute_g, weigh_g, measure_ml, make_up_to_ml, total_g, above_solubility })
}

impl std::fmt::Display for Advice {
    /// As a sentence for the bench.
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        use rounding::{show_short, show_significant};
        match self {
            Self::TooSmall { uncertainty_percent, finer_step_g, least_batch_ml } => {
                let off = if *uncertainty_percent > 100.0 {
                    "more than 100 % out".to_owned()
                } else {
                    format!("± {} %", show_short(*uncertainty_percent, 0))
                };
                let larger = advised_batch(*least_batch_ml)
                    .map_or_else(String::new, |least| format!(", or mix at least {least}"));
                write!(
                    formatter,
                    "too little for this balance ({off}). Use one that reads to {} g{larger}",
                    show_short(*finer_step_g, 4),
                )
            }
            Self::Portions { full, full_g, rest_g } => {
                let (times, each) = (if *full == 1 { "" } else { "s" }, show_short(*full_g, 6));
                write!(formatter, "more than the balance carries: weigh {full} portion{times} of {each} g")?;
                if *rest_g > 0.0 {
                    write!(formatter, " and one of {} g", show_short(*rest_g, 6))?;
                }
                Ok(())
            }
            Self::AssayGiven { percent } => {
                write!(formatter, "taken as {} % pure, as given", rounding::show_short(*percent, 2))
            }
            Self::AssayTypical { low_percent, high_percent } => write!(
                formatter,
                "taken as 100 % pure; usually {} to {} %. Read the jar, then add --assay",
                show_short(*low_percent, 1),
                show_short(*high_percent, 1)
            ),
            Self::Hydroxide { grams, note } if *grams > 0.0 => write!(
                formatter,
                "{note}: the exchange is exact only with {} g more sodium hydroxide in this batch",
                show_significant(*grams)
            ),
            Self::Hydroxide { grams, note } => write!(
                formatter,
                "{note}: the exchange is exact only with {} g less sodium hydroxide (or its equal in alkali) in this batch",
                show_significant(-grams)
            ),
            Self::Relation { note } => formatter.write_str(note),
            Self::MakePercentSolution { strength } => write!(formatter, "of a {strength} solution"),
        }
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;

    fn form(id: &str) -> Rc<Form> {
        Library::shipped().form(id).unwrap()
    }

    #[test]
    fn a_percent_solution_counts_its_basis_and_stays_below_the_solubility() {
        let solution = |id: &str, strength: &str, assay: f64| {
            percent_solution(&form(id), strength.parse().unwrap(), Volume::from_ml(100.0), assay).unwrap()
        };
        // 10 mL of acetic acid of 1.0446 g/mL (CRC Handbook, in its file), 99 % of it acid.
        let acid = solution("acetic-acid", "10 % v/v", 0.99);
        assert_relative_eq!(acid.weigh_g, 10.446, max_relative = 1e-6);
        assert_relative_eq!(acid.solute_g, 10.446 * 0.99, max_relative = 1e-6);
        // 65 g of potassium bromide dissolve in 100 g of water at 20 °C (CRC Handbook, in its file): 10 % does, 60 % does not.
        assert_eq!(solution("potassium-bromide", "10 % w/v", 1.0).above_solubility, None);
        assert!(solution("potassium-bromide", "60 % w/v", 1.0).above_solubility.is_some());
    }

    #[test]
    fn what_cannot_be_weighed_says_how_far_off_it_is_and_what_would_do() {
        let advice = too_small(0.75, &form("metol"), Balance::default(), Volume::from_ml(500.0), None);
        let Advice::TooSmall { uncertainty_percent, finer_step_g, least_batch_ml } = advice else {
            panic!("{advice:?}")
        };
        // Half a step of 0.1 g and the 0.05 g by which 0.8 g are too much, each of 0.75 g.
        assert_relative_eq!(uncertainty_percent, 100.0 * 0.1 / 0.75, max_relative = 1e-6);
        assert_relative_eq!(finer_step_g, 0.05);
        // 1 g is weighed within 5 %.
        assert_relative_eq!(least_batch_ml, 500.0 / 0.75, max_relative = 1e-6);
        assert_relative_eq!(round_batch(least_batch_ml).as_ml(), 700.0);
        assert_relative_eq!(round_batch(700.0).as_ml(), 700.0);
    }

    #[test]
    fn a_percent_solution_of_a_liquid_is_measured_by_its_density() {
        let form = form("acetic-acid-28");
        let volume = Volume::from_ml(500.0);
        let made =
            percent_solution(&form, "2 % w/v".parse().unwrap(), volume, form.assay_fraction()).unwrap();
        // 10 g of acid are in 35.7 g of a product of 28 % by mass; at 1.036 g/mL (CRC Handbook, in its file) these are 34.5 mL.
        assert_relative_eq!(made.solute_g, 10.0, max_relative = 1e-9);
        assert_relative_eq!(made.measure_ml.unwrap(), 10.0 / 0.28 / 1.036, max_relative = 1e-3);
    }

    /// The first line of a litre of a formula of one's own, with these forms on the shelf.
    fn first_line(line: &str, shelf: &[&str]) -> Item {
        let text = format!(
            "format = 1\ntitle = \"T\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\n{line}\n"
        );
        let library = Library::shipped();
        let formula = Formula::parse(&text, "own", "own.toml", &library).unwrap();
        let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
        let have = shelf.iter().map(|id| Have { form: form(id), amount: None, is_limit: false }).collect();
        let request = Request { have, ..Request::volume(Volume::from_ml(1000.0)) };
        scale(&formula, &request, &relations).unwrap().parts.remove(0).items.remove(0)
    }

    #[test]
    fn what_replaces_another_form_is_weighed_where_it_is_solid_and_measured_where_it_is_liquid() {
        // A solid has a density too, and nobody measures it in a cylinder. 117 g of the monohydrate, 124.00 g/mol, are 100 g of the
        // anhydrous salt, 105.99 g/mol.
        let line = "substance = \"sodium-carbonate-monohydrate\"\ngrams = 117";
        let solid = first_line(line, &["sodium-carbonate-anhydrous"]);
        assert!(solid.form.density_g_per_ml.is_some());
        assert_eq!((solid.form.id.as_str(), solid.unit), ("sodium-carbonate-anhydrous", Unit::Gram));
        assert_relative_eq!(solid.amount, 100.0, max_relative = 1e-3);
        // 3 volumes of glacial acid into 8 of water are the acid of 28 % (S. Anchell, The Darkroom Cookbook, 3rd edition, 2008).
        let liquid = first_line("substance = \"acetic-acid\"\nmillilitres = 30", &["acetic-acid-28"]);
        assert_eq!((liquid.form.id.as_str(), liquid.unit), ("acetic-acid-28", Unit::Millilitre));
        assert_relative_eq!(liquid.amount, 110.0, max_relative = 0.03);
    }
}
