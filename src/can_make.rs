//! Which formulas can be mixed from what is on the shelf, and which lack one chemical.
//!
//! A form on the shelf stands for itself, for other forms of its chemical, and for another chemical only where a row of
//! `tables/exchanges.toml` is automatic: the exchanges that [`crate::scale`] makes unasked. A row that needs alkali added counts only with
//! sodium hydroxide on the shelf; one that needs alkali left out only where the part has a caustic to leave out. A part made up
//! in glycol or another solvent takes no solution and no crystals in place of a dry chemical, for they would bring water. Water is
//! always there; what a recipe calls optional is not needed.

use std::sync::Arc;

use crate::formula::{Formula, Part};
use crate::quantity::{Volume, rounding};
use crate::scale::exchange::{Relations, exchange};
use crate::scale::{Have, Request, Wanted, keeps_water_out, scale};
use crate::substance::Form;
use crate::vessel::Content;

/// The parent that makes up for alkali missing in an exchange.
const CAUSTIC: &str = "sodium-hydroxide";

/// A form on the shelf in place of the recipe's.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Substitute {
    /// What the recipe names.
    pub recipe: Arc<Form>,
    pub shelf: Arc<Form>,
    /// Grams of the form on the shelf for one gram of the recipe's.
    pub factor: f64,
}

/// What a formula needs that is on the shelf or is not.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Needs<'a> {
    pub formula: &'a Formula,
    /// Exchanges that the shelf makes necessary.
    pub substitutes: Vec<Substitute>,
    /// What is missing, one form for each chemical.
    pub missing: Vec<Arc<Form>>,
    /// Largest volume of each part that the amounts on the shelf allow, mL, where amounts were given.
    pub largest_ml: Option<f64>,
}

/// Formulas sorted by what they lack.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct CanMake<'a> {
    /// Nothing is missing.
    pub now: Vec<Needs<'a>>,
    /// One chemical is missing.
    pub one_away: Vec<Needs<'a>>,
}

/// Sorts formulas by what the shelf lacks for them; the order within each list is that of `formulas`.
pub(crate) fn can_make<'a>(
    formulas: impl IntoIterator<Item = &'a Formula>,
    shelf: &[Have],
    relations: &Relations,
) -> CanMake<'a> {
    let mut sorted = CanMake::default();
    for formula in formulas {
        let needs = needs(formula, shelf, relations);
        match needs.missing.len() {
            0 => sorted.now.push(needs),
            1 => sorted.one_away.push(needs),
            _ => {}
        }
    }
    sorted
}

pub(crate) fn needs<'a>(formula: &'a Formula, shelf: &[Have], relations: &Relations) -> Needs<'a> {
    let mut substitutes: Vec<Substitute> = Vec::new();
    let mut missing: Vec<Arc<Form>> = Vec::new();
    for part in &formula.parts {
        let needed = part.ingredients.iter().filter(|ingredient| !ingredient.optional);
        let wanted = needed.map(|needed| (&needed.form, needed.exchange));
        for (form, may_exchange) in wanted.chain(part.solvent.iter().map(|form| (form, true))) {
            let stand_in = on_shelf(form, part, shelf, relations);
            match stand_in.filter(|found| may_exchange || found.shelf.id == form.id) {
                Some(found) if found.shelf.id == form.id => {}
                Some(found) => {
                    if substitutes.iter().all(|substitute| substitute.recipe.id != found.recipe.id) {
                        substitutes.push(found);
                    }
                }
                None if missing.iter().any(|own| own.parent.id == form.parent.id) => {}
                None => missing.push(Arc::clone(form)),
            }
        }
    }
    let largest_ml = if missing.is_empty() { largest_ml(formula, shelf, relations) } else { None };
    Needs { formula, substitutes, missing, largest_ml }
}

/// What of a shelf goes into one formula: its own forms, and those that stand in for them.
pub(crate) fn serving(formula: &Formula, shelf: &[Have], relations: &Relations) -> Vec<Have> {
    let substitutes = needs(formula, shelf, relations).substitutes;
    let own = |form: &Form| formula.ingredients().any(|ingredient| ingredient.form.id == form.id);
    let stands_in = |form: &Form| substitutes.iter().any(|substitute| substitute.shelf.id == form.id);
    shelf.iter().filter(|have| own(&have.form) || stands_in(&have.form)).cloned().collect()
}

/// How far the amounts on the shelf reach.
fn largest_ml(formula: &Formula, shelf: &[Have], relations: &Relations) -> Option<f64> {
    let request = Request {
        wanted: Wanted::AsMuchAsPossible,
        have: shelf.to_vec(),
        ..Request::volume(Volume::from_ml(1000.0))
    };
    let batch = scale(formula, &request, relations).ok()?;
    batch.parts.first().map(|part| part.volume.as_ml())
}

/// The form on your shelf that serves, the recipe's own first.
fn on_shelf(form: &Arc<Form>, part: &Part, shelf: &[Have], relations: &Relations) -> Option<Substitute> {
    if form.parent.id == "water" {
        return Some(Substitute { recipe: Arc::clone(form), shelf: Arc::clone(form), factor: 1.0 });
    }
    let forms = || shelf.iter().map(|have| &have.form);
    let itself = forms().find(|own| own.id == form.id);
    let sibling = || forms().find(|own| own.parent.id == form.parent.id && keeps_water_out(own, form, part));
    let related = || {
        forms().find(|candidate| {
            relations.between(&form.parent.id, &candidate.parent.id).is_some_and(|relation| {
                let alkali_at_hand = match relation.hydroxide_moles {
                    more if more > 0.0 => forms().any(|caustic| caustic.parent.id == CAUSTIC),
                    less if less < 0.0 => has_alkali_to_spare(form, -less, part),
                    _ => true,
                };
                relation.automatic && alkali_at_hand && keeps_water_out(candidate, form, part)
            })
        })
    };
    let found = itself.or_else(sibling).or_else(related)?;
    let assay = |form: &Form| form.assay_fraction();
    let factor = exchange(1.0, (form, assay(form)), (found, assay(found)), relations).ok()?.grams;
    Some(Substitute { recipe: Arc::clone(form), shelf: Arc::clone(found), factor })
}

/// Whether the part holds enough caustic to leave some out.
fn has_alkali_to_spare(form: &Form, moles_per_mole: f64, part: &Part) -> bool {
    let moles = |wanted: &dyn Fn(&Form) -> bool| -> f64 {
        part.ingredients
            .iter()
            .filter(|ingredient| wanted(&ingredient.form))
            .filter_map(|ingredient| Content::from(ingredient).moles_per_litre())
            .sum()
    };
    let caustic = moles(&|own| matches!(own.parent.id.as_str(), CAUSTIC | "potassium-hydroxide"));
    caustic >= moles_per_mole * moles(&|own| own.id == form.id)
}

impl std::fmt::Display for Substitute {
    /// In words: `1 g of borax (decahydrate) is 0.764 g of borax, pentahydrate`.
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let factor = rounding::show_decimals(self.factor, 3);
        write!(formatter, "1 g of {} is {factor} g of {}", self.recipe.name, self.shelf.name)
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::formula::Chemicals;
    use crate::library::Library;
    use crate::quantity::Mass;

    fn shelf(library: &Library, forms: &[&str]) -> Vec<Have> {
        forms
            .iter()
            .map(|id| Have { form: library.form(id).unwrap(), amount: None, is_limit: false })
            .collect()
    }

    fn relations(library: &Library) -> Relations {
        Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap()
    }

    fn sorted(library: &Library, forms: &[&str]) -> (Vec<String>, Vec<(String, String)>) {
        let all: Vec<Formula> =
            library.formulas().unwrap().0.into_iter().map(|found| found.formula).collect();
        let found = can_make(&all, &shelf(library, forms), &relations(library));
        let now = found.now.iter().map(|needs| needs.formula.id.clone()).collect();
        let away = found
            .one_away
            .iter()
            .map(|needs| (needs.formula.id.clone(), needs.missing[0].id.clone()))
            .collect();
        (now, away)
    }

    #[test]
    fn four_jars_make_the_classic_and_one_more_makes_others() {
        let library = Library::shipped();
        let (now, away) =
            sorted(&library, &["metol", "sodium-sulfite-anhydrous", "hydroquinone", "borax-decahydrate"]);
        for id in [
            "mq-borax-classic",
            "metol-sulfite",
            "two-bath-metol-sulfite-borax",
            "mq-borax-classic-replenisher",
        ] {
            assert!(now.iter().any(|own| own == id), "{id}: {now:?}");
        }
        assert!(!now.iter().any(|id| id == "mq-borax-bromide-80-sulfite"), "{now:?}");
        let lacks = |id: &str| away.iter().find(|(own, _)| own == id).map(|(_, form)| form.as_str());
        assert_eq!(lacks("mq-borax-bromide-80-sulfite"), Some("potassium-bromide"));
        assert_eq!(lacks("mq-borax-boric-acid-buffered"), Some("boric-acid"));
        assert_eq!(lacks("pq-borax-buffered"), None, "it lacks two");
    }

    #[test]
    fn another_hydrate_serves_and_its_factor_is_told() {
        let library = Library::shipped();
        let have =
            shelf(&library, &["metol", "sodium-sulfite-heptahydrate", "hydroquinone", "borax-pentahydrate"]);
        let found = library.formula("mq-borax-classic").unwrap();
        let needs = needs(&found.formula, &have, &relations(&library));
        assert!(needs.missing.is_empty());
        let factor =
            |id: &str| needs.substitutes.iter().find(|substitute| substitute.recipe.id == id).unwrap().factor;
        // 252.150 / 126.043 and 291.296 / 381.372, molmass 2026.1.8.
        assert_relative_eq!(factor("sodium-sulfite-anhydrous"), 2.0005, max_relative = 1e-4);
        assert_relative_eq!(factor("borax-decahydrate"), 0.76381, max_relative = 1e-4);
    }

    #[test]
    fn other_chemicals_serve_only_where_the_exchange_is_automatic_and_exact() {
        let library = Library::shipped();
        let missing = |id: &str, forms: &[&str]| {
            let found = library.formula(id).unwrap();
            let needs = needs(&found.formula, &shelf(&library, forms), &relations(&library));
            needs.missing.iter().map(|form| form.id.clone()).collect::<Vec<_>>()
        };
        // The metabisulfites stand for one another; carbonates do not unasked.
        assert!(missing("bisulfite-stop-bath", &["potassium-metabisulfite"]).is_empty());
        let soda = ["metol", "sodium-sulfite-anhydrous", "potassium-carbonate-anhydrous"];
        assert_eq!(missing("acutance-metol-sulfite-carbonate-ab", &soda), ["sodium-carbonate-anhydrous"]);
        // Ascorbic acid for its salt needs caustic to make up for the alkali that the acid takes.
        let salt = "phenidone-sodium-ascorbate-metaborate-60-sulfite";
        let without = [
            "sodium-sulfite-anhydrous",
            "sodium-metaborate-tetrahydrate",
            "ascorbic-acid",
            "phenidone",
            "sodium-metabisulfite",
        ];
        assert_eq!(missing(salt, &without), ["sodium-ascorbate"]);
        let with: Vec<&str> = without.into_iter().chain(["sodium-hydroxide"]).collect();
        assert!(missing(salt, &with).is_empty());
        // The salt for the acid: only where the recipe has caustic to leave out.
        let metaborate =
            ["sodium-sulfite-anhydrous", "sodium-metaborate-tetrahydrate", "sodium-ascorbate", "phenidone"];
        assert_eq!(missing("phenidone-ascorbate-metaborate-60-sulfite", &metaborate), ["ascorbic-acid"]);
        let caustic = ["sodium-bicarbonate", "sodium-hydroxide", "sodium-ascorbate", "metol"];
        assert!(missing("metol-ascorbate-bicarbonate-hydroxide", &caustic).is_empty());
    }

    #[test]
    fn what_brings_water_does_not_serve_in_glycol() {
        let library = Library::shipped();
        let found_and_taken = |solvent: &str| {
            let text = format!(
                "format = 1\ntitle = \"t\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n{solvent}\
                 [[ingredients]]\nsubstance = \"sodium-carbonate-anhydrous\"\ngrams = 20\n"
            );
            let found = library.formula_from_text(&text, "t", "t.toml").unwrap();
            let have = shelf(&library, &["sodium-carbonate-decahydrate", "propylene-glycol"]);
            let missing = needs(&found.formula, &have, &relations(&library)).missing.len();
            let request = Request { have, ..Request::volume(Volume::from_ml(1000.0)) };
            let batch = scale(&found.formula, &request, &relations(&library)).unwrap();
            (missing, batch.parts[0].items[0].form.id.clone())
        };
        assert_eq!(found_and_taken(""), (0, "sodium-carbonate-decahydrate".to_owned()));
        let in_glycol = found_and_taken("solvent = \"propylene-glycol\"\n");
        assert_eq!(in_glycol, (1, "sodium-carbonate-anhydrous".to_owned()));
    }

    #[test]
    fn what_is_optional_is_not_needed() {
        let library = Library::shipped();
        let (now, _) = sorted(&library, &["sodium-sulfite-anhydrous"]);
        assert!(now.iter().any(|id| id == "sulfite-bisulfite-washing-aid"), "{now:?}");
    }

    #[test]
    fn amounts_on_the_shelf_say_how_far_they_reach() {
        let library = Library::shipped();
        let mut have =
            shelf(&library, &["metol", "sodium-sulfite-anhydrous", "hydroquinone", "borax-decahydrate"]);
        have[0].amount = Some(Mass::from_g(1.0));
        let found = library.formula("mq-borax-classic").unwrap();
        let needs = needs(&found.formula, &have, &relations(&library));
        assert_relative_eq!(needs.largest_ml.unwrap(), 500.0, max_relative = 1e-9);
    }
}
