//! Whether a composition can be meant: agents, solubility, usual amounts, acid with thiosulfate, room in the vessel.

use std::collections::BTreeMap;

use super::Judge;
use crate::composition::brought::SpeciesAmounts;
use crate::composition::{Composer, Composition, first_baths};
use crate::formula::{Amount, Formula, Kind, Part, amount_in_grams};
use crate::predict::margin::{Margin, SolubilityVerdict, margins, margins_in};
use crate::quantity::STORAGE_C;
use crate::quantity::rounding::{show_short, show_significant};
use crate::solution::Equilibria;
use crate::substance::molar::SODIUM_SULFITE_G_PER_MOL;
use crate::substance::{Class, Form, Role, State};
use crate::vessel::{Room, Vessel};

// How far beyond the shipped formulas is told: judgement, no source.

/// This many times the most sulfite of any shipped formula of the kind is no level that anybody means.
const BEYOND_LARGEST: f64 = 2.5;
/// A chemical in this many times the largest amount of any shipped formula of its kind is worth a look.
const AMOUNT_FACTOR: f64 = 5.0;
/// Fewest formulas that make a usual amount.
const FEWEST_FOR_USUAL: usize = 5;
/// Grams of solids for one gram of water beyond which nothing usual dissolves: the strongest shipped stock, 750 g/L of potassium
/// carbonate, has 1.1.
const MOST_SOLIDS: f64 = 1.8;
/// mL of a litre that may be overfilled before it is told.
const BRIMFUL_ML: f64 = 20.0;

/// Usual amounts in the shipped library.
#[derive(Debug, Default)]
pub(super) struct Usual {
    /// Sulfite of the strongest part, mol/L, sorted, by kind, with the formula's id.
    sulfite: BTreeMap<Kind, Vec<(f64, String)>>,
    /// Largest g/L as first used of a chemical, by kind and chemical.
    amounts: BTreeMap<(Kind, String), Vec<f64>>,
}

impl Usual {
    pub(super) fn of<'f>(formulas: impl Iterator<Item = &'f Formula>, composer: &Composer<'_>) -> Self {
        let mut usual = Self::default();
        for formula in formulas {
            let sulfite = strongest_sulfite(formula, composer);
            if sulfite > 0.0 {
                usual.sulfite.entry(formula.kind).or_default().push((sulfite, formula.id.clone()));
            }
            for (chemical, grams) in as_used(formula, composer) {
                usual.amounts.entry((formula.kind, chemical)).or_default().push(grams);
            }
        }
        usual
    }

    /// Median and largest sulfite of a kind, mol/L, without the formula itself.
    fn sulfite(&self, kind: Kind, id: &str) -> Option<(f64, f64)> {
        let mut others: Vec<f64> =
            self.sulfite.get(&kind)?.iter().filter(|(_, own)| own != id).map(|(moles, _)| *moles).collect();
        others.sort_by(f64::total_cmp);
        if others.len() < FEWEST_FOR_USUAL {
            return None;
        }
        Some((others.get(others.len() / 2).copied()?, others.last().copied()?))
    }

    /// Largest amount of a chemical in shipped formulas of a kind, g/L; a formula is measured by all of them, itself too if it is one.
    fn largest(&self, kind: Kind, chemical: &str) -> Option<f64> {
        let shipped = self.amounts.get(&(kind, chemical.to_owned()))?;
        (shipped.len() >= FEWEST_FOR_USUAL).then(|| shipped.iter().copied().fold(0.0, f64::max))
    }
}

fn strongest_sulfite(formula: &Formula, composer: &Composer<'_>) -> f64 {
    composer
        .bottled(formula)
        .iter()
        .map(|own| SpeciesAmounts::of(std::slice::from_ref(own), composer.chemistry()).moles("sulfite"))
        .fold(0.0, f64::max)
}

/// Grams per litre of each chemical in the strongest bath of the first use.
fn as_used(formula: &Formula, composer: &Composer<'_>) -> BTreeMap<String, f64> {
    let mut largest: BTreeMap<String, f64> = BTreeMap::new();
    for bath in first_baths(formula) {
        for component in composer.bath(formula, &bath).components {
            if let Some(grams) = component.grams_per_litre {
                let own = largest.entry(component.parent.id.clone()).or_default();
                *own = own.max(grams);
            }
        }
    }
    largest
}

pub(super) fn judge(judge: &mut Judge<'_>) {
    no_agent(judge);
    for part in &judge.formula.parts {
        room(part, judge);
        order_names(part, judge);
        keeping(part, judge);
    }
    thiosulfate_in_acid(judge);
    sulfite(judge);
    unusual_amounts(judge);
    uses(judge);
}

fn of_part(part: &Part) -> String {
    part.name.as_ref().map_or_else(String::new, |name| format!(" of part {name}"))
}

/// A developer without an agent; one that develops an iron or silver sensitizer needs none.
fn no_agent(judge: &mut Judge<'_>) {
    let (formula, linter) = (judge.formula, judge.linter);
    if !matches!(formula.kind, Kind::FilmDeveloper | Kind::PaperDeveloper) {
        return;
    }
    let partner_kind = |id: &String| linter.known.get(id).map(|known| known.kind);
    let develops_sensitizer = formula.partners.iter().any(|id| partner_kind(id) == Some(Kind::Sensitizer));
    let has_agent = formula.ingredients().any(|ingredient| ingredient.form.has_role(Role::DevelopingAgent));
    if !has_agent && !develops_sensitizer {
        let message = "the developer has no developing agent";
        let fix = "add the agent, or give it the kind of bath that it is";
        judge.warn("no-agent", judge.source.key("kind"), message, fix);
    }
}

/// More than a litre of ingredients, or too much start water for them.
fn room(part: &Part, judge: &mut Judge<'_>) {
    let room = Room::of(&part.ingredients);
    let line = part.ingredients.first().map(|first| first.line);
    let total = room.total_ml();
    if total > 1000.0 {
        let message =
            format!("the ingredients{} alone fill {} mL of a litre", of_part(part), show_short(total, 0));
        let fix = "amounts are per litre of the part as bottled: check the units and the volume that the source makes";
        judge.warn("no-room", line, message, fix);
        return;
    }
    let solids_g: f64 = part
        .ingredients
        .iter()
        .filter(|ingredient| ingredient.form.state == State::Solid)
        .filter_map(|ingredient| match ingredient.amount {
            Amount::Grams(grams) => Some(grams),
            Amount::Millilitres(_) | Amount::PercentSolution { .. } => None,
        })
        .sum();
    let water_g = 1000.0 - total + room.brought_water_g;
    if part.solvent.is_none() && solids_g > MOST_SOLIDS * water_g {
        let message = format!(
            "{} g of solids{} in what room is left for water, some {} g",
            show_short(solids_g, 0),
            of_part(part),
            show_short(water_g, 0)
        );
        let fix = "no such mixture dissolves: check the units and the volume that the source makes";
        judge.warn("no-room", line, message, fix);
        return;
    }
    let Some(water) = part.mixing.water_ml_per_litre.filter(|_| part.solvent.is_none()) else { return };
    if water + total > 1000.0 + BRIMFUL_ML {
        let message = format!(
            "{} mL of water to start with and {} mL of ingredients{} are more than a litre",
            show_short(water, 0),
            show_short(total, 0),
            of_part(part)
        );
        let fix = "start with less water, or check the amounts";
        judge.warn("overfull", judge.source.key("water").or(line), message, fix);
    }
}

/// What crystallises from a part in the cupboard, by the rule and the temperature of `predict`; nothing is said of it where the file's own
/// words show that somebody knew.
pub(super) fn solubility(judge: &mut Judge<'_>, equilibria: &Equilibria) {
    let formula = judge.formula;
    let weights = judge.linter.library.weights();
    for part in formula.parts.iter().filter(|part| part.solvent.is_none()) {
        let vessel = Vessel::of_part(part);
        let celsius = coolest_use(formula, part);
        let crystals = |margin: &Margin| margin.verdict() == SolubilityVerdict::Crystals;
        // A prediction only takes back what it knows to have turned into something else.
        if !margins(equilibria, weights, &vessel, None, celsius).iter().any(crystals) {
            continue;
        }
        for margin in margins_in(equilibria, weights, &vessel, celsius).iter().filter(|own| crystals(own)) {
            let (Some(grams), Some(limit)) = (margin.grams_per_litre, margin.limit_g_per_litre()) else {
                continue;
            };
            if says_that_it_crystallises(formula, part, &margin.form) || is_taken_up(part, &margin.form) {
                continue;
            }
            let message = format!(
                "{} g/L of {}{} are more than dissolve at {} °C: about {} g",
                show_significant(grams),
                margin.form.name,
                of_part(part),
                show_short(celsius, 0),
                show_short(limit, 0)
            );
            let fix = "check the amount, the hydrate and the volume; say in the use's temperature if it is used warm, or in the note that it crystallises";
            let line = part
                .ingredients
                .iter()
                .find(|ingredient| ingredient.form.id == margin.form.id)
                .map(|ingredient| ingredient.line);
            judge.warn("above-solubility", line, message, fix);
        }
    }
}

/// Whether something beside it dissolves what plain water does not: iodide takes up iodine, mole for mole.
fn is_taken_up(part: &Part, form: &Form) -> bool {
    let moles = |class: &Class| -> Option<f64> {
        let own = part.ingredients.iter().filter(|ingredient| ingredient.form.is_class(class));
        own.map(|own| own.form.moles_in(amount_in_grams(&own.form, own.amount)?, own.form.assay_fraction()))
            .sum()
    };
    form.is_class(&Class::Iodine)
        && moles(&Class::Iodide).zip(moles(&Class::Iodine)).is_some_and(|(iodide, iodine)| iodide >= iodine)
}

/// Whether one of a file's own texts speaks of a chemical and of its crystals.
fn says_that_it_crystallises(formula: &Formula, part: &Part, form: &Form) -> bool {
    let texts = [&formula.evidence.doubt, &formula.note, &part.note, &part.mixing.note];
    let name = form.parent.name.to_lowercase();
    let named = |text: &str| name.split(' ').any(|word| word.len() > 3 && text.contains(word));
    texts.into_iter().flatten().chain(formula.cautions.all()).any(|text| {
        let text = text.to_lowercase();
        named(&text) && (text.contains("crystals") || text.contains("crystallis"))
    })
}

/// The lowest temperature at which a part is used, where every use of it says one; else the storage temperature.
fn coolest_use(formula: &Formula, part: &Part) -> f64 {
    let name = part.share_name();
    let of_this = |own: &&crate::formula::Use| {
        own.baths.iter().any(|bath| bath.shares.iter().any(|(own, _)| own == name))
    };
    let mut coolest = f64::INFINITY;
    for listed_use in formula.uses.iter().filter(of_this) {
        match listed_use.temperature_c {
            Some(celsius) => coolest = coolest.min(celsius),
            None => return STORAGE_C,
        }
    }
    if coolest.is_finite() { coolest.max(STORAGE_C) } else { STORAGE_C }
}

/// Acid that would throw sulfur out of thiosulfate that no sulfite protects. A toner that works by just that is spared.
fn thiosulfate_in_acid(judge: &mut Judge<'_>) {
    let (formula, linter) = (judge.formula, judge.linter);
    if formula.kind == Kind::Toner {
        return;
    }
    let bottled = linter.composer.bottled(formula);
    let used: Vec<Composition> =
        formula.uses.iter().flat_map(|listed_use| linter.composer.used(formula, listed_use)).collect();
    let class = |composition: &Composition, classes: &[Class]| {
        composition.components.iter().any(|component| {
            let own_classes = component.parent.classes.as_deref().unwrap_or_default();
            classes.iter().any(|class| own_classes.contains(class))
        })
    };
    let sour = bottled.iter().chain(&used).find(|own| {
        class(own, &[Class::Thiosulfate])
            && class(own, &[Class::Acid, Class::AcidicInWater])
            && !class(own, &[Class::Sulfite])
    });
    if let Some(bath) = sour {
        let line = formula
            .ingredients()
            .find(|ingredient| ingredient.form.is_class(&Class::Thiosulfate))
            .map(|ingredient| ingredient.line);
        let message =
            format!("thiosulfate meets acid without sulfite ({}): it throws out sulfur", bath.label);
        let fix = "add sulfite or metabisulfite, as acid fixers have it, or keep the two apart";
        judge.warn("sulfur", line, message, fix);
    }
}

fn sulfite(judge: &mut Judge<'_>) {
    let (formula, linter) = (judge.formula, judge.linter);
    let sulfite = strongest_sulfite(formula, &linter.composer);
    let Some((usual, largest)) = linter.usual.sulfite(formula.kind, &formula.id) else { return };
    if sulfite >= largest * BEYOND_LARGEST {
        let line = formula
            .ingredients()
            .find(|ingredient| ingredient.form.is_class(&Class::Sulfite))
            .map(|ingredient| ingredient.line);
        let grams = |moles: f64| show_short(moles * SODIUM_SULFITE_G_PER_MOL, 0);
        let message = format!(
            "{} g/L of sulfite (counted anhydrous) is {} times what a {} usually has ({} g/L; the most is {})",
            grams(sulfite),
            show_short(sulfite / usual, 0),
            formula.kind.words(),
            grams(usual),
            grams(largest)
        );
        judge.warn("much-sulfite", line, message, "check the decimal point");
    }
}

fn unusual_amounts(judge: &mut Judge<'_>) {
    let (formula, linter) = (judge.formula, judge.linter);
    for (chemical, grams) in as_used(formula, &linter.composer) {
        let Some(largest) = linter.usual.largest(formula.kind, &chemical) else { continue };
        let named = formula.ingredients().find(|ingredient| ingredient.form.parent.id == chemical);
        // Sulfite has a rule of its own.
        let is_sulfite = named.is_some_and(|own| own.form.is_class(&Class::Sulfite));
        if grams > largest * AMOUNT_FACTOR && !is_sulfite {
            let line = named.map(|own| own.line);
            let message = format!(
                "{} g/L of {chemical} in the bath as first used; no shipped {} has more than {} g/L",
                show_significant(grams),
                formula.kind.words(),
                show_significant(largest)
            );
            let fix = "check the decimal point, the unit and the dilution";
            judge.advise("unusual-amount", line, message, fix);
        }
    }
}

/// The published order names only what the part contains.
fn order_names(part: &Part, judge: &mut Judge<'_>) {
    for name in &part.mixing.order {
        let is_ingredient = part.ingredients.iter().any(|ingredient| ingredient.form.id == *name);
        let is_solvent = name == "water" || part.solvent.as_ref().is_some_and(|solvent| solvent.id == *name);
        if !is_ingredient && !is_solvent {
            let message = format!("mixing.order names `{name}`, which is no ingredient{}", of_part(part));
            let fix = "write the ids of the ingredients in the order of the source";
            let line = judge.source.value("order", name);
            judge.warn("order-names", line, message, fix);
        }
    }
}

fn keeping(part: &Part, judge: &mut Judge<'_>) {
    let own = &part.keeping;
    if let (Some(full), Some(half)) = (own.full_bottle_days, own.half_bottle_days)
        && half > full
    {
        let message = format!("a half-full bottle{} keeps longer than a full one", of_part(part));
        let line = judge.source.key("half_bottle_days");
        judge.warn("keeping", line, message, "check which figure is which");
    }
}

fn uses(judge: &mut Judge<'_>) {
    for listed_use in &judge.formula.uses {
        if listed_use.minutes.is_some_and(|(low, high)| low > high || low < 0.0) {
            let message = format!("the minutes of use `{}` run backwards", listed_use.name);
            let line = judge.source.value("name", &listed_use.name);
            judge.warn("use-minutes", line, message, "write minutes = [shortest, longest]");
        }
        if listed_use.temperature_c.is_some_and(|celsius| !(0.0..=100.0).contains(&celsius)) {
            let message = format!("the temperature of use `{}` is not between 0 and 100 °C", listed_use.name);
            let line = judge.source.value("name", &listed_use.name);
            judge.warn("use-temperature", line, message, "write °C");
        }
    }
}
