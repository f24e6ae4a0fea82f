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
use std::sync::Arc;

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
    pub form: Arc<Form>,
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
    pub assays: Vec<(Arc<Form>, f64)>,
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
    pub form: Arc<Form>,
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
    pub form: Arc<Form>,
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
    pub limited_by: Option<Arc<Form>>,
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
    form: Arc<Form>,
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

    fn form(id: &str) -> Arc<Form> {
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

    /// A batch of a formula of one's own.
    fn batch_of(text: &str, request: &Request) -> Result<Batch, ScaleError> {
        let head = "format = 1\ntitle = \"T\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n";
        let library = Library::shipped();
        let formula = Formula::parse(&format!("{head}{text}\n"), "own", "own.toml", &library).unwrap();
        let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
        scale(&formula, request, &relations)
    }

    fn line(id: &str, amount: &str) -> String {
        format!("[[ingredients]]\nsubstance = \"{id}\"\n{amount}\n")
    }

    fn of_ml(millilitres: f64) -> Request {
        Request::volume(Volume::from_ml(millilitres))
    }

    #[test]
    fn half_as_much_bisulfite_by_moles_is_as_much_metabisulfite() {
        // Na2S2O5 + H2O = 2 NaHSO3: 104.06 g of the one are 95.05 g of the other (190.11 g/mol; atomic masses of the IUPAC).
        let item = first_line("substance = \"sodium-bisulfite\"\ngrams = 104.06", &["sodium-metabisulfite"]);
        assert_relative_eq!(item.amount, 95.05, max_relative = 1e-3);
        let back = first_line("substance = \"sodium-metabisulfite\"\ngrams = 95.05", &["sodium-bisulfite"]);
        assert_relative_eq!(back.amount, 104.06, max_relative = 1e-3);
        let same = first_line("substance = \"borax-decahydrate\"\ngrams = 10", &["borax-pentahydrate"]);
        assert!(!same.advice.iter().any(|own| matches!(own, Advice::Hydroxide { .. })), "{:?}", same.advice);
    }

    #[test]
    fn caustic_beside_an_exchange_is_counted_for_the_batch() {
        // 10 g/L of sodium ascorbate, 198.11 g/mol: 2.02 g of caustic to the litre, half of it for half a litre.
        let shelf = vec![Have { form: form("ascorbic-acid"), amount: None, is_limit: false }];
        let request = Request { have: shelf, ..of_ml(500.0) };
        let batch = batch_of(&line("sodium-ascorbate", "grams = 10"), &request).unwrap();
        let grams = batch.parts[0].items[0].advice.iter().find_map(|own| match own {
            Advice::Hydroxide { grams, .. } => Some(*grams),
            _ => None,
        });
        assert_relative_eq!(grams.unwrap(), 1.01, max_relative = 1e-2);
    }

    #[test]
    fn the_recipes_own_form_goes_before_all_and_a_named_limit_before_nothing() {
        let taken = |id: &str, shelf: &[(&str, bool)]| {
            let have = shelf.iter().map(|(id, is_limit)| Have {
                form: form(id),
                amount: is_limit.then(|| crate::quantity::Mass::from_g(500.0)),
                is_limit: *is_limit,
            });
            let request = Request { have: have.collect(), ..of_ml(1000.0) };
            batch_of(&line(id, "grams = 10"), &request).unwrap().parts[0].items[0].form.id.clone()
        };
        let (crystal, dry) = ("sodium-carbonate-monohydrate", "sodium-carbonate-anhydrous");
        assert_eq!(taken(crystal, &[(dry, false), (crystal, false)]), crystal);
        assert_eq!(taken(crystal, &[(dry, false)]), dry);
        // One bromide for the other is exact but changes the bath: it has to be asked for.
        let (potassium, sodium) = ("potassium-bromide", "sodium-bromide");
        assert_eq!(taken(potassium, &[(sodium, false)]), potassium);
        assert_eq!(taken(potassium, &[(sodium, true)]), sodium);
        assert_eq!(taken(potassium, &[("metol", false), (sodium, false)]), potassium);
    }

    #[test]
    fn a_formula_may_forbid_an_exchange_of_its_own_form_only() {
        let forbid = line("sodium-carbonate-monohydrate", "grams = 10\nexchange = false\nnote = \"n\"");
        let with = |id: &str| {
            let have = vec![Have { form: form(id), amount: None, is_limit: false }];
            batch_of(&forbid, &Request { have, ..of_ml(1000.0) })
        };
        assert!(matches!(with("sodium-carbonate-anhydrous"), Err(ScaleError::NotExchanged { .. })));
        assert!(with("sodium-carbonate-monohydrate").is_ok() && with("metol").is_ok());
    }

    #[test]
    fn a_measured_percent_solution_stays_that_of_the_recipe_and_counts_the_jar_it_is_made_of() {
        let text = line("potassium-bromide", "millilitres = 50\nstrength = \"10 % w/v\"");
        let pure = batch_of(&text, &of_ml(1000.0)).unwrap();
        let assays = vec![(form("metol"), 0.9), (form("potassium-bromide"), 0.5)];
        let half = batch_of(&text, &Request { assays, ..of_ml(1000.0) }).unwrap();
        let (pure, half) = (&pure.parts[0].items[0], &half.parts[0].items[0]);
        // 5 g of bromide are in it either way: 10 g of a product of half the strength.
        for (item, grams) in [(pure, 5.0), (half, 10.0)] {
            assert_eq!((item.unit, item.amount), (Unit::Millilitre, 50.0), "{item:?}");
            assert_relative_eq!(item.grams.unwrap(), grams, max_relative = 1e-9);
            assert!(item.advice.iter().any(|own| matches!(own, Advice::MakePercentSolution { .. })));
        }
        assert_relative_eq!(half.assay, 0.5);
        assert!(half.advice.contains(&Advice::AssayGiven { percent: 50.0 }), "{:?}", half.advice);
        assert!(!pure.advice.iter().any(|own| matches!(own, Advice::AssayGiven { .. })));
    }

    #[test]
    fn an_assay_that_varies_is_told_until_it_is_given() {
        // Potassium hydroxide is sold at 85 to 90 % (in its file): the rest is water.
        let text = line("potassium-hydroxide", "grams = 10");
        let told = |request: &Request| batch_of(&text, request).unwrap().parts[0].items[0].advice.clone();
        let usual = Advice::AssayTypical { low_percent: 85.0, high_percent: 90.0 };
        assert!(told(&of_ml(1000.0)).contains(&usual));
        let assays = vec![(form("potassium-hydroxide"), 0.86)];
        let given = told(&Request { assays, ..of_ml(1000.0) });
        assert!(!given.contains(&usual), "{given:?}");
        assert!(
            given
                .iter()
                .any(|own| matches!(own, Advice::AssayGiven { percent } if (percent - 86.0).abs() < 1e-9))
        );
    }

    #[test]
    fn what_is_more_than_the_balance_carries_is_weighed_in_portions() {
        let portions = |grams: &str| {
            let balance = Balance { step_g: 0.1, max_g: Some(200.0) };
            let request = Request { balance, ..of_ml(1000.0) };
            let batch =
                batch_of(&line("sodium-sulfite-anhydrous", &format!("grams = {grams}")), &request).unwrap();
            let advice = batch.parts[0].items[0].advice.clone();
            advice.into_iter().find(|own| matches!(own, Advice::Portions { .. })).map(|own| own.to_string())
        };
        assert_eq!(portions("200"), None);
        for (grams, words) in [
            ("200.1", "weigh 1 portion of 200 g and one of 0.1 g"),
            ("400", "weigh 2 portions of 200 g"),
            ("450", "weigh 2 portions of 200 g and one of 50 g"),
        ] {
            assert!(
                portions(grams).is_some_and(|own| own.ends_with(words)),
                "{grams}: {:?}",
                portions(grams)
            );
        }
    }

    #[test]
    fn how_far_off_a_weighing_is_and_caustic_more_or_less_are_told_in_words() {
        let off = |uncertainty_percent| {
            Advice::TooSmall { uncertainty_percent, finer_step_g: 0.01, least_batch_ml: 500.0 }.to_string()
        };
        assert!(off(100.0).contains("(± 100 %)"), "{}", off(100.0));
        assert!(off(100.1).contains("(more than 100 % out)"), "{}", off(100.1));
        let caustic = |grams| Advice::Hydroxide { grams, note: "n".to_owned() }.to_string();
        assert!(caustic(0.5).contains("0.5 g more") && caustic(-0.5).contains("0.5 g less"));
    }

    #[test]
    fn the_finer_balance_advised_is_the_coarsest_that_does() {
        // Half a step over the amount is at most 5 %: the step is a tenth of it.
        for (grams, step_g) in [
            (1.0, 0.1),
            (0.99, 0.05),
            (0.5, 0.05),
            (0.49, 0.02),
            (0.2, 0.02),
            (0.19, 0.01),
            (0.1, 0.01),
            (0.09, 0.005),
            (0.049, 0.001),
            (0.0099, 0.0001),
            (0.000_01, 0.0001),
        ] {
            let advice = too_small(grams, &form("metol"), Balance::default(), Volume::from_ml(500.0), None);
            let Advice::TooSmall { finer_step_g, .. } = advice else { panic!("{advice:?}") };
            assert!((finer_step_g - step_g).abs() < 1e-9, "{grams}: {finer_step_g}");
        }
    }

    #[test]
    fn percent_solutions_are_made_each_once_for_all_parts() {
        let solution = |id: &str, ml: u32, strength: &str| {
            line(id, &format!("millilitres = {ml}\nstrength = \"{strength}\""))
                .replace("ingredients", "parts.ingredients")
        };
        let part = |name: &str, lines: &[String]| format!("[[parts]]\nname = \"{name}\"\n{}", lines.concat());
        let made = |parts: &[String], ml: f64| -> Vec<(String, f64, f64, Option<f64>)> {
            let batch = batch_of(&parts.concat(), &of_ml(ml)).unwrap();
            batch
                .made_first()
                .into_iter()
                .map(|own| (own.form.id.clone(), own.needed_ml, own.make, own.amount))
                .collect()
        };
        let (bromide, chloride) = ("potassium-bromide", "sodium-chloride");
        let ten = |id: &str| solution(id, 40, "10 % w/v");
        let both = made(&[part("A", &[ten(bromide), ten(chloride)]), part("B", &[ten(bromide)])], 1000.0);
        // 80 mL of the one, 40 of the other; each bottle holds what half a step of 0.1 g is little of.
        assert_eq!(
            both,
            [(chloride.to_owned(), 40.0, 50.0, Some(5.0)), (bromide.to_owned(), 80.0, 100.0, Some(10.0)),]
        );
        let two = made(&[part("A", &[ten(bromide)]), part("B", &[solution(bromide, 40, "5 % w/v")])], 1000.0);
        assert_eq!(two.len(), 2, "two strengths are two bottles: {two:?}");
        // What a litre does not hold is made by the litre.
        let much = |strength| {
            made(&[part("A", &[solution(bromide, 150, strength)]), part("B", &[ten(chloride)])], 10_000.0)
        };
        assert_eq!(much("10 % w/v")[0], (bromide.to_owned(), 1500.0, 2000.0, Some(200.0)));
        // 2.5 g of bromide is the least weighed to 2 %: two litres of 0.125 % hold it just.
        assert_eq!(much("0.125 % w/v")[0].3, Some(2.5));
        assert_eq!(much("0.12 % w/v")[0], (bromide.to_owned(), 1500.0, 1500.0, None));
        // A liquid by volume is measured, however little.
        let acid = made(
            &[part("A", &[solution("acetic-acid", 30, "1 % v/v")]), part("B", &[ten(chloride)])],
            1000.0,
        );
        assert_eq!(acid[0], ("acetic-acid".to_owned(), 30.0, 50.0, Some(0.5)));
    }

    #[test]
    fn a_litre_of_a_large_batch_holds_what_a_litre_of_a_small_one_does() {
        // Percent by weight of a solution of unknown density: not known, but bounded by the litre.
        let text = line("potassium-iodide", "millilitres = 50\nstrength = \"10 % w/w\"")
            + &line("acetic-acid", "millilitres = 20");
        let library = Library::shipped();
        let head = "format = 1\ntitle = \"T\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n";
        let source =
            Formula::parse(&format!("{head}{text}"), "own", "own.toml", &library).unwrap().parts.remove(0);
        let vessel = |ml: f64| batch_of(&text, &of_ml(ml)).unwrap().parts[0].vessel(&source);
        let (small, large) = (vessel(250.0), vessel(4000.0));
        assert!(small.iter().any(|own| own.grams_per_litre.is_none()), "{small:?}");
        for (one, other) in small.iter().zip(large.iter()) {
            let most = (one.at_most_grams().unwrap(), other.at_most_grams().unwrap());
            assert_relative_eq!(most.0, most.1, max_relative = 1e-9);
            assert_eq!(one.as_solution, other.as_solution);
        }
        // In the whole batch there is so much more.
        let most = |ml: f64| batch_of(&text, &of_ml(ml)).unwrap().parts[0].items[1].at_most_g().unwrap();
        // 20 mL of 1.0446 g/mL (CRC Handbook, in its file) to the litre.
        assert_relative_eq!(most(250.0), 20.0 * 1.0446 / 4.0, max_relative = 1e-3);
        assert_relative_eq!(most(4000.0), 20.0 * 1.0446 * 4.0, max_relative = 1e-3);
    }

    #[test]
    fn a_batch_is_as_small_as_can_be_measured_and_as_large_as_is_mixed() {
        // A hundredth of a millilitre and 200 litres; common practice, no source.
        let made = |ml: f64| {
            batch_of(&line("metol", "grams = 2"), &of_ml(ml)).map(|batch| batch.parts[0].volume.as_ml())
        };
        assert_eq!(made(0.01).ok(), Some(0.01));
        assert!(matches!(made(0.0099), Err(ScaleError::TooSmall { .. })));
        assert_eq!(made(200_000.0).ok(), Some(200_000.0));
        assert!(matches!(made(200_001.0), Err(ScaleError::TooLarge { .. })));
        assert!(can_mix(Volume::from_ml(0.01)) && can_mix(Volume::from_ml(200_000.0)));
        assert!(!can_mix(Volume::from_ml(0.0099)) && !can_mix(Volume::from_ml(200_001.0)));
        assert_eq!(advised_batch(200_001.0), None);
    }

    #[test]
    fn a_working_solution_is_shared_out_among_its_parts_and_a_jar_sets_its_size() {
        let part = |name: &str, id: &str| {
            format!(
                "[[parts]]\nname = \"{name}\"\n{}",
                line(id, "grams = 10").replace("ingredients", "parts.ingredients")
            )
        };
        let text = part("A", "sodium-sulfite-anhydrous") + &part("B", "sodium-carbonate-anhydrous");
        let volumes = |ratio: &str, ml: f64| -> Vec<f64> {
            let wanted = Wanted::Working { volume: Volume::from_ml(ml), ratio: ratio.parse().unwrap() };
            let batch = batch_of(&text, &Request { wanted, ..of_ml(1.0) }).unwrap();
            batch.parts.iter().map(|own| own.volume.as_ml()).collect()
        };
        // 1 + 3 + 4 parts of water: an eighth and three eighths of 800 mL.
        assert_eq!(volumes("1+3+4", 800.0), [100.0, 300.0]);
        assert_eq!(volumes("1+1", 500.0), [250.0, 250.0]);
        assert_relative_eq!(batch_of(&text, &of_ml(500.0)).unwrap().parts[1].volume.as_ml(), 500.0);
        // 25 g of carbonate at 10 g/L are two and a half litres.
        let have = |grams, is_limit| {
            vec![Have {
                form: form("sodium-carbonate-anhydrous"),
                amount: Some(crate::quantity::Mass::from_g(grams)),
                is_limit,
            }]
        };
        let most = Request { wanted: Wanted::AsMuchAsPossible, have: have(25.0, true), ..of_ml(1.0) };
        assert_relative_eq!(
            batch_of(&text, &most).unwrap().parts[0].volume.as_ml(),
            2500.0,
            max_relative = 1e-9
        );
        let asked = |ml: f64| batch_of(&text, &Request { have: have(25.0, false), ..of_ml(ml) });
        assert!(asked(2500.0).is_ok());
        let Err(ScaleError::NotEnough { largest_ml, .. }) = asked(2501.0) else { panic!("too little") };
        assert_relative_eq!(largest_ml, 2500.0);
    }

    #[test]
    fn a_dose_goes_in_as_a_solution() {
        let text = line("potassium-bromide", "grams = 0.5") + &line("sodium-sulfite-anhydrous", "grams = 50");
        let batch = batch_of(&text, &of_ml(1000.0)).unwrap();
        let contents: Vec<bool> =
            batch.parts[0].items.iter().map(|item| item.content(1.0).as_solution).collect();
        assert_eq!(contents, [true, false]);
    }

    #[test]
    fn percent_by_weight_counts_the_finished_grams() {
        let made = percent_solution(
            &form("potassium-bromide"),
            "10 % w/w".parse().unwrap(),
            Volume::from_ml(200.0),
            1.0,
        )
        .unwrap();
        assert_eq!((made.solute_g, made.total_g), (20.0, Some(200.0)));
        let acid =
            percent_solution(&form("acetic-acid"), "10 % v/v".parse().unwrap(), Volume::from_ml(500.0), 1.0)
                .unwrap();
        assert_eq!(acid.measure_ml, Some(50.0));
    }

    #[test]
    fn a_ratio_names_each_part_and_water_at_most_besides() {
        let fits = |ratio: &str| {
            let wanted = Wanted::Working { volume: Volume::from_ml(500.0), ratio: ratio.parse().unwrap() };
            batch_of(&line("metol", "grams = 2"), &Request { wanted, ..of_ml(1.0) })
        };
        assert!(fits("1+3").is_ok());
        assert!(matches!(fits("1+1+3"), Err(ScaleError::RatioDoesNotFit { .. })));
    }

    #[test]
    fn what_a_rounding_loses_is_told_in_percent_and_what_is_lost_whole_by_name() {
        // 2.04 g on 0.1 g are 2.0 g: 0.04 of 2.04, 1.96 %.
        let batch = |amount: &str| batch_of(&line("metol", amount), &of_ml(1000.0)).unwrap();
        let item = batch("grams = 2.04").parts.remove(0).items.remove(0);
        assert_relative_eq!(item.rounding_error_percent, -1.9608, max_relative = 1e-3);
        assert!(batch("grams = 2.04").parts[0].lost().is_none());
        // 0.04 g round to nothing; from 25 litres on they are the gram that is weighed to 5 %.
        let lost = batch("grams = 0.04");
        let (items, least) = lost.parts[0].lost().unwrap();
        assert_eq!((items.len(), least.as_ml()), (1, 25_000.0));
        let advice = |amount: &str| {
            batch(amount).parts[0].items[0].advice.iter().any(|own| matches!(own, Advice::TooSmall { .. }))
        };
        assert!(advice("grams = 0.5") && !advice("grams = 1"));
    }
}
