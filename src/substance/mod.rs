//! What can be weighed: a chemical (the parent) with its forms, that is its hydrates and strengths on sale, and what is known of them.
//!
//! A file `substances/<parent>.toml` holds one parent; every form id is the parent id or begins with it and a hyphen, so that a form is
//! found without reading any other file. Every figure names its source by a key of `tables/sources.toml`.

pub mod chemical_formula;
mod class;
mod file;
mod hazards;
pub mod molar;
mod read;
mod role;

use crate::diagnostic::{Finding, LineStarts, MOST_FINDINGS, read_table, read_toml};
use crate::packed::Packed;
use chemical_formula::AtomicWeights;
pub use class::Class;
pub use hazards::{HazardStatus, Hazards, Signal};
use read::{declared, form_from_file};
pub use role::Role;
use serde::Deserialize;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Version of the file format that this program reads.
pub const FORMAT: u32 = 1;

/// Density assumed for a solid whose own is not known, g/mL; only for the room that it takes up in the vessel. Typical of salts, no source.
const USUAL_SOLID_G_PER_ML: f64 = 2.0;

/// Most letters of a name on the bench page: with a remark behind it two lines of a row hold it.
pub const BENCH_NAME_LETTERS: usize = 24;

/// How a form is handled: as a powder, as a liquid, or as a solution of stated strength.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Crystals or powder.
    #[default]
    Solid,
    /// A pure or nearly pure liquid.
    Liquid,
    /// A solution on sale, such as 28 % acetic acid.
    Solution,
}

/// What the grams of a solubility point are grams of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum SolubilityBasis {
    /// The form itself, as weighed.
    AsWeighed,
    /// The anhydrous parent.
    Anhydrous,
}

/// A solubility curve: grams per 100 g of water added, at temperatures in °C.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredSolubility {
    /// Whether this is the curve to use; the others are cross-checks.
    pub primary: bool,
    /// What the grams count.
    pub basis: SolubilityBasis,
    /// (°C, g per 100 g water), rising temperature.
    pub points: Vec<(f64, f64)>,
    /// Key of the source.
    pub source: String,
    /// What to know of the figures.
    pub remark: Option<String>,
}

impl MeasuredSolubility {
    /// Solubility at a temperature by straight lines between points, in the unit of the curve; none outside the range of the data.
    pub fn at(&self, celsius: f64) -> Option<f64> {
        let after = self.points.iter().position(|&(point, _)| point >= celsius)?;
        let &(high_c, high) = self.points.get(after)?;
        if (high_c - celsius).abs() < 1e-9 {
            return Some(high);
        }
        let &(low_c, low) = self.points.get(after.checked_sub(1)?)?;
        Some(low + (high - low) * (celsius - low_c) / (high_c - low_c))
    }
}

/// An acid constant at zero ionic strength and 25 °C.
#[derive(Debug, Clone, PartialEq)]
pub struct AcidConstant {
    /// The acid that loses the proton.
    pub step: String,
    /// −log₁₀ Kₐ.
    pub pka: f64,
    /// Enthalpy of dissociation, kJ/mol.
    pub enthalpy_kj_per_mol: Option<f64>,
    /// Key of the source.
    pub source: String,
    /// What to know of the figure.
    pub remark: Option<String>,
}

/// Heat of solution: positive cools the beaker.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatOfSolution {
    /// kJ per mol of the form at infinite dilution.
    pub kj_per_mol: f64,
    /// How the figure was arrived at.
    pub method: Option<String>,
    /// Key of the source.
    pub source: String,
    /// What to know of the figure.
    pub remark: Option<String>,
}

/// That a percent solution of the chemical keeps, so that small amounts can be dosed from one.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepsInSolution {
    /// Substance id of the solvent; `water` or an organic one.
    pub solvent: String,
    /// Usual strengths, % w/v.
    pub percent: Vec<f64>,
    /// Key of the source.
    pub source: String,
    /// How to make it.
    pub note: Option<String>,
}

/// How much a substance's own file says of what it does in water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum DeclaredStanding {
    /// Its components say all that matters for pH.
    Modelled,
    /// It takes no part in the balance of charge and protons.
    Inert,
    /// Something that may matter is not known.
    Unknown,
}

/// What a mole of a chemical brings into solution, as its own file says; the shipped chemicals have theirs in `tables/equilibria.toml`.
#[derive(Debug, Clone, PartialEq)]
pub struct DeclaredSolution {
    /// How much is known.
    pub standing: DeclaredStanding,
    /// Components by name, mol per mol; the names are those of `tables/equilibria.toml`.
    pub components: Vec<(String, f64)>,
    /// Of an unknown one: the most protons that the unknown part of a mole may take up or give off.
    pub protons: f64,
    /// What is left out, in words.
    pub note: Option<String>,
}

/// What all forms of a chemical share.
#[derive(Debug, Clone, PartialEq)]
pub struct Parent {
    /// Id, the name of its file.
    pub id: String,
    /// Trade name.
    pub name: String,
    /// Other names.
    pub synonyms: Vec<String>,
    /// What it does in baths, main role first.
    pub roles: Vec<Role>,
    /// Classes for the rules of combination; none when its file does not say.
    pub classes: Option<Vec<Class>>,
    /// Traps worth telling.
    pub note: Option<String>,
    /// Whether a percent solution keeps.
    pub keeps_in_solution: Option<KeepsInSolution>,
    /// What it brings into solution, where its own file says so.
    pub solution: Option<DeclaredSolution>,
    /// How many forms it has.
    pub form_count: usize,
    /// The personal folder that its file lies in, as the user named it; none of a shipped one.
    pub origin: Option<String>,
}

/// By what a dissolved chemical is judged, whatever form it came in: water of crystallisation and the water of a solution on sale are
/// water then.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct JudgedAs {
    /// Molar mass of the form whose grams count, g/mol.
    pub molar_mass_g_per_mol: Option<f64>,
    /// Codes of the standard and supplementary hazard statements of any of the pure forms.
    pub codes: Vec<String>,
    /// Whether the classification is official in all of them.
    pub is_official: bool,
}

impl JudgedAs {
    /// From the pure forms where there are any, else from the strongest solution; the grams are those of the form that the file names for
    /// it, else of the first.
    fn of(forms: &[Form], judged_as: Option<&str>) -> Self {
        let pure: Vec<&Form> = forms.iter().filter(|form| form.state != State::Solution).collect();
        let strongest =
            || forms.iter().max_by(|one, two| one.assay_fraction().total_cmp(&two.assay_fraction()));
        let meant = if pure.is_empty() { strongest().into_iter().collect() } else { pure };
        let mut codes: Vec<String> = Vec::new();
        for code in meant.iter().flat_map(|form| form.hazards.codes()) {
            if !codes.iter().any(|own: &String| own == code) {
                codes.push(code.to_owned());
            }
        }
        let named = forms.iter().find(|form| judged_as == Some(form.id.as_str()));
        let is_official = |form: &&Form| {
            matches!(form.hazards.status, HazardStatus::Harmonised | HazardStatus::NotClassified)
        };
        Self {
            molar_mass_g_per_mol: named.or(meant.first().copied()).and_then(|form| form.molar_mass_g_per_mol),
            is_official: meant.iter().all(is_official),
            codes,
        }
    }
}

/// One form of a chemical, as bought and weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// Id by which formulas name it.
    pub id: String,
    /// Name as printed on a sheet.
    pub name: String,
    /// Name in a row of the bench page: that of the file, at most [`BENCH_NAME_LETTERS`] letters, else the name.
    pub bench_name: String,
    /// Systematic name.
    pub systematic: Option<String>,
    /// Other names of this form.
    pub synonyms: Vec<String>,
    /// CAS registry number.
    pub cas: Option<String>,
    /// Chemical formula as text; of the pure solute in a solution on sale.
    pub chemical_formula: Option<String>,
    /// Molar mass in g/mol from the chemical formula, water of crystallisation included.
    pub molar_mass_g_per_mol: Option<f64>,
    /// Molecules of water of crystallisation per formula unit.
    pub crystal_water: f64,
    /// Powder, liquid or solution.
    pub state: State,
    /// Grams of the chemical in 100 g of the product, where it is not practically 100.
    pub assay_percent: Option<f64>,
    /// Key of the source of the assay.
    pub assay_source: Option<String>,
    /// Range in which the assay of this product usually lies: offered to the user, never applied by itself.
    pub assay_typical: Option<(f64, f64)>,
    /// Density, g/mL.
    pub density_g_per_ml: Option<f64>,
    /// Key of the source of the density.
    pub density_source: Option<String>,
    /// In sentences; none where the file says nothing.
    pub handling: Option<String>,
    /// By source; one of them may be the primary.
    pub solubility: Vec<MeasuredSolubility>,
    /// Of the chemical in water; empty where it has none or none is known.
    pub acid_constants: Vec<AcidConstant>,
    /// None where the file gives none.
    pub heat_of_solution: Option<HeatOfSolution>,
    /// Hazards as weighed.
    pub hazards: Hazards,
    /// By what its hazards are judged once it is dissolved: the same for all forms of the chemical.
    pub judged: Arc<JudgedAs>,
    /// What all forms share.
    pub parent: Arc<Parent>,
}

impl Form {
    /// Fraction by mass of the chemical in the product: 1 for a pure solid, 0.28 for 28 % acetic acid.
    pub fn assay_fraction(&self) -> f64 {
        self.assay_percent.map_or(1.0, |percent| percent / 100.0)
    }

    /// Grams of the product that hold one mole of the chemical: M/a.
    pub fn product_g_per_mol(&self) -> Option<f64> {
        Some(self.molar_mass_g_per_mol? / self.assay_fraction())
    }

    /// Moles of the chemical in so many grams of a product of an assay (a fraction): m·a/M. None without a fixed composition.
    pub fn moles_in(&self, grams: f64, assay: f64) -> Option<f64> {
        Some(grams * assay / self.molar_mass_g_per_mol?)
    }

    /// Grams of the pure chemical in so many grams of a product, counted in the form in which it is [`JudgedAs`].
    pub fn judged_grams(&self, grams: f64, assay: f64) -> f64 {
        let as_judged = self.moles_in(grams, assay).zip(self.judged.molar_mass_g_per_mol);
        as_judged.map_or(grams * assay, |(moles, own)| moles * own)
    }

    /// Whether the chemical has a role.
    pub fn has_role(&self, role: Role) -> bool {
        self.parent.roles.contains(&role)
    }

    /// Whether the chemical is in a class of the rules of combination.
    pub fn is_class(&self, class: &Class) -> bool {
        self.parent.classes.iter().flatten().any(|known| known == class)
    }

    /// Whether the chemical is in the class of that word, as rows of the tables name it.
    pub fn is_class_named(&self, word: &str) -> bool {
        self.parent.classes.iter().flatten().any(|known| known.word() == word)
    }

    /// That it is none of the shipped ones, in words; none of a shipped one.
    pub fn origin_words(&self) -> Option<String> {
        Some(format!("own substance `{}`, from {}", self.id, self.parent.origin.as_ref()?))
    }

    /// Whether it is the user's own and its file names no class: what it must not meet is then not known.
    pub fn is_unvouched(&self) -> bool {
        self.parent.origin.is_some() && self.parent.classes.as_ref().is_none_or(Vec::is_empty)
    }

    /// The curve that decides; others stand beside it for comparison.
    pub fn primary_solubility(&self) -> Option<&MeasuredSolubility> {
        self.solubility.iter().find(|curve| curve.primary)
    }

    /// Room that grams of it take up as crystals, mL; dissolved it is rather less.
    pub fn solid_room_ml(&self, grams: f64) -> f64 {
        grams / self.density_g_per_ml.unwrap_or(USUAL_SOLID_G_PER_ML)
    }

    /// Molar mass of the anhydrous chemical, g/mol: M − n·M(H₂O).
    pub fn anhydrous_molar_mass(&self, weights: &AtomicWeights) -> Option<f64> {
        let water = 2.0 * weights.of("H")? + weights.of("O")?;
        Some(self.molar_mass_g_per_mol? - self.crystal_water * water)
    }

    /// Solubility in the same unit, without molar masses: none too where the curve of a hydrate counts the anhydrous chemical.
    pub fn solubility_as_weighed(&self, celsius: f64) -> Option<f64> {
        let counts_this = |curve: &&MeasuredSolubility| {
            curve.basis == SolubilityBasis::AsWeighed || self.crystal_water == 0.0
        };
        self.primary_solubility().filter(counts_this)?.at(celsius)
    }

    /// Solubility at a temperature in grams of this form per 100 g of water added; none where no data reach.
    pub fn solubility_per_100_g(&self, celsius: f64, weights: &AtomicWeights) -> Option<f64> {
        let curve = self.primary_solubility()?;
        let value = curve.at(celsius)?;
        match curve.basis {
            SolubilityBasis::AsWeighed => Some(value),
            SolubilityBasis::Anhydrous => {
                // S_hydrate = 100 (w/f) / (1 − w/f), w = anhydrous mass fraction when saturated, f = anhydrous fraction of the crystal.
                let saturated = value / (100.0 + value);
                let share = self.anhydrous_molar_mass(weights)? / self.molar_mass_g_per_mol?;
                let hydrate = saturated / share;
                (hydrate < 1.0).then(|| 100.0 * hydrate / (1.0 - hydrate))
            }
        }
    }
}

/// A parent with its forms.
#[derive(Debug, Clone)]
pub struct Substance {
    /// What the forms share.
    pub parent: Arc<Parent>,
    /// The forms, in the order of the file.
    pub forms: Vec<Arc<Form>>,
}

impl Substance {
    /// Reads a substance file; `id` is the file's name without `.toml`.
    ///
    /// # Errors
    /// Everything wrong in it, at once.
    pub fn parse(text: &str, id: &str, file: &str, weights: &AtomicWeights) -> Result<Self, Vec<Finding>> {
        Self::parse_own(text, id, file, weights, None)
    }

    /// Reads one of the user's own, whose file lies in the folder `origin`.
    ///
    /// # Errors
    /// As [`Self::parse`].
    pub fn parse_own(
        text: &str,
        id: &str,
        file: &str,
        weights: &AtomicWeights,
        origin: Option<String>,
    ) -> Result<Self, Vec<Finding>> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let shape = read_toml(text, file).map_err(|finding| vec![finding])?;
        Self::judged(shape, text, (id, file), weights, origin)
    }

    /// Reads a shipped one by its text and what was packed of it.
    ///
    /// # Errors
    /// As [`Self::parse`].
    pub(crate) fn of_shipped(
        (text, packed): (&str, Packed<'static>),
        id: &str,
        file: &str,
        weights: &AtomicWeights,
    ) -> Result<Self, Vec<Finding>> {
        let shape = read_table(packed, file).map_err(|finding| vec![finding])?;
        Self::judged(shape, text, (id, file), weights, None)
    }

    fn judged(
        shape: file::SubstanceFile,
        text: &str,
        (id, file): (&str, &str),
        weights: &AtomicWeights,
        origin: Option<String>,
    ) -> Result<Self, Vec<Finding>> {
        let lines = LineStarts::of(text);
        let mut findings = Vec::new();
        if *shape.format.get_ref() != FORMAT {
            let line = lines.line(shape.format.start());
            let message = format!("format = {} is not known to this version", shape.format.get_ref());
            let fix = format!("write format = {FORMAT}");
            findings.push(Finding::error("format", file, Some(line), message, fix));
        }
        if shape.forms.is_empty() {
            let message = "the substance has no form";
            findings.push(Finding::error("no-forms", file, None, message, "add [[forms]] with id and name"));
        }
        let solution = shape.solution.map(|spanned| {
            let line = lines.line(spanned.start());
            declared(spanned.into_inner(), (file, line), &mut findings)
        });
        if let Some(keeps) = &shape.keeps_in_solution {
            let percent = &keeps.get_ref().percent;
            let sane = |percent: &f64| *percent > 0.0 && *percent <= 100.0;
            if percent.is_empty() || !percent.iter().all(sane) {
                let line = lines.line(keeps.start());
                let message = "keeps_in_solution.percent needs strengths above 0 and up to 100";
                let fix = "write the usual strengths in % w/v, such as percent = [1, 10]";
                findings.push(Finding::error("percent-range", file, Some(line), message, fix));
            }
        }
        let parent = Arc::new(Parent {
            id: id.to_owned(),
            name: shape.name,
            synonyms: shape.synonyms,
            roles: shape.roles,
            classes: shape.classes.map(|words| words.into_iter().map(Class::from).collect()),
            note: shape.note,
            keeps_in_solution: shape.keeps_in_solution.map(|spanned| spanned.into_inner().into()),
            solution,
            form_count: shape.forms.len(),
            origin,
        });
        let mut forms = Vec::with_capacity(shape.forms.len());
        let mut seen = BTreeSet::new();
        for spanned in shape.forms {
            if findings.len() >= MOST_FINDINGS {
                break;
            }
            let line = lines.line(spanned.start());
            let form_id = &spanned.get_ref().id;
            if !seen.insert(form_id.clone()) {
                let message = format!("two forms are called `{form_id}`");
                let fix = "give each form its own id: <file name>-<form>";
                findings.push(Finding::error("form-twice", file, Some(line), message, fix));
            }
            match form_from_file(spanned.into_inner(), &parent, weights, (file, line)) {
                Ok(form) => forms.push(form),
                Err(mut wrong) => findings.append(&mut wrong),
            }
        }
        if let Some(name) = &shape.judged_as {
            let ids: Vec<&str> = forms.iter().map(|form| form.id.as_str()).collect();
            if findings.is_empty() && !ids.contains(&name.get_ref().as_str()) {
                let line = lines.line(name.start());
                let message = format!("judged_as names `{}`, which is no form of it", name.get_ref());
                let fix = format!("name one of {}", ids.join(", "));
                findings.push(Finding::error("unknown-substance", file, Some(line), message, fix));
            }
        }
        if !findings.is_empty() {
            return Err(findings);
        }
        let judged_as = shape.judged_as.as_ref().map(|name| name.get_ref().as_str());
        let judged = Arc::new(JudgedAs::of(&forms, judged_as));
        let forms = forms.into_iter().map(|form| Arc::new(Form { judged: Arc::clone(&judged), ..form }));
        Ok(Self { parent, forms: forms.collect() })
    }

    /// Of its own forms only.
    pub fn form(&self, id: &str) -> Option<&Arc<Form>> {
        self.forms.iter().find(|form| form.id == id)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::Library;

    /// Washing soda, 286.141 g/mol with 105.988 of carbonate (IUPAC 2021); 21.5 g of it anhydrous in 100 g of water at 20 °C.
    #[test]
    fn a_curve_of_the_anhydrous_salt_says_nothing_of_crystals_without_molar_masses() {
        let library = Library::shipped();
        let form = |basis: &str| {
            let text = format!(
                "format = 1\nname = \"soda\"\n[[forms]]\nid = \"soda\"\nname = \"soda\"\nformula = \"Na2CO3.10H2O\"\n\
                 solubility = [{{ primary = true, basis = \"{basis}\", points = [[20, 21.5]], source = \"memory\" }}]\n"
            );
            let read = Substance::parse(&text, "soda", "soda.toml", library.weights()).unwrap();
            Arc::clone(&read.forms[0])
        };
        let (anhydrous, as_weighed) = (form("anhydrous"), form("as-weighed"));
        assert_eq!(anhydrous.solubility_as_weighed(20.0), None);
        assert_eq!(as_weighed.solubility_as_weighed(20.0), Some(21.5));
        // 21.5 g in 121.5 g are 17.7 %, which is 47.8 % of crystals: 91.4 g of them on 100 g of water added.
        let own = anhydrous.solubility_per_100_g(20.0, library.weights()).unwrap();
        assert!((own - 91.45).abs() < 0.1, "{own}");
        assert_eq!(as_weighed.solubility_per_100_g(20.0, library.weights()), Some(21.5));
    }
}
