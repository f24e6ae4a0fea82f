//! What the chemicals that develop, preserve, drive and restrain do to the picture.

use super::figures::{against, differs, moles_or_trace, times_against};
use super::{PairDifferences, Topic, WORTH_A_WORD};
use crate::compare::facts::{Fact, SOLVENT_SULFITE_G};
use crate::compare::{Alkali, Baths};
use crate::composition::{Component, Composer};
use crate::quantity::rounding::{show_short, show_significant};
use crate::substance::Role;
use crate::substance::molar::POTASSIUM_BROMIDE_G_PER_MOL;

/// Least factor between two ratios or alkalinities that changes the picture.
pub(super) const CHANGES_THE_PICTURE: f64 = 1.15;

/// Boron atoms for one equivalent of alkali above which boric acid was added: borax itself has two.
const BUFFERED_BORON: f64 = 2.2;

/// Ammonium from which a fixer is one with ammonium, mol/L.
pub(super) const LEAST_AMMONIUM_MOL: f64 = 0.05;

/// The name of the working species of an agent, else its own.
fn species_of<'a>(component: &'a Component, composer: &'a Composer<'_>) -> &'a str {
    composer
        .chemistry()
        .brought_by(&component.parent.id)
        .find(|(species, _)| species.role == Role::DevelopingAgent)
        .map_or(component.parent.id.as_str(), |(species, _)| species.name.as_str())
}

pub(super) fn agents(teller: &mut PairDifferences<'_>, composer: &Composer<'_>) {
    let (own, other) = (teller.own, teller.other);
    for agent in own.agents() {
        let name = &agent.parent.name;
        let grams = own.grams(&agent.parent.id);
        let fact = teller.facts.of_agent(species_of(agent, composer));
        match (other.component(&agent.parent.id), grams, other.grams(&agent.parent.id)) {
            (None, Some(grams), _) => {
                let figures = format!("has {name}, {} g/L", show_significant(grams));
                teller.tell(Topic::Agents, &figures, fact);
            }
            (None, None, _) => teller.tell(Topic::Agents, &format!("has {name}"), fact),
            (Some(_), Some(grams), Some(theirs)) if differs(grams, theirs, WORTH_A_WORD) => {
                let text = times_against(grams, theirs, name, "g/L");
                teller.figures(Topic::Agents, text);
            }
            _ => {}
        }
    }
    for agent in other.agents().filter(|agent| own.component(&agent.parent.id).is_none()) {
        let fact = teller.facts.of_agent(species_of(agent, composer));
        teller.push(
            Topic::Agents,
            format!("has no {}, which {}", agent.parent.name, fact.text),
            fact.reason(),
        );
    }
    if let (Some(metol), Some(quinol)) = (own.grams("metol"), own.grams("hydroquinone")) {
        let theirs = other.grams("metol").zip(other.grams("hydroquinone"));
        let Some((their_metol, their_quinol)) = theirs else { return };
        if [metol, quinol, their_metol, their_quinol].iter().any(|grams| *grams <= 0.0) {
            return;
        }
        let (ratio, their_ratio) = (quinol / metol, their_quinol / their_metol);
        if differs(ratio, their_ratio, CHANGES_THE_PICTURE) {
            let show = |ratio: f64| format!("1 : {}", show_short(ratio, 1));
            let figures = format!("metol : hydroquinone {} against {}", show(ratio), show(their_ratio));
            let fact = if ratio > their_ratio {
                &teller.facts.told.more_hydroquinone
            } else {
                &teller.facts.told.less_hydroquinone
            };
            teller.tell(Topic::Agents, &figures, fact);
        }
    }
}

pub(super) fn sulfite(teller: &mut PairDifferences<'_>) {
    let (own, other) = (teller.own.sulfite_g, teller.other.sulfite_g);
    if !differs(own, other, WORTH_A_WORD) {
        return;
    }
    let figures = if own <= 0.0 {
        "no sulfite".to_owned()
    } else if other <= 0.0 {
        format!("has sulfite, {} g/L counted anhydrous", show_significant(own))
    } else {
        times_against(own, other, "sulfite", "g/L, counted anhydrous")
    };
    if !teller.on_film {
        teller.figures(Topic::Sulfite, figures);
        return;
    }
    let limit = SOLVENT_SULFITE_G;
    let (fact, edges) = match (own > limit, other > limit) {
        (true, true) => (&teller.facts.told.sulfite_both_solvent, None),
        (true, false) => (&teller.facts.told.sulfite_more_solvent, Some(&teller.facts.told.less_sharp)),
        (false, true) => (&teller.facts.told.sulfite_less_solvent, Some(&teller.facts.told.sharper)),
        (false, false) => (&teller.facts.told.sulfite_both_little, None),
    };
    teller.tell(Topic::Sulfite, &figures, fact);
    if let Some(edges) = edges {
        teller.tell(Topic::Sulfite, "", edges);
    }
}

/// Names of the chemicals that bring a bath's alkali.
fn alkali_names(baths: &Baths, alkalis: &[(Alkali, f64)], composer: &Composer<'_>) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for (alkali, _) in alkalis {
        let brings = |component: &&Component| {
            let mut brought = composer.chemistry().brought_by(&component.parent.id);
            brought.any(|(species, _)| species.name == alkali.species())
        };
        let components = baths.compositions.iter().flat_map(|composition| &composition.components);
        let found: Vec<&String> =
            components.filter(brings).map(|components| &components.parent.name).collect();
        // Caustic on boric acid or bicarbonate: the alkali that results is no chemical of the recipe.
        let plain_names = if found.is_empty() {
            vec![alkali.words().to_owned()]
        } else {
            found.into_iter().cloned().collect()
        };
        for name in plain_names {
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
}

/// Whether boric acid was added to the borate.
fn is_buffered(baths: &Baths) -> bool {
    let borate = baths.brought.moles("borate");
    borate > 0.0 && baths.brought.moles("boron") > BUFFERED_BORON * borate
}

pub(super) fn alkali(teller: &mut PairDifferences<'_>, composer: &Composer<'_>) {
    let (own, other) = (teller.own.alkalis(), teller.other.alkalis());
    let total = |alkalis: &[(Alkali, f64)]| -> f64 { alkalis.iter().map(|(_, moles)| moles).sum() };
    let names = |baths, alkalis: &[(Alkali, f64)]| alkali_names(baths, alkalis, composer).join(" and ");
    let (mine, theirs) = (names(teller.own, &own), names(teller.other, &other));
    match (own.first(), other.first()) {
        (None, None) => {}
        (None, Some(_)) if !teller.own.spent_alkali.is_empty() => {
            let text = format!(
                "its {} is counted as taken up by the acid in it, where the other has {theirs} left",
                teller.own.spent_alkali.join(" and ")
            );
            teller.figures(Topic::Alkali, text);
        }
        (Some(_), None) if !teller.other.spent_alkali.is_empty() => {
            let text = format!(
                "has {mine} left, where the other's {} is counted as taken up by the acid in it",
                teller.other.spent_alkali.join(" and ")
            );
            teller.figures(Topic::Alkali, text);
        }
        (None, Some(_)) if teller.own.sulfite_g > 0.0 => {
            teller.tell(Topic::Alkali, "no alkali but the sulfite", &teller.facts.told.sulfite_alone);
        }
        (None, Some(_)) => {
            teller.tell(Topic::Alkali, &format!("has no {theirs}"), &teller.facts.told.weaker_alkali);
        }
        (Some((strongest, _)), None) => {
            let fact = if *strongest == Alkali::Hydroxide {
                &teller.facts.told.caustic
            } else {
                &teller.facts.told.more_alkali
            };
            teller.tell(Topic::Alkali, &format!("has {mine}"), fact);
        }
        (Some((strongest, _)), Some((their_strongest, _)))
            if strongest.strength() != their_strongest.strength() =>
        {
            let fact = match strongest.strength().cmp(&their_strongest.strength()) {
                std::cmp::Ordering::Greater if *strongest == Alkali::Hydroxide => &teller.facts.told.caustic,
                std::cmp::Ordering::Greater => &teller.facts.told.stronger_alkali,
                _ => &teller.facts.told.weaker_alkali,
            };
            teller.tell(Topic::Alkali, &format!("{mine} in place of {theirs}"), fact);
        }
        (Some(_), Some(_)) => {
            let (own, other) = (total(&own), total(&other));
            let figures = if mine == theirs {
                times_against(own, other, &mine, "mol/L of alkali")
            } else {
                format!("{mine} in place of {theirs} ({})", against(own, other, "mol/L of alkali"))
            };
            // With boric acid beside it, more borate need not be a higher pH.
            let boric_acid_differs = is_buffered(teller.own) != is_buffered(teller.other);
            let changes = differs(own, other, CHANGES_THE_PICTURE);
            if changes && !boric_acid_differs {
                let fact =
                    if own > other { &teller.facts.told.more_alkali } else { &teller.facts.told.less_alkali };
                teller.tell(Topic::Alkali, &figures, fact);
            } else if changes || mine != theirs {
                teller.figures(Topic::Alkali, figures);
            }
        }
    }
    match (is_buffered(teller.own), is_buffered(teller.other)) {
        (true, false) => teller.tell(Topic::Alkali, "buffered", &teller.facts.told.buffered),
        (false, true) => {
            teller.tell(Topic::Alkali, "not buffered as the other is", &teller.facts.told.buffered);
        }
        _ => {}
    }
}

pub(super) fn restrainer(teller: &mut PairDifferences<'_>) {
    let grams = |baths: &Baths| baths.brought.moles("bromide") * POTASSIUM_BROMIDE_G_PER_MOL;
    let (own, other) = (grams(teller.own), grams(teller.other));
    if own <= 0.0 && other > 0.0 {
        let figures = format!("no bromide against {} g/L", show_significant(other));
        teller.tell(Topic::Restrainer, &figures, &teller.facts.told.less_bromide);
        teller.tell(Topic::Restrainer, "", &teller.facts.told.no_bromide);
    } else if own > 0.0 && other <= 0.0 {
        let figures = format!("has bromide, {} g/L", show_significant(own));
        teller.tell(Topic::Restrainer, &figures, &teller.facts.told.more_bromide);
    } else if differs(own, other, CHANGES_THE_PICTURE) {
        let figures = times_against(own, other, "bromide", "g/L");
        let fact =
            if own > other { &teller.facts.told.more_bromide } else { &teller.facts.told.less_bromide };
        teller.tell(Topic::Restrainer, &figures, fact);
    }
    species_only(teller, Topic::Restrainer, "iodide", "iodide", 0.0, &teller.facts.told.iodide);
}

pub(super) fn silver_solvent(teller: &mut PairDifferences<'_>) {
    species_only(
        teller,
        Topic::SilverSolvent,
        "thiocyanate",
        "thiocyanate",
        0.0,
        &teller.facts.told.thiocyanate,
    );
    species_only(
        teller,
        Topic::SilverSolvent,
        "chloride",
        "chloride",
        crate::compare::LEAST_CHLORIDE_MOL,
        &teller.facts.told.chloride,
    );
    species_only(
        teller,
        Topic::SilverSolvent,
        "thiosulfate",
        "thiosulfate",
        0.0,
        &teller.facts.told.monobath,
    );
}

/// A species that only one of the two has (above `least` mol/L), or has much more of.
fn species_only(
    teller: &mut PairDifferences<'_>,
    topic: Topic,
    species: &str,
    name: &str,
    least: f64,
    fact: &Fact,
) {
    let (own, other) = (teller.own.brought.moles(species), teller.other.brought.moles(species));
    match (own > least, other > least) {
        (true, false) => teller.tell(topic, &format!("has {name}, {}", moles_or_trace(own)), fact),
        (false, true) => {
            let figures = format!("no {name} against {}", moles_or_trace(other));
            teller.figures(topic, figures);
        }
        (true, true) if differs(own, other, CHANGES_THE_PICTURE) => {
            let text = times_against(own, other, name, "mol/L");
            teller.figures(topic, text);
        }
        _ => {}
    }
}
