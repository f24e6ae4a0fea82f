//! A part, or a bath mixed from parts, as components in grams and moles per litre: the common ground of comparing, nearness and prediction.
//!
//! Components are counted by parent, so that a recipe in crystals and one in anhydrous salt come out alike; grams are told in one form
//! ([`chemistry::Chemistry::basis`]). From the recipe's line: n = m·a/M (m grams per litre of the form named, a its assay as a fraction, M its
//! molar mass with the water of crystallisation), and back in the basis form m′ = n·M′/a′. Liquids count by their density, percent
//! solutions by their strength. What cannot be known (no fixed composition, no density, a percentage by weight of a solution whose
//! density nobody gave) stays unknown and says why. What is in a litre of it is the [`Vessel`]'s affair; this is its view by chemical.

pub(crate) mod brought;
pub(crate) mod chemistry;
pub(crate) mod typed;

use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use crate::formula::{Bath, Formula, Kind, Part, Use};
use crate::library::Library;
use crate::substance::{Form, Parent, Role};
use crate::vessel::{Content, Unknown, Vessel};
use chemistry::Chemistry;

/// One chemical in a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    /// The chemical.
    pub parent: Arc<Parent>,
    /// The form in which the grams are told.
    pub basis: Arc<Form>,
    /// The forms that the recipe names.
    pub named: Vec<Arc<Form>>,
    /// What it does in a bath of this kind.
    pub role: Option<Role>,
    /// Grams of the basis form per litre.
    pub grams_per_litre: Option<f64>,
    /// Moles of the chemical per litre.
    pub moles_per_litre: Option<f64>,
    /// Why a figure is missing.
    pub unknown: Option<Unknown>,
    /// Whether every line of it is called optional.
    pub optional: bool,
    /// Whether it is the solvent of a part, whose amount is only an estimate from the room left by the rest.
    pub estimated: bool,
}

impl Component {
    /// Grams per litre told in another form of the same chemical; none for a form of another, or where moles are not known.
    pub fn grams_in(&self, form: &Form) -> Option<f64> {
        if form.id == self.basis.id {
            return self.grams_per_litre;
        }
        if form.parent.id != self.parent.id {
            return None;
        }
        Some(self.moles_per_litre? * form.product_g_per_mol()?)
    }
}

/// A solution as a list of components.
#[derive(Debug, Clone, PartialEq)]
pub struct Composition {
    /// What it is: a part (`A`), a bath (`1 A + 1 B + 8 water`), or a typed composition.
    pub label: String,
    /// What is in a litre of it.
    pub vessel: Vessel,
    /// The same by chemical, by role and then name.
    pub components: Vec<Component>,
}

impl Composition {
    /// The component of a chemical.
    pub fn component(&self, parent: &str) -> Option<&Component> {
        self.components.iter().find(|component| component.parent.id == parent)
    }

    /// Moles per litre of a chemical; zero where it is absent, none where it is present in an unknown amount.
    pub fn moles(&self, parent: &str) -> Option<f64> {
        self.component(parent).map_or(Some(0.0), |component| component.moles_per_litre)
    }
}

impl fmt::Display for Composition {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.label)
    }
}

/// Components being added up, by parent.
#[derive(Default)]
struct Sums(BTreeMap<String, Component>);

impl Sums {
    /// Adds a component; a sum with an unknown part is unknown.
    fn add_component(&mut self, component: Component) {
        match self.0.get_mut(&component.parent.id) {
            None => {
                self.0.insert(component.parent.id.clone(), component);
            }
            Some(sum) => {
                let add = |one: Option<f64>, other: Option<f64>| Some(one? + other?);
                sum.grams_per_litre = add(sum.grams_per_litre, component.grams_per_litre);
                sum.moles_per_litre = add(sum.moles_per_litre, component.moles_per_litre);
                sum.unknown = sum.unknown.or(component.unknown);
                sum.optional &= component.optional;
                sum.estimated |= component.estimated;
                for form in component.named {
                    if sum.named.iter().all(|own| own.id != form.id) {
                        sum.named.push(form);
                    }
                }
            }
        }
    }

    fn finish(self) -> Vec<Component> {
        let mut components: Vec<Component> = self.0.into_values().collect();
        components.sort_by(in_order_told);
        components
    }
}

/// Order in which chemicals are told: agents, preservative, alkali …, one without a role last; then by name.
pub(crate) fn in_order_told(left: &Component, right: &Component) -> Ordering {
    let rank = |component: &Component| (component.role.is_none(), component.role);
    rank(left).cmp(&rank(right)).then_with(|| left.parent.id.cmp(&right.parent.id))
}

/// Turns formulas into compositions: the library's forms and the table of what they bring.
#[derive(Debug)]
pub struct Composer<'a> {
    library: &'a Library,
    chemistry: Chemistry,
}

impl<'a> Composer<'a> {
    /// A composer with the shipped table.
    pub fn new(library: &'a Library) -> Self {
        Self { library, chemistry: Chemistry::shipped(library) }
    }

    /// The table of what chemicals bring to a bath.
    pub fn chemistry(&self) -> &Chemistry {
        &self.chemistry
    }

    /// The library behind it.
    pub fn library(&self) -> &'a Library {
        self.library
    }

    /// Each part as bottled.
    pub fn bottled(&self, formula: &Formula) -> Vec<Composition> {
        formula.parts.iter().map(|part| self.part(part, formula.kind)).collect()
    }

    /// One part as bottled.
    pub fn part(&self, part: &Part, kind: Kind) -> Composition {
        let label = part.name.clone().unwrap_or_else(|| "as bottled".to_owned());
        self.of_vessel(label, Vessel::of_part(part), Some(kind))
    }

    /// A bath mixed from the parts of a formula.
    pub fn bath(&self, formula: &Formula, bath: &Bath) -> Composition {
        self.of_vessel(bath.to_string(), Vessel::of_bath(formula, bath), Some(formula.kind))
    }

    /// The baths of a use, one after the other.
    pub fn used(&self, formula: &Formula, chosen: &Use) -> Vec<Composition> {
        chosen.baths.iter().map(|bath| self.bath(formula, bath)).collect()
    }

    /// A vessel by chemical; without a kind each chemical is told in its main role.
    pub fn of_vessel(&self, label: String, vessel: Vessel, kind: Option<Kind>) -> Composition {
        let mut sums = Sums::default();
        for content in &vessel {
            sums.add_component(self.component(content, kind));
        }
        Composition { label, components: sums.finish(), vessel }
    }

    /// One member of a vessel.
    fn component(&self, content: &Content, kind: Option<Kind>) -> Component {
        let form = &content.form;
        let basis = self.basis(form);
        let moles_per_litre = content.moles_per_litre();
        // The form itself keeps its grams, so that what has no molar mass has them too.
        let grams_per_litre = if basis.id == form.id {
            content.pure_grams_per_litre().map(|grams| grams / form.assay_fraction())
        } else {
            moles_per_litre.zip(basis.product_g_per_mol()).map(|(moles, own)| moles * own)
        };
        Component {
            parent: Arc::clone(&form.parent),
            basis,
            named: vec![Arc::clone(form)],
            role: role_in(kind, &form.parent),
            grams_per_litre,
            moles_per_litre,
            unknown: content.unknown_moles(),
            optional: content.optional,
            estimated: content.is_solvent,
        }
    }

    /// The form in which a chemical's grams are told.
    fn basis(&self, form: &Arc<Form>) -> Arc<Form> {
        let Ok(Some(substance)) = self.library.substance(&form.parent.id) else { return Arc::clone(form) };
        let wanted = self.chemistry.basis(&form.parent.id);
        let parent_form = wanted.and_then(|id| substance.form(id)).or_else(|| substance.forms.first());
        // Without a molar mass nothing can be told in another form.
        match parent_form
            .filter(|found| found.molar_mass_g_per_mol.is_some() && form.molar_mass_g_per_mol.is_some())
        {
            Some(found) => Arc::clone(found),
            None => Arc::clone(form),
        }
    }
}

/// The baths of a formula's first use, or its parts in equal volumes where no use is known.
pub fn first_baths(formula: &Formula) -> Vec<Bath> {
    if let Some(first) = formula.uses.first() {
        return first.baths.clone();
    }
    let shares = formula.parts.iter().map(|part| (part.share_name().to_owned(), 1.0)).collect();
    vec![Bath { shares, water: 0.0 }]
}

/// What a chemical does in a bath of a kind: the first of its roles that the kind has work for, else its main one.
pub fn role_in(kind: Option<Kind>, parent: &Parent) -> Option<Role> {
    let first = parent.roles.first().copied();
    let Some(kind) = kind else { return first };
    let prefer: &[Role] = match kind {
        Kind::FilmDeveloper | Kind::PaperDeveloper | Kind::Replenisher => &[
            Role::DevelopingAgent,
            Role::Preservative,
            Role::Alkali,
            Role::Restrainer,
            Role::SilverSolvent,
            Role::Buffer,
        ],
        Kind::StopBath => &[Role::Acid],
        Kind::Fixer => &[Role::FixingAgent, Role::Preservative, Role::Accelerator],
        Kind::Bleach | Kind::Reducer | Kind::Intensifier => &[Role::Bleach, Role::Oxidiser],
        Kind::Toner => &[Role::Toner],
        Kind::Sensitizer => &[Role::SilverSource, Role::Sensitiser],
        Kind::WashingAid | Kind::Hardener | Kind::TestSolution => &[],
    };
    prefer.iter().copied().find(|role| parent.roles.contains(role)).or(first)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    fn moles(library: &Library, id: &str, part: usize, parent: &str) -> f64 {
        let found = library.formula(id).unwrap();
        Composer::new(library).bottled(&found.formula)[part].moles(parent).unwrap()
    }

    #[test]
    fn a_recipe_in_crystals_and_one_in_anhydrous_salt_come_out_alike() {
        let library = Library::shipped();
        let recipe = |substance: &str, grams: f64| {
            let text = format!(
                "format = 1\ntitle = \"t\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
                 [[ingredients]]\nsubstance = \"{substance}\"\ngrams = {grams}\n"
            );
            let found = library.formula_from_text(&text, "t", "t.toml").unwrap();
            Composer::new(&library).bottled(&found.formula).remove(0)
        };
        // 126.043 and 252.150 g/mol: molmass 2026.1.8.
        let anhydrous = recipe("sodium-sulfite-anhydrous", 126.043);
        let crystals = recipe("sodium-sulfite-heptahydrate", 252.150);
        assert_relative_eq!(anhydrous.moles("sodium-sulfite").unwrap(), 1.0, max_relative = 1e-4);
        assert_relative_eq!(crystals.moles("sodium-sulfite").unwrap(), 1.0, max_relative = 1e-4);
        let grams = |composition: &Composition| composition.components[0].grams_per_litre.unwrap();
        assert_relative_eq!(grams(&anhydrous), grams(&crystals), max_relative = 1e-4);
        assert_eq!(crystals.components[0].basis.id, "sodium-sulfite-anhydrous");
        assert_eq!(crystals.components[0].named[0].id, "sodium-sulfite-heptahydrate");
    }

    #[test]
    fn percent_solutions_and_liquids_count_by_strength_density_and_assay() {
        let library = Library::shipped();
        // 20 mL of 1 % w/v = 0.2 g of benzotriazole, 119.124 g/mol (molmass 2026.1.8).
        let expected = 0.2 / 119.124;
        assert_relative_eq!(
            moles(&library, "pq-carbonate-universal", 0, "benzotriazole"),
            expected,
            max_relative = 1e-4
        );
        // 47 mL of 28 % acid of 1.036 g/mL: 47 × 1.036 × 0.28 g of acetic acid, 60.052 g/mol.
        let expected = 47.0 * 1.036 * 0.28 / 60.052;
        assert_relative_eq!(
            moles(&library, "acetic-acid-stop-bath", 0, "acetic-acid"),
            expected,
            max_relative = 1e-4
        );
    }

    #[test]
    fn what_has_no_fixed_composition_keeps_its_grams_and_says_so() {
        let library = Library::shipped();
        let found = library.formula("coffee-carbonate-ascorbate").unwrap();
        let composition = Composer::new(&library).bottled(&found.formula).remove(0);
        let coffee = composition.component("coffee").unwrap();
        assert_eq!(coffee.grams_per_litre, Some(40.0));
        assert_eq!(coffee.moles_per_litre, None);
        assert_eq!(coffee.unknown, Some(Unknown::NoMolarMass));
        assert_eq!(composition.moles("coffee"), None);
        assert_eq!(composition.moles("metol"), Some(0.0));
    }

    #[test]
    fn a_working_bath_adds_what_its_parts_bring_and_dilutes_it() {
        let library = Library::shipped();
        let found = library.formula("two-solution-variable-contrast-paper-developer").unwrap();
        let chosen = found.formula.uses.iter().find(|listed_use| listed_use.name == "5").unwrap();
        // A 4, B 4, water 8: a quarter of each; sulfite 23 g/L in both.
        let bath = Composer::new(&library).used(&found.formula, chosen).remove(0);
        assert_relative_eq!(
            bath.component("metol").unwrap().grams_per_litre.unwrap(),
            2.0,
            max_relative = 1e-9
        );
        assert_relative_eq!(
            bath.component("sodium-sulfite").unwrap().grams_per_litre.unwrap(),
            11.5,
            max_relative = 1e-9
        );
        assert_eq!(bath.label, "4 A + 4 B + 8 water");
    }

    #[test]
    fn a_solvent_that_is_not_water_is_a_component_of_estimated_amount() {
        let library = Library::shipped();
        let found = library.formula("phenidone-ascorbate-tea-concentrate").unwrap();
        let composition = Composer::new(&library).bottled(&found.formula).remove(0);
        let solvent = composition.component("triethanolamine").unwrap();
        assert!(solvent.estimated);
        let grams = solvent.grams_per_litre.unwrap();
        assert!((1000.0..1124.2).contains(&grams), "{grams}");
    }

    #[test]
    fn a_role_is_told_for_the_kind_of_bath() {
        let library = Library::shipped();
        let role = |id: &str, parent: &str| {
            let found = library.formula(id).unwrap();
            let all = Composer::new(&library).bottled(&found.formula);
            all.iter().find_map(|own| own.component(parent)).and_then(|own| own.role)
        };
        assert_eq!(role("bisulfite-stop-bath", "sodium-metabisulfite"), Some(Role::Acid));
        assert_eq!(role("metol-sulfite-bisulfite", "sodium-metabisulfite"), Some(Role::Preservative));
        assert_eq!(role("metol-sulfite-chloride", "sodium-chloride"), Some(Role::SilverSolvent));
    }
}
