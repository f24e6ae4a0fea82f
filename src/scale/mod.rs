//! From a formula and a volume to what to weigh and measure tonight.
//!
//! amount = per litre × volume, in full precision; one rounding, at the end, to the balance. Forms on the shelf are exchanged mole for
//! mole ([`mod@exchange`]) and corrected for assay; what the balance cannot weigh becomes a dose of a percent solution ([`dose`]) or gets
//! advice. Mass is conserved: what an item carries into the vessel is what the recipe asks, but for the rounding that is reported.

mod advice;
pub mod dose;
mod error;
pub mod exchange;
mod item;
mod made_first;
mod percent;
mod size;

use crate::formula::{Amount, Formula, Part};
use crate::quantity::{LEAST_ML, Mass, MixRatio, Strength, Volume, rounding};
use crate::substance::Form;
use crate::vessel::{Content, Vessel};
pub use advice::Advice;
use dose::{Balance, Dose};
pub use error::ScaleError;
use exchange::{Exchanged, Relations};
pub(crate) use item::keeps_water_out;
use item::{item, take};
pub use made_first::MadeFirst;
pub use percent::{PercentSolution, percent_solution};
use size::{LARGEST_ML, part_shares, round_batch, volumes};
pub use size::{advised_batch, can_mix};
use std::rc::Rc;

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
    /// As sold: hydrate and strength decide the grams.
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
    /// Decides rounding, doses and warnings of too small amounts.
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
    /// `g` or `ml`: a promise to other programs, unlike the symbol.
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

/// What the recipe named where the shelf holds another form.
#[derive(Debug, Clone, PartialEq)]
pub struct Instead {
    /// The recipe's form.
    pub form: Rc<Form>,
    /// The recipe's figure per litre.
    pub per_litre: f64,
    /// Of the recipe's figure.
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

/// What goes into one vessel.
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
    /// In the order of the formula; one where it names none.
    pub parts: Vec<BatchPart>,
    /// The form that limits the batch, where that was asked.
    pub limited_by: Option<Rc<Form>>,
    /// The working solution asked for.
    pub working: Option<(Volume, MixRatio)>,
    /// The balance it was rounded to.
    pub balance: Balance,
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

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::item::too_small;
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

    #[test]
    fn what_brings_water_stays_out_of_a_concentrate_without_water() {
        // A concentrate in glycol keeps because no water is in it (common practice, no source).
        let head =
            "format = 1\ntitle = \"T\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n";
        let part = |solvent: &str| {
            let text = format!("{head}{solvent}[[ingredients]]\nsubstance = \"metol\"\ngrams = 5\n");
            Formula::parse(&text, "own", "own.toml", &Library::shipped()).unwrap().parts.remove(0)
        };
        let (glycol, water) = (part("solvent = \"propylene-glycol\"\n"), part(""));
        for (shelf, recipe, dry) in [
            ("sodium-sulfite-anhydrous", "sodium-sulfite-heptahydrate", true),
            ("sodium-sulfite-heptahydrate", "sodium-sulfite-anhydrous", false),
            ("acetic-acid-28", "acetic-acid", false),
            ("acetic-acid", "acetic-acid", true),
        ] {
            assert_eq!(keeps_water_out(&form(shelf), &form(recipe), &glycol), dry, "{shelf} for {recipe}");
            assert!(keeps_water_out(&form(shelf), &form(recipe), &water), "there is water already");
        }
    }

    #[test]
    fn an_exchange_names_caustic_only_where_it_frees_or_binds_alkali() {
        let advice = |line: &str, shelf: &str| -> Vec<String> {
            first_line(line, &[shelf]).advice.iter().map(ToString::to_string).collect()
        };
        // One metabisulfite for the other: the ion is the same.
        let same = advice("substance = \"potassium-metabisulfite\"\ngrams = 25", "sodium-metabisulfite");
        assert!(!same.is_empty() && same.iter().all(|words| !words.contains("sodium hydroxide")), "{same:?}");
        // The acid for its salt: a proton for each mole, 10 g over 198.11 g/mol and 40.00 g of caustic to the mole are 2.02 g.
        let acid = advice("substance = \"sodium-ascorbate\"\ngrams = 10", "ascorbic-acid");
        assert!(acid.iter().any(|words| words.contains("2.02 g more sodium hydroxide")), "{acid:?}");
    }
}
