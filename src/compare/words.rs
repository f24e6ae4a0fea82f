//! Differences in words: each formula against the first, from the figures of its baths as first used.

use super::facts::{DifferenceReason, Fact, Facts, SOLVENT_SULFITE_G};
use super::{Alkali, Baths, ComparedPh, sulfite_g};
use crate::composition::{Component, Composer};
use crate::formula::{Bath, Formula, Kind};
use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::substance::Role;
use crate::substance::molar::{HYPO_G_PER_MOL, POTASSIUM_BROMIDE_G_PER_MOL};

// What is worth telling is judgement, no source.

/// Least factor between two amounts that is worth a word.
const WORTH_A_WORD: f64 = 1.05;
/// Least factor between two ratios or alkalinities that changes the picture.
const CHANGES_THE_PICTURE: f64 = 1.15;
/// Boron atoms for one equivalent of alkali above which boric acid was added: borax itself has two.
const BUFFERED_BORON: f64 = 2.2;

/// Least difference of two predicted pH that is worth a word.
const LEAST_PH: f64 = 0.1;
/// Ammonium from which a fixer is one with ammonium, mol/L.
const LEAST_AMMONIUM_MOL: f64 = 0.05;
/// Acid left after alkali from which a fixer is acid, mol/L.
const LEAST_ACID_MOL: f64 = 0.005;
/// pH below which a bath is called acid.
const ACID_PH: f64 = 6.5;
/// Slack for molar masses of five figures.
const ROUNDING: f64 = 0.002;

/// What a difference is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is the word itself")]
pub(crate) enum Topic {
    Agents,
    Sulfite,
    Alkali,
    Restrainer,
    SilverSolvent,
    Fixing,
    OtherChemicals,
    Baths,
    Dilution,
    Ph,
    Keeping,
    Forms,
    Same,
}

impl Topic {
    /// As printed.
    pub(crate) fn words(self) -> &'static str {
        if self == Self::Agents { "developing agents" } else { self.word() }
    }

    /// Stable word for programs.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Agents => "agents",
            Self::Sulfite => "sulfite",
            Self::Alkali => "alkali",
            Self::Restrainer => "restrainer",
            Self::SilverSolvent => "silver solvent",
            Self::Fixing => "fixing",
            Self::OtherChemicals => "other chemicals",
            Self::Baths => "baths",
            Self::Dilution => "dilution",
            Self::Ph => "pH",
            Self::Keeping => "keeping",
            Self::Forms => "forms",
            Self::Same => "same",
        }
    }
}

/// One difference of a formula against the first (or, for a dilution of its own, against itself).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Difference {
    /// Place of the formula that differs.
    pub formula: usize,
    /// Place of the formula that it is told against.
    pub against: usize,
    /// What it is about.
    pub topic: Topic,
    /// The difference, without its subject.
    pub text: String,
    /// Why it matters as told.
    pub reason: DifferenceReason,
}

/// Collects the differences of one formula against another.
struct PairDifferences<'a> {
    formula: usize,
    against: usize,
    own: &'a Baths,
    other: &'a Baths,
    told: Vec<Difference>,
    facts: &'a Facts,
    /// Whether it is film that both develop: a print shows no grain.
    on_film: bool,
}

impl PairDifferences<'_> {
    fn tell(&mut self, topic: Topic, figures: &str, fact: &Fact) {
        let text = if figures.is_empty() { fact.text.clone() } else { format!("{figures}: {}", fact.text) };
        self.push(topic, text, fact.reason());
    }

    fn figures(&mut self, topic: Topic, text: String) {
        self.push(topic, text, DifferenceReason::Arithmetic);
    }

    /// What both have, where the amounts differ.
    fn both_have(&mut self, topic: Topic, (own, other): (f64, f64), name: &str, unit: &str) {
        if own > 0.0 && other > 0.0 && differs(own, other, WORTH_A_WORD) {
            self.figures(topic, times_against(own, other, name, unit));
        }
    }

    fn push(&mut self, topic: Topic, text: String, reason: DifferenceReason) {
        let (formula, against) = (self.formula, self.against);
        self.told.push(Difference { formula, against, topic, text, reason });
    }
}

/// All differences, formula by formula.
pub(super) fn differences(
    formulas: &[&Formula],
    baths: &[Baths],
    composer: &Composer<'_>,
) -> Vec<Difference> {
    let mut all = Vec::new();
    let Some((first, others)) = formulas.split_first() else { return all };
    let Some(yardstick) = baths.first() else { return all };
    let Some(facts) = &Facts::shipped(composer) else { return all };
    all.extend(weaker_use(0, first, composer, facts));
    for (index, (formula, other_baths)) in others.iter().zip(baths.iter().skip(1)).enumerate() {
        let place = index + 1;
        let on_film = ![formula.kind, first.kind].contains(&Kind::PaperDeveloper);
        let mut teller = PairDifferences {
            formula: place,
            against: 0,
            own: other_baths,
            other: yardstick,
            told: Vec::new(),
            facts,
            on_film,
        };
        let develops = [other_baths, yardstick].iter().all(|baths| baths.agents().next().is_some());
        if develops {
            agents(&mut teller, composer);
            sulfite(&mut teller);
            alkali(&mut teller, composer);
            restrainer(&mut teller);
            silver_solvent(&mut teller);
        } else {
            fixing(&mut teller, [formula.kind, first.kind]);
            acid(&mut teller);
        }
        let told_fixing = !develops && [formula.kind, first.kind].contains(&Kind::Fixer);
        other_chemicals(&mut teller, composer, develops, told_fixing);
        if other_baths.compositions.len() != yardstick.compositions.len() {
            bath_count(&mut teller);
        }
        dilution(&mut teller, formula, first, develops);
        ph(&mut teller);
        keeping(&mut teller, formula, first);
        forms(&mut teller);
        if teller.told.is_empty() {
            teller.figures(Topic::Same, "the figures show no difference in the bath".to_owned());
        }
        all.append(&mut teller.told);
        all.extend(weaker_use(place, formula, composer, facts));
    }
    all
}

/// `1.5 g/L; 2 in the other`.
fn against(own: f64, other: f64, unit: &str) -> String {
    format!("{} {unit}; {} in the other", show_significant(own), show_significant(other))
}

/// `25 % less metol (1.5 g/L; 2 in the other)`.
fn times_against(own: f64, other: f64, name: &str, unit: &str) -> String {
    format!("{} ({})", times(own, other, name), against(own, other, unit))
}

/// `25 % less metol`, `twice as much borax`.
fn times(own: f64, other: f64, name: &str) -> String {
    let factor = own / other;
    if factor < 0.1 {
        return format!("far less {name}");
    }
    if factor > 10.0 {
        return format!("far more {name}");
    }
    if (factor - 2.0).abs() < 0.005 {
        return format!("twice as much {name}");
    }
    if (factor - 0.5).abs() < 0.005 {
        return format!("half as much {name}");
    }
    let percent = |share: f64| show_short(share * 100.0, 0);
    if factor < 1.0 {
        return format!("{} % less {name}", percent(1.0 - factor));
    }
    if factor < 2.0 {
        return format!("{} % more {name}", percent(factor - 1.0));
    }
    format!("{} times as much {name}", show_significant_two(factor))
}

/// Two significant figures, as far as a factor is worth telling.
fn show_significant_two(factor: f64) -> String {
    if factor >= 9.95 {
        show_short(factor, 0)
    } else if factor >= 0.995 {
        show_short(factor, 1)
    } else {
        show_short(factor, 2)
    }
}

fn differs(own: f64, other: f64, least_factor: f64) -> bool {
    own > other * least_factor || other > own * least_factor
}

/// The name of the working species of an agent, else its own.
fn species_of<'a>(component: &'a Component, composer: &'a Composer<'_>) -> &'a str {
    composer
        .chemistry()
        .brought_by(&component.parent.id)
        .find(|(species, _)| species.role == Role::DevelopingAgent)
        .map_or(component.parent.id.as_str(), |(species, _)| species.name.as_str())
}

fn agents(teller: &mut PairDifferences<'_>, composer: &Composer<'_>) {
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

fn sulfite(teller: &mut PairDifferences<'_>) {
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

fn alkali(teller: &mut PairDifferences<'_>, composer: &Composer<'_>) {
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

fn restrainer(teller: &mut PairDifferences<'_>) {
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

fn silver_solvent(teller: &mut PairDifferences<'_>) {
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
        super::LEAST_CHLORIDE_MOL,
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

/// mol/L, or `a trace` where the figures would show nothing.
fn moles_or_trace(moles: f64) -> String {
    match show_significant(moles) {
        zero if zero == "0" => "a trace".to_owned(),
        figures => format!("{figures} mol/L"),
    }
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

/// Acid baths that are no developers: how much acid.
fn acid(teller: &mut PairDifferences<'_>) {
    let (own, other) = (teller.own.brought.moles("acid"), teller.other.brought.moles("acid"));
    teller.both_have(Topic::OtherChemicals, (own, other), "acid", "mol/L that an alkali takes up");
}

/// By the predicted pH, else by the acid left after alkali.
fn is_acid(baths: &Baths) -> bool {
    match baths.ph.as_slice() {
        [Some(ph)] => ph.value < ACID_PH,
        _ => baths.brought.moles("acid") > LEAST_ACID_MOL,
    }
}

fn fixing(teller: &mut PairDifferences<'_>, kinds: [Kind; 2]) {
    if !kinds.contains(&Kind::Fixer) {
        return;
    }
    let grams = |baths: &Baths| baths.brought.moles("thiosulfate") * HYPO_G_PER_MOL;
    let (own, other) = (grams(teller.own), grams(teller.other));
    teller.both_have(Topic::Fixing, (own, other), "thiosulfate", "g/L, counted as crystals");
    let has = |baths: &Baths, species: &str, least: f64| baths.brought.moles(species) > least;
    match (has(teller.own, "ammonium", LEAST_AMMONIUM_MOL), has(teller.other, "ammonium", LEAST_AMMONIUM_MOL))
    {
        (true, false) => teller.tell(Topic::Fixing, "with ammonium", &teller.facts.told.ammonium),
        (false, true) => teller.tell(Topic::Fixing, "without ammonium", &teller.facts.told.ammonium),
        _ => {}
    }
    match (is_acid(teller.own), is_acid(teller.other)) {
        (true, false) => teller.tell(Topic::Fixing, "acid", &teller.facts.told.acid_fixer),
        (false, true) => teller.tell(Topic::Fixing, "not acid", &teller.facts.told.no_acid_fixer),
        _ => {}
    }
    let hardens = |baths: &Baths| {
        baths
            .compositions
            .iter()
            .flat_map(|composition| &composition.components)
            .any(|own| own.role == Some(Role::Hardener))
    };
    match (hardens(teller.own), hardens(teller.other)) {
        (true, false) => teller.tell(Topic::Fixing, "hardens", &teller.facts.told.hardener),
        (false, true) => teller.tell(Topic::Fixing, "does not harden", &teller.facts.told.hardener),
        _ => {}
    }
}

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
fn other_chemicals(
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
        let form = super::one_form(all, &component.basis);
        let name = &form.name;
        let amount = |grams: Option<f64>| {
            grams.map_or_else(|| name.clone(), |grams| format!("{name}, {} g/L", show_significant(grams)))
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
                let text = times_against(grams, their_grams, name, "g/L");
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

fn bath_count(teller: &mut PairDifferences<'_>) {
    let (own, other) = (teller.own.compositions.len(), teller.other.compositions.len());
    let figures = format!("{own} {} against {other}", if own == 1 { "bath" } else { "baths" });
    if own > 1 && teller.own.agents().next().is_some() {
        teller.tell(Topic::Baths, &figures, &teller.facts.told.two_baths);
    } else {
        teller.figures(Topic::Baths, figures);
    }
}

/// How the first uses are diluted.
fn dilution(teller: &mut PairDifferences<'_>, formula: &Formula, first: &Formula, develops: bool) {
    let (Some(own), Some(other)) = (formula.uses.first(), first.uses.first()) else { return };
    let words = |baths: &[Bath]| baths.iter().map(Bath::to_string).collect::<Vec<_>>().join(", then ");
    let (mine, theirs) = (words(&own.baths), words(&other.baths));
    if mine == theirs {
        return;
    }
    let water = |baths: &[Bath]| baths.first().map_or(0.0, |bath| bath.water / bath.total());
    let text = format!("first used {mine} against {theirs}");
    if develops && water(&own.baths) > water(&other.baths) + 0.01 {
        teller.tell(Topic::Dilution, &text, &teller.facts.told.diluted);
    } else {
        teller.figures(Topic::Dilution, text);
    }
}

/// A formula's own weaker uses in which its sulfite falls below the level that shows in the grain.
fn weaker_use(place: usize, formula: &Formula, composer: &Composer<'_>, facts: &Facts) -> Option<Difference> {
    let strongest = |baths: &[Bath]| {
        let sulfite = |bath: &Bath| sulfite_g(&composer.bath(formula, bath), composer.chemistry());
        baths.iter().map(sulfite).fold(0.0, f64::max)
    };
    let (first, others) = formula.uses.split_first()?;
    let limit = SOLVENT_SULFITE_G;
    // The grain of a print is not seen.
    if formula.kind != Kind::FilmDeveloper || strongest(&first.baths) <= limit {
        return None;
    }
    let weaker: Vec<String> = others
        .iter()
        .map(|own| (own, strongest(&own.baths)))
        .filter(|(_, grams)| *grams <= limit * (1.0 + ROUNDING))
        .map(|(own, grams)| {
            let baths = own.phrase();
            format!("{} g/L at {baths}", show_significant(grams))
        })
        .collect();
    if weaker.is_empty() {
        return None;
    }
    let fact = &facts.told.falls_below_solvent;
    let text = format!("diluted, its sulfite falls to {}. {}", weaker.join(" and "), fact.text);
    Some(Difference { formula: place, against: place, topic: Topic::Dilution, text, reason: fact.reason() })
}

fn ph(teller: &mut PairDifferences<'_>) {
    let ([Some(own)], [Some(other)]) = (teller.own.ph.as_slice(), teller.other.ph.as_slice()) else { return };
    if (own.value - other.value).abs() < LEAST_PH {
        return;
    }
    let words = |ph: &ComparedPh| {
        format!("{} ± {}", show_decimals(ph.value, 1), show_decimals(ph.error.max(LEAST_PH), 1))
    };
    let sure = if (own.value - other.value).abs() < own.error.max(other.error) {
        "; that is within the error of the prediction"
    } else {
        ""
    };
    let text = format!("pH {} against {}{sure}", words(own), words(other));
    teller.push(Topic::Ph, text, DifferenceReason::Predicted);
}

/// How long a full bottle keeps, of the part that keeps least.
fn keeping(teller: &mut PairDifferences<'_>, formula: &Formula, first: &Formula) {
    let days = |formula: &Formula| {
        formula.parts.iter().filter_map(|part| part.keeping.full_bottle_days).min_by(f64::total_cmp)
    };
    if let (Some(own), Some(other)) = (days(formula), days(first))
        && differs(own, other, CHANGES_THE_PICTURE)
    {
        let words = if own > other { "keeps longer" } else { "keeps shorter" };
        let show = |days: f64| format!("{} days", show_short(days, 0));
        let text = format!("{words}: {} in a full bottle against {}", show(own), show(other));
        teller.push(Topic::Keeping, text, DifferenceReason::Stated);
    }
}

/// Recipes that name the same chemical in different forms.
fn forms(teller: &mut PairDifferences<'_>) {
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

#[cfg(test)]
mod tests;
