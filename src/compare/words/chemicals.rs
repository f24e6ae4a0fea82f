//! The chemicals that nothing else tells, and their forms.

use super::figures::{differs, times_against};
use super::{PairDifferences, Topic, WORTH_A_WORD};
use crate::compare::Baths;
use crate::composition::{Component, Composer};
use crate::quantity::rounding::{show_decimals, show_significant};
use crate::substance::Role;

/// Species whose differences in developers are told under a topic of their own.
const TOLD: [&str; 12] = [
    "sulfite",
    "mild alkali",
    "borate",
    "boron",
    "carbonate",
    "hydroxide",
    "phosphate",
    "triethanolamine",
    "bromide",
    "iodide",
    "thiocyanate",
    "chloride",
];

/// Acid that takes less of the alkali than this is not worth a word.
const LEAST_ACID_SHARE: f64 = 0.1;

/// Whether the topics before have told of a chemical.
fn is_told(component: &Component, composer: &Composer<'_>, develops: bool, told_fixing: bool) -> bool {
    if !develops {
        return told_fixing && component.role == Some(Role::FixingAgent);
    }
    let mut species = composer.chemistry().brought_by(&component.parent.id).peekable();
    let by_species =
        species.peek().is_some() && species.all(|(species, _)| TOLD.contains(&species.name.as_str()));
    component.role == Some(Role::DevelopingAgent) || by_species
}

/// Whether a chemical brings a developer enough acid to take a good part of its alkali.
fn acidifies(component: &Component, baths: &Baths, composer: &Composer<'_>) -> bool {
    let acid: f64 = composer
        .chemistry()
        .brought_by(&component.parent.id)
        .filter(|(species, _)| species.name == "acid")
        .map(|(_, count)| count * component.moles_per_litre.unwrap_or(0.0))
        .sum();
    let alkali: f64 = baths.alkalis().iter().map(|(_, moles)| moles).sum();
    acid > LEAST_ACID_SHARE * (alkali + acid)
}

/// Chemicals that no topic has told: only in one, or in another amount.
pub(super) fn other_chemicals(
    teller: &mut PairDifferences<'_>,
    composer: &Composer<'_>,
    develops: bool,
    told_fixing: bool,
) {
    let (own, other) = (teller.own, teller.other);
    let mut seen: Vec<&str> = Vec::new();
    let (mut has, mut has_no) = (Vec::new(), Vec::new());
    let both =
        own.compositions.iter().chain(&other.compositions).flat_map(|composition| &composition.components);
    for component in both.filter(|component| !is_told(component, composer, develops, told_fixing)) {
        let id = component.parent.id.as_str();
        if seen.contains(&id) {
            continue;
        }
        seen.push(id);
        // Grams are told in the form of the table, and named by it.
        let all = own
            .compositions
            .iter()
            .chain(&other.compositions)
            .filter_map(|composition| composition.component(id));
        let form = crate::compare::one_form(all, &component.basis);
        let name = &form.name;
        let amount = |grams: Option<f64>| {
            let told = |grams| {
                let (amount, unit) = crate::compare::as_measured(&form, grams);
                format!("{name}, {} {unit}", show_significant(amount))
            };
            grams.map_or_else(|| name.clone(), told)
        };
        let grams = |baths: &Baths| -> Option<f64> {
            let all = baths.compositions.iter().filter_map(|composition| composition.component(id));
            all.map(|own| own.grams_in(&form)).sum()
        };
        let (mine, theirs) =
            (own.component(id).map(|_| grams(own)), other.component(id).map(|_| grams(other)));
        match (mine, theirs) {
            (Some(grams), None) if component.role == Some(Role::Antifoggant) => {
                teller.tell(
                    Topic::Restrainer,
                    &format!("has {}", amount(grams)),
                    &teller.facts.told.antifoggant,
                );
            }
            (Some(grams), None) if develops && acidifies(component, own, composer) => {
                teller.tell(
                    Topic::Alkali,
                    &format!("has {}", amount(grams)),
                    &teller.facts.told.acid_in_developer,
                );
            }
            (Some(grams), None) => has.push(amount(grams)),
            (None, Some(grams)) if component.role == Some(Role::FixingAgent) => has_no.push(amount(grams)),
            (None, Some(_)) => has_no.push(component.parent.name.clone()),
            (Some(Some(grams)), Some(Some(their_grams))) if differs(grams, their_grams, WORTH_A_WORD) => {
                let (measured, unit) = crate::compare::as_measured(&form, grams);
                let text =
                    times_against(measured, crate::compare::as_measured(&form, their_grams).0, name, unit);
                teller.figures(Topic::OtherChemicals, text);
            }
            _ => {}
        }
    }
    if !has.is_empty() {
        teller.figures(Topic::OtherChemicals, format!("has {}", has.join("; ")));
    }
    if !has_no.is_empty() {
        teller.figures(Topic::OtherChemicals, format!("has no {}", has_no.join("; no ")));
    }
}

/// Recipes that name the same chemical in different forms.
pub(super) fn forms(teller: &mut PairDifferences<'_>) {
    let (own, other) = (teller.own, teller.other);
    let mut seen: Vec<&str> = Vec::new();
    for component in own.compositions.iter().flat_map(|composition| &composition.components) {
        let id = component.parent.id.as_str();
        let Some(theirs) = other.component(id).filter(|_| !seen.contains(&id)) else { continue };
        seen.push(id);
        let ([mine], [their]) = (component.named.as_slice(), theirs.named.as_slice()) else { continue };
        if mine.id == their.id {
            continue;
        }
        if let (Some(own), Some(other)) = (mine.product_g_per_mol(), their.product_g_per_mol()) {
            let text = format!(
                "the formula names {}: {} g of it replaces 1 g of {}",
                mine.name,
                show_decimals(own / other, 3),
                their.name
            );
            teller.figures(Topic::Forms, text);
        }
    }
}
